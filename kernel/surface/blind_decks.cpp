#include "surface/blind_decks.hpp"

#include "base/polygon.hpp"
#include "base/regions.hpp"
#include "surface/assemble.hpp"
#include "surface/unite.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace ridgeward::surface {

namespace {

// Corners of the two surfaces may differ by the snapping of their arrangements.
constexpr double least_width_m = 1e-5;
constexpr double least_m2 = 1e-6;
constexpr double same_normal = 1e-7;
constexpr double same_plane_m = 1e-5;

polygon::Box box_of(const Mesh& mesh) {
  polygon::Box box;
  for (const glm::dvec3& node : mesh.nodes) {
    box.add(glm::dvec2(node));
  }
  return box;
}

polygon::Box box_of(const polygon::Loops& loops) {
  polygon::Box box;
  for (const polygon::Loop& loop : loops) {
    for (const glm::dvec2 p : loop) {
      box.add(p);
    }
  }
  return box;
}

/// Pieces of some width: their area over half their border.
polygon::Loops without_slivers(polygon::Loops loops) {
  std::erase_if(loops, [](const polygon::Loop& loop) {
    double border = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      border += glm::length(loop[(i + 1) % loop.size()] - loop[i]);
    }
    const double area = std::abs(polygon::area(loop));
    return area < least_m2 || area < least_width_m * border / 2;
  });
  return loops;
}

/// The plane of the finished roof in which this one of an earlier stage goes on.
PlaneId same_plane(const Surface& surface, const Plane& plane) {
  PlaneId found;
  for (const PlaneId id : surface.planes.ids()) {
    const Plane& other = surface.planes[id];
    if (glm::length(other.frame.normal - plane.frame.normal) > same_normal ||
        std::abs(glm::dot(plane.frame.origin - other.frame.origin, plane.frame.normal)) >
            same_plane_m) {
      continue;
    }
    if (other.part == plane.part && other.edge == plane.edge) {
      return id;
    }
    found = found.is_none() ? id : found;
  }
  return found;
}

class Layer {
 public:
  Layer(const model::RoofModel& model, const std::vector<Drip>& drips,
        const std::vector<Mesh>& meshes, Surface& surface)
      : model_(model), drips_(drips), meshes_(meshes), surface_(surface) {
    for (const Mesh& mesh : meshes) {
      boxes_.push_back(box_of(mesh));
    }
  }

  void lay(std::size_t part);

 private:
  /// The earlier parts that may reach under this one.
  std::vector<std::size_t> beneath(std::size_t part) const;
  Surface built(const std::vector<std::size_t>& parts) const;
  /// Plan of the part where it shows over what stood before, but for the floor of its own rooms
  /// outside the earlier walls: no rafter tails are left in there.
  polygon::Loops cover(std::size_t part, const std::vector<std::size_t>& earlier) const;

  const model::RoofModel& model_;
  const std::vector<Drip>& drips_;
  const std::vector<Mesh>& meshes_;
  Surface& surface_;
  std::vector<polygon::Box> boxes_;
};

std::vector<std::size_t> Layer::beneath(std::size_t part) const {
  std::vector<std::size_t> earlier;
  for (std::size_t i = 0; i < part; ++i) {
    if (boxes_[i].touches(boxes_[part])) {
      earlier.push_back(i);
    }
  }
  return earlier;
}

Surface Layer::built(const std::vector<std::size_t>& parts) const {
  if (parts.size() == 1) {
    return assemble(model_, drips_, meshes_[parts.front()]);
  }
  std::vector<Mesh> some;
  some.reserve(parts.size());
  for (const std::size_t part : parts) {
    some.push_back(meshes_[part]);
  }
  return assemble(model_, drips_, unite(some));
}

polygon::Loops Layer::cover(std::size_t part, const std::vector<std::size_t>& earlier) const {
  std::vector<std::size_t> with = earlier;
  with.push_back(part);
  const Surface after = built(with);
  std::vector<polygon::Loops> seen;
  for (const Plane& plane : after.planes) {
    if (plane.part == part) {
      seen.push_back(plan_of(after, plane));
    }
  }
  std::vector<polygon::Loops> walls;
  walls.reserve(earlier.size());
  for (const std::size_t one : earlier) {
    walls.push_back(surface_.wall_outlines[one]);
  }
  const polygon::Loops rooms =
      regions::without(surface_.wall_outlines[part], regions::united(walls));
  return regions::without(regions::united(seen), rooms);
}

void Layer::lay(std::size_t part) {
  const std::vector<std::size_t> earlier = beneath(part);
  if (earlier.empty()) {
    return;
  }
  const Surface before = built(earlier);
  const polygon::Loops over = cover(part, earlier);
  const polygon::Box over_box = box_of(over);
  for (const Plane& plane : before.planes) {
    const polygon::Loops plan = plan_of(before, plane);
    if (!box_of(plan).touches(over_box)) {
      continue;
    }
    const polygon::Loops hidden = without_slivers(regions::common(plan, over));
    if (hidden.empty()) {
      continue;
    }
    BlindDeck deck;
    deck.plane = same_plane(surface_, plane);
    deck.part = part;
    deck.frame = deck.plane.is_none() ? plane.frame : surface_.planes[deck.plane].frame;
    deck.outline_uv = on_plane(deck.frame, hidden);
    deck.area_m2 = polygon::area(deck.outline_uv);
    surface_.blind_decks.push_back(std::move(deck));
  }
}

/// Cuts an opening of the part into each deck beneath it; how much of it lies over one.
double cut_opening(Surface& surface, std::size_t part, const polygon::Loop& opening) {
  double cut_m2 = 0.0;
  for (BlindDeck& deck : surface.blind_decks) {
    if (deck.part != part || !deck.cricket.empty()) {
      continue;
    }
    const polygon::Loops cut =
        without_slivers(regions::common(on_plane(deck.frame, {opening}), deck.outline_uv));
    cut_m2 += polygon::area(cut);
    deck.openings_uv.insert(deck.openings_uv.end(), cut.begin(), cut.end());
  }
  return cut_m2;
}

}  // namespace

Faults lay_out_blind_decks(const model::RoofModel& model, const std::vector<Drip>& drips,
                           const std::vector<Mesh>& meshes, Surface& surface) {
  Faults faults;
  Layer layer(model, drips, meshes, surface);
  for (std::size_t part = 1; part < model.parts.size(); ++part) {
    if (model.parts[part].valleys != model::Valleys::overlaid) {
      continue;
    }
    layer.lay(part);
    const std::vector<polygon::Loop>& openings = model.parts[part].deck_openings;
    for (std::size_t i = 0; i < openings.size(); ++i) {
      if (cut_opening(surface, part, openings[i]) <= least_m2) {
        faults.push_back({"deck_opening.off_deck",
                          fmt::format("/parts/{}/deck_openings/{}", part, i),
                          fmt::format("no deck lies under part {} here", model.parts[part].id),
                          "draw it in plan over the earlier roof, within the walls of this part"});
      }
    }
  }
  const auto is_under_part = [](const BlindDeck& deck) { return deck.cricket.empty(); };
  if (std::any_of(surface.blind_decks.begin(), surface.blind_decks.end(), is_under_part)) {
    surface.assumptions.emplace_back(
        "Beneath an overlaid part the earlier roof goes on, deck and rafters; its rafter tails are "
        "cut off inside the later part's own rooms.");
  }
  return faults;
}

}  // namespace ridgeward::surface
