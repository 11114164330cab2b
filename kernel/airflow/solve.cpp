#include "airflow/solve.hpp"

#include "airflow/air.hpp"
#include "airflow/laws.hpp"
#include "base/fault.hpp"

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace ridgeward::airflow {

namespace {

constexpr int most_iterations = 200;
constexpr double balance = 1e-11;  ///< of the flow through a node; the promise is 1e-9
/// A flow that is none: a space that nothing drives seeks 0, of which no share is small enough.
constexpr double none_kgs = 1e-16;
constexpr double rounding = 8.0 * std::numeric_limits<double>::epsilon();
constexpr int no_unknown = -1;

using Matrix = Eigen::SparseMatrix<double>;
/// A wide opening next to a fan has a pressure of next to nothing between nodes at hundreds of
/// pascals: pressures need more digits than flows.
using Fine = long double;
constexpr auto fine_rounding = static_cast<double>(8.0L * std::numeric_limits<Fine>::epsilon());

/// A link with all that does not change while pressures are sought.
struct Ready {
  const Law* law = nullptr;
  std::uint32_t from = 0;
  std::uint32_t to = 0;
  Fine head_pa = 0.0L;   ///< pressure that drives it when both nodes are at 0
  Fine gradient = 0.0L;  ///< of tall openings, Pa per metre of height
  Densities air;
};

Flow flow_of(const Ready& link, Fine pressure_pa) {
  return std::visit(
      [&](const auto& law) {
        using Kind = std::decay_t<decltype(law)>;
        if constexpr (std::is_same_v<Kind, TallOpening>) {
          return flow(law, pressure_pa, link.gradient, link.air);
        } else if constexpr (std::is_same_v<Kind, Fan>) {
          return flow(law, pressure_pa, link.air);
        } else {
          return flow(law, static_cast<double>(pressure_pa), link.air);
        }
      },
      *link.law);
}

/// One loop over the links at given pressures.
struct State {
  std::vector<Fine> pressure;   ///< by node
  std::vector<Flow> flows;      ///< by link
  std::vector<double> surplus;  ///< mass that comes in, less what goes out, by node
  std::vector<double> through;  ///< mass that comes in and goes out, by node
  std::vector<double> noise;    ///< what rounding may make of the surplus
};

class Solver {
 public:
  explicit Solver(const Network& network);
  Solution run(const Solution* start);

 private:
  void join_parts();
  State state_at(std::vector<Fine> pressure) const;
  bool is_balanced(const State& state) const;
  std::vector<double> newton_step(const State& state);
  State along(const State& state, const std::vector<double>& step) const;
  double drive(const State& state, const std::vector<double>& step) const;

  const Network& network_;
  std::vector<Ready> links_;
  std::vector<int> unknown_;  ///< of each node; none for the outside and one of each closed part
  int unknowns_ = 0;
  Eigen::SimplicialLDLT<Matrix> factor_;
  bool is_analysed_ = false;
};

Solver::Solver(const Network& network) : network_(network) {
  const Fine outside = density(network.nodes[Network::outside()].temperature_k);
  const auto buoyancy = [&](AirNodeId node) {
    return (outside - density(network.nodes[node].temperature_k)) * gravity_ms2;
  };
  for (const Link& link : network.links) {
    Ready ready;
    ready.law = &link.law;
    ready.from = link.from.node.value;
    ready.to = link.to.node.value;
    ready.air = {density(network.nodes[link.from.node].temperature_k),
                 density(network.nodes[link.to.node].temperature_k)};
    ready.head_pa = static_cast<Fine>(link.from.wind_pa) - link.to.wind_pa;
    const Fine rise_from = buoyancy(link.from.node);
    const Fine rise_to = buoyancy(link.to.node);
    if (std::holds_alternative<TallOpening>(link.law)) {
      ready.gradient = rise_from - rise_to;
    } else {
      ready.head_pa += rise_from * link.from.z_m - rise_to * link.to.z_m;
    }
    if (const auto* channel = std::get_if<Channel>(&link.law)) {
      ready.head_pa +=
          (outside - density(channel->air_k)) * gravity_ms2 * (link.to.z_m - link.from.z_m);
    }
    links_.push_back(ready);
  }
  join_parts();
}

/// Gives every node an unknown but the outside and one node of each part that no path joins to it.
void Solver::join_parts() {
  std::vector<std::uint32_t> root(network_.nodes.size());
  std::iota(root.begin(), root.end(), 0U);
  const auto find = [&](std::uint32_t node) {
    while (root[node] != node) {
      root[node] = root[root[node]];
      node = root[node];
    }
    return node;
  };
  for (const Ready& link : links_) {
    const std::uint32_t a = find(link.from);
    const std::uint32_t b = find(link.to);
    root[std::max(a, b)] =
        std::min(a, b);  // the lowest stands for its part: the outside for all that reach it
  }
  unknown_.assign(network_.nodes.size(), no_unknown);
  for (std::uint32_t node = 0; node < unknown_.size(); ++node) {
    if (find(node) != node) {
      unknown_[node] = unknowns_++;
    }
  }
}

State Solver::state_at(std::vector<Fine> pressure) const {
  State state;
  state.pressure = std::move(pressure);
  state.flows.resize(links_.size());
  state.surplus.assign(state.pressure.size(), 0.0);
  state.through.assign(state.pressure.size(), 0.0);
  state.noise.assign(state.pressure.size(), 0.0);
  for (std::size_t i = 0; i < links_.size(); ++i) {
    const Ready& link = links_[i];
    const Fine a = state.pressure[link.from];
    const Fine b = state.pressure[link.to];
    const Flow f = flow_of(link, a - b + link.head_pa);
    state.flows[i] = f;
    const double both = f.forward_kgs + f.backward_kgs;
    const auto size = static_cast<double>(std::abs(a) + std::abs(b) + std::abs(link.head_pa));
    const double noise = fine_rounding * f.slope * size + rounding * both;
    state.surplus[link.from] -= f.mass_kgs;
    state.surplus[link.to] += f.mass_kgs;
    for (const std::uint32_t node : {link.from, link.to}) {
      state.through[node] += 0.5 * both;
      state.noise[node] += noise;
    }
  }
  return state;
}

bool Solver::is_balanced(const State& state) const {
  for (std::size_t node = 0; node < unknown_.size(); ++node) {
    if (unknown_[node] != no_unknown &&
        std::abs(state.surplus[node]) >
            balance * state.through[node] + state.noise[node] + none_kgs) {
      return false;
    }
  }
  return true;
}

std::vector<double> Solver::newton_step(const State& state) {
  std::vector<Eigen::Triplet<double>> entries;
  entries.reserve(4 * links_.size());
  for (std::size_t i = 0; i < links_.size(); ++i) {
    const double slope = state.flows[i].slope;
    const int a = unknown_[links_[i].from];
    const int b = unknown_[links_[i].to];
    if (a != no_unknown) {
      entries.emplace_back(a, a, slope);
    }
    if (b != no_unknown) {
      entries.emplace_back(b, b, slope);
    }
    if (a != no_unknown && b != no_unknown && a != b) {
      entries.emplace_back(std::max(a, b), std::min(a, b), -slope);
    }
  }
  Matrix matrix(unknowns_, unknowns_);
  matrix.setFromTriplets(entries.begin(), entries.end());
  if (!is_analysed_) {
    factor_.analyzePattern(matrix);
    is_analysed_ = true;
  }
  factor_.factorize(matrix);
  if (factor_.info() != Eigen::Success) {
    // Slopes so unlike that a pivot vanishes in doubles: a whiff on the diagonal bends the step,
    // not the solution.
    constexpr double whiff = 1e-10;
    double most = 0.0;
    for (int i = 0; i < unknowns_; ++i) {
      most = std::max(most, matrix.coeff(i, i));
    }
    for (int i = 0; i < unknowns_; ++i) {
      matrix.coeffRef(i, i) += whiff * most;
    }
    factor_.factorize(matrix);
  }
  ensure(factor_.info() == Eigen::Success, "the slopes of a network can be factorised");
  Eigen::VectorXd surplus(unknowns_);
  for (std::size_t node = 0; node < unknown_.size(); ++node) {
    if (unknown_[node] != no_unknown) {
      surplus[unknown_[node]] = state.surplus[node];
    }
  }
  const Eigen::VectorXd found = factor_.solve(surplus);
  std::vector<double> step(unknown_.size(), 0.0);
  for (std::size_t node = 0; node < unknown_.size(); ++node) {
    if (unknown_[node] != no_unknown) {
      step[node] = found[unknown_[node]];
    }
  }
  return step;
}

/// How fast the convex function falls along the step: positive before its lowest place.
double Solver::drive(const State& state, const std::vector<double>& step) const {
  double sum = 0.0;
  for (std::size_t node = 0; node < step.size(); ++node) {
    sum += state.surplus[node] * step[node];
  }
  return sum;
}

/// The state a good way down the line. The drive falls along it, so its zero is bracketed and
/// halved until a quarter of the drive is left.
State Solver::along(const State& state, const std::vector<double>& step) const {
  const double start = drive(state, step);
  const auto at = [&](double share) {
    std::vector<Fine> pressure = state.pressure;
    for (std::size_t node = 0; node < pressure.size(); ++node) {
      pressure[node] += static_cast<Fine>(share) * step[node];
    }
    return state_at(std::move(pressure));
  };
  double low = 0.0;
  double high = 0.0;  // none known yet
  double share = 1.0;
  State reached = at(share);
  for (int i = 0; i < 60; ++i) {
    const double left = drive(reached, step);
    if (std::abs(left) <= 0.25 * start || is_balanced(reached)) {
      break;
    }
    if (left > 0.0) {
      low = share;
      share = high > 0.0 ? 0.5 * (low + high) : 2.0 * share;
    } else {
      high = share;
      share = 0.5 * (low + high);
    }
    reached = at(share);
  }
  return reached;
}

Solution Solver::run(const Solution* start) {
  std::vector<Fine> pressure(network_.nodes.size(), 0.0L);
  if (start != nullptr) {
    ensure(start->pressure_pa.size() == pressure.size(), "a start has the network's own nodes");
    for (std::size_t node = 0; node < pressure.size(); ++node) {
      pressure[node] = unknown_[node] == no_unknown ? 0.0L : start->pressure_pa[AirNodeId(node)];
    }
  }
  State state = state_at(std::move(pressure));
  int iterations = 0;
  while (!is_balanced(state)) {
    ensure(++iterations <= most_iterations, "the air of a network comes to balance");
    const std::vector<double> step = newton_step(state);
    state = along(state, step);
  }
  Solution solution;
  solution.iterations = iterations;
  for (const Fine p : state.pressure) {
    solution.pressure_pa.push_back(static_cast<double>(p));
  }
  for (std::size_t i = 0; i < links_.size(); ++i) {
    const Ready& link = links_[i];
    auto driven =
        static_cast<double>(state.pressure[link.from] - state.pressure[link.to] + link.head_pa);
    if (const auto* tall = std::get_if<TallOpening>(link.law)) {
      driven += static_cast<double>(link.gradient) * 0.5 * (tall->bottom_m + tall->top_m);
    }
    const Flow& f = state.flows[i];
    solution.links.push_back({driven, f.mass_kgs, f.forward_kgs, f.backward_kgs});
  }
  return solution;
}

}  // namespace

Solution solve(const Network& network, const Solution* start) { return Solver(network).run(start); }

std::vector<std::string> verify(const Network& network, const Solution& solution) {
  std::vector<double> surplus(network.nodes.size(), 0.0);
  std::vector<double> through(network.nodes.size(), 0.0);
  for (const AirLinkId id : network.links.ids()) {
    const Link& link = network.links[id];
    const LinkFlow& f = solution.links[id];
    surplus[link.from.node.value] -= f.mass_kgs;
    surplus[link.to.node.value] += f.mass_kgs;
    for (const AirNodeId node : {link.from.node, link.to.node}) {
      through[node.value] += 0.5 * (f.forward_kgs + f.backward_kgs);
    }
  }
  // What is left over where next to nothing flows: ten nanograms a second.
  constexpr double nothing_kgs = 1e-11;
  std::vector<std::string> broken;
  for (std::size_t node = 1; node < surplus.size(); ++node) {
    if (std::abs(surplus[node]) > 1e-9 * through[node] + nothing_kgs) {
      broken.push_back("node " + network.nodes[AirNodeId(node)].id +
                       " takes in more or less than it gives");
    }
  }
  return broken;
}

}  // namespace ridgeward::airflow
