#include "base/polygon.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::conflicts {

namespace {

/// The middle of the bay nearest to a vent that is wide enough for its hole; NaN for none.
double nearest_bay_u(const Roof& roof, const vents::Exhaust& exhaust) {
  const framing::PlaneFraming& own = roof.framing.planes[exhaust.plane];
  double best = NAN;
  for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
    const framing::Bay& bay = roof.framing.bays[BayId(i)];
    for (const polygon::Chord& chord : polygon::chords_at({bay.outline}, exhaust.at_uv.y)) {
      const double middle = 0.5 * (chord.from + chord.to);
      if (chord.to - chord.from >= exhaust.hole_m - tolerance_m &&
          !(std::abs(middle - exhaust.at_uv.x) >= std::abs(best - exhaust.at_uv.x))) {
        best = middle;
      }
    }
  }
  return best;
}

std::vector<Finding> find_vent_over_rafter(const Roof& roof) {
  std::vector<Finding> found;
  for (const ExhaustId id : roof.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = roof.vents.exhausts[id];
    if (exhaust.plane.is_none() || exhaust.hole_m <= 0.0) {
      continue;
    }
    const glm::dvec2 at = exhaust.at_uv;
    const double half = 0.5 * exhaust.hole_m;
    const framing::PlaneFraming& own = roof.framing.planes[exhaust.plane];
    for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
      const framing::Member& member = roof.framing.members[MemberId(i)];
      const double over = member.outline.empty()
                              ? 0.0
                              : polygon::overlap_area(
                                    {member.outline},
                                    {{at + glm::dvec2{-half, -half}, at + glm::dvec2{half, -half},
                                      at + glm::dvec2{half, half}, at + glm::dvec2{-half, half}}}) /
                                    exhaust.hole_m;
      if (over <= tolerance_m) {
        continue;
      }
      const double better = nearest_bay_u(roof, exhaust);
      found.push_back(about_exhaust(roof, id, "vent_over_rafter", Severity::warning));
      Finding& finding = found.back();
      finding.member = MemberId(i);
      finding.measured = length_words(roof, over) + " of a hole of " +
                         length_words(roof, exhaust.hole_m) + " over " + member.id;
      finding.needed = "a hole between two rafters";
      finding.message = "The hole of vent " + exhaust.id + " lies over rafter " + member.id + ".";
      finding.remedy =
          std::isnan(better)
              ? "Choose a vent with a smaller hole: no bay at this height is wide enough."
              : "Move it " + length_words(roof, std::abs(better - at.x)) + " to the " +
                    (better < at.x ? "left" : "right") + ", to " + length_words(roof, better) +
                    " along the eave.";
      break;
    }
  }
  return found;
}

}  // namespace

extern const Check vent_over_rafter_kind;
const Check vent_over_rafter_kind{
    "vent_over_rafter", "a vent on a plane whose hole lies over a rafter", find_vent_over_rafter};

}  // namespace ridgeward::conflicts
