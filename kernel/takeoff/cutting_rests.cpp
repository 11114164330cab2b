// The quick packing of the cutting plan: whole sections, and rests where they fit.
#include "takeoff/cutting_pieces.hpp"

#include <algorithm>
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
  void lengthen(std::size_t i, double rest_m, bool in_parts, int& wholes);
  void split(std::size_t i, double rest_m, int& wholes);
  void one_rest(std::size_t i, double rest_m, int wholes);
  bool place(const Rest& rest);
  bool is_divisible(const Rest& rest) const;
  bool place_in_parts(const Rest& rest, bool fills_up);
  bool place_in_two(const Rest& rest);
  bool place_pair(Taken one, Taken other, double length_m);
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

/// Two pieces that are `length_m` together, the first as long as its section allows.
bool RestPacker::place_pair(Taken one, Taken other, double length_m) {
  const Strip& strip = strips_[one.strip];
  const auto least_m = [&](const Taken& taken) {
    const EndNeed none_needed;
    return std::max(least_at(strip, taken.is_left ? strip.left : none_needed, rules_),
                    least_at(strip, taken.is_right ? strip.right : none_needed, rules_));
  };
  for (std::vector<Taken>& cut : packing_.cuts) {
    one.length_m = std::min(rules_.section_m - filled_m(cut), length_m - least_m(other));
    other.length_m = length_m - one.length_m;
    if (one.length_m < least_m(one) - same_cut_m || !takes(cut, one, strips_, rules_.section_m)) {
      continue;
    }
    for (std::vector<Taken>& second : packing_.cuts) {
      if (&second != &cut && takes(second, other, strips_, rules_.section_m)) {
        cut.push_back(one);
        second.push_back(other);
        return true;
      }
    }
  }
  return false;
}

/// A rest that is bound to an end, in two pieces: one takes the end, or each takes one.
bool RestPacker::place_in_two(const Rest& rest) {
  return std::any_of(rest.ways.begin(), rest.ways.end(), [&](const Taken& way) {
    Taken left = way;
    Taken right = way;
    left.is_right = right.is_left = false;
    return place_pair(left, right, rest.length_m) || place_pair(right, left, rest.length_m);
  });
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

/// A rest that is too short goes with a whole section, which may be laid in parts or as the strip's
/// two ends.
void RestPacker::lengthen(std::size_t i, double rest_m, bool in_parts, int& wholes) {
  rests_.pop_back();
  if (in_parts && wholes > ends_of(strips_[i])) {
    --wholes;
    const double both_m = rest_m + rules_.section_m;
    rests_.push_back({i, both_m, {{i, both_m, false, false}}});
    return;
  }
  split(i, rest_m, wholes);
}

/// Strips into whole sections and rests.
void RestPacker::divide(bool in_parts) {
  for (std::size_t i = 0; i < strips_.size(); ++i) {
    int wholes = wholes_of(strips_[i], rules_);
    const double rest_m = strips_[i].length_m - wholes * rules_.section_m;
    if (rest_m > same_cut_m) {
      one_rest(i, rest_m, wholes);
      const bool is_short =
          rests_.back().ways.empty() || rest_m < least_of(strips_[i], rules_) - same_cut_m;
      if (wholes > 0 && is_short) {
        lengthen(i, rest_m, in_parts, wholes);
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
    bool is_placed = (!in_parts || !fills_up) && place(rest);
    is_placed = is_placed || (in_parts && place_in_parts(rest, fills_up));
    is_placed = is_placed || place_in_two(rest);
    if (!is_placed) {
      return std::nullopt;
    }
  }
  std::erase_if(packing_.cuts, [](const std::vector<Taken>& cut) { return cut.empty(); });
  give_ends_to_wholes();
  return packing_;
}

}  // namespace

Packing pack_rests(const std::vector<Strip>& strips, const CuttingRules& rules) {
  return RestPacker(strips, rules).pack();
}

std::optional<Packing> pack_in_parts(const std::vector<Strip>& strips, const CuttingRules& rules,
                                     std::size_t most) {
  const std::optional<Packing> packing = RestPacker(strips, rules).pack_within(most, false);
  return packing ? packing : RestPacker(strips, rules).pack_within(most, true);
}

}  // namespace ridgeward::takeoff
