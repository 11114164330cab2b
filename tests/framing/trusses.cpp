// Truss sets worked by hand: hip ends, gables, valley sets; and their laws over random houses.
#include "framing/framed.hpp"

#include "support/small_roofs.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <cmath>
#include <set>

using namespace ridgeward;
using namespace small_roofs;
using namespace ridgeward::tests;
using framing::Member;
using framing::MemberKind;
using framing::Truss;

namespace {

Approx near(double value) { return Approx(value).epsilon(1e-9).margin(1e-9); }

model::RoofModel with_trusses(model::RoofModel model) {
  for (model::Part& part : model.parts) {
    part.framing.kind = model::FramingKind::truss;
    part.framing.rafter = "2x4";
  }
  return model;
}

std::vector<const Truss*> trusses(const FramedHouse& house, MemberKind kind) {
  std::vector<const Truss*> all;
  for (const Truss& truss : house.framing.trusses) {
    if (truss.kind == kind) {
      all.push_back(&truss);
    }
  }
  return all;
}

/// The laws of a framed house with trusses.
void check_trusses(const FramedHouse& house) {
  std::set<std::uint32_t> named;
  for (const Truss& truss : house.framing.trusses) {
    INFO(truss.id);
    REQUIRE_FALSE(truss.chords.empty());
    REQUIRE(truss.span_m > 0.0);
    REQUIRE(truss.height_m > 0.0);
    const Member& first = house.framing.members[truss.chords.front()];
    const glm::dvec3 across =
        glm::normalize(glm::dvec3{first.to.x - first.from.x, first.to.y - first.from.y, 0.0});
    for (const MemberId id : truss.chords) {
      const Member& chord = house.framing.members[id];
      REQUIRE(chord.truss == truss.id);
      REQUIRE(framing::is_truss(chord.kind));
      REQUIRE(named.insert(id.value).second);
      // All chords of a truss stand in one upright plane.
      for (const glm::dvec3 end : {chord.from, chord.to}) {
        const glm::dvec3 d = end - first.from;
        REQUIRE(std::abs(d.x * across.y - d.y * across.x) < 2e-5);
      }
    }
  }
  for (const MemberId id : house.framing.members.ids()) {
    const Member& member = house.framing.members[id];
    REQUIRE(framing::is_truss(member.kind) == (named.count(id.value) == 1));
    const bool is_of_trusses =
        house.model.parts[member.part].framing.kind == model::FramingKind::truss;
    REQUIRE((!framing::is_truss(member.kind) || is_of_trusses));
    REQUIRE((member.kind != MemberKind::ridge_board || !is_of_trusses));
  }
}

}  // namespace

TEST_CASE("a gable of trusses: both sides stand at the same stations, whatever the length") {
  // 41 ft: rafters laid out from the left of each wall would miss each other by a foot.
  const FramedHouse house = framed_house(with_trusses(gable(41, 28, 6).model));
  check_trusses(house);
  REQUIRE(house.framing.trusses.size() == 22);  // 20 marks of 24 in, two ends
  for (const Truss& truss : house.framing.trusses) {
    CHECK(truss.kind == MemberKind::common_truss);
    CHECK(truss.chords.size() == 2);
    CHECK(truss.span_m == near(28 * ft));
    CHECK(truss.height_m == near(7 * ft));
    CHECK(truss.flat_m == 0.0);
  }
  CHECK(house.framing.trusses[1].station_m == near(24 * in));
  // Top chords butt at the ridge: no board to shorten for, half the slope factor of 6/12 in a foot.
  CHECK(house.of(MemberKind::common_truss, "main/0")[3]->length_m ==
        near(14 * ft * std::sqrt(1.25)));
  CHECK(house.count(MemberKind::ridge_board) == 0);
}

TEST_CASE("a hip end of trusses in closed form: jacks, girder, step-down, commons") {
  // 40 x 24 ft at 6/12, 24 in on centre. The hips end 12 ft from the end walls.
  // Stations from an end wall: 2, 4, 6 ft jacks; 8 ft the girder; 10 ft a step-down; 12 ft the
  // first common. A level top at s from the end wall is 24 - 2 s wide and s / 2 high.
  const FramedHouse house = framed_house(with_trusses(hip(40, 24, 6).model));
  check_trusses(house);
  const auto girders = trusses(house, MemberKind::girder_truss);
  REQUIRE(girders.size() == 2);
  for (const Truss* girder : girders) {
    CHECK(girder->span_m == near(24 * ft));
    CHECK(girder->height_m == near(4 * ft));
    CHECK(girder->flat_m == near(8 * ft));
    CHECK(girder->chords.size() == 3);
  }
  CHECK(girders[0]->station_m == near(8 * ft));
  CHECK(girders[1]->station_m == near(32 * ft));
  const auto steps = trusses(house, MemberKind::step_down_truss);
  REQUIRE(steps.size() == 2);
  CHECK(steps[0]->flat_m == near(4 * ft));
  CHECK(steps[0]->height_m == near(5 * ft));
  const auto commons = trusses(house, MemberKind::common_truss);
  REQUIRE(commons.size() == 9);  // 12 to 28 ft
  for (const Truss* common : commons) {
    CHECK(common->height_m == near(6 * ft));
    CHECK(common->flat_m == 0.0);
  }
  // Three side jacks at each of four corners, eleven end jacks (2 to 22 ft) at each end.
  const auto jacks = trusses(house, MemberKind::jack_truss);
  CHECK(jacks.size() == 12 + 22);
  CHECK(house.of(MemberKind::jack_truss, "main/1").size() == 11);
  CHECK(house.count(MemberKind::hip) == 4);
  // The jacks run over the level top: it lies a plumb chord and deck lower than the roof.
  const Member& top = house.member(girders[0]->id + "/top");
  const double cosine = 1.0 / std::sqrt(1.25);
  CHECK(top.from.z == near((8 + 4) * ft - 4 * in / cosine));
  CHECK(top.length_m == near(8 * ft));
  CHECK(top.lie == framing::Lie::free);
}

TEST_CASE("a hip too short for a step-down gives the first full truss the jacks to carry") {
  // 24 x 12 ft: hips end 6 ft from the wall; at 24 in the girder is the first common.
  const FramedHouse house = framed_house(with_trusses(hip(24, 12, 6).model));
  check_trusses(house);
  CHECK(trusses(house, MemberKind::step_down_truss).empty());
  const auto girders = trusses(house, MemberKind::girder_truss);
  REQUIRE(girders.size() == 2);
  CHECK(girders[0]->station_m == near(6 * ft));
  CHECK(girders[0]->flat_m == 0.0);
  CHECK(girders[0]->height_m == near(3 * ft));
}

TEST_CASE("a wing of trusses laid over the main roof is a valley set on its deck") {
  model::RoofModel model = with_trusses(gable(40, 24, 6).model);
  model::Part wing = model.parts[0];
  wing.id = "wing";
  wing.outline = {{12 * ft, -20 * ft}, {28 * ft, -20 * ft}, {28 * ft, 12 * ft}, {12 * ft, 12 * ft}};
  for (std::size_t i = 0; i < 4; ++i) {
    wing.edges[i].kind = i % 2 == 0 ? model::EdgeKind::gable : model::EdgeKind::eave;
    wing.edges[i].pitch = units::Pitch::from_rise_run(6, 12);
    wing.edges[i].overhang_m = 0.0;
  }
  wing.valleys = model::Valleys::overlaid;
  model.parts.push_back(wing);
  const FramedHouse house = framed_house(model);
  check_trusses(house);
  // The main trusses go on beneath: all 21 in full, none ends at the valley.
  CHECK(trusses(house, MemberKind::common_truss).size() == 21 + 11);
  for (const Member* chord : house.of(MemberKind::common_truss, "main/0")) {
    CHECK(chord->length_m == near(12 * ft * std::sqrt(1.25)));
  }
  // The wing's ridge meets the main plane 8 ft in; its marks 24 in on centre count from the front
  // wall, 20 ft out: those at 20 to 26 ft stand on the main deck, each of two chords.
  const auto set = trusses(house, MemberKind::valley_truss);
  REQUIRE(set.size() == 3);
  std::vector<double> spans;
  for (const Truss* one : set) {
    CHECK(one->chords.size() == 2);
    spans.push_back(one->span_m / ft);
  }
  // 16 ft wide at the wall, 2 ft less for each foot up the main plane.
  CHECK(spans[0] == Approx(12.0).margin(1e-4));
  CHECK(spans[1] == Approx(8.0).margin(1e-4));
  CHECK(spans[2] == Approx(4.0).margin(1e-4));
}
