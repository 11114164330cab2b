// Laws of placement over random houses: RIDGEWARD_SEED and RIDGEWARD_CASES choose them.
#include "attic/stage.hpp"
#include "placement/problem.hpp"
#include "placement/stage.hpp"

#include "solver/program.hpp"
#include "support/plans.hpp"
#include "support/random_parts.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

double number(std::mt19937_64& rng, int low, int high) {
  return static_cast<double>(std::uniform_int_distribution<int>(low, high)(rng));
}

placement::Place random_place(std::mt19937_64& rng, bool has_eave) {
  placement::Place place;
  place.uses.push_back({});
  if (has_eave) {
    place.eaves_m = {number(rng, 4, 20)};
    place.uses.back().lengths_m = {0.0};
  }
  for (double i = number(rng, 1, 4); i > 0.0; i -= 1.0) {
    placement::Use use{0.1 * number(rng, 5, 60), 10.0 * number(rng, 1, 12), {}};
    if (has_eave) {
      use.lengths_m = {place.eaves_m[0] * 0.01 * number(rng, 5, 100)};
    }
    place.uses.push_back(use);
  }
  return place;
}

/// Bounds of the kinds that codes have; some of them so narrow that few choices keep them.
placement::TwoSums random_sums(std::mt19937_64& rng) {
  placement::TwoSums sums;
  const bool is_even = rng() % 3 != 0;
  for (double i = number(rng, 1, 4); i > 0.0; i -= 1.0) {
    sums.intake.push_back(random_place(rng, true));
  }
  for (double i = number(rng, 1, 3); i > 0.0; i -= 1.0) {
    sums.exhaust.push_back(random_place(rng, false));
  }
  sums.limits = {{1.0, -1.0, 0.0, HUGE_VAL},
                 {0.4, -0.6, -HUGE_VAL, 0.0},
                 {1.0, 1.0, 10.0 * number(rng, 0, 30), HUGE_VAL}};
  if (rng() % 2 == 0) {
    const double least = 10.0 * number(rng, 0, 15);
    sums.limits.push_back({0.0, 1.0, least, least + 10.0 * number(rng, 0, 5)});
  }
  if (rng() % 3 == 0) {
    sums.limits.push_back({1.0, 0.0, -HUGE_VAL, 10.0 * number(rng, 5, 25)});
  }
  sums.metre_uneven = is_even ? number(rng, 1, 20) : 0.0;
  sums.section_m = is_even ? number(rng, 0, 4) : 0.0;
  return sums;
}

/// All choices one by one.
class Every {
 public:
  explicit Every(const placement::TwoSums& sums) : sums_(sums) {}
  double least() {
    go(0);
    return least_;
  }

 private:
  void go(std::size_t at) {
    if (at == sums_.intake.size() + sums_.exhaust.size()) {
      judge();
      return;
    }
    const bool is_intake = at < sums_.intake.size();
    const placement::Place& place =
        is_intake ? sums_.intake[at] : sums_.exhaust[at - sums_.intake.size()];
    for (const placement::Use& use : place.uses) {
      chosen_.push_back(&use);
      go(at + 1);
      chosen_.pop_back();
    }
  }

  void judge() {
    double cost = 0.0;
    double intake = 0.0;
    double exhaust = 0.0;
    for (std::size_t i = 0; i < chosen_.size(); ++i) {
      cost += chosen_[i]->cost;
      (i < sums_.intake.size() ? intake : exhaust) += chosen_[i]->area;
    }
    for (const placement::Limit& limit : sums_.limits) {
      const double sum = limit.intake * intake + limit.exhaust * exhaust;
      if (sum < limit.least - 1e-6 || sum > limit.most + 1e-6) {
        return;
      }
    }
    // The share at which the sum is least is that of an eave just at its bound, or 0 or 1.
    double uneven = HUGE_VAL;
    std::vector<double> shares{0.0, 1.0};
    for (std::size_t i = 0; i < sums_.intake.size(); ++i) {
      for (const double side : {-sums_.section_m, sums_.section_m}) {
        shares.push_back((chosen_[i]->lengths_m[0] + side) / sums_.intake[i].eaves_m[0]);
      }
    }
    for (const double share : shares) {
      double sum = 0.0;
      for (std::size_t i = 0; i < sums_.intake.size(); ++i) {
        sum +=
            std::max(0.0, std::abs(chosen_[i]->lengths_m[0] - share * sums_.intake[i].eaves_m[0]) -
                              sums_.section_m);
      }
      uneven = share >= 0.0 && share <= 1.0 ? std::min(uneven, sum) : uneven;
    }
    least_ = std::min(least_, cost + sums_.metre_uneven * uneven);
  }

  const placement::TwoSums& sums_;
  std::vector<const placement::Use*> chosen_;
  double least_ = HUGE_VAL;
};

}  // namespace

TEST_CASE("law: choices that meet in two sums are solved as trying all of them solves them") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = cases_or(1500);
  std::size_t possible = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    const placement::TwoSums sums = random_sums(rng);
    const double least = Every(sums).least();
    const placement::TwoSumsFound found = placement::least_of(sums, HUGE_VAL);
    REQUIRE(found.search == (least < HUGE_VAL ? placement::Search::best : placement::Search::none));
    if (least < HUGE_VAL) {
      ++possible;
      REQUIRE(found.cost == Approx(least).margin(1e-7));
      CHECK(placement::least_of(sums, least - 1e-3).search == placement::Search::none);
      CHECK(placement::least_of(sums, least + 1e-3).cost == Approx(least).margin(1e-7));
    }
  }
  CHECK(is_share_at_least(0.2, possible, cases));
  CHECK(is_share_at_least(0.1, cases - possible, cases));
}

TEST_CASE("law: the search by sums and the solver of programs come to the same") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = cases_or(10);
  const model::Catalogue catalogue = tests::default_catalogue();
  const std::vector<std::string> sets{"us-irc-2021", "us-irc-2009", "de-din-4108-3", "uk-bs-5250"};
  std::size_t compared = 0;
  std::size_t possible = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    model::RoofModel model =
        random_house(rng, random_rectilinear(rng, 3 + static_cast<int>(rng() % 3), 6, inch, 120),
                     {i % 2 == 0 ? 0.3 : 0.0, {4.0, 6.0, 8.0}, 0.3});
    model.parts[0].heel_m = 0.3;
    const codes::CodeSet code = tests::code_set(sets[i % sets.size()]);
    const Result<surface::Surface> raised = surface::raise(model);
    if (!raised) {
      continue;  // a plan that no roof stage takes
    }
    const surface::Surface& surface = raised.value();
    const framing::Framing framing = framing::frame(model, surface);
    const attic::Attic attic = tests::value_of(attic::divide(model, surface, framing));
    const placement::Ground ground{model, catalogue, code, surface, framing, attic};
    const placement::Candidates all = placement::candidates_on(ground);
    for (const placement::Group& group : placement::groups_of(ground, all)) {
      for (const char* exhaust : {"ridge-12", "box-50"}) {
        for (const bool is_reduced : {true, false}) {
          INFO("case " << i << ", seed " << tests::seed() << ", " << exhaust << " " << is_reduced);
          const placement::Problem problem =
              placement::problem_of(ground, all, group, {exhaust, is_reduced, 0, i % 4 < 2});
          if (!problem.sums || !problem.impossible.empty()) {
            continue;
          }
          const solver::Solution own = placement::solved(all, problem, HUGE_VAL);
          const solver::Solution other = solver::solve(problem.program, 20.0, 600);
          // The solver may end before its proof; then it has no better one.
          if (own.outcome == solver::Outcome::impossible) {
            CHECK(other.values.empty());
          } else if (!other.values.empty()) {
            CHECK(own.cost <= other.cost + 1e-5);
            CHECK((other.outcome != solver::Outcome::best || own.cost >= other.cost - 1e-5));
          }
          for (const solver::Row& row : problem.program.rows) {
            double sum = 0.0;
            for (const solver::Term& term : row.terms) {
              sum += own.values.empty() ? 0.0 : term.factor * own.values[term.unknown];
            }
            CHECK((own.values.empty() || (sum >= row.least - 1e-5 && sum <= row.most + 1e-5)));
          }
          ++compared;
          possible += own.values.empty() ? 0 : 1;
        }
      }
    }
  }
  CHECK(is_share_at_least(0.5, compared, cases));
  CHECK(is_share_at_least(0.1, possible, compared));
}

/// What a written placement has to be, judged as any model is.
void check_sound(const placement::Placement& placed, const model::Catalogue& catalogue,
                 const codes::CodeSet& code) {
  const tests::Worked w = tests::worked(placed.model, catalogue, code);
  for (const conflicts::Finding& finding : w.findings) {
    INFO(finding.kind << ": " << finding.message);
    REQUIRE(finding.severity != conflicts::Severity::error);
  }
  for (const codes::Test& test : w.tests.tests) {
    INFO(test.test << " " << test.measured_text << ", needed " << test.needed);
    REQUIRE((test.holds || test.is_advice || test.is_condition));
  }
  for (const vents::Slot& slot : w.vents.slots) {
    for (const vents::SlotBay& part : slot.bays) {
      REQUIRE(part.live);
    }
  }
  double intake = 0.0;
  double exhaust = 0.0;
  for (const placement::Placed& group : placed.groups) {
    intake += group.intake_m2;
    exhaust += group.exhaust_m2;
  }
  double set_in = 0.0;
  double set_out = 0.0;
  for (const vents::CompartmentTotals& totals : w.vents.totals) {
    set_in += totals.intake_m2;
    set_out += totals.exhaust_m2;
  }
  REQUIRE(intake == Approx(set_in).epsilon(1e-9));
  REQUIRE(exhaust == Approx(set_out).epsilon(1e-9));
}

TEST_CASE("law: what is placed draws no error, fails no test and opens onto no dead bay") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = cases_or(24);
  const model::Catalogue catalogue = tests::default_catalogue();
  const std::vector<std::string> sets{"us-irc-2021", "us-irc-2009", "us-ibc-2018", "ca-nbc-9.19.1",
                                      "fr-dtu-40.45"};
  std::size_t met = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    model::RoofModel model =
        i % 3 == 0
            ? random_parts(rng, {90.0, 0.0, 4, 0.3, 0.0})
            : random_house(rng,
                           random_rectilinear(rng, 3 + static_cast<int>(rng() % 4), 6, inch, 180),
                           {i % 2 == 0 ? 0.3 : 0.0, {4.0, 6.0, 8.0}, 0.3});
    for (model::Part& part : model.parts) {
      part.heel_m = 0.3;
    }
    const codes::CodeSet code = tests::code_set(sets[i % sets.size()]);
    const Result<placement::Placement> placed = placement::place(model, catalogue, code);
    if (!placed) {
      continue;  // a plan that no roof stage takes
    }
    for (const placement::Placed& group : placed.value().groups) {
      REQUIRE((group.is_met || !group.in_the_way.empty()));
    }
    if (!placed.value().is_met) {
      continue;
    }
    ++met;
    check_sound(placed.value(), catalogue, code);
  }
  CHECK(is_share_at_least(0.25, met, cases));
}

/// A ceiling over part of a rectangle in plan.
model::Ceiling ceiling(const std::string& id, model::CeilingKind kind, glm::dvec2 low,
                       glm::dvec2 high) {
  model::Ceiling one;
  one.id = id;
  one.kind = kind;
  one.outline = {low, {high.x, low.y}, high, {low.x, high.y}};
  one.height_m = 8 * ft;
  one.insulation_m = 4 * inch;
  one.baffles = true;
  return one;
}

/// A Cape: low attics behind knee walls, slopes, a loft over collar ties.
void add_knee_walls(std::mt19937_64& rng, glm::dvec2 size, model::RoofModel& model) {
  const double knee = number(rng, 3, 5) * ft;
  const double tie = std::max(knee + 2 * ft, 0.5 * size.y - 4 * ft);
  const auto strip = [&](const char* id, model::CeilingKind kind, double low, double high) {
    model.ceilings.push_back(ceiling(id, kind, {0, low}, {size.x, high}));
  };
  strip("front", model::CeilingKind::flat, 0, knee);
  strip("front-slope", model::CeilingKind::sloped, knee, tie);
  strip("loft", model::CeilingKind::flat, tie, size.y - tie);
  strip("back-slope", model::CeilingKind::sloped, size.y - tie, size.y - knee);
  strip("back", model::CeilingKind::flat, size.y - knee, size.y);
  const double rise = model.parts[0].edges[0].pitch.tangent();
  model.ceilings[2].height_m += tie * rise;
}

/// Houses with several compartments under one ridge: strips of flat and sloped ceilings, or knee
/// walls, under gables and hips that let air past or do not.
model::RoofModel random_vault(std::mt19937_64& rng) {
  const glm::dvec2 size{number(rng, 20, 60) * ft, number(rng, 16, 28) * ft};
  const model::Edge front = eave(std::vector<double>{6, 8, 10, 12}[rng() % 4], ft);
  const auto end = [&](bool is_gable) { return is_gable ? gable(0.5 * ft) : front; };
  const bool has_knees = rng() % 4 == 0;
  model::RoofModel model;
  model.parts.emplace_back();
  model::Part& part = model.parts[0];
  part.id = "main";
  part.outline = {{0, 0}, {size.x, 0}, size, {0, size.y}};
  part.plate_m = 8 * ft;
  part.heel_m = 12 * inch;
  part.edges = {front, end(has_knees || rng() % 2 == 0), front, end(has_knees || rng() % 2 == 0)};
  part.framing.spacing_m = (rng() % 2 == 0 ? 16 : 24) * inch;
  part.framing.origin_m = number(rng, 0, 15) * inch;
  part.framing.air_past.hips = static_cast<model::Way>(rng() % 3);
  if (has_knees) {
    add_knee_walls(rng, size, model);
    return model;
  }
  double from = 0.0;
  for (int i = 0; from < size.x; ++i) {
    const double left = size.x - from;
    const double to = left < 20 * ft || rng() % 3 == 0 ? size.x : from + number(rng, 8, 12) * ft;
    const bool is_sloped = rng() % 3 != 0;
    model.ceilings.push_back(
        ceiling("room-" + std::to_string(i),
                is_sloped ? model::CeilingKind::sloped : model::CeilingKind::flat, {from, 0},
                {to, size.y}));
    if (to < size.x) {
      model.dividers.push_back({"wall-" + std::to_string(i), {to, 0}, {to, size.y}});
    }
    from = to;
  }
  return model;
}

TEST_CASE("law: over rafter spaces too what is placed draws no error, and it is proven the least") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = cases_or(14);
  const model::Catalogue catalogue = tests::default_catalogue();
  const std::vector<std::string> sets{"us-irc-2021", "us-irc-2009", "us-ibc-2018", "ca-nbc-9.19.1",
                                      "de-din-4108-3"};
  std::size_t met = 0;
  std::size_t joined = 0;
  std::size_t proven = 0;
  std::size_t mixed = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    const model::RoofModel model = random_vault(rng);
    const codes::CodeSet code = tests::code_set(sets[i % sets.size()]);
    const placement::Placement placed = tests::value_of(placement::place(model, catalogue, code));
    for (const placement::Placed& group : placed.groups) {
      REQUIRE((group.is_met || !group.in_the_way.empty()));
      REQUIRE((!group.is_met || group.above <= (group.is_proven ? 1e-6 : HUGE_VAL)));
      const bool is_joined = group.compartments.size() > 1;
      joined += is_joined ? 1 : 0;
      proven += is_joined && group.is_proven ? 1 : 0;
      mixed += group.exhaust_over.size() > 1 ? 1 : 0;
      REQUIRE((is_joined || group.exhaust_over.empty()));
    }
    if (placed.is_met) {
      ++met;
      check_sound(placed, catalogue, code);
    }
  }
  CHECK(is_share_at_least(0.15, met, cases));
  CHECK(is_share_at_least(0.02, mixed, cases));
  CHECK(is_share_at_least(0.9, proven, joined));
}

TEST_CASE("law: programs of whole numbers are solved as trying all values solves them") {
  std::mt19937_64 rng(tests::seed());
  for (int i = 0; i < 60; ++i) {
    solver::Program program;
    for (int k = 0; k < 8; ++k) {
      program.add({number(rng, -5, 9), 0.0, number(rng, 1, 2), true});
    }
    for (int r = 0; r < 3; ++r) {
      solver::Row row;
      for (std::size_t k = 0; k < 8; ++k) {
        row.terms.push_back({k, number(rng, -4, 9)});
      }
      row.least = number(rng, -5, 12);
      row.most = row.least + number(rng, 0, 9);
      program.rows.push_back(row);
    }
    double best = HUGE_VAL;
    std::vector<double> value(8, 0.0);
    for (bool more = true; more;) {
      const bool holds =
          std::all_of(program.rows.begin(), program.rows.end(), [&](const solver::Row& row) {
            double sum = 0.0;
            for (const solver::Term& term : row.terms) {
              sum += term.factor * value[term.unknown];
            }
            return sum >= row.least - 1e-9 && sum <= row.most + 1e-9;
          });
      double cost = 0.0;
      for (std::size_t k = 0; k < 8; ++k) {
        cost += program.unknowns[k].cost * value[k];
      }
      best = holds ? std::min(best, cost) : best;
      std::size_t at = 0;
      while (at < 8 && value[at] + 0.5 > program.unknowns[at].most) {
        value[at++] = 0.0;
      }
      more = at < 8;
      if (more) {
        value[at] += 1.0;
      }
    }
    const solver::Solution solution = solver::solve(program, 10.0);
    INFO("case " << i << ", seed " << tests::seed());
    if (best == HUGE_VAL) {
      CHECK(solution.outcome == solver::Outcome::impossible);
    } else {
      REQUIRE(solution.outcome == solver::Outcome::best);
      CHECK(solution.cost == Approx(best).margin(1e-6));
    }
  }
}
