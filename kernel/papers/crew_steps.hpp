#pragma once
// The work at one run, step by step, with this roof's numbers. The steps are common practice, no
// source; figures that the product or the model states are theirs.

#include "assess.hpp"
#include "papers/ridge_drawing.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

/// Slots of one run of the model on one plane.
struct Run {
  std::string id;
  PlaneId plane;
  std::vector<SlotId> slots;
};
std::vector<Run> runs_of(const Assessment& assessment);

/// A vent along a ridge or hip; it may be in several exhausts.
struct RidgeRun {
  std::string id;
  std::vector<ExhaustId> vents;
};
std::vector<RidgeRun> ridge_runs_of(const Assessment& assessment);

/// How many sections or pieces the order holds for a run or vent.
double ordered(const Assessment& assessment, const std::string& product, const std::string& run);

/// Parts of the work at a run.
enum class Phase { ready, lines, cut, sections, cover };
struct WorkStep {
  Phase phase = Phase::ready;
  std::string text;
};

/// In the order of the work. REQUIRES a run with a slot.
std::vector<WorkStep> work_steps_of(const Assessment& assessment, const Run& run,
                                    units::Style style);
/// The same, texts only.
std::vector<std::string> steps_of(const Assessment& assessment, const Run& run, units::Style style);
std::vector<std::string> steps_of(const Assessment& assessment, const RidgeRun& run,
                                  units::Style style);

}  // namespace ridgeward::papers
