#include "panels/sketch.hpp"

#include "base/polygon.hpp"

#include "draw/palette.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"
#include "scene/camera.hpp"

#include <algorithm>
#include <utility>

namespace ridgeward::panels {

void Sketch::loop(PlaneId id, const std::vector<glm::dvec2>& outline, glm::vec3 colour) {
  if (outline.size() < 3) {
    return;
  }
  const surface::Frame& frame = a_.surface.planes[id].frame;
  scene::Mark mark{{}, colour, frame.normal, shows_through_};
  for (const glm::dvec2 uv : outline) {
    mark.corners.push_back(frame.at(uv));
  }
  marks_.push_back(std::move(mark));
}

void Sketch::bay(BayId id, glm::vec3 colour) {
  if (a_.framing.bays.has(id)) {
    loop(a_.framing.bays[id].plane, a_.framing.bays[id].outline, colour);
  }
}

void Sketch::slot(SlotId id, glm::vec3 colour) {
  if (!a_.vents.slots.has(id)) {
    return;
  }
  const vents::Slot& slot = a_.vents.slots[id];
  const std::vector<PlaneId>& peeled = state_.sight.peeled;
  if (std::find(peeled.begin(), peeled.end(), slot.plane) != peeled.end()) {
    return;  // it went with its deck
  }
  strip(slot.plane, {slot.start_m, slot.lower_v_m()}, {slot.end_m, slot.lower_v_m() + slot.width_m},
        colour);
}

void Sketch::strip(PlaneId plane, glm::dvec2 low, glm::dvec2 high, glm::vec3 colour) {
  loop(plane, {low, {high.x, low.y}, high, {low.x, high.y}}, colour);
}

void Sketch::exhaust(ExhaustId id, glm::vec3 colour) {
  if (a_.vents.exhausts.has(id) && a_.vents.exhausts[id].from != a_.vents.exhausts[id].to) {
    marks_.push_back({{a_.vents.exhausts[id].from, a_.vents.exhausts[id].to},
                      colour,
                      glm::dvec3(0.0),
                      shows_through_});
  }
}

namespace {

ImVec2 at(glm::dvec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

/// What the lesson's step speaks of; nothing beside steps.
papers::Sight sight_of(const State& state, const Assessment& assessment) {
  if (state.lesson.tab != LessonTab::steps) {
    return {};
  }
  const std::vector<papers::LessonStep> steps = papers::lesson_of(assessment, state.style);
  return steps[std::min(state.lesson.step, steps.size() - 1)].sight;
}

/// The camera turns to what a step speaks of; what it does not see then is not meant.
std::vector<scene::Mark> lesson_marks(const State& state, const Assessment& assessment) {
  const papers::Sight sight = sight_of(state, assessment);
  Sketch sketch(state, assessment, false);
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
  }
  return std::move(sketch).marks();
}

/// What the ribbon points at, and where a pulled run would lie.
std::vector<scene::Mark> ribbon_marks(const State& state, const Assessment& a) {
  const RibbonView& view = state.ribbon;
  const Pointed pointed = pointed_now(state, a);
  Sketch sketch(state, a, true);
  sketch.bay(pointed.bay, draw::selected);
  if (!view.pull || !a.vents.slots.has(pointed.slot)) {
    sketch.slot(pointed.slot, draw::selected);
    return std::move(sketch).marks();
  }
  for (const BayId bay :
       scene::bays_over(a, view.pull->plane, view.pulled_from_m, view.pulled_to_m)) {
    sketch.bay(bay, draw::selected);
  }
  const vents::Slot& slot = a.vents.slots[pointed.slot];
  sketch.strip(view.pull->plane, {view.pulled_from_m, slot.lower_v_m()},
               {view.pulled_to_m, slot.lower_v_m() + slot.width_m}, draw::intake);
  return std::move(sketch).marks();
}

/// Draws what is no part of the house on the sheet behind all panels, where its place is in sight.
class Notes {
 public:
  Notes(const Look& look, const scene::Viewport& viewport)
      : look_(look), lens_(lens_of(look.state, look.scene, viewport)) {}

  /// A label over a place of a plane.
  void words(PlaneId id, glm::dvec2 place, const std::string& words) const {
    const glm::dvec3 spot = look_.assessment.surface.planes[id].frame.at(place);
    const auto pixel = lens_.pixel(spot);
    if (!pixel || words.empty() || !is_in_sight(spot)) {
      return;
    }
    const float s = ui_scale();
    ImFont* letters = font(Font::bold);
    const ImVec2 size = letters->CalcTextSizeA(letters->FontSize, 1e6F, 0.0F, words.c_str());
    const ImVec2 low{at(*pixel).x - size.x / 2 - 4 * s, at(*pixel).y - size.y - 12 * s};
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    list.AddRectFilled(low, {low.x + size.x + 8 * s, low.y + size.y + 3 * s},
                       packed(draw::card, 0.92F), 3.5F * s);
    list.AddRect(low, {low.x + size.x + 8 * s, low.y + size.y + 3 * s}, packed(draw::ink),
                 3.5F * s);
    list.AddText(letters, letters->FontSize, {low.x + 4 * s, low.y + 1 * s}, packed(draw::ink),
                 words.c_str());
  }

  /// Around an exhaust that stands in one place.
  void ring(ExhaustId id, glm::vec3 colour) const {
    const auto& exhausts = look_.assessment.vents.exhausts;
    if (!exhausts.has(id) || exhausts[id].from != exhausts[id].to) {
      return;
    }
    const auto pixel = lens_.pixel(exhausts[id].from);
    if (pixel && is_in_sight(exhausts[id].from)) {
      ImGui::GetBackgroundDrawList()->AddCircle(at(*pixel), 12 * ui_scale(), packed(colour), 24,
                                                3.0F * ui_scale());
    }
  }

 private:
  bool is_in_sight(const glm::dvec3& spot) const {
    const bool stands = !lens_.keeps || lens_.keeps->holds(spot);
    return stands && (look_.state.layers.has(scene::Layer::see_through) ||
                      scene::is_in_sight(look_.scene, lens_, spot));
  }

  const Look& look_;
  scene::Lens lens_;
};

/// What was stopped up on purpose.
void mark_mistakes(const Look& look, const scene::Viewport& viewport) {
  const Assessment& a = look.assessment;
  const Notes notes(look, viewport);
  for (const BayId id : a.framing.bays.ids()) {
    if (a.attic.bays.has(id) && a.attic.bays[id].under == attic::Under::stopped) {
      const framing::Bay& bay = a.framing.bays[id];
      const polygon::Box box = polygon::box_of(bay.outline);
      notes.words(bay.plane,
                  {0.5 * (bay.from_u_m + bay.to_u_m), 0.7 * box.low.y + 0.3 * box.high.y},
                  "stopped up");
    }
  }
}

}  // namespace

std::vector<scene::Mark> marks_of(const State& state, const Assessment& assessment) {
  if (!state.has_model) {
    return {};
  }
  return state.lesson.is_open ? lesson_marks(state, assessment) : ribbon_marks(state, assessment);
}

void mark_lesson(const Look& look, const scene::Viewport& viewport) {
  if (look.state.lesson.tab == LessonTab::what_if) {
    mark_mistakes(look, viewport);
  }
  const papers::Sight sight = sight_of(look.state, look.assessment);
  const Notes notes(look, viewport);
  for (const ExhaustId exhaust : sight.exhausts) {
    notes.ring(exhaust, draw::exhaust);
  }
  for (const papers::Band& band : sight.bands) {
    notes.words(band.plane, band.words_at, band.words);
  }
}

}  // namespace ridgeward::panels
