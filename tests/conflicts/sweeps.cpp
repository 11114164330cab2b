// Pitch, overhang, spacing and insulation swept over thousands of houses: nothing crashes, and a
// verdict changes only where the figure that it hangs on crosses its bound.
#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <map>
#include <set>

using namespace ridgeward;
using small_roofs::in;
using small_roofs::whole_eave;
using small_roofs::whole_ridge;

namespace {

struct House {
  double pitch = 8.0;
  double overhang_in = 12.0;
  double spacing_in = 24.0;
  double insulation_in = 10.0;
  bool is_blocked = false;
  model::Position position = model::Position::eave;
};

model::RoofModel model_of(const House& house) {
  model::RoofModel model =
      support::house({{0, 0}, {30, 0}, {30, 24}, {0, 24}},
                     {support::eave(house.pitch, house.overhang_in * in), support::gable(6 * in),
                      support::eave(house.pitch, house.overhang_in * in), support::gable(6 * in)});
  model::Part& part = model.parts[0];
  part.heel_m = 12 * in;
  part.framing.spacing_m = house.spacing_in * in;
  part.framing.blocking = house.is_blocked ? model::Blocking::solid : model::Blocking::none;
  model.ceilings = {
      {"attic", model::CeilingKind::flat, part.outline, 0.0, house.insulation_in * in, false}};
  model.intake = {whole_eave("south", "main/0"), whole_eave("north", "main/2")};
  for (model::IntakeRun& run : model.intake) {
    run.position = house.position;
  }
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  return model;
}

tests::Worked judged(const House& house) {
  static const model::Catalogue catalogue = tests::default_catalogue();
  static const codes::CodeSet code = tests::code_set("us-irc-2021");
  return tests::worked(model_of(house), catalogue, code);
}

double slope(double pitch) { return std::sqrt(144.0 + pitch * pitch) / 12.0; }

bool draws(const tests::Worked& w, const char* kind, const char* severity) {
  for (const conflicts::Finding& finding : w.findings) {
    if (finding.kind == kind && std::string(conflicts::word(finding.severity)) == severity) {
      return true;
    }
  }
  return false;
}

}  // namespace

TEST_CASE("sweep of pitch") {
  for (int i = 60; i <= 2640; i += 7) {
    House house;
    house.pitch = i / 120.0;
    const tests::Worked w = judged(house);
    INFO(house.pitch << "/12");
    CHECK(draws(w, "low_slope", "error") == (house.pitch < 2.0));
    CHECK(draws(w, "low_slope", "note") == (house.pitch >= 2.0 && house.pitch < 4.0));
    // over-deck-10 from 2/12 to 20/12, ridge-12 from 3/12 to 16/12
    CHECK(draws(w, "pitch_outside_vent_range", "error") ==
          (house.pitch < 3.0 || house.pitch > 16.0));
  }
}

TEST_CASE("sweep of overhang with blocked eaves") {
  for (int i = 0; i <= 1600; i += 5) {
    House house;
    house.overhang_in = i / 50.0;
    house.is_blocked = true;
    const tests::Worked w = judged(house);
    INFO(house.overhang_in << " in");
    // The slot is over the overhang where its upper line, 8 in up, lies outside the wall line;
    // along the blocking, 1 1/2 in level from the wall line inward, where the two overlap.
    const double wall = house.overhang_in * slope(house.pitch);
    const bool is_over = wall >= 8.0 - 1e-4;
    const bool is_along = wall < 8.0 - 1e-4 && wall + 1.5 * slope(house.pitch) > 6.5 + 1e-4;
    CHECK(draws(w, "slot_over_blocked_overhang", "error") == is_over);
    CHECK(draws(w, "slot_over_timber", "error") == is_along);
    house.position = model::Position::upslope;
    const tests::Worked up = judged(house);
    CHECK_FALSE(draws(up, "slot_over_blocked_overhang", "error"));
    CHECK(
        draws(up, "slot_over_plate", "error") ==
        (up.vents.slots[SlotId(0U)].lower_line_m < up.vents.slots[SlotId(0U)].inner_face_m - 1e-6));
  }
}

TEST_CASE("sweep of insulation") {
  for (int i = 0; i <= 2000; i += 5) {
    House house;
    house.insulation_in = i / 100.0;
    const tests::Worked w = judged(house);
    // Heel of 12 in, 6 in of wall at 8/12: deck top 16 in over the plate at the inner face.
    const double space = (16.0 - house.insulation_in) / slope(8.0) - 0.5;
    INFO(house.insulation_in << " in, " << space << " in left");
    CHECK(draws(w, "little_over_insulation", "warning") == (space < 1.0 - 1e-6));
    CHECK(draws(w, "slot_over_blocked_overhang", "error") == (space < 1e-6));
  }
}

TEST_CASE("sweep of spacing: what counts of a slot falls with the rafters that it crosses") {
  for (int i = 80; i <= 480; i += 2) {
    House house;
    house.spacing_in = i / 10.0;
    const tests::Worked w = judged(house);
    INFO(house.spacing_in << " in");
    for (const vents::Slot& slot : w.vents.slots) {
      // 10 in2/ft over its length: the slot's 18 in2/ft between rafters at 8 in and more is wider,
      // but for an end on a rafter or on a splinter of a bay, which gives what of it is open.
      const double whole = 10.0 * in * in / (12 * in) * (slot.end_m - slot.start_m);
      double lost = 10.0 / 12 * in * (slot.end_m - slot.start_m);
      for (const vents::SlotBay& part : slot.bays) {
        lost -= 10.0 / 12 * in * part.share_m;
        lost += std::max(0.0, 10.0 / 12 * in * part.share_m - 1.5 * in * part.open_length_m);
      }
      CHECK(lost <= 2 * 10.0 / 12 * in * 0.75 * in);
      CHECK(slot.free_area_m2 == Approx(whole - lost).epsilon(1e-9));
    }
    CHECK_FALSE(draws(w, "dead_bay_slot", "warning"));
  }
}

TEST_CASE("sweep of all four together") {
  // 2 400 houses; where cases are cut down every seventh, which meets every value of each.
  const std::size_t stride = support::cases_or(2400) < 2400 ? 7 : 1;
  std::size_t houses = 0;
  for (const double pitch : {1.5, 3.0, 5.25, 8.0, 12.0, 18.5}) {
    for (const double overhang : {0.0, 5.0, 6.7, 13.0, 30.0}) {
      for (const double spacing : {12.0, 16.0, 19.2, 24.0, 31.3}) {
        for (const double insulation : {0.0, 9.0, 14.0, 21.0}) {
          for (const bool is_blocked : {false, true}) {
            for (const auto position : {model::Position::eave, model::Position::upslope}) {
              if (++houses % stride != 0) {
                continue;
              }
              const tests::Worked w =
                  judged({pitch, overhang, spacing, insulation, is_blocked, position});
              for (const conflicts::Finding& finding : w.findings) {
                REQUIRE_FALSE(finding.remedy.empty());
                REQUIRE(std::isfinite(finding.at.x + finding.at.y + finding.at.z));
              }
              for (const vents::Slot& slot : w.vents.slots) {
                REQUIRE(std::isfinite(slot.free_area_m2));
                REQUIRE((slot.free_area_m2 == 0.0) ==
                        (slot.is_blocked || *slot.space_over_insulation_m <= 1e-6 ||
                         slot.compartment.is_none()));
              }
            }
          }
        }
      }
    }
  }
  CHECK(houses == 2400);
}
