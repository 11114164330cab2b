#include "panels/sketch.hpp"

#include "base/polygon.hpp"

#include "draw/palette.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"
#include "scene/camera.hpp"
#include "scene/cut.hpp"
#include "scene/triangulate.hpp"

#include <glm/geometric.hpp>

#include <algorithm>

namespace ridgeward::panels {
namespace {

ImVec2 at(glm::dvec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

}  // namespace

Sketch::Sketch(const Look& look, const scene::Viewport& viewport)
    : look_(look), lens_(lens_of(look.state, look.scene, viewport)) {}

void Sketch::loop(PlaneId id, const std::vector<glm::dvec2>& outline, glm::vec3 colour) const {
  const surface::Frame& frame = look_.assessment.surface.planes[id].frame;
  if (outline.size() < 3 ||
      glm::dot(frame.normal, lens_.camera.eye() - frame.at(outline.front())) <= 0.0) {
    return;
  }
  std::vector<glm::dvec3> whole;
  whole.reserve(outline.size());
  for (const glm::dvec2 uv : outline) {
    whole.push_back(frame.at(uv));
  }
  std::vector<ImVec2> points;
  std::vector<glm::dvec2> seen;
  for (const glm::dvec3 corner : scene::kept(whole, lens_.keeps)) {
    const auto pixel = lens_.pixel(corner);
    if (!pixel) {
      return;
    }
    points.push_back(at(*pixel));
    seen.push_back(frame.uv(corner));
  }
  if (points.size() < 3) {
    return;
  }
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  for (const auto& t : scene::triangulate({seen})) {
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
  const std::vector<PlaneId>& peeled = look_.state.sight.peeled;
  if (std::find(peeled.begin(), peeled.end(), slot.plane) != peeled.end()) {
    return;  // it went with its deck
  }
  strip(slot.plane, {slot.start_m, slot.lower_v_m()}, {slot.end_m, slot.lower_v_m() + slot.width_m},
        colour);
}

void Sketch::strip(PlaneId plane, glm::dvec2 low, glm::dvec2 high, glm::vec3 colour) const {
  loop(plane, {low, {high.x, low.y}, high, {low.x, high.y}}, colour);
}

void Sketch::words(PlaneId id, glm::dvec2 place, const std::string& words) const {
  const surface::Frame& frame = look_.assessment.surface.planes[id].frame;
  const auto pixel = lens_.pixel(frame.at(place));
  const bool is_cut_away = lens_.keeps && !lens_.keeps->holds(frame.at(place));
  if (!pixel || is_cut_away || words.empty()) {
    return;
  }
  const float s = ui_scale();
  ImFont* letters = font(Font::bold);
  const ImVec2 size = letters->CalcTextSizeA(letters->FontSize, 1e6F, 0.0F, words.c_str());
  const ImVec2 low{at(*pixel).x - size.x / 2 - 4 * s, at(*pixel).y - size.y - 12 * s};
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  list.AddRectFilled(low, {low.x + size.x + 8 * s, low.y + size.y + 3 * s},
                     packed(draw::card, 0.92F), 3.5F * s);
  list.AddRect(low, {low.x + size.x + 8 * s, low.y + size.y + 3 * s}, packed(draw::ink), 3.5F * s);
  list.AddText(letters, letters->FontSize, {low.x + 4 * s, low.y + 1 * s}, packed(draw::ink),
               words.c_str());
}

void Sketch::exhaust(ExhaustId id, glm::vec3 colour) const {
  const Assessment& a = look_.assessment;
  if (!a.vents.exhausts.has(id)) {
    return;
  }
  const auto stays = scene::kept({a.vents.exhausts[id].from, a.vents.exhausts[id].to}, lens_.keeps);
  if (stays.size() < 2) {
    return;
  }
  const auto from = lens_.pixel(stays[0]);
  const auto to = lens_.pixel(stays[1]);
  if (from && to) {
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    if (*from == *to) {
      list.AddCircle(at(*from), 12 * ui_scale(), packed(colour), 24, 3.0F * ui_scale());
    } else {
      list.AddLine(at(*from), at(*to), packed(colour), 5.0F * ui_scale());
    }
  }
}

namespace {

/// What was stopped up on purpose.
void mark_mistakes(const Look& look, const scene::Viewport& viewport) {
  const Assessment& a = look.assessment;
  const Sketch sketch(look, viewport);
  for (const BayId id : a.framing.bays.ids()) {
    if (a.attic.bays.has(id) && a.attic.bays[id].under == attic::Under::stopped) {
      const framing::Bay& bay = a.framing.bays[id];
      const polygon::Box box = polygon::box_of(bay.outline);
      sketch.words(bay.plane,
                   {0.5 * (bay.from_u_m + bay.to_u_m), 0.7 * box.low.y + 0.3 * box.high.y},
                   "stopped up");
    }
  }
}

}  // namespace

void mark_lesson(const Look& look, const scene::Viewport& viewport) {
  if (look.state.lesson.tab == LessonTab::what_if) {
    mark_mistakes(look, viewport);
  }
  if (look.state.lesson.tab != LessonTab::steps) {
    return;
  }
  const std::vector<papers::LessonStep> steps =
      papers::lesson_of(look.assessment, look.state.style);
  const papers::Sight& sight = steps[std::min(look.state.lesson.step, steps.size() - 1)].sight;
  const Sketch sketch(look, viewport);
  for (const BayId bay : sight.bays) {
    sketch.bay(bay, draw::selected);
  }
  for (const SlotId slot : sight.slots) {
    sketch.slot(slot, draw::intake);
  }
  for (const ExhaustId exhaust : sight.exhausts) {
    sketch.exhaust(exhaust, draw::exhaust);
  }
  for (const papers::Band& band : sight.bands) {
    sketch.strip(band.plane, band.low, band.high, draw::selected);
    sketch.words(band.plane, band.words_at, band.words);
  }
}

}  // namespace ridgeward::panels
