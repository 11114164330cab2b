#include "placement/problem.hpp"

#include "placement/builder.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

namespace ridgeward::placement {

namespace {

constexpr double near_m = 1e-6;

/// Stretches of one plane or line, in order, with the unknowns that lie in each.
using Along = std::pair<bool, std::uint32_t>;
struct Lying {
  const Stretch* stretch = nullptr;
  std::vector<std::size_t> unknowns;
};

/// The largest sets of stretches that overlap at one point.
std::vector<std::vector<std::size_t>> overlapping(const std::vector<Lying>& all) {
  std::vector<std::vector<std::size_t>> sets;
  for (const Lying& start : all) {
    const double at_m = start.stretch->from_m;
    std::vector<std::size_t> here;
    for (const Lying& one : all) {
      if (one.stretch->from_m <= at_m && at_m < one.stretch->to_m - near_m) {
        here.insert(here.end(), one.unknowns.begin(), one.unknowns.end());
      }
    }
    std::sort(here.begin(), here.end());
    const auto holds = [](const auto& l, const auto& r) {
      return std::includes(l.begin(), l.end(), r.begin(), r.end());
    };
    if (!sets.empty() && holds(here, sets.back())) {
      sets.back() = std::move(here);
    } else if (sets.empty() || !holds(sets.back(), here)) {
      sets.push_back(std::move(here));
    }
  }
  return sets;
}

}  // namespace

void Builder::add_candidates(const std::vector<const codes::Rule*>& rules) {
  for (const std::size_t index : group_.candidates) {
    const Candidate& candidate = all_.all[index];
    const bool is_asked = candidate.is_intake() || candidate.product == way_.exhaust ||
                          (way_.exhaust.empty() && is_joined());
    if (is_asked && passes(candidate, rules)) {
      problem_.candidates.push_back(index);
      const double cost = way_.is_shared ? candidate.cost.at_least : candidate.cost.all;
      problem_.program.add({cost + weight::a_warning * candidate.warnings, 0.0,
                            static_cast<double>(candidate.places()), true});
    }
  }
}

/// Of runs that overlap one at most.
void Builder::add_stretches() {
  std::map<std::size_t, std::vector<std::size_t>> by_stretch;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    if (candidate(i).is_intake() || model::runs_along(candidate(i).kind)) {
      by_stretch[candidate(i).stretch].push_back(i);
    }
  }
  std::map<Along, std::vector<Lying>> places;
  for (auto& [index, unknowns] : by_stretch) {
    const Stretch& own = all_.stretches[index];
    places[{own.is_intake, own.is_intake ? own.plane.value : own.line.value}].push_back(
        {&own, std::move(unknowns)});
  }
  for (auto& [place, all] : places) {
    std::stable_sort(all.begin(), all.end(), [](const Lying& l, const Lying& r) {
      return l.stretch->from_m < r.stretch->from_m;
    });
    for (const std::vector<std::size_t>& set : overlapping(all)) {
      Row row;
      row.most = 1.0;
      for (const std::size_t i : set) {
        row.terms.push_back({i, 1.0});
      }
      problem_.program.rows.push_back(std::move(row));
    }
  }
}

/// Each eave is used to one share of its length, give or take one section; what is beyond weighs.
void Builder::add_evenness() {
  std::map<std::size_t, std::vector<Term>> by_eave;
  double section_m = 0.0;
  for (std::size_t i = 0; i < problem_.candidates.size(); ++i) {
    const Candidate& candidate = this->candidate(i);
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
    ++problem_.eaves;
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

/// Where any exhaust will do: one product over each compartment.
void Builder::add_one_product_each(const std::vector<CompartmentId>& spaces) {
  std::set<std::vector<std::size_t>> done;
  for (const CompartmentId space : spaces) {
    const std::vector<std::size_t> over = served(space).exhaust;
    std::map<std::string, std::vector<std::size_t>> by_product;
    for (const std::size_t i : over) {
      by_product[candidate(i).product].push_back(i);
    }
    if (by_product.size() < 2 || !done.insert(over).second) {
      continue;
    }
    Row one;
    one.most = 1.0;
    for (const auto& [product, vents] : by_product) {
      const std::size_t is_used = problem_.program.add({0.0, 0.0, 1.0, true});
      one.terms.push_back({is_used, 1.0});
      for (const std::size_t i : vents) {
        const double places = problem_.program.unknowns[i].most;
        problem_.program.rows.push_back({{{i, 1.0}, {is_used, -places}}, -HUGE_VAL, 0.0});
      }
    }
    problem_.program.rows.push_back(std::move(one));
  }
}

Problem Builder::build() {
  const std::vector<const codes::Rule*> all = rules();
  if (!is_joined()) {
    problem_.sums.emplace();
  }
  add_candidates(all);
  add_stretches();
  add_evenness();
  std::map<Served, std::vector<CompartmentId>> one_at_a_time;
  std::vector<CompartmentId> others;
  for (const CompartmentId space : group_.compartments) {
    if (Served own = served(space); is_joined() && is_one_at_a_time(own)) {
      one_at_a_time[std::move(own)].push_back(space);
    } else {
      add_sums(space, all);
      others.push_back(space);
    }
  }
  for (const auto& [own, spaces] : one_at_a_time) {
    add_pairs(own, spaces);
  }
  add_one_product_each(others);
  return std::move(problem_);
}

Problem Builder::build_nearest() {
  const std::vector<const codes::Rule*> all = rules();
  add_candidates(all);
  add_stretches();
  for (Unknown& unknown : problem_.program.unknowns) {
    unknown.cost *= 1e-6;
  }
  for (const CompartmentId space : group_.compartments) {
    add_missing_area(space);
    add_balance(space);
    for (const codes::Rule* rule : all) {
      if (rule->measure == codes::Measure::exhaust_above_intake_m) {
        add_heights(space, *rule, {});
      }
    }
  }
  add_one_product_each(group_.compartments);
  return std::move(problem_);
}

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
  return Builder(ground, all, group, way).build();
}

Problem nearest_to(const Ground& ground, const Candidates& all, const Group& group,
                   const Way& way) {
  return Builder(ground, all, group, way).build_nearest();
}

}  // namespace ridgeward::placement
