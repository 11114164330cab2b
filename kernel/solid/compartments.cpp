// The air spaces between ceilings and roof, and between insulation and deck.
#include "attic/decks.hpp"
#include "base/regions.hpp"
#include "solid/blocks.hpp"
#include "solid/bodies.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace ridgeward::solid {

namespace {

/// Less than a square millimetre is two things that touch.
constexpr double least_m2 = 1e-6;

/// A ceiling over a region of the plan.
struct Ceiling {
  polygon::Loops plan;
  Slope height;
};

/// An attic's outline cut up by ceilings as they hold under planes of `part`: that of the part
/// itself first, then the others in their order, each where none before it lies.
std::vector<Ceiling> ceilings_under(const attic::Space& space, std::size_t part) {
  std::vector<const attic::Level*> order;
  for (const attic::Level& level : space.levels) {
    order.insert(level.part == part ? order.begin() : order.end(), &level);
  }
  std::vector<Ceiling> all;
  polygon::Loops rest = space.outline;
  for (const attic::Level* level : order) {
    all.push_back({regions::common(rest, level->outline), level_at(level->height_m)});
    rest = regions::without(rest, level->outline);
  }
  all.push_back({std::move(rest), level_at(space.bottom_m)});
  return all;
}

Slope slope_of(const attic::Rise& rise) { return {rise.gradient, rise.base}; }

double size(const polygon::Loops& loops) { return std::abs(polygon::area(loops)); }

/// The part of a region over which `roof` lies above `floor`.
polygon::Loops where_above(const polygon::Loops& region, const Slope& roof, const Slope& floor) {
  const Slope gap{roof.gradient - floor.gradient, roof.base - floor.base};
  polygon::Box box;
  bool is_any_above = false;
  bool is_any_below = false;
  for (const polygon::Loop& loop : region) {
    for (const glm::dvec2 corner : loop) {
      box.add(corner);
      is_any_above = is_any_above || gap.at(corner) > polygon::tolerance;
      is_any_below = is_any_below || gap.at(corner) < -polygon::tolerance;
    }
  }
  if (!is_any_below || !is_any_above) {
    return is_any_above ? region : polygon::Loops{};
  }
  const polygon::Loop whole{box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}};
  return regions::common(region, {polygon::clip(whole, {gap.gradient, -gap.base})});
}

class Blocks {
 public:
  Blocks(const surface::Surface& surface, const std::vector<attic::Deck>& decks)
      : surface_(surface), decks_(decks) {}

  std::vector<Block> of(const attic::Space& space) {
    blocks_.clear();
    faces_.clear();
    if (space.kind == attic::SpaceKind::rafter_space) {
      add_rafter_space(space);
    } else if (space.is_over_deck) {
      add_over_decks(space);
    } else {
      add_over_ceilings(space);
    }
    return std::move(blocks_);
  }

 private:
  void add(polygon::Loops region, const Slope& floor, const Slope& roof, std::uint32_t roof_face) {
    region = where_above(region, roof, floor);
    if (region.empty() || size(region) < least_m2) {
      return;
    }
    const auto face = faces_
                          .emplace(std::array{floor.gradient.x, floor.gradient.y, floor.base},
                                   static_cast<std::uint32_t>(faces_.size()))
                          .first->second;
    blocks_.push_back({std::move(region), floor, roof, face, roof_face});
  }

  void add_over_ceilings(const attic::Space& space) {
    std::map<std::size_t, std::vector<Ceiling>> by_part;
    for (const attic::RoofPiece& roof : attic::roof_over_ceilings(surface_, decks_)) {
      const auto [ceilings, is_new] = by_part.try_emplace(roof.part);
      if (is_new) {
        ceilings->second = ceilings_under(space, roof.part);
      }
      for (const Ceiling& ceiling : ceilings->second) {
        if (!ceiling.plan.empty()) {
          add(regions::common(roof.plan, ceiling.plan), ceiling.height, slope_of(roof.rise),
              roof.plane.value);
        }
      }
    }
  }

  void add_over_decks(const attic::Space& space) {
    for (const attic::RoofPiece& roof :
         attic::roof_of_part(surface_, decks_, space.overlaid_part)) {
      for (const attic::Deck& deck : decks_) {
        if (deck.part == space.overlaid_part) {
          add(regions::common(regions::common(roof.plan, deck.outline), space.outline),
              slope_of(deck.rise), slope_of(roof.rise), roof.plane.value);
        }
      }
    }
  }

  void add_rafter_space(const attic::Space& space) {
    const surface::Plane& plane = surface_.planes[space.plane];
    const Slope roof = solid::slope_of(plane);
    add(space.outline, {roof.gradient, roof.base - space.clear_m / plane.frame.normal.z}, roof,
        space.plane.value);
  }

  const surface::Surface& surface_;
  const std::vector<attic::Deck>& decks_;
  std::vector<Block> blocks_;
  std::map<std::array<double, 3>, std::uint32_t> faces_;
};

}  // namespace

Result<Bodies> compartment_bodies(const surface::Surface& surface, const attic::Attic& attic) {
  Bodies bodies;
  Faults faults;
  const std::vector<attic::Deck> decks = attic::decks_of(surface);
  const std::vector<attic::Deck> no_decks;
  Blocks maker(surface, decks);
  Blocks plain(surface, no_decks);
  for (const attic::Space& space : attic.spaces) {
    if (space.volume_m3 <= 0.0) {
      continue;
    }
    const std::vector<Block> blocks = maker.of(space);
    if (blocks.empty()) {
      continue;
    }
    Result<Shape> shape = built(stacked(blocks), "the space " + space.id);
    if (!shape && !decks.empty()) {
      // Corners of decks and planes may differ by the snapping of their arrangements.
      bodies.notes.push_back("The space " + space.id +
                             " is drawn up to the visible roof, blind decks left out.");
      const std::vector<Block> simpler = plain.of(space);
      if (simpler.empty()) {
        continue;  // it lies between deck and roof only
      }
      shape = built(stacked(simpler), "the space " + space.id);
    }
    if (shape) {
      bodies.all.push_back({"attic/" + space.id, std::move(shape).value()});
    } else {
      faults.insert(faults.end(), shape.faults().begin(), shape.faults().end());
    }
  }
  if (!faults.empty()) {
    return faults;
  }
  return bodies;
}

}  // namespace ridgeward::solid
