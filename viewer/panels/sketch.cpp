#include "panels/sketch.hpp"

#include "draw/palette.hpp"
#include "panels/theme.hpp"
#include "scene/camera.hpp"
#include "scene/triangulate.hpp"

#include <glm/geometric.hpp>

namespace ridgeward::panels {
namespace {

ImVec2 at(glm::dvec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

}  // namespace

Sketch::Sketch(const Look& look, const scene::Viewport& viewport)
    : look_(look), lens_{look.state.camera, viewport} {}

void Sketch::loop(PlaneId id, const std::vector<glm::dvec2>& outline, glm::vec3 colour) const {
  const surface::Frame& frame = look_.assessment.surface.planes[id].frame;
  if (outline.size() < 3 ||
      glm::dot(frame.normal, lens_.camera.eye() - frame.at(outline.front())) <= 0.0) {
    return;
  }
  std::vector<ImVec2> points;
  for (const glm::dvec2 uv : outline) {
    const auto pixel = lens_.pixel(frame.at(uv));
    if (!pixel) {
      return;
    }
    points.push_back(at(*pixel));
  }
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  for (const auto& t : scene::triangulate({outline})) {
    list.AddTriangleFilled(points[t[0]], points[t[1]], points[t[2]], packed(colour, 0.45F));
  }
  list.AddPolyline(points.data(), static_cast<int>(points.size()), packed(draw::ink),
                   ImDrawFlags_Closed, 1.6F * ui_scale());
}

void Sketch::bay(BayId id, glm::vec3 colour) const {
  const Assessment& a = look_.assessment;
  if (a.framing.bays.has(id)) {
    loop(a.framing.bays[id].plane, a.framing.bays[id].outline, colour);
  }
}

void Sketch::slot(SlotId id, glm::vec3 colour) const {
  const Assessment& a = look_.assessment;
  if (!a.vents.slots.has(id)) {
    return;
  }
  const vents::Slot& slot = a.vents.slots[id];
  strip(slot.plane, {slot.start_m, slot.lower_v_m()}, {slot.end_m, slot.lower_v_m() + slot.width_m},
        colour);
}

void Sketch::strip(PlaneId plane, glm::dvec2 low, glm::dvec2 high, glm::vec3 colour) const {
  loop(plane, {low, {high.x, low.y}, high, {low.x, high.y}}, colour);
}

void Sketch::words(PlaneId id, glm::dvec2 place, const std::string& words) const {
  const surface::Frame& frame = look_.assessment.surface.planes[id].frame;
  const auto pixel = lens_.pixel(frame.at(place));
  if (!pixel || words.empty()) {
    return;
  }
  const float s = ui_scale();
  ImFont* letters = font(Font::bold);
  const ImVec2 size = letters->CalcTextSizeA(letters->FontSize, 1e6F, 0.0F, words.c_str());
  const ImVec2 low{at(*pixel).x - size.x / 2 - 4 * s, at(*pixel).y - size.y - 12 * s};
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  list.AddRectFilled(low, {low.x + size.x + 8 * s, low.y + size.y + 3 * s},
                     packed({1.0F, 1.0F, 1.0F}, 0.92F), 3.5F * s);
  list.AddRect(low, {low.x + size.x + 8 * s, low.y + size.y + 3 * s}, packed(draw::ink), 3.5F * s);
  list.AddText(letters, letters->FontSize, {low.x + 4 * s, low.y + 1 * s}, packed(draw::ink),
               words.c_str());
}

void Sketch::exhaust(ExhaustId id, glm::vec3 colour) const {
  const Assessment& a = look_.assessment;
  if (!a.vents.exhausts.has(id)) {
    return;
  }
  const auto from = lens_.pixel(a.vents.exhausts[id].from);
  const auto to = lens_.pixel(a.vents.exhausts[id].to);
  if (from && to) {
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    if (*from == *to) {
      list.AddCircle(at(*from), 12 * ui_scale(), packed(colour), 24, 3.0F * ui_scale());
    } else {
      list.AddLine(at(*from), at(*to), packed(colour), 5.0F * ui_scale());
    }
  }
}

}  // namespace ridgeward::panels
