#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/pitch.hpp"

namespace ridgeward::conflicts {

namespace {

/// Rise in 12 of run; IRC R905.2.2.
constexpr double least = 2.0;
constexpr double single_from = 4.0;

/// A level deck that the model asks for is no mistake, but shingles don't cover it.
Finding flat_deck(const surface::Plane& plane, PlaneId id) {
  Finding finding;
  finding.kind = "low_slope";
  finding.severity = Severity::note;
  finding.at = plane.frame.origin;
  finding.plane = id;
  finding.measured = "flat";
  finding.needed = "2/12 or more for asphalt shingles (R905.2.2)";
  finding.message = "Plane " + plane.id + " is a flat deck: it takes a membrane, no shingles.";
  finding.remedy = "Drain it, and put vents elsewhere: none of those here works under a membrane.";
  return finding;
}

std::vector<Finding> find_low_slope(const Roof& roof) {
  std::vector<Finding> found;
  for (const PlaneId id : roof.surface.planes.ids()) {
    const surface::Plane& plane = roof.surface.planes[id];
    const double pitch = plane.pitch.in_12();
    if (pitch >= single_from - tolerance) {
      continue;
    }
    const bool is_too_low = pitch < least - tolerance;
    if (pitch < tolerance) {
      found.push_back(flat_deck(plane, id));
      continue;
    }
    Finding finding;
    finding.kind = "low_slope";
    finding.severity = is_too_low ? Severity::error : Severity::note;
    finding.at = plane.frame.origin;
    finding.plane = id;
    finding.measured = units::show_pitch(plane.pitch);
    finding.needed = is_too_low ? "2/12 or more for asphalt shingles (R905.2.2)"
                                : "4/12 or more for single underlayment (R905.2.2)";
    finding.message = is_too_low ? "Plane " + plane.id + " is too low for shingles."
                                 : "Plane " + plane.id + " needs double underlayment.";
    finding.remedy = is_too_low
                         ? "Use a roofing made for low slopes; no vent under shingles here."
                         : "Lay two layers of underlayment, 19 in starter, 36 in after that.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check low_slope_kind;
const Check low_slope_kind{"low_slope",
                           "slopes under 2/12, and from 2/12 to 4/12 that need double underlayment",
                           find_low_slope};

}  // namespace ridgeward::conflicts
