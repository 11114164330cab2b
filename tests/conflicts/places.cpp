// Vents that can't be built where they are: over each other, past their plane, with no height over
// the plate; and remedies that hold. Figures by hand from the default catalogue: strips 14 in deep
// set 1 in over the eave, ridge vents 12 in, boxes 18 x 18 in, louvres 12 x 18 in.
#include "conflicts/judged.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ridgeward;
using conflicts::Finding;
using conflicts::Severity;
using judged_roofs::all_of;
using judged_roofs::box;
using judged_roofs::has;
using judged_roofs::judged;
using small_roofs::ft;
using small_roofs::in;
using small_roofs::whole_eave;
using small_roofs::whole_ridge;
using tests::Worked;

namespace {

const double slope = std::sqrt(1.25);  ///< along the slope for 1 of run at 6/12
constexpr double in2 = in * in;

/// 40 ft long at 6/12, the same overhang all round, an attic over it, no vents.
model::RoofModel bare_gable(double width_ft = 28.0, double overhang_in = 12.0) {
  const model::Edge eave = support::eave(6, overhang_in * in);
  const model::Edge rake = support::gable(overhang_in * in);
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, width_ft}, {0, width_ft}}, {eave, rake, eave, rake});
  model.parts[0].heel_m = 12 * in;
  return model;
}

model::IntakeRun run(const std::string& id, double from_ft, double to_ft) {
  model::IntakeRun made = whole_eave(id, "main/0");
  made.whole = false;
  made.from_m = from_ft * ft;
  made.to_m = to_ft * ft;
  return made;
}

model::ExhaustVent along(const std::string& id, double from_ft, double to_ft,
                         const std::string& line = "main/0|main/2") {
  model::ExhaustVent vent = whole_ridge(id, line);
  vent.whole = false;
  vent.from_m = from_ft * ft;
  vent.to_m = to_ft * ft;
  return vent;
}

std::vector<Finding> overlaps(const model::RoofModel& model) {
  return all_of(judged(model), "vents_overlap");
}

/// The only one of its kind.
Finding only(const std::vector<Finding>& found) {
  REQUIRE(found.size() == 1);
  CHECK(found[0].severity == Severity::error);
  return found[0];
}

}  // namespace

TEST_CASE("vents along one line over the same stretch") {
  model::RoofModel model = bare_gable();
  model.exhaust = {along("r", 10, 20), along("r2", 10, 21)};
  const Finding finding = only(overlaps(model));
  CHECK(has(finding.message, "Vent r and vent r2"));
  CHECK(finding.measured == "10' 0\" of the line under both");
  CHECK_FALSE(finding.remedy.empty());
  model.exhaust[1] = along("r2", 20, 30);
  CHECK(overlaps(model).empty());
  // Measured from the other end of 42 ft: 42 - 20 = 22 to 32.
  model.exhaust[1] = along("r2", 22, 32, "main/2|main/0");
  CHECK(only(overlaps(model)).measured == "10' 0\" of the line under both");
  model.exhaust[1] = along("r2", 12, 22, "main/2|main/0");
  CHECK(overlaps(model).empty());
}

TEST_CASE("runs over the same stretch of an eave, and a soffit beneath a strip") {
  model::RoofModel model = bare_gable();
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  model.intake = {run("s", 1, 14.5), run("s2", 12.5, 20)};
  const Finding finding = only(overlaps(model));
  CHECK(has(finding.message, "Run s and run s2"));
  CHECK(has(finding.measured, "2' 0\" by 1' 2\", from 12' 6\" to 14' 6\""));
  CHECK_FALSE(finding.slot.is_none());
  model.intake[1] = run("s2", 14.5, 20);
  CHECK(overlaps(model).empty());
  model.intake[1] = run("s2", 1, 14.5);
  model.intake[1].product = "soffit-strip-9";
  model.parts[0].edges[0].soffit = model::Soffit::vented;
  CHECK(overlaps(model).empty());
  model.intake[0].product = "soffit-strip-9";
  CHECK(has(only(overlaps(model)).message, "soffit of main/0"));
  // The upslope strip of the same eave lies above that of the eave position.
  model.intake[0] = model.intake[1] = run("s", 1, 14.5);
  model.intake[1].id = "up";
  model.intake[1].position = model::Position::upslope;
  CHECK(overlaps(model).empty());
}

TEST_CASE("vents by the piece over each other, over a strip, over a ridge vent") {
  model::RoofModel model = bare_gable();
  model.exhaust = {box("b0", "main/0", {200, 100}), box("b1", "main/0", {217, 100})};
  const Finding finding = only(overlaps(model));
  CHECK(has(finding.measured, "1\" by 1' 6\""));
  CHECK(finding.remedy == "Move vent b1 by 1\" to the side, or leave it out.");
  model.exhaust[1].at.x = 218 * in;
  CHECK(overlaps(model).empty());
  // Five at one place: each of the others lies over the first.
  model.exhaust = {box("b0", "main/0", {200, 100}), box("b1", "main/0", {200, 100}),
                   box("b2", "main/0", {200, 100}), box("b3", "main/0", {200, 100}),
                   box("b4", "main/0", {200, 100})};
  CHECK(overlaps(model).size() == 4);
  // Of a product without sizes only the place is known.
  model::Catalogue bare = tests::default_catalogue();
  model::Product& point = bare.products["box-50"];
  point.length_m = point.depth_m = point.slot.width_m = 0.0;
  model.intake = {run("s", 10, 20)};
  model.exhaust = {box("b0", "main/0", {200, 100}), box("b1", "main/0", {201, 100})};
  CHECK(all_of(judged(model, bare), "vents_overlap").empty());
  model.exhaust[1].at.x = 200 * in;
  only(all_of(judged(model, bare), "vents_overlap"));
  // A strip ends 14 - 1 in up; a box reaches 9 in down from its middle.
  model.intake = {run("s", 10, 20)};
  model.exhaust = {box("b", "main/0", {200, 21})};
  CHECK(has(only(overlaps(model)).message, "Run s and vent b"));
  model.exhaust[0].at.y = 22 * in;
  CHECK(overlaps(model).empty());
  // Half of a ridge vent is 6 in; the ridge lies (14 + 1) x 12 x slope up.
  model.intake.clear();
  model.exhaust = {along("r", 10, 20), box("b", "main/0", {200, 180 * slope - 14.9})};
  CHECK(has(only(overlaps(model)).message, "Vent r and vent b"));
  model.exhaust[1].at.y = (180 * slope - 15.1) * in;
  CHECK(overlaps(model).empty());
}

TEST_CASE("louvres over each other in one gable wall") {
  model::RoofModel model = bare_gable();
  model::ExhaustVent louvre;
  louvre.id = "g0";
  louvre.product = "gable-60";
  louvre.wall = "main/1";
  louvre.at = {14 * ft, 4 * ft};
  model.exhaust = {louvre, louvre};
  model.exhaust[1].id = "g1";
  model.exhaust[1].at.x += 11 * in;
  CHECK(has(only(overlaps(model)).measured, "1\" by 1' 6\""));
  model.exhaust[1].at.x += 1 * in;
  CHECK(overlaps(model).empty());
  model.exhaust[1].at.x = 14 * ft;
  model.exhaust[1].wall = "main/3";
  CHECK(overlaps(model).empty());
}

TEST_CASE("a strip that reaches past the ridge, or under the ridge vent") {
  // Overhang 6 in: the wall line 6 x slope = 6.7 in up, in row 2; the strip stands on row 4, its
  // butt 3 x 5 5/8 - 1/2 = 16 3/8 in up, and ends at 30 3/8. The ridge lies (18 + 6) x slope
  // = 26.83.
  model::RoofModel model = bare_gable(3, 6);
  model.intake = {run("s", 5, 15)};
  model.intake[0].position = model::Position::upslope;
  const Worked narrow = judged(model);
  const Finding finding = only(all_of(narrow, "vent_past_plane"));
  CHECK(finding.measured == "upper edge 2' 6 3/8\" up the slope, the plane 2' 2 7/8\"");
  CHECK(has(finding.remedy, "no deeper than 10 3/8\""));  // 26.83 - 16.38 = 10.46, rounded down
  // 4 ft wide: the ridge at 33.54; it fits, but 30.375 - (33.54 - 6) = 2.83 in of it lie under the
  // ridge vent.
  model = bare_gable(4, 6);
  model.intake = {run("s", 5, 15)};
  model.intake[0].position = model::Position::upslope;
  CHECK(all_of(judged(model), "vent_past_plane").empty());
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  const Finding under = only(overlaps(model));
  CHECK(has(under.measured, "by 2 7/8\""));
  model.exhaust[0].product = "ridge-12";
  model::Catalogue catalogue = tests::default_catalogue();
  catalogue.products["ridge-12"].depth_m = 6 * in;
  CHECK(all_of(judged(model, catalogue), "vents_overlap").empty());
  // The eave position: 13 in up, the ridge (6 + 2.4) x slope = 9.4 in.
  model = bare_gable(1, 2.4);
  model.intake = {run("s", 5, 15)};
  CHECK(has(only(all_of(judged(model), "vent_past_plane")).measured, "upper edge 1' 1\""));
  // Ends mitred along hips are no strip past its plane.
  const model::Edge edge = support::eave(6, 12 * in);
  model::RoofModel hip =
      support::house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {edge, edge, edge, edge});
  hip.intake = {whole_eave("s", "main/0"), whole_eave("e", "main/1")};
  CHECK(all_of(judged(hip), "vent_past_plane").empty());
}

TEST_CASE("a low heel: the way over the plate bounds a slot over the overhang") {
  // Heel x cos(slope) - deck is open over the plate's outer edge; no insulation. The slot runs from
  // 6 in inside one gable wall to 6 in inside the other, 39 ft, over 19 rafters of 1 1/2 in.
  const double open_m = (39 * 12 - 19 * 1.5) * in;
  model::RoofModel model = bare_gable();
  model.intake = {whole_eave("s", "main/0")};
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  model::Ceiling ceiling;
  ceiling.id = "attic";
  ceiling.outline = model.parts[0].outline;
  model.ceilings = {ceiling};
  for (const double heel_in : {0.6, 1.0, 1.5}) {
    INFO(heel_in);
    model.parts[0].heel_m = heel_in * in;
    const double over_plate_m = (heel_in / slope - 0.5) * in;
    const Worked low = judged(model);
    const vents::Slot& slot = low.vents.slots[SlotId(0U)];
    CHECK(*slot.over_plate_m == Approx(over_plate_m));
    // The vent's own is 10 in2/ft, 20 in2 a bay: each of these throats gives less.
    CHECK(slot.free_area_m2 == Approx(over_plate_m * open_m));
    CHECK_FALSE(low.test("space_over_insulation").holds);
    CHECK(low.test("space_over_insulation").measured == Approx(over_plate_m));
    const Finding* finding = low.finding("little_over_insulation");
    REQUIRE(finding != nullptr);
    CHECK(has(finding->message, "the heel is too low"));
    CHECK((finding->measured == "less than 1/8\"") == (heel_in < 1.0));  // 0.037 in
    // (1 + 1/2) x slope = 1.677 in.
    CHECK(has(finding->remedy, "it takes 1 3/4\""));
  }
  model.parts[0].heel_m = 1.75 * in;
  CHECK(judged(model).finding("little_over_insulation") == nullptr);
  // Wide open otherwise, a bay of 22 1/2 in passes no more than its throat.
  model.parts[0].heel_m = 2 * in;
  model::Catalogue strong = tests::default_catalogue();
  strong.products["over-deck-10"].free_area_per_length_m = 30 * in2 / ft;
  strong.products["over-deck-10"].slot.width_m = 4 * in;
  const Worked wide = judged(model, strong);
  const vents::SlotBay& inner = wide.vents.slots[SlotId(0U)].bays[5];
  CHECK(inner.free_area_m2 == Approx((2 / slope - 0.5) * 22.5 * in2));
  // No height at all.
  model.parts[0].heel_m = 0.5 * in;
  const Worked shut = judged(model);
  CHECK(shut.vents.slots[SlotId(0U)].block == vents::Block::plate);
  CHECK(shut.vents.slots[SlotId(0U)].free_area_m2 == 0.0);
  REQUIRE(shut.finding("slot_over_blocked_overhang") != nullptr);
  CHECK(has(shut.finding("slot_over_blocked_overhang")->message, "heel is so low"));
  const auto says_heel = [](const Worked& w) {
    return std::any_of(w.vents.assumptions.begin(), w.vents.assumptions.end(),
                       [](const std::string& one) {
                         return has(one, "The heel of main is not given") && has(one, "run s");
                       });
  };
  CHECK_FALSE(says_heel(shut));
  model.parts[0].heel_m = 0.0;
  CHECK(says_heel(judged(model)));
}

TEST_CASE("a low heel is that of the part whose wall carries the eave") {
  // To the north main's roof, 6/12, heel 12 in, deck 1/2 in, runs on over a lean-to 9 ft deep. The
  // lean-to's heel is 1.2 in, its deck 3/4 in: 1.2 / slope - 0.75 = 0.323 in over its plate. The
  // roof passes over its wall at 10 ft + 12 in - 9 ft x 6/12 = 6 ft 6 in.
  model::RoofModel model = bare_gable();
  model.parts[0].plate_m = 10 * ft;
  model::Part back = model.parts[0];
  back.id = "back";
  back.outline = {{0, 20 * ft}, {40 * ft, 20 * ft}, {40 * ft, 37 * ft}, {0, 37 * ft}};
  back.edges[0] = support::gable();
  back.deck_m = 0.75 * in;
  model.parts.push_back(back);
  model.ceilings.emplace_back().id = "attic";  // over all, without insulation
  model.intake = {whole_eave("n", "main/2")};
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  const auto with_heel = [&](double heel_in) {
    model.parts[1].heel_m = heel_in * in;
    model.parts[1].plate_m = 6.5 * ft - model.parts[1].heel_m;
    return judged(model);
  };
  const Worked low = with_heel(1.2);
  REQUIRE(low.vents.slots.size() == 1);
  const vents::Slot& slot = low.vents.slots[SlotId(0U)];
  CHECK(low.surface.planes[slot.plane].part == 0);
  CHECK(slot.wall_part == 1);
  CHECK(*slot.over_plate_m == Approx((1.2 / slope - 0.75) * in));
  const Finding* finding = low.finding("little_over_insulation");
  REQUIRE(finding != nullptr);
  CHECK(has(finding->message, "the heel is too low"));
  // (1 + 3/4) x slope = 1.957 in; with main's deck it would be 1.677.
  CHECK(has(finding->remedy, "it takes 2\""));
  CHECK(with_heel(2.0).finding("little_over_insulation") == nullptr);
  const Worked unknown = with_heel(0.0);
  CHECK(std::any_of(unknown.vents.assumptions.begin(), unknown.vents.assumptions.end(),
                    [](const std::string& one) {
                      return has(one, "The heel of back is not given") && has(one, "run n");
                    }));
}

TEST_CASE("slots that share a bay come in by one way over the plate") {
  // Heel 1 1/2 in: 1.5 / slope - 0.5 = 0.8416 in over the plate, 18.94 in2 in a bay of 22 1/2 in.
  // From rafter to rafter, 132 to 180 in along the eave, lie two bays: a strip on the deck gives 20
  // in2 in each, held to 18.94; one in the soffit 9 in2/ft x 2 ft = 18. Together 18.94.
  const double throat_m2 = (1.5 / slope - 0.5) * 22.5 * in2;
  model::RoofModel model = bare_gable();
  model.parts[0].heel_m = 1.5 * in;
  model.parts[0].edges[0].soffit = model::Soffit::vented;
  model.ceilings.emplace_back().id = "attic";
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  model.intake = {run("deck", 11, 15), run("soffit", 11, 15)};
  model.intake[1].product = "soffit-strip-9";
  const auto intake_m2 = [](const Worked& w) {
    return w.vents.totals[CompartmentId(0U)].intake_m2;
  };
  const auto says = [](const Worked& w) {
    return std::any_of(w.vents.assumptions.begin(), w.vents.assumptions.end(),
                       [](const std::string& one) { return has(one, "open on one bay"); });
  };
  const Worked both = judged(model);
  REQUIRE(both.vents.slots.size() == 2);
  CHECK(both.vents.slots[SlotId(0U)].free_area_m2 == Approx(2 * throat_m2));
  CHECK(both.vents.slots[SlotId(1U)].free_area_m2 == Approx(2 * 18 * in2));
  CHECK(intake_m2(both) == Approx(2 * throat_m2));
  CHECK(says(both));
  // Over a high heel each counts in full.
  model.parts[0].heel_m = 12 * in;
  const Worked high = judged(model);
  CHECK(intake_m2(high) == Approx(2 * (20 + 18) * in2));
  CHECK_FALSE(says(high));
  // To the air two runs that meet in mid-bay are one.
  model.parts[0].heel_m = 1.5 * in;
  model.parts[0].edges[0].soffit = model::Soffit::none;
  model.intake = {run("whole", 11, 15)};
  const Worked whole = judged(model);
  model.intake = {run("west", 11, 12), run("east", 12, 15)};
  const Worked halves = judged(model);
  REQUIRE(halves.vents.slots.size() == 2);
  CHECK(intake_m2(halves) == Approx(intake_m2(whole)));
  CHECK(halves.airflow.cases[0].air_changes_per_h ==
        Approx(whole.airflow.cases[0].air_changes_per_h));
}

TEST_CASE("the high share is asked of 1/300 alone") {
  // 40 x 24 ft: 960 ft2 / 300 are 460.8 in2, 40 % of them 184.3. The ridge of 16 ft gives at most
  // 192 in2 with 12 in2/ft: not too short. 40 % of 1/150 would be 369, more than the 50 % that
  // 1/300 allows.
  const model::Edge edge = support::eave(8, 18 * in);
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {edge, edge, edge, edge});
  model.intake = {whole_eave("s", "main/0"), whole_eave("n", "main/2")};
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  CHECK(judged(model).finding("ridge_too_short") == nullptr);
  // 32 ft wide: 8 ft of ridge; 1 280 / 300 are 614.4 in2, 40 % 245.8.
  model.parts[0].outline[2].y = model.parts[0].outline[3].y = 32 * ft;
  const Worked wide = judged(model);
  const Finding* finding = wide.finding("ridge_too_short");
  REQUIRE(finding != nullptr);
  CHECK(has(finding->needed, "246 in2, 40.0 % of the reduced area, 614 in2 (R806.2)"));
}

TEST_CASE("an intake too high is not sent where it can't go") {
  // A gambrel's upper slope has no eave.
  model::RoofModel model = bare_gable(24);
  for (const std::size_t i : {0U, 2U}) {
    model.parts[0].edges[i].pitch = units::Pitch::from_rise_run(20, 12);
    model.parts[0].edges[i].breaks = {{6 * ft, units::Pitch::from_rise_run(6, 12)}};
  }
  model.intake = {whole_eave("s", "main/0:b")};
  model.intake[0].position = model::Position::upslope;
  model.exhaust = {whole_ridge("top", "main/0:b|main/2:b")};
  const Worked gambrel = judged(model);
  const Finding* finding = gambrel.finding("intake_too_high");
  REQUIRE(finding != nullptr);
  CHECK_FALSE(has(finding->remedy, "eave position"));
  CHECK(has(finding->remedy, "slope below"));
  // 3 ft of width: neither can a slot inside the wall lie lower, nor one in the eave position over
  // the plate (6 1/2 to 8 in up, the wall's faces 6.7 and 13.4 in).
  model = bare_gable(3, 6);
  model.intake = {run("s", 5, 15)};
  model.intake[0].position = model::Position::upslope;
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  const Worked narrow = judged(model);
  finding = narrow.finding("intake_too_high");
  REQUIRE(finding != nullptr);
  CHECK_FALSE(has(finding->remedy, "eave position"));
  CHECK(has(finding->remedy, "plumb"));
  // 14 ft: set far up a slope that has room below; both ways to measure are told.
  model = bare_gable(14, 12);
  model.intake = {run("s", 5, 15)};
  model.intake[0].position = model::Position::upslope;
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  model::Catalogue catalogue = tests::default_catalogue();
  catalogue.products["over-deck-10"].slot.above_butt_m = 40 * in;
  const Worked far = judged(model, catalogue);
  finding = far.finding("intake_too_high");
  REQUIRE(finding != nullptr);
  const vents::Slot& slot = far.vents.slots[SlotId(0U)];
  const attic::Compartment& space = far.attic.compartments[CompartmentId(0U)];
  const double over_m =
      codes::top_of(far.surface, slot) - space.bottom_m - (space.top_m - space.bottom_m) / 3.0;
  // Up the slope is plumb x sqrt(5).
  const auto shown = [](double m) {
    return units::show(in / 8 * std::ceil(m / in * 8 - 1e-6), units::Style::feet_inches);
  };
  CHECK(finding->remedy == "Use the eave position, or set the slot " +
                               shown(over_m * std::sqrt(5.0)) + " down the slope (" +
                               shown(over_m) + " plumb).");
}

TEST_CASE("a soffit strip deeper than the overhang, and what each rafter space lacks") {
  model::RoofModel model = bare_gable(24, 1.8);
  model.parts[0].edges[0].soffit = model::Soffit::vented;
  model.intake = {whole_eave("s", "main/0")};
  model.intake[0].product = "soffit-strip-9";
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  const Finding deep = only(all_of(judged(model), "slot_too_short"));
  CHECK(has(deep.message, "soffit-strip-9 is 2 1/2\" deep, the overhang 1 3/4\""));
  CHECK(deep.needed == "at least 2 1/2\"");
  CHECK_FALSE(has(deep.remedy, "Lengthen"));
  // Rafter spaces of 24 in: 20 in2 in, 12 out; 20 x 40 / 60 - 12 = 1.33 more, each.
  model = bare_gable(24);
  model.intake = {whole_eave("s", "main/0"), whole_eave("n", "main/2")};
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  model::Ceiling vault;
  vault.id = "vault";
  vault.kind = model::CeilingKind::sloped;
  vault.outline = model.parts[0].outline;
  vault.insulation_m = 5 * in;
  model.ceilings = {vault};
  const std::vector<Finding> shares = all_of(judged(model), "intake_share_high");
  REQUIRE_FALSE(shares.empty());
  CHECK(std::any_of(shares.begin(), shares.end(), [](const Finding& finding) {
    return finding.remedy == "Add 2 in2 of exhaust to each rafter space, or shorten the intake.";
  }));
}

TEST_CASE("a cricket is no overlaid part") {
  model::RoofModel model = bare_gable();
  model::Obstacle chimney;
  chimney.id = "stack";
  chimney.kind = model::ObstacleKind::chimney;
  chimney.plane = "main/2";
  chimney.at = {240 * in, 80 * in};
  chimney.size = {48 * in, 24 * in};
  model.obstacles = {chimney};
  const surface::Surface surface = tests::value_of(surface::raise(model));
  REQUIRE_FALSE(surface.blind_decks.empty());  // beneath the cricket
  for (const std::string& one : surface.assumptions) {
    CHECK_FALSE(has(one, "overlaid part"));
  }
}

namespace {

/// 40 x 28 ft, 6/12, heel 12 in, walls of 5 1/2 in, 2 ft of overhang, 24 in rafters; flat ceilings
/// west and east of x = 20 ft with a divider between, slots and a ridge vent over all.
model::RoofModel divided_gable(double west_in, double east_in) {
  const model::Edge side = support::eave(6, 2 * ft);
  const model::Edge end = support::gable();
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}}, {side, end, side, end});
  model.parts[0].heel_m = 12 * in;
  model.parts[0].wall_thickness_m = 5.5 * in;
  for (const bool is_west : {true, false}) {
    model::Ceiling one;
    one.id = is_west ? "west" : "east";
    const double from = is_west ? 0.0 : 20 * ft;
    one.outline = {{from, 0}, {from + 20 * ft, 0}, {from + 20 * ft, 28 * ft}, {from, 28 * ft}};
    one.insulation_m = (is_west ? west_in : east_in) * in;
    model.ceilings.push_back(one);
  }
  model.dividers = {{"wall", {20 * ft, 0}, {20 * ft, 28 * ft}}};
  model.intake = {whole_eave("front", "main/0"), whole_eave("back", "main/2")};
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  return model;
}

/// R806.3 by hand: the deck's top stands 12 + 5.5 / 2 in over the plate at its inner face.
double over_insulation_m(double insulation_in) {
  const double cosine = 2.0 / std::sqrt(5.0);
  return std::max(0.0, (14.75 - insulation_in) * cosine - 0.5) * in;
}

const codes::Test& room_of(const Worked& w, const std::string& compartment) {
  for (const codes::Test& one : w.tests.tests) {
    if (one.test == "space_over_insulation" &&
        w.attic.compartments[one.compartment].id == compartment) {
      return one;
    }
  }
  FAIL("no test of " << compartment);
  return w.tests.tests.front();
}

}  // namespace

TEST_CASE("insulation that fills the heel of some bays shuts those alone") {
  // R806.3 asks for 1 in at the vent. 16 in of insulation leave nothing, 8 in leave 5 1/2.
  const double open_m = over_insulation_m(8.0);
  CHECK(open_m / in == Approx(5.537).margin(5e-4));
  const Worked half = judged(divided_gable(16, 8));
  for (const vents::Slot& slot : half.vents.slots) {
    INFO(slot.id);
    CHECK_FALSE(slot.is_blocked);
    CHECK(*slot.space_over_insulation_m == Approx(0.0).margin(1e-12));
    for (const vents::SlotBay& part : slot.bays) {
      const double middle_u =
          0.5 * (half.framing.bays[part.bay].from_u_m + half.framing.bays[part.bay].to_u_m);
      const bool is_west = (slot.run == "front") == (middle_u < 20 * ft);
      CHECK(part.live != is_west);
      CHECK(part.block == (is_west ? vents::Block::insulation : vents::Block::none));
      CHECK(*part.space_over_insulation_m == Approx(is_west ? 0.0 : open_m).margin(1e-12));
    }
    // 10 in2/ft from the divider to 6 in inside the gable wall.
    CHECK(slot.free_area_m2 == Approx(195 * in * in));
  }
  CHECK_FALSE(room_of(half, "west").holds);
  CHECK(room_of(half, "west").measured == Approx(0.0).margin(1e-12));
  CHECK(room_of(half, "east").holds);
  CHECK(room_of(half, "east").measured == Approx(open_m));
  const std::vector<Finding> shut = all_of(half, "slot_over_blocked_overhang");
  REQUIRE(shut.size() == 2);
  CHECK(shut[0].severity == conflicts::Severity::warning);
  CHECK(has(shut[0].message, "over main/0/b1-b10,"));
  CHECK(has(shut[1].message, "over main/2/b11-b20,"));
  CHECK(shut[0].at.x == Approx(10.25 * ft).margin(2 * in));  // from 6 in to 20 ft
  CHECK(judged_roofs::is_quiet(half, "little_over_insulation"));
  // Filled on both sides nothing is left, and that is an error.
  const Worked full = judged(divided_gable(16, 15));
  for (const Finding& finding : all_of(full, "slot_over_blocked_overhang")) {
    CHECK(finding.severity == conflicts::Severity::error);
    CHECK_FALSE(has(finding.message, " clear"));
  }
  CHECK(full.vents.slots[SlotId(0U)].is_blocked);
}

TEST_CASE("too little over the insulation is told by the bays that have it") {
  // 14 in leave 0.171 in, 10 in leave 3.749.
  for (const bool is_west : {true, false}) {
    INFO(is_west);
    const Worked w = judged(is_west ? divided_gable(14, 10) : divided_gable(10, 14));
    const std::vector<Finding> found = all_of(w, "little_over_insulation");
    REQUIRE(found.size() == 2);
    CHECK(has(found[0].message, is_west ? "over main/0/b1-b10," : "over main/0/b11-b20,"));
    CHECK(has(found[1].message, is_west ? "over main/2/b11-b20," : "over main/2/b1-b10,"));
    CHECK(found[0].measured == "1/8\"");
    const codes::Test& thick = room_of(w, is_west ? "west" : "east");
    const codes::Test& thin = room_of(w, is_west ? "east" : "west");
    CHECK_FALSE(thick.holds);
    CHECK(thick.measured == Approx(over_insulation_m(14)));
    CHECK(thin.holds);
    CHECK(thin.measured == Approx(over_insulation_m(10)));
  }
}

TEST_CASE("a vault beside an attic is judged by its own rafters") {
  // 2x8 rafters, 7 1/4 in deep, with 6 3/4 in between them leave 1/2 in; the attic beside it has
  // room enough. Each rafter space has its own test (R806.3 names the location of the vent).
  model::RoofModel model = divided_gable(8, 6.75);
  model.dividers.clear();
  model.parts[0].framing.rafter = "2x8";
  model.ceilings[1].kind = model::CeilingKind::sloped;
  const Worked w = judged(model);
  std::size_t vaults = 0;
  for (const codes::Test& one : w.tests.tests) {
    if (one.test == "space_over_insulation" &&
        w.attic.compartments[one.compartment].is_rafter_space) {
      ++vaults;
      CHECK_FALSE(one.holds);
      CHECK(one.measured / in == Approx(0.5));
    }
  }
  CHECK(vaults == 20);
  CHECK(room_of(w, "west").holds);
  CHECK(room_of(w, "west").measured == Approx(over_insulation_m(8)));
}

TEST_CASE("a ceiling's border between two rafters: the cure is a rafter") {
  // Rafters at 20 and 22 ft, the border at 21' 6": on the front it lies 6 in from the right one of
  // its bay, which counts with the attic that lies under most of it.
  model::RoofModel model = divided_gable(8, 2);
  model.dividers.clear();
  model.ceilings[1].kind = model::CeilingKind::sloped;
  const auto with_border = [&](double at_ft) {
    model.ceilings[0].outline[1].x = model.ceilings[0].outline[2].x = at_ft * ft;
    model.ceilings[1].outline[0].x = model.ceilings[1].outline[3].x = at_ft * ft;
    return all_of(judged(model), "compartment_without_openings");
  };
  const std::vector<Finding> between = with_border(21.5);
  REQUIRE(between.size() == 2);  // on both slopes
  CHECK(has(between[0].message, "In east main/0/b11 there is no intake"));
  CHECK(has(between[0].remedy,
            "ceiling east lies 6\" inside bay main/0/b11, which counts with west"));
  CHECK(has(between[0].remedy, "1' 6\" to the left (main/0/r11) or 6\" to the right (main/0/r12)"));
  CHECK(has(between[1].remedy, "6\" to the left (main/2/r10) or 1' 6\" to the right (main/2/r11)"));
  CHECK(with_border(22).empty());
}
