#include "framing/stage.hpp"

#include "support/small_roofs.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace small_roofs;
using framing::Bay;
using framing::Framing;
using framing::Member;
using framing::MemberKind;

namespace {

std::vector<const Member*> rafters_of(const Framing& framing, std::uint32_t plane) {
  std::vector<const Member*> all;
  const framing::PlaneFraming& own = framing.planes[PlaneId(plane)];
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    all.push_back(&framing.members[MemberId(i)]);
  }
  return all;
}

std::vector<const Bay*> bays_of(const Framing& framing, std::uint32_t plane) {
  std::vector<const Bay*> all;
  const framing::PlaneFraming& own = framing.planes[PlaneId(plane)];
  for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
    all.push_back(&framing.bays[BayId(i)]);
  }
  return all;
}

Approx near(double value) { return Approx(value).epsilon(1e-9); }

}  // namespace

TEST_CASE("a gable of 40 ft at 24 in has 21 rafters and 20 bays of 22 1/2 in or less") {
  const House house = gable(40, 28, 8);
  const Framing framing = framing::frame(house.model, house.surface);
  CHECK(framing::verify(house.surface, framing).empty());
  for (const std::uint32_t plane : {0U, 1U}) {
    const auto rafters = rafters_of(framing, plane);
    const auto bays = bays_of(framing, plane);
    REQUIRE(rafters.size() == 21);  // N07 [IN], 40 ft at 24 in o.c.
    REQUIRE(bays.size() == 20);     // N07
    CHECK(rafters.front()->at_m == near(0.75 * in));
    CHECK(rafters[1]->at_m == near(24 * in));
    CHECK(rafters.back()->at_m == near(479.25 * in));
    double open = 0.0;
    for (const Bay* bay : bays) {
      open += bay->clear_width_m;
      CHECK(bay->kind == MemberKind::common);
    }
    CHECK(open == near(448.5 * in));  // N05 [IN]: 480 - 21 * 1 1/2
    CHECK(bays[1]->clear_width_m == near(22.5 * in));
    CHECK(bays[0]->clear_width_m == near(21.75 * in));
  }
}

TEST_CASE("a gable's common rafter is shortened by half the ridge, level") {
  const House house = gable(40, 30, 8);
  const Framing framing = framing::frame(house.model, house.surface);
  const Member& rafter = *rafters_of(framing, 0)[5];
  const double factor = std::sqrt(208.0) / 12.0;  // L of check-values 1.1 for R 8, over 12
  CHECK(rafter.kind == MemberKind::common);
  CHECK(rafter.line_length_m == near(15 * ft * factor));
  CHECK(rafter.length_m == near((15 * ft - 0.75 * in) * factor));
  CHECK(rafter.head_shortening_m == near(0.75 * in));
  CHECK(rafter.side_cut_rad == Approx(0.0).margin(1e-12));
  CHECK(rafter.plumb_cut_rad == near(std::atan2(12.0, 8.0)));
  CHECK(rafter.stock == "2x8");
  CHECK(rafter.depth_m == near(7.25 * in));
}

TEST_CASE("rafters keep out of a rake's overhang and a bay fills it") {
  const House house = gable(40, 28, 8, 1.5, 1.0);
  const Framing framing = framing::frame(house.model, house.surface);
  CHECK(framing::verify(house.surface, framing).empty());
  const auto rafters = rafters_of(framing, 0);
  const auto bays = bays_of(framing, 0);
  REQUIRE(rafters.size() == 21);
  REQUIRE(bays.size() == 22);
  CHECK(rafters.front()->at_m == near(12.75 * in));
  CHECK(bays.front()->from_u_m == Approx(0.0).margin(1e-12));
  CHECK(bays.front()->to_u_m == near(12 * in));
  CHECK(bays.front()->left.is_none());
  CHECK(bays.front()->right == MemberId(0U));
  CHECK(bays.back()->right.is_none());
  CHECK(bays.back()->clear_width_m == near(12 * in));
}

TEST_CASE("the layout starts from its origin") {
  House house = gable(20, 20, 6);
  house.model.parts[0].framing.origin_m = 10 * in;
  house.model.parts[0].framing.spacing_m = 16 * in;
  const Framing framing = framing::frame(house.model, house.surface);
  const auto rafters = rafters_of(framing, 0);
  CHECK(rafters[0]->at_m == near(0.75 * in));
  CHECK(rafters[1]->at_m == near(10 * in));
  CHECK(rafters[2]->at_m == near(26 * in));
  CHECK(rafters.back()->at_m == near(239.25 * in));
}

TEST_CASE("measured positions hold and end rafters give way to them") {
  House house = gable(20, 20, 6, 0, 1);
  house.model.parts[0].framing.measured = {{0, {1.0 * in, 30 * in, 31 * in, 75 * in}}};
  const Framing framing = framing::frame(house.model, house.surface);
  CHECK(framing::verify(house.surface, framing).empty());
  const auto rafters = rafters_of(framing, 0);
  REQUIRE(rafters.size() == 4);  // 31 in would overlap 30 in; 1 in replaces the end rafter
  CHECK(rafters[0]->at_m == near(13 * in));
  CHECK(rafters[1]->at_m == near(42 * in));
  CHECK(rafters[2]->at_m == near(87 * in));
  CHECK(rafters[3]->at_m == near(12 * in + 239.25 * in));
  CHECK(rafters_of(framing, 1).size() == 11);  // the other side keeps the layout
}

TEST_CASE("a hip roof has commons, jacks with equal differences and boards under its lines") {
  House house = hip(40, 24, 8);
  house.model.parts[0].framing.spacing_m = 16 * in;
  const Framing framing = framing::frame(house.model, house.surface);
  CHECK(framing::verify(house.surface, framing).empty());
  const auto end = rafters_of(framing, 1);
  REQUIRE(end.size() == 17);  // 16 in marks from 16 to 272 in; the middle one reaches the peak
  for (std::size_t i = 0; i < end.size(); ++i) {
    const bool is_middle = i == 8;
    CHECK(end[i]->kind == (is_middle ? MemberKind::common : MemberKind::hip_jack));
  }
  for (std::size_t i = 1; i < 8; ++i) {
    // T1-R-j16, R 8: printed 19.23 [N] p. 2-31 (V)
    CHECK((end[i]->line_length_m - end[i - 1]->line_length_m) / in == Approx(19.23).margin(0.005));
  }
  CHECK(end[0]->line_length_m / in == Approx(19.23).margin(0.005));      // F08: the shortest jack
  CHECK(end[1]->line_length_m / in == Approx(38.46).margin(0.01));       // F08: the next
  CHECK(end[0]->head_shortening_m == near(0.75 * in * std::sqrt(2.0)));  // F11 [N] p. 2-33
  // Printed side cut of the jack for R 8: 10 on the blade for 12 [N] p. 2-33 (V).
  CHECK(12.0 / std::tan(end[0]->side_cut_rad) == Approx(10.0).margin(1.0 / 32));
  CHECK(end[8]->head_shortening_m == near(0.75 * in));
}

TEST_CASE("hips, valleys and ridge boards: lengths, shortening, backing, drop") {
  const House house = hip(40, 30, 8);
  const Framing framing = framing::frame(house.model, house.surface);
  std::size_t hips = 0;
  std::size_t ridges = 0;
  for (const Member& member : framing.members) {
    if (member.kind == MemberKind::hip) {
      ++hips;
      CHECK(member.line_length_m / ft == Approx(23.45).margin(0.005));      // F04 [N] p. 2-21
      CHECK(member.head_shortening_m / in == Approx(1.0607).margin(5e-5));  // F10 [N] p. 2-22
      CHECK(member.drop_m / in == Approx(0.3536).margin(5e-5));             // F12 [N] p. 2-24/25
      CHECK(member.backing_rad * 57.29577951308232 == Approx(23.0935).margin(5e-5));  // E-8
      CHECK(90.0 - member.side_cut_rad * 57.29577951308232 == Approx(42.1304).margin(5e-5));
      CHECK(90.0 - member.plumb_cut_rad * 57.29577951308232 == Approx(25.2394).margin(5e-5));
      CHECK(member.id.find("/hip") != std::string::npos);
      CHECK(member.from.z < member.to.z);
    } else if (member.kind == MemberKind::ridge_board) {
      ++ridges;
      CHECK(member.line_length_m == near(10 * ft));        // F19 [MIL]: L - W
      CHECK(member.length_m == near(10 * ft + 1.5 * in));  // F20 [ATB]: 1 1/2 in added
    }
  }
  CHECK(hips == 4);
  CHECK(ridges == 1);
}

TEST_CASE("hips of a pyramid: two run through, two are cut against them") {
  const House house = hip(24, 24, 8);
  const Framing framing = framing::frame(house.model, house.surface);
  CHECK(framing::verify(house.surface, framing).empty());
  std::vector<double> shortenings;
  for (const Member& member : framing.members) {
    if (member.kind == MemberKind::hip) {
      CHECK(member.line_length_m / ft == Approx(18.7617).margin(5e-5));  // K03
      shortenings.push_back(member.head_shortening_m);
    }
  }
  std::sort(shortenings.begin(), shortenings.end());
  REQUIRE(shortenings.size() == 4);
  CHECK(shortenings[1] == Approx(0.0).margin(1e-12));
  CHECK(shortenings[2] == near(0.75 * in));
}

TEST_CASE("bays carry foot, head, kind and the members beside them") {
  const House house = hip(40, 24, 6, 1.0);
  const Framing framing = framing::frame(house.model, house.surface);
  CHECK(framing::verify(house.surface, framing).empty());
  const auto bays = bays_of(framing, 0);
  CHECK(bays.front()->kind == MemberKind::hip_jack);
  CHECK(bays[bays.size() / 2]->kind == MemberKind::common);
  CHECK(house.surface.lines[bays.front()->foot].kind == surface::LineKind::eave);
  CHECK(house.surface.lines[bays.front()->head].kind == surface::LineKind::hip);
  CHECK(bays.front()->left.is_none());
  for (const Bay* bay : bays) {
    if (!bay->left.is_none()) {
      CHECK(framing.members[bay->left].at_m < bay->from_u_m);
    }
    if (!bay->right.is_none()) {
      CHECK(framing.members[bay->right].at_m > bay->to_u_m);
    }
  }
}

TEST_CASE("stock sizes") {
  CHECK(framing::stock_named("2x8").thickness_m == near(1.5 * in));
  CHECK(framing::stock_named("2x8").depth_m == near(7.25 * in));
  CHECK(framing::stock_named("2x12").depth_m == near(11.25 * in));
  CHECK(framing::stock_named("38x184 mm").depth_m == near(0.184));
  CHECK(framing::stock_named("1.5x7.25 in").thickness_m == near(1.5 * in));
  for (const char* bad : {"", "2x", "x8", "7x9", "two by eight", "2x-8", "nanx8", "2x8 cm"}) {
    CHECK(framing::stock_named(bad).thickness_m == 0.0);
  }
}

TEST_CASE("unknown stock and absurd spacing still give a frame, and say so") {
  House house = gable(20, 20, 6);
  house.model.parts[0].framing.rafter = "hewn";
  house.model.parts[0].framing.spacing_m = 0.0;
  const Framing framing = framing::frame(house.model, house.surface);
  CHECK(framing::verify(house.surface, framing).empty());
  CHECK(rafters_of(framing, 0).size() <= 160);  // no two overlap: 240 in of 1 1/2 in each
  bool says_so = false;
  for (const std::string& line : framing.assumptions) {
    says_so = says_so || line.find("hewn") != std::string::npos;
  }
  CHECK(says_so);
}
