#include "placement/problem.hpp"

#include "base/polygon.hpp"
#include "codes/measures.hpp"

#include <algorithm>
#include <map>
#include <numeric>

namespace ridgeward::placement {

namespace {

/// Rows are in cm2: numbers of some hundreds are what a solver likes best.
constexpr double cm2 = 1.0e4;
/// Intake over intake and exhaust, at most: common practice, no source.
constexpr double most_intake = 0.60;
constexpr double near_m = 1e-6;

class Builder {
 public:
  Builder(const Ground& ground, const Candidates& all, const Group& group, const Way& way)
      : ground_(ground), all_(all), group_(group), way_(way) {}

  Problem build(bool is_nearest);

 private:
  std::vector<const codes::Rule*> rules() const;
  bool passes(const Candidate& candidate, const std::vector<const codes::Rule*>& rules) const;
  void add_candidates(const std::vector<const codes::Rule*>& rules);
  void add_stretches();
  void add_evenness();
  void add_area(CompartmentId space, bool is_nearest);
  void add_balance(CompartmentId space);
  void add_rule(CompartmentId space, const codes::Rule& rule);
  void add_sides(CompartmentId space, const codes::Rule& rule, const codes::Space& what);
  void add_heights(const codes::Rule& rule);
  void shut_out(const codes::Rule& rule, const std::vector<std::size_t>& runs,
                const std::vector<std::size_t>& vents);
  void add_limit(CompartmentId space, const Limit& limit);
  std::vector<Term> terms(CompartmentId space, bool is_intake, double factor) const;
  double ratio() const { return way_.is_reduced ? ground_.code.reduced_ratio : ground_.code.ratio; }
  double required_cm2(CompartmentId space) const {
    return ratio() > 0.0 ? cm2 * ground_.attic.compartments[space].floor_area_m2 / ratio() : 0.0;
  }

  const Ground& ground_;
  const Candidates& all_;
  const Group& group_;
  const Way& way_;
  Problem problem_;
};

/// The rules that a placement on this way has to keep.
std::vector<const codes::Rule*> Builder::rules() const {
  std::vector<const codes::Rule*> all;
  const codes::CodeSet& code = ground_.code;
  for (std::size_t i = 0; way_.is_reduced && i < code.conditions.size(); ++i) {
    if (code.reduced_needs_all || i == way_.condition) {
      all.push_back(&code.conditions[i]);
    }
  }
  for (const codes::Rule& rule : code.rules) {
    if (!rule.is_advice || way_.has_advice) {
      all.push_back(&rule);
    }
  }
  return all;
}

/// Whether a candidate keeps the rules that look at each opening by itself.
bool Builder::passes(const Candidate& candidate,
                     const std::vector<const codes::Rule*>& rules) const {
  for (const codes::Rule* rule : rules) {
    for (const Share& share : candidate.shares) {
      const attic::Compartment& space = ground_.attic.compartments[share.compartment];
      const double height_m = space.top_m - space.bottom_m;
      std::optional<double> value;
      if (rule->measure == codes::Measure::exhaust_below_top_m && !candidate.is_intake()) {
        value = space.top_m - candidate.low_m;
      } else if (rule->measure == codes::Measure::intake_height_share && candidate.is_intake() &&
                 height_m > 0.0) {
        value = std::max(0.0, candidate.high_m - space.bottom_m) / height_m;
      } else if (rule->measure == codes::Measure::space_over_insulation_m &&
                 candidate.is_intake()) {
        value = candidate.over_insulation_m;
      }
      if (value && !codes::within(rule->bounds, *value)) {
        return false;
      }
    }
  }
  return true;
}

void Builder::add_candidates(const std::vector<const codes::Rule*>& rules) {
  for (const std::size_t index : group_.candidates) {
    const Candidate& candidate = all_.all[index];
    if ((candidate.is_intake() || candidate.product == way_.exhaust) && passes(candidate, rules)) {
      problem_.candidates.push_back(index);
      const double cost = way_.is_shared ? candidate.cost.at_least : candidate.cost.all;
      problem_.program.add({cost + weight::a_warning * candidate.warnings, 0.0,
                            static_cast<double>(candidate.places()), true});
    }
  }
}

/// At most one run on a stretch, and none on two stretches that overlap.
void Builder::add_stretches() {
  std::map<std::size_t, std::vector<Term>> by_stretch;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    const Candidate& candidate = all_.all[problem_.candidates[i]];
    if (candidate.is_intake() || model::runs_along(candidate.kind)) {
      by_stretch[candidate.stretch].push_back({i, 1.0});
    }
  }
  for (auto one = by_stretch.begin(); one != by_stretch.end(); ++one) {
    problem_.program.rows.push_back({one->second, -HUGE_VAL, 1.0});
    const Stretch& a = all_.stretches[one->first];
    for (auto other = std::next(one); other != by_stretch.end(); ++other) {
      const Stretch& b = all_.stretches[other->first];
      const bool is_one_place = a.is_intake == b.is_intake && a.plane == b.plane &&
                                a.line == b.line && a.from_m < b.to_m - near_m &&
                                b.from_m < a.to_m - near_m;
      if (is_one_place) {
        std::vector<Term> both = one->second;
        both.insert(both.end(), other->second.begin(), other->second.end());
        problem_.program.rows.push_back({std::move(both), -HUGE_VAL, 1.0});
      }
    }
  }
}

/// Each eave is used to one share of its length, give or take one section; what is beyond weighs.
void Builder::add_evenness() {
  std::map<std::size_t, std::vector<Term>> by_eave;
  double section_m = 0.0;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    const Candidate& candidate = all_.all[problem_.candidates[i]];
    if (candidate.is_intake()) {
      by_eave[all_.stretches[candidate.stretch].eave].push_back({i, candidate.length_m});
      section_m = std::max(section_m, ground_.catalogue.products.at(candidate.product).length_m);
    }
  }
  if (by_eave.size() < 2) {
    return;
  }
  if (problem_.sums) {
    problem_.sums->section_m = section_m;
  }
  const std::size_t share = problem_.program.add({0.0, 0.0, 1.0, false});
  for (auto& [eave, run] : by_eave) {
    const double most_m = all_.eaves[eave].length_m();
    const std::size_t beyond = problem_.program.add({weight::a_metre_uneven, 0.0, most_m, false});
    std::vector<Term> row = std::move(run);
    row.push_back({share, -most_m});
    std::vector<Term> over = row;
    over.push_back({beyond, -1.0});
    problem_.program.rows.push_back({std::move(over), -HUGE_VAL, section_m});
    row.push_back({beyond, 1.0});
    problem_.program.rows.push_back({std::move(row), -section_m, HUGE_VAL});
  }
}

std::vector<Term> Builder::terms(CompartmentId space, bool is_intake, double factor) const {
  std::vector<Term> all;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    const Candidate& candidate = all_.all[problem_.candidates[i]];
    if (candidate.is_intake() != is_intake) {
      continue;
    }
    for (const Share& share : candidate.shares) {
      if (share.compartment == space) {
        all.push_back({i, factor * cm2 * share.area_m2});
      }
    }
  }
  return all;
}

std::vector<Term> operator+(std::vector<Term> one, const std::vector<Term>& other) {
  one.insert(one.end(), other.begin(), other.end());
  return one;
}

void Builder::add_area(CompartmentId space, bool is_nearest) {
  if (!is_nearest) {
    add_limit(space, {1.0, 1.0, required_cm2(space), HUGE_VAL});
    return;
  }
  std::vector<Term> both = terms(space, true, 1.0) + terms(space, false, 1.0);
  both.push_back({problem_.program.add({1.0, 0.0, HUGE_VAL, false}), 1.0});
  problem_.program.rows.push_back({std::move(both), required_cm2(space), HUGE_VAL});
}

/// No more exhaust than intake, and no more than 60 % intake.
void Builder::add_balance(CompartmentId space) {
  add_limit(space, {1.0, -1.0, 0.0, HUGE_VAL});
  add_limit(space, {1.0 - most_intake, -most_intake, -HUGE_VAL, 0.0});
}

void Builder::add_limit(CompartmentId space, const Limit& limit) {
  problem_.program.rows.push_back(
      {terms(space, true, limit.intake) + terms(space, false, limit.exhaust), limit.least,
       limit.most});
  if (problem_.sums) {
    problem_.sums->limits.push_back(limit);
  }
}

/// `intake` and `exhaust` times the sums, within bounds that are shares of `whole`.
Limit limit_of(double intake, double exhaust, const codes::Bounds& bounds, double whole) {
  return {intake, exhaust, bounds.least ? *bounds.least * whole : -HUGE_VAL,
          bounds.most ? *bounds.most * whole : HUGE_VAL};
}

/// Each slope by itself.
void Builder::add_sides(CompartmentId space, const codes::Rule& rule, const codes::Space& what) {
  for (const codes::Side& side : codes::sides_of(what)) {
    std::vector<Term> own = terms(space, true, 1.0);
    std::erase_if(own, [&](const Term& term) {
      return all_.all[problem_.candidates[term.unknown]].plane != side.plane;
    });
    const bool is_per_metre = rule.measure == codes::Measure::intake_per_eave_m;
    const Limit limit =
        limit_of(1.0, 0.0, rule.bounds, cm2 * (is_per_metre ? side.eave_m : side.area_m2));
    problem_.program.rows.push_back({std::move(own), limit.least, limit.most});
    if (problem_.sums) {
      problem_.sums->sides.push_back({side.plane, limit.least, limit.most});
    }
  }
}

void Builder::add_rule(CompartmentId space, const codes::Rule& rule) {
  const codes::Space what{ground_.surface, ground_.framing, ground_.attic, space};
  if (!codes::applies(what, rule)) {
    return;
  }
  const codes::Bounds& bounds = rule.bounds;
  switch (rule.measure) {
    case codes::Measure::high_share_of_required:
      add_limit(space, limit_of(0.0, 1.0, bounds, required_cm2(space)));
      break;
    case codes::Measure::low_share_of_required:
      add_limit(space, limit_of(1.0, 0.0, bounds, required_cm2(space)));
      break;
    case codes::Measure::intake_share_of_total:
      if (bounds.least) {
        add_limit(space, {1.0 - *bounds.least, -*bounds.least, 0.0, HUGE_VAL});
      }
      if (bounds.most) {
        add_limit(space, {1.0 - *bounds.most, -*bounds.most, -HUGE_VAL, 0.0});
      }
      break;
    case codes::Measure::intake_per_eave_m:
    case codes::Measure::intake_share_of_slope:
      add_sides(space, rule, what);
      break;
    case codes::Measure::exhaust_per_ridge_m:
      add_limit(space, limit_of(0.0, 1.0, bounds, cm2 * codes::top_line_m(what)));
      break;
    case codes::Measure::exhaust_share_of_roof:
      add_limit(space, limit_of(0.0, 1.0, bounds, cm2 * codes::roof_area_m2(what)));
      break;
    default:
      if (const std::optional<double> value = codes::measured_of_space(what, rule.measure);
          value && !codes::within(rule.bounds, *value)) {
        problem_.impossible = rule.words + " (" + rule.section + ")";
      }
  }
}

bool is_shared(const Candidate& one, const Candidate& other) {
  return std::any_of(one.shares.begin(), one.shares.end(), [&](const Share& a) {
    return std::any_of(other.shares.begin(), other.shares.end(),
                       [&](const Share& b) { return a.compartment == b.compartment; });
  });
}

/// The lowest exhaust over the highest intake. Runs of one stretch lie at one height, so a stretch
/// of intake shuts out some of a stretch of exhaust, or a row of vents, as a whole.
void Builder::add_heights(const codes::Rule& rule) {
  std::map<std::size_t, std::vector<std::size_t>> low;
  std::map<std::pair<bool, std::size_t>, std::vector<std::size_t>> high;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    const Candidate& candidate = all_.all[problem_.candidates[i]];
    const bool is_along = model::runs_along(candidate.kind);
    if (candidate.is_intake()) {
      low[candidate.stretch].push_back(i);
    } else {
      high[{is_along, is_along ? candidate.stretch : i}].push_back(i);
    }
  }
  for (const auto& [stretch, runs] : low) {
    for (const auto& [key, vents] : high) {
      shut_out(rule, runs, vents);
    }
  }
}

/// One row for the runs of a stretch and the vents that may not lie so low beside them.
void Builder::shut_out(const codes::Rule& rule, const std::vector<std::size_t>& runs,
                       const std::vector<std::size_t>& vents) {
  const Candidate& intake = all_.all[problem_.candidates[runs.front()]];
  std::vector<Term> row;
  double places = 1.0;
  for (const std::size_t k : vents) {
    const Candidate& exhaust = all_.all[problem_.candidates[k]];
    if (is_shared(intake, exhaust) && !codes::within(rule.bounds, exhaust.low_m - intake.high_m)) {
      row.push_back({k, 1.0});
      places = exhaust.places();
    }
  }
  if (row.empty()) {
    return;
  }
  for (const std::size_t i : runs) {
    row.push_back({i, places});
  }
  problem_.program.rows.push_back({std::move(row), -HUGE_VAL, places});
  if (problem_.sums && (rule.bounds.most || !rule.bounds.least)) {
    problem_.sums.reset();
  } else if (problem_.sums) {
    problem_.sums->above_m =
        std::max(*rule.bounds.least, problem_.sums->above_m.value_or(-HUGE_VAL));
  }
}

Problem Builder::build(bool is_nearest) {
  const std::vector<const codes::Rule*> all = rules();
  if (group_.compartments.size() == 1 && !is_nearest) {
    problem_.sums.emplace();
  }
  add_candidates(all);
  add_stretches();
  if (!is_nearest) {
    add_evenness();
  } else {
    for (Unknown& unknown : problem_.program.unknowns) {
      unknown.cost *= 1e-6;
    }
  }
  for (const CompartmentId space : group_.compartments) {
    add_area(space, is_nearest);
    add_balance(space);
    for (const codes::Rule* rule : all) {
      if (!is_nearest) {
        add_rule(space, *rule);
      }
    }
  }
  for (const codes::Rule* rule : all) {
    if (rule->measure == codes::Measure::exhaust_above_intake_m) {
      add_heights(*rule);
    }
  }
  return std::move(problem_);
}

}  // namespace

std::vector<Group> groups_of(const Ground& ground, const Candidates& all) {
  std::vector<std::size_t> root(ground.attic.compartments.size());
  std::iota(root.begin(), root.end(), std::size_t{0});
  const auto find = [&](std::size_t at) {
    while (root[at] != at) {
      at = root[at];
    }
    return at;
  };
  for (const Candidate& candidate : all.all) {
    for (const Share& share : candidate.shares) {
      const std::size_t a = find(candidate.shares.front().compartment.value);
      const std::size_t b = find(share.compartment.value);
      root[std::max(a, b)] = std::min(a, b);
    }
  }
  std::map<std::size_t, Group> groups;
  for (const CompartmentId id : ground.attic.compartments.ids()) {
    groups[find(id.value)].compartments.push_back(id);
  }
  for (std::size_t i = 0; i < all.all.size(); ++i) {
    groups[find(all.all[i].shares.front().compartment.value)].candidates.push_back(i);
  }
  std::vector<Group> list;
  list.reserve(groups.size());
  for (auto& [key, group] : groups) {
    list.push_back(std::move(group));
  }
  return list;
}

Problem problem_of(const Ground& ground, const Candidates& all, const Group& group,
                   const Way& way) {
  return Builder(ground, all, group, way).build(false);
}

Problem nearest_to(const Ground& ground, const Candidates& all, const Group& group,
                   const Way& way) {
  return Builder(ground, all, group, way).build(true);
}

}  // namespace ridgeward::placement
