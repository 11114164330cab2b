#include "framing/trusses.hpp"

#include "framing/seats.hpp"
#include "units/length.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::framing {

namespace {

constexpr double same_m = 1e-5;
constexpr double farthest_girder_m = 8.0 * units::foot_m;

/// A top chord of a truss part, as it stands in plan.
struct Chord {
  MemberId member;
  double station_m = 0.0;  ///< along the direction of its trusses' layout
  double foot_m = 0.0;     ///< across, in plan
  double head_m = 0.0;
  bool rises() const { return head_m > foot_m; }
};

/// Planes of one part whose eaves run along one line or against it.
struct Direction {
  glm::dvec2 along{1.0, 0.0};
  glm::dvec2 start{0.0};  ///< station 0: the left wall end of its first plane
  double longest_ridge_m = 0.0;
  std::vector<PlaneId> planes;

  double station(glm::dvec3 p) const { return glm::dot(glm::dvec2{p} - start, along); }
  double across(glm::dvec3 p) const {
    const glm::dvec2 d = glm::dvec2{p} - start;
    return along.x * d.y - along.y * d.x;
  }
};

bool ends_at_hip(const Building& building, const Member& member) {
  return !member.head_line.is_none() &&
         building.surface.lines[member.head_line].kind == surface::LineKind::hip;
}

double longest_ridge(const surface::Surface& surface, const surface::Plane& plane) {
  double longest = 0.0;
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface.lines[step.line];
      longest = line.kind == surface::LineKind::ridge ? std::max(longest, line.length_m) : longest;
    }
  }
  return longest;
}

class TrussMaker {
 public:
  TrussMaker(const Building& building, std::size_t part, Framing& framing)
      : building_(building), surface_(building.surface), part_(part), framing_(framing) {}

  void make();

 private:
  void find_directions();
  bool is_side(const Direction& direction, const surface::Plane& plane) const;
  bool is_on_valley(const Direction& direction, const Member& member) const;
  double end_distance(const surface::Plane& plane, const Member& member) const;
  void to_the_hip(Member& member) const;
  void name_hip_end(const std::vector<MemberId>& rising, const surface::Plane& plane);
  void name_chords(const Direction& direction, PlaneId id);
  void assemble(const Direction& direction);
  void add_truss(const std::vector<Chord>& chords);
  void add_level_top(const Truss& truss, const Member& left, const Member& right, double& flat_m);

  const Building& building_;
  const surface::Surface& surface_;
  std::size_t part_;
  Framing& framing_;
  std::vector<Direction> directions_;
  std::size_t count_ = 0;
};

void TrussMaker::find_directions() {
  for (const PlaneId id : surface_.planes.ids()) {
    const surface::Plane& plane = surface_.planes[id];
    if (plane.part != part_) {
      continue;
    }
    const glm::dvec2 along = glm::normalize(glm::dvec2{plane.frame.along});
    auto found = std::find_if(directions_.begin(), directions_.end(), [&](const Direction& one) {
      return std::abs(one.along.x * along.y - one.along.y * along.x) < 1e-9;
    });
    if (found == directions_.end()) {
      const glm::dvec3 start = plane.frame.at({plane.wall_start_u_m, 0.0});
      directions_.push_back({along, glm::dvec2{start}, 0.0, {}});
      found = directions_.end() - 1;
    }
    found->planes.push_back(id);
    found->longest_ridge_m = std::max(found->longest_ridge_m, longest_ridge(surface_, plane));
  }
  std::stable_sort(directions_.begin(), directions_.end(),
                   [](const Direction& l, const Direction& r) {
                     return l.longest_ridge_m > r.longest_ridge_m + same_m;
                   });
}

/// Whether full trusses stand on the plane: it has a ridge; of a roof that comes to a point, the
/// planes of its first direction.
bool TrussMaker::is_side(const Direction& direction, const surface::Plane& plane) const {
  if (directions_.front().longest_ridge_m == 0.0) {
    return &direction == &directions_.front();
  }
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::LineKind kind = surface_.lines[step.line].kind;
      if (kind == surface::LineKind::ridge || kind == surface::LineKind::pitch_break ||
          kind == surface::LineKind::shed_top) {
        return true;
      }
    }
  }
  return false;
}

/// Whether a chord starts on another roof: that of an earlier part, or of a longer ridge.
bool TrussMaker::is_on_valley(const Direction& direction, const Member& member) const {
  for (const LineId id : {member.foot_line, member.head_line}) {
    if (id.is_none() || surface_.lines[id].kind != surface::LineKind::valley) {
      continue;
    }
    const surface::Line& line = surface_.lines[id];
    const PlaneId other =
        line.left_plane() == member.plane ? line.right_plane() : line.left_plane();
    if (other.is_none() || surface_.planes[other].part > part_) {
      continue;
    }
    if (surface_.planes[other].part < part_ || &direction != &directions_.front()) {
      return true;
    }
  }
  return false;
}

/// From the end wall on whose side the chord's hip comes down.
double TrussMaker::end_distance(const surface::Plane& plane, const Member& member) const {
  const surface::Line& hip = surface_.lines[member.head_line];
  const glm::dvec3 a = surface_.nodes[hip.from];
  const glm::dvec3 b = surface_.nodes[hip.to];
  const double low_u = plane.frame.uv(a.z < b.z ? a : b).x;
  return low_u < member.at_m ? member.at_m - plane.wall_start_u_m
                             : plane.wall_end_u_m - member.at_m;
}

/// A chord with a level top does not end against the hip, which runs over it.
void TrussMaker::to_the_hip(Member& member) const {
  const surface::Plane& plane = surface_.planes[member.plane];
  member.to =
      plane.frame.at({member.at_m, plane.frame.uv(member.to).y +
                                       member.head_shortening_m / std::cos(plane.pitch.radians())});
  member.length_m = glm::length(member.to - member.from);
  member.head_shortening_m = member.side_cut_rad = 0.0;
  set_points(member);
}

/// Jacks, girder and step-downs of one end, from the chords that reach its hip and the first that
/// reaches the ridge, outermost first.
void TrussMaker::name_hip_end(const std::vector<MemberId>& rising, const surface::Plane& plane) {
  std::size_t girder = 0;
  const auto distance = [&](std::size_t i) {
    const Member& member = framing_.members[rising[i]];
    return !ends_at_hip(building_, member) ? HUGE_VAL : end_distance(plane, member);
  };
  while (girder + 1 < rising.size() && distance(girder + 1) <= farthest_girder_m + same_m) {
    ++girder;
  }
  const bool is_low = !ends_at_hip(building_, framing_.members[rising.back()]) &&
                      girder + 2 == rising.size() &&
                      distance(girder) + building_.model.parts[part_].framing.spacing_m <=
                          farthest_girder_m + same_m;
  girder += is_low ? 1U : 0U;  // the hip is so short that the first full truss carries the jacks
  for (std::size_t i = 0; i < rising.size(); ++i) {
    Member& member = framing_.members[rising[i]];
    if (i == girder) {
      member.kind = MemberKind::girder_truss;
    }
    if (i >= girder && ends_at_hip(building_, member)) {
      to_the_hip(member);
    }
    if (i != girder && ends_at_hip(building_, member)) {
      member.kind = i < girder ? MemberKind::jack_truss : MemberKind::step_down_truss;
    }
  }
}

void TrussMaker::name_chords(const Direction& direction, PlaneId id) {
  const surface::Plane& plane = surface_.planes[id];
  const PlaneFraming& own = framing_.planes[id];
  const bool has_full_trusses = is_side(direction, plane);
  std::map<LineId, std::vector<MemberId>> by_hip;
  std::vector<MemberId> full;
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    Member& member = framing_.members[MemberId(i)];
    if (member.kind == MemberKind::header || member.kind == MemberKind::trimmer) {
      continue;
    }
    if (is_on_valley(direction, member)) {
      member.kind = MemberKind::valley_truss;
    } else if (!has_full_trusses) {
      member.kind = MemberKind::jack_truss;
    } else if (ends_at_hip(building_, member)) {
      by_hip[member.head_line].emplace_back(i);
    } else {
      member.kind = MemberKind::common_truss;
      full.emplace_back(i);
    }
  }
  for (auto& [hip, rising] : by_hip) {
    // From the hip's foot inwards; then the first full truss, if it stands next to them.
    const bool is_leftward = framing_.members[rising.front()].line_length_m >
                             framing_.members[rising.back()].line_length_m;
    if (is_leftward) {
      std::reverse(rising.begin(), rising.end());
    }
    const double last = framing_.members[rising.back()].at_m;
    const auto nearest = std::min_element(full.begin(), full.end(), [&](MemberId l, MemberId r) {
      const auto beyond = [&](MemberId m) {
        const double step = (is_leftward ? -1.0 : 1.0) * (framing_.members[m].at_m - last);
        return step > 0.0 ? step : HUGE_VAL;
      };
      return beyond(l) < beyond(r);
    });
    if (nearest != full.end()) {
      rising.push_back(*nearest);
    }
    name_hip_end(rising, plane);
  }
}

/// The level top between two hips, under the jacks that run over it.
void TrussMaker::add_level_top(const Truss& truss, const Member& left, const Member& right,
                               double& flat_m) {
  const model::Part& part = building_.model.parts[part_];
  const PartStock& timber = building_.stock[part_];
  glm::dvec3 from = left.to;
  glm::dvec3 to = right.to;
  const surface::Line& hip = surface_.lines[left.head_line];
  const PlaneId end = hip.left_plane() == left.plane ? hip.right_plane() : hip.left_plane();
  const double slope_rad = end.is_none() ? 0.0 : surface_.planes[end].pitch.radians();
  from.z = to.z =
      std::min(from.z, to.z) - (part.deck_m + timber.rafter_depth_m) / std::cos(slope_rad);
  flat_m = glm::length(to - from);
  if (flat_m <= same_m) {
    return;
  }
  Member top;
  top.kind = left.kind;
  top.lie = Lie::free;
  top.part = part_;
  top.from = from;
  top.to = to;
  top.line_length_m = top.length_m = flat_m;
  top.plumb_cut_rad = 0.5 * M_PI;
  top.stock = part.framing.rafter;
  top.thickness_m = timber.rafter_m;
  top.depth_m = timber.rafter_depth_m;
  top.truss = truss.id;
  top.id = truss.id + "/top";
  set_points(top);
  framing_.members.push_back(std::move(top));
}

void TrussMaker::add_truss(const std::vector<Chord>& chords) {
  const model::Part& part = building_.model.parts[part_];
  Truss truss;
  truss.id = part.id + "/t" + std::to_string(++count_);
  truss.part = part_;
  truss.station_m = chords.front().station_m;
  truss.kind = framing_.members[chords.front().member].kind;
  double low_z = HUGE_VAL;
  double high_z = -HUGE_VAL;
  double least = HUGE_VAL;
  double most = -HUGE_VAL;
  for (const Chord& chord : chords) {
    Member& member = framing_.members[chord.member];
    truss.kind =
        static_cast<int>(member.kind) < static_cast<int>(truss.kind) ? member.kind : truss.kind;
    member.truss = truss.id;
    truss.chords.push_back(chord.member);
    low_z = std::min({low_z, member.from.z, member.to.z});
    high_z = std::max({high_z, member.from.z, member.to.z});
    least = std::min({least, chord.foot_m, chord.head_m});
    most = std::max({most, chord.foot_m, chord.head_m});
  }
  for (const Chord& chord : chords) {
    if (framing_.members[chord.member].kind == MemberKind::girder_truss) {
      truss.kind = MemberKind::girder_truss;
    }
  }
  truss.span_m = most - least;
  truss.height_m = high_z - low_z;
  const Member& first = framing_.members[chords.front().member];
  const Member& last = framing_.members[chords.back().member];
  if (chords.size() > 1 && truss.kind != MemberKind::common_truss &&
      ends_at_hip(building_, first) && ends_at_hip(building_, last)) {
    const std::size_t before = framing_.members.size();
    add_level_top(truss, Member(first), Member(last), truss.flat_m);
    if (framing_.members.size() > before) {
      truss.chords.emplace_back(before);
    }
  }
  framing_.trusses.push_back(std::move(truss));
}

/// Chords at one station, from one side across: up to the top and down again is one truss.
void TrussMaker::assemble(const Direction& direction) {
  std::vector<Chord> all;
  for (const PlaneId id : direction.planes) {
    const PlaneFraming& own = framing_.planes[id];
    for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
      const Member& member = framing_.members[MemberId(i)];
      if (is_truss(member.kind)) {
        all.push_back({MemberId(i), direction.station(member.from), direction.across(member.from),
                       direction.across(member.to)});
      }
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const Chord& l, const Chord& r) {
    return std::abs(l.station_m - r.station_m) > same_m
               ? l.station_m < r.station_m
               : std::min(l.foot_m, l.head_m) < std::min(r.foot_m, r.head_m);
  });
  std::vector<Chord> open;
  const auto close = [&] {
    if (!open.empty()) {
      add_truss(open);
      open.clear();
    }
  };
  for (const Chord& chord : all) {
    const bool goes_on = !open.empty() &&
                         std::abs(open.back().station_m - chord.station_m) <= same_m &&
                         (open.back().rises() || !chord.rises()) &&
                         framing_.members[chord.member].kind != MemberKind::jack_truss &&
                         framing_.members[open.back().member].kind != MemberKind::jack_truss;
    if (!goes_on) {
      close();
    }
    open.push_back(chord);
  }
  close();
}

void TrussMaker::make() {
  find_directions();
  for (const Direction& direction : directions_) {
    for (const PlaneId id : direction.planes) {
      name_chords(direction, id);
    }
  }
  for (const Direction& direction : directions_) {
    assemble(direction);
  }
}

}  // namespace

void add_trusses(const Building& building, Framing& framing) {
  for (std::size_t part = 0; part < building.model.parts.size(); ++part) {
    if (building.stock[part].is_truss) {
      TrussMaker(building, part, framing).make();
    }
  }
}

}  // namespace ridgeward::framing
