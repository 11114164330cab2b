// Cuts of members worked by hand, and the members at rakes, plates and ridges.
#include "framing/framed.hpp"

#include "support/plans.hpp"
#include "support/small_roofs.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <cmath>

using namespace ridgeward;
using namespace small_roofs;
using namespace ridgeward::tests;
using framing::AtPlate;
using framing::Bay;
using framing::Member;
using framing::MemberKind;

namespace {

Approx near(double value) { return Approx(value).epsilon(1e-9).margin(1e-9); }

/// Length per run at a rise in 12.
double slope(double rise) { return std::hypot(12.0, rise) / 12.0; }

model::RoofModel gable_model(double length, double width, double rise, double eave = 0.0,
                             double rake = 0.0) {
  return gable(length, width, rise, eave, rake).model;
}

}  // namespace

TEST_CASE("tail, overhang and place on the layout") {
  const FramedHouse house = framed_house(gable_model(40, 28, 8, 1.5, 1.0));
  const Member& rafter = *house.of(MemberKind::common, "main/0")[5];
  CHECK(rafter.overhang_m == near(18 * in));
  CHECK(rafter.tail_m == near(18 * in * slope(8)));  // 14.42 in a foot of run: 21.63 in
  // The fifth mark of 24 in after the end rafter, hooked at the left end of the wall.
  CHECK(rafter.layout_m == near(120 * in));
  CHECK(rafter.at_m == near(132 * in));
  CHECK(house.of(MemberKind::common, "main/0")[0]->layout_m == near(0.75 * in));
}

TEST_CASE("a quarter of a 2x12 taken as birdsmouth gives the seats that a trade paper prints") {
  // Journal of Light Construction, Q&A on sizing the birdsmouth (after IRC R802.7.1, 2006): a 2x12
  // may be notched 11 1/4 / 4 = 2 13/16 in; the seat is then 8 7/8 in at 4/12 and 4 in at 12/12.
  for (const auto& [rise, seat_in] : {std::pair{4.0, 8.875}, std::pair{12.0, 4.0}}) {
    model::RoofModel model = gable_model(40, 24, rise, 1.0);
    const double cosine = 1.0 / slope(rise);
    model.parts[0].framing.rafter = "2x12";
    model.parts[0].wall_thickness_m = 12 * in;
    // Plumb over the plate: what of 11 1/4 in is left over the notch, and the deck.
    model.parts[0].heel_m = (11.25 - 2.8125 + 0.5) * in / cosine;
    const FramedHouse house = framed_house(model);
    const Member& rafter = *house.of(MemberKind::common, "main/0")[3];
    CHECK(rafter.seat_cut_m / in == Approx(seat_in).margin(1.0 / 32));
    CHECK(rafter.heel_cut_m * cosine == near(2.8125 * in));
    CHECK(rafter.heel_cut_m == near(rafter.seat_cut_m * rise / 12));
    CHECK(rafter.over_plate_m == 0.0);
    CHECK_FALSE(house.assumes("birdsmouth"));
  }
}

TEST_CASE("a seat is no wider than the wall, a deep one is told, a raised heel has none") {
  model::RoofModel model = gable_model(40, 24, 4, 1.0);
  model.parts[0].wall_thickness_m = 5.5 * in;
  model.parts[0].heel_m = 4 * in;
  const FramedHouse deep = framed_house(model);
  const Member& notched = *deep.of(MemberKind::common, "main/0")[3];
  // 7 1/4 + 1/2 in plumb is 8.1692 in at 4/12; 4.1692 in of it lie below the plate.
  CHECK(notched.heel_cut_m / in == Approx(4.1692).margin(5e-5));
  CHECK(notched.seat_cut_m == near(5.5 * in));
  CHECK(deep.assumes("more than a quarter"));
  model.parts[0].heel_m = 12 * in;
  const FramedHouse raised = framed_house(model);
  const Member& over = *raised.of(MemberKind::common, "main/0")[3];
  CHECK(over.heel_cut_m == 0.0);
  CHECK(over.over_plate_m / in == Approx(12 - 8.1692).margin(5e-5));
  model.parts[0].heel_m = 0.0;
  CHECK(framed_house(model).assumes("no higher than the plate"));
}

TEST_CASE("long and short points of a jack are half a cheek apart from its centre") {
  const FramedHouse house = framed_house(hip(40, 24, 8).model);
  const Member& jack = *house.of(MemberKind::hip_jack, "main/1")[2];
  // Square corner at 8/12: 12 on the tongue, 14.42 on the blade; over 1 1/2 in that is 1.8028 in.
  CHECK((jack.long_point_m - jack.short_point_m) / in == Approx(1.8028).margin(5e-5));
  CHECK(jack.long_point_m + jack.short_point_m == near(2 * jack.length_m));
  const Member& common = *house.of(MemberKind::common, "main/0")[2];
  CHECK(common.long_point_m == near(common.length_m));
}

TEST_CASE("a hip passes over the corner of the walls") {
  const FramedHouse house = framed_house(hip(40, 24, 8, 1.5).model);
  const Member& corner = *house.of(MemberKind::hip, "")[0];
  CHECK(corner.tail_m / in == Approx(1.5 * 18.7617).margin(5e-4));  // hip per foot of run, T1-8-hip
  CHECK(corner.overhang_m == near(18 * in * std::sqrt(2.0)));
}

TEST_CASE("a hip's seat lies as deep as that of the jacks beside it") {
  model::RoofModel model = hip(40, 24, 8, 1.5).model;
  model.parts[0].heel_m = 7 * in;
  model.parts[0].framing.hip = "2x8";
  const FramedHouse house = framed_house(model);
  const Member& corner = *house.of(MemberKind::hip, "")[0];
  const Member& jack = *house.of(MemberKind::hip_jack, "main/1")[3];
  REQUIRE(jack.heel_cut_m > 0.0);
  // Both have the same wood over the plate; the flatter hip has less below it.
  CHECK(7.25 * in * slope(8) - jack.heel_cut_m ==
        near(7.25 * in * std::sqrt(352.0) / std::sqrt(288.0) - corner.heel_cut_m));
  CHECK(corner.seat_cut_m == near(corner.heel_cut_m * std::sqrt(288.0) / 8));
}

TEST_CASE("hips between unequal slopes: alike all four, the deeper cut of both planes") {
  // 8/12 sides, 14/12 ends. The hip rises at atan((14/12) / sqrt(1 + (14/8)^2)) = 30.0635 degrees:
  // a 2x10 is 9 1/4 / cos = 10.687 in deep, plumb. The deck of 1/2 in is 0.5 sqrt(1 + (14/12)^2) =
  // 0.7683 in plumb on the steeper side, 0.6009 on the other: 10.687 - (6 - 0.7683) = 5.456 in.
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 24}, {0, 24}},
                     {support::eave(8, 1.5 * ft), support::eave(14, 1.5 * ft),
                      support::eave(8, 1.5 * ft), support::eave(14, 1.5 * ft)});
  model.parts[0].heel_m = 6 * in;
  model.parts[0].framing.spacing_m = 16 * in;
  model.parts[0].framing.hip = "2x10";
  const FramedHouse house = framed_house(model);
  const std::vector<const Member*> hips = house.of(MemberKind::hip, "");
  REQUIRE(hips.size() == 4);
  for (const Member* hip : hips) {
    CHECK(hip->heel_cut_m / in == Approx(5.456).margin(5e-4));
  }
  // A jack over the very corner of the walls is cut off beside the hip before it reaches the plate.
  for (const char* id : {"main/0/r1", "main/0/r31"}) {
    const Member& jack = house.member(id);
    CAPTURE(id);
    CHECK(jack.kind == MemberKind::hip_jack);
    CHECK((jack.layout_m == Approx(0.0).margin(1e-9) || jack.layout_m == near(40 * ft)));
    CHECK(jack.tail_m == 0.0);
    CHECK(jack.heel_cut_m == 0.0);
  }
}

TEST_CASE("a rake of a foot stands on a ladder and a barge rafter") {
  const FramedHouse house = framed_house(gable_model(40, 28, 8, 1.5, 1.0));
  const auto barges = house.of(MemberKind::barge_rafter, "main/0");
  REQUIRE(barges.size() == 2);
  const double rake = 15.5 * ft * slope(8);
  for (const Member* barge : barges) {
    CHECK(barge->line_length_m == near(rake));
    CHECK(barge->length_m == near(rake - 0.75 * in * slope(8)));  // half the ridge
  }
  CHECK(std::min(barges[0]->layout_m, barges[1]->layout_m) == near(-11.25 * in));
  CHECK(std::max(barges[0]->layout_m, barges[1]->layout_m) == near(40 * ft + 11.25 * in));
  // The rake is 223.5 in long: nine marks of 24 in fall on it.
  const auto rungs = house.of(MemberKind::lookout, "main/0");
  REQUIRE(rungs.size() == 18);
  for (const Member* rung : rungs) {
    CHECK(rung->length_m == near(10.5 * in));
    CHECK(rung->stock == "2x4");
    CHECK(rung->lie == framing::Lie::under_deck);
  }
}

TEST_CASE("a wide rake stands on outriggers that reach the next rafter") {
  const FramedHouse house = framed_house(gable_model(40, 28, 8, 1.5, 2.0));
  const auto outriggers = house.of(MemberKind::lookout, "main/0");
  REQUIRE(outriggers.size() == 18);
  // From the near face of the rafter at 24 in (23 1/4) over the wall to the barge (24 - 1 1/2).
  for (const Member* one : outriggers) {
    CHECK(one->length_m == near((23.25 + 22.5) * in));
    CHECK(one->lie == framing::Lie::flat);
  }
  model::RoofModel none = gable_model(40, 28, 8, 1.5, 2.0);
  none.parts[0].framing.lookouts = false;
  CHECK(framed_house(none).count(MemberKind::lookout) == 0);
}

TEST_CASE("blocking closes the bays over the plate, face to face") {
  model::RoofModel model = gable_model(40, 28, 8, 1.5, 1.0);
  const FramedHouse open = framed_house(model);
  CHECK(open.count(MemberKind::blocking) == 0);
  CHECK(open.bays("main/0")[3]->at_plate == AtPlate::open);
  CHECK(open.bays("main/0").front()->at_plate == AtPlate::none);  // beyond the gable-end wall
  model.parts[0].framing.blocking = model::Blocking::solid;
  const FramedHouse solid = framed_house(model);
  const auto blocks = solid.of(MemberKind::blocking, "main/0");
  REQUIRE(blocks.size() == 20);
  double sum = 0.0;
  for (const Member* block : blocks) {
    sum += block->length_m;
  }
  CHECK(sum == near(448.5 * in));  // N05: 480 - 21 rafters of 1 1/2
  CHECK(solid.bays("main/0")[3]->at_plate == AtPlate::blocked);
  model.parts[0].framing.blocking = model::Blocking::vented;
  const FramedHouse vented = framed_house(model);
  CHECK(vented.count(MemberKind::vented_blocking) == 40);
  CHECK(vented.bays("main/0")[3]->at_plate == AtPlate::vented);
}

TEST_CASE("collar ties: length at their height, every second pair") {
  model::RoofModel model = gable_model(40, 24, 8);
  model.parts[0].framing.collar_ties = model::CollarTies{5 * ft, 2, "2x4"};
  const FramedHouse house = framed_house(model);
  std::vector<const Member*> ties = house.of(MemberKind::collar_tie, "");
  REQUIRE(ties.size() == 11);  // 21 pairs
  // Underside 60 in, top 63 1/2 in over the plate; the ridge 96 in; the deck 0.6009 in plumb.
  // On each side (96 - 63.5 - 0.6009) / (8/12) in run.
  CHECK(ties[0]->length_m / in == Approx(2 * 47.8486).margin(5e-4));
  CHECK((ties[0]->long_point_m - ties[0]->length_m) / in == Approx(10.5).margin(1e-6));
  CHECK(ties[0]->short_point_m == near(ties[0]->length_m));  // along its top, not its middle
  model.parts[0].framing.collar_ties->height_m = 9 * ft;
  const FramedHouse high = framed_house(model);
  CHECK(high.count(MemberKind::collar_tie) == 0);
  CHECK(high.assumes("outside the rafters"));
  // 41 ft: the two layouts run from opposite ends and miss each other by 12 in.
  model::RoofModel odd = gable_model(41, 24, 8);
  odd.parts[0].framing.collar_ties = model::CollarTies{5 * ft, 1, "2x4"};
  const FramedHouse missed = framed_house(odd);
  CHECK(missed.count(MemberKind::collar_tie) == 2);  // the end rafters
  CHECK(missed.assumes("none opposite"));
}

TEST_CASE("bays know their widths at foot and head, and what lies across") {
  const FramedHouse house = framed_house(hip(40, 24, 8).model);
  for (const Bay* bay : house.bays("main/0")) {
    CHECK(bay->foot_width_m == near(bay->clear_width_m));
    if (house.surface.lines[bay->head].kind == surface::LineKind::ridge) {
      REQUIRE(bay->across.size() == 1);
      const Bay& other = house.framing.bays[bay->across[0].bay];
      CHECK(house.plane_name(other.plane) == "main/2");
      CHECK(bay->across[0].length_m == near(bay->head_width_m));
    } else if (bay->kind == MemberKind::hip_jack) {
      // Equal pitches: up a run as long as the bay is wide.
      CHECK(bay->head_width_m == near(bay->clear_width_m * std::sqrt(2.0 + 4.0 / 9.0)));
    }
  }
}

TEST_CASE("the gable wall of a half hip and the small gable of a gablet have their rafters") {
  model::RoofModel model = gable_model(48, 28, 9, 1.5, 1.0);
  model::Part& part = model.parts[0];
  part.heel_m = 10 * in;
  part.edges[1].kind = model::EdgeKind::half_hip;
  part.edges[1].pitch = units::Pitch::from_rise_run(9, 12);
  part.edges[1].from_height_m = 4 * ft;
  part.edges[3].kind = model::EdgeKind::gablet;
  part.edges[3].pitch = units::Pitch::from_rise_run(9, 12);
  part.edges[3].overhang_m = 1.5 * ft;
  part.edges[3].wall_height_m = 3 * ft;
  const FramedHouse house = framed_house(model);
  // On the right the wall of the half hip: a rafter flush within its outer face, none in the
  // overhang of a foot but the barge rafter.
  double last = 0.0;
  bool has_gablet = false;
  for (const Member& member : house.framing.members) {
    if (member.plane.is_none() || house.plane_name(member.plane) != "main/0" ||
        member.kind == MemberKind::barge_rafter || member.kind == MemberKind::lookout) {
      continue;
    }
    last = std::max(last, member.layout_m);
    // The gablet stands 11 1/2 ft in (10 ft of plan from the wall: see the raised lines); its
    // rafter stands right under the rake and runs from eave to ridge.
    const bool is_common = member.kind == MemberKind::common;
    has_gablet =
        has_gablet || (is_common && std::abs(member.layout_m - 10 * ft - 0.75 * in) < 1e-6);
  }
  CHECK(last == near(48 * ft - 0.75 * in));
  CHECK(has_gablet);
  CHECK(house.of(MemberKind::barge_rafter, "main/0").size() == 1);
}
