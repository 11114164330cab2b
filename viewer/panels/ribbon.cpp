#include "panels/ribbon.hpp"

#include "base/polygon.hpp"

#include "panels/screen.hpp"
#include "panels/theme.hpp"

#include <algorithm>

namespace ridgeward::panels {
namespace {

constexpr float shown_height = 168.0F;
constexpr float shut_height = 34.0F;

}  // namespace

bool is_followed(const State& state) {
  return state.selected == state.ribbon.followed && state.selected.at == state.ribbon.followed.at;
}

void apply(State& state, const RibbonIntent& intent) {
  RibbonView& view = state.ribbon;
  if (const auto* show = std::get_if<ShowRibbon>(&intent)) {
    view.is_shown = show->on;
  } else if (const auto* scroll = std::get_if<ScrollRibbon>(&intent)) {
    view.from_m = std::max(0.0, scroll->from_m);
    view.px_per_m = scroll->px_per_m;
  } else if (const auto* point = std::get_if<PointRibbon>(&intent)) {
    view.bay = point->bay;
    view.slot = point->slot;
    view.followed = point->selected;
    state.selected = point->selected;
    view.from_text.reset();
    view.to_text.reset();
    view.from_m = point->from_m.value_or(view.from_m);
  } else if (const auto* pull = std::get_if<PullRun>(&intent)) {
    view.pull = pull->pull;
    view.pulled_from_m = pull->from_m;
    view.pulled_to_m = pull->to_m;
  } else if (const auto* put = std::get_if<PutRun>(&intent)) {
    view.wants_run = *put;
  } else if (const auto* typed = std::get_if<TypeRun>(&intent)) {
    view.from_text = typed->from_text;
    view.to_text = typed->to_text;
  }
}

double ribbon_height(const RibbonView& view) {
  return static_cast<double>((view.is_shown ? shown_height : shut_height) * ui_scale());
}

Pointed pointed_now(const State& state, const Assessment& a) {
  return is_followed(state) ? Pointed{state.ribbon.bay, state.ribbon.slot}
                            : pointed_at(a, state.selected);
}

Pointed pointed_at(const Assessment& a, const scene::Picked& picked) {
  Pointed pointed;
  PlaneId plane = picked.plane;
  if (a.surface.lines.has(picked.line)) {
    const surface::Line& line = a.surface.lines[picked.line];
    if (line.kind == surface::LineKind::eave) {
      plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    }
  }
  if (!a.surface.planes.has(plane)) {
    return pointed;
  }
  const glm::dvec2 uv = a.surface.planes[plane].frame.uv(picked.at);
  for (const SlotId id : a.vents.slots.ids()) {
    const vents::Slot& slot = a.vents.slots[id];
    const model::Product* product = a.product(slot.product);
    const double depth = product == nullptr ? 0.0 : product->depth_m;
    const double top =
        std::max(slot.lower_v_m() + slot.width_m, slot.drip_v_m + slot.vent_low_m + depth);
    const double low = std::min(slot.drip_v_m + slot.vent_low_m, slot.lower_v_m());
    if (slot.plane == plane && uv.x >= slot.start_m && uv.x <= slot.end_m && uv.y >= low &&
        uv.y <= top) {
      pointed.slot = id;
      return pointed;
    }
  }
  for (const BayId id : a.framing.bays.ids()) {
    const framing::Bay& bay = a.framing.bays[id];
    if (bay.plane == plane && polygon::contains(bay.outline, uv)) {
      pointed.bay = id;
      return pointed;
    }
  }
  return pointed;
}

std::optional<PutRun> typed_run(const scene::Pull& pull, const std::string& from,
                                const std::string& to, units::Style style) {
  const units::LengthUnit bare =
      style == units::Style::metric ? units::LengthUnit::m : units::LengthUnit::ft;
  const auto from_m = units::parse_length(from, bare);
  const auto to_m = units::parse_length(to, bare);
  if (!from_m || !to_m || *from_m < pull.low_m || *to_m > pull.high_m ||
      *to_m - *from_m < pull.least_m) {
    return std::nullopt;
  }
  return PutRun{pull.run, *from_m, *to_m, true};
}

}  // namespace ridgeward::panels
