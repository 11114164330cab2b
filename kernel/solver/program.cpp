#include "solver/program.hpp"

#include "base/fault.hpp"

#include <Cbc_C_Interface.h>
#include <algorithm>
#include <limits>
#include <memory>
#include <mutex>

namespace ridgeward::solver {

namespace {

/// What the solver takes as no bound.
constexpr double unbounded = std::numeric_limits<double>::max();

struct Closer {
  void operator()(Cbc_Model* model) const { Cbc_deleteModel(model); }
};

/// The matrix column by column, as the solver takes it.
struct Columns {
  std::vector<CoinBigIndex> starts;
  std::vector<int> rows;
  std::vector<double> factors;
};

Columns columns_of(const Program& program) {
  std::vector<std::vector<std::pair<int, double>>> by_unknown(program.unknowns.size());
  for (std::size_t r = 0; r < program.rows.size(); ++r) {
    for (const Term& term : program.rows[r].terms) {
      ensure(term.unknown < program.unknowns.size(), "a row names unknowns of its program");
      std::vector<std::pair<int, double>>& own = by_unknown[term.unknown];
      if (!own.empty() && own.back().first == static_cast<int>(r)) {
        own.back().second += term.factor;
      } else {
        own.emplace_back(static_cast<int>(r), term.factor);
      }
    }
  }
  Columns columns;
  for (const auto& own : by_unknown) {
    columns.starts.push_back(static_cast<CoinBigIndex>(columns.rows.size()));
    for (const auto& [row, factor] : own) {
      columns.rows.push_back(row);
      columns.factors.push_back(factor);
    }
  }
  columns.starts.push_back(static_cast<CoinBigIndex>(columns.rows.size()));
  return columns;
}

void load(const Program& program, Cbc_Model* model) {
  const Columns columns = columns_of(program);
  std::vector<double> least;
  std::vector<double> most;
  std::vector<double> cost;
  for (const Unknown& unknown : program.unknowns) {
    least.push_back(unknown.least);
    most.push_back(unknown.most);
    cost.push_back(unknown.cost);
  }
  std::vector<double> row_least;
  std::vector<double> row_most;
  for (const Row& row : program.rows) {
    row_least.push_back(std::max(row.least, -unbounded));
    row_most.push_back(std::min(row.most, unbounded));
  }
  Cbc_loadProblem(model, static_cast<int>(cost.size()), static_cast<int>(row_least.size()),
                  columns.starts.data(), columns.rows.data(), columns.factors.data(), least.data(),
                  most.data(), cost.data(), row_least.data(), row_most.data());
  for (std::size_t i = 0; i < program.unknowns.size(); ++i) {
    if (program.unknowns[i].is_whole) {
      Cbc_setInteger(model, static_cast<int>(i));
    }
  }
}

}  // namespace

Solution solve(const Program& program, double seconds, int nodes) {
  Solution solution;
  if (program.unknowns.empty()) {
    const bool holds = std::all_of(program.rows.begin(), program.rows.end(), [](const Row& row) {
      return row.least <= 0.0 && row.most >= 0.0;
    });
    solution.outcome = holds ? Outcome::best : Outcome::impossible;
    solution.at_least = 0.0;
    return solution;
  }
  // The solver's own tables are not made for several threads.
  static std::mutex one_at_a_time;
  const std::lock_guard<std::mutex> lock(one_at_a_time);
  const std::unique_ptr<Cbc_Model, Closer> model(Cbc_newModel());
  load(program, model.get());
  Cbc_setLogLevel(model.get(), 0);
  Cbc_setParameter(model.get(), "slogLevel", "0");
  Cbc_setParameter(model.get(), "ratioGap", std::to_string(program.good_enough).c_str());
  Cbc_setParameter(model.get(), "allowableGap", "1e-7");
  Cbc_setParameter(model.get(), "threads", "0");
  // Its preprocessing takes a worse solution for the best in some two of a thousand small programs.
  Cbc_setParameter(model.get(), "preprocess", "off");
  // Nodes, not seconds, end a long search: equal input gives equal output on any machine.
  Cbc_setMaximumNodes(model.get(), nodes);
  Cbc_setMaximumSeconds(model.get(), seconds);
  Cbc_solve(model.get());
  if (Cbc_isProvenInfeasible(model.get()) != 0) {
    solution.outcome = Outcome::impossible;
    return solution;
  }
  solution.at_least = Cbc_getBestPossibleObjValue(model.get());
  const double* values = Cbc_getColSolution(model.get());
  const bool has_solution = values != nullptr && std::abs(Cbc_getObjValue(model.get())) < 1e40;
  if (!has_solution) {
    return solution;
  }
  solution.outcome = Cbc_isProvenOptimal(model.get()) != 0 ? Outcome::best : Outcome::unproven;
  for (std::size_t i = 0; i < program.unknowns.size(); ++i) {
    const double value = values[i];
    solution.values.push_back(program.unknowns[i].is_whole ? std::round(value) : value);
    solution.cost += program.unknowns[i].cost * solution.values.back();
  }
  solution.at_least = solution.outcome == Outcome::best
                          ? solution.cost
                          : std::min(solution.at_least, solution.cost);
  return solution;
}

}  // namespace ridgeward::solver
