// The chosen placement against every other: all choices of small houses are tried one by one, each
// assessed as any model is.
#include "attic/stage.hpp"
#include "model/read.hpp"
#include "placement/candidates.hpp"
#include "placement/cost.hpp"
#include "placement/problem.hpp"
#include "placement/stage.hpp"

#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <set>

using namespace ridgeward;
using small_roofs::ft;
using small_roofs::in;

namespace {

/// Few products, so that all choices can be tried.
model::Catalogue few(std::initializer_list<const char*> products) {
  model::Catalogue all = small_roofs::catalogue();
  std::erase_if(all.products, [&](const auto& item) {
    return std::none_of(products.begin(), products.end(),
                        [&](const char* id) { return item.first == id; });
  });
  all.products["over-deck-10"].positions = {model::Position::eave};
  return all;
}

/// The same of the default catalogue, at the eave only.
model::Catalogue few_of_default(std::initializer_list<const char*> products) {
  model::Catalogue all = tests::default_catalogue();
  std::erase_if(all.products, [&](const auto& item) {
    return std::none_of(products.begin(), products.end(),
                        [&](const char* id) { return item.first == id; });
  });
  all.products["over-deck-10"].positions = {model::Position::eave};
  return all;
}

model::RoofModel gable(double length, double width, double pitch) {
  model::RoofModel model = support::house({{0, 0}, {length, 0}, {length, width}, {0, width}},
                                          {support::eave(pitch, 12 * in), support::gable(6 * in),
                                           support::eave(pitch, 12 * in), support::gable(6 * in)});
  model.parts[0].heel_m = 12 * in;
  return model;
}

/// Four eaves: a hip roof, its ridge shorter than its eaves.
model::RoofModel hip(double length, double width, double pitch) {
  const model::Edge edge = support::eave(pitch, 12 * in);
  model::RoofModel model =
      support::house({{0, 0}, {length, 0}, {length, width}, {0, width}}, {edge, edge, edge, edge});
  model.parts[0].heel_m = 12 * in;
  return model;
}

/// Hipped at one end, a gable at the other.
model::RoofModel half_hip(double length, double width, double pitch) {
  model::RoofModel model = hip(length, width, pitch);
  model.parts[0].edges[3] = support::gable(6 * in);
  return model;
}

/// An L with a valley; `has_hips`: hipped ends in the place of gables.
model::RoofModel angle(double leg, double width, double pitch, bool has_hips) {
  const model::Edge eave = support::eave(pitch, 12 * in);
  const model::Edge end = has_hips ? eave : support::gable(6 * in);
  model::RoofModel model =
      support::house({{0, 0}, {leg, 0}, {leg, width}, {width, width}, {width, leg}, {0, leg}},
                     {eave, end, eave, eave, end, eave});
  model.parts[0].heel_m = 12 * in;
  return model;
}

/// Whether each run buys its own sections, or all are bought together.
enum class Buy { by_run, together };

/// A choice: a candidate or none of each stretch.
struct Brute {
  double best = HUGE_VAL;
  std::size_t tried = 0;
  std::size_t met = 0;
};

/// What the eaves depart from their common share beyond one section, at the best share.
double unevenness(const std::map<std::size_t, double>& run, const placement::Candidates& all,
                  double section_m) {
  double best = HUGE_VAL;
  // The sum is piecewise linear in the share: its least lies where some eave is just at its bound.
  std::vector<double> shares{0.0, 1.0};
  for (const auto& [eave, length] : run) {
    for (const double bound : {-section_m, section_m}) {
      shares.push_back((length + bound) / all.eaves[eave].length_m());
    }
  }
  for (const double share : shares) {
    if (share < 0.0 || share > 1.0) {
      continue;
    }
    double sum = 0.0;
    for (const auto& [eave, length] : run) {
      sum += std::max(0.0, std::abs(length - share * all.eaves[eave].length_m()) - section_m);
    }
    best = std::min(best, sum);
  }
  return run.size() < 2 ? 0.0 : best;
}

class Enumeration {
 public:
  Enumeration(const model::RoofModel& model, const model::Catalogue& catalogue,
              const codes::CodeSet& code, Buy buy)
      : model_(model),
        buy_(buy),
        catalogue_(catalogue),
        code_(code),
        surface_(tests::value_of(surface::raise(model))),
        framing_(framing::frame(model, surface_)),
        attic_(tests::value_of(attic::divide(model, surface_, framing_))),
        ground_{model_, catalogue_, code_, surface_, framing_, attic_},
        all_(placement::candidates_on(ground_)) {
    std::map<std::pair<bool, std::size_t>, std::vector<std::pair<std::size_t, int>>> slots;
    for (std::size_t i = 0; i < all_.all.size(); ++i) {
      const placement::Candidate& c = all_.all[i];
      if (c.is_intake() || model::runs_along(c.kind)) {
        slots[{true, c.stretch}].emplace_back(i, 1);
      } else {
        for (int n = 1; n <= c.places(); ++n) {
          slots[{false, i}].emplace_back(i, n);
        }
      }
      section_m_ = c.is_intake() ? std::max(section_m_, catalogue.products.at(c.product).length_m)
                                 : section_m_;
    }
    for (auto& [key, options] : slots) {
      options_.push_back(std::move(options));
    }
  }

  std::size_t size() const {
    std::size_t product = 1;
    for (const auto& options : options_) {
      product *= options.size() + 1;
    }
    return product;
  }

  Brute run() {
    go(0, 0.0);
    return brute_;
  }

 private:
  void go(std::size_t at, double cost) {
    if (cost >= brute_.best) {
      return;  // nothing that is added makes it cheaper
    }
    if (at == options_.size()) {
      judge(cost);
      return;
    }
    go(at + 1, cost);
    for (const auto& [index, count] : options_[at]) {
      if (lies_on_another(index)) {
        continue;
      }
      chosen_.emplace_back(index, count);
      const placement::Candidate& c = all_.all[index];
      // Bought together nothing costs less than by length.
      const double own = buy_ == Buy::by_run ? c.cost.all : c.cost.at_least;
      go(at + 1, cost + count * (own + placement::weight::a_warning * c.warnings));
      chosen_.pop_back();
    }
  }

  /// Over rafter spaces stretches overlap: runs can't.
  bool lies_on_another(std::size_t index) const {
    const placement::Candidate& own = all_.all[index];
    const auto is_run = [](const placement::Candidate& c) {
      return c.is_intake() || model::runs_along(c.kind);
    };
    return is_run(own) && std::any_of(chosen_.begin(), chosen_.end(), [&](const auto& chosen) {
             const placement::Candidate& other = all_.all[chosen.first];
             if (!is_run(other)) {
               return false;
             }
             const placement::Stretch& a = all_.stretches[own.stretch];
             const placement::Stretch& b = all_.stretches[other.stretch];
             return a.is_intake == b.is_intake && a.plane == b.plane && a.line == b.line &&
                    a.from_m < b.to_m - 1e-6 && b.from_m < a.to_m - 1e-6;
           });
  }

  /// Whether every floor has intake and exhaust. Where one lacks them judging ends in an error
  /// (compartment_without_openings); that is seen sooner here.
  bool serves_all_floors() const {
    std::set<std::pair<bool, std::uint32_t>> served;
    for (const auto& [index, count] : chosen_) {
      for (const placement::Share& share : all_.all[index].shares) {
        served.emplace(all_.all[index].is_intake(), share.compartment.value);
      }
    }
    for (const CompartmentId id : attic_.compartments.ids()) {
      if (attic_.compartments[id].floor_area_m2 > 0.0 &&
          (served.count({true, id.value}) == 0 || served.count({false, id.value}) == 0)) {
        return false;
      }
    }
    return true;
  }

  /// No compartment under two products of exhaust.
  bool has_one_product_each() const {
    std::map<std::uint32_t, std::string> products;
    for (const auto& [index, count] : chosen_) {
      const placement::Candidate& c = all_.all[index];
      for (const placement::Share& share : c.shares) {
        if (!c.is_intake() &&
            products.try_emplace(share.compartment.value, c.product).first->second != c.product) {
          return false;
        }
      }
    }
    return true;
  }

  void judge(double cost) {
    if (!serves_all_floors() || !has_one_product_each()) {
      return;
    }
    ++brute_.tried;
    std::vector<model::IntakeRun> intake;
    std::vector<model::ExhaustVent> exhaust;
    std::map<std::size_t, double> used;
    for (std::size_t e = 0; e < all_.eaves.size(); ++e) {
      used[e] = 0.0;
    }
    for (const auto& [index, count] : chosen_) {
      const placement::Candidate& c = all_.all[index];
      if (c.is_intake()) {
        intake.push_back(*c.run);
        used[all_.stretches[c.stretch].eave] += c.length_m;
      }
      for (int i = 0; i < (c.is_intake() ? 0 : count); ++i) {
        exhaust.push_back(c.vents[static_cast<std::size_t>(
            std::floor((i + 0.5) * static_cast<double>(c.vents.size()) / count))]);
      }
    }
    const double total =
        cost + placement::weight::a_metre_uneven * unevenness(used, all_, section_m_);
    if (total >= brute_.best - 1e-9) {
      return;
    }
    const placement::Trial trial = placement::tried(ground_, intake, exhaust);
    for (const conflicts::Finding& finding : trial.findings) {
      if (finding.severity == conflicts::Severity::error || finding.kind == "dead_bay_slot" ||
          finding.kind == "exhaust_kinds_mixed" || finding.kind == "intake_share_high") {
        return;
      }
    }
    for (const codes::Test& test : trial.tests.tests) {
      if (!test.holds && !test.is_condition) {
        return;  // advice is kept too: these houses can have it
      }
    }
    ++brute_.met;
    brute_.best = buy_ == Buy::by_run ? total : std::min(brute_.best, together(trial, total));
  }

  /// The same choice, its vents bought together.
  double together(const placement::Trial& trial, double total) const {
    for (const auto& [index, count] : chosen_) {
      const placement::Cost& cost = all_.all[index].cost;
      total += count * (cost.all - cost.money - cost.at_least);
    }
    const takeoff::Takeoff takeoff = takeoff::count(trial.model, catalogue_, surface_, trial.vents);
    for (const takeoff::OrderLine& line : takeoff.order) {
      total += catalogue_.products.count(line.item) > 0 ? line.total_price.value_or(0.0) : 0.0;
    }
    return total;
  }

  model::RoofModel model_;
  Buy buy_;
  model::Catalogue catalogue_;
  codes::CodeSet code_;
  surface::Surface surface_;
  framing::Framing framing_;
  attic::Attic attic_;
  placement::Ground ground_;
  placement::Candidates all_;
  std::vector<std::vector<std::pair<std::size_t, int>>> options_;
  std::vector<std::pair<std::size_t, int>> chosen_;
  double section_m_ = 0.0;
  Brute brute_;
};

void compare(const model::RoofModel& model, const model::Catalogue& catalogue, const char* set) {
  const codes::CodeSet code = tests::code_set(set);
  Enumeration all(model, catalogue, code, Buy::by_run);
  INFO(set << ", " << all.size() << " choices");
  REQUIRE(all.size() < 60000);
  const Brute brute = all.run();
  const placement::Placement placed = tests::value_of(placement::place(model, catalogue, code));
  REQUIRE(placed.groups.size() == 1);
  REQUIRE(placed.is_met == (brute.met > 0));
  if (placed.is_met) {
    const placement::Placed& group = placed.groups[0];
    CHECK(group.is_proven);
    CHECK(group.cost + group.beside == Approx(brute.best).margin(1e-6));
  }
}

/// A house under a sloped ceiling, every bay a space by itself but for those that its hips join.
model::RoofModel vault(model::RoofModel model, model::Way past_hips) {
  model.parts[0].framing.air_past.hips = past_hips;
  model.parts[0].framing.spacing_m = 24 * in;
  model::Ceiling ceiling;
  ceiling.id = "vault";
  ceiling.kind = model::CeilingKind::sloped;
  ceiling.outline = model.parts[0].outline;
  ceiling.insulation_m = 4 * in;
  ceiling.baffles = true;
  model.ceilings = {ceiling};
  return model;
}

/// The same where every bay wants its own. What is placed may mix products of exhaust from space to
/// space; returns it.
std::string compare_vault(const model::RoofModel& model, const model::Catalogue& catalogue,
                          const char* set, bool is_possible) {
  const codes::CodeSet code = tests::code_set(set);
  Enumeration all(model, catalogue, code, Buy::by_run);
  const Brute brute = all.run();
  INFO(set << ", " << brute.tried << " choices tried, " << brute.met << " better and better");
  REQUIRE((brute.met > 0) == is_possible);
  const placement::Placement placed = tests::value_of(placement::place(model, catalogue, code));
  REQUIRE(placed.groups.size() == 1);
  CHECK(placed.groups[0].compartments.size() > 1);
  CHECK(placed.groups[0].is_proven);
  REQUIRE(placed.is_met == is_possible);
  if (is_possible) {
    const placement::Placed& group = placed.groups[0];
    CHECK(group.cost + group.beside == Approx(brute.best).margin(1e-6));
  }
  return placed.groups[0].exhaust;
}

/// With prices: nothing is bought for less than what is placed, less what it says it may be above.
placement::Bought compare_bought(const model::RoofModel& model, const model::Catalogue& catalogue) {
  const codes::CodeSet code = tests::code_set("us-irc-2021");
  Enumeration all(model, catalogue, code, Buy::together);
  INFO(all.size() << " choices");
  REQUIRE(all.size() < 60000);
  const Brute brute = all.run();
  const placement::Placement placed = tests::value_of(placement::place(model, catalogue, code));
  REQUIRE(placed.is_met);
  REQUIRE(placed.bought.has_value());
  double weighs = placed.bought->together;
  for (const placement::Placed& group : placed.groups) {
    weighs += group.cost - group.money + group.beside;
  }
  INFO("placed " << weighs << ", best " << brute.best << ", above " << placed.bought->above);
  CHECK(weighs >= brute.best - 1e-6);
  CHECK(weighs - placed.bought->above <= brute.best + 1e-6);
  CHECK(placed.bought->together <= placed.bought->counted + 1e-6);
  return *placed.bought;
}

/// What the model's own vents weigh by the same measure: cost, and how unevenly they use the eaves
/// that a placement could use.
double by_hand(const model::RoofModel& model, const model::Catalogue& catalogue,
               const codes::CodeSet& code) {
  const tests::Worked w = tests::worked(model, catalogue, code);
  const placement::Ground ground{w.model, w.catalogue, w.code, w.surface, w.framing, w.attic};
  const placement::Candidates all = placement::candidates_on(ground);
  std::map<std::size_t, double> used;
  double section_m = 0.0;
  for (std::size_t e = 0; e < all.eaves.size(); ++e) {
    used[e] = 0.0;
  }
  double cost = 0.0;
  for (const vents::Slot& slot : w.vents.slots) {
    const model::Product& product = catalogue.products.at(slot.product);
    const double pieces = slot.vent_length_m / product.length_m;
    const int cuts = std::abs(pieces - std::round(pieces)) > 1e-6 ? 1 : 0;
    cost += placement::cost_of(model, product, slot.vent_length_m, cuts).all;
    section_m = std::max(section_m, product.length_m);
    for (std::size_t e = 0; e < all.eaves.size(); ++e) {
      if (all.eaves[e].plane == slot.plane) {
        used[e] += std::max(0.0, std::min(slot.end_m, all.eaves[e].to_m) -
                                     std::max(slot.start_m, all.eaves[e].from_m));
      }
    }
  }
  for (const vents::Exhaust& exhaust : w.vents.exhausts) {
    const model::Product& product = catalogue.products.at(exhaust.product);
    const double pieces = product.length_m > 0.0 ? exhaust.length_m / product.length_m : 0.0;
    const int cuts = std::abs(pieces - std::round(pieces)) > 1e-6 ? 1 : 0;
    cost += placement::cost_of(model, product, exhaust.length_m, cuts).all;
  }
  return cost + placement::weight::a_metre_uneven * unevenness(used, all, section_m);
}

void check_sound(const placement::Placement& placed, const model::Catalogue& catalogue,
                 const codes::CodeSet& code) {
  const tests::Worked w = tests::worked(placed.model, catalogue, code);
  for (const conflicts::Finding& finding : w.findings) {
    INFO(finding.kind << ": " << finding.message);
    CHECK(finding.severity != conflicts::Severity::error);
  }
  for (const codes::Test& test : w.tests.tests) {
    INFO(test.test << " " << test.measured_text << ", needed " << test.needed);
    CHECK((test.holds || test.is_advice || test.is_condition));
  }
}

}  // namespace

TEST_CASE("the placement costs what the best of all choices costs") {
  compare(gable(24, 20, 8), few({"over-deck-10", "ridge-12"}), "us-irc-2021");
  compare(gable(30, 24, 6), few({"over-deck-10", "ridge-12"}), "us-irc-2021");
  compare(gable(30, 24, 6), few({"over-deck-10", "ridge-12"}), "ca-nbc-9.19.1");
  compare(gable(24, 20, 8), few({"over-deck-10", "ridge-12", "box-50"}), "us-irc-2018");
  compare(gable(20, 16, 10), few({"over-deck-10", "box-50"}), "us-irc-2021");
}

TEST_CASE("the same on hip roofs and on an L with a valley") {
  compare(hip(22, 14, 8), few({"over-deck-10", "ridge-12"}), "us-irc-2021");
  compare(hip(24, 14, 8), few({"over-deck-10", "ridge-12"}), "us-irc-2021");  // none meets it
  compare(hip(30, 18, 8), few({"over-deck-10", "ridge-12"}), "ca-nbc-9.19.1");
  compare(angle(24, 12, 8, false), few({"over-deck-10", "ridge-12"}), "us-irc-2021");
  compare(angle(20, 12, 8, true), few({"over-deck-10", "ridge-12"}), "us-irc-2018");
}

TEST_CASE("the same over rafter spaces, each with its own exhaust") {
  const model::Catalogue ridge = few_of_default({"over-deck-10", "ridge-18"});
  const model::Catalogue mixed =
      few_of_default({"over-deck-10", "drip-edge-9", "ridge-12", "ridge-18"});
  const model::Catalogue both = few_of_default({"over-deck-10", "ridge-18", "hip-9"});
  model::Catalogue wide = both;
  wide.products["hip-9"].free_area_per_length_m *= 1.2;
  wide.products["hip-9"].slot.width_m *= 1.2;
  for (const char* id : {"hip-9", "over-deck-10", "ridge-18"}) {
    wide.products[id].slot.hold_back_m = wide.products[id].slot.hold_back_hip_m = 2 * in;
  }
  const auto all = [](double length, double width) {
    return vault(gable(length, width, 8), model::Way::tight);
  };
  compare_vault(all(14, 12), ridge, "us-irc-2021", true);
  compare_vault(all(16, 20), mixed, "us-irc-2021", true);
  // 12 in2 of exhaust beside 20 of intake: more than 60 %.
  compare_vault(all(14, 12), few({"over-deck-10", "ridge-12"}), "us-irc-2021", false);
  // Bays at the hips under one exhaust, those at the ridge under another: open to each other at the
  // hips, or each by itself.
  const auto hipped = [](double length, model::Way past) {
    return vault(half_hip(length, 12, 8), past);
  };
  const std::string two = "hip-9, ridge-18";
  CHECK(compare_vault(hipped(18, model::Way::dropped), both, "us-irc-2021", true) == two);
  CHECK(compare_vault(hipped(20, model::Way::dropped), both, "ca-nbc-9.19.1", true) == two);
  CHECK(compare_vault(hipped(18, model::Way::tight), wide, "us-irc-2021", true) == two);
}

TEST_CASE("a vent along a ridge ends where the spaces begin that the hips serve") {
  // 40 x 24 ft, rafters at 24 in, all under one sloped ceiling, hips dropped at both ends: the
  // ridge runs from 12 to 28 ft. At each peak hang the jacks of three planes and the last common of
  // both sides (docs/attic.md), so the ridge serves the bays between those alone, from 14 to 26 ft.
  model::RoofModel model = vault(hip(40, 24, 8), model::Way::dropped);
  const placement::Placement placed =
      tests::value_of(placement::place(model, few_of_default({"over-deck-10", "ridge-18", "hip-9"}),
                                       tests::code_set("us-irc-2021")));
  REQUIRE(placed.is_met);
  REQUIRE(placed.groups.size() == 1);
  CHECK(placed.groups[0].compartments.size() == 14);
  CHECK(placed.groups[0].exhaust_over.size() == 2);
  bool has_ridge = false;
  for (const model::ExhaustVent& vent : placed.model.exhaust) {
    if (vent.product == "ridge-18") {
      has_ridge = true;  // from the eave's left corner, 1 ft of overhang before the wall
      CHECK(vent.from_m == Approx((14 - 12) * ft).margin(0.125 * in));
      CHECK(vent.to_m == Approx((26 - 12) * ft).margin(0.125 * in));
    }
  }
  CHECK(has_ridge);
}

TEST_CASE("where bays can't each be served it is said which, and what they would get") {
  const placement::Placement placed = tests::value_of(
      placement::place(vault(gable(14, 12, 8), model::Way::tight),
                       few({"over-deck-10", "ridge-12"}), tests::code_set("us-irc-2021")));
  REQUIRE_FALSE(placed.is_met);
  CHECK(placed.groups[0].what.find("14 rafter spaces under vault (main/0/b") == 0);
  // 6 in held back of the first 24 in bay: 18 in of 10 in2/ft, and half of 18 in of 12 in2/ft.
  CHECK(std::any_of(placed.groups[0].in_the_way.begin(), placed.groups[0].in_the_way.end(),
                    [](const std::string& words) {
                      return words.find("15 in2 of intake beside 9 in2 of exhaust, 63 %") !=
                             std::string::npos;
                    }));
}

TEST_CASE("bought together: left-overs of one run serve another") {
  model::RoofModel model = hip(30, 14, 8);
  model.prices = {{"over-deck-10", 20.0}, {"ridge-12", 15.0}};
  compare_bought(model, few({"over-deck-10", "ridge-12"}));
  model = angle(24, 12, 8, false);
  model.prices = {{"over-deck-10", 20.0}, {"ridge-12", 30.0}};
  compare_bought(model, few({"over-deck-10", "ridge-12"}));
  // Bays by themselves under one ridge.
  model = vault(gable(14, 12, 8), model::Way::tight);
  model.prices = {{"over-deck-10", 20.0}, {"ridge-18", 30.0}};
  compare_bought(model, few_of_default({"over-deck-10", "ridge-18"}));
  // Sections of 10 ft along short eaves: two rests of one section.
  model = hip(30.5, 12, 8);
  model.prices = {{"drip-edge-9", 20.0}, {"ridge-12", 30.0}};
  model::Catalogue catalogue = tests::default_catalogue();
  std::erase_if(catalogue.products, [](const auto& item) {
    return item.first != "drip-edge-9" && item.first != "ridge-12";
  });
  const placement::Bought bought = compare_bought(model, catalogue);
  CHECK(bought.together < bought.counted - 19.0);
}

TEST_CASE("with prices the cheaper vents are taken, and still the cheapest choice") {
  model::RoofModel model = gable(24, 20, 8);
  model.prices = {{"over-deck-10", 20.0}, {"ridge-12", 200.0}, {"box-50", 15.0}};
  const model::Catalogue catalogue = few({"over-deck-10", "ridge-12", "box-50"});
  compare(model, catalogue, "us-irc-2021");
  const codes::CodeSet code = tests::code_set("us-irc-2021");
  const placement::Placement cheap = tests::value_of(placement::place(model, catalogue, code));
  CHECK(cheap.groups[0].exhaust == "box-50");
  model.prices["box-50"] = 500.0;
  const placement::Placement other = tests::value_of(placement::place(model, catalogue, code));
  CHECK(other.groups[0].exhaust == "ridge-12");
  model.prices.erase("ridge-12");  // without a price it is not taken
  const placement::Placement only = tests::value_of(placement::place(model, catalogue, code));
  CHECK(only.groups[0].exhaust == "box-50");
}

TEST_CASE("where the eave is blocked the upslope position is taken") {
  model::RoofModel model = gable(30, 24, 8);
  model.parts[0].framing.blocking = model::Blocking::solid;
  const model::Catalogue catalogue = small_roofs::catalogue();
  const codes::CodeSet code = tests::code_set("us-irc-2021");
  const placement::Placement placed = tests::value_of(placement::place(model, catalogue, code));
  REQUIRE(placed.is_met);
  REQUIRE_FALSE(placed.model.intake.empty());
  for (const model::IntakeRun& run : placed.model.intake) {
    CHECK(run.position == model::Position::upslope);
  }
  check_sound(placed, catalogue, code);
  // With an ice barrier the warning is accepted, and said.
  model.site.snow = true;
  const placement::Placement cold = tests::value_of(placement::place(model, catalogue, code));
  REQUIRE(cold.is_met);
  CHECK(std::any_of(
      cold.groups[0].traded.begin(), cold.groups[0].traded.end(),
      [](const std::string& words) { return words.find("ice barrier") != std::string::npos; }));
}

TEST_CASE("where nothing can be placed it is said why, and how near it comes") {
  const model::Edge edge = support::eave(8, 12 * in);
  model::RoofModel model =
      support::house({{0, 0}, {44, 0}, {44, 40}, {0, 40}}, {edge, edge, edge, edge});
  model.parts[0].heel_m = 12 * in;
  // 4 ft of ridge for 1 760 ft2.
  const placement::Placement placed = tests::value_of(
      placement::place(model, few({"over-deck-10", "ridge-12"}), tests::code_set("us-irc-2021")));
  CHECK_FALSE(placed.is_met);
  REQUIRE_FALSE(placed.groups[0].in_the_way.empty());
  CHECK(std::any_of(
      placed.groups[0].in_the_way.begin(), placed.groups[0].in_the_way.end(),
      [](const std::string& words) { return words.find("ridge-12") != std::string::npos; }));
}

TEST_CASE("vents of the model are left out, and it is said") {
  model::RoofModel model = gable(30, 24, 8);
  model.intake = {small_roofs::whole_eave("old", "main/0")};
  model.exhaust = {small_roofs::whole_ridge("old-top", "main/0|main/2")};
  const placement::Placement placed = tests::value_of(
      placement::place(model, small_roofs::catalogue(), tests::code_set("us-irc-2021")));
  REQUIRE(placed.is_met);
  REQUIRE_FALSE(placed.said.empty());
  CHECK(placed.said[0].find("1 of intake and") != std::string::npos);
  for (const model::IntakeRun& run : placed.model.intake) {
    CHECK(run.id != "old");
  }
}

TEST_CASE("why an eave is left out: what lies beneath, and the product by its name") {
  const model::Catalogue catalogue = tests::default_catalogue();
  const codes::CodeSet code = tests::code_set("us-irc-2021");
  // 24/12 is steeper than any intake of the catalogue is made for.
  const placement::Placement steep =
      tests::value_of(placement::place(gable(30, 24, 24), catalogue, code));
  const auto says = [](const placement::Placement& placed, const std::string& words) {
    return std::any_of(placed.said.begin(), placed.said.end(), [&](const std::string& one) {
      return one.find(words) != std::string::npos;
    });
  };
  CHECK(says(steep, "No intake on main/0: Vent of over-deck-200 is not made for the pitch"));
  CHECK_FALSE(says(steep, ".."));
  // The demo house's porch has no ceiling; nothing shuts the way over its plate.
  const model::RoofModel row =
      tests::value_of(
          model::read_file(std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/mill-row.roof.json"))
          .model;
  CHECK(says(tests::value_of(placement::place(row, catalogue, code)),
             "No intake on porch/0: no ceiling lies under it."));
}

TEST_CASE("equal models give equal placements") {
  const model::RoofModel model = gable(40, 28, 8);
  const codes::CodeSet code = tests::code_set("us-irc-2021");
  const placement::Placement one =
      tests::value_of(placement::place(model, tests::default_catalogue(), code));
  const placement::Placement other =
      tests::value_of(placement::place(model, tests::default_catalogue(), code));
  CHECK(model::write(one.model) == model::write(other.model));
}

TEST_CASE("demo houses: sound, and never worse than the vents that they came with") {
  const std::filesystem::path folder =
      std::filesystem::path(RIDGEWARD_SOURCE_DIR) / "models" / "houses";
  const model::Catalogue catalogue = tests::default_catalogue();
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    INFO(entry.path().stem().string());
    const model::RoofModel model = tests::value_of(model::read_file(entry.path().string())).model;
    const codes::CodeSet code = tests::code_set(model.site.code);
    const placement::Placement placed = tests::value_of(placement::place(model, catalogue, code));
    REQUIRE(placed.is_met);
    check_sound(placed, catalogue, code);
    double cost = 0.0;
    for (const placement::Placed& group : placed.groups) {
      CHECK(group.is_proven);
      cost += group.cost + group.beside;
    }
    const double hand = by_hand(model, catalogue, code);
    INFO("placed " << cost << ", by hand " << hand);
    CHECK(cost <= hand + 1e-6);
  }
}
