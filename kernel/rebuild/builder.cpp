#include "rebuild/builder.hpp"

#include "rebuild/outline.hpp"
#include "rebuild/sides.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <limits>
#include <numeric>
#include <set>
#include <utility>

namespace ridgeward::rebuild {

namespace {

double area_of(const Faces& all, const Group& group) {
  return std::accumulate(group.begin(), group.end(), 0.0, [&](double sum, std::size_t face) {
    return sum + all.faces[face].area_m2;
  });
}

Group without(const Group& all, const Group& some) {
  Group rest;
  std::set_difference(all.begin(), all.end(), some.begin(), some.end(), std::back_inserter(rest));
  return rest;
}

/// Whether an eave of one lies in one of the other, at one height.
bool share_an_eave(const model::Part& one, const model::Part& other, double reach_m) {
  constexpr double least_m = 0.3;
  if (std::abs(one.plate_m - other.plate_m) > reach_m) {
    return false;
  }
  for (std::size_t i = 0; i < one.outline.size(); ++i) {
    const glm::dvec2 a = one.outline[i];
    const glm::dvec2 way = glm::normalize(one.outline[(i + 1) % one.outline.size()] - a);
    const double size = glm::distance(a, one.outline[(i + 1) % one.outline.size()]);
    for (std::size_t j = 0; j < other.outline.size(); ++j) {
      const glm::dvec2 c = other.outline[j] - a;
      const glm::dvec2 d = other.outline[(j + 1) % other.outline.size()] - a;
      const double common_m = std::min(size, glm::dot(d, way)) - std::max(0.0, glm::dot(c, way));
      const bool are_eaves = one.edges[i].kind == model::EdgeKind::eave &&
                             other.edges[j].kind == model::EdgeKind::eave;
      const double aside_m = std::max(std::abs(cross(way, c)), std::abs(cross(way, d)));
      if (are_eaves && common_m > least_m && aside_m <= reach_m) {
        return true;
      }
    }
  }
  return false;
}

/// Rebuilds one building.
class Builder {
 public:
  Builder(const Faces& all, double tolerance_m)
      : all_(all), joints_(joints_of(all, tolerance_m)), tolerance_m_(tolerance_m) {}

  void run() {
    Group everything(all_.faces.size());
    std::iota(everything.begin(), everything.end(), std::size_t{0});
    for (const Group& group : connected(everything, joints_, is_joined)) {
      settle(group, 0);
    }
    for (const Group& group : state_.open) {
      keep_plain(without(group, state_.done));
    }
  }
  /// Every plane by itself, in pieces of one plane.
  void run_plain() {
    state_ = {};
    kept_plain_.clear();
    lost_ = 0;
    plain_area_m2_ = 0.0;
    lost_area_m2_ = 0.0;
    Group everything(all_.faces.size());
    std::iota(everything.begin(), everything.end(), std::size_t{0});
    keep_plain(everything);
  }

  /// All parts, raised.
  Built built() const {
    Built all{state_.parts, std::nullopt,   state_.parts.size(), kept_plain_.size(),
              lost_,        plain_area_m2_, lost_area_m2_};
    all.parts.insert(all.parts.end(), kept_plain_.begin(), kept_plain_.end());
    all.raised = raise_parts(all.parts);
    drop_doubles(all);
    return all;
  }

 private:
  /// Where two parts have one eave, one of them that takes no face and no area with it goes.
  void drop_doubles(Built& all) const {
    constexpr double least_m2 = 0.01;
    Group everything(all_.faces.size());
    std::iota(everything.begin(), everything.end(), std::size_t{0});
    for (std::size_t i = all.understood; all.raised && i-- > 0;) {
      const auto is_double = [&](const model::Part& other) {
        return &other != &all.parts[i] && share_an_eave(all.parts[i], other, 4.0 * tolerance_m_);
      };
      const auto end = all.parts.begin() + static_cast<std::ptrdiff_t>(all.understood);
      if (std::none_of(all.parts.begin(), end, is_double)) {
        continue;
      }
      std::vector<model::Part> rest = all.parts;
      rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
      std::optional<Raised> raised = raise_parts(rest);
      const auto area_m2 = [](const Raised& roof) {
        return std::accumulate(roof.begin(), roof.end(), 0.0,
                               [](double sum, const auto& plane) { return sum + plane.area_m2; });
      };
      if (raised && area_m2(*raised) > area_m2(*all.raised) - least_m2 &&
          matched(all_, everything, *raised, tolerance_m_).size() >=
              matched(all_, everything, *all.raised, tolerance_m_).size()) {
        all.parts = std::move(rest);
        all.raised = std::move(raised);
        --all.understood;
      }
    }
  }
  static bool is_joined(const Joint& joint) { return joint.is_joined; }

  using Choices = std::vector<std::vector<model::Part>>;
  /// A ridge or a hip, or a line within one plane. Where planes touch for less than four tolerances
  /// they meet at any height.
  bool folds_outward(const Joint& joint) const {
    return joint.is_joined && !joint.is_valley &&
           glm::distance(all_.corners[joint.a], all_.corners[joint.b]) > 4.0 * tolerance_m_;
  }

  struct Attempt {
    std::vector<model::Part> parts;
    Group matched;  ///< faces of the group that the parts have
    Raised raised;
    double distance_m = 0.0;  ///< from the group to the parts; infinite where a face is missing
  };

  /// What is settled so far.
  struct State {
    std::vector<model::Part> parts;
    Group done;               ///< faces that the parts have
    std::vector<Group> open;  ///< of which no parts could be made
  };

  /// The best way to make parts of a group: that which gives the largest area of it back, and of
  /// several that give all of it the nearest.
  std::optional<Attempt> try_all(const Group& group) {
    if (++attempts_ > most_attempts) {
      return std::nullopt;
    }
    std::array<Closing, 5> order{Closing::as_cut, Closing::hull, Closing::rectangle,
                                 Closing::beyond, Closing::completed};
    if (has_cut(group)) {
      order = {Closing::beyond, Closing::rectangle, Closing::completed, Closing::hull,
               Closing::as_cut};
    }
    std::optional<Attempt> best;
    for (const Closing closing : order) {
      for (std::vector<model::Part>& parts : choices_of(group, closing)) {
        std::optional<Attempt> attempt = attempt_of(group, std::move(parts));
        // Eaves that nobody saw are believed only where everything fits.
        const bool counts =
            attempt && (closing != Closing::completed || attempt->matched.size() == group.size());
        if (counts && (!best || is_better(*attempt, *best))) {
          best = std::move(attempt);
        }
        if (best && best->distance_m <= tolerance_m_) {
          return best;
        }
      }
    }
    return best;
  }
  Choices choices_of(const Group& group, Closing closing) const {
    if (closing != Closing::completed) {
      return {parts_of(all_, group, closing, tolerance_m_)};
    }
    const Group kin = with_kin(group);
    Choices choices = completed_parts_of(all_, kin, tolerance_m_);
    if (kin != group) {
      Choices alone = completed_parts_of(all_, group, tolerance_m_);
      std::move(alone.begin(), alone.end(), std::back_inserter(choices));
    }
    return choices;
  }
  /// None where the parts have no face of the group or stand above what was given.
  std::optional<Attempt> attempt_of(const Group& group, std::vector<model::Part> parts) const {
    std::optional<Raised> raised = parts.empty() ? std::nullopt : raise_parts(parts);
    if (!raised || stands_above(all_, *raised, tolerance_m_)) {
      return std::nullopt;
    }
    Group found = matched(all_, group, *raised, tolerance_m_);
    const double distance = found.size() == group.size() ? distance_m(all_, group, *raised)
                                                         : std::numeric_limits<double>::infinity();
    return found.empty() ? std::nullopt
                         : std::optional(Attempt{std::move(parts), std::move(found),
                                                 *std::move(raised), distance});
  }
  bool is_better(const Attempt& one, const Attempt& other) const {
    const double gain = area_of(all_, one.matched) - area_of(all_, other.matched);
    return gain > 1e-6 || (gain > -1e-6 && one.distance_m < other.distance_m - tolerance_m_);
  }
  /// With what is left over of the same planes, and what hangs on that: a turret is seen above a
  /// roof and again beneath its eave.
  Group with_kin(const Group& group) const {
    std::vector<bool> is_kin(all_.faces.size());
    std::vector<bool> is_plane_of_kin(all_.planes.size());
    const Group done = without(state_.done, group);
    bool has_grown = true;
    const auto add = [&](std::size_t face) {
      if (!is_kin[face] && !std::binary_search(done.begin(), done.end(), face)) {
        is_kin[face] = true;
        is_plane_of_kin[all_.faces[face].plane] = true;
        has_grown = true;
      }
    };
    std::for_each(group.begin(), group.end(), add);
    while (has_grown) {
      has_grown = false;
      for (std::size_t face = 0; face < all_.faces.size(); ++face) {
        if (is_plane_of_kin[all_.faces[face].plane]) {
          add(face);
        }
      }
      for (const Joint& joint : joints_) {
        if ((is_kin[joint.left] || is_kin[joint.right]) && folds_outward(joint)) {
          add(joint.left);
          add(joint.right);
        }
      }
    }
    Group kin;
    for (std::size_t face = 0; face < is_kin.size(); ++face) {
      if (is_kin[face]) {
        kin.push_back(face);
      }
    }
    return kin;
  }
  /// Whether other faces join the group or cover a part of it.
  bool has_cut(const Group& group) const {
    return std::any_of(joints_.begin(), joints_.end(), [&](const Joint& joint) {
      const bool has_left = std::binary_search(group.begin(), group.end(), joint.left);
      const bool has_right = std::binary_search(group.begin(), group.end(), joint.right);
      const double step_m = has_left ? joint.step_m : -joint.step_m;
      return has_left != has_right && (joint.is_joined || step_m > 0.0);
    });
  }

  void settle(const Group& whole, int depth) {
    const Group group = without(whole, state_.done);
    if (group.empty()) {
      return;
    }
    std::optional<Attempt> attempt = depth > most_depth ? std::nullopt : try_all(group);
    const std::vector<Group> at_valleys =
        connected(group, joints_, [this](const Joint& joint) { return folds_outward(joint); });
    if (attempt && has_uneven_eaves(*attempt) && settle_apart(at_valleys, depth)) {
      return;
    }
    if (attempt && (attempt->matched.size() == group.size() || pays(group, *attempt))) {
      accept(*attempt);
      for (const Group& rest : connected(without(group, attempt->matched), joints_, is_joined)) {
        settle(rest, depth + 1);
      }
      return;
    }
    for (const std::vector<Group>& pieces : {at_valleys, by_eaves(group)}) {
      if (pieces.size() > 1) {
        for (const Group& piece : pieces) {
          settle(piece, depth + 1);
        }
        return;
      }
    }
    state_.open.push_back(group);
  }
  /// What the parts have of other groups is done too.
  void accept(Attempt& attempt) {
    polygon::Box box;
    for (const RaisedPlane& plane : attempt.raised) {
      box.add(plane.box.low);
      box.add(plane.box.high);
    }
    Group near;
    for (std::size_t face = 0; face < all_.faces.size(); ++face) {
      if (box.touches(polygon::box_of(all_.faces[face].plan.front()))) {
        near.push_back(face);
      }
    }
    const Group found = matched(all_, without(near, state_.done), attempt.raised, tolerance_m_);
    Group done;
    std::set_union(state_.done.begin(), state_.done.end(), found.begin(), found.end(),
                   std::back_inserter(done));
    state_.done = std::move(done);
    std::move(attempt.parts.begin(), attempt.parts.end(), std::back_inserter(state_.parts));
  }

  /// Eaves at different heights: as one part its walls would stand under the highest eave.
  bool has_uneven_eaves(const Attempt& attempt) const {
    return std::any_of(attempt.parts.begin(), attempt.parts.end(), [](const model::Part& part) {
      return std::any_of(part.edges.begin(), part.edges.end(),
                         [](const model::Edge& edge) { return edge.overhang_m > 0.0; });
    });
  }
  /// Whether the pieces give parts with no plane left over; otherwise nothing is changed.
  bool settle_apart(const std::vector<Group>& pieces, int depth) {
    if (pieces.size() < 2) {
      return false;
    }
    const State before = state_;
    for (const Group& piece : pieces) {
      settle(piece, depth + 1);
    }
    const bool is_good = state_.open.size() == before.open.size();
    if (!is_good) {
      state_ = before;
    }
    return is_good;
  }

  /// Whether a part that has only some of the planes is worth it: two planes or more, or a plane
  /// that the others hang on.
  bool pays(const Group& group, const Attempt& attempt) const {
    std::set<std::size_t> planes;
    for (const std::size_t face : attempt.matched) {
      planes.insert(all_.faces[face].plane);
    }
    return planes.size() > 1 || attempt.matched.size() * 2 > group.size();
  }

  /// Apart where the eaves lie at different heights; planes without an eave go with a neighbour.
  std::vector<Group> by_eaves(const Group& group) const {
    const std::vector<BorderLoop> borders = borders_of(all_, group, tolerance_m_);
    std::map<std::size_t, double> eave_m;
    for (const BorderLoop& loop : borders) {
      for (const Border& side : loop) {
        const double z =
            std::min(all_.slope_of(side.face).z(side.a), all_.slope_of(side.face).z(side.b));
        const std::size_t plane = all_.faces[side.face].plane;
        const auto at = eave_m.emplace(plane, z).first;
        at->second = std::min(at->second, z);
      }
    }
    return connected(group, joints_, [&](const Joint& joint) {
      const auto left = eave_m.find(all_.faces[joint.left].plane);
      const auto right = eave_m.find(all_.faces[joint.right].plane);
      const bool has_both = left != eave_m.end() && right != eave_m.end();
      return joint.is_joined &&
             (!has_both || std::abs(left->second - right->second) <= 4.0 * tolerance_m_);
    });
  }

  void keep_plain(const Group& group) {
    const auto is_one_plane = [&](const Joint& joint) {
      return joint.is_joined && all_.faces[joint.left].plane == all_.faces[joint.right].plane;
    };
    for (const Group& piece : connected(group, joints_, is_one_plane)) {
      std::optional<std::vector<model::Part>> parts = plain_parts(piece, Pieces::whole);
      if (!parts) {
        parts = plain_parts(piece, Pieces::convex);
      }
      if (!parts) {
        ++lost_;
        lost_area_m2_ += area_of(all_, piece);
        continue;
      }
      plain_area_m2_ += area_of(all_, piece);
      kept_plain_.insert(kept_plain_.end(), parts->begin(), parts->end());
    }
  }
  /// Parts that together are the plane again.
  std::optional<std::vector<model::Part>> plain_parts(const Group& piece, Pieces pieces) const {
    std::vector<model::Part> parts = plain_parts_of(all_, piece, pieces, tolerance_m_);
    const std::optional<Raised> raised = parts.empty() ? std::nullopt : raise_parts(parts);
    const bool is_good = raised && !stands_above(all_, *raised, 2.0 * tolerance_m_) &&
                         matched(all_, piece, *raised, 2.0 * tolerance_m_).size() == piece.size();
    return is_good ? std::optional(std::move(parts)) : std::nullopt;
  }

  static constexpr int most_depth = 12;
  static constexpr int most_attempts = 400;
  const Faces& all_;
  std::vector<Joint> joints_;
  double tolerance_m_;
  State state_;
  std::vector<model::Part> kept_plain_;
  int attempts_ = 0;
  std::size_t lost_ = 0;
  double plain_area_m2_ = 0.0;
  double lost_area_m2_ = 0.0;
};

}  // namespace

Built build(const Faces& all, double tolerance_m) {
  Builder builder(all, tolerance_m);
  builder.run();
  Built built = builder.built();
  if (!built.raised) {
    builder.run_plain();
    built = builder.built();
  }
  return built;
}

}  // namespace ridgeward::rebuild
