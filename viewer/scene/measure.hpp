#pragma once
// Measuring on the drawing: what a click takes hold of, and the figures between two of them.

#include "scene/camera.hpp"
#include "scene/pick.hpp"
#include "scene/scene.hpp"

#include <optional>
#include <vector>

namespace ridgeward::scene {

/// A place that was clicked.
struct Spot {
  enum class On { corner, middle, line, plane };
  On on = On::plane;
  glm::dvec3 at{0.0};
  LineId line;  ///< none on a plane
  StrokeRole role = StrokeRole::outline;
  glm::dvec3 from{0.0};  ///< ends of the line
  glm::dvec3 to{0.0};
  bool is_on_line() const { return on != On::plane; }
  bool operator==(const Spot&) const = default;
};

/// What a click at the pixel takes hold of: a corner or the middle of a line within `reach_px`,
/// else a line within it, else the face under it; only what is in sight. A corner between lines
/// belongs to the one nearest to the pixel.
std::optional<Spot> spot_at(const Scene& scene, const Lens& lens, glm::dvec2 pixel,
                            double reach_px);

/// Begins at the first spot, ends at the second.
struct Measure {
  std::vector<Spot> spots;  ///< at most two
  bool operator==(const Measure&) const = default;
};
/// The next click. `anywhere` false: only a line begins. A spot on the very line that a lone first
/// spot lies on begins anew there; two finished ones stay unless the spot may begin.
Measure clicked(Measure measure, const Spot& spot, bool anywhere);

struct Reach {
  double true_m = 0.0;
  double level_m = 0.0;  ///< in plan
  double rise_m = 0.0;   ///< from the first to the second, up positive
};
Reach reach_between(glm::dvec3 from, glm::dvec3 to);

/// All that can be said.
struct Figures {
  std::optional<Reach> line;        ///< of the first spot's line, while there is no second
  std::optional<Reach> distance;    ///< between the two spots
  std::optional<double> slope_rad;  ///< of the way between them to the level, 0 .. pi/2
  /// Between the two lines, 0 .. pi/2; where they share an end, between the ways from there,
  /// 0 .. pi.
  std::optional<double> angle_rad;
  std::optional<double> level_angle_rad;  ///< the same in plan; none where one stands upright
  std::optional<double> square_m;  ///< between parallel lines, or from the spot on no line, square
};
/// Lines that run within this of each other count as parallel.
inline constexpr double parallel_rad = 1e-4;
Figures figures(const Measure& measure);

}  // namespace ridgeward::scene
