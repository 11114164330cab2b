// Worked examples of carpenters' handbooks: check-values 1.2, ids F01 to F37, as far as one part
// of a roof shows them. Shed dormers (F13 to F15) and ridges cut for headers and valleys (F17, F18)
// need several parts.
#include "published/measured.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace ridgeward::tests;
using framing::MemberKind;

namespace {

double common_in(const Framed& roof) {
  return roof.longest("main/0", MemberKind::common).line_length_m / in;
}
double rise_ft(const Framed& roof, const std::string& line) {
  const surface::Line& l = roof.line(line);
  return std::abs(roof.surface.nodes[l.to].z - roof.surface.nodes[l.from].z) / ft;
}
/// Angle of a side cut with the member's own length.
double to_length_deg(const framing::Member& member) { return 90.0 - deg(member.side_cut_rad); }

}  // namespace

TEST_CASE("common rafters by span and rise") {
  CHECK(common_in(gable_roof(30, 16, 7)) == Approx(111.125).margin(1.0 / 16));  // F01 [N] p. 2-12
  CHECK(common_in(gable_roof(30, 25, 6)) == Approx(167.705).margin(5e-4));      // F02 [N], C
  CHECK(common_in(gable_roof(30, 20 + 8.0 / 12, 13)) ==
        Approx(182.815).margin(0.03));  // F23 [A] EN0069A, EN5156
  CHECK(common_in(gable_roof(30, 25, 12)) == Approx(17 * 12 + 8.125).margin(0.02));  // F24 [G]
  CHECK(common_in(gable_roof(30, 24, 12)) ==
        Approx(16 * 12 + 11 + 2.0 / 3).margin(0.03));  // F28 [H] p. 28
  CHECK(common_in(gable_roof(30, 22.5, 6)) == Approx(12 * 12 + 6.93).margin(5e-3));  // F30 [R], C
  CHECK(common_in(gable_roof(30, 28, 4)) / 12 == Approx(14.757).margin(0.02));       // F36 [HOW-SF]
}

TEST_CASE("hips: run, length, rise, by the run of the common rafter") {
  const Framed eight = hip_roof(50, 30, 8);  // run 15 ft, rise 10 ft
  CHECK(rise_ft(eight, "main/0|main/1") == Approx(10.0).epsilon(1e-9));
  CHECK(eight.line("main/0|main/1").plan_length_m / ft == Approx(21.21).margin(0.005));  // F03 [N]
  CHECK(eight.line("main/0|main/1").length_m / ft == Approx(23.45).margin(0.005));       // F04 [N]
  CHECK(eight.line("main/0|main/1").plan_length_m / ft / 15 * 12 ==
        Approx(16.97).margin(0.005));  // F05 [N], [G]
  CHECK(eight.line("main/0|main/1").length_m / ft / 15 * 12 ==
        Approx(18.76).margin(0.005));  // F06 [N]
  const Framed half_pitch = hip_roof(50, 25, 12);
  CHECK(half_pitch.line("main/0|main/1").length_m / in == Approx(259.81).margin(5e-3));  // F25 [G]
  CHECK(to_length_deg(half_pitch.under("main/0|main/1")) ==
        Approx(39.23).margin(5e-3));  // F26 [G]: 17 and 20.78
  // F27 [G] 23: run 12 ft 7 in; the last step after twelve whole ones.
  const Framed quarter = hip_roof(60, 2 * (12 + 7.0 / 12), 6);
  CHECK(quarter.line("main/0|main/1").plan_length_m / in - 144 * std::sqrt(2.0) ==
        Approx(9 + 11.0 / 12).margin(1.0 / 24));
  CHECK(rise_ft(quarter, "main/0|main/1") * 12 - 72 == Approx(3.5).margin(1e-9));
  const Framed ten = hip_roof(50, 24, 10);
  CHECK(rise_ft(ten, "main/0|main/1") / (ten.line("main/0|main/1").plan_length_m / ft) * 12 ==
        Approx(7 + 1.0 / 17).margin(0.02));  // F29 [H] p. 32
  CHECK(hip_roof(50, 22.5, 6).line("main/0|main/1").length_m / in ==
        Approx(16 * 12 + 10.5).margin(1e-6));  // F30 [R], C
  CHECK(hip_roof(50, 1, 6).line("main/0|main/1").plan_length_m / in ==
        Approx(8.5).margin(0.02));  // F35 [CY]: common run 6 in
}

TEST_CASE("jacks: shortest, difference, side cut") {
  const Framed eight = hip_roof(40, 24, 8, 8, 16);
  const auto jacks = eight.rafters("main/1", MemberKind::hip_jack);
  CHECK(jacks[0]->line_length_m / in == Approx(19.23).margin(0.01));  // F08 [N] p. 2-31
  CHECK(jacks[1]->line_length_m / in == Approx(38.46).margin(0.01));  // F08
  CHECK(hip_roof(40, 24, 6, 6, 16).difference_m("main/1", MemberKind::hip_jack) / in ==
        Approx(18.0).margin(0.125));  // F31 [R]: 1 ft 6 in
  // Side cuts by run and length: 12 and L for the jack, 17 and H for the hip, mark along the blade.
  const Framed ten = hip_roof(40, 24, 10, 10, 16);
  const double jack = std::tan(ten.rafters("main/1", MemberKind::hip_jack)[1]->side_cut_rad);
  CHECK(12 * jack == Approx(15 + 7.0 / 12).margin(1.0 / 24));  // F32 [R], [H]
  CHECK(std::sqrt(288.0) * std::tan(ten.under("main/0|main/1").side_cut_rad) ==
        Approx(19.75).margin(1.0 / 16));  // F32
  const Framed nine = hip_roof(40, 24, 9, 9, 16);
  CHECK(12 * std::tan(nine.rafters("main/1", MemberKind::hip_jack)[1]->side_cut_rad) ==
        Approx(15.0).epsilon(1e-9));  // F37 [H] p. 31
  CHECK(std::sqrt(288.0) * std::tan(nine.under("main/0|main/1").side_cut_rad) ==
        Approx(19.25).margin(1.0 / 16));  // F37
}

TEST_CASE("valley jacks count from where the valley meets the ridge") {
  // F09 [N] p. 2-33: lengths 1 and 2 times the common difference. Wing as wide as the main block.
  const double spacing = 16.0;
  const Framed roof = wing_roof(80, 24, 8, 28, 24, 20, 8, spacing);
  const auto jacks = roof.rafters("main/0", MemberKind::valley_jack);
  REQUIRE(jacks.size() >= 2);
  const double difference = 19.2296 * in;  // T1-8-j16
  CHECK(jacks[jacks.size() - 1]->line_length_m == Approx(difference).epsilon(1e-5));
  CHECK(jacks[jacks.size() - 2]->line_length_m == Approx(2 * difference).epsilon(1e-5));
}

TEST_CASE("shortening and drop") {
  const Framed roof = hip_roof(50, 30, 8, 8, 16);  // all stock 1 1/2 in
  const framing::Member& hip = roof.under("main/0|main/1");
  CHECK(hip.head_shortening_m / in == Approx(0.75 * std::sqrt(2.0)).epsilon(1e-9));  // F10 [N]
  const framing::Member& jack = *roof.rafters("main/1", MemberKind::hip_jack)[1];
  CHECK(jack.head_shortening_m / in == Approx(0.75 * std::sqrt(2.0)).epsilon(1e-9));  // F11 [N]
  CHECK((jack.line_length_m - jack.length_m) / in ==
        Approx(0.75 * std::sqrt(2.0) * std::sqrt(208.0) / 12.0).epsilon(1e-9));
  CHECK(hip.drop_m / in == Approx(0.3536).margin(5e-5));  // F12 [N] p. 2-24/25: plumb
  CHECK(hip.drop_m / in * std::sin(hip.plumb_cut_rad) ==
        Approx(0.3198).margin(5e-5));  // F12: square to the edge
}

TEST_CASE("ridges") {
  const Framed hip = hip_roof(40, 24, 6);
  CHECK(hip.line("main/0|main/2").length_m / ft == Approx(16.0).epsilon(1e-9));  // F19 [MIL]: L - W
  const Framed small = hip_roof(16, 10, 6);
  CHECK(small.under("main/0|main/2").line_length_m / ft == Approx(6.0).epsilon(1e-9));  // F20 [ATB]
  CHECK(small.under("main/0|main/2").length_m / in == Approx(73.5).epsilon(1e-9));      // F20
  const Framed wing = wing_roof(40, 24, 6, 12, 16, 4, 6);
  CHECK(wing.line("main/1|main/3").length_m / ft == Approx(12.0).epsilon(1e-9));  // F21 [MIL]
  const Framed eight = gable_roof(30, 16, 8);
  CHECK(eight.surface.nodes[eight.line("main/0|main/2").from].z / in ==
        Approx(64.0).epsilon(1e-9));  // F22 [MIL]: 5 ft 4 in over a run of 8 ft
  // F16 [N] p. 2-34: a wing's ridge that meets the main ridge is its plate and half the main span.
  const Framed level = wing_roof(80, 24, 8, 28, 24, 20, 8);
  CHECK(level.line("main/1|main/3").length_m / ft == Approx(20.0 + 12.0).epsilon(1e-9));
}

TEST_CASE("unequal spans: valleys") {
  // F07 [N] p. 2-28: addition of 30 ft span, R 9; the shorter valley.
  const Framed roof = wing_roof(80, 40, 9, 25, 30, 20, 9);
  CHECK(roof.line("main/0|main/1").plan_length_m / ft == Approx(21.21).margin(0.005));
  CHECK(roof.line("main/0|main/1").length_m / ft == Approx(24.01).margin(0.01));
  // F34 [R] dormers P2: main run 14 ft, wing run 8 ft, R 9.
  const Framed other = wing_roof(60, 28, 9, 20, 16, 12, 9);
  CHECK(rise_ft(other, "main/0|main/1") == Approx(6.0).epsilon(1e-9));
  CHECK(other.surface.nodes[other.line("main/0|main/6").from].z / ft == Approx(10.5).epsilon(1e-9));
  CHECK(other.line("main/0|main/1").length_m / ft == Approx(12.806).margin(5e-4));
  CHECK(other.longest("main/1", MemberKind::common).line_length_m / ft ==
        Approx(10.0).epsilon(1e-9));
}

TEST_CASE("octagon") {
  const Framed roof = octagon_roof(12, 10);
  CHECK(roof.line("main/0|main/1").plan_length_m / ft ==
        Approx(12.9887).margin(5e-5));  // F33, G22 [R], [G] 35: 13 in a foot, rounded
  const framing::Member& jack = *roof.rafters("main/0", MemberKind::hip_jack)[0];
  // F33: 5 and 15 7/12; the tangent is exactly 4.9706 on the length 15.6205.
  CHECK(15.6205 / std::tan(jack.side_cut_rad) == Approx(4.9706).margin(1e-4));
}
