// The exact program of the cutting plan.
#include "takeoff/cutting_pieces.hpp"

#include "solver/program.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::takeoff {

namespace {

// The nodes end a search, long before the seconds do.
constexpr double most_seconds = 600.0;
constexpr double unknowns_times_nodes = 40000.0;
// The number of sections is a bound, and exact; the number of pieces need not be the very least.
constexpr double good_enough = 0.1;
constexpr std::size_t most_unknowns = 2000;

/// Unknowns of one strip in one section: whether it takes of it, how much (in sections), and
/// whether its piece lies at the left or the right end.
struct Cell {
  std::size_t takes = 0;
  std::size_t length = 0;
  std::size_t left = 0;
  std::size_t right = 0;
};

class CuttingProgram {
 public:
  CuttingProgram(const std::vector<Strip>& strips, const CuttingRules& rules, std::size_t most,
                 int loose);
  Sought solve();

 private:
  void add_strip(std::size_t i);
  void add_cell(const Strip& strip, std::size_t i, std::size_t bin);
  void add_end(std::size_t i, bool is_left);
  void add_bin(std::size_t bin);
  Packing read(const std::vector<double>& values) const;
  std::size_t add(double cost, double most) { return program_.add({cost, 0.0, most, true}); }
  void row(std::vector<solver::Term> terms, double least, double most) {
    program_.rows.push_back({std::move(terms), least, most});
  }

  const std::vector<Strip>& strips_;
  const CuttingRules& rules_;
  solver::Program program_;
  std::size_t bins_ = 0;
  std::vector<std::size_t> wholes_;       ///< by strip
  std::vector<std::size_t> whole_left_;   ///< by strip
  std::vector<std::size_t> whole_right_;  ///< by strip
  std::vector<std::vector<Cell>> cells_;  ///< by strip, by bin
  std::vector<std::size_t> used_;         ///< by bin
};

CuttingProgram::CuttingProgram(const std::vector<Strip>& strips, const CuttingRules& rules,
                               std::size_t most, int loose)
    : strips_(strips), rules_(rules) {
  program_.good_enough = good_enough;
  std::size_t fixed = 0;
  for (const Strip& strip : strips) {
    fixed += static_cast<std::size_t>(std::max(0, wholes_of(strip, rules) - loose));
  }
  bins_ = most > fixed ? most - fixed : 0;
  for (std::size_t bin = 0; bin < bins_; ++bin) {
    used_.push_back(add(0.0, 1.0));
  }
  cells_.resize(strips.size());
  std::vector<solver::Term> all;
  for (std::size_t i = 0; i < strips.size(); ++i) {
    const int whole = wholes_of(strips[i], rules);
    const int least = std::max(0, whole - loose);
    wholes_.push_back(
        program_.add({1.0, static_cast<double>(least), static_cast<double>(whole), true}));
    whole_left_.push_back(add(0.0, strips[i].left.is_free() ? 0.0 : 1.0));
    whole_right_.push_back(add(0.0, strips[i].right.is_free() ? 0.0 : 1.0));
    add_strip(i);
    all.push_back({wholes_[i], 1.0});
  }
  for (std::size_t bin = 0; bin < bins_; ++bin) {
    add_bin(bin);
    all.push_back({used_[bin], 1.0});
  }
  row(all, -HUGE_VAL, static_cast<double>(most));
}

void CuttingProgram::add_cell(const Strip& strip, std::size_t i, std::size_t bin) {
  Cell cell;
  cell.takes = add(1.0, 1.0);
  cell.length = program_.add({0.0, 0.0, 1.0, false});
  cell.left = add(0.0, strip.left.is_free() ? 0.0 : 1.0);
  cell.right = add(0.0, strip.right.is_free() ? 0.0 : 1.0);
  const double whole = strip.length_m / rules_.section_m;
  row({{cell.length, 1.0}, {cell.takes, -std::min(1.0, whole)}}, -HUGE_VAL, 0.0);
  row({{cell.length, 1.0}, {cell.takes, -least_of(strip, rules_) / rules_.section_m}}, 0.0,
      HUGE_VAL);
  row({{cell.length, 1.0}, {cell.left, -least_at(strip, strip.left, rules_) / rules_.section_m}},
      0.0, HUGE_VAL);
  row({{cell.length, 1.0}, {cell.right, -least_at(strip, strip.right, rules_) / rules_.section_m}},
      0.0, HUGE_VAL);
  // A piece at both ends is the whole strip.
  if (whole > 1.0 + same_cut_m) {
    row({{cell.left, 1.0}, {cell.right, 1.0}}, -HUGE_VAL, 1.0);
  } else {
    row({{cell.length, 1.0}, {cell.left, -whole}, {cell.right, -whole}}, -whole, HUGE_VAL);
  }
  row({{used_[bin], 1.0}, {cell.takes, -1.0}}, 0.0, HUGE_VAL);
  cells_[i].push_back(cell);
}

/// One piece lies at each end that asks for something.
void CuttingProgram::add_end(std::size_t i, bool is_left) {
  if ((is_left ? strips_[i].left : strips_[i].right).is_free()) {
    return;
  }
  const std::size_t whole = is_left ? whole_left_[i] : whole_right_[i];
  std::vector<solver::Term> terms{{whole, 1.0}};
  for (const Cell& cell : cells_[i]) {
    terms.push_back({is_left ? cell.left : cell.right, 1.0});
  }
  row(std::move(terms), 1.0, 1.0);
}

void CuttingProgram::add_strip(std::size_t i) {
  const Strip& strip = strips_[i];
  for (std::size_t bin = 0; bin < bins_; ++bin) {
    add_cell(strip, i, bin);
  }
  const double whole = strip.length_m / rules_.section_m;
  std::vector<solver::Term> length{{wholes_[i], 1.0}};
  for (const Cell& cell : cells_[i]) {
    length.push_back({cell.length, 1.0});
  }
  row(std::move(length), whole, whole);
  add_end(i, true);
  add_end(i, false);
  // Whole sections at both ends are two, unless the strip is one.
  const double own = whole > 1.0 + same_cut_m ? 1.0 : 2.0;
  row({{wholes_[i], own}, {whole_left_[i], -1.0}, {whole_right_[i], -1.0}}, 0.0, HUGE_VAL);
}

void CuttingProgram::add_bin(std::size_t bin) {
  std::vector<solver::Term> length;
  std::vector<solver::Term> left;
  std::vector<solver::Term> right;
  for (std::size_t i = 0; i < strips_.size(); ++i) {
    const Cell& cell = cells_[i][bin];
    length.push_back({cell.length, 1.0});
    if (strips_[i].left.is_factory) {
      left.push_back({cell.left, 1.0});
    }
    if (strips_[i].right.is_factory) {
      right.push_back({cell.right, 1.0});
    }
  }
  length.push_back({used_[bin], -1.0});
  row(std::move(length), -HUGE_VAL, 0.0);
  row(std::move(left), -HUGE_VAL, 1.0);
  row(std::move(right), -HUGE_VAL, 1.0);
  if (bin + 1 < bins_) {
    row({{used_[bin], 1.0}, {used_[bin + 1], -1.0}}, 0.0, HUGE_VAL);
  }
}

Packing CuttingProgram::read(const std::vector<double>& values) const {
  Packing packing;
  packing.cuts.resize(bins_);
  for (std::size_t i = 0; i < strips_.size(); ++i) {
    Wholes wholes;
    wholes.count = static_cast<int>(std::lround(values[wholes_[i]]));
    wholes.is_left = values[whole_left_[i]] > 0.5;
    wholes.is_right = values[whole_right_[i]] > 0.5;
    packing.wholes.push_back(wholes);
    Taken* last = nullptr;
    double rest_m = strips_[i].length_m - wholes.count * rules_.section_m;
    for (std::size_t bin = 0; bin < bins_; ++bin) {
      const Cell& cell = cells_[i][bin];
      if (values[cell.takes] < 0.5 || values[cell.length] * rules_.section_m < same_cut_m) {
        continue;
      }
      packing.cuts[bin].push_back({i, values[cell.length] * rules_.section_m,
                                   values[cell.left] > 0.5, values[cell.right] > 0.5});
      last = &packing.cuts[bin].back();
      rest_m -= last->length_m;
    }
    if (last != nullptr) {
      last->length_m += rest_m;  // the solver's own rounding
    }
  }
  std::erase_if(packing.cuts, [](const std::vector<Taken>& cut) { return cut.empty(); });
  return packing;
}

Sought CuttingProgram::solve() {
  if (program_.unknowns.size() > most_unknowns) {
    return {};
  }
  const auto nodes =
      static_cast<int>(unknowns_times_nodes / static_cast<double>(1 + program_.unknowns.size()));
  const solver::Solution solution = solver::solve(program_, most_seconds, nodes);
  if (solution.outcome == solver::Outcome::impossible) {
    return {Proof::impossible, {}};
  }
  if (solution.values.empty()) {
    return {};
  }
  return {Proof::found, read(solution.values)};
}

}  // namespace

Sought pack_exactly(const std::vector<Strip>& strips, const CuttingRules& rules, std::size_t most,
                    int loose) {
  return CuttingProgram(strips, rules, most, loose).solve();
}

}  // namespace ridgeward::takeoff
