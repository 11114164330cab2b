// The cutting plan: against every plan there is on small cases, its rules on random ones, and the
// geometry of mitres.
#include "takeoff/cutting.hpp"

#include "support/plans.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

using namespace ridgeward;
using small_roofs::ft;
using small_roofs::in;
using takeoff::CuttingPlan;
using takeoff::CuttingRules;
using takeoff::EndNeed;
using takeoff::Strip;
using tests::Worked;

namespace {

constexpr EndNeed rake{true, 0.0};
constexpr EndNeed open_end{};
EndNeed mitre(double least) { return {false, least}; }

/// Every way to cut whole numbers of inches, say: each strip takes of each section nothing or a
/// whole number that is no shorter than the least piece; then the ends are given out. Whole numbers
/// are enough where all figures are whole: with the pairs of strip and section fixed, the lengths
/// are a transport problem, whose corners are whole (Hoffman and Kruskal 1956).
class EveryPlan {
 public:
  EveryPlan(const std::vector<Strip>& strips, const CuttingRules& rules, int sections)
      : strips_(strips),
        rules_(rules),
        takes_(strips.size(), std::vector<int>(static_cast<std::size_t>(sections), 0)),
        left_(static_cast<std::size_t>(sections), static_cast<int>(rules.section_m)) {}
  bool exists() { return fill(0, 0, length(0)); }

 private:
  int length(std::size_t strip) const { return static_cast<int>(strips_[strip].length_m); }

  bool fill(std::size_t strip, std::size_t section, int rest) {
    if (rest == 0) {
      return strip + 1 == strips_.size() ? ends(0) : fill(strip + 1, 0, length(strip + 1));
    }
    if (section == left_.size()) {
      return false;
    }
    const int least = static_cast<int>(std::min(rules_.least_piece_m, strips_[strip].length_m));
    for (int take = std::min(rest, left_[section]); take >= 0; --take) {
      if (take > 0 && (take < least || is_like_the_one_before(section))) {
        continue;
      }
      takes_[strip][section] = take;
      left_[section] -= take;
      const bool found = fill(strip, section + 1, rest - take);
      left_[section] += take;
      if (found) {
        takes_[strip][section] = 0;
        return true;
      }
    }
    takes_[strip][section] = 0;
    return false;
  }

  /// Sections that nothing was taken of are alike: the first of them will do.
  bool is_like_the_one_before(std::size_t section) const {
    const int whole = static_cast<int>(rules_.section_m);
    return section > 0 && left_[section] == whole && left_[section - 1] == whole;
  }

  /// Gives the ends of `strip` and those after it to sections whose factory ends are left.
  bool ends(std::size_t strip) {
    if (strip == strips_.size()) {
      return true;
    }
    const Strip& one = strips_[strip];
    for (std::size_t l = 0; l < left_.size(); ++l) {
      for (std::size_t r = 0; r < left_.size(); ++r) {
        if (!serves(strip, one.left, l, left_taken_) ||
            !serves(strip, one.right, r, right_taken_)) {
          continue;
        }
        // One section at both ends is the whole strip.
        if (l == r && takes_[strip][l] != length(strip)) {
          continue;
        }
        if (one.left.is_factory) {
          left_taken_.push_back(l);
        }
        if (one.right.is_factory) {
          right_taken_.push_back(r);
        }
        const bool found = ends(strip + 1);
        if (one.left.is_factory) {
          left_taken_.pop_back();
        }
        if (one.right.is_factory) {
          right_taken_.pop_back();
        }
        if (found) {
          return true;
        }
      }
    }
    return false;
  }

  bool serves(std::size_t strip, const EndNeed& need, std::size_t section,
              const std::vector<std::size_t>& taken) const {
    const int take = takes_[strip][section];
    if (take == 0 || take < need.least_m) {
      return false;
    }
    return !need.is_factory || std::find(taken.begin(), taken.end(), section) == taken.end();
  }

  const std::vector<Strip>& strips_;
  const CuttingRules& rules_;
  std::vector<std::vector<int>> takes_;
  std::vector<int> left_;
  std::vector<std::size_t> left_taken_;
  std::vector<std::size_t> right_taken_;
};

std::size_t fewest(const std::vector<Strip>& strips, const CuttingRules& rules) {
  for (int sections = 1; sections < 12; ++sections) {
    if (EveryPlan(strips, rules, sections).exists()) {
      return static_cast<std::size_t>(sections);
    }
  }
  FAIL("no plan with 11 sections");
  return 0;
}

/// The rules of a plan, read from the plan alone.
void check_plan(const std::vector<Strip>& strips, const CuttingRules& rules,
                const CuttingPlan& plan) {
  REQUIRE(plan.strips.size() == strips.size());
  REQUIRE(plan.bought >= plan.lower_bound);
  std::vector<std::vector<std::pair<double, double>>> used(plan.bought);
  for (std::size_t i = 0; i < strips.size(); ++i) {
    const auto& pieces = plan.strips[i];
    REQUIRE_FALSE(pieces.empty());
    double sum = 0.0;
    for (const takeoff::Cutting& piece : pieces) {
      sum += piece.length_m;
      REQUIRE(piece.length_m >= std::min(rules.least_piece_m, strips[i].length_m) - 1e-6);
      REQUIRE(piece.section_from_m >= -1e-6);
      REQUIRE(piece.section_from_m + piece.length_m <= rules.section_m + 1e-6);
      used[piece.section].emplace_back(piece.section_from_m, piece.section_from_m + piece.length_m);
    }
    REQUIRE(sum == Approx(strips[i].length_m).epsilon(1e-9));
    if (strips[i].left.is_factory) {
      REQUIRE(pieces.front().section_from_m == Approx(0.0).margin(1e-6));
    }
    if (strips[i].right.is_factory) {
      REQUIRE(pieces.back().section_from_m + pieces.back().length_m ==
              Approx(rules.section_m).epsilon(1e-6));
    }
    REQUIRE(pieces.front().length_m >= strips[i].left.least_m - 1e-6);
    REQUIRE(pieces.back().length_m >= strips[i].right.least_m - 1e-6);
  }
  for (auto& section : used) {
    REQUIRE_FALSE(section.empty());
    std::sort(section.begin(), section.end());
    for (std::size_t k = 0; k + 1 < section.size(); ++k) {
      REQUIRE(section[k].second <= section[k + 1].first + 1e-6);
    }
  }
}

}  // namespace

TEST_CASE("cutting plans by hand") {
  const CuttingRules four{4.0, 0.5};
  SECTION("two strips of 42 share the section of their rests") {
    const CuttingPlan plan = takeoff::plan_cuts({{42, rake, rake}, {42, rake, rake}}, four);
    CHECK(plan.bought == 21);
    CHECK(plan.is_least);
  }
  SECTION("a rest under the least piece takes from a whole section") {
    const CuttingPlan plan = takeoff::plan_cuts({{8.25, rake, rake}}, four);
    CHECK(plan.bought == 3);
    check_plan({{8.25, rake, rake}}, four, plan);
  }
  SECTION("three rests of 2 1/2 fit two sections when one is laid in two") {
    const std::vector<Strip> strips(3, {6.5, rake, rake});
    const CuttingPlan plan = takeoff::plan_cuts(strips, four);
    CHECK(plan.bought == 5);
    CHECK(plan.is_least);
    check_plan(strips, four, plan);
  }
  SECTION("rake to rake shorter than a section: both its ends, the middle cut out") {
    const CuttingPlan plan = takeoff::plan_cuts({{3, rake, rake}}, four);
    CHECK(plan.bought == 1);
    REQUIRE(plan.strips[0].size() == 2);
    check_plan({{3, rake, rake}}, four, plan);
  }
  SECTION("left factory ends are few: a section has one") {
    const std::vector<Strip> strips(3, {1.0, rake, mitre(0.8)});
    const CuttingPlan plan = takeoff::plan_cuts(strips, four);
    CHECK(plan.bought == 3);
    CHECK(plan.lower_bound == 3);
    check_plan(strips, four, plan);
  }
  SECTION("a strip shorter than the least piece is one piece") {
    const CuttingPlan plan = takeoff::plan_cuts({{0.2, open_end, open_end}}, four);
    CHECK(plan.bought == 1);
    CHECK(plan.strips[0].size() == 1);
  }
}

TEST_CASE("law: no plan buys fewer sections, held against every plan there is") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = support::cases_or(120);
  std::size_t below_rests = 0;
  std::size_t proven = 0;
  for (std::size_t n = 0; n < cases; ++n) {
    const int section = 5 + static_cast<int>(rng() % 3);
    const CuttingRules rules{static_cast<double>(section), static_cast<double>(1 + rng() % 2)};
    std::vector<Strip> strips;
    const std::size_t count = 1 + rng() % 3;
    for (std::size_t i = 0; i < count; ++i) {
      const auto end = [&]() -> EndNeed {
        switch (rng() % 3) {
          case 0:
            return open_end;
          case 1:
            return rake;
          default:
            return mitre(rules.least_piece_m + static_cast<double>(rng() % 2));
        }
      };
      Strip strip{
          static_cast<double>(2 * static_cast<int>(rules.least_piece_m) +
                              static_cast<int>(rng() % static_cast<unsigned>(3 * section / 2))),
          end(), end()};
      // Leaves out strips that no plan could cover.
      if (std::max(strip.left.least_m, rules.least_piece_m) + strip.right.least_m >
          strip.length_m) {
        strip.right = open_end;
      }
      strips.push_back(strip);
    }
    INFO("case " << n << ", seed " << tests::seed());
    const CuttingPlan plan = takeoff::plan_cuts(strips, rules);
    check_plan(strips, rules, plan);
    // What is called the least is; the search may end before it knows.
    const std::size_t least = fewest(strips, rules);
    REQUIRE(plan.bought >= least);
    REQUIRE(plan.bought <= least + (plan.is_least ? 0 : 1));
    proven += plan.is_least ? 1 : 0;
    std::size_t simple = 0;
    for (const Strip& strip : strips) {
      simple += static_cast<std::size_t>(std::ceil(strip.length_m / rules.section_m));
    }
    below_rests += plan.bought < simple ? 1 : 0;
  }
  CHECK(support::is_share_at_least(0.97, proven, cases));
  CHECK(support::is_share_at_least(0.1, below_rests, cases));  // left-overs do get used
}

TEST_CASE("law: plans of long jobs keep the rules; nearly all reach their lower bound") {
  std::mt19937_64 rng(tests::seed());
  const CuttingRules rules{48 * in, 6 * in};
  const std::size_t cases = support::cases_or(60);
  std::size_t proven = 0;
  for (std::size_t n = 0; n < cases; ++n) {
    std::vector<Strip> strips;
    for (std::size_t i = 0; i < 2 + rng() % 9; ++i) {
      std::uniform_real_distribution<double> length(3 * ft, 45 * ft);
      strips.push_back({length(rng), rng() % 2 == 0 ? rake : mitre(18 * in),
                        rng() % 2 == 0 ? rake : mitre(18 * in)});
    }
    INFO("case " << n << ", seed " << tests::seed());
    const CuttingPlan plan = takeoff::plan_cuts(strips, rules);
    check_plan(strips, rules, plan);
    REQUIRE(plan.bought <= plan.lower_bound + 1);
    proven += plan.is_least ? 1 : 0;
  }
  CHECK(support::is_share_at_least(0.8, proven, cases));
}
