// Sloped ceilings: every rafter bay is a channel by itself; knee walls and lofts join several.
#include "airflow/air.hpp"
#include "airflow/networks.hpp"
#include "airflow/paths.hpp"
#include "airflow/solve.hpp"
#include "airflow/stage.hpp"

#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ridgeward;
using small_roofs::ft;
using small_roofs::in;
using tests::Worked;

namespace {

model::Ceiling ceiling(const std::string& id, model::CeilingKind kind, double y0_ft, double y1_ft,
                       double height_ft, double insulation_in) {
  model::Ceiling one;
  one.id = id;
  one.kind = kind;
  one.outline = {{0, y0_ft * ft}, {40 * ft, y0_ft * ft}, {40 * ft, y1_ft * ft}, {0, y1_ft * ft}};
  one.height_m = height_ft * ft;
  one.insulation_m = insulation_in * in;
  return one;
}

model::RoofModel vented(double rise) {
  model::RoofModel model = support::house(
      {{0, 0}, {40, 0}, {40, 24}, {0, 24}},
      {support::eave(rise), support::gable(), support::eave(rise), support::gable()});
  model.parts[0].plate_m = 8 * ft;
  model.intake = {small_roofs::whole_eave("south", "main/0"),
                  small_roofs::whole_eave("north", "main/2")};
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  return model;
}

/// One sloped ceiling over all: 2x8 rafters with 5 in of insulation leave 2 1/4 in of air.
model::RoofModel vault() {
  model::RoofModel model = vented(6);
  model.ceilings = {ceiling("vault", model::CeilingKind::sloped, 0, 24, 8, 5)};
  model.air.ceiling_leakage_cm2_m2 = 0.0;
  model::AirCase given;
  given.name = "given";
  given.outside_c = 0.0;
  given.inside_c = 20.0;
  given.attic_c = 8.0;
  model.air.cases = {given};
  return model;
}

Worked breathed(const model::RoofModel& model) {
  return tests::worked(model, small_roofs::catalogue(), tests::code_set("us-irc-2021"));
}

const airflow::BayFlow* flow_of(const airflow::CaseAir& one, BayId bay) {
  for (const airflow::BayFlow& flow : one.bays) {
    if (flow.bay == bay) {
      return &flow;
    }
  }
  return nullptr;
}

}  // namespace

TEST_CASE("each bay of a vault breathes by itself, as its own small network does") {
  const Worked w = breathed(vault());
  const airflow::CaseAir& one = w.airflow.cases.back();
  std::size_t checked = 0;
  for (const vents::SlotBay& part : w.vents.slots[SlotId(0U)].bays) {
    const attic::BayPlace& place = w.attic.bays[part.bay];
    const vents::ExhaustShare* share = nullptr;
    for (const vents::ExhaustShare& each : w.vents.exhausts[ExhaustId(0U)].shares) {
      share = each.bay == part.bay ? &each : share;
    }
    const airflow::BayFlow* flow = flow_of(one, part.bay);
    REQUIRE(flow != nullptr);
    if (share == nullptr || part.free_area_m2 <= 0.0) {
      CHECK(std::abs(flow->flow_m3s) < 1e-9);  // a dead end
      continue;
    }
    // Apart: slot and throat, the channel, the ridge's share; all air in it at 8 C.
    const framing::Bay& bay = w.framing.bays[part.bay];
    const attic::Space& space = w.attic.spaces[place.space];
    const surface::Frame& frame = w.surface.planes[bay.plane].frame;
    const auto height = [&](double v) { return frame.at({bay.from_u_m, v}).z; };
    const attic::Stretch& stretch = place.stretches.front();
    airflow::Network network(airflow::kelvin(0.0));
    const airflow::AirNodeId foot = tests::add_node(network, "foot", 8.0);
    const airflow::AirNodeId head = tests::add_node(network, "head", 8.0);
    const vents::Slot& slot = w.vents.slots[SlotId(0U)];
    const double limit = airflow::laminar_limit_pa(0.006, 0.6);
    const double in_m2 =
        airflow::in_series(part.free_area_m2, *slot.space_over_insulation_m * bay.clear_width_m);
    tests::add_from_outside(network, foot, slot.from.z, in_m2, 0.0, limit);
    const airflow::AirLinkId top = tests::add_from_outside(
        network, head, w.vents.exhausts[ExhaustId(0U)].from.z, share->free_area_m2, 0.0, limit);
    network.links.push_back(
        {"bay",
         {foot, height(stretch.low_v_m)},
         {head, height(stretch.high_v_m)},
         airflow::Channel{bay.clear_width_m, space.clear_m, stretch.high_v_m - stretch.low_v_m, 2.5,
                          2.5e-3, airflow::kelvin(8.0)}});
    const double expected =
        -airflow::solve(network).links[top].mass_kgs / airflow::density(airflow::kelvin(8.0));
    CHECK(flow->flow_m3s == Approx(expected).epsilon(1e-6));
    CHECK(flow->speed_ms == Approx(expected / (bay.clear_width_m * space.clear_m)).epsilon(1e-6));
    ++checked;
  }
  CHECK(checked > 10);
}

TEST_CASE("sun on a vault drives the air up its bays, faster than a rafter cavity was measured") {
  const Worked w = breathed(vault());
  const airflow::CaseAir& noon = *w.airflow.first(airflow::CaseKind::summer);
  double fastest = 0.0;
  for (const airflow::BayFlow& flow : noon.bays) {
    CHECK(flow.flow_m3s > -1e-9);
    fastest = std::max(fastest, flow.speed_ms);
    if (flow.flow_m3s > 1e-4) {
      CHECK(flow.temperature_c > noon.conditions.outside_c);
    }
  }
  // Energy and Buildings 40 (2008) 2196: a cavity of 4.88 x 0.40 x 0.078 m heated from above moves
  // its air at up to 0.25 m/s. The steeper, hotter roof here stays within a few times of it.
  CHECK(fastest > 0.05);
  CHECK(fastest < 1.0);
}

TEST_CASE("knee walls, slopes and a loft are one way for the air") {
  model::RoofModel model = vented(12);
  model.parts[0].heel_m = 10 * in;
  model.ceilings = {ceiling("front-knee", model::CeilingKind::flat, 0, 5, 8, 8),
                    ceiling("front-slope", model::CeilingKind::sloped, 5, 8, 8, 5),
                    ceiling("loft", model::CeilingKind::flat, 8, 16, 15.5, 8),
                    ceiling("back-slope", model::CeilingKind::sloped, 16, 19, 8, 5),
                    ceiling("back-knee", model::CeilingKind::flat, 19, 24, 8, 8)};
  const Worked w = breathed(model);
  const airflow::CaseAir& winter = *w.airflow.first(airflow::CaseKind::winter);
  double up = 0.0;
  for (const airflow::BayFlow& flow : winter.bays) {
    const SpaceId space = w.attic.bays[flow.bay].space;
    const bool is_slope =
        std::any_of(w.attic.bays[flow.bay].stretches.begin(),
                    w.attic.bays[flow.bay].stretches.end(), [&](const attic::Stretch& s) {
                      return w.attic.spaces[s.space].kind == attic::SpaceKind::rafter_space;
                    });
    if (!space.is_none() && is_slope) {
      CHECK(flow.flow_m3s > -1e-9);
      up += flow.flow_m3s;
    }
  }
  double taken = 0.0;
  double given = 0.0;
  for (std::size_t i = 0; i < w.airflow.openings.size(); ++i) {
    const double flow = winter.openings[i].flow_m3s;
    taken += w.airflow.openings[i].role == airflow::Role::intake ? flow : 0.0;
    given -= w.airflow.openings[i].role == airflow::Role::exhaust ? flow : 0.0;
  }
  CHECK(taken > 0.0);
  CHECK(given > 0.0);
  CHECK(up > 0.5 * taken);  // what comes in at the eaves goes up the slopes
  const auto drawn = airflow::paths({w.model, w.catalogue, w.surface, w.framing, w.attic, w.vents},
                                    w.airflow, winter);
  CHECK(std::any_of(drawn.begin(), drawn.end(), [](const airflow::Path& path) {
    return path.kind == airflow::Path::Kind::along_bay &&
           path.points.back().z > path.points.front().z;
  }));
}
