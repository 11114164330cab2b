#include "attic/bays.hpp"

#include "attic/floor_shares.hpp"
#include "attic/throats.hpp"
#include "base/regions.hpp"
#include "framing/stage.hpp"
#include "units/length.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::attic {

namespace {

constexpr double least_overlap_m2 = 1e-6;
/// Less of a bay than this at its foot is no way in.
constexpr double least_share = 0.002;
constexpr double same_foot_m = 0.02;
constexpr double near_m = 1e-9;
/// One bay over one floor.
struct Over {
  std::size_t floor = 0;
  double any_m2 = 0.0;   ///< at all, in plan
  double open_m2 = 0.0;  ///< flat ceilings: with the roof above it
  double low_v_m = HUGE_VAL;
  double high_v_m = -HUGE_VAL;
};

/// Up the slope of a plane, from plan coordinates.
struct Upward {
  explicit Upward(const surface::Plane& plane)
      : rise(rise_of(plane)),
        origin{plane.frame.origin.x, plane.frame.origin.y},
        up(glm::dvec2{plane.frame.up.x, plane.frame.up.y}) {
    up /= glm::dot(up, up);
  }
  double v_m(glm::dvec2 plan) const { return glm::dot(plan - origin, up); }
  Rise rise;
  glm::dvec2 origin;
  glm::dvec2 up;
};

/// All that tells where the bays of one plane lie.
struct Place {
  const Plan& plan;
  const surface::Plane& plane;
  Upward upward;
  std::vector<framing::GableEnd> gables;
};

void add_reach(const Place& place, const polygon::Loop& loop, Over& over) {
  for (const glm::dvec2 corner : loop) {
    const double v = place.upward.v_m(corner);
    over.low_v_m = std::min(over.low_v_m, v);
    over.high_v_m = std::max(over.high_v_m, v);
  }
}

Over over_flat(const Place& place, const Pieces& bay, std::size_t floor, const Ceilings& ceilings) {
  Over sum;
  sum.floor = floor;
  for (const Pieces::One& b : bay.all) {
    for (const Ceiled& c : ceilings.under(place.plane.part)) {
      const polygon::Loop common =
          b.box.touches(c.box) ? polygon::overlap(b.corners, c.corners) : polygon::Loop{};
      if (!common.empty()) {
        sum.any_m2 += polygon::area(common);
        const polygon::Loop open = polygon::clip(common, place.upward.rise.above(c.ceiling_m));
        sum.open_m2 += polygon::area(open);
        add_reach(place, open, sum);
      }
    }
  }
  return sum;
}

Over over_other(const Place& place, const Pieces& bay, std::size_t floor) {
  Over sum;
  sum.floor = floor;
  for (const Pieces::One& b : bay.all) {
    for (const Pieces::One& f : place.plan.pieces[floor].all) {
      const polygon::Loop common =
          b.box.touches(f.box) ? polygon::overlap(b.corners, f.corners) : polygon::Loop{};
      if (!common.empty()) {
        sum.any_m2 += polygon::area(common);
        add_reach(place, common, sum);
      }
    }
  }
  sum.open_m2 = sum.any_m2;
  return sum;
}

/// What of a bay stands on no deck of another part, and hangs out over none: through a deck air
/// comes to no ceiling.
polygon::Loops off_decks(const Place& place, const polygon::Loop& bay) {
  polygon::Loops rest{bay};
  const polygon::Box box = polygon::box_of(bay);
  for (const surface::Sheltered& lower : place.plan.surface.sheltered_decks) {
    if (&place.plan.surface.planes[lower.above] == &place.plane &&
        polygon::box_of(lower.plan.front()).touches(box)) {
      rest = regions::without(rest, lower.plan);
    }
  }
  for (const Deck& deck : place.plan.decks) {
    if (deck.part == place.plane.part && deck.pieces.box.touches(box)) {
      rest = regions::without(rest, deck.outline);
    }
  }
  return rest;
}

std::vector<Over> overs(const Place& place, const polygon::Loop& bay_plan) {
  std::vector<Over> all;
  const Pieces whole({bay_plan});
  const Pieces free(off_decks(place, bay_plan));
  for (std::size_t floor = 0; floor < place.plan.floors.size(); ++floor) {
    const std::optional<std::size_t> over_deck_of = place.plan.floors[floor].over_deck_of;
    const Pieces& bay = over_deck_of ? whole : free;
    if (!bay.box.touches(place.plan.pieces[floor].box) ||
        (over_deck_of && *over_deck_of != place.plane.part)) {
      continue;
    }
    const std::optional<Ceilings>& ceilings = place.plan.ceilings[floor];
    const Over over =
        ceilings ? over_flat(place, bay, floor, *ceilings) : over_other(place, bay, floor);
    if (over.any_m2 > least_overlap_m2) {
      all.push_back(over);
    }
  }
  return all;
}

/// What air that comes in at the foot of the bay meets first; null when no floor is open to it.
const Over* first_from_foot(const std::vector<Over>& all) {
  double whole_m2 = 0.0;
  for (const Over& over : all) {
    whole_m2 += over.open_m2;
  }
  const double least_m2 = std::max(least_overlap_m2, least_share * whole_m2);
  double lowest = HUGE_VAL;
  for (const Over& over : all) {
    lowest = over.open_m2 > least_m2 ? std::min(lowest, over.low_v_m) : lowest;
  }
  const Over* first = nullptr;
  for (const Over& over : all) {
    if (over.open_m2 > least_m2 && over.low_v_m <= lowest + same_foot_m &&
        (first == nullptr || over.open_m2 > first->open_m2)) {
      first = &over;
    }
  }
  return first;
}

bool is_beyond_gable_wall(const Place& place, const framing::Bay& bay) {
  const polygon::Box box = polygon::box_of(bay.outline);
  return std::any_of(place.gables.begin(), place.gables.end(), [&](const framing::GableEnd& end) {
    const bool is_beside = end.low_v_m < box.high.y && box.low.y < end.high_v_m;
    const double low = std::min(end.wall_u_m, end.rake_u_m);
    const double high = std::max(end.wall_u_m, end.rake_u_m);
    return is_beside && bay.from_u_m >= low - near_m && bay.to_u_m <= high + near_m;
  });
}

/// What lies under a bay that lies over no ceiling.
Under outside(const Place& place, const framing::Bay& bay, const Pieces& plan) {
  if (polygon::box_of(bay.outline).high.y <= bay.wall.v_m + near_m) {
    return Under::overhang;
  }
  if (is_beyond_gable_wall(place, bay)) {
    return Under::beyond_wall;
  }
  double inside_m2 = 0.0;
  for (const Pieces& walls : place.plan.walls) {
    if (!plan.box.touches(walls.box)) {
      continue;
    }
    for (const Pieces::One& b : plan.all) {
      for (const Pieces::One& w : walls.all) {
        inside_m2 +=
            b.box.touches(w.box) ? polygon::area(polygon::overlap(b.corners, w.corners)) : 0.0;
      }
    }
  }
  return inside_m2 > least_overlap_m2 ? Under::no_ceiling : Under::overhang;
}

double rafter_depth_m(const Place& place, const framing::Bay& bay) {
  for (const MemberId member : {bay.left, bay.right}) {
    if (!member.is_none() && place.plan.framing.members[member].depth_m > 0.0) {
      return place.plan.framing.members[member].depth_m;
    }
  }
  const framing::Stock stock =
      framing::stock_named(place.plan.model.parts[place.plane.part].framing.rafter);
  return stock.depth_m > 0.0 ? stock.depth_m : framing::stock_named("2x8").depth_m;
}

/// The bay over a sloped ceiling.
Space rafter_space(const Place& place, BayId id, const polygon::Loop& bay_plan, const Over& over) {
  const framing::Bay& bay = place.plan.framing.bays[id];
  const Space& floor = place.plan.floors[over.floor].space;
  Space space;
  space.kind = SpaceKind::rafter_space;
  space.id = floor.id + " " + bay.id;
  space.ceiling = floor.ceiling;
  space.plane = bay.plane;
  space.bay = id;
  space.insulation_m = floor.insulation_m;
  space.baffles = floor.baffles;
  const double depth_m = rafter_depth_m(place, bay);
  space.clear_m =
      std::max(depth_m - floor.insulation_m, floor.baffles ? std::min(baffle_m, depth_m) : 0.0);
  space.outline = over.any_m2 > polygon::area(bay_plan) - least_overlap_m2
                      ? polygon::Loops{bay_plan}
                      : regions::common({bay_plan}, floor.outline);
  space.floor_area_m2 = over.any_m2;
  space.volume_m3 = over.any_m2 * place.plane.pitch.slope_factor() * space.clear_m;
  space.bottom_m = place.plane.frame.at({0.0, over.low_v_m}).z;
  space.top_m = place.plane.frame.at({0.0, over.high_v_m}).z;
  return space;
}

std::string words_for(Under under, const std::string& ceiling) {
  switch (under) {
    case Under::overhang:
      return "only over the overhang";
    case Under::beyond_wall:
      return "beyond the gable-end wall";
    case Under::no_ceiling:
      return "no ceiling lies under it";
    case Under::no_height:
      return "the roof does not rise above the ceiling here";
    case Under::open_room:
      return "over the open room " + ceiling + ", which has no vented space";
    case Under::foam:
      return "over the unvented ceiling " + ceiling + ": foam against the deck";
    case Under::stopped:
      return "stopped up at its foot";
    default:
      return {};
  }
}

Under under_kind(model::CeilingKind kind) {
  switch (kind) {
    case model::CeilingKind::open:
      return Under::open_room;
    case model::CeilingKind::unvented:
      return Under::foam;
    default:
      return Under::space;
  }
}

bool is_stopped(const Place& place, const framing::Bay& bay) {
  const auto& all = place.plan.model.parts[place.plane.part].framing.measured;
  return std::any_of(all.begin(), all.end(), [&](const model::MeasuredEdge& edge) {
    return edge.edge >= 0 && static_cast<std::size_t>(edge.edge) == place.plane.edge &&
           std::any_of(edge.stopped_m.begin(), edge.stopped_m.end(), [&](double at_m) {
             const double u_m = place.plane.wall_start_u_m + at_m;
             return u_m > bay.from_u_m && u_m < bay.to_u_m;
           });
  });
}

BayPlace place_of(const Place& place, BayId id, Attic& attic,
                  std::vector<RafterSpace>& rafter_spaces) {
  const framing::Bay& bay = place.plan.framing.bays[id];
  const polygon::Loop plan = plan_of(place.plane, bay.outline);
  const std::vector<Over> all = overs(place, plan);
  BayPlace found;
  const Over* first = first_from_foot(all);
  for (const Over& over : all) {
    const Floor& floor = place.plan.floors[over.floor];
    SpaceId space = place.plan.attics[over.floor];
    if (over.open_m2 <= least_overlap_m2) {
      continue;
    }
    if (floor.kind == model::CeilingKind::sloped) {
      space = attic.spaces.push_back(rafter_space(place, id, plan, over));
      rafter_spaces.push_back({space, id, over.floor, over.low_v_m, over.high_v_m});
    }
    if (!space.is_none()) {
      found.stretches.push_back({space, over.low_v_m, over.high_v_m});
    }
    found.space = &over == first ? space : found.space;
  }
  std::stable_sort(found.stretches.begin(), found.stretches.end(),
                   [](const Stretch& l, const Stretch& r) { return l.low_v_m < r.low_v_m; });
  if (first != nullptr) {
    const Floor& floor = place.plan.floors[first->floor];
    found.under = under_kind(floor.kind);
    found.why = words_for(found.under, floor.space.ceiling);
  } else {
    found.under = all.empty() ? outside(place, bay, Pieces({plan})) : Under::no_height;
    found.why = words_for(found.under, "");
  }
  if (found.under == Under::space && is_stopped(place, bay)) {
    found.space = SpaceId();  // what lies above it stays as it is
    found.under = Under::stopped;
    found.why = words_for(found.under, "");
  }
  return found;
}

}  // namespace

IndexedVector<SpaceId, std::size_t> place_bays(const Plan& plan, Attic& attic) {
  IndexedVector<SpaceId, std::size_t> floor_of;
  floor_of.resize(attic.spaces.size());
  for (std::size_t floor = 0; floor < plan.floors.size(); ++floor) {
    if (!plan.attics[floor].is_none()) {
      floor_of[plan.attics[floor]] = floor;
    }
  }
  attic.bays.reserve(plan.framing.bays.size());
  const bool has_sloped = std::any_of(plan.floors.begin(), plan.floors.end(), [](const Floor& f) {
    return f.kind == model::CeilingKind::sloped;
  });
  for (const PlaneId id : plan.surface.planes.ids()) {
    const surface::Plane& plane = plan.surface.planes[id];
    const Place place{plan, plane, Upward(plane),
                      framing::gable_ends(plan.model, plan.surface, plane)};
    const framing::PlaneFraming& own = plan.framing.planes[id];
    std::vector<RafterSpace> rafter_spaces;
    for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
      attic.bays.push_back(place_of(place, BayId(i), attic, rafter_spaces));
    }
    if (has_sloped) {
      share_floor(plan, id, rafter_spaces, attic);
    }
    for (const RafterSpace& one : rafter_spaces) {
      floor_of.push_back(one.floor);
    }
  }
  return floor_of;
}

}  // namespace ridgeward::attic
