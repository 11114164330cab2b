#include "takeoff/cutting.hpp"

#include "takeoff/cutting_pieces.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ridgeward::takeoff {

namespace {

constexpr std::size_t none = std::numeric_limits<std::size_t>::max();

/// Takes back what no plan could give.
void give_up_the_impossible(std::vector<Strip>& strips, const CuttingRules& rules) {
  for (Strip& strip : strips) {
    strip.left.least_m = std::min(strip.left.least_m, std::min(rules.section_m, strip.length_m));
    strip.right.least_m = std::min(strip.right.least_m, std::min(rules.section_m, strip.length_m));
    // Mitres that would run into each other, or leave nothing worth cutting beside them.
    const double beside_m = strip.length_m > rules.section_m + same_cut_m
                                ? least_at(strip, strip.left, rules)
                                : strip.left.least_m;
    strip.right.least_m = std::min(strip.right.least_m, strip.length_m - beside_m);
    const bool is_one_section = std::abs(strip.length_m - rules.section_m) <= same_cut_m;
    if (strip.left.is_factory && strip.right.is_factory && !is_one_section &&
        strip.length_m < 2 * rules.least_piece_m - same_cut_m) {
      strip.right = {};
    }
  }
}

std::size_t lower_bound_of(const std::vector<Strip>& strips, const CuttingRules& rules) {
  double length_m = 0.0;
  std::size_t left = 0;
  std::size_t right = 0;
  for (const Strip& strip : strips) {
    length_m += strip.length_m;
    left += strip.left.is_factory ? 1 : 0;
    right += strip.right.is_factory ? 1 : 0;
  }
  const auto material = static_cast<std::size_t>(
      std::ceil((length_m - same_cut_m * static_cast<double>(strips.size())) / rules.section_m));
  return std::max({material, left, right});
}

/// Where each piece of a section that is cut lies in it: left factory ends first, right ones last.
class Layer {
 public:
  Layer(const std::vector<Strip>& strips, const CuttingRules& rules, const Packing& packing)
      : strips_(strips), rules_(rules), packing_(packing) {}
  void lay(CuttingPlan& plan);

 private:
  struct Piece {
    std::size_t cut = none;  ///< none: a whole section
    double from_m = 0.0;
    double length_m = 0.0;
  };
  /// Pieces of one strip: at its left end, whole ones and others between, at its right end.
  struct Parts {
    std::vector<Piece> left;
    std::vector<Piece> middle;
    std::vector<Piece> right;
  };

  void lay_cut(std::size_t cut);
  void lay_whole();
  std::size_t number_of(const Piece& piece, CuttingPlan& plan);

  const std::vector<Strip>& strips_;
  const CuttingRules& rules_;
  const Packing& packing_;
  std::vector<Parts> parts_;
  std::vector<std::size_t> numbers_;  ///< by section that is cut
};

void Layer::lay_cut(std::size_t cut) {
  std::vector<Taken> order = packing_.cuts[cut];
  std::stable_sort(order.begin(), order.end(), [&](const Taken& a, const Taken& b) {
    const auto rank = [&](const Taken& t) {
      return claims_left(t, strips_) ? 0 : claims_right(t, strips_) ? 2 : 1;
    };
    return rank(a) < rank(b);
  });
  double from_m = 0.0;
  for (const Taken& taken : order) {
    Parts& parts = parts_[taken.strip];
    const bool left = claims_left(taken, strips_);
    const bool right = claims_right(taken, strips_);
    const bool is_whole = taken.length_m >= rules_.section_m - same_cut_m;
    if (left && right && !is_whole) {
      const double half_m = 0.5 * taken.length_m;
      parts.left.push_back({cut, 0.0, half_m});
      parts.right.push_back({cut, rules_.section_m - half_m, half_m});
      from_m = half_m;
      continue;
    }
    const double at_m = right ? rules_.section_m - taken.length_m : from_m;
    std::vector<Piece>& side = taken.is_left    ? parts.left
                               : taken.is_right ? parts.right
                                                : parts.middle;
    side.push_back({cut, at_m, taken.length_m});
    from_m += taken.length_m;
  }
}

void Layer::lay_whole() {
  for (std::size_t i = 0; i < strips_.size(); ++i) {
    Wholes wholes = packing_.wholes[i];
    const Piece whole{none, 0.0, rules_.section_m};
    if (wholes.is_left) {
      parts_[i].left.push_back(whole);
      --wholes.count;
    }
    if (wholes.is_right && wholes.count > 0) {
      parts_[i].right.push_back(whole);
      --wholes.count;
    }
    parts_[i].middle.insert(parts_[i].middle.begin(), static_cast<std::size_t>(wholes.count),
                            whole);
  }
}

/// Sections are numbered as they are first met.
std::size_t Layer::number_of(const Piece& piece, CuttingPlan& plan) {
  if (piece.cut == none) {
    return plan.bought++;
  }
  std::size_t& number = numbers_[piece.cut];
  if (number == none) {
    number = plan.bought++;
  }
  return number;
}

void Layer::lay(CuttingPlan& plan) {
  parts_.resize(strips_.size());
  for (std::size_t cut = 0; cut < packing_.cuts.size(); ++cut) {
    lay_cut(cut);
  }
  lay_whole();
  numbers_.assign(packing_.cuts.size(), none);
  for (const Parts& parts : parts_) {
    plan.strips.emplace_back();
    for (const std::vector<Piece>* some : {&parts.left, &parts.middle, &parts.right}) {
      for (const Piece& piece : *some) {
        plan.strips.back().push_back({number_of(piece, plan), piece.from_m, piece.length_m});
      }
    }
  }
}

/// The number of sections brought down as far as the solver can, from `packing` on.
bool bring_down(const std::vector<Strip>& strips, const CuttingRules& rules, std::size_t bound,
                Packing& packing) {
  for (std::size_t most = bound; most < packing.bought(); ++most) {
    bool is_impossible = false;
    for (const int loose : {0, 1, std::numeric_limits<int>::max()}) {
      Sought sought = pack_exactly(strips, rules, most, loose);
      if (sought.proof == Proof::found) {
        packing = std::move(sought.packing);
        return true;
      }
      is_impossible = loose > 1 && sought.proof == Proof::impossible;
    }
    if (!is_impossible) {
      // What is not known here is not known above either; take what can be had.
      Sought sought = pack_exactly(strips, rules, packing.bought() - 1, 0);
      if (sought.proof == Proof::found) {
        packing = std::move(sought.packing);
      }
      return false;
    }
  }
  return true;
}

}  // namespace

bool claims_left(const Taken& taken, const std::vector<Strip>& strips) {
  return taken.is_left && strips[taken.strip].left.is_factory;
}
bool claims_right(const Taken& taken, const std::vector<Strip>& strips) {
  return taken.is_right && strips[taken.strip].right.is_factory;
}

std::size_t Packing::bought() const {
  std::size_t sum = cuts.size();
  for (const Wholes& own : wholes) {
    sum += static_cast<std::size_t>(own.count);
  }
  return sum;
}

int wholes_of(const Strip& strip, const CuttingRules& rules) {
  return static_cast<int>(std::floor((strip.length_m + same_cut_m) / rules.section_m));
}

double least_of(const Strip& strip, const CuttingRules& rules) {
  const double sections = std::ceil((strip.length_m - same_cut_m) / rules.section_m);
  return std::min(rules.least_piece_m, strip.length_m / std::max(1.0, sections));
}

double least_at(const Strip& strip, const EndNeed& need, const CuttingRules& rules) {
  return std::max(need.least_m, least_of(strip, rules));
}

CuttingPlan plan_cuts(std::vector<Strip> strips, const CuttingRules& rules) {
  CuttingPlan plan;
  give_up_the_impossible(strips, rules);
  plan.lower_bound = lower_bound_of(strips, rules);
  Packing packing = pack_rests(strips, rules);
  for (std::size_t most = plan.lower_bound; most < packing.bought(); ++most) {
    packing = pack_in_parts(strips, rules, most).value_or(packing);
  }
  plan.is_least =
      packing.bought() == plan.lower_bound || bring_down(strips, rules, plan.lower_bound, packing);
  Layer(strips, rules, packing).lay(plan);
  return plan;
}

}  // namespace ridgeward::takeoff
