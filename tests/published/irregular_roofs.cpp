// Roofs of unequal pitches and wide corners: check-values 1.3, ids I01 to I15.
#include "published/measured.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace ridgeward::tests;
using framing::MemberKind;

TEST_CASE("I01 to I04, K05: hip end of 24 ft span, rise 10 ft, end run 16 ft") {
  const Framed roof = hip_roof(60, 24, 10.0, 7.5);
  const std::string hip = "main/0|main/1";
  CHECK(roof.line(hip).plan_length_m / ft == Approx(20.0).epsilon(1e-9));  // I01 [H] p. 43
  // I02 [H] p. 44: the run times the tangent of its angle with the ridge.
  const double angle = roof.plan_angle_deg(hip, "main/0");
  CHECK(20.0 * std::tan(angle * std::numbers::pi / 180.0) == Approx(15.0).epsilon(1e-9));
  CHECK(roof.longest("main/0", MemberKind::common).line_length_m / ft ==
        Approx(15.6205).margin(5e-5));  // I03
  CHECK(roof.longest("main/1", MemberKind::common).line_length_m / ft ==
        Approx(18.8680).margin(5e-5));                                             // I03
  CHECK(roof.line(hip).length_m / ft == Approx(22.3607).margin(5e-5));             // I03
  CHECK(90.0 - deg(roof.under(hip).side_cut_rad) == Approx(33.855).margin(1e-3));  // I03
  // I04 [H] p. 44: five end jacks on either side at 2 ft, differing by 3.1447 ft.
  const auto jacks = roof.rafters("main/1", MemberKind::hip_jack);
  CHECK(jacks.size() == 10);
  CHECK(roof.difference_m("main/1", MemberKind::hip_jack) / ft == Approx(3.1447).margin(5e-5));
  CHECK(roof.plane("main/1").area_m2 / (ft * ft) == Approx(226.42).margin(5e-3));  // K05
}

TEST_CASE("I05: four hips to one point over 18 x 28 ft, rise 9 ft") {
  const Framed roof = hip_roof(28, 18, 12.0, 9.0 / 14.0 * 12.0, 12);
  CHECK(roof.line("main/0|main/1").plan_length_m / ft == Approx(16.643).margin(5e-4));
  CHECK(roof.line("main/0|main/1").length_m / ft == Approx(18.921).margin(5e-4));
  CHECK(roof.longest("main/0", MemberKind::common).line_length_m / ft ==
        Approx(12.728).margin(5e-4));
  CHECK(roof.longest("main/1", MemberKind::common).line_length_m / ft ==
        Approx(16.643).margin(5e-4));
}

TEST_CASE("I06 to I09: 8/12 with a run of 18.5 ft against 14/12") {
  const Framed roof = hip_roof(60, 37, 8, 14, 16);
  const std::string hip = "main/0|main/1";
  const surface::Line& line = roof.line(hip);
  const double rise = std::abs(roof.surface.nodes[line.to].z - roof.surface.nodes[line.from].z);
  CHECK(rise / ft == Approx(12.333333).margin(1e-6));  // I06 [B-irr]
  // I06: adjacent run; rafters at 37 in so that one stands in the middle of the end.
  const Framed middle = hip_roof(60, 37, 8, 14, 37);
  CHECK(middle.longest("main/1", MemberKind::common).line_length_m / ft ==
        Approx(std::hypot(10.571428, 12.333333)).margin(1e-5));                 // I06: adjacent run
  CHECK(roof.plan_angle_deg(hip, "main/0") == Approx(60.255119).margin(1e-6));  // I07
  CHECK(roof.plan_angle_deg(hip, "main/1") == Approx(29.744881).margin(1e-6));  // I07
  CHECK(roof.pitch_deg(hip) == Approx(30.063493).margin(1e-6));                 // I07
  CHECK(line.plan_length_m / ft == Approx(21.30740).margin(1e-5));              // I08
  CHECK(line.length_m / ft == Approx(24.61943).margin(1e-5));                   // I08
  CHECK(roof.difference_m("main/0", MemberKind::hip_jack) / ft ==
        Approx(2.80432).margin(1e-5));  // I09
  CHECK(roof.difference_m("main/1", MemberKind::hip_jack) / ft ==
        Approx(1.17074).margin(1e-5));  // I09
}

TEST_CASE("I10, I11: eave corners of 135 degrees") {
  const Framed ten = wide_corner(14.0, 9.933052);
  CHECK(ten.plan_angle_deg("main/0|main/1", "main/0") == Approx(45.194221).margin(1e-5));
  CHECK(ten.plan_angle_deg("main/0|main/1", "main/1") == Approx(89.805779).margin(1e-5));
  CHECK(ten.pitch_deg("main/0|main/1") == Approx(39.616244).margin(1e-5));
  const Framed eleven = wide_corner(9.933052, 8.0);
  CHECK(eleven.plan_angle_deg("main/0|main/1", "main/0") == Approx(52.913194).margin(1e-5));
  CHECK(eleven.plan_angle_deg("main/0|main/1", "main/1") == Approx(82.086806).margin(1e-5));
  CHECK(eleven.pitch_deg("main/0|main/1") == Approx(33.437522).margin(1e-5));
}

TEST_CASE("I12: 8/12 against 10/12") {
  const Framed roof = hip_roof(60, 24, 8, 10);
  CHECK(roof.plan_angle_deg("main/0|main/1", "main/0") == Approx(51.34).margin(0.005));
  CHECK(roof.plan_angle_deg("main/0|main/1", "main/1") == Approx(38.659).margin(0.005));
  CHECK(roof.pitch_deg("main/0|main/1") == Approx(27.498).margin(0.005));
  // 12.806 of hip run for 10 of the common run that lies along the other eave.
  CHECK(roof.line("main/0|main/1").plan_length_m / ft / 12.0 * 10.0 == Approx(12.806).margin(5e-4));
}

TEST_CASE("I13: a valley between 10/12 and 13/12") {
  const Framed roof = wing_roof(60, 40, 10, 20, 16, 10, 13);
  CHECK(roof.line("main/0|main/1").kind == surface::LineKind::valley);
  CHECK(roof.pitch_deg("main/0|main/1") == Approx(33.44556).margin(1e-5));
}

TEST_CASE("I14: octagon of 8/12") {
  const Framed roof = octagon_roof(12, 8);
  CHECK(roof.plan_angle_deg("main/0|main/1", "main/0") == Approx(67.5).margin(1e-6));
  CHECK(roof.pitch_deg("main/0|main/1") == Approx(31.62973).margin(1e-5));
}

TEST_CASE("I15: R 20, a jack shortened by 1.6057 in of run") {
  model::RoofModel model = hip_roof(40, 24, 20).model;
  model.parts[0].framing.hip = "2.27080x9.25 in";  // half of it, slanting: 1.6057 in
  const Framed roof = framed(model, 16);
  const framing::Member& jack = *roof.rafters("main/1", MemberKind::hip_jack)[1];
  CHECK(jack.head_shortening_m / in == Approx(1.6057).margin(5e-5));
  CHECK((jack.line_length_m - jack.length_m) / in == Approx(3.1210).margin(2e-4));
}
