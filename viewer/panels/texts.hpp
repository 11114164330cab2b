#pragma once
// What the panels say, as text and numbers: pure, no drawing.

#include "assess.hpp"
#include "units/length.hpp"

#include "scene/measure.hpp"
#include "scene/pick.hpp"
#include "scene/scene.hpp"

#include <string>
#include <utility>
#include <vector>

namespace ridgeward::panels {

enum class Verdict { good, remark, caution, fault };

using Row = std::pair<std::string, std::string>;

/// One compartment's totals.
struct TotalsText {
  std::string title;  ///< "Attic"
  std::vector<Row> rows;
  std::string intake;
  std::string exhaust;
  std::string required;
  double intake_part = 0.0;    ///< 0..1 of the bar
  double exhaust_part = 0.0;   ///< likewise, after the intake
  double required_part = 0.0;  ///< where the bar reaches what is required
  bool has_share = false;      ///< false while nothing is vented
  double share = 0.0;          ///< intake over intake and exhaust
  Verdict verdict = Verdict::good;
  std::string line;       ///< what is wrong, in one line
  glm::dvec3 at{0.0};     ///< where that is: the finding's place, else over its middle
  double within_m = 0.0;  ///< of the eye from there, to see it whole
};

/// Intake belongs between these shares of the whole (common practice, no source).
inline constexpr double least_share = 0.5;
inline constexpr double most_share = 0.6;

std::vector<TotalsText> totals_text(const Assessment& assessment, units::Style style);

struct SelectionText {
  std::string title;  ///< "Plane main/0", "Eave main/0|eave"
  std::vector<Row> rows;
};
/// REQUIRES that `picked` names something of the assessment; empty for nothing.
SelectionText selection_text(const Assessment& assessment, const scene::Picked& picked,
                             units::Style style);

/// What a measure says.
std::vector<Row> measure_rows(const scene::Measure& measure, units::Style style);

struct FindingText {
  int number = 0;
  Verdict verdict = Verdict::caution;
  std::string message;
  std::string remedy;
  glm::dvec3 at{0.0};
};
std::vector<FindingText> findings_text(const Assessment& assessment);

/// 0 note, 1 warning, 2 error, as in Marker.
Verdict verdict_of_severity(int severity);

/// What was placed, for who sees it on the house: "2 runs of intake, 300 in², and 1 exhaust vent,
/// 240 in²: 56 % intake. They took the place of 3 vents."
std::string placed_words(const Assessment& before, const Assessment& after, units::Style style);

/// Kernel texts are plain letters for terminals; here "360 in2" has its square and "14 F" its
/// degree.
std::string typeset(const std::string& text);

/// "Ceiling attic"; of "ceiling-2" only "Ceiling-2", as it says its kind itself.
std::string titled(const std::string& kind, const std::string& id);

/// "Hip", from "hip".
std::string capitalised(std::string word);

}  // namespace ridgeward::panels
