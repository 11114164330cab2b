// Rafter tables of the framing square, rise 2 to 24 in 12: check-values 1.1, ids T1-R-*.
#include "published/measured.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace ridgeward::tests;
using framing::MemberKind;

namespace {

/// Inches: columns of check-values 1.1 as printed there. `printed` is the common rafter line of
/// [HOW-8] (S; 0 where none was found), `factor` the hip factor of [RO] (S; 0 likewise). The others
/// are closed forms (C), except R 8 at 16 in: 19.23 [N] (V).
struct Row {
  int rise;
  double common;
  double printed;
  double hip;
  double factor;
  double jack_16;
  double jack_24;
  double jack_cut;
  double hip_cut;
  double slope_factor;
};

const std::vector<Row> rows{
    {2, 12.1655, 12.17, 17.0880, 1.4240, 16.2207, 24.3311, 11.837, 11.918, 1.01379},
    {3, 12.3693, 12.37, 17.2337, 1.4362, 16.4924, 24.7386, 11.642, 11.817, 1.03078},
    {4, 12.6491, 12.65, 17.4356, 1.4529, 16.8655, 25.2982, 11.384, 11.680, 1.05409},
    {5, 13.0000, 13.00, 17.6918, 1.4743, 17.3333, 26.0000, 11.077, 11.511, 1.08333},
    {6, 13.4164, 13.42, 18.0000, 1.5000, 17.8885, 26.8328, 10.733, 11.314, 1.11803},
    {7, 13.8924, 13.89, 18.3576, 1.5298, 18.5233, 27.7849, 10.365, 11.093, 1.15770},
    {8, 14.4222, 14.42, 18.7617, 1.5635, 19.2296, 28.8444, 9.985, 10.854, 1.20185},
    {9, 15.0000, 15.00, 19.2094, 1.6008, 20.0000, 30.0000, 9.600, 10.601, 1.25000},
    {10, 15.6205, 15.62, 19.6977, 1.6415, 20.8273, 31.2410, 9.219, 10.339, 1.30171},
    {11, 16.2788, 16.28, 20.2237, 1.6853, 21.7051, 32.5576, 8.846, 10.070, 1.35657},
    {12, 16.9706, 16.97, 20.7846, 1.7321, 22.6274, 33.9411, 8.485, 9.798, 1.41421},
    {13, 17.6918, 17.69, 21.3776, 1.7815, 23.5891, 35.3836, 8.139, 9.526, 1.47432},
    {14, 18.4391, 18.44, 22.0000, 1.8333, 24.5855, 36.8782, 7.809, 9.257, 1.53659},
    {15, 19.2094, 19.21, 22.6495, 1.8874, 25.6125, 38.4187, 7.496, 8.991, 1.60078},
    {16, 20.0000, 20.00, 23.3238, 1.9437, 26.6667, 40.0000, 7.200, 8.731, 1.66667},
    {17, 20.8087, 20.81, 24.0208, 2.0017, 27.7449, 41.6173, 6.920, 8.478, 1.73405},
    {18, 21.6333, 21.63, 24.7386, 2.0616, 28.8444, 43.2666, 6.656, 8.232, 1.80278},
    {19, 22.4722, 0.0, 25.4755, 2.1230, 29.9629, 44.9444, 6.408, 7.994, 1.87268},
    {20, 23.3238, 0.0, 26.2298, 2.1858, 31.0984, 46.6476, 6.174, 7.764, 1.94365},
    {21, 24.1868, 0.0, 27.0000, 0.0, 32.2490, 48.3735, 5.954, 7.542, 2.01556},
    {22, 25.0599, 0.0, 27.7849, 0.0, 33.4132, 50.1199, 5.746, 7.329, 2.08833},
    {23, 25.9422, 0.0, 28.5832, 0.0, 34.5897, 51.8845, 5.551, 7.125, 2.16185},
    {24, 26.8328, 0.0, 29.3939, 0.0, 35.7771, 53.6656, 5.367, 6.928, 2.23607},
};

/// Half of the last digit printed in the table.
constexpr double fourth = 0.5001e-4;
constexpr double third = 0.5001e-3;

}  // namespace

TEST_CASE("rafter table: common, hip, jacks and side cuts measured on hip roofs") {
  for (const Row& row : rows) {
    INFO("T1-" << row.rise);
    const double rise = row.rise;
    const Framed wide = hip_roof(40, 24, rise, rise, 24);  // runs of 12 ft
    const Framed close = hip_roof(40, 24, rise, rise, 16);
    const double common = wide.longest("main/0", MemberKind::common).line_length_m / in / 12.0;
    const double hip = wide.under("main/0|main/1").line_length_m / in / 12.0;
    CHECK(common == Approx(row.common).margin(fourth));  // T1-R-common
    CHECK(common == Approx(std::hypot(12.0, rise)).epsilon(1e-9));
    if (row.printed > 0.0) {
      CHECK(common == Approx(row.printed).margin(0.005));  // [HOW-8], S
    }
    CHECK(hip == Approx(row.hip).margin(fourth));  // T1-R-hip
    CHECK(hip == Approx(std::sqrt(288.0 + rise * rise)).epsilon(1e-9));
    if (row.factor > 0.0) {
      CHECK(hip / 12.0 == Approx(row.factor).margin(0.00015));  // [RO], S
    }
    const double jack_16 = close.difference_m("main/1", MemberKind::hip_jack) / in;
    const double jack_24 = wide.difference_m("main/1", MemberKind::hip_jack) / in;
    CHECK(jack_16 == Approx(row.jack_16).margin(fourth));  // T1-R-j16
    CHECK(jack_24 == Approx(row.jack_24).margin(fourth));  // T1-R-j24
    // Side cuts: 12 on the tongue, this much on the blade (mark along the tongue).
    const framing::Member& jack = *close.rafters("main/1", MemberKind::hip_jack)[2];
    CHECK(12.0 / std::tan(jack.side_cut_rad) == Approx(row.jack_cut).margin(third));  // T1-R-sj
    CHECK(12.0 / std::tan(wide.under("main/0|main/1").side_cut_rad) ==
          Approx(row.hip_cut).margin(third));  // T1-R-sh
    const surface::Plane& plane = wide.plane("main/0");
    CHECK(plane.area_m2 / plane.plan_area_m2 == Approx(row.slope_factor).margin(0.5001e-5));
  }
}

TEST_CASE("figures printed elsewhere for single rises") {
  const auto common = [](double rise) {
    return hip_roof(40, 24, rise).longest("main/0", MemberKind::common).line_length_m / in / 12.0;
  };
  const auto hip = [](double rise) {
    return hip_roof(40, 24, rise).under("main/0|main/1").line_length_m / in / 12.0;
  };
  CHECK(common(7) == Approx(13.89).margin(0.005));   // [N], V
  CHECK(common(8) == Approx(14.42).margin(0.005));   // [N], V
  CHECK(common(13) == Approx(17.69).margin(0.005));  // [A], V
  CHECK(common(16) == Approx(20.00).margin(0.005));  // [A], V
  CHECK(common(12) == Approx(16.97).margin(0.005));  // [G], V
  CHECK(hip(8) == Approx(18.76).margin(0.005));      // [N], V
  CHECK(hip(9) == Approx(19.21).margin(0.005));      // [N], V
  CHECK(hip(12) == Approx(20.78).margin(0.005));     // [G], V
  CHECK(hip(6) == Approx(18.0).margin(0.005));       // [R], V
  CHECK(hip(10) == Approx(19.75).margin(1.0 / 16));  // [H], V: 19 3/4
}

TEST_CASE("slope factors printed for roof areas") {
  const std::vector<std::pair<double, double>> printed{
      {1, 1.003},  {2, 1.014},  {3, 1.031},  {7, 1.158},   // [DEAL], S
      {11, 1.357}, {13, 1.474}, {14, 1.537}, {15, 1.601},  // [DEAL], S
      {4, 1.054},  {5, 1.083},  {6, 1.118},  {8, 1.202},   // [J1], S
      {9, 1.250},  {10, 1.302}, {12, 1.414}};              // [J1], S
  for (const auto& [rise, factor] : printed) {
    INFO("rise " << rise);
    const Framed roof = gable_roof(40, 24, rise);
    CHECK(roof.area_ft2() / 960.0 == Approx(factor).margin(0.0006));
  }
  CHECK(gable_roof(40, 24, 6).area_ft2() / 960.0 == Approx(1.118034).margin(5e-7));  // [J4], S
}
