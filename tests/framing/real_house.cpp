// A house as it was drawn rafter by rafter: AC14-FZK-Haus.ifc of Debian's package assimp-testmodels
// (5.2.5, made by KIT/IAI), read by hand. 42 IFCBEAMs named "Sparren", 21 on each side.
//
//  - Walls 12 m by 10 m, outer faces at x 0 and 12, y 0 and 10; the rafters' own zero 2.7 + 0.5 m
//  up.
//  - Each rafter is 0.08 m wide; in its own coordinates it reaches from 0.5 m outside the wall's
//  face
//    to the ridge at 5.0 m, from z -0.28867513 to 3.0715034: 30 degrees, 0.16 m deep, its lower
//    edge through the wall's outer face at z 0.
//  - x of their centres, south side and north side alike: -0.46, -0.30, then 0.40 to 11.60 by 0.70,
//    12.30, 12.46: doubled at the verges, which lie 0.5 m beyond the gable walls.
//  - The roof slabs "Dach-1", "Dach-2" are 0.23094011 m thick, plumb (0.2 m), on the rafters' lower
//    edges.
#include "framing/framed.hpp"
#include "framing/member_laws.hpp"

#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace ridgeward;
using namespace ridgeward::tests;
using framing::Bay;
using framing::Member;
using framing::MemberKind;

namespace {

Approx near(double value) { return Approx(value).margin(2e-6).epsilon(0); }

std::vector<double> centres() {
  std::vector<double> all{-0.46, -0.30};
  for (int i = 0; i <= 16; ++i) {
    all.push_back(0.40 + 0.70 * i);
  }
  all.push_back(12.30);
  all.push_back(12.46);
  return all;
}

model::RoofModel house_model() {
  model::RoofModel model;
  model.unit = units::LengthUnit::m;
  model::Part part;
  part.id = "haus";
  part.outline = {{0, 0}, {12, 0}, {12, 10}, {0, 10}};
  part.plate_m = 3.2;
  part.wall_thickness_m = 0.3;
  part.heel_m = 0.23094011;
  part.deck_m = 0.04;  // what of the slab lies over the rafters
  for (int i = 0; i < 4; ++i) {
    model::Edge edge;
    edge.kind = i % 2 == 0 ? model::EdgeKind::eave : model::EdgeKind::gable;
    edge.pitch = units::Pitch::from_tangent(std::tan(M_PI / 6));
    edge.overhang_m = 0.5;
    part.edges.push_back(edge);
  }
  part.framing.rafter = "80x160 mm";
  // Seen from outside each side's left end is the other one's right end: the list is the same.
  part.framing.measured = {{0, centres()}, {2, centres()}};
  model.parts = {part};
  return model;
}

}  // namespace

TEST_CASE("the measured house has its 42 rafters where they were drawn, and no others") {
  const FramedHouse house = framed_house(house_model());
  check_laws(house.surface, house.framing);
  CHECK(house.count(MemberKind::common) == 42);
  for (const char* plane : {"haus/0", "haus/2"}) {
    const auto rafters = house.of(MemberKind::common, plane);
    REQUIRE(rafters.size() == 21);
    for (std::size_t i = 0; i < rafters.size(); ++i) {
      CHECK(rafters[i]->layout_m == near(centres()[i]));
      CHECK(rafters[i]->thickness_m == near(0.08));
      CHECK(rafters[i]->depth_m == near(0.16));
      // From 0.5 m outside to 5.0 m inside at 30 degrees.
      CHECK(rafters[i]->line_length_m == near(5.5 / std::cos(M_PI / 6)));
      CHECK(rafters[i]->overhang_m == near(0.5));
      // Its lower edge meets the plate at the wall's outer face: nothing to notch.
      CHECK(rafters[i]->heel_cut_m == near(0.0));
      CHECK(rafters[i]->over_plate_m == near(0.0));
      // Top of the rafter at the ridge, before the ridge board is taken off.
      const double top_z =
          rafters[i]->from.z + 5.5 * std::tan(M_PI / 6) - 0.04 / std::cos(M_PI / 6);
      CHECK(top_z == near(3.2 + 3.0715034));
      // Lower edge at the tail.
      CHECK(rafters[i]->from.z - 0.2 / std::cos(M_PI / 6) == near(3.2 - 0.28867513));
    }
  }
  // The verge is as measured: no ladder is added to it.
  CHECK(house.count(MemberKind::lookout) == 0);
  CHECK(house.count(MemberKind::barge_rafter) == 0);
}

TEST_CASE("the measured house's bays: 0.62 m between rafters, 0.08 m within the doubled verge") {
  const FramedHouse house = framed_house(house_model());
  for (const char* plane : {"haus/0", "haus/2"}) {
    const auto bays = house.bays(plane);
    REQUIRE(bays.size() == 20);
    CHECK(bays.front()->clear_width_m == near(0.08));
    CHECK(bays.back()->clear_width_m == near(0.08));
    double sum = 0.0;
    for (std::size_t i = 0; i < bays.size(); ++i) {
      sum += bays[i]->clear_width_m;
      if (i > 0 && i + 1 < bays.size()) {
        CHECK(bays[i]->clear_width_m == near(0.62));
      }
    }
    // 18 bays of 0.62, two of 0.08, 21 rafters of 0.08: the eave of 12 m and two overhangs.
    CHECK(sum + 21 * 0.08 == near(13.0));
  }
}

TEST_CASE("a slot along the measured house opens 10.335 m of 11.695 m") {
  model::RoofModel model = house_model();
  model.intake = {small_roofs::whole_eave("south", "haus/0")};
  model.exhaust = {small_roofs::whole_ridge("top", "haus/0|haus/2")};
  const Worked w = worked(model, small_roofs::catalogue());
  REQUIRE(w.vents.slots.size() == 1);
  const vents::Slot& slot = w.vents.slots[SlotId(0U)];
  // 6 in inside each gable wall, which stand 0.5 m inside the rakes.
  CHECK(slot.start_m == near(0.5 + 0.1524));
  CHECK(slot.end_m == near(0.5 + 12.0 - 0.1524));
  // It crosses the rafters from 0.40 to 11.60: 17 of 0.08 m.
  REQUIRE(slot.crossings.size() == 17);
  for (std::size_t i = 0; i < 17; ++i) {
    const double from_start = 0.40 + 0.70 * static_cast<double>(i) - 0.1524;
    CHECK(slot.crossings[i].at_m == near(from_start));
    CHECK(slot.crossings[i].covered_m == near(0.08));
  }
  // Open: 0.36 - 0.1524 in the first bay and the last, 0.62 in sixteen between.
  REQUIRE(slot.bays.size() == 18);
  double open = 0.0;
  for (std::size_t i = 0; i < 18; ++i) {
    open += slot.bays[i].open_length_m;
    CHECK(slot.bays[i].open_length_m == near(i == 0 || i == 17 ? 0.2076 : 0.62));
  }
  CHECK(open == near(16 * 0.62 + 2 * 0.2076));
}
