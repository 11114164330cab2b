// Sloped, open and unvented ceilings, knee walls and what joins rafter spaces, worked by hand
// (docs/attic.md shows the working). Feet.
#include "attic/stage.hpp"
#include "units/length.hpp"

#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <set>

using namespace ridgeward;
using small_roofs::ft;
using small_roofs::in;
using tests::Worked;

namespace {

Approx near(double value) { return Approx(value).epsilon(1e-9); }
const double ft2 = ft * ft;
const double ft3 = ft2 * ft;

struct Box {
  double x0, y0, x1, y1;
};

model::Ceiling ceiling(const std::string& id, model::CeilingKind kind, const Box& b,
                       double height_ft = 8.0, double insulation_in = 6.0) {
  model::Ceiling one;
  one.id = id;
  one.kind = kind;
  one.outline = {{b.x0 * ft, b.y0 * ft},
                 {b.x1 * ft, b.y0 * ft},
                 {b.x1 * ft, b.y1 * ft},
                 {b.x0 * ft, b.y1 * ft}};
  one.height_m = height_ft * ft;
  one.insulation_m = insulation_in * in;
  return one;
}

model::RoofModel gable_house(double rise = 6.0, double overhang_ft = 0.0) {
  const model::Edge e = support::eave(rise, overhang_ft * ft);
  const model::Edge g = support::gable();
  model::RoofModel model = support::house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {e, g, e, g});
  model.parts[0].plate_m = 8 * ft;
  return model;
}

model::RoofModel hip_house() {
  const model::Edge e = support::eave(6);
  model::RoofModel model = support::house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {e, e, e, e});
  model.parts[0].plate_m = 8 * ft;
  return model;
}

void vent_all(model::RoofModel& model, const std::vector<std::string>& eaves) {
  for (const std::string& eave : eaves) {
    model.intake.push_back(small_roofs::whole_eave("at-" + eave.substr(5), eave));
  }
  model.exhaust.push_back(small_roofs::whole_ridge("top", "main/0|main/2"));
}

Worked work(const model::RoofModel& model) {
  Worked w = tests::worked(model, tests::default_catalogue(), tests::code_set("us-irc-2021"));
  for (const std::string& broken : attic::verify(w.framing, w.attic)) {
    FAIL_CHECK(broken);
  }
  return w;
}

BayId bay(const Worked& w, const std::string& id) {
  for (const BayId one : w.framing.bays.ids()) {
    if (w.framing.bays[one].id == id) {
      return one;
    }
  }
  FAIL("no bay " << id);
  return {};
}

const attic::Space& space(const Worked& w, const std::string& id) {
  for (const attic::Space& one : w.attic.spaces) {
    if (one.id == id) {
      return one;
    }
  }
  FAIL("no space " << id);
  return *w.attic.spaces.begin();
}

std::string why(const Worked& w, const std::string& id) { return w.vents.bays[bay(w, id)].why; }

std::size_t live_bays(const Worked& w) {
  return static_cast<std::size_t>(std::count_if(w.vents.bays.begin(), w.vents.bays.end(),
                                                [](const auto& state) { return state.live; }));
}

double floors_m2(const Worked& w) {
  double sum = 0.0;
  for (const attic::Compartment& one : w.attic.compartments) {
    sum += one.floor_area_m2;
  }
  return sum;
}

const auto flat = model::CeilingKind::flat;
const auto sloped = model::CeilingKind::sloped;

/// A Cape: 12/12 over 24 ft, knee walls 5 ft in, sloped to 9 ft in, collar-tie ceiling at 16 ft.
model::RoofModel cape(double slope_insulation_in = 6.0) {
  model::RoofModel model = gable_house(12, 1.0);
  model.ceilings = {ceiling("south-knee", flat, {0, 0, 40, 5}),
                    ceiling("south-slope", sloped, {0, 5, 40, 9}, 0, slope_insulation_in),
                    ceiling("loft", flat, {0, 9, 40, 15}, 16),
                    ceiling("north-slope", sloped, {0, 15, 40, 19}, 0, slope_insulation_in),
                    ceiling("north-knee", flat, {0, 19, 40, 24})};
  vent_all(model, {"main/0", "main/2"});
  return model;
}

}  // namespace

TEST_CASE("a gable with a sloped ceiling: every rafter space by itself") {
  model::RoofModel model = gable_house(6, 1.0);
  model.ceilings = {ceiling("vault", sloped, {0, 0, 40, 24})};
  vent_all(model, {"main/0", "main/2"});
  const Worked w = work(model);
  // Rafters 24 in on centre, end rafters flush in the gable-end walls: 20 bays a side.
  REQUIRE(w.framing.bays.size() == 40);
  REQUIRE(w.attic.compartments.size() == 40);
  for (const attic::Compartment& one : w.attic.compartments) {
    CHECK(one.is_rafter_space);
    CHECK(one.floor_area_m2 / ft2 == near(24.0));  // 2 ft x 12 ft, to the middle of the rafters
    CHECK(one.bottom_m / ft == near(8.0));
    CHECK(one.top_m / ft == near(14.0));
  }
  const attic::Space& fifth = space(w, "vault main/0/b5");
  CHECK(fifth.clear_m / in == near(1.25));  // 7 1/4 in of rafter less 6 in
  CHECK(fifth.volume_m3 / ft3 == near(22.5 / 12 * 12 * std::sqrt(1.25) * 1.25 / 12));
  CHECK(w.vents.bays[bay(w, "main/0/b5")].why == "up the bay, out at ridge vent top");
  CHECK(*w.attic.bays[bay(w, "main/0/b5")].throat_m / in == near(1.25));
  CHECK(live_bays(w) == 40);
  // Over-deck intake 10 in2/ft over 2 ft, ridge vent 12 in2/ft half to each side. In the end bays
  // slot and vent start 6 in from the wall.
  for (const CompartmentId id : w.attic.compartments.ids()) {
    const bool is_end =
        w.framing.bays[w.attic.spaces[w.attic.compartments[id].spaces[0]].bay].left.value == 0 ||
        w.vents.totals[id].intake_m2 < 19 * in * in;
    CHECK(w.vents.totals[id].intake_m2 / (in * in) == near(is_end ? 15.0 : 20.0));
    CHECK(w.vents.totals[id].exhaust_m2 / (in * in) == near(is_end ? 9.0 : 12.0));
  }
  // 24 ft2 / 150 = 23.04 in2 a space: 32 in2 are enough. At 1/300 12 in2 of 11.52 are high.
  CHECK(w.tests.required[CompartmentId(4U)].ratio == 150.0);
  CHECK(w.tests.required[CompartmentId(4U)].required_m2 / (in * in) == near(23.04));
}

TEST_CASE("insulation as deep as the rafter leaves no throat, baffles keep an inch") {
  model::RoofModel model = gable_house(6, 1.0);
  model.ceilings = {ceiling("vault", sloped, {0, 0, 40, 24}, 0, 7.25)};
  const Worked full = work(model);
  CHECK(*full.attic.bays[bay(full, "main/0/b5")].throat_m == 0.0);
  CHECK(space(full, "vault main/0/b5").volume_m3 == 0.0);
  for (const attic::Join& join : full.attic.joins) {
    CHECK(join.kind == attic::JoinKind::over_plate);
    CHECK_FALSE(join.is_open);
  }
  model.ceilings[0].baffles = true;
  const Worked baffled = work(model);
  CHECK(*baffled.attic.bays[bay(baffled, "main/0/b5")].throat_m / in == near(1.0));
  model.parts[0].framing.blocking = model::Blocking::solid;
  const Worked blocked = work(model);
  CHECK(blocked.attic.bays[bay(blocked, "main/0/b5")].is_blocked);
  CHECK_FALSE(blocked.attic.joins.begin()->is_open);
}

TEST_CASE("throat over a flat ceiling: heel, insulation, baffles") {
  model::RoofModel model = gable_house(6, 1.0);
  model.parts[0].heel_m = 8 * in;
  model.ceilings = {ceiling("attic", flat, {0, 0, 40, 24}, 8, 6)};
  const double cosine = 2.0 / std::sqrt(5.0);
  // At the inner face, 6 in in, the deck stands 8 + 3 in over the ceiling; 1/2 in of deck.
  const Worked w = work(model);
  CHECK(*w.attic.bays[bay(w, "main/0/b5")].throat_m / in == near(5 * cosine - 0.5));
  model.ceilings[0].insulation_m = 1 * in;  // now the plate's outer face is narrower
  const Worked thin = work(model);
  CHECK(*thin.attic.bays[bay(thin, "main/0/b5")].throat_m / in == near(8 * cosine - 0.5));
  model.ceilings[0].insulation_m = 14 * in;
  const Worked thick = work(model);
  CHECK(*thick.attic.bays[bay(thick, "main/0/b5")].throat_m == 0.0);
  model.ceilings[0].baffles = true;
  const Worked baffled = work(model);
  CHECK(*baffled.attic.bays[bay(baffled, "main/0/b5")].throat_m / in == near(1.0));
}

TEST_CASE("a hip roof with a sloped ceiling: jacks dead, commons live") {
  model::RoofModel model = hip_house();
  model.ceilings = {ceiling("vault", sloped, {0, 0, 40, 24})};
  vent_all(model, {"main/0", "main/1", "main/2", "main/3"});
  const Worked w = work(model);
  CHECK(floors_m2(w) / ft2 == near(960.0));
  // The ridge runs from 12 ft to 28 ft: 8 bays a side reach it.
  CHECK(live_bays(w) == 16);
  for (const BayId id : w.framing.bays.ids()) {
    const framing::Bay& one = w.framing.bays[id];
    const bool is_common = w.surface.lines[one.head].kind == surface::LineKind::ridge;
    INFO(one.id << ": " << w.vents.bays[id].why);
    CHECK(w.vents.bays[id].live == is_common);
    if (!is_common) {
      CHECK(w.vents.bays[id].why ==
            "dies at the hip " + w.surface.lines[one.head].id + ": nothing joins it on");
    }
  }
  const conflicts::Finding* dead = w.finding("dead_bay_slot");
  REQUIRE(dead != nullptr);
  CHECK(dead->message.find("b1-b") != std::string::npos);  // told together, not one by one
}

TEST_CASE("dropped or drilled hips join the jacks on, a vent over the hip serves them") {
  model::RoofModel model = hip_house();
  model.ceilings = {ceiling("vault", sloped, {0, 0, 40, 24})};
  vent_all(model, {"main/0", "main/1", "main/2", "main/3"});
  for (const model::Way way : {model::Way::dropped, model::Way::drilled}) {
    model.parts[0].framing.air_past.hips = way;
    const Worked w = work(model);
    CHECK(live_bays(w) == w.framing.bays.size());
    // Around each peak the jacks of three planes and the first common of both sides; the other six
    // commons of each side alone.
    CHECK(w.attic.compartments.size() == 14);
    CHECK(floors_m2(w) / ft2 == near(960.0));
    CHECK(why(w, "main/0/b1").find("up the bay, along the hip main/0|main/3, into bay main/") == 0);
  }
  model.parts[0].framing.air_past.hips = model::Way::tight;
  for (const char* hip : {"main/0|main/1", "main/0|main/3", "main/2|main/1", "main/2|main/3"}) {
    model::ExhaustVent vent = small_roofs::whole_ridge(hip, hip);
    vent.product = "hip-9";
    model.exhaust.push_back(vent);
  }
  const Worked w = work(model);
  CHECK(live_bays(w) == w.framing.bays.size());
  CHECK(why(w, "main/0/b3") == "up the bay, out at hip vent main/0|main/3");
  CHECK(w.attic.compartments.size() == w.framing.bays.size());
  // 9 in2/ft, half to each side; the third bay's 24 in of eave are 36 in of hip (run 12, run 12,
  // rise 6 in: 18 in for 12), of which its slot, 1/2 in wide, opens 22 1/2 / 24.
  const vents::Exhaust* hip = nullptr;
  for (const vents::Exhaust& one : w.vents.exhausts) {
    hip = one.id == "main/0|main/3" ? &one : hip;
  }
  REQUIRE(hip != nullptr);
  const auto share = std::find_if(hip->shares.begin(), hip->shares.end(),
                                  [&](const auto& one) { return one.bay == bay(w, "main/0/b3"); });
  REQUIRE(share != hip->shares.end());
  CHECK(share->open_length_m / in == near(36.0 * 22.5 / 24.0));
  CHECK(share->free_area_m2 / (in * in) == near(0.5 * 9.0 * 3.0));
}

TEST_CASE("a Cape: low attics behind knee walls join the top attic through the slopes") {
  const Worked w = work(cape());
  REQUIRE(w.attic.compartments.size() == 1);
  const attic::Compartment& all = w.attic.compartments[CompartmentId(0U)];
  CHECK(all.id == "south-knee+loft+north-knee");
  CHECK_FALSE(all.is_rafter_space);
  CHECK(all.floor_area_m2 / ft2 == near(960.0));
  CHECK(space(w, "south-knee").volume_m3 / ft3 == near(5.0 * 5 / 2 * 40));
  CHECK(space(w, "loft").volume_m3 / ft3 == near((6 * 1 + 6 * 3 / 2.0) * 40));
  // 20 bays a side, 448 1/2 in clear in all, 4 ft of run, 1 1/4 in deep.
  const double slope = 448.5 / 12 * 4 * std::sqrt(2.0) * 1.25 / 12;
  CHECK(all.volume_m3 / ft3 == near(2 * 500 + 600 + 2 * slope));
  CHECK(all.top_m / ft == near(20.0));
  CHECK(all.bottom_m / ft == near(8.0));
  CHECK(live_bays(w) == 40);
  CHECK(why(w, "main/0/b5") ==
        "into south-knee, over the knee wall up bay main/0/b5, into loft, out at ridge vent top");
  std::size_t ends = 0;
  for (const attic::Join& join : w.attic.joins) {
    if (join.kind == attic::JoinKind::bay_end && join.bay == bay(w, "main/0/b5")) {
      ++ends;
      CHECK(join.area_m2 / (in * in) == near(22.5 * 1.25));
    }
  }
  CHECK(ends == 2);
}

TEST_CASE("a Cape with stuffed slopes: the low attics have no way out") {
  const Worked w = work(cape(7.25));
  CHECK(w.attic.compartments.size() == 3 + 40);
  CHECK(why(w, "main/0/b5") == "into south-knee, which has no exhaust");
  CHECK(live_bays(w) == 0);
  CHECK(floors_m2(w) / ft2 == near(960.0));
}

TEST_CASE("a fire wall splits a compartment and changes verdicts") {
  model::RoofModel model = cape();
  model.parts[0].heel_m = 20 * in;  // room for air over the insulation at the plates
  model.exhaust[0].whole = false;
  model.exhaust[0].from_m = 1 * ft;
  model.exhaust[0].to_m = 19 * ft;
  const Worked before = work(model);
  CHECK(live_bays(before) == 40);
  CHECK(before.finding("compartment_without_openings") == nullptr);
  model.dividers = {{"fire-wall", {20 * ft, 0}, {20 * ft, 24 * ft}}};
  const Worked after = work(model);
  REQUIRE(after.attic.compartments.size() == 2);
  CHECK(live_bays(after) == 20);
  CHECK(after.attic.compartments[CompartmentId(0U)].floor_area_m2 / ft2 == near(480.0));
  CHECK(after.attic.compartments[CompartmentId(1U)].floor_area_m2 / ft2 == near(480.0));
  const conflicts::Finding* lone = after.finding("compartment_without_openings");
  REQUIRE(lone != nullptr);
  CHECK(lone->severity == conflicts::Severity::error);
  // The ceilings drawn apart at the wall say the same as the wall splitting one ceiling.
  model::RoofModel drawn = gable_house(6);
  drawn.ceilings = {ceiling("west", flat, {0, 0, 20, 24}), ceiling("east", flat, {20, 0, 40, 24})};
  CHECK(work(drawn).attic.compartments.size() == 1);
  drawn.dividers = model.dividers;
  CHECK(work(drawn).attic.compartments.size() == 2);
}

TEST_CASE("a flat ceiling beside a sloped one") {
  model::RoofModel model = gable_house(6);
  model.ceilings = {ceiling("rooms", flat, {0, 0, 20, 24}),
                    ceiling("hall", sloped, {20, 0, 40, 24})};
  vent_all(model, {"main/0", "main/2"});
  const Worked w = work(model);
  CHECK(w.attic.compartments.size() == 1 + 20);
  CHECK(floors_m2(w) / ft2 == near(960.0));
  CHECK(why(w, "main/0/b3") == "into rooms, out at ridge vent top/1");
  CHECK(why(w, "main/0/b15") == "up the bay, out at ridge vent top/2");
  CHECK(live_bays(w) == 40);
  // The ridge vent: half of its stretch over the attic, the other half bay by bay.
  REQUIRE(w.vents.exhausts.size() == 2);
  CHECK(w.vents.exhausts[ExhaustId(0U)].shares.empty());
  CHECK(w.vents.exhausts[ExhaustId(1U)].shares.size() == 20);
}

TEST_CASE("under the ridge, a flat ceiling on one side only") {
  model::RoofModel model = gable_house(6);
  model.ceilings = {ceiling("loft", flat, {0, 12, 40, 24}),
                    ceiling("hall", sloped, {0, 0, 40, 12})};
  vent_all(model, {"main/0", "main/2"});
  const Worked w = work(model);
  // The bays of the hall run out into nothing at the ridge but the vent: the loft ends at it.
  CHECK(floors_m2(w) / ft2 == near(960.0));
  CHECK(live_bays(w) == 40);
  double loft_m2 = 0.0;
  for (const vents::ExhaustShare& share : w.vents.exhausts[ExhaustId(0U)].shares) {
    loft_m2 += share.bay.is_none() ? share.free_area_m2 : 0.0;
  }
  CHECK(loft_m2 / (in * in) == near(39 * 6.0));
}

TEST_CASE("unvented and open ceilings: nothing to vent, and nothing may be cut") {
  model::RoofModel model = gable_house(6, 1.0);
  model.ceilings = {ceiling("foam", model::CeilingKind::unvented, {0, 0, 40, 24})};
  vent_all(model, {"main/0"});
  const Worked w = work(model);
  CHECK(w.attic.compartments.empty());
  CHECK(why(w, "main/0/b5") == "over the unvented ceiling foam: foam against the deck");
  std::size_t cuts = 0;
  for (const conflicts::Finding& finding : w.findings) {
    cuts += finding.kind == "cut_into_unvented" ? 1 : 0;
    CHECK(finding.severity == conflicts::Severity::error);
  }
  CHECK(cuts == 2);  // slot and ridge vent
  model.ceilings[0].kind = model::CeilingKind::open;
  const Worked open = work(model);
  CHECK(open.attic.compartments.empty());
  CHECK(why(open, "main/0/b5") == "over the open room foam, which has no vented space");
  CHECK(open.finding("cut_into_unvented") == nullptr);
  CHECK(open.finding("opens_on_nothing") != nullptr);
}

TEST_CASE("bays below a skylight die at its header unless holes lead past it") {
  model::RoofModel model = gable_house(6);
  model.ceilings = {ceiling("vault", sloped, {0, 0, 40, 24})};
  vent_all(model, {"main/0", "main/2"});
  model::Obstacle light;
  light.id = "light";
  light.kind = model::ObstacleKind::skylight;
  light.plane = "main/0";
  light.at = {20 * ft, 6 * ft};
  light.size = {3 * ft, 3 * ft};
  model.obstacles = {light};
  const Worked w = work(model);
  std::size_t below = 0;
  for (const BayId id : w.framing.bays.ids()) {
    if (!w.framing.bays[id].head_header.is_none()) {
      ++below;
      CHECK_FALSE(w.vents.bays[id].live);
      CHECK(w.vents.bays[id].why == "dies at the header below light: nothing joins it on");
    }
  }
  CHECK(below > 0);
  CHECK(floors_m2(w) / ft2 == near(960.0));
  model.parts[0].framing.air_past.headers = model::Way::drilled;
  const Worked drilled = work(model);
  CHECK(live_bays(drilled) == drilled.framing.bays.size());
  for (const BayId id : drilled.framing.bays.ids()) {
    if (!drilled.framing.bays[id].head_header.is_none()) {
      CHECK(drilled.vents.bays[id].why.find("up the bay, through the holes beside the header at "
                                            "light into bay main/0/b") == 0);
    }
  }
}

TEST_CASE("a gambrel with a sloped ceiling: bays go on past the pitch break") {
  model::RoofModel model = gable_house(20);
  for (const std::size_t edge : {0U, 2U}) {
    model.parts[0].edges[edge].breaks = {{6 * ft, units::Pitch::from_rise_run(6, 12)}};
  }
  model.ceilings = {ceiling("vault", sloped, {0, 0, 40, 24})};
  const surface::Surface surface = tests::value_of(surface::raise(model));
  for (const surface::Line& line : surface.lines) {
    if (line.kind == surface::LineKind::ridge) {
      model.exhaust.push_back(small_roofs::whole_ridge("top", line.id));
    }
  }
  const Worked w = work(model);
  CHECK(live_bays(w) == w.framing.bays.size());
  CHECK(w.attic.compartments.size() == 40);  // lower and upper bay together
  CHECK(floors_m2(w) / ft2 == near(960.0));
  CHECK(why(w, "main/0/b5").find("up the bay, past the pitch break ") == 0);
}

TEST_CASE("a tower of ceilings never shares an attic with a porch through a wall") {
  // Main plate 16 ft, porch at 8 ft against its wall: ceilings side by side, wall between.
  model::RoofModel model = gable_house(6);
  model.parts[0].plate_m = 16 * ft;
  model::Part porch =
      support::house({{10, -10}, {30, -10}, {30, 0}, {10, 0}},
                     {support::eave(3), support::gable(), support::gable(), support::gable()})
          .parts[0];
  porch.id = "porch";
  porch.plate_m = 8 * ft;
  model.parts.push_back(porch);
  model.ceilings = {ceiling("rooms", flat, {0, 0, 40, 24}, 16),
                    ceiling("porch", flat, {10, -10, 30, 0}, 8)};
  CHECK(work(model).attic.compartments.size() == 2);
}
