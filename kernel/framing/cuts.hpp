#pragma once
// Cuts and shortenings of rafters, hips and valleys: the framing square's figures for any pitches
// and plan angles. Formulas: docs/framing.md.

#include "framing/layout.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <vector>

namespace ridgeward::framing {

/// What meets at each node of a surface: its ridges, hips and valleys.
class Joints {
 public:
  explicit Joints(const surface::Surface& surface);
  /// Lines of the trade's members at `node`, ridges first, then hips, then valleys.
  const std::vector<LineId>& at(NodeId node) const { return lines_[node]; }
  bool has_ridge(NodeId node) const;
  std::size_t hips(NodeId node) const;

 private:
  const surface::Surface& surface_;
  IndexedVector<NodeId, std::vector<LineId>> lines_;
};

/// Plan direction of a line, of length 1 (0 for an upright line).
glm::dvec2 plan_direction(const surface::Surface& surface, const surface::Line& line);
/// Sine of the plan angle between two plan directions, 0..1.
double sine_between(glm::dvec2 one, glm::dvec2 other);

/// Whether a line is a valley in which a later, overlaid part lies on the deck of an earlier one.
bool is_overlaid_valley(const surface::Surface& surface, const std::vector<PartStock>& stock,
                        LineId line);

/// Whether no member lies under a ridge or valley: overlaid valleys, and where trusses meet (chords
/// butt at a ridge; a valley set stands on the trusses of the other roof).
bool has_no_board(const surface::Surface& surface, const std::vector<PartStock>& stock,
                  LineId line);

/// Thickness of the member that lies under a ridge, hip or valley; 0 under other lines and where
/// there is none.
double thickness_under(const surface::Surface& surface, const std::vector<PartStock>& stock,
                       LineId line);

/// Level shortening of a member that runs into another one of `thickness_m` at a plan angle with
/// this sine: half of the thickness, measured along the run.
double level_shortening_m(double thickness_m, double sine);

/// Hips, valleys and ridge boards, one for each line of those kinds.
std::vector<Member> board_members(const model::RoofModel& model, const surface::Surface& surface,
                                  const std::vector<PartStock>& stock, const Joints& joints);

}  // namespace ridgeward::framing
