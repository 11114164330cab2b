// Laws of slots over random roofs: RIDGEWARD_SEED and RIDGEWARD_CASES choose them.
#include "base/polygon.hpp"

#include "support/plans.hpp"
#include "support/random_parts.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

/// An intake along every plane's eave, a vent along every ridge.
void vent_all(const surface::Surface& surface, model::RoofModel& model) {
  for (const surface::Plane& plane : surface.planes) {
    if (std::any_of(surface.lines.begin(), surface.lines.end(), [&](const surface::Line& line) {
          return line.kind == surface::LineKind::eave && line.id == plane.id + "|eave";
        })) {
      model.intake.push_back(small_roofs::whole_eave(plane.id, plane.id));
    }
  }
  for (const surface::Line& line : surface.lines) {
    if (line.kind == surface::LineKind::ridge) {
      model.exhaust.push_back(small_roofs::whole_ridge(line.id, line.id));
    }
  }
}

void check(const tests::Worked& w) {
  for (const vents::Slot& slot : w.vents.slots) {
    const surface::Plane& plane = w.surface.planes[slot.plane];
    polygon::Loops border;
    for (const surface::Loop& loop : plane.loops) {
      border.push_back(surface::corners_uv(w.surface, plane.frame, loop));
    }
    const double low = slot.lower_v_m();
    const double high = low + slot.width_m;
    for (const double share : {0.0, 0.17, 0.5, 0.81, 1.0}) {
      const double u = slot.start_m + share * (slot.end_m - slot.start_m);
      REQUIRE(polygon::contains(border, {u, low}));
      REQUIRE(polygon::contains(border, {u, high}));
    }
    double covered = 0.0;
    double free_m2 = 0.0;
    for (const vents::SlotBay& part : slot.bays) {
      covered += part.open_length_m;
      free_m2 += part.live ? part.free_area_m2 : 0.0;
      REQUIRE(part.share_m >= part.open_length_m);
      REQUIRE(part.free_area_m2 <= slot.width_m * part.open_length_m * (1 + 1e-12));
    }
    for (const vents::Crossing& crossing : slot.crossings) {
      const framing::Member& member = w.framing.members[crossing.member];
      const double half = 0.5 * member.thickness_m;
      covered +=
          std::min(slot.end_m, member.at_m + half) - std::max(slot.start_m, member.at_m - half);
    }
    REQUIRE(covered == Approx(slot.end_m - slot.start_m).margin(1e-7));
    REQUIRE(free_m2 == Approx(slot.free_area_m2).margin(1e-12));
  }
  double intake = 0.0;
  for (const vents::Slot& slot : w.vents.slots) {
    intake += slot.free_area_m2;
  }
  double totals = 0.0;
  for (const vents::CompartmentTotals& total : w.vents.totals) {
    totals += total.intake_m2;
  }
  REQUIRE(totals == Approx(intake).margin(1e-12));
}

}  // namespace

TEST_CASE("law: open lengths and rafters crossed sum to the slot, and all of it is on the plane") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = cases_or(200);
  std::size_t slots = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    const bool is_rectilinear = i % 3 != 0;
    const Loops loops = is_rectilinear
                            ? random_rectilinear(rng, 3 + static_cast<int>(rng() % 7), 7, inch, 180)
                            : Loops{random_polygon(rng, 4 + rng() % 8, 18.0)};
    model::RoofModel model =
        random_house(rng, loops, {i % 2 == 0 ? 0.2 : 0.0, {4.0, 6.0, 8.0}, i % 4 == 0 ? 0.0 : 0.3});
    const Result<surface::Surface> raised = surface::raise(model);
    if (!raised) {
      continue;
    }
    vent_all(raised.value(), model);
    const tests::Worked w = tests::worked(model, small_roofs::catalogue());
    slots += w.vents.slots.size();
    check(w);
  }
  CHECK(slots > cases);
}

TEST_CASE("law: the same under trusses, and on decks that parts are laid over") {
  std::mt19937_64 rng(tests::seed() + 1);
  const std::size_t cases = cases_or(120);
  std::size_t under_trusses = 0;
  std::size_t over_decks = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    model::RoofModel model = random_parts(rng, {i % 3 == 0 ? 45.0 : 90.0, 0.0, 4, 0.4, 0.4});
    for (model::Part& part : model.parts) {
      part.framing.kind = rng() % 2 == 0 ? model::FramingKind::truss : model::FramingKind::rafter;
    }
    const Result<surface::Surface> raised = surface::raise(model);
    if (!raised) {
      continue;
    }
    vent_all(raised.value(), model);
    const tests::Worked w = tests::worked(model, small_roofs::catalogue());
    check(w);
    for (const vents::Slot& slot : w.vents.slots) {
      const std::size_t part = w.surface.planes[slot.plane].part;
      under_trusses += model.parts[part].framing.kind == model::FramingKind::truss ? 1 : 0;
      over_decks +=
          std::any_of(w.surface.blind_decks.begin(), w.surface.blind_decks.end(),
                      [&](const surface::BlindDeck& deck) { return deck.plane == slot.plane; })
              ? 1
              : 0;
    }
  }
  CHECK(under_trusses > cases / 4);
  CHECK(over_decks > cases / 10);
}
