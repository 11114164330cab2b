#include "scene/bodies.hpp"

#include "attic/columns.hpp"

#include "scene/pieces.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <map>

namespace ridgeward::scene {
namespace {

constexpr double same_m = 1e-5;  // sides that near to each other stand together

/// A side of a slab, told along its line in plan.
struct Wall {
  double from = 0.0;  ///< along the line; from > to: the slab lies on the other hand
  double to = 0.0;
  std::array<double, 2> bottom_m{};  ///< at from, to
  std::array<double, 2> top_m{};

  double share(double at) const { return (at - from) / (to - from); }
  double bottom(double at) const { return bottom_m[0] + share(at) * (bottom_m[1] - bottom_m[0]); }
  double top(double at) const { return top_m[0] + share(at) * (top_m[1] - top_m[0]); }
  bool covers(double at) const { return std::min(from, to) < at && at < std::max(from, to); }
};

/// A line in plan, whichever way it is run along: its direction and its distance from the origin,
/// rounded.
struct Track {
  std::array<long, 3> key{};
  glm::dvec2 way{1.0, 0.0};
  glm::dvec2 foot{0.0};
};

Track track_of(glm::dvec2 a, glm::dvec2 b) {
  Track track;
  track.way = glm::normalize(b - a);
  if (track.way.x < -1e-6 || (std::abs(track.way.x) <= 1e-6 && track.way.y < 0)) {
    track.way = -track.way;
  }
  const glm::dvec2 side(-track.way.y, track.way.x);
  const double away = glm::dot(side, a);
  track.foot = side * away;
  // Coarse: what is not the same line after all is told apart by its heights and places.
  track.key = {std::lround(track.way.x * 2e3), std::lround(track.way.y * 2e3),
               std::lround(away * 2e3)};
  return track;
}

struct Line {
  Track track;
  std::vector<Wall> walls;
};

void add_triangle(const Triangle& t, Face& face) {
  const glm::dvec3 across = glm::cross(t[1] - t[0], t[2] - t[0]);
  if (glm::dot(across, across) > 1e-14) {
    face.triangles.push_back(t);
  }
}

void add_lid(const Slab& slab, const std::vector<double>& heights, bool is_top, Face& face) {
  const auto at = [&](std::size_t i) { return glm::dvec3(slab.plan[i], heights[i]); };
  for (std::size_t i = 1; i + 1 < slab.plan.size(); ++i) {
    add_triangle(is_top ? Triangle{at(0), at(i), at(i + 1)} : Triangle{at(0), at(i + 1), at(i)},
                 face);
  }
}

/// One stretch of a wall that nothing stands against.
void add_wall(const Track& track, const Wall& wall, double from, double to, Face& face) {
  const auto at = [&](double along, double height) {
    return glm::dvec3(track.foot + track.way * along, height);
  };
  const glm::dvec3 a = at(from, wall.bottom(from));
  const glm::dvec3 b = at(to, wall.bottom(to));
  const glm::dvec3 c = at(to, wall.top(to));
  const glm::dvec3 d = at(from, wall.top(from));
  add_triangle({a, b, c}, face);
  add_triangle({a, c, d}, face);
}

bool is_same_height(const Wall& one, const Wall& other, double from, double to) {
  const auto is_same = [&](double at) {
    return std::abs(one.bottom(at) - other.bottom(at)) < 1e-3 &&
           std::abs(one.top(at) - other.top(at)) < 1e-3;
  };
  return is_same(from) && is_same(to);
}

/// The walls over a stretch of a line that no other stands against, pair by pair.
std::vector<const Wall*> unmatched(const Line& line, double from, double to) {
  std::vector<const Wall*> alone;
  for (const Wall& wall : line.walls) {
    if (!wall.covers((from + to) / 2)) {
      continue;
    }
    const auto other = std::find_if(alone.begin(), alone.end(), [&](const Wall* w) {
      return (w->from < w->to) != (wall.from < wall.to) && is_same_height(*w, wall, from, to);
    });
    if (other == alone.end()) {
      alone.push_back(&wall);
    } else {
      alone.erase(other);
    }
  }
  return alone;
}

void add_line(const Line& line, const Face& like, std::vector<Face>& faces) {
  std::vector<double> stops;
  for (const Wall& wall : line.walls) {
    stops.push_back(wall.from);
    stops.push_back(wall.to);
  }
  std::sort(stops.begin(), stops.end());
  const glm::dvec2 way = line.track.way;
  Face forward = like;
  forward.normal = {way.y, -way.x, 0.0};
  Face backward = like;
  backward.normal = -forward.normal;
  for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
    const double low = stops[i];
    const double high = stops[i + 1];
    if (high - low < same_m) {
      continue;
    }
    for (const Wall* wall : unmatched(line, low, high)) {
      if (wall->from < wall->to) {
        add_wall(line.track, *wall, low, high, forward);
      } else {
        add_wall(line.track, *wall, high, low, backward);
      }
    }
  }
  for (Face* face : {&forward, &backward}) {
    if (!face->triangles.empty()) {
      faces.push_back(std::move(*face));
    }
  }
}

/// Direction of a lid, rounded: those of one plane make one face.
std::array<long, 3> direction(glm::dvec3 n) {
  return {std::lround(n.x * 1e4), std::lround(n.y * 1e4), std::lround(n.z * 1e4)};
}

void add_lids(const std::vector<Slab>& slabs, const Face& like, std::vector<Face>& faces) {
  std::map<std::array<long, 3>, Face> lids;
  for (const Slab& slab : slabs) {
    for (const bool is_top : {true, false}) {
      Face face = like;
      add_lid(slab, is_top ? slab.top_m : slab.bottom_m, is_top, face);
      if (face.triangles.empty()) {
        continue;
      }
      const Triangle& t = face.triangles.front();
      face.normal = glm::normalize(glm::cross(t[1] - t[0], t[2] - t[0]));
      const auto [whole, is_new] = lids.try_emplace(direction(face.normal), face);
      if (!is_new) {
        std::vector<Triangle>& all = whole->second.triangles;
        all.insert(all.end(), face.triangles.begin(), face.triangles.end());
      }
    }
  }
  for (auto& [key, face] : lids) {
    faces.push_back(std::move(face));
  }
}

}  // namespace

std::vector<Face> border(const std::vector<Slab>& slabs, const Face& like) {
  std::vector<Face> faces;
  add_lids(slabs, like, faces);
  std::map<std::array<long, 3>, Line> lines;
  for (const Slab& slab : slabs) {
    for (std::size_t i = 0; i < slab.plan.size(); ++i) {
      const std::size_t j = (i + 1) % slab.plan.size();
      if (glm::length(slab.plan[j] - slab.plan[i]) < same_m) {
        continue;
      }
      const Track track = track_of(slab.plan[i], slab.plan[j]);
      Line& line = lines.try_emplace(track.key, Line{track, {}}).first->second;
      line.walls.push_back({glm::dot(line.track.way, slab.plan[i]),
                            glm::dot(line.track.way, slab.plan[j]),
                            {slab.bottom_m[i], slab.bottom_m[j]},
                            {slab.top_m[i], slab.top_m[j]}});
    }
  }
  for (const auto& [key, line] : lines) {
    add_line(line, like, faces);
  }
  return faces;
}

namespace {

void add_all(std::vector<Face> faces, Scene& scene) {
  scene.faces.insert(scene.faces.end(), std::make_move_iterator(faces.begin()),
                     std::make_move_iterator(faces.end()));
}

Slab slab_between(const polygon::Loop& plan, const attic::Rise& bottom, const attic::Rise& top) {
  Slab slab;
  slab.plan = plan;
  for (const glm::dvec2 p : plan) {
    slab.bottom_m.push_back(bottom.at(p));
    slab.top_m.push_back(top.at(p));
  }
  return slab;
}

attic::Rise raised(attic::Rise rise, double by_m) {
  rise.base += by_m;
  return rise;
}

/// The part of a convex piece where `high` lies over `low`, as a slab.
void add_slab(const polygon::Loop& plan, const attic::Rise& low, const attic::Rise& high,
              std::vector<Slab>& slabs) {
  if (plan.empty()) {
    return;
  }
  const polygon::Loop over =
      polygon::clip(plan, {high.gradient - low.gradient, low.base - high.base});
  if (over.size() >= 3 && polygon::area(over) > 1e-6) {
    slabs.push_back(slab_between(over, low, high));
  }
}

/// The sheathing of each plane, its top the roof surface, cut plumb all around.
void add_decks(const Assessment& assessment, Scene& scene) {
  std::vector<Face> decks;
  for (const Face& face : scene.faces) {
    if (face.role != FaceRole::roof) {
      continue;
    }
    const surface::Plane& plane = assessment.surface.planes[face.plane];
    const double plumb_m = deck_of(assessment, plane.part) / std::max(1e-3, plane.frame.normal.z);
    std::vector<Slab> slabs;
    for (const Triangle& t : face.triangles) {
      Slab slab;
      for (const glm::dvec3& p : t) {
        slab.plan.emplace_back(p);
        slab.top_m.push_back(p.z);
        slab.bottom_m.push_back(p.z - plumb_m);
      }
      slabs.push_back(std::move(slab));
    }
    Face like;
    like.role = FaceRole::deck;
    like.layer = Layer::planes;
    like.plane = face.plane;
    std::vector<Face> own = border(slabs, like);
    std::move(own.begin(), own.end(), std::back_inserter(decks));
  }
  add_all(std::move(decks), scene);
}

/// What a column holds: insulation below, pressed together where the roof comes down to it, and
/// air.
struct Filling {
  std::vector<Slab> insulation;
  std::vector<Slab> air;
};

void fill(const Assessment& assessment, const attic::Space& space, const attic::Column& column,
          Filling& filling) {
  const surface::Plane& plane = assessment.surface.planes[column.plane];
  const double plumb = 1.0 / std::max(1e-3, plane.frame.normal.z);
  const double deck_m = deck_of(assessment, plane.part) * plumb;
  const attic::Rise under_deck = raised(column.roof, -deck_m);
  if (space.kind == attic::SpaceKind::rafter_space) {
    const attic::Rise top = raised(column.floor, -deck_m);
    add_slab(column.plan, top, under_deck, filling.air);
    add_slab(column.plan, raised(top, -space.insulation_m * plumb), top, filling.insulation);
    return;
  }
  // Baffles hold the insulation off the deck.
  const attic::Rise lid = raised(under_deck, space.baffles ? -attic::baffle_m * plumb : 0.0);
  const attic::Rise full = raised(column.floor, space.insulation_m);
  const polygon::Loop thick =
      polygon::clip(column.plan, {lid.gradient - full.gradient, full.base - lid.base});
  const polygon::Loop thin =
      polygon::clip(column.plan, {full.gradient - lid.gradient, lid.base - full.base});
  add_slab(thick, full, under_deck, filling.air);
  add_slab(thin, lid, under_deck, filling.air);
  if (space.insulation_m > 0.0) {
    add_slab(thick, column.floor, full, filling.insulation);
    add_slab(thin, column.floor, lid, filling.insulation);
  }
}

}  // namespace

void add_inside(const Assessment& assessment, Scene& scene) {
  add_decks(assessment, scene);
  const attic::Columns columns(assessment.surface);
  std::vector<Slab> insulation;
  std::vector<std::vector<Slab>> air(assessment.attic.compartments.size());
  for (const attic::Space& space : assessment.attic.spaces) {
    Filling filling;
    for (const attic::Column& column : columns.of(space)) {
      fill(assessment, space, column, filling);
    }
    const auto move_to = [](std::vector<Slab>& from, std::vector<Slab>& to) {
      std::move(from.begin(), from.end(), std::back_inserter(to));
    };
    move_to(filling.insulation, insulation);
    if (assessment.attic.compartments.has(space.compartment)) {
      move_to(filling.air, air[space.compartment.value]);
    }
  }
  Face like;
  like.role = FaceRole::insulation;
  like.layer = Layer::insulation;
  add_all(border(insulation, like), scene);
  for (std::size_t i = 0; i < air.size(); ++i) {
    like.role = FaceRole::air;
    like.layer = Layer::air;
    like.compartment = i;
    add_all(border(air[i], like), scene);
  }
}

void add_slabs(const std::vector<Slab>& slabs, const Face& like, Scene& scene) {
  add_all(border(slabs, like), scene);
}

}  // namespace ridgeward::scene
