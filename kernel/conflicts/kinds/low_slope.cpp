#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/pitch.hpp"

namespace ridgeward::conflicts {

namespace {

/// Rise in 12 of run; IRC R905.2.2.
constexpr double least = 2.0;
constexpr double single_from = 4.0;

std::string or_more(const Roof& roof, double in_12, const char* what) {
  return pitch_words(roof, units::Pitch::from_rise_run(in_12, 12.0)) + " or more for " + what +
         section_words(roof, &codes::CodeSet::Sections::slope);
}

/// A level deck that the model asks for is no mistake, but shingles don't cover it.
Finding flat_deck(const Roof& roof, PlaneId id) {
  const surface::Plane& plane = roof.surface.planes[id];
  Finding finding;
  finding.kind = "low_slope";
  finding.severity = Severity::note;
  finding.at = plane.frame.origin;
  finding.plane = id;
  finding.measured = "flat";
  finding.needed = or_more(roof, least, "asphalt shingles");
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
      found.push_back(flat_deck(roof, id));
      continue;
    }
    Finding finding;
    finding.kind = "low_slope";
    finding.severity = is_too_low ? Severity::error : Severity::note;
    finding.at = plane.frame.origin;
    finding.plane = id;
    finding.measured = pitch_words(roof, plane.pitch);
    finding.needed = is_too_low ? or_more(roof, least, "asphalt shingles")
                                : or_more(roof, single_from, "single underlayment");
    finding.message = is_too_low ? "Plane " + plane.id + " is too low for shingles."
                                 : "Plane " + plane.id + " needs double underlayment.";
    finding.remedy = is_too_low ? "Use a roofing made for low slopes; no vent under shingles here."
                                : "Lay two layers of underlayment, a starter of " +
                                      length_words(roof, 19.0 * units::inch_m) + ", then " +
                                      length_words(roof, 36.0 * units::inch_m) + " each.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check low_slope_kind;
const Check low_slope_kind{
    "low_slope",
    "slopes under 2/12 (9.5 deg), and up to 4/12 (18.4 deg) that need double underlayment",
    find_low_slope};

}  // namespace ridgeward::conflicts
