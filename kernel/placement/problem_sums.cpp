// A problem as two sums, and back.
#include "base/fault.hpp"
#include "codes/measures.hpp"
#include "placement/problem.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace ridgeward::placement {

namespace {

constexpr double cm2 = 1.0e4;
constexpr double near_m = 1e-6;
constexpr double near_cm2 = 1e-6;
/// For each search of the solver; some thousandths are the rule.
constexpr double most_seconds = 60.0;
/// Several compartments need some hundreds at most, a few in a thousand more.
constexpr int most_nodes = 1500;
/// Ways to use one eave, at most.
constexpr std::size_t most_uses = 4096;

/// How many of each unknown a use stands for.
using Picks = std::vector<std::pair<std::size_t, int>>;

/// A place, its uses told as unknowns of the program.
struct Told {
  Place place;
  std::vector<Picks> picks;        ///< by use
  std::vector<std::size_t> eaves;  ///< indices into Candidates::eaves, as the place's
};

/// Whether exhaust is high enough over intake up to a level; codes::within forgives rounding.
bool is_above(const Candidate& exhaust, const Sums& asked, double level_m) {
  return codes::within({asked.above_m, std::nullopt}, exhaust.low_m - level_m);
}

using ByStretch = std::map<std::size_t, std::vector<std::size_t>>;

class Teller {
 public:
  /// `asked`: the sums of the problem.
  Teller(const Candidates& all, const Problem& problem, const Sums& asked)
      : all_(all), problem_(problem), asked_(asked) {}
  /// Whether the problem can be told so. `level_m`: where heights matter, intake lies no higher,
  /// and exhaust no lower than is asked for above it.
  bool tell(double level_m);
  /// Leaves out uses of planes that break their bounds; false where a plane has no other.
  bool keep_sides();
  TwoSums sums() const;
  Solution solution(const TwoSumsFound& found) const;

 private:
  const Candidate& candidate(std::size_t unknown) const {
    return all_.all[problem_.candidates[unknown]];
  }
  const Stretch& stretch(std::size_t unknown) const {
    return all_.stretches[candidate(unknown).stretch];
  }
  bool is_in_reach(const Candidate& own, double level_m) const;
  void sort_out(double level_m);
  void add_use(Told& told, const Picks& picks) const;
  Told told_of(const ByStretch& stretches) const;
  Told kept_of(const Told& told, const Sums::Side& side) const;

  const Candidates& all_;
  const Problem& problem_;
  const Sums& asked_;
  std::vector<Told> intake_;
  std::vector<Told> exhaust_;
  std::vector<PlaneId> planes_;  ///< by place of intake
  std::map<std::pair<std::uint32_t, std::size_t>, ByStretch> eaves_;
  std::map<std::uint32_t, ByStretch> lines_;
};

bool Teller::is_in_reach(const Candidate& own, double level_m) const {
  return own.is_intake() ? own.high_m <= level_m : is_above(own, asked_, level_m);
}

/// Unknowns by the eave or line that they lie on; vents by the piece are places of their own.
void Teller::sort_out(double level_m) {
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    const Candidate& own = candidate(i);
    const bool is_out = asked_.above_m && !is_in_reach(own, level_m);
    if (own.is_intake()) {
      // Where planes have bounds of their own, each plane is one place. An eave out of reach is
      // still one that is not used evenly.
      const std::size_t eave = asked_.sides.empty() ? stretch(i).eave : 0;
      std::vector<std::size_t>& list = eaves_[{own.plane.value, eave}][own.stretch];
      list.insert(list.end(), is_out ? 0 : 1, i);
    } else if (is_out) {
      continue;
    } else if (model::runs_along(own.kind)) {
      lines_[stretch(i).line.value][own.stretch].push_back(i);
    } else {
      Told row;
      for (int count = 0; count <= own.places(); ++count) {
        add_use(row, count > 0 ? Picks{{i, count}} : Picks{});
      }
      exhaust_.push_back(std::move(row));
    }
  }
}

void Teller::add_use(Told& told, const Picks& picks) const {
  Use use;
  use.lengths_m.assign(told.eaves.size(), 0.0);
  for (const auto& [unknown, count] : picks) {
    const Candidate& own = candidate(unknown);
    use.cost += count * problem_.program.unknowns[unknown].cost;
    use.area += count * cm2 * own.shares.front().area_m2;
    const auto eave = std::find(told.eaves.begin(), told.eaves.end(), stretch(unknown).eave);
    if (own.is_intake()) {
      use.lengths_m[static_cast<std::size_t>(eave - told.eaves.begin())] += own.length_m;
    }
  }
  told.place.uses.push_back(std::move(use));
  told.picks.push_back(picks);
}

/// Every choice of one or none of each stretch, no two of which overlap.
Told Teller::told_of(const ByStretch& stretches) const {
  std::vector<Picks> all{{}};
  Told told;
  for (const auto& [index, own] : stretches) {
    const Stretch& a = all_.stretches[index];
    if (a.is_intake &&
        std::find(told.eaves.begin(), told.eaves.end(), a.eave) == told.eaves.end()) {
      told.eaves.push_back(a.eave);
      told.place.eaves_m.push_back(all_.eaves[a.eave].length_m());
    }
    const std::size_t before = all.size();
    for (std::size_t i = 0; i < before && all.size() <= most_uses; ++i) {
      const bool is_free = std::none_of(all[i].begin(), all[i].end(), [&](const auto& pick) {
        const Stretch& b = stretch(pick.first);
        return a.from_m < b.to_m - near_m && b.from_m < a.to_m - near_m;
      });
      for (std::size_t k = 0; is_free && k < own.size(); ++k) {
        all.push_back(all[i]);
        all.back().emplace_back(own[k], 1);
      }
    }
  }
  for (const Picks& picks : all) {
    add_use(told, picks);
  }
  return told;
}

/// The uses of a place that keep a plane's bounds.
Told Teller::kept_of(const Told& told, const Sums::Side& side) const {
  Told kept;
  kept.place.eaves_m = told.place.eaves_m;
  kept.eaves = told.eaves;
  for (std::size_t i = 0; i < told.picks.size(); ++i) {
    const double area = told.place.uses[i].area;
    if (area >= side.least - near_cm2 && area <= side.most + near_cm2) {
      kept.place.uses.push_back(told.place.uses[i]);
      kept.picks.push_back(told.picks[i]);
    }
  }
  return kept;
}

bool Teller::keep_sides() {
  const auto keep = [&](const Sums::Side& side) {
    const auto at = std::find(planes_.begin(), planes_.end(), side.plane);
    if (at == planes_.end()) {
      return side.least <= 0.0 && side.most >= 0.0;
    }
    Told& told = intake_[static_cast<std::size_t>(at - planes_.begin())];
    told = kept_of(told, side);
    return !told.picks.empty();
  };
  return std::all_of(asked_.sides.begin(), asked_.sides.end(), keep);
}

bool Teller::tell(double level_m) {
  sort_out(level_m);
  for (const auto& [key, by_stretch] : eaves_) {
    intake_.push_back(told_of(by_stretch));
    planes_.emplace_back(key.first);
  }
  for (const auto& [line, by_stretch] : lines_) {
    exhaust_.push_back(told_of(by_stretch));
  }
  const auto fits = [](const Told& told) { return told.picks.size() <= most_uses; };
  return std::all_of(intake_.begin(), intake_.end(), fits) &&
         std::all_of(exhaust_.begin(), exhaust_.end(), fits);
}

Solution Teller::solution(const TwoSumsFound& found) const {
  Solution solution;
  solution.outcome = Outcome::best;
  solution.cost = found.cost;
  solution.at_least = found.cost;
  solution.values.assign(problem_.program.unknowns.size(), 0.0);
  std::map<std::size_t, double> uneven_m;
  const TwoSums sums = this->sums();
  for (std::size_t i = 0; i < intake_.size(); ++i) {
    const Told& told = intake_[i];
    const Use& use = told.place.uses[found.intake[i]];
    for (const auto& [unknown, count] : told.picks[found.intake[i]]) {
      solution.values[unknown] = count;
    }
    for (std::size_t e = 0; e < told.eaves.size(); ++e) {
      uneven_m[told.eaves[e]] = beyond(sums, told.place.eaves_m[e], use.lengths_m[e], found.share);
    }
  }
  for (std::size_t i = 0; i < exhaust_.size(); ++i) {
    for (const auto& [unknown, count] : exhaust_[i].picks[found.exhaust[i]]) {
      solution.values[unknown] = count;
    }
  }
  if (asked_.section_m > 0.0) {
    std::size_t at = problem_.candidates.size();
    solution.values[at++] = found.share;
    for (const auto& [eave, metres] : uneven_m) {
      solution.values[at++] = metres;
    }
    ensure(at == solution.values.size(), "the unknowns of evenness are the last");
  }
  return solution;
}

TwoSums Teller::sums() const {
  TwoSums sums;
  for (const Told& told : intake_) {
    sums.intake.push_back(told.place);
  }
  for (const Told& told : exhaust_) {
    sums.exhaust.push_back(told.place);
  }
  sums.limits = asked_.limits;
  sums.section_m = asked_.section_m;
  sums.metre_uneven = sums.section_m > 0.0 ? weight::a_metre_uneven : 0.0;
  return sums;
}

/// Only what costs less than another way is of interest: the search ends sooner.
void add_bound(double cost, Program& program) {
  Row row;
  for (std::size_t i = 0; i < program.unknowns.size(); ++i) {
    row.terms.push_back({i, program.unknowns[i].cost});
  }
  row.most = cost - 1e-6;
  program.rows.push_back(std::move(row));
}

/// Heights up to which intake may lie: where heights matter the highest of those runs beside which
/// the same exhaust can be, else any.
std::vector<double> levels_of(const Candidates& all, const Problem& problem, const Sums& asked) {
  std::map<std::size_t, double> levels;  // by how much exhaust is high enough
  for (const std::size_t index : problem.candidates) {
    const Candidate& run = all.all[index];
    if (asked.above_m && run.is_intake()) {
      const auto count = std::count_if(
          problem.candidates.begin(), problem.candidates.end(), [&](std::size_t other) {
            return !all.all[other].is_intake() && is_above(all.all[other], asked, run.high_m);
          });
      double& level = levels.try_emplace(static_cast<std::size_t>(count), -HUGE_VAL).first->second;
      level = std::max(level, run.high_m);
    }
  }
  std::vector<double> list;
  list.reserve(levels.size());
  for (const auto& [count, level_m] : levels) {
    list.push_back(level_m);
  }
  return list.empty() ? std::vector<double>{HUGE_VAL} : list;
}

/// Searches the sums; nothing where that has to be given up.
std::optional<Solution> searched(const Candidates& all, const Problem& problem, const Sums& asked,
                                 double less_than) {
  Solution best;
  best.outcome = Outcome::impossible;
  for (const double level_m : levels_of(all, problem, asked)) {
    Teller teller(all, problem, asked);
    if (!teller.tell(level_m)) {
      return std::nullopt;
    }
    if (!teller.keep_sides()) {
      continue;
    }
    const TwoSumsFound found = least_of(teller.sums(), best.values.empty() ? less_than : best.cost);
    if (found.search == Search::given_up) {
      return std::nullopt;
    }
    if (found.search == Search::best) {
      best = teller.solution(found);
    }
  }
  return best;
}

}  // namespace

Solution solved(const Candidates& all, const Problem& problem, double less_than) {
  if (problem.sums) {
    if (std::optional<Solution> solution = searched(all, problem, *problem.sums, less_than)) {
      return std::move(*solution);
    }
  }
  Program program = problem.program;
  if (less_than < HUGE_VAL) {
    add_bound(less_than, program);
  }
  return solve(program, most_seconds, most_nodes);
}

}  // namespace ridgeward::placement
