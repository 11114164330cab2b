#include "attic/attic.hpp"

#include "base/polygon.hpp"

#include <algorithm>
#include <array>

namespace ridgeward::attic {

namespace {

double ceiling_of(const std::vector<Level>& levels, double otherwise_m, glm::dvec2 plan,
                  std::size_t part) {
  const Level* first = nullptr;
  for (const Level& level : levels) {
    if ((first == nullptr || level.part == part) && polygon::contains(level.outline, plan)) {
      first = &level;
    }
  }
  return first == nullptr ? otherwise_m : first->height_m;
}

}  // namespace

const char* word(SpaceKind kind) {
  constexpr std::array<const char*, 4> words{"attic", "rafter_space", "overhang", "gap"};
  return words.at(static_cast<std::size_t>(kind));
}

const char* word(JoinKind kind) {
  constexpr std::array<const char*, 8> words{"over_plate",  "bay_end",  "goes_on", "side_by_side",
                                             "pitch_break", "line_gap", "header",  "deck_opening"};
  return words.at(static_cast<std::size_t>(kind));
}

double Space::ceiling_at(glm::dvec2 plan, std::size_t part) const {
  return ceiling_of(levels, bottom_m, plan, part);
}

double Compartment::ceiling_at(glm::dvec2 plan, std::size_t part) const {
  return ceiling_of(levels, bottom_m, plan, part);
}

SpaceId Attic::attic_under(glm::dvec2 plan) const {
  SpaceId found;
  for (const SpaceId id : spaces.ids()) {
    const Space& space = spaces[id];
    if (space.kind == SpaceKind::attic && (found.is_none() || space.is_over_deck) &&
        polygon::contains(space.outline, plan)) {
      found = id;
      if (space.is_over_deck) {
        break;
      }
    }
  }
  return found;
}

CompartmentId Attic::under(glm::dvec2 plan) const {
  const SpaceId space = attic_under(plan);
  return space.is_none() ? CompartmentId() : spaces[space].compartment;
}

SpaceId Attic::space_at(BayId bay, double v_m) const {
  SpaceId found;
  for (const Stretch& stretch : bays[bay].stretches) {
    if (stretch.low_v_m <= v_m && v_m <= stretch.high_v_m) {
      found = stretch.space;
    }
  }
  return found;
}

const Sealed* Attic::sealed_under(glm::dvec2 plan) const {
  const auto found = std::find_if(sealed.begin(), sealed.end(), [&](const Sealed& one) {
    return polygon::contains(one.outline, plan);
  });
  return found == sealed.end() ? nullptr : &*found;
}

}  // namespace ridgeward::attic
