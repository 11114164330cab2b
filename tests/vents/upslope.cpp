// Both positions of the over-deck intake by the figures of common practice (no source), ice
// barriers by published worked examples, soffits, drip edges, louvres.
#include "vents/courses.hpp"
#include "vents/practice.hpp"

#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <cmath>

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

Approx near(double value) { return Approx(value).epsilon(1e-9).margin(1e-9); }

model::RoofModel gable_house(double pitch, double overhang_in, double rake_ft = 1.0) {
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}},
                     {support::eave(pitch, overhang_in * in), support::gable(rake_ft * ft),
                      support::eave(pitch, overhang_in * in), support::gable(rake_ft * ft)});
  model.parts[0].heel_m = 12 * in;
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  return model;
}

model::IntakeRun upslope(const std::string& id, const std::string& plane) {
  model::IntakeRun run = whole_eave(id, plane);
  run.position = model::Position::upslope;
  return run;
}

const Slot& slot(const Worked& w, std::size_t i) { return w.vents.slots[SlotId(i)]; }

std::string fault_of(const model::RoofModel& model, const model::Catalogue& catalogue) {
  const surface::Surface surface = tests::value_of(surface::raise(model));
  const framing::Framing framing = framing::frame(model, surface);
  const attic::Attic attic = tests::value_of(attic::divide(model, surface, framing));
  const Result<vents::Vents> vents = vents::set_out(model, catalogue, surface, framing, attic);
  REQUIRE_FALSE(vents.ok());
  CHECK_FALSE(vents.faults()[0].what.empty());
  CHECK_FALSE(vents.faults()[0].cure.empty());
  return vents.faults()[0].code + " " + vents.faults()[0].where;
}

}  // namespace

TEST_CASE("the upslope slot is counted in courses from the eave") {
  // Common practice, no source. 8/12, 12 in of overhang: the wall line lies 12 x 14.4222 / 12 =
  // 14.4222 in up the slope. Rows of 5 5/8 in, starter 1/2 in past the drip edge: row 3 starts at
  // 2 x 5.625 - 0.5 = 10.75 in and ends at 16.375 in, so the wall line lies in row 3. Row 4 is laid
  // whole, row 5 starts at 22 in; face nails 4 1/2 in up it, lower slot line 5 in up it.
  model::RoofModel model = gable_house(8, 12);
  model.intake = {upslope("south", "main/0")};
  const Worked w = worked(model, small_roofs::catalogue());
  REQUIRE(w.vents.slots.size() == 1);
  const Slot& s = slot(w, 0);
  REQUIRE(s.courses);
  CHECK(s.wall_line_m == near(12 * std::sqrt(208.0) / 12.0 * in));
  CHECK(s.courses->wall_row == 3);
  CHECK(s.courses->whole_row() == 4);
  CHECK(s.courses->faced_row() == 5);
  CHECK(s.courses->wall_row_butt_m == near(10.75 * in));
  CHECK(s.courses->whole_row_butt_m == near(16.375 * in));
  CHECK(s.courses->faced_row_butt_m == near(22 * in));
  CHECK(s.courses->face_nails_m == near(26.5 * in));
  CHECK(s.courses->top_nails_below_m == near(1 * in));
  CHECK(s.lower_line_m == near(27 * in));
  CHECK(s.upper_line_m() == near(28.5 * in));
  CHECK(s.vent_low_m == near(22 * in));  // the vent stands on the lower edge of row m + 2
  CHECK(s.start_m == near(1.5 * ft));    // 6 in inside the gable-end wall
  CHECK(s.end_m == near(40.5 * ft));
  CHECK(s.vent_length_m == near(42 * ft));  // rake to rake
  CHECK_FALSE(s.is_over_overhang);
  // Inboard of the plate's inner face, 18 in in from the drip edge.
  CHECK(s.inner_face_m == near(18 * std::sqrt(208.0) / 12.0 * in));
  CHECK(s.lower_line_m > s.inner_face_m);
  CHECK(s.free_area_m2 == near(390 * in2));
  CHECK(w.finding("slot_over_plate") == nullptr);
}

TEST_CASE("on the upper slope of a gambrel the courses are counted from the pitch break") {
  // Common practice, no source; which row stands for the wall's is ours, for no wall stands there:
  // row 1, the first over the break. Row 3 starts at 2 x 5.625 - 0.5 = 10.75 in; slot 5 in up it.
  model::RoofModel model = gable_house(18, 12);
  for (const std::size_t edge : {0U, 2U}) {
    model.parts[0].edges[edge].breaks = {{8 * ft, units::Pitch::from_rise_run(7.0, 12.0)}};
  }
  model.exhaust[0].line = "main/0:b|main/2:b";
  model.intake = {upslope("south", "main/0:b")};
  model.site.snow = true;  // the ice barrier starts at the eave below
  const Worked w = worked(model, small_roofs::catalogue());
  REQUIRE(w.vents.slots.size() == 1);
  const Slot& s = slot(w, 0);
  REQUIRE(s.courses);
  CHECK(s.is_over_break);
  CHECK(s.courses->wall_row == 1);
  CHECK(s.courses->faced_row() == 3);
  CHECK(s.courses->faced_row_butt_m == near(10.75 * in));
  CHECK(s.lower_line_m == near(15.75 * in));
  // The break is 8 ft over the deck at the wall line, which the heel lifts by 1 ft.
  CHECK(s.from.z == near(9 * ft + 15.75 * in * 7.0 / std::sqrt(144.0 + 49.0)));
  CHECK(s.start_m == near(1.5 * ft));
  CHECK(s.end_m == near(40.5 * ft));
  CHECK(s.ice_barrier_m == 0.0);
  CHECK(s.free_area_m2 == near(390 * in2));
  for (const vents::SlotBay& part : s.bays) {
    CHECK(part.live);
  }
  CHECK(w.finding("slot_over_plate") == nullptr);
  CHECK(w.finding("slot_in_ice_barrier") == nullptr);
  // The eave position is for eaves.
  model.intake = {whole_eave("south", "main/0:b")};
  CHECK(fault_of(model, small_roofs::catalogue()) == "vent.run_outside /vents/intake/0/position");
}

TEST_CASE("a slope that ends below in valleys bears no slot") {
  // A steep part across a low gable roof: its slopes rise out of the main one.
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 20}, {0, 20}},
                     {support::eave(6), support::gable(), support::eave(6), support::gable()});
  model::RoofModel cross =
      support::house({{15, 0}, {25, 0}, {25, 20}, {15, 20}},
                     {support::gable(), support::eave(16), support::gable(), support::eave(16)});
  cross.parts[0].id = "cross";
  model.parts.push_back(cross.parts[0]);
  for (const char* plane : {"cross/1", "cross/3"}) {
    model.intake = {upslope("side", plane)};
    CHECK(fault_of(model, small_roofs::catalogue()) == "vent.run_outside /vents/intake/0/plane");
  }
}

TEST_CASE("exposure and starter are the job's own") {
  // 5 in and 1/4 in, wall line at 14.4222 in: row 3 from 9.75 to 14.75 in.
  model::Roofing roofing;
  roofing.exposure_m = 5 * in;
  roofing.starter_m = 0.25 * in;
  const vents::Courses c = vents::courses_at(roofing, 14.4222 * in);
  CHECK(c.wall_row == 3);
  CHECK(c.faced_row_butt_m == near(19.75 * in));
  // On the butt of a row, the wall line lies in that row.
  CHECK(vents::courses_at(roofing, 9.75 * in).wall_row == 3);
  CHECK(vents::courses_at(roofing, 9.74 * in).wall_row == 2);
  CHECK(vents::courses_at(roofing, 0.0).wall_row == 1);
}

TEST_CASE("law: the wall line lies in the exposure of its row") {
  for (const double exposure : {4.0, 5.0, 5.625, 8.0}) {
    for (double wall = 0.0; wall < 60.0; wall += 0.37) {
      model::Roofing roofing;
      roofing.exposure_m = exposure * in;
      const vents::Courses c = vents::courses_at(roofing, wall * in);
      CHECK(c.wall_row_butt_m <= wall * in + 1e-8);
      CHECK(wall * in < c.whole_row_butt_m + 1e-8);
    }
  }
}

TEST_CASE("ice barriers reach 24 in inside the wall, measured level") {
  // C13 to C15 [FH1], S: overhang 12 in, wall 6 in thick: 47 in at 6/12 (exact 46.957), 50 1/2 in
  // at 8/12 (50.478), 59 3/8 in at 12/12 (59.397).
  model::RoofModel model;
  model.parts.emplace_back();
  const auto reach = [&](double pitch, double overhang) {
    return vents::ice_barrier_reach_m(model, model.parts[0], units::Pitch::from_rise_run(pitch, 12),
                                      overhang * in) /
           in;
  };
  CHECK(reach(6, 12) == Approx(47.0).margin(0.1));
  CHECK(reach(8, 12) == Approx(50.5).margin(0.05));
  CHECK(reach(12, 12) == Approx(59.375).margin(0.05));
  // Measured from the outer face C13 would be 40.25 in.
  model.roofing.ice_barrier_from = model::WallFace::outer;
  CHECK(reach(6, 12) == Approx(40.25).margin(0.01));
  // C16, R905.1.2, S: from 8/12 on at least 36 in along the slope.
  CHECK(reach(8, 0) == Approx(36.0));
  CHECK(reach(7.9, 0) == Approx(24.0 * std::sqrt(144 + 7.9 * 7.9) / 12.0));
}

TEST_CASE("where an ice barrier is asked for") {
  model::RoofModel model;
  CHECK_FALSE(vents::has_ice_barrier(model));
  model.site.climate_zone = "5A";
  CHECK_FALSE(vents::has_ice_barrier(model));
  model.site.climate_zone = "6B";
  CHECK(vents::has_ice_barrier(model));
  model.roofing.ice_barrier = model::IceBarrier::none;
  CHECK_FALSE(vents::has_ice_barrier(model));
  model.site.climate_zone = "2A";
  model.roofing.ice_barrier = model::IceBarrier::by_climate;
  model.site.snow = true;
  CHECK(vents::has_ice_barrier(model));
}

TEST_CASE("the eave position by its figures") {
  // Common practice, no source: 6 1/2 in, 1 1/2 in, 6 in, 1 in over the edge, 18 in, 1 1/4 in, 3
  // in.
  model::RoofModel model = gable_house(8, 12);
  model.intake = {whole_eave("south", "main/0")};
  const Worked w = worked(model, tests::default_catalogue());
  const Slot& s = slot(w, 0);
  CHECK(s.lower_line_m == near(6.5 * in));
  CHECK(s.width_m == near(1.5 * in));
  CHECK(s.start_m == near(1 * ft + 6 * in));
  CHECK(s.vent_low_m == near(-1 * in));
  CHECK_FALSE(s.courses);
  CHECK_FALSE(s.left_mitre);
  CHECK(vents::practice::underlayment_strip_m == near(18 * in));
  CHECK(vents::practice::rake_metal_leg_m == near(1.25 * in));
  CHECK(tests::default_catalogue().products.at("over-deck-10").nail_length_m == near(3 * in));
}

TEST_CASE("mitres: at a square corner the offset is the depth times the cosine of the slope") {
  const model::Edge e = support::eave(6, 0);
  model::RoofModel model =
      support::house({{0, 0}, {12, 0}, {12, -10}, {28, -10}, {28, 0}, {40, 0}, {40, 24}, {0, 24}},
                     {e, e, support::gable(), e, e, support::gable(), e, support::gable()});
  model.intake = {whole_eave("west", "main/0")};
  model.exhaust = {whole_ridge("top", "main/0|main/6")};
  const Worked w = worked(model, small_roofs::catalogue());
  const Slot& s = slot(w, 0);
  CHECK_FALSE(s.left_mitre);
  REQUIRE(s.right_mitre);
  CHECK(s.right_mitre->is_valley);
  CHECK(s.right_mitre->plan_angle_rad == near(M_PI / 4));
  CHECK(s.right_mitre->offset_m == near(15 * in * 2.0 / std::sqrt(5.0)));
  // E-6, closed form: the strip's angle at a valley of 6/12 is 48.1897 degrees.
  CHECK(s.right_mitre->strip_angle_rad * 180 / M_PI == Approx(48.1897).margin(1e-4));
  model.intake[0].whole = false;
  model.intake[0].to_m = 8 * ft;
  CHECK_FALSE(slot(worked(model, small_roofs::catalogue()), 0).right_mitre);
}

TEST_CASE(
    "a run that ends over the slant of a valley or hip follows it, and lies on its own plane") {
  // The eave of main/0 goes on from its hip, u = 0, to the valley 12 ft on; at the upper edge of
  // the vent the plane is 15 in x 2 / sqrt(5) longer there and as much shorter at the hip.
  const model::Edge e = support::eave(6, 0);
  model::RoofModel model =
      support::house({{0, 0}, {12, 0}, {12, -10}, {28, -10}, {28, 0}, {40, 0}, {40, 24}, {0, 24}},
                     {e, e, support::gable(), e, e, e, e, e});
  model.intake = {whole_eave("west", "main/0")};
  model.exhaust = {whole_ridge("top", "main/0|main/6")};
  const Worked all = worked(model, small_roofs::catalogue());
  const Slot whole = slot(all, 0);
  REQUIRE(whole.left_mitre);
  REQUIRE(whole.right_mitre);
  model.intake[0].whole = false;
  for (const double past_ft : {0.02, 0.3, 0.7}) {
    CAPTURE(past_ft);
    model.intake[0].from_m = past_ft * ft;
    model.intake[0].to_m = (12 + (past_ft < 0.1 ? 0.3 : past_ft / 2)) * ft;
    const Worked w = worked(model, small_roofs::catalogue());
    const Slot& s = slot(w, 0);
    REQUIRE(s.left_mitre);
    REQUIRE(s.right_mitre);
    CHECK(s.vent_from_m == near(whole.vent_from_m));
    CHECK(s.vent_to_m == near(whole.vent_to_m));
    CHECK(s.right_mitre->offset_m == near(whole.right_mitre->offset_m));
  }
  model.intake[0].from_m = 2 * ft;
  model.intake[0].to_m = 12 * ft;
  const Worked square = worked(model, small_roofs::catalogue());
  CHECK_FALSE(slot(square, 0).left_mitre);
  CHECK_FALSE(slot(square, 0).right_mitre);
  CHECK(slot(square, 0).vent_to_m == near(12 * ft));
}

TEST_CASE("mitres at hips between unequal slopes") {
  // G16 (8/12 and 14/12 at a square corner): strip angles 64.57091 on 8/12, 41.28481 on 14/12.
  const model::Edge side = support::eave(8, 0);
  const model::Edge end = support::eave(14, 0);
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {side, end, side, end});
  model.intake = {whole_eave("side", "main/0"), whole_eave("end", "main/1")};
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  const Worked w = worked(model, small_roofs::catalogue());
  REQUIRE(w.vents.slots.size() == 2);
  for (const auto& [index, angle] : {std::pair{0, 64.57091}, std::pair{1, 41.28481}}) {
    const Slot& s = slot(w, static_cast<std::size_t>(index));
    for (const auto& mitre : {s.left_mitre, s.right_mitre}) {
      REQUIRE(mitre);
      CHECK_FALSE(mitre->is_valley);
      CHECK(mitre->strip_angle_rad * 180 / M_PI == Approx(angle).margin(1e-5));
      CHECK(mitre->offset_m == near(15 * in / std::tan(mitre->strip_angle_rad)));
    }
  }
}

TEST_CASE("a full heel shuts a slot over the overhang, a thin gap narrows it") {
  model::RoofModel model = gable_house(8, 12);
  model.intake = {whole_eave("south", "main/0")};
  model.ceilings = {
      {"attic", model::CeilingKind::flat, model.parts[0].outline, 0.0, 16 * in, false}};
  const Worked full = worked(model, small_roofs::catalogue());
  CHECK(slot(full, 0).block == vents::Block::insulation);
  CHECK(slot(full, 0).free_area_m2 == 0.0);
  REQUIRE(full.finding("slot_over_blocked_overhang") != nullptr);
  // Heel 12 in, inner face 6 in in at 8/12: deck top 16 in over the plate there; less insulation of
  // 14.9 in and 1/2 in of deck.
  model.ceilings[0].insulation_m = 14.9 * in;
  const Worked thin = worked(model, small_roofs::catalogue());
  const double space = (1.1 * 12.0 / std::sqrt(208.0) - 0.5);
  CHECK(*slot(thin, 0).space_over_insulation_m == near(space * in));
  for (const vents::SlotBay& part : slot(thin, 0).bays) {
    CHECK(part.free_area_m2 <= space * in * part.open_length_m * (1 + 1e-9));
  }
  CHECK(slot(thin, 0).free_area_m2 < 390 * in2);
  CHECK(slot(thin, 0).free_area_m2 > 0.0);
  model.ceilings[0].baffles = true;
  CHECK(slot(worked(model, small_roofs::catalogue()), 0).free_area_m2 == near(390 * in2));
}

TEST_CASE("soffit strips lie in the middle of a vented overhang") {
  model::RoofModel model = gable_house(8, 24);
  for (model::Edge& edge : model.parts[0].edges) {
    edge.soffit = model::Soffit::vented;
  }
  model.intake = {whole_eave("south", "main/0")};
  model.intake[0].product = "soffit-strip-9";
  const Worked w = worked(model, tests::default_catalogue());
  REQUIRE(w.vents.slots.size() == 1);
  const Slot& s = slot(w, 0);
  const double slope = std::sqrt(208.0) / 12.0;
  CHECK(s.lower_line_m == near((12 - 1.25) * slope * in));
  CHECK(s.width_m == near(2.5 * slope * in));
  CHECK(s.from.z == near(w.surface.planes[s.plane].frame.origin.z));  // level with the drip edge
  // From the middle of one end rafter, flush with the wall, to that of the other.
  CHECK(s.free_area_m2 == near(9 * in2 / ft * (40 * 12 - 1.5) * in));
  CHECK_FALSE(s.is_blocked);
  model.parts[0].edges[0].soffit = model::Soffit::closed;
  const Worked closed = worked(model, tests::default_catalogue());
  CHECK(slot(closed, 0).block == vents::Block::closed_soffit);
  CHECK(slot(closed, 0).free_area_m2 == 0.0);
  // No overhang to lie in: nothing is set out, and it is found.
  model.parts[0].edges[0].overhang_m = 2 * in;
  model.parts[0].edges[2].overhang_m = 2 * in;
  const Worked none = worked(model, tests::default_catalogue());
  CHECK(none.vents.slots.empty());
  CHECK(none.finding("slot_too_short") != nullptr);
}

TEST_CASE("soffit pieces stand at their spacing in the middle of the run") {
  model::RoofModel model = gable_house(8, 24);
  model.parts[0].edges[0].soffit = model::Soffit::open;
  model::IntakeRun run = whole_eave("south", "main/0");
  run.whole = false;
  run.from_m = 11 * ft;
  run.to_m = 31 * ft;
  run.product = "soffit-grille-65";
  run.every_m = 4 * ft;
  model.intake = {run};
  const Worked w = worked(model, tests::default_catalogue());
  // 20 ft hold 16 in + 4 x 4 ft = 17 ft 4 in: five grilles, 16 in left at each end.
  REQUIRE(w.vents.slots.size() == 5);
  CHECK(slot(w, 0).start_m == near(11 * ft + 16 * in));
  CHECK(slot(w, 4).end_m == near(31 * ft - 16 * in));
  double sum = 0.0;
  for (const Slot& s : w.vents.slots) {
    CHECK(s.end_m - s.start_m == near(16 * in));
    sum += s.free_area_m2;
  }
  CHECK(sum == near(5 * 65 * in2));
  REQUIRE_FALSE(w.takeoff.order.empty());
  CHECK(w.takeoff.order[0].quantity == 5.0);
}

TEST_CASE("drip-edge intake opens at the deck's lower edge") {
  model::RoofModel model = gable_house(8, 12);
  model.intake = {whole_eave("south", "main/0")};
  model.intake[0].product = "drip-edge-9";
  const Worked w = worked(model, tests::default_catalogue());
  REQUIRE(w.vents.slots.size() == 1);
  CHECK(slot(w, 0).lower_line_m == 0.0);
  CHECK(slot(w, 0).free_area_m2 == near(9 * in2 / ft * 39 * ft));
  model.intake[0].position = model::Position::upslope;
  CHECK(fault_of(model, tests::default_catalogue()) == "vent.position /vents/intake/0/position");
}

TEST_CASE("gable louvres stand in their wall and serve the attic behind it") {
  model::RoofModel model = gable_house(8, 12);
  model::ExhaustVent louvre;
  louvre.id = "louvre";
  louvre.product = "gable-60";
  louvre.wall = "main/1";
  louvre.at = {14 * ft, 8 * ft};
  model.exhaust = {louvre};
  const Worked w = worked(model, tests::default_catalogue());
  REQUIRE(w.vents.exhausts.size() == 1);
  const vents::Exhaust& e = w.vents.exhausts[ExhaustId(0U)];
  CHECK(e.free_area_m2 == near(60 * in2));
  CHECK(e.compartment == CompartmentId(0U));
  CHECK(e.from.x == near(40 * ft));  // the outer face of the east wall
  CHECK(e.from.y == near(14 * ft));
  CHECK(e.from.z == near(8 * ft));
  CHECK(w.vents.bays[BayId(3U)].live);
  model.exhaust[0].at = {4 * ft, 8 * ft};  // above the roof there
  CHECK(fault_of(model, tests::default_catalogue()) == "vent.run_outside /vents/exhaust/0/at");
  model.exhaust[0].at = {14 * ft, 0.0};  // half of it below the plate
  CHECK(fault_of(model, tests::default_catalogue()) == "vent.run_outside /vents/exhaust/0/at");
  model.exhaust[0].wall = "main/0";
  CHECK(fault_of(model, tests::default_catalogue()) == "vent.wall_kind /vents/exhaust/0/wall");
  model.exhaust[0].wall.clear();
  model.exhaust[0].plane = "main/0";
  CHECK(fault_of(model, tests::default_catalogue()) == "vent.place /vents/exhaust/0");
  // The highest place: rise of the deck's underside at 6 in from the middle, less the 18 in of the
  // louvre, in whole inches.
  const auto highest = vents::highest_louvre_place(
      w.model, w.surface, "main/1", tests::default_catalogue().products.at("gable-60"));
  REQUIRE(highest);
  const double underside = (14 * 12 - 6) * 8.0 / 12.0 + 12 - 0.5;  // in over the plate
  CHECK(highest->x == near(14 * ft));
  CHECK(highest->y == near((std::floor(underside) - 9) * in));
}

TEST_CASE("hip vents: the cut slot counts where it is smaller") {
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 24}, {0, 24}},
                     {support::eave(6), support::eave(6), support::eave(6), support::eave(6)});
  model::ExhaustVent hip = whole_ridge("hip", "main/0|main/1");
  hip.product = "hip-9";
  model.exhaust = {hip};
  model::Catalogue catalogue = tests::default_catalogue();
  catalogue.products["hip-9"].pitch_min = units::Pitch::from_rise_run(2, 12);
  const Worked w = worked(model, catalogue);
  REQUIRE(w.vents.exhausts.size() == 1);
  const vents::Exhaust& e = w.vents.exhausts[ExhaustId(0U)];
  CHECK(e.slot_area_m2 > 0.0);
  CHECK(e.open_length_m < e.length_m);
  CHECK(e.free_area_m2 == near(std::min(9 * in2 / ft * e.length_m, e.slot_area_m2)));
  CHECK(e.slot_area_m2 <= 2 * 0.5 * in * e.length_m);
}
