#pragma once
// Makes timber out of members; seen only inside this folder. Rafters and the like are in
// members.cpp, hips, valleys and ridge boards in boards.cpp.

#include "solid/bodies.hpp"
#include "solid/timber.hpp"

#include <glm/geometric.hpp>

#include <cmath>
#include <string>
#include <vector>

namespace ridgeward::solid {

/// Corners and cuts that agree within this are one.
inline constexpr double member_near_m = 1e-6;
inline constexpr glm::dvec3 upright{0.0, 0.0, 1.0};
inline double plan_length(const glm::dvec3& way) { return std::hypot(way.x, way.y); }

/// An upright cut through `point` along `way`; what lies on the side of `inside` is kept.
Cut plumb(const glm::dvec3& point, const glm::dvec3& way, const glm::dvec3& inside);

class MemberMaker {
 public:
  MemberMaker(const model::RoofModel& model, const surface::Surface& surface,
              const framing::Framing& framing);

  Result<Bodies> run(const Tell& tell) const;

 private:
  /// What the end of a rafter meets.
  struct End {
    glm::dvec3 at{0.0};
    LineId line;
    MemberId header;
    double shortening_m = 0.0;
    double side_cut_rad = 0.0;
  };

  double deck_m(PlaneId id) const { return model_.parts[surface_.planes[id].part].deck_m; }
  glm::dvec3 way_of(const surface::Line& line) const {
    return surface_.nodes[line.to] - surface_.nodes[line.from];
  }
  PlaneId beside(LineId line, PlaneId own) const;
  glm::dvec3 to_undersides(PlaneId own, PlaneId other) const;
  std::vector<glm::dvec2> birdsmouth(const framing::Member& member) const;
  double spare_m(const framing::Member& member) const;
  Timber across(const framing::Member& member, const std::vector<glm::dvec2>& profile) const;
  Timber rafter(const framing::Member& member, const std::vector<glm::dvec2>& notch) const;
  Result<Shape> shape_of(const framing::Member& member, Bodies& bodies) const;
  void cut_end(const framing::Member& member, const End& end, Timber& body) const;
  void cut_along_border(const framing::Member& member, Timber& body) const;
  std::vector<glm::dvec2> whole_strip(const framing::Member& member) const;
  Timber header(const framing::Member& member) const;
  Timber board(const framing::Member& member) const;
  double top_of_board(const framing::Member& member, const glm::dvec3& side,
                      const glm::dvec3& up) const;
  void cut_board_end(const framing::Member& member, bool is_head, Timber& body) const;
  void cut_tail(const framing::Member& member, NodeId node, Timber& body) const;
  NodeId node_at(const framing::Member& member, const glm::dvec3& end) const;
  void cut_tip(const framing::Member& member, NodeId node, Timber& body) const;
  Timber plain(const framing::Member& member) const;
  Timber flat(const framing::Member& member) const;
  Timber body_of(const framing::Member& member) const;
  bool runs_up(const framing::Member& member) const;

  const model::RoofModel& model_;
  const surface::Surface& surface_;
  const framing::Framing& framing_;
  IndexedVector<LineId, double> thickness_under_;  ///< of the member under each line
  IndexedVector<NodeId, std::vector<LineId>> lines_at_;
};

}  // namespace ridgeward::solid
