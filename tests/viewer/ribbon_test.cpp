// The ribbon of eaves: its cells against the assessment, what lies under the pointer, pulls of runs
// with their stops. The panels run without graphics: a mouse made of numbers.

#include "panels/ribbon.hpp"

#include "base/polygon.hpp"

#include "scene/ribbon.hpp"
#include "viewer/desk.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <set>
#include <vector>

using namespace ridgeward;
using scene::Grip;
using scene::Pull;
using scene::Ribbon;
using test_viewer::assessed;
using test_viewer::demo;
using test_viewer::Desk;

namespace {

/// A run of 10 m on an eave of 20 m, with rafters' faces at 2.0, 2.4, 8.0.
Pull hand_pull(Grip grip) {
  Pull pull;
  pull.run = "south";
  pull.grip = grip;
  pull.from_m = 5.0;
  pull.to_m = 15.0;
  pull.low_m = 0.0;
  pull.high_m = 20.0;
  pull.least_m = 0.15;
  pull.section_m = 1.2;
  pull.stops = {0.0, 2.0, 2.4, 8.0, 20.0};
  return pull;
}

}  // namespace

TEST_CASE("ribbon: cells tile every eave, and their sum is the eave of the takeoff") {
  for (const auto& entry :
       std::filesystem::directory_iterator(RIDGEWARD_SOURCE_DIR "/models/houses")) {
    const Assessment house = assessed(entry.path());
    CAPTURE(house.model.name);
    const Ribbon ribbon = scene::ribbon_of(house);
    std::map<std::size_t, double> end;
    double sum = 0.0;
    for (const scene::RibbonCell& cell : ribbon.cells) {
      const scene::RibbonEave& eave = ribbon.eaves[cell.eave];
      const auto last = end.try_emplace(cell.eave, eave.from_m).first;
      CHECK(cell.from_m == Approx(last->second).margin(1e-9));
      CHECK(cell.to_m > cell.from_m);
      CHECK(cell.clear_from_m >= cell.from_m - 1e-9);
      CHECK(cell.clear_to_m <= cell.to_m + 1e-9);
      last->second = cell.to_m;
      sum += cell.to_m - cell.from_m;
    }
    for (const auto& [eave, at] : end) {
      CHECK(at == Approx(ribbon.eaves[eave].to_m()).margin(1e-9));
    }
    CHECK(end.size() == ribbon.eaves.size());
    CHECK(sum == Approx(house.takeoff.totals.eave_m).epsilon(1e-9));
  }
}

TEST_CASE("ribbon: bays, slots and pieces are those of the assessment") {
  for (const char* name : {"sorrel-lane", "plover-hall", "quarry-rise", "tern-cottage"}) {
    CAPTURE(name);
    const Assessment house = assessed(demo(name));
    const Ribbon ribbon = scene::ribbon_of(house);
    std::set<BayId> fed;
    for (const vents::Slot& slot : house.vents.slots) {
      for (const vents::SlotBay& bay : slot.bays) {
        fed.insert(bay.bay);
      }
    }
    std::set<BayId> seen;
    for (const scene::RibbonCell& cell : ribbon.cells) {
      if (cell.bay.is_none()) {
        continue;
      }
      CHECK(seen.insert(cell.bay).second);
      const bool is_live =
          cell.state == scene::CellState::fed || cell.state == scene::CellState::idle;
      const bool is_under =
          cell.state == scene::CellState::fed || cell.state == scene::CellState::wasted;
      CHECK(is_live == house.vents.bays[cell.bay].live);
      CHECK(is_under == fed.contains(cell.bay));
      CHECK(cell.why == house.vents.bays[cell.bay].why);
    }
    REQUIRE(ribbon.slots.size() == house.vents.slots.size());
    for (const scene::RibbonSlot& slot : ribbon.slots) {
      const vents::Slot& of = house.vents.slots[slot.slot];
      CHECK(slot.to_m - slot.from_m == Approx(of.end_m - of.start_m));
      CHECK(slot.from_m >= ribbon.eaves[slot.eave].from_m - 1e-6);
      CHECK(slot.to_m <= ribbon.eaves[slot.eave].to_m() + 1e-6);
    }
    double laid = 0.0;
    for (const scene::RibbonPiece& piece : ribbon.pieces) {
      laid += piece.to_m - piece.from_m;
    }
    double ordered = 0.0;
    for (const takeoff::SectionRun& strip : house.takeoff.sections) {
      for (const takeoff::Piece& piece : strip.pieces) {
        ordered += strip.plane.is_none() ? 0.0 : piece.to_m - piece.from_m;
      }
    }
    CHECK(laid == Approx(ordered));
  }
}

TEST_CASE("ribbon: obstacles stand over their eave, and what lies at a place is told") {
  const Assessment house = assessed(demo("sorrel-lane"));
  const Ribbon ribbon = scene::ribbon_of(house);
  const auto chimney = std::find_if(ribbon.marks.begin(), ribbon.marks.end(), [](const auto& mark) {
    return mark.words == "chimney chimney";
  });
  REQUIRE(chimney != ribbon.marks.end());
  CHECK(house.surface.planes[ribbon.eaves[chimney->eave].plane].id == "main/4");
  // The chimney is 3 ft wide and needs 2 in clear on each side.
  CHECK(chimney->to_m - chimney->from_m == Approx((3 * 12 + 4) * 0.0254).margin(0.01));
  const scene::RibbonSlot& slot = ribbon.slots.front();
  CHECK(scene::hit(ribbon, (slot.from_m + slot.to_m) / 2, 0.0).slot == 0U);
  CHECK(scene::hit(ribbon, slot.from_m - 0.05, 0.1).slot == 0U);
  CHECK_FALSE(scene::hit(ribbon, slot.from_m - 0.2, 0.1).slot);
  const double gap = ribbon.eaves.front().to_m() + scene::eave_gap_m / 2;
  CHECK_FALSE(scene::hit(ribbon, gap, 0.0).eave);
  CHECK_FALSE(scene::hit(ribbon, gap, 0.0).cell);
  for (std::size_t i = 0; i < ribbon.cells.size(); ++i) {
    const double middle = (ribbon.cells[i].from_m + ribbon.cells[i].to_m) / 2;
    CHECK(scene::hit(ribbon, middle, 0.0).cell == i);
  }
}

TEST_CASE("ribbon: ends snap to rafters, hold-backs and whole sections, and stay on the eave") {
  using Ends = std::pair<double, double>;
  CHECK(scene::pulled(hand_pull(Grip::left), 0.0, 0.1, 0.01) == Ends(5.0, 15.0));
  // 5.00 - 2.55 = 2.45: within 0.1 of the face at 2.40.
  CHECK(scene::pulled(hand_pull(Grip::left), -2.55, 0.1, 0.01).first == 2.4);
  // Nothing near: in steps.
  const double stepped = scene::pulled(hand_pull(Grip::left), -1.603, 0.05, 0.01).first;
  CHECK(stepped == Approx(3.40).margin(1e-9));
  // Whole sections from the other end: 15 - 10 x 1.2 = 3.0.
  CHECK(scene::pulled(hand_pull(Grip::left), -1.96, 0.1, 0.01).first == Approx(3.0));
  // 5 + 9 x 1.2 = 15.8.
  CHECK(scene::pulled(hand_pull(Grip::right), 0.75, 0.1, 0.01).second == Approx(15.8));
  // The ends of the eave, and the shortest run.
  CHECK(scene::pulled(hand_pull(Grip::right), 99.0, 0.1, 0.01).second == 20.0);
  CHECK(scene::pulled(hand_pull(Grip::left), -99.0, 0.1, 0.01).first == 0.0);
  CHECK(scene::pulled(hand_pull(Grip::left), 99.0, 0.1, 0.01).first == Approx(14.85));
  // A whole run keeps its length; the end that is nearer to a stop snaps.
  const Ends moved = scene::pulled(hand_pull(Grip::whole), 2.96, 0.1, 0.01);
  CHECK(moved.first == Approx(8.0));
  CHECK(moved.second - moved.first == Approx(10.0));
  CHECK(scene::pulled(hand_pull(Grip::whole), 4.95, 0.1, 0.01).second == Approx(20.0));
  CHECK(scene::pulled(hand_pull(Grip::whole), -99.0, 0.1, 0.01) == Ends(0.0, 10.0));
}

TEST_CASE("ribbon: a run is pulled between its eave's ends, over the bays that light up") {
  const Assessment house = assessed(demo("sorrel-lane"));
  const Ribbon ribbon = scene::ribbon_of(house);
  const auto pull = scene::pull_of(house, ribbon, ribbon.slots.front().slot, Grip::right);
  REQUIRE(pull);
  CHECK(pull->run == "south");
  // As in the model: 6 ft to 20 ft of an eave of 26 ft.
  CHECK(pull->from_m == Approx(6 * 0.3048));
  CHECK(pull->to_m == Approx(20 * 0.3048));
  CHECK(pull->low_m == Approx(0.0).margin(1e-9));
  CHECK(pull->high_m == Approx(26 * 0.3048));
  const vents::Slot& slot = house.vents.slots[ribbon.slots.front().slot];
  std::set<BayId> under;
  for (const vents::SlotBay& bay : slot.bays) {
    under.insert(bay.bay);
  }
  const auto over = scene::bays_over(house, slot.plane, slot.start_m, slot.end_m);
  CHECK(std::set<BayId>(over.begin(), over.end()) == under);
  const auto typed = [&](const char* from, const char* to) {
    return panels::typed_run(*pull, from, to, units::Style::feet_inches);
  };
  REQUIRE(typed("5' 3\"", "18"));
  CHECK(typed("5' 3\"", "18")->from_m == Approx(63 * 0.0254));
  CHECK(typed("5' 3\"", "18")->to_m == Approx(18 * 0.3048));
  CHECK_FALSE(typed("20", "6"));
  CHECK_FALSE(typed("6", "27"));
  CHECK_FALSE(typed("here", "27"));
}

TEST_CASE("ribbon: a place on the house is a slot where the vent lies, else a bay") {
  const Assessment house = assessed(demo("sorrel-lane"));
  const vents::Slot& slot = *house.vents.slots.begin();
  const surface::Frame& frame = house.surface.planes[slot.plane].frame;
  scene::Picked picked;
  picked.plane = slot.plane;
  picked.at = frame.at({(slot.start_m + slot.end_m) / 2, slot.lower_v_m() + 0.02});
  CHECK(panels::pointed_at(house, picked).slot == SlotId(0));
  const framing::Bay& bay = house.framing.bays[slot.bays[3].bay];
  picked.at = frame.at({(bay.from_u_m + bay.to_u_m) / 2, bay.length_m / 2});
  CHECK(panels::pointed_at(house, picked).bay == slot.bays[3].bay);
  CHECK(panels::pointed_at(house, picked).slot.is_none());
  CHECK(panels::pointed_at(house, {}).bay.is_none());
}

TEST_CASE("ribbon: clicks select on the house, the house selects on the ribbon") {
  Desk desk(assessed(demo("sorrel-lane")));
  desk.click("ribbon/cell/main/0/b8");
  CHECK(desk.house.framing.bays[desk.state.ribbon.bay].id == "main/0/b8");
  CHECK(desk.house.surface.planes[desk.state.selected.plane].id == "main/0");
  desk.click("ribbon/slot/north/1");
  CHECK(desk.house.vents.slots[desk.state.ribbon.slot].id == "north/1");
  CHECK(desk.house.surface.planes[desk.state.selected.plane].id == "main/4");
  CHECK(desk.item("ribbon/from").state == "14' 0\"");
  desk.click("ribbon/piece/south/1/2");
  CHECK(desk.house.vents.slots[desk.state.ribbon.slot].id == "south/1");
  // The other way round.
  const vents::Slot& slot = desk.house.vents.slots[SlotId(1)];
  scene::Picked picked;
  picked.plane = slot.plane;
  picked.at = desk.house.surface.planes[slot.plane].frame.at(
      {(slot.start_m + slot.end_m) / 2, slot.lower_v_m()});
  desk.state = panels::applied(std::move(desk.state), panels::Select{picked}, desk.scene, {});
  desk.frame();
  CHECK(panels::pointed_now(desk.state, desk.house).slot == SlotId(1));
  CHECK(desk.item("ribbon/slot/" + slot.id).state == "selected");
  desk.click("ribbon/hide");
  CHECK_FALSE(desk.state.ribbon.is_shown);
  desk.click("ribbon/show");
  CHECK(desk.state.ribbon.is_shown);
}

TEST_CASE("ribbon: marks on the house lie where the bays and slots are that are pointed at") {
  Desk desk(assessed(demo("sorrel-lane")));
  const Assessment& house = desk.house;
  CHECK(panels::marks_of(desk.state, house).empty());
  const SlotId at(0);
  const vents::Slot& slot = house.vents.slots[at];
  const BayId bay = scene::bays_over(house, slot.plane, slot.start_m, slot.end_m).front();
  desk.state.ribbon.bay = bay;
  desk.state.ribbon.slot = at;
  const std::vector<scene::Mark> marks = panels::marks_of(desk.state, house);
  REQUIRE(marks.size() == 2);
  const surface::Frame& frame = house.surface.planes[slot.plane].frame;
  for (const scene::Mark& mark : marks) {
    CHECK(mark.shows_through);
    CHECK(mark.normal == frame.normal);
    for (const glm::dvec3& corner : mark.corners) {
      CHECK(std::abs(glm::dot(corner - frame.origin, frame.normal)) < 1e-9);
    }
  }
  CHECK(marks[0].corners.size() == house.framing.bays[bay].outline.size());
  CHECK(glm::length(marks[1].corners[1] - marks[1].corners[0]) ==
        Approx(slot.end_m - slot.start_m));
  // What went with its deck has no mark; a window without a house has none at all.
  desk.state.sight.peeled = {slot.plane};
  CHECK(panels::marks_of(desk.state, house).size() == 1);
  desk.state.has_model = false;
  CHECK(panels::marks_of(desk.state, house).empty());
}

TEST_CASE("ribbon: no bay is picked through the house") {
  const Assessment house = assessed(demo("quarry-rise"));
  const scene::Scene scene = scene::from_assessment(house);
  const scene::Viewport port{0.0, 0.0, 1000.0, 800.0};
  std::size_t hidden = 0;
  std::size_t seen = 0;
  for (const char* word : {"north-east", "south-west"}) {
    const scene::Lens lens{
        scene::fitted(scene::looking_from(word, 0.0).value(), scene.corners, port, 0.05), port};
    const scene::Seen eye(scene, lens);
    std::size_t number = 0;
    for (const BayId id : house.framing.bays.ids()) {
      const framing::Bay& bay = house.framing.bays[id];
      const polygon::Box box = polygon::box_of(bay.outline);
      const glm::dvec3 spot = house.surface.planes[bay.plane].frame.at(0.5 * (box.low + box.high));
      const auto pixel = lens.pixel(spot);
      if (number++ % 3 != 0 || !pixel) {
        continue;
      }
      const auto pointed = panels::pointed_at(house, scene::pick(scene, lens, *pixel, -1.0));
      CAPTURE(word, bay.id);
      if (!eye.is_in_sight(spot)) {
        ++hidden;
        CHECK(pointed.bay != id);
      } else {
        seen += pointed.bay == id ? 1 : 0;
      }
    }
  }
  CHECK(hidden > 20);
  CHECK(seen > 20);
}
