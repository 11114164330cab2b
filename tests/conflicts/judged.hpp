#pragma once
// Houses and what is asked of their findings, for the tests of all kinds.
#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <iterator>
#include <string>
#include <vector>

namespace judged_roofs {

using namespace ridgeward;
using conflicts::Finding;
using tests::Worked;

/// By the catalogue that ships with the program, if no other is given.
inline Worked judged(const model::RoofModel& model,
                     const model::Catalogue& catalogue = tests::default_catalogue(),
                     const char* code = "us-irc-2021") {
  return tests::worked(model, catalogue, tests::code_set(code));
}

/// By the three products of small_roofs::catalogue().
inline Worked judged_small(const model::RoofModel& model) {
  return judged(model, small_roofs::catalogue());
}

inline bool has(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

inline bool is_quiet(const Worked& w, const std::string& kind) {
  return w.finding(kind) == nullptr;
}

inline std::vector<Finding> all_of(const Worked& w, const std::string& kind) {
  std::vector<Finding> found;
  std::copy_if(w.findings.begin(), w.findings.end(), std::back_inserter(found),
               [&](const Finding& finding) { return finding.kind == kind; });
  return found;
}

/// The first of a kind, with all its words.
inline Finding required(const Worked& w, const std::string& kind, conflicts::Severity severity) {
  INFO(kind);
  const Finding* finding = w.finding(kind);
  REQUIRE(finding != nullptr);
  CHECK(finding->severity == severity);
  CHECK_FALSE(finding->measured.empty());
  CHECK_FALSE(finding->needed.empty());
  CHECK_FALSE(finding->message.empty());
  CHECK_FALSE(finding->remedy.empty());
  return *finding;
}

/// 40 x 28 ft gable with overhangs, 25 ft of slot in both eaves, no exhaust.
inline model::RoofModel house_without_exhaust(double pitch = 8.0) {
  using small_roofs::ft;
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}},
                     {support::eave(pitch, 1.0 * ft), support::gable(0.5 * ft),
                      support::eave(pitch, 1.0 * ft), support::gable(0.5 * ft)});
  model.parts[0].heel_m = 12 * small_roofs::in;
  model.intake = {small_roofs::whole_eave("south", "main/0"),
                  small_roofs::whole_eave("north", "main/2")};
  for (model::IntakeRun& run : model.intake) {
    run.whole = false;
    run.from_m = 8 * ft;
    run.to_m = 33 * ft;
  }
  return model;
}

/// With a vent along its whole ridge.
inline model::RoofModel sound_house(double pitch = 8.0) {
  model::RoofModel model = house_without_exhaust(pitch);
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  return model;
}

/// A box vent of 50 in2, its middle in inches along and up the plane.
inline model::ExhaustVent box(const std::string& id, const std::string& plane, glm::dvec2 at_in) {
  model::ExhaustVent vent;
  vent.id = id;
  vent.product = "box-50";
  vent.plane = plane;
  vent.at = at_in * small_roofs::in;
  return vent;
}

}  // namespace judged_roofs
