#include "panels/texts.hpp"

#include "base/polygon.hpp"
#include "codes/figures.hpp"
#include "units/area.hpp"

#include "panels/state.hpp"

#include <fmt/format.h>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <set>
#include <string_view>

namespace ridgeward::panels {
namespace {

using units::Style;

std::string area(double area_m2, Style style) { return typeset(units::show_area(area_m2, style)); }
std::string free_area(double area_m2, Style style) {
  return typeset(units::show_free_area(area_m2, style));
}

std::string count_of(std::size_t n, const char* one, const char* many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

bool belongs(const Assessment& assessment, const conflicts::Finding& finding, CompartmentId id) {
  if (!finding.compartment.is_none()) {
    return conflicts::is_about(finding, id);
  }
  if (assessment.vents.exhausts.has(finding.exhaust)) {
    const vents::Exhaust& exhaust = assessment.vents.exhausts[finding.exhaust];
    return !vents::serves_any(exhaust) || vents::serves(exhaust, id);
  }
  if (finding.slot.is_none() || !assessment.vents.slots.has(finding.slot)) {
    return true;  // not tied to one compartment
  }
  const CompartmentId own = assessment.vents.slots[finding.slot].compartment;
  return own.is_none() || own == id;
}

/// The worst thing to say of a compartment: a failed test, a finding, advice not followed.
void judge(const Assessment& assessment, CompartmentId id, Style style, TotalsText& text) {
  const auto fails = [&](const codes::Test& test, bool advice) {
    const bool is_missed =
        advice ? test.is_advice && !test.is_condition && !test.holds : test.fails();
    return test.compartment == id && is_missed;
  };
  const auto first_test = [&](bool advice) -> const codes::Test* {
    for (const codes::Test& test : assessment.tests.tests) {
      if (fails(test, advice)) {
        return &test;
      }
    }
    return nullptr;
  };
  const auto first_finding = [&](conflicts::Severity severity) -> const conflicts::Finding* {
    for (const conflicts::Finding& finding : assessment.findings) {
      if (finding.severity == severity && belongs(assessment, finding, id)) {
        return &finding;
      }
    }
    return nullptr;
  };
  const attic::Compartment& compartment = assessment.attic.compartments[id];
  text.within_m = 3.0 * std::sqrt(std::max(4.0, compartment.floor_area_m2));
  if (!compartment.outline.empty()) {
    const glm::dvec2 middle = polygon::centroid(compartment.outline.front());
    text.at = {middle, (compartment.bottom_m + compartment.top_m) / 2};
  }
  const auto say_finding = [&](const conflicts::Finding& finding, Verdict verdict) {
    text.verdict = verdict;
    text.line = typeset(finding.message);
    text.at = finding.at;
    text.within_m = GoTo{}.within_m;
  };
  const auto say_test = [&](const codes::Test& test, Verdict verdict) {
    text.verdict = verdict;
    const codes::TestFigures figures = codes::figures_of(
        test,
        assessment.tests.required.has(id) ? assessment.tests.required[id] : codes::Requirement{},
        style);
    text.line = typeset(fmt::format("{}: {} Measured {}, needed {}.", test.section, test.words,
                                    figures.measured, figures.needed));
  };
  if (const auto* test = first_test(false)) {
    say_test(*test, Verdict::fault);
  } else if (const auto* error = first_finding(conflicts::Severity::error)) {
    say_finding(*error, Verdict::fault);
  } else if (const auto* advice = first_test(true)) {
    say_test(*advice, Verdict::caution);
  } else if (const auto* warning = first_finding(conflicts::Severity::warning)) {
    say_finding(*warning, Verdict::caution);
  } else {
    text.verdict = Verdict::good;
    text.line = "Enough free area, in balance, nothing found in the way.";
  }
}

TotalsText totals_of(const Assessment& assessment, CompartmentId id, Style style) {
  const attic::Compartment& compartment = assessment.attic.compartments[id];
  TotalsText text;
  text.title = capitalised(compartment.id);
  codes::Requirement requirement;
  if (assessment.tests.required.has(id)) {
    requirement = assessment.tests.required[id];
  }
  vents::CompartmentTotals totals;
  if (assessment.vents.totals.has(id)) {
    totals = assessment.vents.totals[id];
  }
  const double provided = totals.intake_m2 + totals.exhaust_m2;
  text.rows.emplace_back("Floor", area(compartment.floor_area_m2, style));
  if (requirement.ratio > 0.0) {
    text.rows.emplace_back(fmt::format("Required, 1/{:g}", requirement.ratio),
                           free_area(requirement.required_m2, style));
  }
  text.rows.emplace_back("Provided", free_area(provided, style));
  text.intake = free_area(totals.intake_m2, style);
  text.exhaust = free_area(totals.exhaust_m2, style);
  text.required = free_area(requirement.required_m2, style);
  const double whole = 1.08 * std::max({provided, requirement.required_m2, 1e-9});
  text.intake_part = totals.intake_m2 / whole;
  text.exhaust_part = totals.exhaust_m2 / whole;
  text.required_part = requirement.required_m2 / whole;
  text.has_share = provided > 0;
  text.share = totals.intake_share();
  judge(assessment, id, style, text);
  return text;
}

void add_borders(const Assessment& assessment, PlaneId id, Style style, SelectionText& text) {
  std::set<std::uint32_t> seen;
  for (const surface::Loop& loop : assessment.surface.planes[id].loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = assessment.surface.lines[step.line];
      if (line.kind == surface::LineKind::wall_edge || !seen.insert(step.line.value).second) {
        continue;
      }
      text.rows.emplace_back(capitalised(surface::word(line.kind)),
                             units::show(line.length_m, style));
    }
  }
  // Eaves first: they are what is asked for.
  std::stable_partition(text.rows.begin(), text.rows.end(),
                        [](const Row& row) { return row.first == "Eave"; });
}

SelectionText plane_text(const Assessment& assessment, PlaneId id, Style style) {
  const surface::Plane& plane = assessment.surface.planes[id];
  SelectionText text;
  add_borders(assessment, id, style, text);
  std::size_t bays = 0;
  std::size_t live = 0;
  for (const BayId bay : assessment.framing.bays.ids()) {
    if (assessment.framing.bays[bay].plane == id) {
      ++bays;
      live += assessment.vents.bays.has(bay) && assessment.vents.bays[bay].live ? 1 : 0;
    }
  }
  const auto slots = std::count_if(assessment.vents.slots.begin(), assessment.vents.slots.end(),
                                   [&](const vents::Slot& slot) { return slot.plane == id; });
  const std::string also =
      style == Style::metric ? "" : fmt::format("  ({:.1f}\u00b0)", plane.pitch.degrees());
  std::vector<Row> head{{"Pitch", units::show_pitch(plane.pitch, style) + also},
                        {"Area", area(plane.area_m2, style)},
                        {"Plan area", area(plane.plan_area_m2, style)}};
  text.rows.insert(text.rows.begin(), head.begin(), head.end());
  if (bays > 0) {
    text.rows.emplace_back("Bays", fmt::format("{}, {} live", bays, live));
  }
  if (slots > 0) {
    text.rows.emplace_back("Slots", count_of(static_cast<std::size_t>(slots), "slot", "slots"));
  }
  text.title = "Plane " + plane.id;
  return text;
}

SelectionText line_text(const Assessment& assessment, LineId id, Style style) {
  const surface::Line& line = assessment.surface.lines[id];
  SelectionText text;
  text.title = capitalised(surface::word(line.kind)) + "  " + line.id;
  text.rows.emplace_back("True length", units::show(line.length_m, style));
  text.rows.emplace_back("Plan length", units::show(line.plan_length_m, style));
  for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
    if (!plane.is_none()) {
      text.rows.emplace_back("Beside", "plane " + assessment.surface.planes[plane].id);
    }
  }
  return text;
}

Verdict verdict_of(conflicts::Severity severity) {
  switch (severity) {
    case conflicts::Severity::note:
      return Verdict::remark;
    case conflicts::Severity::warning:
      return Verdict::caution;
    case conflicts::Severity::error:
      return Verdict::fault;
  }
  return Verdict::fault;
}

}  // namespace

Verdict verdict_of_severity(int severity) {
  return verdict_of(static_cast<conflicts::Severity>(severity));
}

std::string typeset(const std::string& text) {
  const auto is_letter = [&](std::size_t i) {
    return i < text.size() && std::isalnum(static_cast<unsigned char>(text[i])) != 0;
  };
  const auto has_unit_before = [&](std::size_t at) {
    for (const std::string_view unit : {"in", "ft", "mm", "cm", "m"}) {
      const std::size_t n = unit.size();
      if (at >= n && text.compare(at - n, n, unit) == 0 && (at == n || !is_letter(at - n - 1))) {
        return true;
      }
    }
    return false;
  };
  std::string set;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool is_last = !is_letter(i + 1);
    const bool is_power = (text[i] == '2' || text[i] == '3') && is_last && has_unit_before(i);
    const bool is_degree = (text[i] == 'F' || text[i] == 'C') && is_last && i >= 2 &&
                           text[i - 1] == ' ' &&
                           std::isdigit(static_cast<unsigned char>(text[i - 2])) != 0;
    set += is_power ? (text[i] == '2' ? "\u00b2" : "\u00b3")
                    : (is_degree ? "\u00b0" : "") + std::string(1, text[i]);
  }
  return set;
}

std::string placed_words(const Assessment& before, const Assessment& after, Style style) {
  vents::CompartmentTotals all;
  for (const vents::CompartmentTotals& totals : after.vents.totals) {
    all.intake_m2 += totals.intake_m2;
    all.exhaust_m2 += totals.exhaust_m2;
  }
  std::string words =
      fmt::format("{}, {}, and {}, {}: {:.0f} % intake.",
                  count_of(after.model.intake.size(), "run of intake", "runs of intake"),
                  free_area(all.intake_m2, style),
                  count_of(after.model.exhaust.size(), "exhaust vent", "exhaust vents"),
                  free_area(all.exhaust_m2, style), 100.0 * all.intake_share());
  const std::size_t gone = before.model.intake.size() + before.model.exhaust.size();
  if (gone > 0) {
    words += fmt::format(" They took the place of {}; Undo brings {} back.",
                         count_of(gone, "vent", "vents"), gone == 1 ? "it" : "them");
  }
  return words;
}

std::string titled(const std::string& kind, const std::string& id) {
  const std::string named = capitalised(id);
  return named.starts_with(kind) ? named : kind + " " + id;
}

std::string capitalised(std::string word) {
  if (!word.empty()) {
    word.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(word.front())));
  }
  std::replace(word.begin(), word.end(), '_', ' ');
  return word;
}

std::vector<TotalsText> totals_text(const Assessment& assessment, Style style) {
  std::vector<TotalsText> texts;
  for (const CompartmentId id : assessment.attic.compartments.ids()) {
    texts.push_back(totals_of(assessment, id, style));
  }
  return texts;
}

SelectionText selection_text(const Assessment& assessment, const scene::Picked& picked,
                             Style style) {
  if (assessment.surface.planes.has(picked.plane)) {
    return plane_text(assessment, picked.plane, style);
  }
  if (assessment.surface.lines.has(picked.line)) {
    return line_text(assessment, picked.line, style);
  }
  return {};
}

std::vector<FindingText> findings_text(const Assessment& assessment) {
  std::vector<FindingText> texts;
  texts.reserve(assessment.findings.size());
  int number = 0;
  for (const conflicts::Finding& finding : assessment.findings) {
    texts.push_back({++number, verdict_of(finding.severity), typeset(finding.message),
                     typeset(finding.remedy), finding.at});
  }
  return texts;
}

}  // namespace ridgeward::panels
