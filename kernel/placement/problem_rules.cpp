// Rows for compartments of which only sums are known: any runs over them may lie together.
#include "placement/builder.hpp"
#include "placement/lengths.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace ridgeward::placement {

namespace {

/// `intake` and `exhaust` times the sums, within bounds that are shares of `whole`.
Limit limit_of(double intake, double exhaust, const codes::Bounds& bounds, double whole) {
  return {intake, exhaust, bounds.least ? *bounds.least * whole : -HUGE_VAL,
          bounds.most ? *bounds.most * whole : HUGE_VAL};
}

std::vector<Term> operator+(std::vector<Term> one, const std::vector<Term>& other) {
  one.insert(one.end(), other.begin(), other.end());
  return one;
}

std::optional<double> lesser_of(const std::optional<double>& one,
                                const std::optional<double>& other) {
  return one && other ? std::min(*one, *other) : (one ? one : other);
}

}  // namespace

std::optional<Share> share_over(const Candidate& candidate, CompartmentId space) {
  std::optional<Share> sum;
  for (const Share& share : candidate.shares) {
    if (share.compartment == space) {
      sum = sum ? Share{space, sum->area_m2 + share.area_m2, std::min(sum->low_m, share.low_m),
                        lesser_of(sum->over_insulation_m, share.over_insulation_m)}
                : share;
    }
  }
  return sum;
}

std::optional<double> measured_of(const Ground& ground, const Candidate& candidate,
                                  const Share& share, codes::Measure measure) {
  const attic::Compartment& space = ground.attic.compartments[share.compartment];
  const double height_m = space.top_m - space.bottom_m;
  if (measure == codes::Measure::exhaust_below_top_m && !candidate.is_intake()) {
    return space.top_m - share.low_m;
  }
  if (measure == codes::Measure::intake_height_share && candidate.is_intake() && height_m > 0.0) {
    return std::max(0.0, candidate.high_m - space.bottom_m) / height_m;
  }
  if (measure == codes::Measure::space_over_insulation_m && candidate.is_intake()) {
    return share.over_insulation_m;
  }
  return std::nullopt;
}

/// The rules that a placement on this way has to keep. Several compartments choose for themselves
/// whether to meet the conditions.
std::vector<const codes::Rule*> Builder::rules() const {
  std::vector<const codes::Rule*> all;
  const codes::CodeSet& code = ground_.code;
  for (std::size_t i = 0; way_.is_reduced && !is_joined() && i < code.conditions.size(); ++i) {
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
      const std::optional<double> value = measured_of(ground_, candidate, share, rule->measure);
      if (value && !codes::within(rule->bounds, *value) &&
          codes::applies(what(share.compartment), *rule)) {
        return false;
      }
    }
  }
  return true;
}

double Builder::required_cm2(CompartmentId space, bool is_reduced) const {
  const double ratio = is_reduced ? ground_.code.reduced_ratio : ground_.code.ratio;
  return ratio > 0.0 ? cm2 * ground_.attic.compartments[space].floor_area_m2 / ratio : 0.0;
}

std::vector<Term> Builder::terms(CompartmentId space, bool is_intake, double factor) const {
  std::vector<Term> all;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    const std::optional<Share> share =
        candidate(i).is_intake() == is_intake ? share_over(candidate(i), space) : std::nullopt;
    if (share) {
      all.push_back({i, factor * cm2 * share->area_m2});
    }
  }
  return all;
}

/// The most that terms over candidates can sum to.
double Builder::most_of(const std::vector<Term>& terms) const {
  std::map<std::pair<bool, std::uint32_t>, std::vector<Worth>> along;
  double sum = 0.0;
  for (const Term& term : terms) {
    const Candidate& own = candidate(term.unknown);
    if (term.factor <= 0.0) {
      continue;
    }
    if (own.is_intake() || model::runs_along(own.kind)) {
      const Stretch& lies = all_.stretches[own.stretch];
      along[{lies.is_intake, lies.is_intake ? lies.plane.value : lies.line.value}].push_back(
          {{lies.from_m, lies.to_m}, term.factor});
    } else {
      sum += own.places() * term.factor;
    }
  }
  for (auto& [place, worths] : along) {
    sum += most_apart(std::move(worths));
  }
  return sum;
}

/// A switch that is 0 frees each bound by as much as the terms can ever go beyond it.
void Builder::add_row(Row row, Switch on) {
  if (!on) {
    problem_.program.rows.push_back(std::move(row));
    return;
  }
  std::vector<Term> turned = row.terms;
  for (Term& term : turned) {
    term.factor = -term.factor;
  }
  if (const double over = most_of(row.terms) - row.most; row.most < HUGE_VAL && over > 0.0) {
    problem_.program.rows.push_back(
        {row.terms + std::vector<Term>{{*on, over}}, -HUGE_VAL, row.most + over});
  }
  if (const double under = most_of(turned) + row.least; row.least > -HUGE_VAL && under > 0.0) {
    problem_.program.rows.push_back(
        {row.terms + std::vector<Term>{{*on, -under}}, row.least - under, HUGE_VAL});
  }
}

void Builder::add_limit(CompartmentId space, const Limit& limit, Switch on) {
  add_row({terms(space, true, limit.intake) + terms(space, false, limit.exhaust), limit.least,
           limit.most},
          on);
  if (problem_.sums) {
    problem_.sums->limits.push_back(limit);
  }
}

/// All that one compartment has to meet.
void Builder::add_sums(CompartmentId space, const std::vector<const codes::Rule*>& rules) {
  Switch reduced;
  if (!is_joined()) {
    add_limit(space, {1.0, 1.0, required_cm2(space, way_.is_reduced), HUGE_VAL}, {});
  } else if (ground_.code.reduced_ratio > 0.0) {
    const double plain = required_cm2(space, false);
    reduced = problem_.program.add({0.0, 0.0, 1.0, true});
    problem_.program.rows.push_back(
        {terms(space, true, 1.0) + terms(space, false, 1.0) +
             std::vector<Term>{{*reduced, plain - required_cm2(space, true)}},
         plain, HUGE_VAL});
    add_conditions(space, *reduced);
  } else {
    add_limit(space, {1.0, 1.0, required_cm2(space, false), HUGE_VAL}, {});
  }
  add_balance(space);
  for (const codes::Rule* rule : rules) {
    const bool is_of_required = rule->measure == codes::Measure::high_share_of_required ||
                                rule->measure == codes::Measure::low_share_of_required;
    if (!codes::applies(what(space), *rule)) {
      continue;
    }
    if (reduced && is_of_required) {
      add_share_of_required(space, *rule, *reduced);
    } else {
      add_rule(space, *rule, {});
    }
  }
}

void Builder::add_missing_area(CompartmentId space) {
  std::vector<Term> both = terms(space, true, 1.0) + terms(space, false, 1.0);
  problem_.missing.push_back(problem_.program.add({1.0, 0.0, HUGE_VAL, false}));
  both.push_back({problem_.missing.back(), 1.0});
  problem_.program.rows.push_back(
      {std::move(both), required_cm2(space, way_.is_reduced), HUGE_VAL});
}

/// No more exhaust than intake, and no more than 60 % intake.
void Builder::add_balance(CompartmentId space) {
  add_limit(space, {1.0, -1.0, 0.0, HUGE_VAL}, {});
  add_limit(space, {1.0 - most_intake, -most_intake, -HUGE_VAL, 0.0}, {});
}

/// What grants a compartment the reduced area.
void Builder::add_conditions(CompartmentId space, std::size_t reduced) {
  Row any{{{reduced, -1.0}}, 0.0, HUGE_VAL};
  bool is_asked = ground_.code.reduced_needs_all;
  for (const codes::Rule& rule : ground_.code.conditions) {
    if (!codes::applies(what(space), rule)) {
      continue;
    }
    std::size_t on = reduced;
    if (!ground_.code.reduced_needs_all) {
      on = problem_.program.add({0.0, 0.0, 1.0, true});
      any.terms.push_back({on, 1.0});
      is_asked = false;
    }
    add_openings(space, rule, on);
    add_rule(space, rule, on);
  }
  if (!is_asked) {
    problem_.program.rows.push_back(std::move(any));
  }
}

/// A share of the area that is required, the reduced one or not.
void Builder::add_share_of_required(CompartmentId space, const codes::Rule& rule,
                                    std::size_t reduced) {
  const bool is_high = rule.measure == codes::Measure::high_share_of_required;
  const double plain = required_cm2(space, false);
  const double saved = plain - required_cm2(space, true);
  for (const std::optional<double> share : {rule.bounds.least, rule.bounds.most}) {
    if (share) {
      const bool is_least = share == rule.bounds.least;
      problem_.program.rows.push_back(
          {terms(space, !is_high, 1.0) + std::vector<Term>{{reduced, *share * saved}},
           is_least ? *share * plain : -HUGE_VAL, is_least ? HUGE_VAL : *share * plain});
    }
  }
}

/// Whether a candidate breaks a rule that looks at it by itself, over one compartment.
bool Builder::breaks(const Candidate& own, CompartmentId space, const codes::Rule& rule) const {
  return std::any_of(own.shares.begin(), own.shares.end(), [&](const Share& share) {
    const std::optional<double> value = measured_of(ground_, own, share, rule.measure);
    return share.compartment == space && value && !codes::within(rule.bounds, *value);
  });
}

/// A condition that openings keep or break one by one.
void Builder::add_openings(CompartmentId space, const codes::Rule& rule, std::size_t on) {
  std::map<std::size_t, Row> by_stretch;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    const Candidate& own = candidate(i);
    if (!breaks(own, space, rule)) {
      continue;
    }
    if (own.is_intake() || model::runs_along(own.kind)) {
      by_stretch[own.stretch].terms.push_back({i, 1.0});
    } else {
      const double places = own.places();
      problem_.program.rows.push_back({{{i, 1.0}, {on, places}}, -HUGE_VAL, places});
    }
  }
  for (auto& [stretch, row] : by_stretch) {
    row.terms.push_back({on, 1.0});
    row.most = 1.0;
    problem_.program.rows.push_back(std::move(row));
  }
}

/// Each slope by itself.
void Builder::add_sides(CompartmentId space, const codes::Rule& rule, Switch on) {
  for (const codes::Side& side : codes::sides_of(what(space))) {
    std::vector<Term> own = terms(space, true, 1.0);
    std::erase_if(own,
                  [&](const Term& term) { return candidate(term.unknown).plane != side.plane; });
    const bool is_per_metre = rule.measure == codes::Measure::intake_per_eave_m;
    const Limit limit =
        limit_of(1.0, 0.0, rule.bounds, cm2 * (is_per_metre ? side.eave_m : side.area_m2));
    add_row({std::move(own), limit.least, limit.most}, on);
    if (problem_.sums) {
      problem_.sums->sides.push_back({side.plane, limit.least, limit.most});
    }
  }
}

/// REQUIRES that the rule applies. Openings by themselves are seen to elsewhere.
void Builder::add_rule(CompartmentId space, const codes::Rule& rule, Switch on) {
  const codes::Bounds& bounds = rule.bounds;
  const double required = required_cm2(space, on || way_.is_reduced);
  switch (rule.measure) {
    case codes::Measure::high_share_of_required:
      add_limit(space, limit_of(0.0, 1.0, bounds, required), on);
      break;
    case codes::Measure::low_share_of_required:
      add_limit(space, limit_of(1.0, 0.0, bounds, required), on);
      break;
    case codes::Measure::intake_share_of_total:
      if (bounds.least) {
        add_limit(space, {1.0 - *bounds.least, -*bounds.least, 0.0, HUGE_VAL}, on);
      }
      if (bounds.most) {
        add_limit(space, {1.0 - *bounds.most, -*bounds.most, -HUGE_VAL, 0.0}, on);
      }
      break;
    case codes::Measure::intake_per_eave_m:
    case codes::Measure::intake_share_of_slope:
      add_sides(space, rule, on);
      break;
    case codes::Measure::exhaust_per_ridge_m:
      add_limit(space, limit_of(0.0, 1.0, bounds, cm2 * codes::top_line_m(what(space))), on);
      break;
    case codes::Measure::exhaust_share_of_roof:
      add_limit(space, limit_of(0.0, 1.0, bounds, cm2 * codes::roof_area_m2(what(space))), on);
      break;
    case codes::Measure::exhaust_above_intake_m:
      add_heights(space, rule, on);
      break;
    default:
      if (const std::optional<double> value = codes::measured_of_space(what(space), rule.measure);
          value && !codes::within(rule.bounds, *value)) {
        if (on) {
          problem_.program.rows.push_back({{{*on, 1.0}}, -HUGE_VAL, 0.0});
        } else {
          problem_.impossible = rule.words + " (" + rule.section + ")";
        }
      }
  }
}

/// The lowest exhaust over the highest intake. Runs of one stretch lie at one height, so a stretch
/// of intake shuts out some of a stretch of exhaust, or a row of vents, as a whole.
void Builder::add_heights(CompartmentId space, const codes::Rule& rule, Switch on) {
  std::map<std::size_t, std::vector<std::size_t>> low;
  std::map<std::pair<bool, std::size_t>, std::vector<std::size_t>> high;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    const Candidate& own = candidate(i);
    const bool is_along = model::runs_along(own.kind);
    if (!share_over(own, space)) {
      continue;
    }
    if (own.is_intake()) {
      low[own.stretch].push_back(i);
    } else {
      high[{is_along, is_along ? own.stretch : i}].push_back(i);
    }
  }
  for (const auto& [stretch, runs] : low) {
    for (const auto& [key, vents] : high) {
      shut_out(rule, space, runs, vents, on);
    }
  }
}

/// One row for the runs of a stretch and the vents that may not lie so low beside them.
void Builder::shut_out(const codes::Rule& rule, CompartmentId space,
                       const std::vector<std::size_t>& runs, const std::vector<std::size_t>& vents,
                       Switch on) {
  const double high_m = candidate(runs.front()).high_m;
  std::vector<Term> row;
  double places = 1.0;
  for (const std::size_t k : vents) {
    if (!codes::within(rule.bounds,
                       share_over(candidate(k), space).value_or(Share{}).low_m - high_m)) {
      row.push_back({k, 1.0});
      places = candidate(k).places();
    }
  }
  if (row.empty()) {
    return;
  }
  for (const std::size_t i : runs) {
    row.push_back({i, places});
  }
  if (on) {
    row.push_back({*on, places});
  }
  problem_.program.rows.push_back({std::move(row), -HUGE_VAL, on ? 2.0 * places : places});
  if (problem_.sums && (rule.bounds.most || !rule.bounds.least)) {
    problem_.sums.reset();
  } else if (problem_.sums) {
    problem_.sums->above_m =
        std::max(*rule.bounds.least, problem_.sums->above_m.value_or(-HUGE_VAL));
  }
}

}  // namespace ridgeward::placement
