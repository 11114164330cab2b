#include "base/polygon.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/length.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::conflicts {

namespace {

/// Metal beside an opening lies this far on the deck: IRC R905.2.8.3, 4 in.
constexpr double least_m = 4.0 * units::inch_m;

struct Rectangle {
  glm::dvec2 low{0.0};
  glm::dvec2 high{0.0};
};

/// Clear distance of two rectangles along the axes; 0 where they overlap.
double apart_m(const Rectangle& one, const Rectangle& other) {
  const double u = std::max({0.0, other.low.x - one.high.x, one.low.x - other.high.x});
  const double v = std::max({0.0, other.low.y - one.high.y, one.low.y - other.high.y});
  return std::hypot(u, v);
}

/// The obstacle that comes nearest to a rectangle of a plane, under what it needs.
struct Near {
  const surface::Region* region = nullptr;
  double apart_m = 0.0;
  double needed_m = 0.0;
};

Near nearest_to(const Roof& roof, PlaneId plane, const Rectangle& cut) {
  Near near;
  for (const surface::Region& region : roof.surface.regions) {
    if (region.plane != plane) {
      continue;
    }
    const double needed_m = region.is_opening ? least_m : 0.0;
    const polygon::Box box =
        polygon::box_of(region.is_opening ? region.outline_uv : region.clear_uv);
    const double apart = apart_m(cut, {box.low, box.high});
    const bool is_over =
        polygon::overlap_area(
            {region.clear_uv},
            {{cut.low, {cut.high.x, cut.low.y}, cut.high, {cut.low.x, cut.high.y}}}) > tolerance_m;
    if ((is_over || apart < needed_m - tolerance_m) &&
        (near.region == nullptr || apart < near.apart_m)) {
      near = {&region, apart, std::max(needed_m, tolerance_m)};
    }
  }
  return near;
}

void fill(const Roof& roof, const Near& near, const std::string& what, Finding& finding) {
  finding.measured = near.apart_m <= tolerance_m ? "lies over it"
                                                 : length_words(roof, near.apart_m) + " beside it";
  finding.needed = near.region->is_opening
                       ? length_words(roof, least_m) + " for the metal beside it" +
                             section_words(roof, &codes::CodeSet::Sections::beside_opening)
                       : std::string("clear of it");
  finding.message = what + (near.apart_m <= tolerance_m ? " lies in " : " lies beside ") +
                    model::word(near.region->kind) + " " + near.region->id + ".";
}

std::vector<Finding> find_vent_at_obstacle(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    const std::vector<glm::dvec2> band = band_of(slot);
    const Near near = nearest_to(roof, slot.plane, {band[0], band[2]});
    if (near.region != nullptr && !model::is_in_soffit(slot.kind)) {
      found.push_back(about_slot(roof, id, "vent_at_obstacle", Severity::error));
      fill(roof, near, "Slot " + slot.id, found.back());
      found.back().remedy = "Hold the slot back further: raise the hold-back at obstacles of " +
                            slot.product + ", or end the run before it.";
    }
  }
  for (const ExhaustId id : roof.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = roof.vents.exhausts[id];
    if (exhaust.plane.is_none()) {
      continue;
    }
    const glm::dvec2 half{0.5 * exhaust.hole_m};
    const Near near = nearest_to(roof, exhaust.plane, {exhaust.at_uv - half, exhaust.at_uv + half});
    if (near.region != nullptr) {
      const polygon::Box box = polygon::box_of(near.region->clear_uv);
      found.push_back(about_exhaust(roof, id, "vent_at_obstacle", Severity::error));
      fill(roof, near, "Vent " + exhaust.id, found.back());
      found.back().remedy = "Move it along the eave to beyond " +
                            length_words(roof, box.high.x + least_m + half.x) + " or before " +
                            length_words(roof, box.low.x - least_m - half.x) + ".";
    }
  }
  return found;
}

}  // namespace

extern const Check vent_at_obstacle_kind;
const Check vent_at_obstacle_kind{
    "vent_at_obstacle", "a slot or a vent in or beside a chimney, skylight, pipe or solar array",
    find_vent_at_obstacle};

}  // namespace ridgeward::conflicts
