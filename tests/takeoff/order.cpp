// Sections in their places, the order line by line, shingles laid by hand. Feet unless said.
#include "model/read.hpp"
#include "takeoff/courses.hpp"

#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace ridgeward;
using small_roofs::ft;
using small_roofs::in;
using tests::Worked;

namespace {

const takeoff::SectionRun& run_of(const Worked& w, const std::string& run) {
  for (const takeoff::SectionRun& one : w.takeoff.sections) {
    if (one.run == run) {
      return one;
    }
  }
  FAIL("no run " << run);
  return w.takeoff.sections.front();
}

double quantity(const Worked& w, const std::string& item, const std::string& for_what) {
  for (const takeoff::OrderLine& line : w.takeoff.order) {
    if (line.item == item && line.for_what == for_what) {
      return line.quantity;
    }
  }
  return 0.0;
}

/// Of all lines of an item that are for one thing.
double total(const Worked& w, const std::string& item, const std::string& for_what) {
  double sum = 0.0;
  for (const takeoff::OrderLine& line : w.takeoff.order) {
    sum += line.item == item && line.for_what == for_what ? line.quantity : 0.0;
  }
  return sum;
}

model::RoofModel gable_40_28() {
  return support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}},
                        {support::eave(8, 1.5 * ft), support::gable(1.0 * ft),
                         support::eave(8, 1.5 * ft), support::gable(1.0 * ft)});
}

}  // namespace

TEST_CASE("rake to rake: factory ends at both rakes, pieces end to end") {
  model::RoofModel model = gable_40_28();
  model.intake = {small_roofs::whole_eave("south", "main/0"),
                  small_roofs::whole_eave("north", "main/2")};
  const Worked w = tests::worked(model, small_roofs::catalogue());
  for (const char* name : {"south", "north"}) {
    const takeoff::SectionRun& run = run_of(w, name);
    REQUIRE(run.pieces.size() == 11);
    CHECK(run.pieces.front().left.kind == takeoff::CutKind::factory);
    CHECK(run.pieces.front().left.at == takeoff::EndAt::rake);
    CHECK(run.pieces.back().right.kind == takeoff::CutKind::factory);
    CHECK(run.pieces.back().right.at == takeoff::EndAt::rake);
    CHECK(run.pieces.front().from_m == Approx(0.0).margin(1e-9));
    CHECK(run.pieces.back().to_m == Approx(42 * ft));
    for (std::size_t i = 0; i + 1 < run.pieces.size(); ++i) {
      CHECK(run.pieces[i].to_m == Approx(run.pieces[i + 1].from_m));
      CHECK(run.pieces[i].right.at == takeoff::EndAt::joint);
    }
  }
  REQUIRE(w.takeoff.purchases.size() == 1);
  CHECK(w.takeoff.purchases[0].bought == 21);
  CHECK(w.takeoff.purchases[0].lower_bound == 21);
  CHECK(w.takeoff.purchases[0].is_least);
  CHECK(w.takeoff.purchases[0].waste_m == Approx(0.0).margin(1e-9));
  // The two pieces of 2 ft come from one section, each with the factory end that it needs.
  const takeoff::Piece& last = run_of(w, "south").pieces.back();
  const takeoff::Piece& first = run_of(w, "north").pieces.front();
  CHECK(last.length_m == Approx(2 * ft));
  CHECK(first.length_m == Approx(2 * ft));
  CHECK(last.section == first.section);
}

TEST_CASE("mitres at hips: offset depth x cos(slope), overhang over the eave counted in") {
  const double pitch = 8.0;
  const model::Edge e = support::eave(pitch, 1.5 * ft);
  model::RoofModel model = support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}}, {e, e, e, e});
  model.intake = {small_roofs::whole_eave("south", "main/0")};
  const Worked w = tests::worked(model, small_roofs::catalogue());
  const takeoff::SectionRun& run = run_of(w, "south");
  const double cos_slope = 12.0 / std::hypot(12.0, pitch);
  const takeoff::Piece& first = run.pieces.front();
  const takeoff::Piece& last = run.pieces.back();
  CHECK(first.left.kind == takeoff::CutKind::mitre);
  CHECK(first.left.at == takeoff::EndAt::hip);
  CHECK(first.left.offset_m == Approx(15 * in * cos_slope));
  // A square corner of equal pitches: the hip lies at 45 degrees in plan (geometry).
  CHECK(first.left.angle_rad == Approx(std::atan(1.0 / cos_slope)));
  CHECK(first.lower_edge_m - first.upper_edge_m == Approx(15 * in * cos_slope));
  CHECK(last.right.kind == takeoff::CutKind::mitre);
  // The lower edge hangs 1 in over the eave, so it goes on past both corners.
  CHECK(run.length_m == Approx(43 * ft + 2 * in * cos_slope));
  double lower = 0.0;
  double upper = 0.0;
  for (const takeoff::Piece& piece : run.pieces) {
    lower += piece.lower_edge_m;
    upper += piece.upper_edge_m;
  }
  CHECK(lower == Approx(run.length_m));
  CHECK(upper == Approx(run.length_m - 2 * 15 * in * cos_slope));
}

TEST_CASE("mitres at a valley: the upper edge is the longer one") {
  const model::Edge e = support::eave(8, 1.5 * ft);
  model::RoofModel model =
      support::house({{0, 0}, {26, 0}, {26, -16}, {48, -16}, {48, 28}, {0, 28}},
                     {e, e, support::gable(1.0 * ft), e, e, e});
  model.intake = {small_roofs::whole_eave("south", "main/0"),
                  small_roofs::whole_eave("west", "main/1")};
  const Worked w = tests::worked(model, small_roofs::catalogue());
  const takeoff::Piece& south = run_of(w, "south").pieces.back();
  const takeoff::Piece& west = run_of(w, "west").pieces.front();
  const double cos_slope = 12.0 / std::hypot(12.0, 8.0);
  for (const auto& [piece, end] : {std::pair{&south, &south.right}, std::pair{&west, &west.left}}) {
    CHECK(end->kind == takeoff::CutKind::mitre);
    CHECK(end->at == takeoff::EndAt::valley);
    CHECK(end->offset_m == Approx(15 * in * cos_slope));
    CHECK(piece->upper_edge_m - piece->lower_edge_m == Approx(15 * in * cos_slope));
  }
}

TEST_CASE("the order of a gable, line by line") {
  model::RoofModel model = gable_40_28();
  model.site.snow = true;
  model.intake = {small_roofs::whole_eave("south", "main/0")};
  model.prices = {{"over-deck-10", 21.5}, {"drip edge", 2.0}};
  const Worked w = tests::worked(model, small_roofs::catalogue());
  const double slope = std::hypot(12.0, 8.0) / 12.0;
  CHECK(quantity(w, "drip edge", "main/0") == Approx(42 * ft));
  CHECK(quantity(w, "starter", "main/2") == Approx(42 * ft));
  CHECK(quantity(w, "rake metal", "main/0") == Approx(2 * 15.5 * ft * slope));
  CHECK(quantity(w, "underlayment strip 18 in", "south") == Approx(42 * ft));
  // 42 ft are 13 shingles of 39 3/8 in; starter and first course with 4 nails each.
  CHECK(quantity(w, "hand nails 3 in", "south") == 2 * 13 * 4);
  // Common practice, no source: of the 13 in the first course no other nails are bought.
  const auto& laid = w.takeoff.shingles.front();
  CHECK(quantity(w, "shingle nails", "main/0") == 4 * (laid.whole + laid.cut - 13));
  CHECK(quantity(w, "cap nails", "main/0|main/2") == 2 * std::ceil(42 * 12 / 5.625));
  // IRC R905.1.2: 24 in inside the exterior wall line, on 8/12 and over 36 in up the slope at
  // least. Level: overhang 18 in, wall as the model has it, 24 in.
  const double wall = model.parts[0].wall_thickness_m;
  CHECK(quantity(w, "ice barrier", "main/0") ==
        Approx(42 * ft * std::max(36 * in, (18 * in + wall + 24 * in) * slope)));
  // The ridge is 42 ft long; a cap every 5 5/8 in.
  CHECK(quantity(w, "caps", "main/0|main/2") == std::ceil(42 * 12 / 5.625));
  CHECK(w.takeoff.price.sum == Approx(11 * 21.5 + 2 * (84 * ft)));
  const auto priced =
      std::count_if(w.takeoff.order.begin(), w.takeoff.order.end(),
                    [](const takeoff::OrderLine& line) { return line.total_price.has_value(); });
  CHECK(priced == 3);
  CHECK(w.takeoff.price.without_price == static_cast<int>(w.takeoff.order.size()) - 3);
}

TEST_CASE("underlayment: over the slope, over the vents, in two layers on low slopes") {
  // Common practice, no source: strips of 18 in, 4 in above a vent, 6 in past an end on the deck.
  model::RoofModel model = gable_40_28();
  model.intake = {small_roofs::whole_eave("south", "main/0"),
                  small_roofs::whole_eave("north", "main/2")};
  model.intake[1].whole = false;
  model.intake[1].from_m = 10 * ft;
  model.intake[1].to_m = 30 * ft;
  model::Catalogue catalogue = small_roofs::catalogue();
  catalogue.products.at("over-deck-10").depth_m = 14 * in;
  const Worked dry = tests::worked(model, catalogue);
  // A vent of 14 in and 4 in above it are a strip of 18 in: once beneath the vent, once over it.
  CHECK(run_of(dry, "south").cover_width_m == Approx(18 * in));
  CHECK(run_of(dry, "south").cover_length_m == Approx(42 * ft));
  CHECK(total(dry, "underlayment strip 18 in", "south") == Approx(2 * 42 * ft));
  const double slot_m = dry.vents.slots[SlotId(1U)].vent_length_m;
  CHECK(run_of(dry, "north").cover_length_m == Approx(slot_m + 2 * 6 * in));
  CHECK(total(dry, "underlayment strip 18 in", "north") == Approx(2 * slot_m + 12 * in));
  // A plane of 42 ft by 15 1/2 ft level, at 8/12; nothing of it is chimney or skylight.
  const double area = 42 * ft * 15.5 * ft * std::hypot(12.0, 8.0) / 12.0;
  CHECK(quantity(dry, "underlayment", "main/0") == Approx(area));
  // Nails by hand are of the length that the vent's entry asks for.
  catalogue.products.at("over-deck-10").nail_length_m = 2.5 * in;
  CHECK(quantity(tests::worked(model, catalogue), "hand nails 2.5 in", "south") == 2 * 13 * 4);
  // One of 15 in takes a whole roll over it.
  const Worked deep = tests::worked(model, small_roofs::catalogue());
  CHECK(run_of(deep, "south").cover_width_m == Approx(36 * in));
  CHECK(total(deep, "underlayment strip 18 in", "south") == Approx(42 * ft));
  CHECK(total(deep, "underlayment strip 36 in", "south") == Approx(42 * ft));
  // The ice barrier lies in its stead, over the vent too.
  model.site.snow = true;
  const Worked icy = tests::worked(model, catalogue);
  CHECK(total(icy, "underlayment strip 18 in", "south") == Approx(42 * ft));
  CHECK(quantity(icy, "underlayment", "main/0") ==
        Approx(area - quantity(icy, "ice barrier", "main/0")));
  // IRC R905.2.2: two layers under 4/12.
  model::RoofModel low = support::house(
      {{0, 0}, {40, 0}, {40, 28}, {0, 28}},
      {support::eave(3, 0.0), support::gable(), support::eave(3, 0.0), support::gable()});
  const Worked flat = tests::worked(low, small_roofs::catalogue());
  CHECK(quantity(flat, "underlayment", "main/0") ==
        Approx(2 * 40 * ft * 14 * ft * std::hypot(12.0, 3.0) / 12.0));
}

TEST_CASE("sealant goes round the flanges of vents that are set one by one") {
  model::RoofModel model = gable_40_28();
  model::ExhaustVent box;
  box.id = "box";
  box.product = "box-50";
  box.plane = "main/0";
  box.at = glm::dvec2{20 * ft, 14 * ft};
  model.exhaust = {box};
  const Worked w = tests::worked(model, tests::default_catalogue());
  CHECK(quantity(w, "sealant", "box") == Approx(4 * 18 * in));  // 18 x 18 in
}

TEST_CASE("an eave over a porch is measured to its own wall, over a lean-to to the lean-to's") {
  // Main walls 40 by 28 ft, plates 17 ft, 8/12, overhang 1 ft. South of them a porch, plate 8 ft:
  // its walls end far below the eave. To the north the roof runs on over a lean-to 9 ft deep,
  // whose plate lies 6 ft lower: its wall carries it.
  model::RoofModel model = gable_40_28();
  model.site.snow = true;
  model::Part& main = model.parts[0];
  main.plate_m = 17 * ft;
  for (model::Edge& edge : main.edges) {
    edge.overhang_m = 1 * ft;
  }
  const model::Part like = main;
  const auto beside = [&](const char* id, double y0, double y1, double plate, std::size_t eave) {
    model::Part part = like;
    part.id = id;
    part.plate_m = plate * ft;
    part.outline = {{0, y0 * ft}, {40 * ft, y0 * ft}, {40 * ft, y1 * ft}, {0, y1 * ft}};
    part.edges = {support::gable(), like.edges[1], support::gable(), like.edges[3]};
    part.edges[eave] = like.edges[0];
    return part;
  };
  model.parts.push_back(beside("porch", -8, 0, 8, 0));
  model.parts.back().edges[0].pitch = units::Pitch::from_rise_run(3, 12);
  model.parts.push_back(beside("back", 20, 37, 11, 2));
  model.parts[0].framing.blocking = model::Blocking::solid;
  model.intake = {small_roofs::whole_eave("south", "main/0"),
                  small_roofs::whole_eave("north", "main/2")};
  const Worked w = tests::worked(model, small_roofs::catalogue());
  const double slope = std::hypot(12.0, 8.0) / 12.0;
  const double wall_ft = like.wall_thickness_m / ft;
  REQUIRE(w.vents.slots.size() == 2);
  for (const vents::Slot& slot : w.vents.slots) {
    INFO(slot.id);
    CHECK(slot.wall_line_m == Approx(1 * ft * slope));
    CHECK(slot.inner_face_m == Approx((1 + wall_ft) * ft * slope));
    // The order and the crew's sheet say the same of the ice barrier.
    CHECK(slot.ice_barrier_m == Approx((1 + wall_ft + 2) * ft * slope));
    const std::string plane = w.surface.planes[slot.plane].id;
    CHECK(quantity(w, "ice barrier", plane) == Approx(42 * ft * slot.ice_barrier_m));
    // Blocking is that of the part whose wall it stands on.
    CHECK(slot.is_blocked == (plane == "main/0"));
  }
  // Tails: 1 ft of overhang, also where the plane belongs to main and the wall to the lean-to.
  std::size_t tails = 0;
  for (const framing::Member& member : w.framing.members) {
    if (member.kind == framing::MemberKind::common && member.tail_m > 0.0 &&
        w.surface.planes[member.plane].id.starts_with("main/")) {
      CHECK(member.tail_m == Approx(1 * ft * slope).epsilon(1e-6));
      ++tails;
    }
  }
  CHECK(tails > 30);
}

TEST_CASE("beneath an overhang rafters and shingles go on up to the wall") {
  // A porch 20 by 8 ft against a wall, 3/12, eave 1 ft: 9 ft level, root(1 + 1/16) = 1.0308 up it,
  // whatever the roof above hangs out.
  const double slope = std::hypot(12.0, 3.0) / 12.0;
  for (const double overhang : {0.0, 1.0, 2.0}) {
    INFO(overhang);
    model::RoofModel model = gable_40_28();
    model.parts[0].plate_m = 17 * ft;
    model.parts[0].edges[0].overhang_m = model.parts[0].edges[2].overhang_m = overhang * ft;
    model::Part porch = model.parts[0];
    porch.id = "porch";
    porch.plate_m = 8 * ft;
    porch.outline = {{10 * ft, -8 * ft}, {30 * ft, -8 * ft}, {30 * ft, 0}, {10 * ft, 0}};
    porch.edges = {support::eave(3, 1 * ft), support::gable(), support::gable(), support::gable()};
    model.parts.push_back(porch);
    const Worked w = tests::worked(model, small_roofs::catalogue());
    int rafters = 0;
    for (const framing::Member& member : w.framing.members) {
      if (!member.plane.is_none() && w.surface.planes[member.plane].id == "porch/0" &&
          member.kind == framing::MemberKind::common) {
        CHECK(member.length_m == Approx(9 * ft * slope));
        ++rafters;
      }
    }
    CHECK(rafters > 8);
    for (const takeoff::ShingledPlane& laid : w.takeoff.shingles) {
      if (w.surface.planes[laid.plane].id == "porch/0") {
        CHECK(laid.laid_m2 == Approx(20 * ft * 9 * ft * slope));
      }
    }
  }
}

TEST_CASE("no cap is ordered for a hip of micrometres") {
  // Where the planes of the demo house's turret meet below its peak, hips of some micrometres are
  // left.
  const model::RoofModel model =
      tests::value_of(model::read_file(std::string(RIDGEWARD_SOURCE_DIR) +
                                       "/models/houses/finch-corner.roof.json"))
          .model;
  const Worked w = tests::worked(model, tests::default_catalogue());
  std::size_t tiny = 0;
  for (const surface::Line& line : w.surface.lines) {
    if (line.kind == surface::LineKind::hip) {
      CAPTURE(line.id);
      CHECK((quantity(w, "caps", line.id) > 0.0) == (line.length_m >= 0.004));
      tiny += line.length_m < 0.004 ? 1 : 0;
    }
  }
  CHECK(tiny > 0);
}

TEST_CASE("upslope: face nails of the course, and a starter over the vent") {
  model::RoofModel model = gable_40_28();
  model.intake = {small_roofs::whole_eave("south", "main/0")};
  model.intake[0].position = model::Position::upslope;
  const Worked w = tests::worked(model, small_roofs::catalogue());
  CHECK(quantity(w, "face nails", "south") == 13 * (4 + 4));
  CHECK(quantity(w, "starter", "south") == Approx(42 * ft));
  // Over the vent alone, as deep as that: its upper edge stays open.
  CHECK(total(w, "underlayment strip 18 in", "south") == Approx(42 * ft));
  CHECK(run_of(w, "south").cover_width_m == Approx(15 * in));
}

TEST_CASE("shingles of a gable laid by hand: every cut-off is used") {
  // A plane ten shingles wide and twelve courses up the slope, the starter's half inch included.
  // Row 1 is ten whole ones. Row 2 starts with 5/6; its sixth ends the row, and so on to row 6,
  // which starts with 1/6. The narrowest cut-off is a sixth, 6.56 in: none is thrown away.
  const double slope = std::hypot(12.0, 6.0) / 12.0;
  const double run = (12 * 5.625 - 0.5) / slope;
  const small_roofs::House house = small_roofs::gable(393.75 / 12, 2 * run / 12, 6);
  const auto laid = takeoff::lay_shingles(house.model, house.surface);
  REQUIRE(laid.size() == 2);
  for (const takeoff::ShingledPlane& plane : laid) {
    CHECK(plane.courses == 12);
    CHECK(plane.bought == 120);
    CHECK(plane.whole == 2 * 10 + 10 * 9);
    CHECK(plane.cut == 10 * 2);
    CHECK(plane.from_left_over == 10);
    // Only the starter's half inch past the drip edge is not roof.
    CHECK(plane.waste_share == Approx(12 * 5.625 / (12 * 5.625 - 0.5) - 1).epsilon(1e-9));
  }
}

TEST_CASE("shingles of a hip end laid by hand") {
  // A pyramid 20 shingle-sixths wide: 131.25 in at the eave, 12/12. Up the slope the plane is
  // 65.625 x sqrt(2) = 92.81 in high and loses 2 / sqrt(2) in of width an inch.
  const double sixth = 39.375 / 6;
  const small_roofs::House house = small_roofs::hip(20 * sixth / 12, 20 * sixth / 12, 12);
  const auto laid = takeoff::lay_shingles(house.model, house.surface);
  REQUIRE(laid.size() == 4);
  // By hand: row k's butt lies 5.625 (k - 1) - 0.5 in up; its width is that at the butt, and all
  // of the eave's for row 1. Left-overs from the left serve on the right and the other way round.
  std::vector<double> for_right;
  std::vector<double> for_left;
  int bought = 0;
  int courses = 0;
  const auto piece = [&](double length, std::vector<double>& from, std::vector<double>& into) {
    std::sort(from.begin(), from.end());
    for (std::size_t i = 0; i < from.size(); ++i) {
      if (from[i] >= length - 1e-6) {
        from.erase(from.begin() + static_cast<std::ptrdiff_t>(i));
        return;
      }
    }
    ++bought;
    if (39.375 - length >= 6.0) {
      into.push_back(39.375 - length);
    }
  };
  const double height = 10 * sixth * std::numbers::sqrt2;
  for (double butt = -0.5; butt < height - 1e-4; butt += 5.625, ++courses) {
    double width = 20 * sixth - 2 * std::max(0.0, butt) / std::numbers::sqrt2;
    const double first = 39.375 - (courses % 6) * sixth;
    if (courses % 6 != 0) {
      piece(std::min(first, width), for_left, for_right);
      width -= std::min(first, width);
    }
    while (width >= 39.375 - 1e-6) {
      ++bought;
      width -= 39.375;
    }
    if (width > 1e-6) {
      piece(width, for_right, for_left);
    }
  }
  CHECK(courses == 17);  // (92.81 + 0.5) / 5.625 = 16.6
  for (const takeoff::ShingledPlane& plane : laid) {
    CHECK(plane.courses == courses);
    CHECK(plane.bought == bought);
    CHECK(plane.waste_share ==
          Approx(bought * 39.375 * 5.625 / (10 * sixth * height) - 1).epsilon(1e-6));
    CHECK(plane.waste_share > 0.1);
  }
}
