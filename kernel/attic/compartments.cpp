#include "attic/joins.hpp"

#include <algorithm>
#include <iterator>
#include <numeric>

namespace ridgeward::attic {

namespace {

/// Which spaces hang together by open joins; overhangs join nothing.
class Connected {
 public:
  explicit Connected(const Attic& attic) : root_(attic.spaces.size()) {
    std::iota(root_.begin(), root_.end(), std::size_t{0});
    for (const Join& join : attic.joins) {
      if (join.is_open && join.kind != JoinKind::over_plate) {
        const std::size_t a = root(join.one.value);
        const std::size_t b = root(join.other.value);
        root_[std::max(a, b)] = std::min(a, b);
      }
    }
  }
  std::size_t root(std::size_t space) {
    while (root_[space] != space) {
      root_[space] = root_[root_[space]];
      space = root_[space];
    }
    return space;
  }

 private:
  std::vector<std::size_t> root_;
};

/// Attics by name; rafter spaces alone by the first.
std::string name_of(const Attic& attic, const Compartment& compartment) {
  std::string attics;
  std::string first;
  std::size_t others = 0;
  const bool has_ceiling =
      std::any_of(compartment.spaces.begin(), compartment.spaces.end(), [&](SpaceId id) {
        return attic.spaces[id].kind == SpaceKind::attic && !attic.spaces[id].is_over_deck;
      });
  for (const SpaceId id : compartment.spaces) {
    const Space& space = attic.spaces[id];
    if (space.kind == SpaceKind::attic && (!space.is_over_deck || !has_ceiling)) {
      attics += (attics.empty() ? "" : "+") + space.id;
    } else if (space.kind == SpaceKind::rafter_space) {
      others += first.empty() ? 0 : 1;
      first = first.empty() ? space.id : first;
    }
  }
  if (!attics.empty()) {
    return attics;
  }
  return others == 0 ? first : first + " and " + std::to_string(others) + " more";
}

void add_space(const Space& space, Compartment& whole) {
  whole.outline.insert(whole.outline.end(), space.outline.begin(), space.outline.end());
  whole.floor_area_m2 += space.floor_area_m2;
  whole.volume_m3 += space.volume_m3;
  if (space.kind == SpaceKind::attic && space.levels.empty()) {
    whole.levels.push_back({Level::any_part, space.outline, space.bottom_m});
  }
  whole.levels.insert(whole.levels.end(), space.levels.begin(), space.levels.end());
  whole.is_rafter_space = whole.is_rafter_space && space.kind != SpaceKind::attic;
}

Compartment compartment_of(const Attic& attic, std::vector<SpaceId> spaces) {
  Compartment whole;
  const Space& first = attic.spaces[spaces.front()];
  whole.is_rafter_space = true;
  whole.insulation_m = first.insulation_m;
  whole.baffles = first.baffles;
  whole.top_m = first.top_m;
  whole.bottom_m = first.bottom_m;
  for (const SpaceId id : spaces) {
    const Space& space = attic.spaces[id];
    add_space(space, whole);
    if (space.kind != SpaceKind::gap) {
      whole.top_m = std::max(whole.top_m, space.top_m);
      whole.bottom_m = std::min(whole.bottom_m, space.bottom_m);
    }
  }
  if (spaces.size() == 1) {
    whole.levels = first.levels;
  }
  whole.spaces = std::move(spaces);
  whole.id = name_of(attic, whole);
  return whole;
}

}  // namespace

void make_compartments(Attic& attic) {
  Connected connected(attic);
  std::vector<std::vector<SpaceId>> members(attic.spaces.size());
  for (const SpaceId id : attic.spaces.ids()) {
    if (attic.spaces[id].kind != SpaceKind::overhang) {
      members[connected.root(id.value)].push_back(id);
    }
  }
  for (std::vector<SpaceId>& spaces : members) {
    if (spaces.empty() || attic.spaces[spaces.front()].kind == SpaceKind::gap) {
      continue;
    }
    const CompartmentId id = attic.compartments.push_back(compartment_of(attic, spaces));
    for (const SpaceId space : spaces) {
      attic.spaces[space].compartment = id;
    }
  }
  for (BayPlace& place : attic.bays) {
    if (!place.space.is_none()) {
      place.compartment = attic.spaces[place.space].compartment;
      place.why = "open to " + attic.compartments[place.compartment].id;
    }
  }
}

}  // namespace ridgeward::attic
