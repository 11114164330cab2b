#include "attic/stage.hpp"
#include "base/polygon.hpp"
#include "framing/stage.hpp"

#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace small_roofs;

namespace {

Approx near(double value) { return Approx(value).epsilon(1e-9); }

attic::Attic divided(const House& house) {
  const framing::Framing framing = framing::frame(house.model, house.surface);
  Result<attic::Attic> attic = attic::divide(house.model, house.surface, framing);
  REQUIRE(attic.ok());
  return std::move(attic).value();
}

std::string fault_of(const House& house) {
  const framing::Framing framing = framing::frame(house.model, house.surface);
  const Result<attic::Attic> attic = attic::divide(house.model, house.surface, framing);
  REQUIRE_FALSE(attic.ok());
  CHECK_FALSE(attic.faults()[0].cure.empty());
  return attic.faults()[0].code + " " + attic.faults()[0].where;
}

model::Ceiling flat(const std::string& id, double x0, double y0, double x1, double y1,
                    double height) {
  model::Ceiling ceiling;
  ceiling.id = id;
  ceiling.outline = {
      {x0 * ft, y0 * ft}, {x1 * ft, y0 * ft}, {x1 * ft, y1 * ft}, {x0 * ft, y1 * ft}};
  ceiling.height_m = height * ft;
  return ceiling;
}

}  // namespace

TEST_CASE("volumes over the plate: gable, hip and pyramid") {
  const double ft3 = ft * ft * ft;
  CHECK(divided(gable(40, 24, 6)).compartments[CompartmentId(0U)].volume_m3 / ft3 ==
        near(2880.0));  // K02
  CHECK(divided(hip(40, 24, 6)).compartments[CompartmentId(0U)].volume_m3 / ft3 ==
        near(2304.0));  // K01
  CHECK(divided(hip(24, 24, 8)).compartments[CompartmentId(0U)].volume_m3 / ft3 ==
        near(1536.0));  // K03
}

TEST_CASE("overhangs add nothing to floor or volume") {
  const attic::Attic plain = divided(hip(40, 24, 6));
  const attic::Attic wide = divided(hip(40, 24, 6, 1.5));
  const CompartmentId only(0U);
  CHECK(wide.compartments[only].volume_m3 == near(plain.compartments[only].volume_m3));
  CHECK(wide.compartments[only].floor_area_m2 == near(960 * ft * ft));
  CHECK(wide.compartments[only].id == "attic");
  CHECK(wide.compartments[only].bottom_m == near(8 * ft));
  CHECK(wide.compartments[only].top_m == near(14 * ft));
  CHECK_FALSE(wide.assumptions.empty());
}

TEST_CASE("a ceiling lower than the plate adds its prism") {
  House house = gable(40, 24, 6);
  house.model.ceilings = {flat("rooms", 0, 0, 40, 24, 7)};
  const attic::Attic attic = divided(house);
  CHECK(attic.compartments[CompartmentId(0U)].volume_m3 / (ft * ft * ft) == near(2880.0 + 960.0));
  CHECK(attic.compartments[CompartmentId(0U)].id == "rooms");
}

TEST_CASE("a ceiling over part of the house leaves the rest without") {
  House house = gable(40, 24, 6);
  house.model.ceilings = {flat("west", 0, 0, 10, 24, 8)};
  const framing::Framing framing = framing::frame(house.model, house.surface);
  const attic::Attic attic = divided(house);
  CHECK(attic.compartments[CompartmentId(0U)].volume_m3 / (ft * ft * ft) == near(720.0));
  for (const BayId id : framing.bays.ids()) {
    const framing::Bay& bay = framing.bays[id];
    if (bay.plane != PlaneId(0U)) {
      continue;
    }
    if (bay.from_u_m >= 10 * ft) {
      CHECK(attic.bays[id].compartment.is_none());
      CHECK(attic.bays[id].why == "no ceiling lies under it");
    } else {
      CHECK(attic.bays[id].compartment == CompartmentId(0U));
    }
  }
}

TEST_CASE("bays over overhangs and rakes open to nothing, and say why") {
  const House house = gable(40, 24, 6, 1.0, 1.0);
  const framing::Framing framing = framing::frame(house.model, house.surface);
  const attic::Attic attic = divided(house);
  CHECK(attic.bays[BayId(0U)].why == "beyond the gable-end wall");
  CHECK(attic.bays[BayId(1U)].compartment == CompartmentId(0U));
  const House hipped = hip(40, 24, 6, 2.0);
  const framing::Framing jacks = framing::frame(hipped.model, hipped.surface);
  const attic::Attic over = divided(hipped);
  CHECK(over.bays[BayId(0U)].why == "only over the overhang");
}

TEST_CASE("a bay stopped up at its foot opens to nothing, the others as before") {
  House house = gable(40, 24, 6, 1.5);
  const framing::Framing framing = framing::frame(house.model, house.surface);
  const attic::Attic open = divided(house);
  const surface::Plane& plane = house.surface.planes[PlaneId(0U)];
  const BayId chosen(framing.planes[PlaneId(0U)].first_bay + 5);
  const framing::Bay& bay = framing.bays[chosen];
  REQUIRE(open.bays[chosen].under == attic::Under::space);
  const double at_m = 0.3 * bay.from_u_m + 0.7 * bay.to_u_m - plane.wall_start_u_m;
  house.model.parts[0].framing.measured = {{static_cast<int>(plane.edge), {}, {at_m}}};
  const attic::Attic stopped = divided(house);
  for (const BayId id : framing.bays.ids()) {
    CAPTURE(framing.bays[id].id);
    const bool is_it = id == chosen;
    CHECK(stopped.bays[id].under == (is_it ? attic::Under::stopped : open.bays[id].under));
    CHECK(stopped.bays[id].space.is_none() == (is_it || open.bays[id].space.is_none()));
  }
  CHECK(stopped.bays[chosen].why == "stopped up at its foot");
  const CompartmentId only(0U);
  CHECK(stopped.compartments[only].volume_m3 == near(open.compartments[only].volume_m3));
  CHECK(attic::verify(framing, stopped).empty());
}

TEST_CASE("a divider from wall to wall makes two compartments that sum to one") {
  House house = hip(40, 24, 6);
  const double whole = divided(house).compartments[CompartmentId(0U)].volume_m3;
  house.model.dividers = {{"fire-wall", {15 * ft, 0}, {15 * ft, 24 * ft}}};
  const attic::Attic attic = divided(house);
  REQUIRE(attic.compartments.size() == 2);
  const attic::Compartment& a = attic.compartments[CompartmentId(0U)];
  const attic::Compartment& b = attic.compartments[CompartmentId(1U)];
  CHECK(a.floor_area_m2 + b.floor_area_m2 == near(960 * ft * ft));
  CHECK(std::min(a.floor_area_m2, b.floor_area_m2) == near(360 * ft * ft));
  CHECK(a.volume_m3 + b.volume_m3 == near(whole));
  CHECK(a.id != b.id);
}

TEST_CASE("a courtyard is no floor, whether the ceiling's outline goes around it or not") {
  const model::Edge e = support::eave(6);
  model::RoofModel model = support::house({{0, 0}, {60, 0}, {60, 50}, {0, 50}}, {e, e, e, e});
  model::Hole court;
  court.outline = {{20 * ft, 18 * ft}, {20 * ft, 32 * ft}, {40 * ft, 32 * ft}, {40 * ft, 18 * ft}};
  court.edges = {e, e, e, e};
  model.parts[0].holes = {court};
  const surface::Surface surface = tests::value_of(surface::raise(model));
  const framing::Framing framing = framing::frame(model, surface);
  const auto floor_ft2 = [&](const model::RoofModel& m) {
    const attic::Attic attic = tests::value_of(attic::divide(m, surface, framing));
    CHECK(attic.under({30 * ft, 25 * ft}).is_none());
    CHECK_FALSE(attic.under({30 * ft, 9 * ft}).is_none());
    return attic.compartments[CompartmentId(0U)].floor_area_m2 / (ft * ft);
  };
  CHECK(floor_ft2(model) == near(3000.0 - 280.0));  // assumed over the walls
  model::Ceiling ceiling;
  ceiling.id = "loft";
  ceiling.outline = model.parts[0].outline;
  model.ceilings = {ceiling};
  CHECK(floor_ft2(model) == near(3000.0 - 280.0));
  // The same, drawn around the court in one walk.
  model.ceilings[0].outline = {{0, 0},
                               {20 * ft, 0},
                               {20 * ft, 18 * ft},
                               {20 * ft, 32 * ft},
                               {40 * ft, 32 * ft},
                               {40 * ft, 18 * ft},
                               {20 * ft, 18 * ft},
                               {20 * ft, 0},
                               {60 * ft, 0},
                               {60 * ft, 50 * ft},
                               {0, 50 * ft}};
  CHECK(floor_ft2(model) == near(3000.0 - 280.0));
}

TEST_CASE("what can't be divided is a fault with its place") {
  House house = hip(40, 24, 6);
  house.model.dividers = {{"short-wall", {15 * ft, 0}, {15 * ft, 12 * ft}}};
  CHECK(fault_of(house) == "divider.not_yet /dividers/0");
  house.model.dividers = {{"away", {95 * ft, 0}, {95 * ft, 12 * ft}}};
  CHECK(fault_of(house) == "divider.not_yet /dividers/0");
  house.model.dividers.clear();
  house.model.ceilings = {flat("high", 0, 0, 40, 24, 30)};
  CHECK(fault_of(house) == "ceiling.above_roof /ceilings/0");
  house.model.ceilings = {flat("a", 0, 0, 20, 24, 8), flat("b", 200, 0, 240, 24, 8)};
  house.model.ceilings[1].kind = model::CeilingKind::sloped;
  CHECK(fault_of(house) == "ceiling.outside /ceilings/1/outline");
  house.model.ceilings = {flat("yard", 100, 100, 120, 110, 8)};
  CHECK(fault_of(house) == "ceiling.outside /ceilings/0/outline");
}

TEST_CASE("rooms under another part's overhang are measured to their own roof") {
  // A lean-to of 20 by 8 ft against a wall 18 ft high: 3/12 over its plate at 8 ft, heel 0. Its
  // attic is a wedge 8 ft deep and 2 ft high at the wall, whatever hangs out above: 20 x 8 x 2 / 2.
  for (const double overhang_ft : {0.0, 1.0, 2.0}) {
    INFO(overhang_ft);
    model::RoofModel house = support::house({{0, 0}, {30, 0}, {30, 24}, {0, 24}},
                                            {support::eave(6, overhang_ft * ft), support::gable(),
                                             support::eave(6, overhang_ft * ft), support::gable()});
    house.parts[0].plate_m = 18 * ft;
    model::Part lean = house.parts[0];
    lean.id = "lean";
    lean.plate_m = 8 * ft;
    lean.outline = {{5 * ft, -8 * ft}, {25 * ft, -8 * ft}, {25 * ft, 0}, {5 * ft, 0}};
    lean.edges = {support::eave(3, 0.0), support::gable(), support::gable(), support::gable()};
    house.parts.push_back(lean);
    const surface::Surface surface = tests::value_of(surface::raise(house));
    const attic::Attic attic =
        tests::value_of(attic::divide(house, surface, framing::frame(house, surface)));
    bool is_found = false;
    for (const attic::Compartment& one : attic.compartments) {
      if (one.id == "attic-lean") {
        is_found = true;
        CHECK(one.floor_area_m2 == near(20 * 8 * ft * ft));
        CHECK(one.volume_m3 == near(20 * 8 * 2 / 2.0 * ft * ft * ft));
        CHECK(one.top_m == near(10 * ft));
      }
    }
    CHECK(is_found);
  }
}

TEST_CASE("a porch ceiling under the main roof's overhang has nothing to do with its bays") {
  // The eave of 2 ft hangs 3 1/2 ft over the porch's own deck: what lies under the bays of the main
  // roof is its attic, whatever ceiling the porch has, or none.
  const model::CeilingKind kinds[] = {model::CeilingKind::open, model::CeilingKind::flat,
                                      model::CeilingKind::sloped, model::CeilingKind::unvented};
  for (const double overhang_ft : {1.0, 2.0}) {
    for (const model::CeilingKind kind : kinds) {
      INFO(overhang_ft << " ft, kind " << static_cast<int>(kind));
      model::RoofModel house =
          support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}},
                         {support::eave(6, overhang_ft * ft), support::gable(),
                          support::eave(6, overhang_ft * ft), support::gable()});
      house.parts[0].plate_m = 12 * ft;
      house.parts[0].heel_m = 1 * ft;
      model::Part porch = house.parts[0];
      porch.id = "porch";
      porch.plate_m = 8 * ft;
      porch.heel_m = 0.5 * ft;
      porch.outline = {{12 * ft, -6 * ft}, {28 * ft, -6 * ft}, {28 * ft, 0}, {12 * ft, 0}};
      porch.edges = {support::eave(4, 1 * ft), support::gable(), support::gable(),
                     support::gable()};
      porch.edges[2].kind = model::EdgeKind::wall;
      house.parts.push_back(porch);
      house.ceilings = {flat("attic", 0, 0, 40, 28, 12), flat("porch", 12, -6, 28, 0, 8)};
      house.ceilings[1].kind = kind;
      const surface::Surface surface = tests::value_of(surface::raise(house));
      const framing::Framing framing = framing::frame(house, surface);
      const attic::Attic attic = tests::value_of(attic::divide(house, surface, framing));
      const PlaneId front = surface.plane_named("main/0");
      std::size_t over_attic = 0;
      for (const BayId id : framing.bays.ids()) {
        if (framing.bays[id].plane != front) {
          continue;
        }
        INFO(framing.bays[id].id);
        const attic::BayPlace& place = attic.bays[id];
        REQUIRE(place.stretches.size() == 1);
        CHECK(attic.spaces[place.space].id == "attic");
        ++over_attic;
      }
      CHECK(over_attic == 20);
      // Law (1): the porch keeps its own floor.
      double floor_m2 = 0.0;
      for (const attic::Space& space : attic.spaces) {
        floor_m2 += space.ceiling == "porch" ? space.floor_area_m2 : 0.0;
      }
      const bool is_vented = kind == model::CeilingKind::flat || kind == model::CeilingKind::sloped;
      CHECK(floor_m2 == near((is_vented ? 16 * 6 : 0) * ft * ft).margin(1e-9));
    }
  }
}

TEST_CASE("a ceiling drawn past the walls is floor within them only") {
  // Walls of 40 by 24 ft: what is drawn 4 ft farther out on each side has no attic over it.
  House house = hip(40, 24, 6);
  house.model.ceilings = {flat("loft", -4, -4, 44, 28, 8)};
  const framing::Framing framing = framing::frame(house.model, house.surface);
  const Result<attic::Attic> divided = attic::divide(house.model, house.surface, framing);
  REQUIRE(divided.ok());
  REQUIRE(divided.value().compartments.size() == 1);
  CHECK(divided.value().compartments.begin()->floor_area_m2 == near(40.0 * 24.0 * ft * ft));
  const std::vector<std::string>& said = divided.value().assumptions;
  CHECK(std::any_of(said.begin(), said.end(), [](const std::string& text) {
    return text.find("drawn past the walls by") != std::string::npos &&
           text.find("(576 ft2)") != std::string::npos;
  }));
}
