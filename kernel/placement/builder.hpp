#pragma once
// Makes the program of a group: private to problem*.cpp.

#include "codes/measures.hpp"
#include "placement/problem.hpp"

#include <optional>
#include <tuple>
#include <vector>

namespace ridgeward::placement {

/// Rows are in cm2: numbers of some hundreds are what a solver likes best.
inline constexpr double cm2 = 1.0e4;
/// Intake over intake and exhaust, at most: common practice, no source.
inline constexpr double most_intake = 0.60;

class Builder {
 public:
  Builder(const Ground& ground, const Candidates& all, const Group& group, const Way& way)
      : ground_(ground), all_(all), group_(group), way_(way) {}

  Problem build();
  Problem build_nearest();

 private:
  /// An unknown that, at 1, makes a row count; none: it always does.
  using Switch = std::optional<std::size_t>;

  // What can be chosen (problem.cpp).
  bool is_joined() const { return group_.compartments.size() > 1; }
  const Candidate& candidate(std::size_t unknown) const {
    return all_.all[problem_.candidates[unknown]];
  }
  std::vector<const codes::Rule*> rules() const;
  bool passes(const Candidate& candidate, const std::vector<const codes::Rule*>& rules) const;
  void add_candidates(const std::vector<const codes::Rule*>& rules);
  void add_stretches();
  void add_evenness();
  void add_one_product_each(const std::vector<CompartmentId>& spaces);

  // What compartments have to meet that are told by sums (problem_rules.cpp).
  void add_sums(CompartmentId space, const std::vector<const codes::Rule*>& rules);
  void add_missing_area(CompartmentId space);
  void add_balance(CompartmentId space);
  void add_conditions(CompartmentId space, std::size_t reduced);
  void add_rule(CompartmentId space, const codes::Rule& rule, Switch on);
  void add_share_of_required(CompartmentId space, const codes::Rule& rule, std::size_t reduced);
  bool breaks(const Candidate& own, CompartmentId space, const codes::Rule& rule) const;
  void add_openings(CompartmentId space, const codes::Rule& rule, std::size_t on);
  void add_sides(CompartmentId space, const codes::Rule& rule, Switch on);
  void add_heights(CompartmentId space, const codes::Rule& rule, Switch on);
  void shut_out(const codes::Rule& rule, CompartmentId space, const std::vector<std::size_t>& runs,
                const std::vector<std::size_t>& vents, Switch on);
  void add_limit(CompartmentId space, const Limit& limit, Switch on);
  void add_row(Row row, Switch on);
  double most_of(const std::vector<Term>& terms) const;
  std::vector<Term> terms(CompartmentId space, bool is_intake, double factor) const;
  double required_cm2(CompartmentId space, bool is_reduced) const;
  codes::Space what(CompartmentId space) const {
    return {ground_.surface, ground_.framing, ground_.attic, space};
  }

  // Compartments that one run at a time serves (problem_pairs.cpp).
  struct Served {
    std::vector<std::size_t> intake;  ///< unknowns
    std::vector<std::size_t> exhaust;
    bool operator<(const Served& other) const {
      return std::tie(intake, exhaust) < std::tie(other.intake, other.exhaust);
    }
  };
  Served served(CompartmentId space) const;
  bool is_one_at_a_time(const Served& served) const;
  bool excludes(std::size_t one, std::size_t other) const;
  void add_pairs(const Served& served, const std::vector<CompartmentId>& spaces);

  const Ground& ground_;
  const Candidates& all_;
  const Group& group_;
  const Way& way_;
  Problem problem_;
};

/// What a candidate gives a compartment; none where it does not serve it.
std::optional<Share> share_over(const Candidate& candidate, CompartmentId space);
/// What a rule measures of one candidate by itself: exhaust below the top, intake over the ceiling,
/// space over the insulation; none for other rules and for the other side.
std::optional<double> measured_of(const Ground& ground, const Candidate& candidate,
                                  const Share& share, codes::Measure measure);

}  // namespace ridgeward::placement
