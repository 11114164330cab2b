// Laws of placement over random houses: RIDGEWARD_SEED and RIDGEWARD_CASES choose them.
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
    const tests::Worked w = tests::worked(placed.value().model, catalogue, code);
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
    for (const placement::Placed& group : placed.value().groups) {
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
  CHECK(met > cases / 4);
}

TEST_CASE("law: programs of whole numbers are solved as trying all values solves them") {
  std::mt19937_64 rng(tests::seed());
  for (int i = 0; i < 60; ++i) {
    const auto number = [&](int low, int high) {
      return static_cast<double>(std::uniform_int_distribution<int>(low, high)(rng));
    };
    solver::Program program;
    for (int k = 0; k < 8; ++k) {
      program.add({number(-5, 9), 0.0, number(1, 2), true});
    }
    for (int r = 0; r < 3; ++r) {
      solver::Row row;
      for (std::size_t k = 0; k < 8; ++k) {
        row.terms.push_back({k, number(-4, 9)});
      }
      row.least = number(-5, 12);
      row.most = row.least + number(0, 9);
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
