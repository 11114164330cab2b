#include "takeoff/cutting.hpp"

#include "takeoff/cutting_pieces.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace ridgeward::takeoff {

namespace {

constexpr std::size_t none = std::numeric_limits<std::size_t>::max();

/// A rest of a strip and the ways in which it may lie, the best first.
struct Rest {
  std::size_t strip = 0;
  double length_m = 0.0;
  std::vector<Taken> ways;
};

double filled_m(const std::vector<Taken>& cut) {
  double sum = 0.0;
  for (const Taken& taken : cut) {
    sum += taken.length_m;
  }
  return sum;
}

bool claims_left(const Taken& taken, const std::vector<Strip>& strips) {
  return taken.is_left && strips[taken.strip].left.is_factory;
}
bool claims_right(const Taken& taken, const std::vector<Strip>& strips) {
  return taken.is_right && strips[taken.strip].right.is_factory;
}

/// Whether a section that is cut can give another piece.
bool takes(const std::vector<Taken>& cut, const Taken& more, const std::vector<Strip>& strips,
           double section_m) {
  if (filled_m(cut) + more.length_m > section_m + same_cut_m) {
    return false;
  }
  return std::none_of(cut.begin(), cut.end(), [&](const Taken& there) {
    return there.strip == more.strip || (claims_left(there, strips) && claims_left(more, strips)) ||
           (claims_right(there, strips) && claims_right(more, strips));
  });
}

/// Ends that ask for something.
int ends_of(const Strip& strip) {
  return (strip.left.is_free() ? 0 : 1) + (strip.right.is_free() ? 0 : 1);
}

class RestPacker {
 public:
  RestPacker(const std::vector<Strip>& strips, const CuttingRules& rules)
      : strips_(strips), rules_(rules) {}
  /// Opens sections as they are needed.
  Packing pack();
  /// Opens no more than `most`. Rests that may be laid in parts are, where they fit nowhere else;
  /// or all of them, each section filled up before the next.
  std::optional<Packing> pack_within(std::size_t most, bool fills_up);

 private:
  void divide(bool in_parts);
  void split(std::size_t i, double rest_m, int& wholes);
  void one_rest(std::size_t i, double rest_m, int wholes);
  bool place(const Rest& rest);
  bool is_divisible(const Rest& rest) const;
  bool place_in_parts(const Rest& rest, bool fills_up);
  void give_ends_to_wholes();

  const std::vector<Strip>& strips_;
  const CuttingRules& rules_;
  std::vector<Rest> rests_;
  Packing packing_;
};

/// The rest at the right end if that can be, else at the left one, else between whole sections.
void RestPacker::one_rest(std::size_t i, double rest_m, int wholes) {
  const Strip& strip = strips_[i];
  Rest rest{i, rest_m, {}};
  if (wholes == 0) {
    rest.ways.push_back({i, rest_m, true, true});
    rests_.push_back(rest);
    return;
  }
  const auto may_be = [&](const EndNeed& need) {
    return !need.is_free() && rest_m >= least_at(strip, need, rules_) - same_cut_m;
  };
  const int ends = ends_of(strip);
  if (may_be(strip.right)) {
    rest.ways.push_back({i, rest_m, false, true});
  }
  if (may_be(strip.left)) {
    rest.ways.push_back({i, rest_m, true, false});
  }
  if (wholes >= ends) {
    rest.ways.push_back({i, rest_m, false, false});
  }
  rests_.push_back(rest);
}

/// A rest that is too short, and a whole section with it, as the two ends of the strip.
void RestPacker::split(std::size_t i, double rest_m, int& wholes) {
  const Strip& strip = strips_[i];
  --wholes;
  const double both_m = rest_m + rules_.section_m;
  const double left_m = std::clamp(both_m - least_at(strip, strip.right, rules_),
                                   std::min(both_m, rest_m), rules_.section_m);
  rests_.push_back({i, left_m, {{i, left_m, true, false}}});
  rests_.push_back({i, both_m - left_m, {{i, both_m - left_m, false, true}}});
}

/// Into the fullest section that takes it; false when none does.
bool RestPacker::place(const Rest& rest) {
  std::size_t best = none;
  Taken way;
  for (std::size_t bin = 0; bin < packing_.cuts.size(); ++bin) {
    for (const Taken& one : rest.ways) {
      if (takes(packing_.cuts[bin], one, strips_, rules_.section_m) &&
          (best == none || filled_m(packing_.cuts[bin]) > filled_m(packing_.cuts[best]))) {
        best = bin;
        way = one;
      }
    }
  }
  if (best == none) {
    return false;
  }
  packing_.cuts[best].push_back(way);
  return true;
}

/// Whether it may lie between whole sections, where its pieces are bound to no end.
bool RestPacker::is_divisible(const Rest& rest) const {
  return !rest.ways.back().is_left && !rest.ways.back().is_right;
}

/// The emptiest sections first, or the fullest; no part is shorter than the least piece.
bool RestPacker::place_in_parts(const Rest& rest, bool fills_up) {
  std::vector<std::size_t> order(packing_.cuts.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const double one = filled_m(packing_.cuts[a]);
    const double other = filled_m(packing_.cuts[b]);
    return fills_up ? one > other : one < other;
  });
  const double least_m = least_of(strips_[rest.strip], rules_);
  double rest_m = rest.length_m;
  for (const std::size_t bin : order) {
    double part_m = std::min(rest_m, rules_.section_m - filled_m(packing_.cuts[bin]));
    if (rest_m - part_m > same_cut_m && rest_m - part_m < least_m) {
      part_m = rest_m - least_m;
    }
    const Taken part{rest.strip, part_m, false, false};
    if (part_m >= least_m - same_cut_m &&
        takes(packing_.cuts[bin], part, strips_, rules_.section_m)) {
      packing_.cuts[bin].push_back(part);
      rest_m -= part_m;
      if (rest_m <= same_cut_m) {
        return true;
      }
    }
  }
  return false;
}

void RestPacker::give_ends_to_wholes() {
  for (std::size_t i = 0; i < strips_.size(); ++i) {
    Wholes& wholes = packing_.wholes[i];
    wholes.is_left = wholes.count > 0 && !strips_[i].left.is_free();
    wholes.is_right = wholes.count > 0 && !strips_[i].right.is_free();
  }
  for (const std::vector<Taken>& cut : packing_.cuts) {
    for (const Taken& taken : cut) {
      Wholes& wholes = packing_.wholes[taken.strip];
      wholes.is_left = wholes.is_left && !taken.is_left;
      wholes.is_right = wholes.is_right && !taken.is_right;
    }
  }
}

/// Strips into whole sections and rests; a rest that is too short goes with a whole section, which
/// may be laid in parts or as the strip's two ends.
void RestPacker::divide(bool in_parts) {
  for (std::size_t i = 0; i < strips_.size(); ++i) {
    int wholes = wholes_of(strips_[i], rules_);
    const double rest_m = strips_[i].length_m - wholes * rules_.section_m;
    if (rest_m > same_cut_m) {
      one_rest(i, rest_m, wholes);
      if (wholes > 0 &&
          (rests_.back().ways.empty() || rest_m < least_of(strips_[i], rules_) - same_cut_m)) {
        rests_.pop_back();
        const int ends = ends_of(strips_[i]);
        if (in_parts && wholes > ends) {
          --wholes;
          const double both_m = rest_m + rules_.section_m;
          rests_.push_back({i, both_m, {{i, both_m, false, false}}});
        } else {
          split(i, rest_m, wholes);
        }
      }
    }
    packing_.wholes.push_back({wholes, false, false});
  }
  std::stable_sort(rests_.begin(), rests_.end(),
                   [](const Rest& a, const Rest& b) { return a.length_m > b.length_m; });
}

Packing RestPacker::pack() {
  divide(false);
  for (const Rest& rest : rests_) {
    if (!place(rest)) {
      packing_.cuts.push_back({rest.ways.front()});
    }
  }
  give_ends_to_wholes();
  return packing_;
}

std::optional<Packing> RestPacker::pack_within(std::size_t most, bool fills_up) {
  divide(true);
  const std::size_t wholes = packing_.bought();
  packing_.cuts.resize(most > wholes ? most - wholes : 0);
  std::stable_partition(rests_.begin(), rests_.end(),
                        [&](const Rest& rest) { return !is_divisible(rest); });
  for (const Rest& rest : rests_) {
    const bool in_parts = is_divisible(rest);
    const bool is_placed = (in_parts && fills_up)
                               ? place_in_parts(rest, true)
                               : place(rest) || (in_parts && place_in_parts(rest, false));
    if (!is_placed) {
      return std::nullopt;
    }
  }
  std::erase_if(packing_.cuts, [](const std::vector<Taken>& cut) { return cut.empty(); });
  give_ends_to_wholes();
  return packing_;
}

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

  const std::vector<Strip>& strips_;
  const CuttingRules& rules_;
  const Packing& packing_;
  std::vector<Parts> parts_;
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

void Layer::lay(CuttingPlan& plan) {
  parts_.resize(strips_.size());
  for (std::size_t cut = 0; cut < packing_.cuts.size(); ++cut) {
    lay_cut(cut);
  }
  lay_whole();
  std::vector<std::size_t> numbers(packing_.cuts.size(), none);
  for (const Parts& parts : parts_) {
    plan.strips.emplace_back();
    for (const std::vector<Piece>* some : {&parts.left, &parts.middle, &parts.right}) {
      for (const Piece& piece : *some) {
        std::size_t number = piece.cut == none ? none : numbers[piece.cut];
        if (number == none) {
          number = plan.bought++;
        }
        if (piece.cut != none) {
          numbers[piece.cut] = number;
        }
        plan.strips.back().push_back({number, piece.from_m, piece.length_m});
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

Packing pack_rests(const std::vector<Strip>& strips, const CuttingRules& rules) {
  return RestPacker(strips, rules).pack();
}

std::optional<Packing> pack_in_parts(const std::vector<Strip>& strips, const CuttingRules& rules,
                                     std::size_t most) {
  std::optional<Packing> packing = RestPacker(strips, rules).pack_within(most, false);
  return packing ? packing : RestPacker(strips, rules).pack_within(most, true);
}

CuttingPlan plan_cuts(std::vector<Strip> strips, const CuttingRules& rules) {
  CuttingPlan plan;
  give_up_the_impossible(strips, rules);
  plan.lower_bound = lower_bound_of(strips, rules);
  Packing packing = pack_rests(strips, rules);
  plan.is_least =
      packing.bought() == plan.lower_bound || bring_down(strips, rules, plan.lower_bound, packing);
  Layer(strips, rules, packing).lay(plan);
  return plan;
}

}  // namespace ridgeward::takeoff
