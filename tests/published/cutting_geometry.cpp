// Angles at hips and valleys: check-values 5, ids E-R-* and G01 to G22.
#include "published/measured.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace ridgeward::tests;
using framing::MemberKind;

namespace {

struct Row {
  double rise;
  double slope;
  double pitch;  ///< of hip and valley
  double strip;  ///< angle on a strip along the eave
  double mitre;  ///< off square: the jack's side cut to its length
  double backing;
  double side_cut;  ///< of the hip to its length
  double fold;
};

/// check-values 5.1 (C).
const std::vector<Row> rows{
    {3, 14.0362, 10.0250, 45.8683, 44.1317, 9.8750, 44.5592, 19.7499},
    {4, 18.4349, 13.2627, 46.5085, 43.4915, 12.9210, 44.2256, 25.8419},
    {5, 22.6199, 16.4164, 47.2906, 42.7094, 15.7812, 43.8080, 31.5624},
    {6, 26.5651, 19.4712, 48.1897, 41.8103, 18.4349, 43.3139, 36.8699},
    {7, 30.2564, 22.4151, 49.1802, 40.8198, 20.8726, 42.7517, 41.7451},
    {8, 33.6901, 25.2394, 50.2378, 39.7622, 23.0935, 42.1304, 46.1869},
    {9, 36.8699, 27.9384, 51.3402, 38.6598, 25.1041, 41.4591, 50.2082},
    {10, 39.8056, 30.5090, 52.4678, 37.5322, 26.9157, 40.7465, 53.8314},
    {12, 45.0000, 35.2644, 54.7356, 35.2644, 30.0000, 39.2315, 60.0000},
    {14, 49.3987, 39.5212, 56.9443, 33.0557, 32.4712, 37.6462, 64.9424},
    {16, 53.1301, 43.3139, 59.0362, 30.9638, 34.4499, 36.0399, 68.8998},
    {18, 56.3099, 46.6861, 60.9829, 29.0171, 36.0399, 34.4499, 72.0798},
    {24, 63.4349, 54.7356, 65.9052, 24.0948, 39.2315, 30.0000, 78.4630},
};
constexpr double fourth = 0.5001e-4;

/// Main block of one pitch with a wing of another, lower than the main ridge.
Framed lower_wing(double main_pitch, double wing_pitch, double spacing_in = 16.0) {
  return wing_roof(80, 60, main_pitch, 30, 16, 12, wing_pitch, spacing_in);
}
const std::string valley = "main/0|main/1";

double to_length_deg(const framing::Member& member) { return 90.0 - deg(member.side_cut_rad); }

}  // namespace

TEST_CASE("E table: equal pitches at a square corner, on hips and on valleys") {
  for (const Row& row : rows) {
    INFO("E-" << row.rise);
    const Framed hips = hip_roof(40, 24, row.rise, row.rise, 16);
    const std::string hip = "main/0|main/1";
    const framing::Member& jack = *hips.rafters("main/1", MemberKind::hip_jack)[1];
    CHECK(90.0 - deg(jack.plumb_cut_rad) == Approx(row.slope).margin(fourth));
    CHECK(hips.pitch_deg(hip) == Approx(row.pitch).margin(fourth));
    CHECK(90.0 - deg(hips.under(hip).plumb_cut_rad) == Approx(row.pitch).margin(fourth));
    CHECK(to_length_deg(jack) == Approx(row.mitre).margin(fourth));
    CHECK(deg(hips.under(hip).backing_rad) == Approx(row.backing).margin(fourth));
    CHECK(to_length_deg(hips.under(hip)) == Approx(row.side_cut).margin(fourth));
    CHECK(hips.fold_deg("main/0", "main/1") == Approx(row.fold).margin(fourth));
    const Framed wing = lower_wing(row.rise, row.rise);
    CHECK(wing.pitch_deg(valley) == Approx(row.pitch).margin(fourth));
    CHECK(wing.strip_angle_deg(valley, "main/0") == Approx(row.strip).margin(fourth));
    CHECK(wing.strip_angle_deg(valley, "main/1") == Approx(row.strip).margin(fourth));
    CHECK(deg(wing.under(valley).backing_left_rad) == Approx(row.backing).margin(fourth));
    CHECK(deg(wing.under(valley).backing_right_rad) == Approx(row.backing).margin(fourth));
    CHECK(wing.fold_deg("main/0", "main/1") == Approx(row.fold).margin(fourth));
  }
}

TEST_CASE("G01 to G03: printed figures at equal pitches") {
  const Framed six = lower_wing(6, 6);
  CHECK(six.strip_angle_deg(valley, "main/0") == Approx(48.19).margin(0.1));  // G01 [R] P3
  CHECK(deg(hip_roof(40, 24, 6).under("main/0|main/1").backing_rad) ==
        Approx(18.435).margin(5e-4));  // G02 [R], [H]
  const Framed ten = hip_roof(40, 24, 10);
  CHECK(ten.pitch_deg("main/0|main/1") == Approx(30.51).margin(0.005));               // G03 [J3]
  CHECK(deg(ten.under("main/0|main/1").backing_rad) == Approx(26.92).margin(0.005));  // G03
}

TEST_CASE("G04 to G11 [B-val]: 12/12 main, 8/12 dormer") {
  const Framed roof = lower_wing(12, 8);
  CHECK(roof.pitch_deg(valley) == Approx(29.01714).margin(1e-5));  // G04
  // G05: each plan angle is taken from its plane's own eave.
  CHECK(180.0 - roof.plan_angle_deg(valley, "main/0") == Approx(33.69007).margin(1e-5));
  CHECK(180.0 - roof.plan_angle_deg(valley, "main/1") == Approx(56.30993).margin(1e-5));
  CHECK(roof.strip_angle_deg(valley, "main/0") == Approx(43.31386).margin(1e-5));         // G06
  CHECK(roof.strip_angle_deg(valley, "main/1") == Approx(60.98286).margin(1e-5));         // G06
  CHECK(90.0 - roof.strip_angle_deg(valley, "main/0") == Approx(46.68614).margin(1e-5));  // G07
  CHECK(90.0 - roof.strip_angle_deg(valley, "main/1") == Approx(29.01714).margin(1e-5));  // G07
  CHECK(roof.backing_deg(valley, "main/0") == Approx(36.03989).margin(1e-5));             // G08
  CHECK(roof.backing_deg(valley, "main/1") == Approx(17.92021).margin(1e-5));             // G08
  // G09: against the wing's ridge, at 56.30993 in plan to the valley's run.
  CHECK(to_length_deg(roof.under(valley)) == Approx(52.67946).margin(1e-5));
  // G10: valley jacks at 16 in.
  CHECK(roof.difference_m("main/0", MemberKind::valley_jack) / in == Approx(15.08495).margin(2e-5));
  CHECK(roof.difference_m("main/1", MemberKind::valley_jack) / in == Approx(28.84441).margin(2e-5));
  // The jack's foot is cut along the valley: its side cut off square is the strip angle.
  CHECK(deg(roof.rafters("main/0", MemberKind::valley_jack)[0]->foot_side_cut_rad) ==
        Approx(43.31386).margin(1e-5));
  // G11: the same as blade figures for 12.
  const auto blade = [](double degrees) {
    return 12.0 * std::tan(degrees * std::numbers::pi / 180.0);
  };
  CHECK(blade(roof.strip_angle_deg(valley, "main/0")) == Approx(11.31371).margin(1e-5));
  CHECK(blade(roof.strip_angle_deg(valley, "main/1")) == Approx(21.63331).margin(1e-5));
  CHECK(blade(roof.backing_deg(valley, "main/0")) == Approx(8.73128).margin(1e-5));
  CHECK(blade(roof.backing_deg(valley, "main/1")) == Approx(3.88057).margin(1e-5));
}

TEST_CASE("G12 to G14 [BL]: 8/12 main, 6/12 adjacent") {
  const Framed roof = lower_wing(8, 6);
  CHECK(180.0 - roof.plan_angle_deg(valley, "main/0") == Approx(36.86990).margin(1e-5));  // G12
  CHECK(180.0 - roof.plan_angle_deg(valley, "main/1") == Approx(53.13010).margin(1e-5));
  CHECK(roof.pitch_deg(valley) == Approx(21.80141).margin(1e-5));
  CHECK(roof.strip_angle_deg(valley, "main/0") == Approx(42.03111).margin(1e-5));  // G13
  CHECK(roof.strip_angle_deg(valley, "main/1") == Approx(56.14549).margin(1e-5));
  CHECK(roof.backing_deg(valley, "main/0") == Approx(26.34404).margin(1e-5));  // G14
  CHECK(roof.backing_deg(valley, "main/1") == Approx(15.56481).margin(1e-5));
  CHECK(90.0 - roof.fold_deg("main/0", "main/1") == Approx(48.09115).margin(1e-5));
}

TEST_CASE("G16 to G19: other unequal pitches, at hips") {
  const std::string hip = "main/0|main/1";
  const Framed steep = hip_roof(60, 37, 8, 14);
  CHECK(steep.strip_angle_deg(hip, "main/0") == Approx(64.57091).margin(1e-5));  // G16
  CHECK(steep.strip_angle_deg(hip, "main/1") == Approx(41.28481).margin(1e-5));
  const Framed near = hip_roof(60, 24, 10, 11);
  CHECK(near.plan_angle_deg(hip, "main/0") == Approx(47.72631).margin(1e-5));  // G17 [B-jack]
  CHECK(near.plan_angle_deg(hip, "main/1") == Approx(42.27369).margin(1e-5));
  CHECK(to_length_deg(*near.rafters("main/0", MemberKind::hip_jack)[0]) ==
        Approx(34.92979).margin(1e-5));
  CHECK(to_length_deg(*near.rafters("main/1", MemberKind::hip_jack)[0]) ==
        Approx(39.03754).margin(1e-5));
  CHECK(near.backing_deg(hip, "main/0") == Approx(25.50784).margin(1e-5));
  CHECK(near.backing_deg(hip, "main/1") == Approx(29.99972).margin(1e-5));
  CHECK(90.0 - near.pitch_deg(hip) == Approx(58.34132).margin(1e-5));  // G18
  const Framed timber = hip_roof(60, 24, 8, 10);
  CHECK(timber.backing_deg(hip, "main/0") == Approx(20.27).margin(0.01));  // G19 [TF]
  CHECK(timber.backing_deg(hip, "main/1") == Approx(29.99).margin(0.01));
}

TEST_CASE("G21 [H] p. 23: jack at a square corner, R 8: 12 and 14.42") {
  const Framed roof = hip_roof(40, 24, 8, 8, 16);
  const framing::Member& jack = *roof.rafters("main/1", MemberKind::hip_jack)[0];
  CHECK(12.0 * std::tan(jack.side_cut_rad) == Approx(14.42).margin(0.005));
  CHECK(to_length_deg(jack) == Approx(39.76).margin(0.005));
}
