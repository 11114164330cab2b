// Houses of several parts by hand: from the surface to framing, attic and takeoff. Feet.
#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ridgeward;
using framing::MemberKind;
using small_roofs::ft;
using small_roofs::in;
using support::eave;
using support::gable;
using tests::Worked;

namespace {

Approx near(double value) { return Approx(value).epsilon(1e-9); }

model::Part part(const std::string& id, const std::vector<glm::dvec2>& corners,
                 const std::vector<model::Edge>& edges, double plate_ft = 8.0) {
  model::Part one = support::house(corners, edges).parts[0];
  one.id = id;
  one.plate_m = plate_ft * ft;
  return one;
}

model::RoofModel house_of(const std::vector<model::Part>& parts) {
  model::RoofModel model;
  model.parts = parts;
  return model;
}

model::Part main_gable(double rise = 6.0, double plate_ft = 8.0) {
  return part("main", {{0, 0}, {40, 0}, {40, 24}, {0, 24}},
              {eave(rise), gable(), eave(rise), gable()}, plate_ft);
}

model::RoofModel tee() {
  return house_of({main_gable(), part("wing", {{12, -20}, {28, -20}, {28, 12}, {12, 12}},
                                      {gable(), eave(6), gable(), eave(6)})});
}

Worked worked(const model::RoofModel& model) {
  Worked w = tests::worked(model, small_roofs::catalogue());
  for (const std::string& broken : framing::verify(w.surface, w.framing)) {
    FAIL_CHECK(broken);
  }
  return w;
}

std::vector<double> lengths_of(const Worked& w, surface::LineKind kind) {
  std::vector<double> all;
  for (const surface::Line& line : w.surface.lines) {
    if (line.kind == kind) {
      all.push_back(line.length_m / ft);
    }
  }
  std::sort(all.begin(), all.end());
  return all;
}

void require_lengths(const Worked& w, surface::LineKind kind, std::vector<double> expected) {
  std::sort(expected.begin(), expected.end());
  const std::vector<double> got = lengths_of(w, kind);
  CAPTURE(surface::word(kind), got, expected);
  REQUIRE(got.size() == expected.size());
  for (std::size_t i = 0; i < got.size(); ++i) {
    CHECK(got[i] == near(expected[i]));
  }
}

std::vector<const framing::Member*> members(const Worked& w, MemberKind kind) {
  std::vector<const framing::Member*> all;
  for (const framing::Member& member : w.framing.members) {
    if (member.kind == kind) {
      all.push_back(&member);
    }
  }
  return all;
}

/// The rafter of a plane whose centre stands at `at_ft`; null when there is none.
const framing::Member* rafter_at(const Worked& w, const std::string& plane, double at_ft) {
  const PlaneId id = w.plane(plane);
  for (const framing::Member& member : w.framing.members) {
    if (member.plane == id && std::abs(member.at_m - at_ft * ft) < 1e-6) {
      return &member;
    }
  }
  return nullptr;
}

const attic::Compartment& compartment(const Worked& w, const std::string& id) {
  for (const attic::Compartment& one : w.attic.compartments) {
    if (one.id == id) {
      return one;
    }
  }
  FAIL("no compartment " << id);
  return w.attic.compartments[CompartmentId(0U)];
}

bool says(const std::vector<std::string>& all, const std::string& words) {
  return std::any_of(all.begin(), all.end(), [&](const std::string& text) {
    return text.find(words) != std::string::npos;
  });
}

const double ft3 = ft * ft * ft;
const double slope6 = std::sqrt(1.25);

}  // namespace

TEST_CASE("tee: a wing of the same pitch on a main gable (K04 with gables)") {
  const Worked w = worked(tee());
  const takeoff::Lengths& all = w.takeoff.totals;
  CHECK(all.valley_m / ft == near(24.0));  // K04: two of 12.000 ft
  CHECK(all.ridge_m / ft == near(40.0 + 28.0));
  CHECK(all.eave_m / ft == near(40.0 + 24.0 + 20.0 + 20.0));  // K04
  CHECK(all.rake_m / ft == near((4 * 12 + 2 * 8) * slope6));
  CHECK(all.wall_m == 0.0);
  CHECK(all.area_m2 / (ft * ft) == near(1280.0 * slope6));  // K04
  REQUIRE(w.attic.compartments.size() == 1);
  const attic::Compartment& space = compartment(w, "attic");
  CHECK(space.floor_area_m2 / (ft * ft) == near(1280.0));
  CHECK(space.outline.size() == 1);
  CHECK(space.outline[0].size() == 8);
  // Main prism, wing prism, and what of the wing stands above the main roof: 1/2 * 8^3 / 3.
  CHECK(space.volume_m3 / ft3 == near(2880.0 + 640.0 + 256.0 / 3.0));
  CHECK(space.top_m / ft == near(14.0));
  CHECK(space.bottom_m / ft == near(8.0));
  const auto valleys = members(w, MemberKind::valley);
  REQUIRE(valleys.size() == 2);
  CHECK(valleys[0]->line_length_m / ft == near(12.0));
  CHECK(members(w, MemberKind::ridge_board).size() == 2);
  // Two feet into the valley, the rafter starts two feet up the run: 10 ft of run are left.
  const framing::Member* jack = rafter_at(w, "main/0", 14.0);
  REQUIRE(jack != nullptr);
  CHECK(jack->kind == MemberKind::valley_jack);
  CHECK(jack->line_length_m / ft == near(10.0 * slope6));
  const framing::Member* common = rafter_at(w, "main/0", 10.0);
  REQUIRE(common != nullptr);
  CHECK(common->kind == MemberKind::common);
  CHECK(common->line_length_m / ft == near(12.0 * slope6));
  // On the wing, 4 ft beyond the main wall: from the valley 4 ft in, 4 ft of run to the ridge.
  const framing::Member* wing = rafter_at(w, "wing/1", 24.0);
  REQUIRE(wing != nullptr);
  CHECK(wing->kind == MemberKind::valley_jack);
  CHECK(wing->line_length_m / ft == near(4.0 * slope6));
}

TEST_CASE("tee with an overlaid wing: its own compartment, no valley rafters") {
  model::RoofModel model = tee();
  model.parts[1].valleys = model::Valleys::overlaid;
  const Worked w = worked(model);
  REQUIRE(w.attic.compartments.size() == 2);
  // Of the wing's plan a triangle 16 wide and 8 deep lies above the main roof.
  // Beneath its own deck there, the main attic goes on.
  CHECK(compartment(w, "attic-main").floor_area_m2 / (ft * ft) == near(960.0));
  CHECK(compartment(w, "attic-main").volume_m3 / ft3 == near(2880.0));
  // The wing's prism and what of it stands above the main deck (as in the tee above).
  CHECK(compartment(w, "attic-wing").volume_m3 / ft3 == near(640.0 + 256.0 / 3.0));
  CHECK(compartment(w, "attic-wing").floor_area_m2 / (ft * ft) == near(320.0 + 64.0));
  CHECK(says(w.attic.assumptions, "wing is a compartment of its own"));
  CHECK(says(w.framing.assumptions, "are laid over the earlier roof"));
  CHECK(members(w, MemberKind::valley).empty());
  const framing::Member* jack = rafter_at(w, "main/0", 14.0);
  REQUIRE(jack != nullptr);
  CHECK(jack->foot_shortening_m == 0.0);
}

TEST_CASE("an opening cut in the blind deck joins the wing with the main attic") {
  model::RoofModel model = tee();
  model.parts[1].valleys = model::Valleys::overlaid;
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  const Worked shut = worked(model);
  CHECK(attic::verify(shut.framing, shut.attic).empty());
  REQUIRE(shut.attic.compartments.size() == 2);
  const auto why_of_wing = [](const Worked& w) {
    const framing::PlaneFraming& own = w.framing.planes[w.plane("wing/1")];
    for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
      if (w.surface.lines[w.framing.bays[BayId(i)].foot].kind == surface::LineKind::eave) {
        return w.vents.bays[BayId(i)].why;
      }
    }
    return std::string();
  };
  CHECK(why_of_wing(shut) == "into attic-wing, which has no exhaust");
  model.parts[1].deck_openings = {
      {{18 * ft, 2 * ft}, {22 * ft, 2 * ft}, {22 * ft, 4 * ft}, {18 * ft, 4 * ft}}};
  const Worked open = worked(model);
  CHECK(attic::verify(open.framing, open.attic).empty());
  REQUIRE(open.attic.compartments.size() == 1);
  CHECK(open.attic.compartments[CompartmentId(0U)].id == "attic-main+attic-wing");
  CHECK(why_of_wing(open) ==
        "into attic-wing, on into wing over the blind deck, through the opening in the blind deck "
        "into attic-main, out at ridge vent top");
  const auto join = std::find_if(
      open.attic.joins.begin(), open.attic.joins.end(),
      [](const attic::Join& one) { return one.kind == attic::JoinKind::deck_opening; });
  REQUIRE(join != open.attic.joins.end());
  CHECK(join->area_m2 / (ft * ft) == near(8.0 * slope6));
}

TEST_CASE("a dormer laid wholly on the main deck: the space between is its own") {
  // 12/12 main; the overlaid dormer stands within the main walls, its own deck below it.
  model::RoofModel model = tee();
  model.parts[1] =
      part("wing", {{12, 1}, {28, 1}, {28, 12}, {12, 12}}, {gable(), eave(6), gable(), eave(6)});
  model.parts[1].valleys = model::Valleys::overlaid;
  const Worked w = worked(model);
  CHECK(attic::verify(w.framing, w.attic).empty());
  double over_decks = 0.0;
  double ceilings = 0.0;
  for (const attic::Space& space : w.attic.spaces) {
    (space.is_over_deck ? over_decks : ceilings) += space.floor_area_m2;
  }
  CHECK(ceilings / (ft * ft) == near(960.0));
  for (const surface::BlindDeck& deck : w.surface.blind_decks) {
    CHECK(over_decks == Approx(deck.area_m2 / slope6).epsilon(1e-6));
  }
}

TEST_CASE("the room over a blind deck ends at the dormer's walls, whatever its roof hangs out") {
  // Main 12/12, its deck y over the plate at 8 ft. The dormer, 6/12, plate 12 ft, 8 ft wide, faces
  // y = 2. Its eaves run into the slope at y = 4, its ridge, 14 ft up, at y = 6: floor 8 x 2 + 8 x
  // 2 / 2 = 24 ft2. At s from the ridge the roof stands h = 14 - s / 2 - (8 + y) over the deck,
  // from 4 - s / 2 down to 0: the room is twice the integral of (4 - s / 2)^2 / 2 from 0 to 4, 112
  // / 3. With eaves and front 1 ft out, drip lines hold (10 x 2.5 + 10 x 2.5 / 2) = 37.5 ft2.
  for (const double overhang_ft : {0.0, 1.0}) {
    INFO(overhang_ft);
    const double out = overhang_ft * ft;
    model::RoofModel model =
        house_of({main_gable(12), part("dormer", {{16, 2}, {24, 2}, {24, 11}, {16, 11}},
                                       {gable(out), eave(6, out), gable(), eave(6, out)}, 12)});
    model.parts[1].valleys = model::Valleys::overlaid;
    const Worked w = worked(model);
    CHECK(attic::verify(w.framing, w.attic).empty());
    REQUIRE(w.surface.blind_decks.size() == 1);
    CHECK(w.surface.blind_decks[0].area_m2 / (ft * ft) ==
          Approx((overhang_ft > 0.0 ? 37.5 : 24.0) * std::sqrt(2.0)).epsilon(1e-6));
    REQUIRE(w.attic.compartments.size() == 2);
    const auto room = std::find_if(w.attic.spaces.begin(), w.attic.spaces.end(),
                                   [](const attic::Space& one) { return one.is_over_deck; });
    REQUIRE(room != w.attic.spaces.end());
    CHECK(room->floor_area_m2 / (ft * ft) == Approx(24.0).epsilon(1e-6));
    CHECK(room->volume_m3 / ft3 == Approx(112.0 / 3.0).epsilon(1e-6));
    CHECK(w.attic.compartments[room->compartment].spaces.size() == 1);
    // Beneath the deck main's attic goes on as if no dormer stood there: 24 x 12 / 2 x 40.
    const attic::Compartment& below =
        w.attic.compartments[CompartmentId(room->compartment == CompartmentId(0U) ? 1U : 0U)];
    CHECK(below.floor_area_m2 / (ft * ft) == Approx(960.0).epsilon(1e-6));
    CHECK(below.volume_m3 / ft3 == Approx(5760.0).epsilon(1e-6));
  }
}

TEST_CASE("cross gable: two equal gables whose ridges cross") {
  const Worked w =
      worked(house_of({main_gable(), part("cross", {{8, -8}, {32, -8}, {32, 32}, {8, 32}},
                                          {gable(), eave(6), gable(), eave(6)})}));
  require_lengths(w, surface::LineKind::valley, {18, 18, 18, 18});
  require_lengths(w, surface::LineKind::ridge, {20, 20, 20, 20});
  CHECK(w.takeoff.totals.eave_m / ft == near(64.0));
  CHECK(w.takeoff.totals.rake_m / ft == near(8 * 12 * slope6));
  CHECK(w.takeoff.totals.area_m2 / (ft * ft) == near(1344.0 * slope6));
  REQUIRE(w.attic.compartments.size() == 1);
  const attic::Compartment& space = compartment(w, "attic");
  CHECK(space.floor_area_m2 / (ft * ft) == near(1344.0));
  CHECK(space.outline[0].size() == 12);
  // Two prisms less what they share: a pyramid 24 square and 6 high.
  CHECK(space.volume_m3 / ft3 == near(2 * 2880.0 - 1152.0));
  CHECK(members(w, MemberKind::valley).size() == 4);
  CHECK(members(w, MemberKind::ridge_board).size() == 4);
}

TEST_CASE("a wing and a porch on lower plates end at the main walls") {
  const Worked w = worked(house_of(
      {main_gable(6, 16),
       part("wing", {{40, 4}, {60, 4}, {60, 20}, {40, 20}}, {eave(6), gable(), eave(6), gable()}),
       part("porch", {{10, -10}, {30, -10}, {30, 0}, {10, 0}},
            {eave(3), gable(), gable(), gable()})}));
  const double slope3 = std::sqrt(1.0625);
  require_lengths(w, surface::LineKind::headwall, {20});
  require_lengths(w, surface::LineKind::sidewall, {8 * slope6, 8 * slope6});
  CHECK(w.takeoff.totals.wall_m / ft == near(20.0 + 16 * slope6));
  CHECK(w.takeoff.planes[w.plane("porch/0")].wall_m / ft == near(20.0));
  CHECK(w.takeoff.totals.rake_m / ft == near((4 * 12 + 2 * 8) * slope6 + 2 * 10 * slope3));
  CHECK(w.takeoff.totals.eave_m / ft == near(80.0 + 40.0 + 20.0));
  CHECK(w.takeoff.totals.area_m2 / (ft * ft) == near(1280.0 * slope6 + 200.0 * slope3));
  REQUIRE(w.attic.compartments.size() == 3);
  CHECK(compartment(w, "attic-main").volume_m3 / ft3 == near(2880.0));
  CHECK(compartment(w, "attic-wing").volume_m3 / ft3 == near(640.0));
  CHECK(compartment(w, "attic-porch").volume_m3 / ft3 == near(250.0));
  CHECK(compartment(w, "attic-wing").bottom_m / ft == near(8.0));
  CHECK(says(w.attic.assumptions, "porch is a compartment of its own"));
  const framing::Member* rafter = rafter_at(w, "porch/0", 10.0);
  REQUIRE(rafter != nullptr);
  CHECK(rafter->kind == MemberKind::common);
  CHECK(w.surface.lines[rafter->head_line].kind == surface::LineKind::headwall);
  CHECK(rafter->line_length_m / ft == near(10.0 * slope3));
  CHECK(rafter->head_shortening_m == 0.0);
  // The wing's south plane starts at the main wall: a rafter stands flush there.
  CHECK(rafter_at(w, "wing/0", 0.75 / 12) != nullptr);
}

TEST_CASE("a gable dormer on a slope") {
  // Main 12/12. The dormer's face stands 2 ft behind the eave, 2 ft high; its eaves run into the
  // slope 4 ft behind the eave, its ridge 6 ft.
  const Worked w =
      worked(house_of({main_gable(12), part("dormer", {{16, 2}, {24, 2}, {24, 11}, {16, 11}},
                                            {gable(), eave(6), gable(), eave(6)}, 12)}));
  require_lengths(w, surface::LineKind::valley, {std::sqrt(24.0), std::sqrt(24.0)});
  require_lengths(w, surface::LineKind::headwall, {8});
  require_lengths(w, surface::LineKind::sidewall, {2 * std::sqrt(2.0), 2 * std::sqrt(2.0)});
  require_lengths(w, surface::LineKind::eave, {40, 40, 2, 2});
  require_lengths(w, surface::LineKind::ridge, {40, 4});
  CHECK(w.takeoff.totals.wall_m / ft == near(8.0 + 4 * std::sqrt(2.0)));
  CHECK(w.takeoff.planes[w.plane("main/0")].area_m2 / (ft * ft) ==
        near((480.0 - 24.0) * std::sqrt(2.0)));
  CHECK(w.takeoff.planes[w.plane("dormer/1")].area_m2 / (ft * ft) == near(12.0 * slope6));
  REQUIRE(w.attic.compartments.size() == 1);
  const attic::Compartment& space = compartment(w, "attic");
  CHECK(space.floor_area_m2 / (ft * ft) == near(960.0));
  // Main prism, less its part under the dormer's planes, plus the dormer's over its own plate.
  CHECK(space.volume_m3 / ft3 == near(5760.0 - 256.0 / 3.0 + 80.0 / 3.0));
  CHECK(space.bottom_m / ft == near(8.0));
  CHECK(space.ceiling_at({20 * ft, 3 * ft}, 1) == near(12 * ft));
  CHECK(space.ceiling_at({20 * ft, 8 * ft}, 0) == near(8 * ft));
  // At 18 ft: from the eave to the face 2 ft in; from the valley, 5 ft in, to the upper header,
  // whose inner ply is centred where the dormer's ridge runs out, 6 ft in; from that header to the
  // ridge.
  std::size_t below = 0;
  std::size_t between = 0;
  std::size_t above = 0;
  for (const framing::Member& member : w.framing.members) {
    if (member.plane != w.plane("main/0") || std::abs(member.at_m - 18 * ft) > 1e-6) {
      continue;
    }
    const double length_ft = member.line_length_m / ft / std::sqrt(2.0);
    if (!member.foot_header.is_none()) {
      ++above;
      CHECK(member.kind == MemberKind::common);
      CHECK(length_ft == near(6.0 - 2.25 / 12 / std::sqrt(2.0)));
    } else if (!member.head_header.is_none()) {
      ++between;
      CHECK(member.kind == MemberKind::valley_jack);
      CHECK(length_ft == near(1.0 - 0.75 / 12 / std::sqrt(2.0)));
    } else {
      ++below;
      CHECK(w.surface.lines[member.head_line].kind == surface::LineKind::headwall);
      CHECK(length_ft == near(2.0));
    }
  }
  CHECK(between == 1);
  CHECK(below == 1);
  CHECK(above == 1);
}

TEST_CASE("an addition in line makes one plane, framed and vented to its far wall") {
  model::RoofModel model = house_of(
      {part("main", {{0, 0}, {41, 0}, {41, 24}, {0, 24}}, {eave(6), gable(ft), eave(6), gable(ft)}),
       part("more", {{41, 0}, {61, 0}, {61, 24}, {41, 24}},
            {eave(6), gable(ft), eave(6), gable(ft)})});
  model.intake = {small_roofs::whole_eave("south", "main/0")};
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  const Worked w = worked(model);
  CHECK(w.surface.planes.size() == 2);
  require_lengths(w, surface::LineKind::eave, {63, 63});
  REQUIRE(w.attic.compartments.size() == 1);
  CHECK(w.attic.compartments[CompartmentId(0U)].floor_area_m2 / (ft * ft) == near(61.0 * 24.0));
  CHECK(w.attic.compartments[CompartmentId(0U)].volume_m3 / ft3 == near(61.0 * 72.0));
  CHECK(rafter_at(w, "main/0", 1.0 + 0.75 / 12) != nullptr);   // flush in the first gable-end wall
  CHECK(rafter_at(w, "main/0", 42.0 - 0.75 / 12) == nullptr);  // no wall stands at the seam
  CHECK(rafter_at(w, "main/0", 62.0 - 0.75 / 12) != nullptr);  // flush in the far one
  REQUIRE(w.vents.slots.size() == 1);
  CHECK(w.vents.slots.begin()->start_m / ft == near(1.5));  // 6 in within the wall
  CHECK(w.vents.slots.begin()->end_m / ft == near(61.5));
  REQUIRE(w.vents.exhausts.size() == 1);
  CHECK(w.vents.exhausts.begin()->length_m / ft == near(60.0));  // 6 in within both walls
  const attic::BayPlace& last =
      w.attic.bays[BayId(w.framing.planes[w.plane("main/0")].end_bay - 1)];
  CHECK(last.why == "beyond the gable-end wall");
}

TEST_CASE("a porch roof that takes half the eave takes half the slot") {
  // The porch starts under the main eave's end and leans on the main slope above it.
  model::RoofModel model =
      house_of({main_gable(12), part("porch", {{20, -10}, {40, -10}, {40, 2}, {20, 2}},
                                     {eave(3), gable(), gable(), gable()}, 7)});
  model.intake = {small_roofs::whole_eave("south", "main/0"),
                  small_roofs::whole_eave("porch", "porch/0")};
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  const Worked w = worked(model);
  const vents::Slot* south = nullptr;
  for (const vents::Slot& slot : w.vents.slots) {
    if (slot.run == "south") {
      CHECK(south == nullptr);
      south = &slot;
    }
  }
  REQUIRE(south != nullptr);
  CHECK(south->start_m / ft == near(0.5));
  CHECK(south->end_m / ft == near(20.0 - 1.0));  // held back from the other roof's edge
}

TEST_CASE("four wings around a court share one attic with a hole") {
  std::vector<model::Part> wings;
  const std::vector<model::Edge> along_x{eave(6), gable(), eave(6), gable()};
  const std::vector<model::Edge> along_y{gable(), eave(6), gable(), eave(6)};
  wings.push_back(part("south", {{0, 0}, {60, 0}, {60, 12}, {0, 12}}, along_x));
  wings.push_back(part("north", {{0, 38}, {60, 38}, {60, 50}, {0, 50}}, along_x));
  wings.push_back(part("west", {{0, 0}, {12, 0}, {12, 50}, {0, 50}}, along_y));
  wings.push_back(part("east", {{48, 0}, {60, 0}, {60, 50}, {48, 50}}, along_y));
  const Worked w = worked(house_of(wings));
  REQUIRE(w.attic.compartments.size() == 1);
  const attic::Compartment& space = w.attic.compartments[CompartmentId(0U)];
  CHECK(space.floor_area_m2 / (ft * ft) == near(60.0 * 50.0 - 36.0 * 26.0));
  CHECK(space.outline.size() == 2);
  CHECK(w.attic.under({30 * ft, 25 * ft}).is_none());
}

TEST_CASE("ceilings of the model that lie over each other are a fault") {
  model::RoofModel model = tee();
  model::Ceiling one;
  one.id = "down";
  one.outline = model.parts[0].outline;
  one.height_m = 8 * ft;
  model::Ceiling other = one;
  other.id = "wing";
  other.outline = model.parts[1].outline;
  model.ceilings = {one, other};
  const surface::Surface surface = tests::value_of(surface::raise(model));
  const framing::Framing framing = framing::frame(model, surface);
  const Result<attic::Attic> faulty = attic::divide(model, surface, framing);
  REQUIRE_FALSE(faulty.ok());
  CHECK(faulty.faults()[0].code == "ceiling.overlaps");
  CHECK(faulty.faults()[0].where == "/ceilings/1/outline");
  model.ceilings[1].outline = {
      {12 * ft, -20 * ft}, {28 * ft, -20 * ft}, {28 * ft, 0.0}, {12 * ft, 0.0}};
  const attic::Attic apart = tests::value_of(attic::divide(model, surface, framing));
  CHECK(apart.compartments.size() == 1);  // side by side under one roof, nothing between them
  CHECK(apart.compartments[CompartmentId(0U)].id == "down+wing");
  CHECK(says(apart.assumptions, "border each other"));
  model.dividers = {{"wall", {12 * ft, 0.0}, {28 * ft, 0.0}}};
  CHECK(tests::value_of(attic::divide(model, surface, framing)).compartments.size() == 2);
}
