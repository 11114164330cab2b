// Slots keep clear of chimneys, skylights, pipes and solar arrays.
#include "base/polygon.hpp"

#include "support/plans.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using small_roofs::ft;
using small_roofs::in;
using tests::Worked;
using vents::Slot;

namespace {

Approx near(double value) { return Approx(value).epsilon(1e-9); }

/// 40 x 28 ft at 8/12, no overhangs, the whole south eave and the whole ridge vented.
model::RoofModel vented_gable() {
  model::RoofModel model = support::house(
      {{0, 0}, {40, 0}, {40, 28}, {0, 28}},
      {support::eave(8, 0), support::gable(0), support::eave(8, 0), support::gable(0)});
  model.intake = {small_roofs::whole_eave("south", "main/0")};
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  return model;
}

model::Obstacle on_plane(const std::string& id, model::ObstacleKind kind, glm::dvec2 at_in,
                         glm::dvec2 size_in) {
  model::Obstacle obstacle;
  obstacle.id = id;
  obstacle.kind = kind;
  obstacle.plane = "main/0";
  obstacle.at = at_in * in;
  obstacle.size = size_in * in;
  return obstacle;
}

Worked worked(const model::RoofModel& model) {
  return tests::worked(model, small_roofs::catalogue());
}

double hold_back_m() {
  return small_roofs::catalogue().products.at("over-deck-10").slot.hold_back_hip_m;
}

}  // namespace

TEST_CASE("a slot that meets a skylight is split around it") {
  model::RoofModel model = vented_gable();
  const Worked whole = worked(model);
  REQUIRE(whole.vents.slots.size() == 1);
  model.obstacles = {on_plane("light", model::ObstacleKind::skylight, {204, 7}, {46, 46})};
  model.obstacles[0].clearance_m = 1 * in;
  const Worked w = worked(model);
  REQUIRE(w.vents.slots.size() == 2);
  const Slot& left = w.vents.slots[SlotId(0U)];
  const Slot& right = w.vents.slots[SlotId(1U)];
  CHECK(left.id == "south/1");
  CHECK(right.id == "south/2");
  CHECK(left.start_m == near(whole.vents.slots[SlotId(0U)].start_m));
  CHECK(left.end_m == near(203 * in - hold_back_m()));
  CHECK(right.start_m == near(251 * in + hold_back_m()));
  CHECK(right.end_m == near(whole.vents.slots[SlotId(0U)].end_m));
  CHECK(vents::verify(w.framing, w.vents).empty());
  CHECK(w.finding("slot_too_short") == nullptr);
}

TEST_CASE("a skylight further up the slope leaves the slot whole and its bays live") {
  model::RoofModel model = vented_gable();
  model.obstacles = {on_plane("light", model::ObstacleKind::skylight, {204, 60}, {46, 46})};
  const Worked w = worked(model);
  REQUIRE(w.vents.slots.size() == 1);
  std::size_t cut = 0;
  for (const vents::SlotBay& part : w.vents.slots[SlotId(0U)].bays) {
    CHECK(part.live);
    const framing::Bay& bay = w.framing.bays[part.bay];
    if (!bay.head_header.is_none()) {
      ++cut;
      CHECK(w.vents.bays[part.bay].why ==
            "into attic, out at ridge vent top; ends at the header below light");
    }
  }
  // Between the rafters at 192 and 264 in stand those at 216 and 240 in, both cut.
  CHECK(cut == 3);
}

TEST_CASE("a run wholly within an obstacle's place finds no room") {
  model::RoofModel model = vented_gable();
  model.obstacles = {on_plane("array", model::ObstacleKind::solar, {120, 5}, {120, 60})};
  model.intake[0].whole = false;
  model.intake[0].from_m = 130 * in;
  model.intake[0].to_m = 230 * in;
  const Worked w = worked(model);
  CHECK(w.vents.slots.empty());
  REQUIRE(w.finding("slot_too_short") != nullptr);
  CHECK(w.finding("slot_too_short")->severity == conflicts::Severity::error);
}

TEST_CASE("a ridge vent stops on both sides of a chimney astride the ridge") {
  model::RoofModel model = vented_gable();
  const Worked whole = worked(model);
  model::Obstacle chimney;
  chimney.id = "chimney";
  chimney.outline = {glm::dvec2{18, 13} * ft, glm::dvec2{21, 13} * ft, glm::dvec2{21, 15} * ft,
                     glm::dvec2{18, 15} * ft};
  chimney.clearance_m = 2 * in;
  model.obstacles = {chimney};
  const Worked w = worked(model);
  const double held = small_roofs::catalogue().products.at("ridge-12").slot.hold_back_hip_m;
  REQUIRE(whole.vents.exhausts.size() == 1);
  REQUIRE(w.vents.exhausts.size() == 2);
  CHECK(w.vents.exhausts[ExhaustId(0U)].id == "top/1");
  CHECK(w.vents.exhausts[ExhaustId(0U)].length_m + w.vents.exhausts[ExhaustId(1U)].length_m ==
        near(whole.vents.exhausts[ExhaustId(0U)].length_m - 40 * in - 2 * held));
  // Further down the slope it leaves the ridge alone.
  for (glm::dvec2& p : model.obstacles[0].outline) {
    p.y -= 3 * ft;
  }
  CHECK(worked(model).vents.exhausts.size() == 1);
}

TEST_CASE("law: slots keep the hold-back from every obstacle and sum up as ever") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = support::cases_or(150);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  std::size_t split = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    model::RoofModel model = vented_gable();
    for (std::size_t n = 1 + rng() % 3; n > 0; --n) {
      model.obstacles.push_back(on_plane(
          "o" + std::to_string(n), static_cast<model::ObstacleKind>(rng() % 4),
          {share(rng) * 400, share(rng) * 14}, {2 + share(rng) * 50, 2 + share(rng) * 30}));
      model.obstacles.back().clearance_m = 3 * share(rng) * in;
    }
    if (!surface::raise(model)) {
      continue;  // over one another
    }
    const Worked w = worked(model);
    for (const std::string& broken : vents::verify(w.framing, w.vents)) {
      FAIL(broken);
    }
    split += w.vents.slots.size() > 1 ? 1 : 0;
    for (const Slot& slot : w.vents.slots) {
      for (const surface::Region& region : w.surface.regions) {
        const polygon::Box box = polygon::box_of(region.clear_uv);
        if (box.low.y < slot.lower_line_m + slot.width_m - 1e-6 &&
            box.high.y > slot.lower_line_m + 1e-6) {
          const bool is_clear = slot.end_m <= box.low.x - hold_back_m() + 1e-6 ||
                                slot.start_m >= box.high.x + hold_back_m() - 1e-6;
          REQUIRE(is_clear);
        }
      }
    }
  }
  CHECK(split > cases / 10);
}
