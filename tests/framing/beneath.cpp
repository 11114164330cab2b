// Rafters under dormers and overlaid parts, and boards that an opening breaks, worked by hand.
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
using small_roofs::ft;
using small_roofs::in;

namespace {

Approx near(double value) { return Approx(value).epsilon(1e-6).margin(1e-6); }

model::Part rectangle(const std::string& id, glm::dvec2 low, glm::dvec2 high,
                      const std::vector<model::Edge>& edges, double plate_ft) {
  model::Part part;
  part.id = id;
  part.plate_m = plate_ft * ft;
  part.outline = {low * ft, glm::dvec2{high.x, low.y} * ft, high * ft,
                  glm::dvec2{low.x, high.y} * ft};
  part.edges = edges;
  return part;
}

/// A dormer 8 ft wide at 6/12 on a main roof at 12/12: its front wall 3 ft in, where the main roof
/// is 3 ft up; its plate 5 ft up, so its cheeks end 5 ft in; its ridge 7 ft up runs out 7 ft in.
model::RoofModel with_dormer() {
  model::RoofModel model;
  model.parts = {
      rectangle("main", {0, 0}, {40, 24},
                {support::eave(12), support::gable(), support::eave(12), support::gable()}, 0.0),
      rectangle("dormer", {16, 3}, {24, 12},
                {support::gable(), support::eave(6), support::gable(), support::eave(6)}, 5.0)};
  return model;
}

const double up = std::sqrt(2.0);  // length per run at 12/12

}  // namespace

TEST_CASE("a dormer open below: doubled rafters under its cheeks, headers at front and top") {
  const FramedHouse house = framed_house(with_dormer());
  check_laws(house.surface, house.framing);
  CHECK(house.assumes("Dormer dormer is taken as open below"));
  std::vector<double> whole;
  std::size_t strips = 0;
  for (const Member* ply : house.of(MemberKind::trimmer, "main/0")) {
    CHECK(ply->opening == "dormer");
    if (!ply->part_of.is_none()) {
      ++strips;
      continue;
    }
    whole.push_back(ply->layout_m / in);
    // From the eave to the ridge in one piece.
    CHECK(ply->line_length_m == near(12 * ft * up));
    CHECK(ply->length_m == near((12 * ft - 0.75 * in) * up));
  }
  CHECK(strips == 4);  // seen once below the front wall and once above the valleys
  REQUIRE(whole.size() == 4);
  CHECK(whole[0] == near(16 * 12 + 0.75));
  CHECK(whole[1] == near(16 * 12 + 2.25));
  CHECK(whole[2] == near(24 * 12 - 2.25));
  CHECK(whole[3] == near(24 * 12 - 0.75));

  const auto headers = house.of(MemberKind::header, "main/0");
  REQUIRE(headers.size() == 2);
  for (const Member* header : headers) {
    CHECK(header->length_m == near(7.5 * ft));
    CHECK(header->plies == 2);  // over 4 ft
  }
  const surface::Frame& frame = house.surface.planes[headers[0]->plane].frame;
  // The inner ply is centred where the ridge runs out.
  CHECK(frame.uv(headers[0]->from).y == near(7 * ft * up + 0.75 * in));
  CHECK(frame.uv(headers[1]->from).y == near(3 * ft * up + 1.5 * in));

  // Rafters at 18, 20 and 22 ft: below the front wall, between valley and header (not at the
  // ridge's own place), and from the header to the ridge.
  std::vector<double> below;
  std::vector<double> between;
  std::vector<double> above;
  for (const Member& member : house.framing.members) {
    const double at_ft = member.layout_m / ft;
    if (member.plane.is_none() || house.plane_name(member.plane) != "main/0" ||
        std::abs(at_ft - 20) > 2.1 || member.outline.empty() || member.kind == MemberKind::header) {
      continue;
    }
    if (!member.foot_header.is_none()) {
      above.push_back(member.line_length_m);
      CHECK(member.kind == MemberKind::common);
    } else if (!member.head_header.is_none()) {
      between.push_back(member.line_length_m);
      CHECK(member.kind == MemberKind::valley_jack);
    } else {
      below.push_back(member.line_length_m);
    }
  }
  REQUIRE(below.size() == 3);
  REQUIRE(between.size() == 2);
  REQUIRE(above.size() == 3);
  CHECK(below[0] == near(3 * ft * up));
  // The valley passes 6 ft in at 18 and 22 ft.
  CHECK(between[0] == near(1 * ft * up - 0.75 * in));
  CHECK(above[0] == near(5 * ft * up - 2.25 * in));
  // F18, NAVEDTRA 14044 p. 2-34: the ridge of a dormer with side walls is its plate (3 to 5 ft in)
  // and the run to where it meets the main roof, less half the header's inner ply.
  const auto ridges = house.of(MemberKind::ridge_board, "");
  const auto ridge =
      std::find_if(ridges.begin(), ridges.end(), [](const Member* one) { return one->part == 1; });
  REQUIRE(ridge != ridges.end());
  CHECK((*ridge)->line_length_m == near(4 * ft));
  CHECK((*ridge)->length_m == near(4 * ft - 0.75 * in));
}

TEST_CASE("an overlaid dormer has the rafters go on beneath it") {
  model::RoofModel model = with_dormer();
  model.parts[1].valleys = model::Valleys::overlaid;
  const FramedHouse house = framed_house(model);
  check_laws(house.surface, house.framing);
  CHECK(house.count(MemberKind::header) == 0);
  CHECK(house.count(MemberKind::trimmer) == 0);
  const auto rafters = house.of(MemberKind::common, "main/0");
  REQUIRE(rafters.size() == 21);
  for (const Member* rafter : rafters) {
    CHECK(rafter->line_length_m == near(12 * ft * up));
  }
  for (const Bay* bay : house.bays("main/0")) {
    CHECK(bay->length_m == near(12 * ft * up));
  }
}

TEST_CASE("beneath an overlaid wing the main rafters and bays run from the plate to the ridge") {
  model::RoofModel model;
  model.parts = {
      rectangle("main", {0, 0}, {40, 24},
                {support::eave(6), support::gable(), support::eave(6), support::gable()}, 0.0),
      rectangle("wing", {12, -20}, {28, 12},
                {support::gable(), support::eave(6), support::gable(), support::eave(6)}, 0.0)};
  model.parts[1].valleys = model::Valleys::overlaid;
  const FramedHouse house = framed_house(model);
  check_laws(house.surface, house.framing);
  const double slope = std::sqrt(1.25);
  const auto rafters = house.of(MemberKind::common, "main/0");
  REQUIRE(rafters.size() == 21);
  for (const Member* rafter : rafters) {
    CHECK(rafter->line_length_m == near(12 * ft * slope));
    CHECK(rafter->length_m == near((12 * ft - 0.75 * in) * slope));
  }
  REQUIRE(house.bays("main/0").size() == 20);
  // K04: valleys of 12 ft; a board flat on the deck along each, none on edge.
  const auto sleepers = house.of(MemberKind::valley_sleeper, "main/0");
  REQUIRE(sleepers.size() == 2);
  for (const Member* sleeper : sleepers) {
    CHECK(sleeper->length_m == near(12 * ft));
    CHECK(sleeper->lie == framing::Lie::flat);
    CHECK(sleeper->part == 1);
    // Inside the wing: the wing's middle lies nearer than the valley itself.
    const glm::dvec3 middle = 0.5 * (sleeper->from + sleeper->to);
    CHECK(std::abs(middle.x - 20 * ft) < 4 * ft);
  }
  CHECK(house.count(MemberKind::valley) == 0);
  // The wing's jacks stand on the deck: not shortened at their feet.
  for (const Member* jack : house.of(MemberKind::valley_jack, "wing/1")) {
    CHECK(jack->foot_shortening_m == 0.0);
  }
}

TEST_CASE("rafters run on to their tails beneath a lean-to's rakes, and none stands at the rakes") {
  // The lean-to's walls at x = 8 and 28 ft, its rakes 2 1/2 ft outside them, over the hall's eave.
  model::RoofModel model;
  model.parts = {
      rectangle("hall", {0, 0}, {50, 24}, {}, 9.0),
      rectangle("lean", {8, 24}, {28, 33},
                {{}, support::gable(2.5 * ft), support::eave(3, ft), support::gable(2.5 * ft)},
                8.0)};
  model.parts[0].outline = {glm::dvec2{0, 0} * ft,    glm::dvec2{34, 0} * ft,
                            glm::dvec2{34, -12} * ft, glm::dvec2{50, -12} * ft,
                            glm::dvec2{50, 24} * ft,  glm::dvec2{0, 24} * ft};
  model.parts[0].edges.assign(6, support::eave(12, 1.25 * ft));
  model.parts[0].edges[2] = support::gable(0.75 * ft);
  model.parts[0].heel_m = 1.25 * ft;
  model.parts[0].framing.spacing_m = 16 * in;
  model.parts[1].edges[0].kind = model::EdgeKind::wall;
  model.parts[1].heel_m = 0.75 * ft;
  const FramedHouse house = framed_house(model);
  check_laws(house.surface, house.framing);
  std::vector<double> east_ft;  // beside the eastern wall, within the rake's overhang
  for (const Member& member : house.framing.members) {
    if (!member.plane.is_none() && house.surface.planes[member.plane].id == "hall/4" &&
        member.kind == MemberKind::common && member.from.x > 28 * ft && member.from.x < 31 * ft) {
      east_ft.push_back(member.from.x / ft);
      CHECK(member.from.y == near(25.25 * ft));
      CHECK(member.tail_m == near(1.25 * ft * up));
    }
  }
  // Marks at 16 in from the corner x = 50: 15 and 16 of them, 30 ft and 28 2/3 ft.
  std::sort(east_ft.begin(), east_ft.end());
  REQUIRE(east_ft.size() == 2);
  CHECK(east_ft[0] == near(50 - 16 * 4.0 / 3));
  CHECK(east_ft[1] == near(50 - 15 * 4.0 / 3));
}

TEST_CASE("a chimney over a hip breaks it, and the findings say so") {
  model::RoofModel model = small_roofs::hip(40, 24, 8).model;
  model::Obstacle chimney;
  chimney.id = "chimney";
  chimney.cricket = model::Cricket::none;
  chimney.outline = {
      {60 * in, 60 * in}, {84 * in, 60 * in}, {84 * in, 84 * in}, {60 * in, 84 * in}};
  model.obstacles = {chimney};
  const FramedHouse house = framed_house(model);
  std::vector<const Member*> pieces;
  for (const Member* hip : house.of(MemberKind::hip, "")) {
    if (!hip->opening.empty()) {
      pieces.push_back(hip);
    }
  }
  REQUIRE(pieces.size() == 2);
  CHECK(house.count(MemberKind::hip) == 5);
  // In plan the hip runs at 45 degrees: up to a header's thickness before 60 in, on from 84 in and
  // the headers above.
  CHECK(pieces[0]->from.x == near(0.0));
  CHECK(pieces[0]->to.x <= 60 * in + 1e-6);
  CHECK(pieces[0]->to.x >= 60 * in - 3 * in);
  CHECK(pieces[1]->from.x >= 84 * in - 1e-6);
  CHECK(pieces[1]->from.x <= 84 * in + 3 * in);
  CHECK(pieces[1]->side_cut_rad > 0.5);  // still cut against the ridge
  CHECK(pieces[0]->side_cut_rad == 0.0);
  const Worked w = worked(model, small_roofs::catalogue());
  const conflicts::Finding* finding = w.finding("broken_board");
  REQUIRE(finding != nullptr);
  CHECK(finding->severity == conflicts::Severity::warning);
  CHECK(finding->message.find("chimney") != std::string::npos);
  // Clear of the hip there is none.
  model.obstacles[0].outline = {
      {240 * in, 60 * in}, {264 * in, 60 * in}, {264 * in, 84 * in}, {240 * in, 84 * in}};
  CHECK(worked(model, small_roofs::catalogue()).finding("broken_board") == nullptr);
}
