#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using small_roofs::ft;
using tests::Worked;

namespace {

Approx near(double value) { return Approx(value).epsilon(1e-9); }

}  // namespace

TEST_CASE("lines of a hip roof, by plane and in total") {
  const model::Edge e = support::eave(6);
  const Worked w = tests::worked(support::house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {e, e, e, e}),
                                 small_roofs::catalogue());
  const takeoff::Lengths& all = w.takeoff.totals;
  CHECK(all.eave_m == near(128 * ft));  // K01
  CHECK(all.ridge_m == near(16 * ft));
  CHECK(all.hip_m == near(72 * ft));
  CHECK(all.valley_m == 0.0);
  CHECK(all.area_m2 / (ft * ft) == Approx(1073.313).margin(5e-4));  // K01
  CHECK(all.plan_area_m2 == near(960 * ft * ft));
  const takeoff::Lengths& south = w.takeoff.planes[w.plane("main/0")];
  CHECK(south.eave_m == near(40 * ft));
  CHECK(south.ridge_m == near(16 * ft));
  CHECK(south.hip_m == near(36 * ft));  // hips count for both planes beside them
  CHECK(south.area_m2 / (ft * ft) == Approx(375.66).margin(5e-3));
}

TEST_CASE("a wing adds valleys and takes from the eave") {
  const model::Edge e = support::eave(6);
  const Worked w = tests::worked(
      support::house({{0, 0}, {12, 0}, {12, -20}, {28, -20}, {28, 0}, {40, 0}, {40, 24}, {0, 24}},
                     {e, e, support::gable(), e, e, e, e, e}),
      small_roofs::catalogue());
  const takeoff::Lengths& all = w.takeoff.totals;
  CHECK(all.valley_m == near(24 * ft));                 // K04: two of 12.000 ft
  CHECK(all.ridge_m == near((16 + 28) * ft));           // K04: wing ridge 28 ft
  CHECK(all.eave_m == near((24 + 40 + 48 + 40) * ft));  // K04: 24 in front, 20 + 20 on the wing
  CHECK(all.area_m2 / (ft * ft) == Approx(1431.08).margin(5e-3));  // K04
}

TEST_CASE("sections, pieces and nails to order") {
  model::RoofModel model = support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}},
                                          {support::eave(8, 1.5 * ft), support::gable(1.0 * ft),
                                           support::eave(8, 1.5 * ft), support::gable(1.0 * ft)});
  model.intake = {small_roofs::whole_eave("south", "main/0"),
                  small_roofs::whole_eave("north", "main/2")};
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  const Worked w = tests::worked(model, small_roofs::catalogue());
  const std::vector<takeoff::OrderLine>& order = w.takeoff.order;
  REQUIRE(order.size() >= 5);
  CHECK(order[0].item == "over-deck-10");
  CHECK(order[0].for_what == "south");
  CHECK(order[0].unit == "section");
  CHECK(order[0].quantity == 11.0);  // 42 ft rake to rake in 4 ft sections
  CHECK(order[1].for_what == "north");
  CHECK(order[1].quantity == 10.0);  // its rest of 2 ft is what was cut off in the south
  CHECK(order[2].item == "ridge-12");
  CHECK(order[2].quantity == 10.0);  // 39 ft
  CHECK(order[3].item == "nails");
  // 6 a whole section, 3 for the 2 ft piece; the other run takes its 2 ft from the same section.
  CHECK(order[3].for_what == "south");
  CHECK(order[3].quantity == 10.0 * 6.0 + 3.0);
  CHECK(order[4].for_what == "north");
  CHECK(order[4].quantity == 10.0 * 6.0 + 3.0);
  CHECK(order[5].item == "nails");
  CHECK(order[5].for_what == "top");
  CHECK(order[5].quantity == 9.0 * 8.0 + 6.0);  // 36 ft in whole pieces, 3 ft cut
}

TEST_CASE("a length of whole sections takes no section more") {
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}},
                     {support::eave(8), support::gable(), support::eave(8), support::gable()});
  model.intake = {small_roofs::whole_eave("south", "main/0")};
  const Worked w = tests::worked(model, small_roofs::catalogue());
  CHECK(w.takeoff.order[0].quantity == 10.0);
}

TEST_CASE("law: lines between two planes count once in the whole and for both") {
  const model::Edge e = support::eave(6);
  const Worked w =
      tests::worked(support::house({{0, 0}, {26, 0}, {26, -16}, {48, -16}, {48, 28}, {0, 28}},
                                   {e, e, support::gable(), e, e, e}),
                    small_roofs::catalogue());
  takeoff::Lengths sum;
  for (const takeoff::Lengths& plane : w.takeoff.planes) {
    sum.eave_m += plane.eave_m;
    sum.rake_m += plane.rake_m;
    sum.ridge_m += plane.ridge_m;
    sum.hip_m += plane.hip_m;
    sum.valley_m += plane.valley_m;
    sum.area_m2 += plane.area_m2;
  }
  CHECK(sum.eave_m == near(w.takeoff.totals.eave_m));
  CHECK(sum.rake_m == near(w.takeoff.totals.rake_m));
  CHECK(sum.ridge_m == near(2 * w.takeoff.totals.ridge_m));
  CHECK(sum.hip_m == near(2 * w.takeoff.totals.hip_m));
  CHECK(sum.valley_m == near(2 * w.takeoff.totals.valley_m));
  CHECK(sum.area_m2 == near(w.takeoff.totals.area_m2));
}
