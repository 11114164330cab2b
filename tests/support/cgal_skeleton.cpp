#include "support/cgal_skeleton.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_with_holes_2.h>
#include <CGAL/create_straight_skeleton_from_polygon_with_holes_2.h>

#include <map>

namespace ridgeward::support {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Polygon = CGAL::Polygon_2<Kernel>;
using Holed = CGAL::Polygon_with_holes_2<Kernel>;

Holed as_polygon(const std::vector<std::vector<glm::dvec2>>& loops) {
  std::vector<Polygon> all;
  for (const auto& loop : loops) {
    Polygon p;
    for (const glm::dvec2& q : loop) {
      p.push_back(Kernel::Point_2(q.x, q.y));
    }
    all.push_back(p);
  }
  return Holed(all[0], all.begin() + 1, all.end());
}

}  // namespace

std::size_t reference_faces(const std::vector<std::vector<glm::dvec2>>& loops) {
  const auto skeleton = CGAL::create_interior_straight_skeleton_2(as_polygon(loops));
  return skeleton ? skeleton->size_of_faces() : 0;
}

std::vector<double> reference_face_areas(const std::vector<std::vector<glm::dvec2>>& loops) {
  const auto skeleton = CGAL::create_interior_straight_skeleton_2(as_polygon(loops));
  std::map<std::pair<double, double>, double> by_start;
  for (auto face = skeleton->faces_begin(); face != skeleton->faces_end(); ++face) {
    double twice = 0.0;
    std::pair<double, double> start;
    auto edge = face->halfedge();
    const auto first = edge;
    do {
      const auto a = edge->opposite()->vertex()->point();
      const auto b = edge->vertex()->point();
      twice += a.x() * b.y() - b.x() * a.y();
      if (!edge->is_bisector()) {
        start = {a.x(), a.y()};
      }
      edge = edge->next();
    } while (edge != first);
    by_start[start] = twice / 2;
  }
  std::vector<double> areas;
  for (const auto& loop : loops) {
    for (const glm::dvec2& p : loop) {
      areas.push_back(by_start.at({p.x, p.y}));
    }
  }
  return areas;
}

}  // namespace ridgeward::support
