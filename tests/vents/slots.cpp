#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using small_roofs::ft;
using small_roofs::in;
using small_roofs::whole_eave;
using small_roofs::whole_ridge;
using tests::Worked;
using tests::worked;
using vents::Slot;

namespace {

constexpr double in2 = in * in;

Approx near(double value) { return Approx(value).epsilon(1e-9); }

/// Walls length x width, gables on the short sides, plate at 0.
model::RoofModel gable_house(double length, double width, double pitch, double eave = 0.0,
                             double rake = 0.0) {
  return support::house({{0, 0}, {length, 0}, {length, width}, {0, width}},
                        {support::eave(pitch, eave * ft), support::gable(rake * ft),
                         support::eave(pitch, eave * ft), support::gable(rake * ft)});
}

model::RoofModel hip_house(double length, double width, double pitch, double overhang = 0.0) {
  const model::Edge edge = support::eave(pitch, overhang * ft);
  return support::house({{0, 0}, {length, 0}, {length, width}, {0, width}},
                        {edge, edge, edge, edge});
}

model::RoofModel with_vents(model::RoofModel model, std::vector<model::IntakeRun> intake,
                            std::vector<model::ExhaustVent> exhaust) {
  model.intake = std::move(intake);
  model.exhaust = std::move(exhaust);
  return model;
}

const Slot& slot(const Worked& w, std::size_t i) { return w.vents.slots[SlotId(i)]; }

double sum_of_shares(const Slot& slot) {
  double sum = 0.0;
  for (const vents::SlotBay& part : slot.bays) {
    sum += part.share_m;
  }
  return sum;
}

std::string fault_of(const model::RoofModel& model) {
  const surface::Surface surface = tests::value_of(surface::raise(model));
  const framing::Framing framing = framing::frame(model, surface);
  const attic::Attic attic = tests::value_of(attic::divide(model, surface, framing));
  const Result<vents::Vents> vents =
      vents::set_out(model, small_roofs::catalogue(), surface, framing, attic);
  REQUIRE_FALSE(vents.ok());
  CHECK_FALSE(vents.faults()[0].what.empty());
  CHECK_FALSE(vents.faults()[0].cure.empty());
  return vents.faults()[0].code + " " + vents.faults()[0].where;
}

}  // namespace

TEST_CASE("a slot stops short of the gable-end wall, not of the rake") {
  const Worked w =
      worked(with_vents(gable_house(40, 28, 8, 1.5, 1.0), {whole_eave("south", "main/0")},
                        {whole_ridge("top", "main/0|main/2")}),
             small_roofs::catalogue());
  REQUIRE(w.vents.slots.size() == 1);
  const Slot& s = slot(w, 0);
  CHECK(s.id == "south/1");
  CHECK(s.start_m == near(1.5 * ft));  // 1 ft of rake and 6 in of hold-back
  CHECK(s.end_m == near(40.5 * ft));
  CHECK(s.lower_line_m == near(6.5 * in));  // trade.md 4, common practice, no source
  CHECK(s.width_m == near(1.5 * in));
  CHECK(s.vent_length_m == near(42 * ft));  // rake to rake
  CHECK(s.crossings.size() == 19);          // all but the two end rafters
  CHECK(s.bays.size() == 20);
  CHECK(s.crossings[0].at_m == near(18 * in));  // 24 in layout mark, slot from 6 in
  for (const vents::SlotBay& part : s.bays) {
    CHECK(part.live);
  }
  CHECK(sum_of_shares(s) == near(39 * ft));
  CHECK(s.free_area_m2 == near(390 * in2));  // 10 in2/ft on 39 ft: the vent is what counts
  CHECK(s.is_over_overhang);
  CHECK_FALSE(s.is_blocked);
  CHECK(w.vents.totals[CompartmentId(0U)].intake_m2 == near(390 * in2));
}

TEST_CASE("36 ft of a 10 in2/ft vent give 360 in2 in 9 sections") {
  // trade.md 3, common practice, no source: 360 in2 is 36 ft = 9 sections.
  model::IntakeRun run = whole_eave("south", "main/0");
  run.whole = false;
  run.from_m = 2 * ft;
  run.to_m = 38 * ft;
  const Worked w =
      worked(with_vents(gable_house(40, 28, 8), {run}, {whole_ridge("top", "main/0|main/2")}),
             small_roofs::catalogue());
  REQUIRE(w.vents.slots.size() == 1);
  CHECK(slot(w, 0).free_area_m2 == near(360 * in2));
  CHECK(slot(w, 0).vent_length_m == near(36 * ft));
  REQUIRE(w.takeoff.order.size() >= 1);
  CHECK(w.takeoff.order[0].quantity == 9.0);
}

TEST_CASE("where the slot is smaller than the vent, the slot counts") {
  model::Catalogue catalogue = small_roofs::catalogue();
  catalogue.products["over-deck-10"].free_area_per_length_m = 100.0 * in2 / ft;
  const Worked w = worked(with_vents(gable_house(40, 28, 8), {whole_eave("south", "main/0")},
                                     {whole_ridge("top", "main/0|main/2")}),
                          catalogue);
  // From 6 to 474 in, less 19 rafters of 1 1/2 in, times 1 1/2 in.
  CHECK(slot(w, 0).free_area_m2 == near((468 - 28.5) * 1.5 * in2));
}

TEST_CASE("without an exhaust no bay is live and nothing counts") {
  const Worked w = worked(with_vents(gable_house(40, 28, 8), {whole_eave("south", "main/0")}, {}),
                          small_roofs::catalogue());
  CHECK(slot(w, 0).free_area_m2 == 0.0);
  CHECK(slot(w, 0).compartment.is_none());
  CHECK(w.vents.totals[CompartmentId(0U)].intake_m2 == 0.0);
  CHECK(w.vents.bays[BayId(3U)].why == "into attic, which has no exhaust");
}

TEST_CASE("bays that lie only over a hipped overhang are dead") {
  const Worked w = worked(with_vents(hip_house(40, 24, 6, 2.0), {whole_eave("south", "main/0")},
                                     {whole_ridge("top", "main/0|main/2")}),
                          small_roofs::catalogue());
  REQUIRE(w.vents.slots.size() == 1);
  const Slot& s = slot(w, 0);
  // The band's upper line, 8 in up the slope, meets the hip at 8 in * cos(slope) along the eave.
  const double cosine = 2.0 / std::sqrt(5.0);
  CHECK(s.start_m == near(8 * in * cosine + 12 * in));
  CHECK(s.vent_length_m == near(44 * ft));  // hip to hip along the eave
  REQUIRE_FALSE(s.bays.empty());
  CHECK_FALSE(s.bays.front().live);  // wholly outside the corner of the walls
  CHECK(w.vents.bays[s.bays.front().bay].why == "only over the overhang");
  CHECK(s.bays[2].live);
  double live = 0.0;
  for (const vents::SlotBay& part : s.bays) {
    live += part.live ? part.free_area_m2 : 0.0;
  }
  CHECK(s.free_area_m2 == near(live));
  CHECK(s.free_area_m2 < 10 * in2 / ft * (s.end_m - s.start_m));
}

TEST_CASE("a wing splits an eave: one run, two slots, held back from the valleys") {
  // Main 40 x 24, wing 16 wide and 10 deep on the south side.
  const model::Edge e = support::eave(6, 0);
  const model::RoofModel model =
      support::house({{0, 0}, {12, 0}, {12, -10}, {28, -10}, {28, 0}, {40, 0}, {40, 24}, {0, 24}},
                     {e, e, support::gable(), e, e, support::gable(), e, support::gable()});
  const Worked w =
      worked(with_vents(model, {whole_eave("west", "main/0"), whole_eave("east", "main/4")},
                        {whole_ridge("top", "main/0|main/6")}),
             small_roofs::catalogue());
  // Both eaves of the main's south side may be one plane or two; each has its own slot.
  REQUIRE(w.vents.slots.size() >= 2);
  const double cosine = 2.0 / std::sqrt(5.0);
  bool has_west = false;
  for (const Slot& s : w.vents.slots) {
    CHECK(s.compartment == CompartmentId(0U));
    if (s.run == "west") {
      has_west = true;
      CHECK(s.start_m == near(6 * in));
      // The valley leaves the eave at 12 ft; the band's lower line, 6 1/2 in up the slope, meets it
      // a little further on, and the slot stops 12 in short of that.
      CHECK(s.end_m == near(12 * ft + 6.5 * in * cosine - 12 * in));
      CHECK(s.vent_length_m == near(12 * ft + 14 * in * cosine));
    }
  }
  CHECK(has_west);
}

TEST_CASE("a ridge that goes on over a seam is not held back there") {
  // The wing lies lower than the main ridge: over it the planes of both eaves meet in a seam.
  const model::Edge e = support::eave(6, 0);
  const model::Edge g = support::gable();
  const model::RoofModel model =
      support::house({{0, 0}, {12, 0}, {12, -10}, {28, -10}, {28, 0}, {40, 0}, {40, 24}, {0, 24}},
                     {e, e, g, e, e, g, e, g});
  const Worked w = worked(
      with_vents(model, {},
                 {whole_ridge("west", "main/0|main/6"), whole_ridge("east", "main/4|main/6")}),
      small_roofs::catalogue());
  REQUIRE(w.vents.exhausts.size() == 2);
  CHECK(w.vents.exhausts[ExhaustId(0U)].length_m + w.vents.exhausts[ExhaustId(1U)].length_m ==
        near(39 * ft));  // 40 ft less 6 in at each gable-end wall
  for (const framing::Member& member : w.framing.members) {
    if (!member.line.is_none()) {
      CHECK(w.surface.lines[member.line].kind != surface::LineKind::pitch_break);
    }
  }
}

TEST_CASE("solid blocking stops a slot that opens over the overhang") {
  model::RoofModel model =
      with_vents(gable_house(40, 28, 8, 1.5, 1.0), {whole_eave("south", "main/0")},
                 {whole_ridge("top", "main/0|main/2")});
  model.parts[0].framing.blocking = model::Blocking::solid;
  const Worked blocked = worked(model, small_roofs::catalogue());
  CHECK(slot(blocked, 0).is_blocked);
  CHECK(slot(blocked, 0).free_area_m2 == 0.0);
  model.parts[0].edges[0].overhang_m = model.parts[0].edges[2].overhang_m = 2 * in;
  const Worked inboard = worked(model, small_roofs::catalogue());
  CHECK_FALSE(slot(inboard, 0).is_blocked);
  CHECK(slot(inboard, 0).free_area_m2 == near(390 * in2));
}

TEST_CASE("the ridge slot between the rafters: 448 1/2 in open, 672 3/4 in2") {
  model::Catalogue catalogue = small_roofs::catalogue();
  catalogue.products["ridge-12"].slot.hold_back_m = 0.0;
  catalogue.products["ridge-12"].free_area_per_length_m = 100.0 * in2 / ft;
  const Worked w = worked(
      with_vents(gable_house(40, 30, 8), {}, {whole_ridge("top", "main/0|main/2")}), catalogue);
  REQUIRE(w.vents.exhausts.size() == 1);
  const vents::Exhaust& top = w.vents.exhausts[ExhaustId(0U)];
  CHECK(top.open_length_m == near(448.5 * in));   // N05 [IN]
  CHECK(top.slot_area_m2 == near(672.75 * in2));  // N06 [IN], C: 3/4 in each side
  CHECK(top.free_area_m2 == near(672.75 * in2));
}

TEST_CASE("ridge vents keep clear of walls, hips and rakes and are measured from the left") {
  const Worked rake = worked(
      with_vents(gable_house(40, 28, 8, 1.5, 1.0), {}, {whole_ridge("top", "main/2|main/0")}),
      small_roofs::catalogue());
  CHECK(rake.vents.exhausts[ExhaustId(0U)].length_m == near(39 * ft));
  CHECK(rake.vents.exhausts[ExhaustId(0U)].free_area_m2 == near(468 * in2));
  const Worked hipped =
      worked(with_vents(hip_house(40, 24, 6), {}, {whole_ridge("top", "main/0|main/2")}),
             small_roofs::catalogue());
  CHECK(hipped.vents.exhausts[ExhaustId(0U)].length_m == near(14 * ft));  // 16 less a foot each
  model::ExhaustVent part = whole_ridge("top", "main/0|main/2");
  part.whole = false;
  part.from_m = 10 * ft;
  part.to_m = 20 * ft;
  const Worked some =
      worked(with_vents(gable_house(40, 28, 8), {}, {part}), small_roofs::catalogue());
  CHECK(some.vents.exhausts[ExhaustId(0U)].from.x == near(10 * ft));
  CHECK(some.vents.exhausts[ExhaustId(0U)].to.x == near(20 * ft));
  part.line = "main/2|main/0";  // from the other side, the left end is the other one
  const Worked other =
      worked(with_vents(gable_house(40, 28, 8), {}, {part}), small_roofs::catalogue());
  CHECK(other.vents.exhausts[ExhaustId(0U)].from.x == near(30 * ft));
}

TEST_CASE("a ridge vent over two compartments is told in two") {
  model::RoofModel model = with_vents(gable_house(40, 28, 8), {whole_eave("south", "main/0")},
                                      {whole_ridge("top", "main/0|main/2")});
  model.dividers = {{"fire-wall", {15 * ft, 0}, {15 * ft, 28 * ft}}};
  const Worked w = worked(model, small_roofs::catalogue());
  REQUIRE(w.vents.exhausts.size() == 2);
  CHECK(w.vents.exhausts[ExhaustId(0U)].id == "top/1");
  CHECK(w.vents.exhausts[ExhaustId(0U)].length_m == near(14.5 * ft));
  CHECK(w.vents.exhausts[ExhaustId(1U)].length_m == near(24.5 * ft));
  CHECK(w.vents.exhausts[ExhaustId(0U)].compartment != w.vents.exhausts[ExhaustId(1U)].compartment);
  // The vent itself is ordered once: 39 ft in 4 ft pieces.
  double pieces = 0.0;
  for (const takeoff::OrderLine& line : w.takeoff.order) {
    pieces += line.item == "ridge-12" ? line.quantity : 0.0;
  }
  CHECK(pieces == 10.0);
}

TEST_CASE("box vents serve the compartment beneath, or nothing") {
  model::ExhaustVent box;
  box.id = "box";
  box.product = "box-50";
  box.plane = "main/2";
  box.at = {18 * ft, 14 * ft};
  model::ExhaustVent out = box;
  out.id = "out";
  out.at = {18 * ft, 0.5 * ft};
  const Worked w = worked(with_vents(gable_house(40, 28, 8, 1.5, 1.0), {}, {box, out}),
                          small_roofs::catalogue());
  CHECK(w.vents.exhausts[ExhaustId(0U)].compartment == CompartmentId(0U));
  CHECK(w.vents.exhausts[ExhaustId(0U)].free_area_m2 == near(50 * in2));
  CHECK(w.vents.exhausts[ExhaustId(1U)].compartment.is_none());
  CHECK(w.vents.totals[CompartmentId(0U)].exhaust_m2 == near(50 * in2));
}

TEST_CASE("what can't be set out is a fault with its place") {
  const auto model_with = [](const model::IntakeRun& run) {
    return with_vents(gable_house(40, 28, 8), {run}, {});
  };
  model::IntakeRun run = whole_eave("south", "main/0");
  run.product = "none-such";
  CHECK(fault_of(model_with(run)) == "vent.product_unknown /vents/intake/0/product");
  run.product = "ridge-12";
  CHECK(fault_of(model_with(run)) == "vent.wrong_kind /vents/intake/0/product");
  run = whole_eave("south", "main/9");
  CHECK(fault_of(model_with(run)) == "vent.plane_unknown /vents/intake/0/plane");
  run = whole_eave("south", "main/0");
  run.whole = false;
  run.from_m = 2 * ft;
  run.to_m = 41 * ft;
  CHECK(fault_of(model_with(run)) == "vent.run_outside /vents/intake/0/to");
  run.from_m = run.to_m = 4 * ft;
  CHECK(fault_of(model_with(run)) == "vent.run_outside /vents/intake/0/from");

  const auto exhaust = [](const model::ExhaustVent& vent) {
    return with_vents(gable_house(40, 28, 8), {}, {vent});
  };
  CHECK(fault_of(exhaust(whole_ridge("top", "main/0|main/9"))) ==
        "vent.line_unknown /vents/exhaust/0/line");
  model::RoofModel hipped =
      with_vents(hip_house(40, 24, 6), {}, {whole_ridge("t", "main/0|main/1")});
  CHECK(fault_of(hipped) == "vent.line_kind /vents/exhaust/0/line");
  model::ExhaustVent vent = whole_ridge("top", "main/0|main/2");
  vent.product = "over-deck-10";
  CHECK(fault_of(exhaust(vent)) == "vent.wrong_kind /vents/exhaust/0/product");
  vent = whole_ridge("top", "main/0|main/2");
  vent.whole = false;
  vent.to_m = 99 * ft;
  CHECK(fault_of(exhaust(vent)) == "vent.run_outside /vents/exhaust/0/from");
  vent = {};
  vent.id = "box";
  vent.product = "box-50";
  vent.plane = "main/0";
  vent.at = {10 * ft, 90 * ft};
  CHECK(fault_of(exhaust(vent)) == "vent.run_outside /vents/exhaust/0/at");
}

TEST_CASE("hip vents run from the foot up") {
  model::Catalogue catalogue = small_roofs::catalogue();
  model::Product hip = catalogue.products["ridge-12"];
  hip.id = "hip-9";
  hip.kind = model::VentKind::hip_vent;
  hip.free_area_per_length_m = 9.0 * in2 / ft;
  catalogue.products[hip.id] = hip;
  model::ExhaustVent vent = whole_ridge("corner", "main/0|main/1");
  vent.product = "hip-9";
  vent.whole = false;
  vent.from_m = 8 * ft;
  vent.to_m = 12 * ft;
  const Worked w = worked(with_vents(hip_house(40, 24, 6), {}, {vent}), catalogue);
  const vents::Exhaust& e = w.vents.exhausts[ExhaustId(0U)];
  CHECK(e.from.z < e.to.z);
  CHECK(e.length_m == near(4 * ft));
  CHECK(e.free_area_m2 == near(36 * in2));
  CHECK(e.compartment == CompartmentId(0U));
}
