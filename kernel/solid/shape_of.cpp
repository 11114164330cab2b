// Points become vertices, edges stay edges, faces take them as they are: nothing is sewn, so
// nothing depends on a sewing tolerance.
#include "solid/held.hpp"
#include "solid/net.hpp"

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

/// The point that a step starts from.
glm::dvec3 corner(const Net& net, Net::Step step) {
  return net.points[net.edges[step.edge][step.forward ? 0 : 1]];
}

/// How far each point and each edge lies off the faces beside it: tidying and uniting move points
/// by up to a few micrometres, and vertices and edges must say so, no more than so.
struct Slack {
  std::vector<double> of_point;
  std::vector<double> of_edge;

  explicit Slack(const Net& net)
      : of_point(net.points.size(), Precision::Confusion()),
        of_edge(net.edges.size(), Precision::Confusion()) {
    for (const Net::Face& face : net.faces) {
      measure(net, face);
    }
  }

  void measure(const Net& net, const Net::Face& face) {
    const glm::dvec3 origin = corner(net, face.loops.front().front());
    for (const std::vector<Net::Step>& loop : face.loops) {
      for (const Net::Step step : loop) {
        for (const std::uint32_t point : net.edges[step.edge]) {
          const double off = 1.5 * std::abs(glm::dot(net.points[point] - origin, face.normal));
          of_point[point] = std::max(of_point[point], off);
          of_edge[step.edge] = std::max(of_edge[step.edge], off);
        }
      }
    }
  }
};

gp_Pnt point(const glm::dvec3& p) { return {p.x, p.y, p.z}; }

struct Piece {
  TopoDS_Face face;
  std::vector<std::uint32_t> edges;
};

std::vector<glm::dvec3> corners(const Net& net, const std::vector<Net::Step>& loop) {
  std::vector<glm::dvec3> ring;
  ring.reserve(loop.size());
  for (const Net::Step step : loop) {
    ring.push_back(corner(net, step));
  }
  return ring;
}

double area_along(const std::vector<glm::dvec3>& ring, const glm::dvec3& normal) {
  glm::dvec3 twice{0.0};
  for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
    twice += glm::cross(ring[i] - ring[0], ring[i + 1] - ring[0]);
  }
  return glm::dot(twice, normal) / 2;
}

/// Even-odd test in the plane's two largest directions with the middle of the hole's first edge.
std::size_t owner_of(const std::vector<glm::dvec3>& hole,
                     const std::vector<std::vector<glm::dvec3>>& outers, const glm::dvec3& normal) {
  const int drop = std::abs(normal.z) > 0.5 ? 2 : (std::abs(normal.y) > 0.5 ? 1 : 0);
  const auto flat = [&](const glm::dvec3& p) {
    return drop == 2 ? glm::dvec2{p.x, p.y}
                     : (drop == 1 ? glm::dvec2{p.x, p.z} : glm::dvec2{p.y, p.z});
  };
  const glm::dvec2 probe = (flat(hole[0]) + flat(hole[1])) * 0.5;
  for (std::size_t k = 0; k < outers.size(); ++k) {
    const std::vector<glm::dvec3>& loop = outers[k];
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

struct Maker {
  const Net& net;
  const Slack slack{net};
  std::vector<Piece> faces{};
  BRep_Builder builder{};
  std::vector<TopoDS_Vertex> vertices{};
  std::vector<TopoDS_Edge> edges{};

  void make_vertices() {
    for (std::size_t i = 0; i < net.points.size(); ++i) {
      TopoDS_Vertex vertex;
      builder.MakeVertex(vertex, point(net.points[i]), slack.of_point[i]);
      vertices.push_back(vertex);
    }
  }

  void make_edges() {
    for (const auto& [first, last] : net.edges) {
      const gp_Pnt from = point(net.points[first]);
      const gp_Vec along(from, point(net.points[last]));
      TopoDS_Edge edge;
      builder.MakeEdge(edge, new Geom_Line(from, gp_Dir(along)), slack.of_edge[edges.size()]);
      builder.Add(edge, vertices[first].Oriented(TopAbs_FORWARD));
      builder.Add(edge, vertices[last].Oriented(TopAbs_REVERSED));
      builder.Range(edge, 0.0, along.Magnitude());
      edges.push_back(edge);
    }
  }

  TopoDS_Wire wire(const std::vector<Net::Step>& loop) {
    TopoDS_Wire result;
    builder.MakeWire(result);
    for (const Net::Step step : loop) {
      builder.Add(result,
                  edges[step.edge].Oriented(step.forward ? TopAbs_FORWARD : TopAbs_REVERSED));
    }
    result.Closed(true);
    return result;
  }

  /// One face for each outer loop, with the holes that lie in it. A face in several pieces gives
  /// several.
  void add_faces(const Net::Face& face) {
    const std::size_t first = faces.size();
    std::vector<std::vector<glm::dvec3>> outers;
    const gp_Pnt origin = point(corner(net, face.loops.front().front()));
    const glm::dvec3& normal = face.normal;
    for (const std::vector<Net::Step>& loop : face.loops) {
      std::vector<glm::dvec3> ring = corners(net, loop);
      std::size_t owner = faces.size();
      if (area_along(ring, normal) > 0) {
        Piece piece;
        builder.MakeFace(piece.face, new Geom_Plane(origin, gp_Dir(normal.x, normal.y, normal.z)),
                         Precision::Confusion());
        faces.push_back(piece);
        outers.push_back(std::move(ring));
      } else {
        owner = first + owner_of(ring, outers, normal);
      }
      ensure(owner < faces.size(), "a face has an outer loop before its holes");
      builder.Add(faces[owner].face, wire(loop));
      for (const Net::Step step : loop) {
        faces[owner].edges.push_back(step.edge);
      }
    }
  }

  /// Faces that hang together by their edges, one solid each: a house and its shed are two.
  TopoDS_Shape solids();
};

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
    for (const std::uint32_t edge : faces[i].edges) {
      if (face_at[edge] == faces.size()) {
        face_at[edge] = i;
      } else {
        const std::size_t a = root(face_at[edge]);
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

Shape shape_of(const Net& net) {
  Maker maker{net};
  maker.make_vertices();
  maker.make_edges();
  for (const Net::Face& face : net.faces) {
    maker.add_faces(face);
  }
  return Shape(std::make_shared<const Shape::Held>(Shape::Held{maker.solids()}));
}

Result<Shape> checked(const Shape& shape, const std::string& what) {
  const Report report = examine(shape);
  const char* const cure = "report the model: it should have been refused";
  if (!report.is_closed) {
    return Fault{"solid.not_closed", "", what + " has open edges", cure};
  }
  if (!report.is_valid || !(report.volume_m3 > 0)) {
    return Fault{"solid.invalid", "", "the modelling kernel finds " + what + " invalid", cure};
  }
  return shape;
}

Result<Shape> built(const Facets& facets, const std::string& what) {
  try {
    return sound(net_of(facets), what);
  } catch (const Standard_Failure& failure) {
    return Fault{"solid.invalid", "",
                 "the modelling kernel failed at " + what + ": " + failure.GetMessageString(),
                 "report the model"};
  }
}

}  // namespace ridgeward::solid
