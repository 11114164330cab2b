#include "framing/headers.hpp"

#include "units/length.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::framing {

namespace {

constexpr double near_m = 1e-9;
constexpr double snap_m = 1e-6;
/// A header over more than this is doubled: IRC R802.9, 2018, as a training page on that section
/// tells it (codeoperative.net, irc18_802.9).
constexpr double longest_single_m = 4.0 * units::foot_m;

/// A stretch along the eave; empty when there is no room.
struct Reach {
  double from_m = 0.0;
  double to_m = 0.0;
  bool is_empty() const { return !(to_m - from_m > near_m); }
};

/// A level stretch up the slope.
struct Band {
  double low_m = 0.0;
  double high_m = 0.0;
};

bool meets(const polygon::Box& box, double at_m, double thickness_m, double foot_m, double head_m) {
  return at_m + 0.5 * thickness_m > box.low.x + near_m &&
         at_m - 0.5 * thickness_m < box.high.x - near_m && foot_m < box.high.y - near_m &&
         head_m > box.low.y + near_m;
}

class Planner {
 public:
  Planner(const std::vector<Wanted>& wanted, const polygon::Loops& border,
          std::vector<WholeRafter> standing, double thickness_m);

  OpeningPlan plan();

 private:
  bool is_cut(const WholeRafter& rafter) const;
  Reach on_plane(const polygon::Box& box, const Band& band) const;
  Reach reach_of(const polygon::Box& box, const Band& band) const;
  polygon::Box framed(const Wanted& group) const;
  bool merge_once();
  bool adopt_small();
  void add_trimmers(const Wanted& group, OpeningPlan& plan);
  void add_ply(const Wanted& group, double face_m, bool is_on_left, const Band& band,
               OpeningPlan& plan);
  WholeRafter ply_beside(const WholeRafter& rafter, double at_m) const;
  bool fits(const WholeRafter& ply) const;
  bool add_header(const Wanted& group, bool is_below, OpeningPlan& plan, Reach& reach) const;

  const polygon::Loops& border_;
  polygon::Loops turned_;  ///< the border with u and v exchanged
  double thickness_m_;
  std::vector<WholeRafter> standing_;
  std::vector<WholeRafter> whole_;  ///< those that no opening cuts, plies among them
  std::vector<Wanted> groups_;
  std::vector<Wanted> small_;  ///< between rafters: left alone unless others' framing meets them
};

Planner::Planner(const std::vector<Wanted>& wanted, const polygon::Loops& border,
                 std::vector<WholeRafter> standing, double thickness_m)
    : border_(border), thickness_m_(thickness_m), standing_(std::move(standing)) {
  for (const polygon::Loop& loop : border) {
    polygon::Loop turned;
    turned.reserve(loop.size());
    for (const glm::dvec2 p : loop) {
      turned.emplace_back(p.y, p.x);
    }
    turned_.push_back(std::move(turned));
  }
  for (Wanted one : wanted) {
    const bool cuts =
        std::any_of(standing_.begin(), standing_.end(), [&](const WholeRafter& rafter) {
          return meets(one.box, rafter.at_m, thickness_m_, rafter.foot_v_m, rafter.head_v_m);
        });
    if (one.is_small && !cuts) {
      small_.push_back(std::move(one));
      continue;
    }
    // A side that all but lies on a rafter's face lies on it.
    for (const WholeRafter& rafter : standing_) {
      const double right = rafter.at_m + 0.5 * thickness_m_;
      const double left = rafter.at_m - 0.5 * thickness_m_;
      one.box.low.x = std::abs(one.box.low.x - right) < snap_m ? right : one.box.low.x;
      one.box.high.x = std::abs(one.box.high.x - left) < snap_m ? left : one.box.high.x;
    }
    groups_.push_back(std::move(one));
  }
}

bool Planner::is_cut(const WholeRafter& rafter) const {
  return std::any_of(groups_.begin(), groups_.end(), [&](const Wanted& group) {
    return meets(group.box, rafter.at_m, thickness_m_, rafter.foot_v_m, rafter.head_v_m);
  });
}

/// How far the plane goes to both sides of a box at the height of a band.
Reach Planner::on_plane(const polygon::Box& box, const Band& band) const {
  Reach reach{HUGE_VAL, -HUGE_VAL};
  for (const double share : {0.01, 0.5, 0.99}) {
    const double v = band.low_m + share * (band.high_m - band.low_m);
    for (const polygon::Chord& chord : polygon::chords_at(border_, v)) {
      if (chord.from < box.high.x - near_m && chord.to > box.low.x + near_m) {
        reach.from_m = std::min(reach.from_m, chord.from);
        reach.to_m = std::max(reach.to_m, chord.to);
      }
    }
  }
  return reach;
}

/// From the face of the whole rafter on the left to that on the right.
Reach Planner::reach_of(const polygon::Box& box, const Band& band) const {
  Reach reach = on_plane(box, band);
  if (reach.is_empty()) {
    return reach;
  }
  // Past the border, so that a sloping one cuts the header's end.
  reach.from_m -= thickness_m_;
  reach.to_m += thickness_m_;
  for (const WholeRafter& rafter : whole_) {
    if (rafter.foot_v_m > band.high_m - near_m || rafter.head_v_m < band.low_m + near_m) {
      continue;
    }
    const double right = rafter.at_m + 0.5 * thickness_m_;
    const double left = rafter.at_m - 0.5 * thickness_m_;
    if (right <= box.low.x + near_m) {
      reach.from_m = std::max(reach.from_m, right);
    } else if (left >= box.high.x - near_m) {
      reach.to_m = std::min(reach.to_m, left);
    }
  }
  return reach;
}

Band below(const polygon::Box& box, double depth_m) { return {box.low.y - depth_m, box.low.y}; }
Band above(const polygon::Box& box, double depth_m) { return {box.high.y, box.high.y + depth_m}; }

/// A group with its headers, both doubled.
polygon::Box Planner::framed(const Wanted& group) const {
  polygon::Box all = group.box;
  const double depth = 2.0 * thickness_m_;
  for (const Band& band : {below(group.box, depth), above(group.box, depth)}) {
    const Reach reach = reach_of(group.box, band);
    if (!reach.is_empty()) {
      all.add({reach.from_m, band.low_m});
      all.add({reach.to_m, band.high_m});
    }
  }
  return all;
}

bool overlaps(const polygon::Box& one, const polygon::Box& other) {
  return one.low.x < other.high.x - near_m && other.low.x < one.high.x - near_m &&
         one.low.y < other.high.y - near_m && other.low.y < one.high.y - near_m;
}

/// Puts groups whose framing would meet together; whether there were some.
bool Planner::merge_once() {
  whole_.clear();
  std::copy_if(standing_.begin(), standing_.end(), std::back_inserter(whole_),
               [&](const WholeRafter& rafter) { return !is_cut(rafter); });
  std::vector<Wanted> merged;
  std::vector<polygon::Box> boxes;
  for (const Wanted& group : groups_) {
    const polygon::Box box = framed(group);
    std::size_t i = 0;
    while (i < merged.size() && !overlaps(boxes[i], box)) {
      ++i;
    }
    if (i == merged.size()) {
      merged.push_back(group);
      boxes.push_back(box);
      continue;
    }
    merged[i].id += ", " + group.id;
    for (const glm::dvec2 corner : {group.box.low, group.box.high}) {
      merged[i].box.add(corner);
    }
    boxes[i].add(box.low);
    boxes[i].add(box.high);
  }
  const bool is_any = merged.size() < groups_.size();
  groups_ = std::move(merged);
  return is_any;
}

/// Frames small ones that lie in the way of others' headers; whether there were some.
bool Planner::adopt_small() {
  const std::size_t before = groups_.size();
  std::vector<polygon::Box> boxes;
  boxes.reserve(before);
  for (const Wanted& group : groups_) {
    boxes.push_back(framed(group));
  }
  std::vector<Wanted> alone;
  for (Wanted& one : small_) {
    const bool is_met = std::any_of(boxes.begin(), boxes.end(), [&](const polygon::Box& box) {
      return overlaps(box, one.box);
    });
    (is_met ? groups_ : alone).push_back(std::move(one));
  }
  small_ = std::move(alone);
  return groups_.size() > before;
}

/// A ply along a rafter: at a hip or valley it ends higher or lower than the rafter does.
WholeRafter Planner::ply_beside(const WholeRafter& rafter, double at_m) const {
  WholeRafter ply{at_m, rafter.foot_v_m, rafter.head_v_m};
  for (const double share : {-0.499, 0.499}) {
    for (const polygon::Chord& chord : polygon::chords_at(turned_, at_m + share * thickness_m_)) {
      if (chord.from < rafter.head_v_m && chord.to > rafter.foot_v_m) {
        ply.foot_v_m = std::min(ply.foot_v_m, chord.from);
        ply.head_v_m = std::max(ply.head_v_m, chord.to);
      }
    }
  }
  return ply;
}

/// Whether a ply is clear of all openings and other rafters.
bool Planner::fits(const WholeRafter& ply) const {
  const double at_m = ply.at_m;
  const double foot = ply.foot_v_m;
  const double head = ply.head_v_m;
  const auto is_in = [&](const WholeRafter& other) {
    return std::abs(other.at_m - at_m) < thickness_m_ - near_m && other.foot_v_m < head - near_m &&
           other.head_v_m > foot + near_m;
  };
  const auto is_met = [&](const Wanted& one) {
    return meets(one.box, at_m, thickness_m_, foot, head);
  };
  return std::none_of(groups_.begin(), groups_.end(), is_met) &&
         std::none_of(small_.begin(), small_.end(), is_met) &&
         std::none_of(standing_.begin(), standing_.end(), is_in) &&
         std::none_of(whole_.begin(), whole_.end(), is_in);
}

void Planner::add_ply(const Wanted& group, double face_m, bool is_on_left, const Band& band,
                      OpeningPlan& plan) {
  const double way = is_on_left ? 1.0 : -1.0;  // towards the opening
  const auto rafter = std::find_if(whole_.begin(), whole_.end(), [&](const WholeRafter& one) {
    return std::abs(one.at_m + 0.5 * way * thickness_m_ - face_m) < near_m &&
           one.foot_v_m < band.high_m - near_m && one.head_v_m > band.low_m + near_m;
  });
  const bool is_ply = std::any_of(plan.trimmers.begin(), plan.trimmers.end(), [&](const auto& ply) {
    return std::abs(ply.mark.at_m + 0.5 * way * thickness_m_ - face_m) < near_m;
  });
  if (rafter == whole_.end() || is_ply) {
    return;  // the plane's border, or the lower header's own ply
  }
  for (const double at : {rafter->at_m + way * thickness_m_, rafter->at_m - way * thickness_m_}) {
    const bool is_doubled =
        std::any_of(plan.trimmers.begin(), plan.trimmers.end(), [&](const auto& ply) {
          return std::abs(ply.mark.at_m - at) < near_m && ply.opening == group.id;
        });
    if (is_doubled) {
      return;
    }
    const WholeRafter ply = ply_beside(*rafter, at);
    if (fits(ply)) {
      plan.trimmers.push_back({{at, ply.foot_v_m + snap_m, ply.head_v_m - snap_m, true}, group.id});
      whole_.push_back(ply);
      return;
    }
  }
}

void Planner::add_trimmers(const Wanted& group, OpeningPlan& plan) {
  for (const Band& band : {below(group.box, thickness_m_), above(group.box, thickness_m_)}) {
    const Reach reach = reach_of(group.box, band);
    if (!reach.is_empty()) {
      add_ply(group, reach.from_m, true, band, plan);
      add_ply(group, reach.to_m, false, band, plan);
    }
  }
}

bool Planner::add_header(const Wanted& group, bool is_below, OpeningPlan& plan,
                         Reach& reach) const {
  const auto band_of = [&](double depth_m) {
    return is_below ? below(group.box, depth_m) : above(group.box, depth_m);
  };
  reach = reach_of(group.box, band_of(thickness_m_));
  if (reach.is_empty()) {
    return false;
  }
  const int plies = header_plies(reach.to_m - reach.from_m);
  const Band band = band_of(plies * thickness_m_);
  plan.kept.push_back({reach.from_m, reach.to_m, band.low_m, band.high_m});
  plan.roles.push_back({true, group.id, plies});
  return true;
}

OpeningPlan Planner::plan() {
  while (merge_once() || adopt_small()) {
  }
  OpeningPlan plan;
  for (const Wanted& group : groups_) {
    plan.kept.push_back({group.box.low.x, group.box.high.x, group.box.low.y, group.box.high.y});
    plan.roles.push_back({false, group.id, 1});
    add_trimmers(group, plan);
  }
  for (const Wanted& group : groups_) {
    plan.blocked.push_back(group.box);
    std::array<Reach, 2> reach;
    const bool has_below = add_header(group, true, plan, reach[0]);
    const bool has_above = add_header(group, false, plan, reach[1]);
    if (has_below && has_above) {
      plan.blocked.back().low.x = std::max(reach[0].from_m, reach[1].from_m);
      plan.blocked.back().high.x = std::min(reach[0].to_m, reach[1].to_m);
    }
  }
  plan.whole = standing_;
  for (const Trimmer& ply : plan.trimmers) {
    plan.whole.push_back({ply.mark.at_m, ply.mark.low_v_m, ply.mark.high_v_m});
  }
  std::stable_sort(plan.trimmers.begin(), plan.trimmers.end(),
                   [](const Trimmer& l, const Trimmer& r) { return l.mark.at_m < r.mark.at_m; });
  return plan;
}

}  // namespace

bool OpeningPlan::has_piece(double at_m, double foot_v_m, double head_v_m) const {
  const double middle = 0.5 * (foot_v_m + head_v_m);
  return std::any_of(whole.begin(), whole.end(), [&](const WholeRafter& rafter) {
    return std::abs(rafter.at_m - at_m) < near_m && rafter.foot_v_m < middle &&
           middle < rafter.head_v_m;
  });
}

bool OpeningPlan::blocks(double at_m, double foot_v_m, double head_v_m, double thickness_m) const {
  return std::any_of(blocked.begin(), blocked.end(), [&](const polygon::Box& box) {
    return meets(box, at_m, thickness_m, foot_v_m, head_v_m);
  });
}

int header_plies(double length_m) { return length_m > longest_single_m + near_m ? 2 : 1; }

OpeningPlan plan_openings(const std::vector<Wanted>& wanted, const polygon::Loops& border,
                          const std::vector<WholeRafter>& standing, double thickness_m) {
  return wanted.empty() ? OpeningPlan{} : Planner(wanted, border, standing, thickness_m).plan();
}

}  // namespace ridgeward::framing
