#pragma once
// Where along the eave the rafters of one plane stand.

#include "framing/framing.hpp"
#include "framing/stage.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <cmath>
#include <vector>

namespace ridgeward::framing {

/// The timber of one part, known sizes filled in.
struct PartStock {
  double rafter_m = 0.0;  ///< thicknesses
  double ridge_m = 0.0;
  double hip_m = 0.0;
  double valley_m = 0.0;
  double rafter_depth_m = 0.0;
  double ridge_depth_m = 0.0;
  double hip_depth_m = 0.0;
  double valley_depth_m = 0.0;
  bool is_overlaid =
      false;              ///< on the deck of an earlier part: no valley rafters where it meets one
  bool is_truss = false;  ///< no ridge boards, and no valley rafters under its valley sets
};

/// One side of a plane's polygon in plane coordinates, the plane on its left hand.
struct BorderEdge {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  LineId line;
};

/// A place along the eave at which a rafter stands, and how far up the slope that holds: a rafter
/// at a gable-end wall stands only beside that wall.
struct Mark {
  double at_m = 0.0;
  double low_v_m = -HUGE_VAL;
  double high_v_m = HUGE_VAL;
  bool is_end = false;  ///< stands at a border of the plane, whatever the spacing

  bool reaches(double low_m, double high_m) const { return low_v_m < high_m && low_m < high_v_m; }
};

/// The marks of one plane.
class Layout {
 public:
  /// Measured positions if the model has some for the edge; otherwise origin + k * spacing along
  /// the wall from its left end seen from outside. At a gable-end wall a rafter stands flush within
  /// the wall's outer face, at an upright wall border flush against it. Where positions are
  /// measured, they hold and the end rafters give way, all at a gable end where some were measured
  /// beyond the wall; on ground of other parts, which a plane reaches where two lie in one, the
  /// spacing goes on.
  /// Trusses stand across the roof: all planes of a part that face one way or against it have
  /// their marks at the same stations, from the first of these walls.
  /// `dormers` are parts that are open below: their side walls stand on rafters of their own.
  Layout(const model::RoofModel& model, const surface::Surface& surface,
         const surface::Plane& plane, const std::vector<BorderEdge>& border, double thickness_m,
         const std::vector<std::size_t>& dormers = {});

  /// Adds marks of rafters that stand whatever the spacing.
  void add(const std::vector<double>& centres_m);
  /// Rising in u.
  const std::vector<Mark>& marks() const { return marks_; }
  /// Whether a mark holds on the stretch of slope from `low_m` to `high_m`: an end rafter's beside
  /// its wall, no other in the overhang of a rake.
  bool stands(const Mark& mark, double low_m, double high_m) const;

 private:
  /// A strip along the eave in which no layout mark may stand.
  struct Closed {
    double from_m = 0.0;
    double to_m = 0.0;
    Mark reach;
  };

  void add_ends(const std::vector<GableEnd>& gables, const surface::Surface& surface,
                const std::vector<BorderEdge>& border, const std::vector<std::size_t>& dormers);
  void add_end(double at_m, double low_v_m, double high_v_m);
  void add_measured(const model::MeasuredEdge& measured, double start_u_m);
  void add_spaced(const model::Part& part, double origin_m, double from_m, double to_m);

  double thickness_m_;
  std::vector<Mark> marks_;
  std::vector<Closed> closed_;
};

}  // namespace ridgeward::framing
