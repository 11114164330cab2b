// Compartments that one run and one exhaust at a time serve: what goes with what.
#include "attic/names.hpp"
#include "placement/builder.hpp"
#include "placement/explain.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>

namespace ridgeward::placement {

namespace {

constexpr double near_m = 1e-6;
constexpr double tolerance = 1e-9;

/// A compartment with one intake and one exhaust, judged as codes::test() judges it.
class Pair {
 public:
  Pair(const Ground& ground, const codes::Space& space, const Way& way)
      : ground_(ground),
        space_(space),
        sides_(codes::sides_of(space)),
        top_line_m_(codes::top_line_m(space)),
        roof_area_m2_(codes::roof_area_m2(space)) {
    for (const codes::Rule& rule : ground.code.conditions) {
      if (codes::applies(space, rule)) {
        conditions_.push_back(&rule);
      }
    }
    for (const codes::Rule& rule : ground.code.rules) {
      if (codes::applies(space, rule) && (!rule.is_advice || way.has_advice)) {
        rules_.push_back(&rule);
      }
    }
  }
  /// What the pair breaks, in plain words; empty where all is met.
  std::vector<std::string> broken(const Candidate& intake, const Candidate& exhaust);

 private:
  std::optional<double> measured(codes::Measure measure, double required_m2) const;
  double of_sides(codes::Measure measure) const;
  bool holds(const codes::Rule& rule, double required_m2) const {
    const std::optional<double> value = measured(rule.measure, required_m2);
    return value && codes::within(rule.bounds, *value);
  }
  bool is_reduced(double required_m2) const;
  double required_m2(double ratio) const {
    return ratio > 0.0 ? ground_.attic.compartments[space_.compartment].floor_area_m2 / ratio : 0.0;
  }

  const Ground& ground_;
  codes::Space space_;
  std::vector<codes::Side> sides_;
  double top_line_m_;
  double roof_area_m2_;
  std::vector<const codes::Rule*> conditions_;
  std::vector<const codes::Rule*> rules_;
  const Candidate* intake_ = nullptr;
  const Candidate* exhaust_ = nullptr;
  Share in_;
  Share out_;
};

std::optional<double> share(double part, double whole) {
  return whole > 0.0 ? std::optional(part / whole) : std::nullopt;
}

double Pair::of_sides(codes::Measure measure) const {
  double least = HUGE_VAL;
  for (const codes::Side& side : sides_) {
    const double over = measure == codes::Measure::intake_per_eave_m ? side.eave_m : side.area_m2;
    least = std::min(least, intake_->plane == side.plane ? in_.area_m2 / over : 0.0);
  }
  return least;
}

std::optional<double> Pair::measured(codes::Measure measure, double required_m2) const {
  switch (measure) {
    case codes::Measure::high_share_of_required:
      return share(out_.area_m2, required_m2);
    case codes::Measure::low_share_of_required:
      return share(in_.area_m2, required_m2);
    case codes::Measure::exhaust_below_top_m:
      return measured_of(ground_, *exhaust_, out_, measure);
    case codes::Measure::intake_height_share:
    case codes::Measure::space_over_insulation_m:
      return measured_of(ground_, *intake_, in_, measure);
    case codes::Measure::exhaust_above_intake_m:
      return out_.low_m - intake_->high_m;
    case codes::Measure::intake_share_of_total:
      return share(in_.area_m2, in_.area_m2 + out_.area_m2);
    case codes::Measure::intake_per_eave_m:
    case codes::Measure::intake_share_of_slope:
      return of_sides(measure);
    case codes::Measure::exhaust_per_ridge_m:
      return share(out_.area_m2, top_line_m_);
    case codes::Measure::exhaust_share_of_roof:
      return share(out_.area_m2, roof_area_m2_);
    default:
      return codes::measured_of_space(space_, measure);
  }
}

bool Pair::is_reduced(double required_m2) const {
  const auto held =
      std::count_if(conditions_.begin(), conditions_.end(),
                    [&](const codes::Rule* rule) { return holds(*rule, required_m2); });
  return ground_.code.reduced_ratio > 0.0 &&
         (ground_.code.reduced_needs_all ? held == static_cast<std::ptrdiff_t>(conditions_.size())
                                         : held > 0);
}

std::vector<std::string> Pair::broken(const Candidate& intake, const Candidate& exhaust) {
  intake_ = &intake;
  exhaust_ = &exhaust;
  in_ = share_over(intake, space_.compartment).value_or(Share{});
  out_ = share_over(exhaust, space_.compartment).value_or(Share{});
  const double reduced_m2 = required_m2(ground_.code.reduced_ratio);
  const double asked_m2 = is_reduced(reduced_m2) ? reduced_m2 : required_m2(ground_.code.ratio);
  const double both = in_.area_m2 + out_.area_m2;
  const auto area = [&](double m2) { return units::show_free_area(m2, style_of(ground_.model)); };
  std::vector<std::string> words;
  if (both < asked_m2 * (1.0 - tolerance)) {
    words.push_back(fmt::format("{} of the {} required", area(both), area(asked_m2)));
  }
  if (out_.area_m2 > in_.area_m2 * (1.0 + tolerance)) {
    words.push_back(
        fmt::format("{} of exhaust, more than intake, {}", area(out_.area_m2), area(in_.area_m2)));
  }
  if (in_.area_m2 > (most_intake + tolerance) * both) {
    words.push_back(fmt::format("{} of intake beside {} of exhaust, {:.0f} % of both (at most 60)",
                                area(in_.area_m2), area(out_.area_m2), 100.0 * in_.area_m2 / both));
  }
  for (const codes::Rule* rule : rules_) {
    if (!holds(*rule, asked_m2)) {
      words.push_back("not what the code asks: " + rule->words + " (" + rule->section + ")");
    }
  }
  return words;
}

/// Compartments that are served by the same, judged together.
class Class {
 public:
  Class(const Ground& ground, const Way& way, const std::vector<CompartmentId>& spaces)
      : ground_(ground), spaces_(spaces) {
    for (const CompartmentId space : spaces) {
      judges_.emplace_back(ground,
                           codes::Space{ground.surface, ground.framing, ground.attic, space}, way);
    }
  }
  bool is_met(const Candidate& intake, const Candidate& exhaust);
  bool is_ever_met() const { return least_short_ == 0; }
  bool has_floor() const {
    return std::any_of(spaces_.begin(), spaces_.end(), [&](CompartmentId space) {
      return ground_.attic.compartments[space].floor_area_m2 > 0.0;
    });
  }
  /// What the pair that leaves the fewest short leaves them with.
  const std::string& nearest() const { return nearest_; }

 private:
  const Ground& ground_;
  const std::vector<CompartmentId>& spaces_;
  std::vector<Pair> judges_;
  std::size_t least_short_ = std::numeric_limits<std::size_t>::max();
  std::string nearest_;
};

bool Class::is_met(const Candidate& intake, const Candidate& exhaust) {
  std::size_t count = 0;
  std::string first;
  for (std::size_t i = 0; i < spaces_.size(); ++i) {
    const std::vector<std::string> broken = judges_[i].broken(intake, exhaust);
    count += broken.empty() ? 0 : 1;
    if (first.empty() && !broken.empty()) {
      first = ground_.attic.compartments[spaces_[i]].id + " with " + broken.front();
    }
  }
  if (count < least_short_) {
    least_short_ = count;
    nearest_ = fmt::format("{} and {} leave {} of them short, {}", intake.product, exhaust.product,
                           count, first);
  }
  return count == 0;
}

}  // namespace

Builder::Served Builder::served(CompartmentId space) const {
  Served all;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    if (share_over(candidate(i), space)) {
      (candidate(i).is_intake() ? all.intake : all.exhaust).push_back(i);
    }
  }
  return all;
}

/// Whether two candidates of one side over one compartment can't be had together: one place, or two
/// products of exhaust.
bool Builder::excludes(std::size_t one, std::size_t other) const {
  const Candidate& l = candidate(one);
  const Candidate& r = candidate(other);
  if (!l.is_intake() && l.product != r.product) {
    return true;
  }
  if (!l.is_intake() && (!model::runs_along(l.kind) || !model::runs_along(r.kind))) {
    return one == other && l.places() == 1;
  }
  const Stretch& a = all_.stretches[l.stretch];
  const Stretch& b = all_.stretches[r.stretch];
  return a.plane == b.plane && a.line == b.line && a.from_m < b.to_m - near_m &&
         b.from_m < a.to_m - near_m;
}

bool Builder::is_one_at_a_time(const Served& served) const {
  const auto excludes_all = [&](const std::vector<std::size_t>& side) {
    return std::all_of(side.begin(), side.end(), [&](std::size_t one) {
      return std::all_of(side.begin(), side.end(),
                         [&](std::size_t other) { return excludes(one, other); });
    });
  };
  return excludes_all(served.intake) && excludes_all(served.exhaust);
}

namespace {

/// Why spaces get nothing; `nearest`: what comes nearest where there are both kinds of vent.
std::string unmet_words(const Ground& ground, bool has_no_intake, bool has_no_exhaust,
                        const std::vector<CompartmentId>& spaces, const std::string& nearest) {
  const std::string over = named(ground, spaces);
  if (has_no_intake) {
    const std::string border = attic::border_cure(ground.surface, ground.framing, ground.attic,
                                                  spaces.front(), style_of(ground.model));
    return "No intake can lie over " + over + "." + (border.empty() ? "" : " " + border);
  }
  return has_no_exhaust ? "No exhaust can stand over " + over + "."
                        : "Nothing fits " + over + ": at best " + nearest + ".";
}

}  // namespace

/// Compartments that the same candidates serve: an intake is used with an exhaust only with which
/// all of them meet what is asked.
void Builder::add_pairs(const Served& served, const std::vector<CompartmentId>& spaces) {
  std::map<std::size_t, Row> beside;
  for (const auto* side : {&served.intake, &served.exhaust}) {
    for (const std::size_t unknown : *side) {
      beside[unknown] = {{{unknown, 1.0}}, -HUGE_VAL, 0.0};
    }
  }
  Class judged(ground_, way_, spaces);
  for (const std::size_t one : served.intake) {
    for (const std::size_t other : served.exhaust) {
      if (judged.is_met(candidate(one), candidate(other))) {
        beside[one].terms.push_back({other, -1.0});
        beside[other].terms.push_back({one, -1.0});
      }
    }
  }
  for (auto& [unknown, row] : beside) {
    problem_.program.rows.push_back(std::move(row));
  }
  for (const auto* side : {&served.intake, &served.exhaust}) {
    Row row{{}, judged.has_floor() ? 1.0 : 0.0, 1.0};
    for (const std::size_t unknown : *side) {
      row.terms.push_back({unknown, 1.0});
    }
    problem_.program.rows.push_back(std::move(row));
  }
  if (judged.has_floor() && !judged.is_ever_met()) {
    problem_.unmet.push_back(unmet_words(ground_, served.intake.empty(), served.exhaust.empty(),
                                         spaces, judged.nearest()));
  }
}

}  // namespace ridgeward::placement
