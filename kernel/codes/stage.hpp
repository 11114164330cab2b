#pragma once
// Tests every compartment against a code set.

#include "attic/attic.hpp"
#include "codes/code_set.hpp"
#include "framing/framing.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::codes {

/// One test of one compartment. `measured` and `needed` are in the unit of the measure (m, m2 or a
/// share); `needed` is text for people and carries its unit.
struct Test {
  CompartmentId compartment;
  std::string test;  ///< Rule::id, or "required_area"
  std::string section;
  std::string words;
  bool holds = false;
  bool is_advice = false;
  bool is_condition = false;  ///< of the reduced ratio: failing it only withdraws the reduction
  bool from_memory = false;
  std::optional<Measure> measure;  ///< none for required_area
  Bounds bounds;
  bool is_measured = true;  ///< false where there is nothing to measure
  /// False for the room over insulation where the model gives none: `holds` says nothing then.
  bool is_tested = true;
  double measured = 0.0;
  std::string measured_text;  ///< with its unit, for people; "nothing" when there is none
  std::string needed;

  /// A test of the code that was made and does not hold.
  bool fails() const { return is_tested && !holds && !is_advice && !is_condition; }
};

struct Requirement {
  double ratio = 150.0;  ///< the one that applies after the conditions were tested; 0: none
  double required_m2 = 0.0;
};

struct Tests {
  std::vector<Test> tests;
  IndexedVector<CompartmentId, Requirement> required;
};

/// What the reduced ratio hangs on that no model tells, where a space takes it in such a climate
/// zone or in one that is not given; empty for none. A sentence.
std::string proviso(const CodeSet& code, const std::string& climate_zone, const Tests& tests);

/// Height of the upper line of a slot, or of a vent in the soffit.
double top_of(const surface::Surface& surface, const vents::Slot& slot);

Tests test(const CodeSet& code, const surface::Surface& surface, const framing::Framing& framing,
           const attic::Attic& attic, const vents::Vents& vents);

}  // namespace ridgeward::codes
