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

/// Pieces of the cutting plan over a run or vent.
std::size_t laid(const Assessment& assessment, const std::string& run);

/// How long the vents over a run's slots are: "21' 0\"", "9' 0\" and 12' 0\"".
std::string vent_lengths_words(const Assessment& assessment, const Run& run, units::Style style);

/// How long nails of no given size are at least: "long enough to go through the deck of 1/2\"".
std::string into_deck_words(double deck_m, units::Style style);

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
/// Vents set one by one on a plane: box vents, turbines, powered ones. REQUIRES one at least.
std::vector<std::string> steps_of_singles(const Assessment& assessment,
                                          const std::vector<ExhaustId>& vents, units::Style style);

/// What was found about these slots and exhausts: what names one of them, and what is about a
/// compartment that they open onto without naming another. In the order of the assessment.
std::vector<std::size_t> findings_about(const Assessment& assessment,
                                        const std::vector<SlotId>& slots,
                                        const std::vector<ExhaustId>& vents);

/// Where the air of a bay goes: its way, and the exhausts that its space opens to; all of them
/// where they are few. A bay under a blocked slot has none.
std::string way_words(const Assessment& assessment, const vents::SlotBay& under);
/// Whether a bay is too narrow to count on: less than the least space for air over insulation
/// (practice.hpp).
bool is_mere_gap(const framing::Bay& bay);
/// Whether what a slot has of a bay is more than nothing as lengths are shown, to 1/8 in: slivers
/// at a slot's end are not told.
bool is_shown(const vents::SlotBay& under);

}  // namespace ridgeward::papers
