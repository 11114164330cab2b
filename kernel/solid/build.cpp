// Nodes become vertices, lines become edges, faces take them as they are: nothing is sewn, so
// nothing depends on a sewing tolerance.
#include "solid/held.hpp"

#include <BRep_Builder.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Precision.hxx>
#include <Standard_Failure.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <vector>

namespace ridgeward::solid {

namespace {

/// How far each node and each line lies off the faces beside it: tidying and uniting move nodes by
/// up to a few micrometres, and vertices and edges must say so, no more than so.
struct Slack {
  std::vector<double> of_node;
  std::vector<double> of_line;

  explicit Slack(const surface::Surface& surface)
      : of_node(surface.nodes.size(), Precision::Confusion()),
        of_line(surface.lines.size(), Precision::Confusion()) {
    for (const surface::Plane& plane : surface.planes) {
      measure(surface, plane.loops, plane.frame.normal);
    }
    for (const surface::WallFace& wall : surface.walls) {
      measure(surface, wall.loops, wall.normal);
    }
  }

  void measure(const surface::Surface& surface, const std::vector<surface::Loop>& loops,
               const glm::dvec3& normal) {
    const glm::dvec3 origin = surface::corners(surface, loops.front()).front();
    for (const surface::Loop& loop : loops) {
      for (const surface::LoopStep& step : loop) {
        const surface::Line& line = surface.lines[step.line];
        for (const NodeId node : {line.from, line.to}) {
          const double off = 1.5 * std::abs(glm::dot(surface.nodes[node] - origin, normal));
          of_node[node.value] = std::max(of_node[node.value], off);
          of_line[step.line.value] = std::max(of_line[step.line.value], off);
        }
      }
    }
  }
};

gp_Pnt point(const glm::dvec3& p) { return {p.x, p.y, p.z}; }

struct Piece {
  TopoDS_Face face;
  std::vector<std::uint32_t> lines;
};

struct Maker {
  const surface::Surface& surface;
  const Slack slack{surface};
  std::vector<Piece> faces{};
  BRep_Builder builder{};
  std::vector<TopoDS_Vertex> vertices{};
  std::vector<TopoDS_Edge> edges{};

  void make_vertices() {
    for (std::size_t i = 0; i < surface.nodes.size(); ++i) {
      TopoDS_Vertex vertex;
      builder.MakeVertex(vertex, point(surface.nodes[NodeId(i)]), slack.of_node[i]);
      vertices.push_back(vertex);
    }
  }

  void make_edges() {
    for (const surface::Line& line : surface.lines) {
      const gp_Pnt from = point(surface.nodes[line.from]);
      const gp_Pnt to = point(surface.nodes[line.to]);
      const gp_Vec along(from, to);
      TopoDS_Edge edge;
      builder.MakeEdge(edge, new Geom_Line(from, gp_Dir(along)), slack.of_line[edges.size()]);
      const TopoDS_Shape first = vertices[line.from.value].Oriented(TopAbs_FORWARD);
      const TopoDS_Shape last = vertices[line.to.value].Oriented(TopAbs_REVERSED);
      builder.Add(edge, first);
      builder.Add(edge, last);
      builder.Range(edge, 0.0, along.Magnitude());
      edges.push_back(edge);
    }
  }

  TopoDS_Wire wire(const surface::Loop& loop) {
    TopoDS_Wire result;
    builder.MakeWire(result);
    for (const surface::LoopStep& step : loop) {
      builder.Add(result,
                  edges[step.line.value].Oriented(step.forward ? TopAbs_FORWARD : TopAbs_REVERSED));
    }
    result.Closed(true);
    return result;
  }

  double area_along(const surface::Loop& loop, const glm::dvec3& normal) const {
    const std::vector<glm::dvec3> p = surface::corners(surface, loop);
    glm::dvec3 twice{0.0};
    for (std::size_t i = 1; i + 1 < p.size(); ++i) {
      const glm::dvec3 a = p[i] - p[0];
      const glm::dvec3 b = p[i + 1] - p[0];
      twice += glm::dvec3{a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
    }
    return (twice.x * normal.x + twice.y * normal.y + twice.z * normal.z) / 2;
  }

  /// One face for each outer loop, with the holes that lie in it; outer loops come first. A plane
  /// in several pieces gives several faces.
  void add_faces(const std::vector<surface::Loop>& loops, const glm::dvec3& normal) {
    const std::size_t first = faces.size();
    std::vector<const surface::Loop*> outers;
    const gp_Pnt origin = point(surface::corners(surface, loops.front()).front());
    for (const surface::Loop& loop : loops) {
      std::size_t owner = faces.size();
      if (area_along(loop, normal) > 0) {
        Piece piece;
        builder.MakeFace(piece.face, new Geom_Plane(origin, gp_Dir(normal.x, normal.y, normal.z)),
                         Precision::Confusion());
        faces.push_back(piece);
        outers.push_back(&loop);
      } else {
        owner = first + owner_of(loop, outers, normal);
      }
      builder.Add(faces[owner].face, wire(loop));
      for (const surface::LoopStep& step : loop) {
        faces[owner].lines.push_back(step.line.value);
      }
    }
  }

  /// Faces that hang together by their lines, one solid each: a house and its shed are two.
  TopoDS_Shape solids();

  std::size_t owner_of(const surface::Loop& hole, const std::vector<const surface::Loop*>& outers,
                       const glm::dvec3& normal) const;
};

/// Even-odd test in the plane's two largest directions with the middle of the hole's first line.
std::size_t Maker::owner_of(const surface::Loop& hole,
                            const std::vector<const surface::Loop*>& outers,
                            const glm::dvec3& normal) const {
  const int drop = std::abs(normal.z) > 0.5 ? 2 : (std::abs(normal.y) > 0.5 ? 1 : 0);
  const auto flat = [&](const glm::dvec3& p) {
    return drop == 2 ? glm::dvec2{p.x, p.y}
                     : (drop == 1 ? glm::dvec2{p.x, p.z} : glm::dvec2{p.y, p.z});
  };
  const std::vector<glm::dvec3> ring = surface::corners(surface, hole);
  const glm::dvec2 probe = (flat(ring[0]) + flat(ring[1])) * 0.5;
  for (std::size_t k = 0; k < outers.size(); ++k) {
    const std::vector<glm::dvec3> loop = surface::corners(surface, *outers[k]);
    bool inside = false;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
      const glm::dvec2 a = flat(loop[i]);
      const glm::dvec2 b = flat(loop[j]);
      if ((a.y > probe.y) != (b.y > probe.y) &&
          probe.x < (b.x - a.x) * (probe.y - a.y) / (b.y - a.y) + a.x) {
        inside = !inside;
      }
    }
    if (inside) {
      return k;
    }
  }
  return 0;
}

TopoDS_Shape Maker::solids() {
  std::vector<std::size_t> owner(faces.size());
  std::iota(owner.begin(), owner.end(), 0U);
  const auto root = [&](std::size_t i) {
    while (owner[i] != i) {
      i = owner[i];
    }
    return i;
  };
  std::vector<std::size_t> face_at(edges.size(), faces.size());
  for (std::size_t i = 0; i < faces.size(); ++i) {
    for (const std::uint32_t line : faces[i].lines) {
      if (face_at[line] == faces.size()) {
        face_at[line] = i;
      } else {
        const std::size_t a = root(face_at[line]);
        const std::size_t b = root(i);
        owner[std::max(a, b)] = std::min(a, b);
      }
    }
  }
  std::map<std::size_t, TopoDS_Shell> shells;
  for (std::size_t i = 0; i < faces.size(); ++i) {
    const auto [place, is_new] = shells.try_emplace(root(i));
    if (is_new) {
      builder.MakeShell(place->second);
    }
    builder.Add(place->second, faces[i].face);
  }
  std::vector<TopoDS_Solid> all;
  for (auto& [first, shell] : shells) {
    shell.Closed(true);
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    builder.Add(solid, shell);
    all.push_back(solid);
  }
  if (all.size() == 1) {
    return all.front();
  }
  TopoDS_Compound compound;
  builder.MakeCompound(compound);
  for (const TopoDS_Solid& solid : all) {
    builder.Add(compound, solid);
  }
  return compound;
}

}  // namespace

Shape build_unchecked(const surface::Surface& surface) {
  Maker maker{surface};
  maker.make_vertices();
  maker.make_edges();
  for (const surface::Plane& plane : surface.planes) {
    maker.add_faces(plane.loops, plane.frame.normal);
  }
  for (const surface::WallFace& wall : surface.walls) {
    maker.add_faces(wall.loops, wall.normal);
  }
  return Shape(std::make_shared<const Shape::Held>(Shape::Held{maker.solids()}));
}

Result<Shape> build(const surface::Surface& surface) {
  try {
    Shape shape = build_unchecked(surface);
    const Report report = examine(shape);
    if (!report.is_closed) {
      return Fault{"solid.not_closed", "", "the solid of this roof has open edges",
                   "report the model: the surface should have been refused"};
    }
    if (!report.is_valid || !(report.volume_m3 > 0)) {
      return Fault{"solid.invalid", "", "the modelling kernel finds the solid of this roof invalid",
                   "report the model: the surface should have been refused"};
    }
    return shape;
  } catch (const Standard_Failure& failure) {
    return Fault{"solid.invalid", "",
                 std::string("the modelling kernel failed: ") + failure.GetMessageString(),
                 "report the model"};
  }
}

}  // namespace ridgeward::solid
