#include "rebuild/stage.hpp"

#include "rebuild/fit.hpp"
#include "rebuild/outline.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <limits>
#include <numeric>
#include <optional>
#include <set>

namespace ridgeward::rebuild {

namespace {

constexpr std::size_t most_polygons = 1500;

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

  std::vector<model::Part> all_parts() const {
    std::vector<model::Part> all = state_.parts;
    all.insert(all.end(), kept_plain_.begin(), kept_plain_.end());
    return all;
  }
  std::size_t understood() const { return state_.parts.size(); }
  std::size_t plain() const { return kept_plain_.size(); }
  std::size_t lost() const { return lost_; }
  double plain_area_m2() const { return plain_area_m2_; }
  double lost_area_m2() const { return lost_area_m2_; }

 private:
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

struct OneBuilding {
  std::vector<model::Part> parts;
  Fit fit;
  std::vector<std::string> notes;
};

double area_of(const Raised& raised) {
  return std::accumulate(raised.begin(), raised.end(), 0.0,
                         [](double sum, const RaisedPlane& one) { return sum + one.area_m2; });
}

std::string counted(std::size_t count, const char* noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

OneBuilding rebuild_one(const Building& building, glm::dvec2 origin, double tolerance_m) {
  OneBuilding one;
  one.fit.building = building.id;
  const std::string who = "building \"" + building.id + "\": ";
  if (building.roof.size() > most_polygons) {
    one.notes.push_back(who + fmt::format("left out: {} polygons are more than {}",
                                          building.roof.size(), most_polygons));
    return one;
  }
  const Faces all = faces_of(building, origin, tolerance_m);
  if (all.faces.empty()) {
    one.notes.push_back(who + "left out: it has no roof planes");
    return one;
  }
  Builder builder(all, tolerance_m);
  builder.run();
  std::optional<Raised> raised = raise_parts(builder.all_parts());
  if (!raised) {
    builder.run_plain();
    raised = raise_parts(builder.all_parts());
  }
  if (!raised) {
    one.notes.push_back(who + "left out: no roof could be raised from its planes");
    return one;
  }
  one.parts = builder.all_parts();
  one.fit.planes_given = all.planes.size();
  one.fit.parts = builder.understood();
  one.fit.plain = builder.plain();
  Group everything(all.faces.size());
  std::iota(everything.begin(), everything.end(), std::size_t{0});
  one.fit.distance_m = distance_m(all, everything, *raised);
  for (const Face& face : all.faces) {
    one.fit.area_given_m2 += face.area_m2;
  }
  one.fit.area_rebuilt_m2 = area_of(*raised);
  std::string text = fmt::format(
      "{} became {}; the rebuilt roof lies within {:.3f} m of what was given, its area is {:.2f} "
      "m2 "
      "against {:.2f} m2",
      counted(one.fit.planes_given, "plane"), counted(one.fit.parts + one.fit.plain, "part"),
      one.fit.distance_m, one.fit.area_rebuilt_m2, one.fit.area_given_m2);
  if (builder.plain() > 0) {
    text += fmt::format(
        "; plain planes, of which no eaves and gables could be made: {} of the parts, "
        "{:.1f} m2",
        builder.plain(), builder.plain_area_m2());
  }
  if (builder.lost() > 0) {
    text += fmt::format("; left out, too small or too ragged: {}, {:.1f} m2",
                        counted(builder.lost(), "plane"), builder.lost_area_m2());
  }
  if (all.unevenness_m > tolerance_m) {
    text += fmt::format("; its polygons are flat to {:.3f} m only", all.unevenness_m);
  }
  one.notes.push_back(who + text);
  return one;
}

/// A round place near the lower left corner of everything.
glm::dvec2 origin_of(const RoofPlanes& given) {
  glm::dvec2 low(std::numeric_limits<double>::infinity());
  for (const Building& building : given.buildings) {
    for (const RoofPolygon& polygon : building.roof) {
      for (const glm::dvec3& corner : polygon.empty() ? std::vector<glm::dvec3>{} : polygon[0]) {
        low = glm::min(low, glm::dvec2(corner));
      }
    }
  }
  return std::isfinite(low.x) ? low : glm::dvec2(0.0);
}

/// An id of a part: the marks that build derived ids become dashes.
std::string part_id(const std::string& building, std::size_t number, bool is_only_building) {
  if (is_only_building) {
    return fmt::format("part-{}", number + 1);
  }
  std::string id = building.substr(0, 60);
  for (char& c : id) {
    const bool is_plain = static_cast<unsigned char>(c) > 0x20U && c != 0x7F &&
                          std::string_view("/|#:").find(c) == std::string_view::npos;
    c = is_plain ? c : '-';
  }
  return fmt::format("{}-{}", id, number + 1);
}

std::vector<glm::dvec3> moved(std::vector<glm::dvec3> loop, glm::dvec3 by) {
  for (glm::dvec3& corner : loop) {
    corner += by;
  }
  return loop;
}

std::vector<std::vector<glm::dvec3>> loops_of(const RoofPlanes& planes, glm::dvec2 origin) {
  std::vector<std::vector<glm::dvec3>> loops;
  for (const Building& building : planes.buildings) {
    for (const RoofPolygon& polygon : building.roof) {
      for (const std::vector<glm::dvec3>& loop : polygon) {
        loops.push_back(moved(loop, -glm::dvec3(origin, building.ground_m)));
      }
    }
  }
  return loops;
}

}  // namespace

Result<Rebuilt> rebuild(const RoofPlanes& given) {
  Rebuilt rebuilt;
  rebuilt.model.name = given.name;
  rebuilt.model.unit = units::LengthUnit::m;
  const glm::dvec2 origin = origin_of(given);
  rebuilt.origin = origin;
  std::set<std::string> ids;
  for (const Building& building : given.buildings) {
    OneBuilding one = rebuild_one(building, origin, given.tolerance_m);
    std::move(one.notes.begin(), one.notes.end(), std::back_inserter(rebuilt.notes));
    for (std::size_t i = 0; i < one.parts.size(); ++i) {
      one.parts[i].id = part_id(building.id, i, given.buildings.size() == 1);
      while (!ids.insert(one.parts[i].id).second) {
        one.parts[i].id += "'";
      }
      rebuilt.model.parts.push_back(std::move(one.parts[i]));
    }
    if (!one.parts.empty()) {
      rebuilt.fits.push_back(one.fit);
    }
  }
  if (rebuilt.model.parts.empty()) {
    return Fault{"planes.nothing", "", "no roof could be rebuilt from the planes of the file",
                 "check that it holds roofs in metres, z up; a wider tolerance may help"};
  }
  rebuilt.notes.push_back(
      fmt::format("the plan is moved by {:.3f}, {:.3f} m so that its lower left corner is 0, 0",
                  -origin.x, -origin.y));
  rebuilt.notes.emplace_back(
      "the edges of the planes are taken as drip lines; overhangs, heels and thicknesses are not "
      "in the file: give them in the model");
  return rebuilt;
}

Result<Modelled> modelled(std::string_view json) {
  if (!holds_planes(json)) {
    Result<model::ReadModel> read = model::read(json);
    if (!read) {
      return read.faults();
    }
    return Modelled{std::move(read).value(), {}, std::nullopt, {}, {}};
  }
  const Result<RoofPlanes> planes = read_planes(json);
  if (!planes) {
    return planes.faults();
  }
  Result<Rebuilt> rebuilt = rebuild(planes.value());
  if (!rebuilt) {
    Faults faults = rebuilt.faults();
    faults.front().what += planes.value().name.empty() ? "" : ": " + planes.value().name;
    return faults;
  }
  Result<model::ReadModel> read = model::read(model::write(rebuilt.value().model));
  if (!read) {
    return read.faults();
  }
  return Modelled{std::move(read).value(), std::move(rebuilt.value().notes),
                  rebuilt.value().fits.front(), rebuilt.value().fits,
                  loops_of(planes.value(), rebuilt.value().origin)};
}

}  // namespace ridgeward::rebuild
