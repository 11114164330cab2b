// Laws of spaces, joins and compartments over random houses with ceilings of all kinds and
// dividers: RIDGEWARD_SEED and RIDGEWARD_CASES choose them.
#include "attic/columns.hpp"
#include "attic/decks.hpp"
#include "attic/stage.hpp"
#include "base/polygon.hpp"
#include "base/regions.hpp"

#include "support/plans.hpp"
#include "support/random_parts.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <map>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

int whole(std::mt19937_64& rng, int low, int high) {
  return std::uniform_int_distribution<int>(low, high)(rng);
}

polygon::Box box_of(const model::RoofModel& model) {
  polygon::Box box;
  for (const model::Part& part : model.parts) {
    for (const glm::dvec2 p : part.outline) {
      box.add(p);
    }
  }
  return box;
}

/// Rising cuts from `low` to `high`, ends among them.
std::vector<double> cuts(std::mt19937_64& rng, double low, double high, int most) {
  std::vector<double> all{low, high};
  for (int i = whole(rng, 0, most); i > 0; --i) {
    all.push_back(low + whole(rng, 1, 63) / 64.0 * (high - low));
  }
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

/// The plan's rectangle cut into a grid of ceilings of any kind, those without walls left out.
void add_ceilings(std::mt19937_64& rng, const surface::Surface& surface, model::RoofModel& model) {
  const polygon::Box box = box_of(model);
  const std::vector<double> xs = cuts(rng, box.low.x, box.high.x, 3);
  const std::vector<double> ys = cuts(rng, box.low.y, box.high.y, 3);
  for (std::size_t i = 0; i + 1 < xs.size(); ++i) {
    for (std::size_t k = 0; k + 1 < ys.size(); ++k) {
      model::Ceiling one;
      one.id = "c" + std::to_string(i) + std::to_string(k);
      one.outline = {
          {xs[i], ys[k]}, {xs[i + 1], ys[k]}, {xs[i + 1], ys[k + 1]}, {xs[i], ys[k + 1]}};
      one.kind = static_cast<model::CeilingKind>(
          std::vector<int>{0, 0, 1, 1, 1, 2, 3}[static_cast<std::size_t>(whole(rng, 0, 6))]);
      one.height_m = model.parts.front().plate_m + whole(rng, -1, 2) * 0.3048;
      one.insulation_m = whole(rng, 0, 8) * inch;
      one.baffles = whole(rng, 0, 2) == 0;
      double walls_m2 = 0.0;
      for (const polygon::Loops& walls : surface.wall_outlines) {
        walls_m2 += polygon::overlap_area({one.outline}, walls);
      }
      if (walls_m2 > 0.5 && whole(rng, 0, 9) > 0) {
        model.ceilings.push_back(one);
      }
    }
  }
  if (whole(rng, 0, 1) == 0) {
    const double x = box.low.x + whole(rng, 1, 15) / 16.0 * (box.high.x - box.low.x);
    model.dividers = {{"wall", {x, box.low.y}, {x, box.high.y}}};
  }
}

void open_framing(std::mt19937_64& rng, model::RoofModel& model) {
  for (model::Part& part : model.parts) {
    const auto way = [&] { return static_cast<model::Way>(whole(rng, 0, 2)); };
    part.framing.air_past = {way(), way(), way()};
    part.framing.blocking = static_cast<model::Blocking>(whole(rng, 0, 2));
    part.framing.spacing_m = whole(rng, 12, 24) * inch;
  }
}

void vent_all(const surface::Surface& surface, model::RoofModel& model) {
  for (const surface::Plane& plane : surface.planes) {
    for (const surface::Loop& loop : plane.loops) {
      for (const surface::LoopStep& step : loop) {
        if (surface.lines[step.line].kind == surface::LineKind::eave &&
            (model.intake.empty() || model.intake.back().plane != plane.id)) {
          model.intake.push_back(small_roofs::whole_eave(plane.id, plane.id));
        }
      }
    }
  }
  for (const surface::Line& line : surface.lines) {
    if (line.kind == surface::LineKind::ridge) {
      model.exhaust.push_back(small_roofs::whole_ridge(line.id, line.id));
    } else if (line.kind == surface::LineKind::hip) {
      model.exhaust.push_back(small_roofs::whole_ridge(line.id, line.id));
      model.exhaust.back().product = "hip-9";
    }
  }
}

model::Catalogue catalogue() {
  model::Catalogue all = small_roofs::catalogue();
  model::Product hip = all.products.at("ridge-12");
  hip.id = "hip-9";
  hip.kind = model::VentKind::hip_vent;
  all.products[hip.id] = hip;
  return all;
}

bool has_bay_over(const tests::Worked& w, PlaneId plane, const std::string& ceiling) {
  return std::any_of(w.attic.spaces.begin(), w.attic.spaces.end(), [&](const attic::Space& one) {
    return one.plane == plane && one.ceiling == ceiling;
  });
}

/// What of a ceiling lies within the walls, less the courtyards that they leave wholly within it:
/// they are no floor, though eaves may hang over them.
polygon::Loops floor_of(const tests::Worked& w, const model::Ceiling& ceiling) {
  const polygon::Loops walls = regions::united(w.surface.wall_outlines);
  polygon::Loops outline = regions::common({ceiling.outline}, walls);
  for (const polygon::Loop& loop : walls) {
    const double court_m2 = -polygon::area(loop);
    if (court_m2 > 0.0 &&
        polygon::area(regions::without({{loop.rbegin(), loop.rend()}}, outline)) < 1e-9) {
      outline.push_back(loop);
    }
  }
  return outline;
}

/// What the roof covers of the sloped ceilings, and the flat ones whole: the vented ceiling area. A
/// corner of a plane with nothing but a rafter on it has no space.
double vented_m2(const tests::Worked& w) {
  double sum = 0.0;
  for (const model::Ceiling& one : w.model.ceilings) {
    const polygon::Loops outline = floor_of(w, one);
    if (one.kind == model::CeilingKind::flat) {
      sum += polygon::area(outline);
    } else if (one.kind == model::CeilingKind::sloped) {
      for (const attic::RoofPiece& roof :
           attic::roof_over_ceilings(w.surface, attic::decks_of(w.surface))) {
        sum +=
            has_bay_over(w, roof.plane, one.id) ? polygon::overlap_area(outline, roof.plan) : 0.0;
      }
    }
  }
  return sum;
}

void check(const tests::Worked& w) {
  for (const std::string& broken : attic::verify(w.framing, w.attic)) {
    FAIL_CHECK(broken);
  }
  double floors = 0.0;
  for (const attic::Compartment& one : w.attic.compartments) {
    REQUIRE(one.floor_area_m2 >= 0.0);
    REQUIRE(one.volume_m3 >= 0.0);
    REQUIRE(one.top_m >= one.bottom_m - 1e-9);
    floors += one.floor_area_m2;
    for (const SpaceId id : one.spaces) {
      floors -= w.attic.spaces[id].is_over_deck ? w.attic.spaces[id].floor_area_m2 : 0.0;
    }
  }
  if (!w.model.ceilings.empty()) {
    REQUIRE(floors == Approx(vented_m2(w)).epsilon(1e-6).margin(0.02));
  }
  // Columns, as they are drawn and cut, hold what the attic does.
  const attic::Columns columns(w.surface);
  for (const attic::Space& space : w.attic.spaces) {
    double sum = 0.0;
    for (const attic::Column& column : columns.of(space)) {
      sum += attic::volume_m3(column);
    }
    REQUIRE((space.kind != attic::SpaceKind::attic ||
             sum == Approx(space.volume_m3).epsilon(1e-6).margin(1e-4)));
  }
  // Exhausts that share out give no more than they have; what they give is what compartments get.
  std::map<std::uint32_t, double> given;
  for (const vents::Exhaust& exhaust : w.vents.exhausts) {
    double sum = 0.0;
    for (const vents::ExhaustShare& share : exhaust.shares) {
      sum += share.free_area_m2;
      given[share.compartment.value] += share.free_area_m2;
    }
    if (exhaust.shares.empty() && !exhaust.compartment.is_none()) {
      given[exhaust.compartment.value] += exhaust.free_area_m2;
    }
    REQUIRE((exhaust.shares.empty() || sum == Approx(exhaust.free_area_m2)));
    if (!exhaust.line.is_none()) {
      const double most =
          w.catalogue.products.at(exhaust.product).free_area_per_length_m * exhaust.length_m;
      REQUIRE(exhaust.free_area_m2 <= most * (1 + 1e-9) + 1e-9);
    }
  }
  for (const CompartmentId id : w.attic.compartments.ids()) {
    REQUIRE(w.vents.totals[id].exhaust_m2 == Approx(given[id.value]).margin(1e-12));
  }
  // A bay is live just when its compartment has an exhaust, and its path stays in it.
  for (const BayId id : w.framing.bays.ids()) {
    const attic::BayPlace& place = w.attic.bays[id];
    const vents::BayState& state = w.vents.bays[id];
    INFO(w.framing.bays[id].id << " " << state.why);
    REQUIRE_FALSE(state.why.empty());
    const bool has_exhaust = !place.compartment.is_none() && given[place.compartment.value] > 0.0;
    REQUIRE(state.live == has_exhaust);
    for (const vents::Step& step : state.path) {
      REQUIRE(w.attic.joins[step.join].is_open);
      REQUIRE(w.attic.spaces[step.into].compartment == place.compartment);
    }
    REQUIRE(state.live != state.exhaust.is_none());
  }
}

/// Whether the case could be tried: some random ceilings are refused.
bool try_house(std::mt19937_64& rng, model::RoofModel model) {
  const Result<surface::Surface> raised = surface::raise(model);
  if (!raised) {
    return false;
  }
  add_ceilings(rng, raised.value(), model);
  open_framing(rng, model);
  vent_all(raised.value(), model);
  const framing::Framing framing = framing::frame(model, raised.value());
  const Result<attic::Attic> attic = attic::divide(model, raised.value(), framing);
  if (!attic) {
    for (const Fault& fault : attic.faults()) {
      INFO(fault.what);
      REQUIRE((fault.code == "ceiling.above_roof" || fault.code == "ceiling.outside" ||
               fault.code == "divider.not_yet"));
    }
    return false;
  }
  // The air of every house would take most of the time.
  check(rng() % 8 == 0 ? tests::worked(model, catalogue(), tests::code_set("us-irc-2021"))
                       : tests::vented(model, catalogue()));
  return true;
}

}  // namespace

TEST_CASE("law: spaces tile the vented ceilings, and live means a way to an exhaust") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = cases_or(250);
  std::size_t done = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    const Loops loops = i % 3 != 0
                            ? random_rectilinear(rng, 2 + static_cast<int>(rng() % 6), 7, inch, 160)
                            : Loops{random_polygon(rng, 4 + rng() % 6, 16.0)};
    done += try_house(rng,
                      random_house(
                          rng, {loops[0]},
                          {i % 2 == 0 ? 0.3 : 0.0, {4.0, 6.0, 8.0, 12.0}, i % 4 == 0 ? 0.0 : 0.35}))
                ? 1
                : 0;
  }
  CHECK(done > cases / 2);
}

TEST_CASE("law: the same over houses of several parts") {
  std::mt19937_64 rng(tests::seed() + 1);
  const std::size_t cases = cases_or(150);
  std::size_t done = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    done += try_house(rng, random_parts(rng, {i % 3 == 0 ? 45.0 : 90.0, 0.0, 4, 0.3, 0.3})) ? 1 : 0;
  }
  CHECK(support::is_share_at_least(1.0 / 3.0, done, cases));
}
