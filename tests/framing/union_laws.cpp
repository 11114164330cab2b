// The laws of framing, attics and slots over houses of several parts: RIDGEWARD_SEED and
// RIDGEWARD_CASES choose them.
#include "base/polygon.hpp"
#include "base/regions.hpp"
#include "framing/member_laws.hpp"

#include "support/random_parts.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <map>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

struct Kind {
  const char* name;
  PartsChoice choice;
};

/// Every eave and every ridge vented.
void vent_all(model::RoofModel& model, const surface::Surface& surface) {
  for (const surface::Plane& plane : surface.planes) {
    bool has_eave = false;
    for (const surface::Loop& loop : plane.loops) {
      for (const surface::LoopStep& step : loop) {
        has_eave = has_eave || surface.lines[step.line].kind == surface::LineKind::eave;
      }
    }
    if (has_eave) {
      model.intake.push_back(small_roofs::whole_eave(plane.id, plane.id));
    }
  }
  for (const surface::Line& line : surface.lines) {
    if (line.kind == surface::LineKind::ridge) {
      model.exhaust.push_back(small_roofs::whole_ridge(line.id, line.id));
    }
  }
}

/// Every third house has trusses in some parts; blocking and collar ties go around.
void vary_framing(model::RoofModel& model, std::size_t number) {
  for (std::size_t k = 0; k < model.parts.size(); ++k) {
    model::Framing& framing = model.parts[k].framing;
    if (number % 3 == 0 && k % 2 == 0) {
      framing.kind = model::FramingKind::truss;
    }
    framing.blocking = number % 2 == 0 ? model::Blocking::vented : model::Blocking::none;
    if (number % 4 == 1) {
      framing.collar_ties = model::CollarTies{0.9, 1 + static_cast<int>(k % 3), "2x4"};
    }
  }
}

/// Chords and trusses name each other, and stand in one upright plane.
void check_trusses(const tests::Worked& w) {
  std::size_t chords = 0;
  for (const framing::Truss& truss : w.framing.trusses) {
    INFO(truss.id);
    REQUIRE_FALSE(truss.chords.empty());
    REQUIRE(truss.height_m > 0.0);
    const framing::Member& first = w.framing.members[truss.chords.front()];
    const glm::dvec2 run = glm::normalize(glm::dvec2{first.to} - glm::dvec2{first.from});
    for (const MemberId id : truss.chords) {
      const framing::Member& chord = w.framing.members[id];
      REQUIRE(chord.truss == truss.id);
      REQUIRE(framing::is_truss(chord.kind));
      for (const glm::dvec3 end : {chord.from, chord.to}) {
        const glm::dvec2 d = glm::dvec2{end} - glm::dvec2{first.from};
        REQUIRE(std::abs(d.x * run.y - d.y * run.x) < 1e-4);
      }
      ++chords;
    }
  }
  for (const framing::Member& member : w.framing.members) {
    chords -= framing::is_truss(member.kind) ? 1 : 0;
  }
  REQUIRE(chords == 0);
}

void check_cover(const tests::Worked& w) {
  std::map<std::uint32_t, double> covered;
  for (const framing::Member& member : w.framing.members) {
    if (!member.plane.is_none()) {
      covered[member.plane.value] += polygon::area(member.outline);
    }
  }
  for (const framing::Bay& bay : w.framing.bays) {
    covered[bay.plane.value] += polygon::area(bay.outline);
    REQUIRE(bay.clear_width_m > 0.0);
    REQUIRE(bay.length_m >= 0.0);
  }
  std::map<std::uint32_t, double> decks;
  for (const PlaneId id : w.surface.planes.ids()) {
    decks[id.value] = w.surface.planes[id].area_m2;
  }
  for (const surface::BlindDeck& deck : w.surface.blind_decks) {
    decks[deck.plane.value] += deck.plane.is_none() ? 0.0 : deck.area_m2;
  }
  for (const surface::Sheltered& deck : w.surface.sheltered_decks) {
    decks[deck.plane.value] +=
        polygon::area(deck.plan) * w.surface.planes[deck.plane].pitch.slope_factor();
  }
  for (const PlaneId id : w.surface.planes.ids()) {
    INFO(w.surface.planes[id].id);
    REQUIRE(covered[id.value] == Approx(decks[id.value]).epsilon(1e-6).margin(1e-4));
  }
}

/// What lies over blind decks counts with its own plan, over what lies beneath.
double over_decks_m2(const tests::Worked& w, const attic::Compartment& compartment) {
  double sum = 0.0;
  for (const SpaceId id : compartment.spaces) {
    sum += w.attic.spaces[id].is_over_deck ? w.attic.spaces[id].floor_area_m2 : 0.0;
  }
  return sum;
}

polygon::Loops over_ceilings(const tests::Worked& w, CompartmentId compartment) {
  polygon::Loops loops;
  for (const SpaceId id : w.attic.compartments[compartment].spaces) {
    const attic::Space& space = w.attic.spaces[id];
    if (!space.is_over_deck) {
      loops.insert(loops.end(), space.outline.begin(), space.outline.end());
    }
  }
  return loops;
}

/// Floors count once; so does the space between them and the roof.
void check_attic(const tests::Worked& w) {
  double floors = 0.0;
  double volume = 0.0;
  for (const attic::Compartment& space : w.attic.compartments) {
    floors += space.floor_area_m2 - over_decks_m2(w, space);
    volume += space.volume_m3;
    REQUIRE(space.floor_area_m2 == Approx(polygon::area(space.outline)).margin(1e-6));
    REQUIRE(space.top_m > space.bottom_m);
  }
  const double walls = polygon::area(regions::united(w.surface.wall_outlines));
  REQUIRE(floors == Approx(walls).epsilon(1e-9).margin(1e-5));
  REQUIRE(volume > 0.0);
  for (std::size_t i = 0; i < w.attic.compartments.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      REQUIRE(polygon::overlap_area(over_ceilings(w, CompartmentId(i)),
                                    over_ceilings(w, CompartmentId(k))) < 1e-5);
    }
  }
}

void check_slots(const tests::Worked& w) {
  for (const vents::Slot& slot : w.vents.slots) {
    INFO("slot " << slot.id);
    const surface::Plane& plane = w.surface.planes[slot.plane];
    polygon::Loops border;
    for (const surface::Loop& loop : plane.loops) {
      border.push_back(surface::corners_uv(w.surface, plane.frame, loop));
    }
    for (const double share : {0.0, 0.31, 0.77, 1.0}) {
      const double u = slot.start_m + share * (slot.end_m - slot.start_m);
      REQUIRE(polygon::contains(border, {u, slot.lower_v_m()}));
      REQUIRE(polygon::contains(border, {u, slot.lower_v_m() + slot.width_m}));
    }
  }
}

/// A line between two planes counts for both and once in the whole.
void check_takeoff(const tests::Worked& w) {
  takeoff::Lengths sum;
  for (const takeoff::Lengths& plane : w.takeoff.planes) {
    sum.eave_m += plane.eave_m;
    sum.rake_m += plane.rake_m;
    sum.ridge_m += plane.ridge_m;
    sum.valley_m += plane.valley_m;
    sum.wall_m += plane.wall_m;
  }
  const takeoff::Lengths& all = w.takeoff.totals;
  REQUIRE(sum.eave_m == Approx(all.eave_m));
  REQUIRE(sum.rake_m == Approx(all.rake_m));
  REQUIRE(sum.wall_m == Approx(all.wall_m));
  REQUIRE(sum.ridge_m == Approx(2 * all.ridge_m));
  REQUIRE(sum.valley_m == Approx(2 * all.valley_m));
}

}  // namespace

TEST_CASE("law: every stage holds on houses of several parts") {
  const std::vector<Kind> kinds{
      {"square to each other", {90.0, 0.0, 6, 0.0, 0.0}},
      {"with overhangs", {90.0, 0.0, 6, 0.4, 0.2}},
      {"by 45 degrees", {45.0, 0.0, 5, 0.3, 0.2}},
      {"a millionth of an inch off", {90.0, 1e-6 * inch, 5, 0.3, 0.2}},
      {"a thousandth of an inch off", {90.0, 1e-3 * inch, 5, 0.0, 0.2}},
      {"turned anyhow", {17.3, 0.0, 5, 0.2, 0.2}},
  };
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = cases_or(60);
  const codes::CodeSet code = tests::code_set("us-irc-2021");
  std::size_t done = 0;
  for (const Kind& kind : kinds) {
    for (std::size_t i = 0; i < cases; ++i) {
      INFO(kind.name << ", case " << i << ", seed " << tests::seed());
      model::RoofModel model = random_parts(rng, kind.choice);
      const Result<surface::Surface> raised = surface::raise(model);
      if (!raised) {
        continue;
      }
      vent_all(model, raised.value());
      vary_framing(model, i);
      const tests::Worked w = tests::worked(model, small_roofs::catalogue(), code);
      for (const std::string& broken : framing::verify(w.surface, w.framing)) {
        FAIL_CHECK(broken);
      }
      check_cover(w);
      tests::check_laws(w.surface, w.framing);
      check_trusses(w);
      check_attic(w);
      check_slots(w);
      check_takeoff(w);
      ++done;
    }
  }
  CHECK(done > cases * kinds.size() / 2);
}
