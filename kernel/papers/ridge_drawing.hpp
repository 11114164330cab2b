#pragma once
// Vents along ridges and hips drawn flat about their line, and strips of vent with their pieces and
// mitres; all true to scale.

#include "assess.hpp"
#include "papers/draft.hpp"
#include "papers/marks.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

/// The whole line with the slots of one vent, its ends and hold-backs as dimensions. Returns the
/// height that it takes. REQUIRES exhausts along one line.
double draw_ridge(const Assessment& assessment, const std::vector<ExhaustId>& vents,
                  const Frame& frame, units::Style style, Page& page);

/// One end of a slot along a ridge or hip enlarged: the board beneath, rafters, the chalk lines on
/// both sides. Fits the frame.
void draw_ridge_end(const Assessment& assessment, ExhaustId vent, bool is_first, const Frame& frame,
                    units::Style style, Page& page);

/// The pieces of a strip as seen from outside, numbered in laying order, with their mitres. Returns
/// the height that it takes.
double draw_pieces(const takeoff::SectionRun& run, double depth_m, const Frame& frame,
                   units::Style style, Page& page);

/// "mitre 11 5/8\", hip": how the end of a piece is cut, and what it lies at.
std::string end_words(const takeoff::PieceEnd& end, units::Style style);

/// How the end of a strip is cut at a hip or valley: the offset along its edge and its depth.
void draw_mitre(const vents::Mitre& mitre, bool is_left, double depth_m, const Frame& frame,
                units::Style style, Page& page);

}  // namespace ridgeward::papers
