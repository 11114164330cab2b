// Laws of slots over random roofs: RIDGEWARD_SEED and RIDGEWARD_CASES choose them.
#include "base/polygon.hpp"

#include "support/plans.hpp"
#include "support/random_parts.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

/// An intake along every plane's eave, a vent along every ridge.
void vent_all(const surface::Surface& surface, model::RoofModel& model) {
  for (const surface::Plane& plane : surface.planes) {
    if (std::any_of(surface.lines.begin(), surface.lines.end(), [&](const surface::Line& line) {
          return line.kind == surface::LineKind::eave && line.id == plane.id + "|eave";
        })) {
      model.intake.push_back(small_roofs::whole_eave(plane.id, plane.id));
    }
  }
  for (const surface::Line& line : surface.lines) {
    if (line.kind == surface::LineKind::ridge) {
      model.exhaust.push_back(small_roofs::whole_ridge(line.id, line.id));
    }
  }
}

void check(const tests::Worked& w) {
  for (const vents::Slot& slot : w.vents.slots) {
    const surface::Plane& plane = w.surface.planes[slot.plane];
    polygon::Loops border;
    for (const surface::Loop& loop : plane.loops) {
      border.push_back(surface::corners_uv(w.surface, plane.frame, loop));
    }
    const double low = slot.lower_v_m();
    const double high = low + slot.width_m;
    for (const double share : {0.0, 0.17, 0.5, 0.81, 1.0}) {
      const double u = slot.start_m + share * (slot.end_m - slot.start_m);
      REQUIRE(polygon::contains(border, {u, low}));
      REQUIRE(polygon::contains(border, {u, high}));
    }
    double covered = 0.0;
    double free_m2 = 0.0;
    for (const vents::SlotBay& part : slot.bays) {
      covered += part.open_length_m;
      free_m2 += part.live ? part.free_area_m2 : 0.0;
      REQUIRE(part.share_m >= part.open_length_m);
      REQUIRE(part.free_area_m2 <= slot.width_m * part.open_length_m * (1 + 1e-12));
    }
    for (const vents::Crossing& crossing : slot.crossings) {
      const framing::Member& member = w.framing.members[crossing.member];
      const double half = 0.5 * member.thickness_m;
      covered +=
          std::min(slot.end_m, member.at_m + half) - std::max(slot.start_m, member.at_m - half);
    }
    REQUIRE(covered == Approx(slot.end_m - slot.start_m).margin(1e-7));
    REQUIRE(free_m2 == Approx(slot.free_area_m2).margin(1e-12));
  }
  double intake = 0.0;
  for (const vents::Slot& slot : w.vents.slots) {
    intake += slot.free_area_m2;
  }
  double totals = 0.0;
  for (const vents::CompartmentTotals& total : w.vents.totals) {
    totals += total.intake_m2;
  }
  REQUIRE(totals == Approx(intake).margin(1e-12));
}

}  // namespace

TEST_CASE("law: open lengths and rafters crossed sum to the slot, and all of it is on the plane") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = cases_or(200);
  std::size_t slots = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    const bool is_rectilinear = i % 3 != 0;
    const Loops loops = is_rectilinear
                            ? random_rectilinear(rng, 3 + static_cast<int>(rng() % 7), 7, inch, 180)
                            : Loops{random_polygon(rng, 4 + rng() % 8, 18.0)};
    model::RoofModel model =
        random_house(rng, loops, {i % 2 == 0 ? 0.2 : 0.0, {4.0, 6.0, 8.0}, i % 4 == 0 ? 0.0 : 0.3});
    const Result<surface::Surface> raised = surface::raise(model);
    if (!raised) {
      continue;
    }
    vent_all(raised.value(), model);
    const tests::Worked w = tests::vented(model, small_roofs::catalogue());
    slots += w.vents.slots.size();
    check(w);
  }
  CHECK(slots > cases);
}

namespace {

/// A gable of 24 in bays with two ceilings side by side, west and east of one of its rafters, each
/// with its own kind, insulation and baffles, and slots and a ridge vent over all.
struct Sides {
  double half_m = 0.0;    ///< of the length
  double border_m = 0.0;  ///< from the west end
  model::Ceiling west;
  model::Ceiling east;
};

model::RoofModel two_ceilings(const Sides& sides, const model::Part& part) {
  model::RoofModel model;
  model.parts = {part};
  const double width = part.outline[2].y;
  const auto over = [&](model::Ceiling one, const char* id, double from, double to) {
    one.id = id;
    one.height_m = part.plate_m;
    one.outline = {{from, 0}, {to, 0}, {to, width}, {from, width}};
    model.ceilings.push_back(one);
  };
  over(sides.west, "west", 0.0, sides.border_m);
  over(sides.east, "east", sides.border_m, 2 * sides.half_m);
  model.dividers = {{"wall", {sides.border_m, 0}, {sides.border_m, width}}};
  model.intake = {small_roofs::whole_eave("front", "main/0"),
                  small_roofs::whole_eave("back", "main/2")};
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  return model;
}

model::Ceiling random_ceiling(std::mt19937_64& rng) {
  model::Ceiling one;
  one.kind = rng() % 3 == 0 ? model::CeilingKind::sloped : model::CeilingKind::flat;
  one.insulation_m = static_cast<double>(rng() % 65) * 0.25 * inch;
  one.baffles = rng() % 4 == 0;
  return one;
}

void check_mirrored(const vents::Slot& one, const vents::Slot& other) {
  REQUIRE(one.bays.size() == other.bays.size());
  REQUIRE(one.free_area_m2 == Approx(other.free_area_m2).margin(1e-9));
  REQUIRE(one.block == other.block);
  REQUIRE(one.space_over_insulation_m.has_value() == other.space_over_insulation_m.has_value());
  for (std::size_t i = 0; i < one.bays.size(); ++i) {
    const vents::SlotBay& left = one.bays[i];
    const vents::SlotBay& right = other.bays[one.bays.size() - 1 - i];
    REQUIRE(left.live == right.live);
    REQUIRE(left.block == right.block);
    REQUIRE(left.free_area_m2 == Approx(right.free_area_m2).margin(1e-9));
    REQUIRE(left.least_open_m().value_or(-1) ==
            Approx(right.least_open_m().value_or(-1)).margin(1e-9));
  }
}

}  // namespace

TEST_CASE("law: the house in a mirror has the same slots, bay by bay") {
  std::mt19937_64 rng(tests::seed() + 2);
  const std::size_t cases = cases_or(60);
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    const std::size_t bays = 4 + rng() % 12;
    const double length_ft = 2.0 * static_cast<double>(bays);
    const model::Edge side = support::eave(4.0 + static_cast<double>(rng() % 6),
                                           static_cast<double>(rng() % 4) * 0.5 * ft);
    const model::Edge end = support::gable(static_cast<double>(rng() % 2) * 0.5 * ft);
    model::Part part =
        support::house({{0, 0}, {length_ft, 0}, {length_ft, 24}, {0, 24}}, {side, end, side, end})
            .parts[0];
    part.heel_m = static_cast<double>(rng() % 16) * inch;
    part.framing.spacing_m = 2 * ft;
    Sides sides{0.5 * length_ft * ft, 2.0 * static_cast<double>(1 + rng() % (bays - 1)) * ft,
                random_ceiling(rng), random_ceiling(rng)};
    const tests::Worked one = tests::vented(two_ceilings(sides, part), small_roofs::catalogue());
    std::swap(sides.west, sides.east);
    sides.border_m = 2 * sides.half_m - sides.border_m;
    const tests::Worked other = tests::vented(two_ceilings(sides, part), small_roofs::catalogue());
    REQUIRE(one.vents.slots.size() == other.vents.slots.size());
    for (const SlotId id : one.vents.slots.ids()) {
      check_mirrored(one.vents.slots[id], other.vents.slots[id]);
    }
  }
}

TEST_CASE("law: the same under trusses, and on decks that parts are laid over") {
  std::mt19937_64 rng(tests::seed() + 1);
  const std::size_t cases = cases_or(120);
  std::size_t under_trusses = 0;
  std::size_t over_decks = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    model::RoofModel model = random_parts(rng, {i % 3 == 0 ? 45.0 : 90.0, 0.0, 4, 0.4, 0.4});
    for (model::Part& part : model.parts) {
      part.framing.kind = rng() % 2 == 0 ? model::FramingKind::truss : model::FramingKind::rafter;
    }
    const Result<surface::Surface> raised = surface::raise(model);
    if (!raised) {
      continue;
    }
    vent_all(raised.value(), model);
    const tests::Worked w = tests::worked(model, small_roofs::catalogue());
    check(w);
    for (const vents::Slot& slot : w.vents.slots) {
      const std::size_t part = w.surface.planes[slot.plane].part;
      under_trusses += model.parts[part].framing.kind == model::FramingKind::truss ? 1 : 0;
      over_decks +=
          std::any_of(w.surface.blind_decks.begin(), w.surface.blind_decks.end(),
                      [&](const surface::BlindDeck& deck) { return deck.plane == slot.plane; })
              ? 1
              : 0;
    }
  }
  CHECK(under_trusses > cases / 4);
  CHECK(over_decks > cases / 10);
}
