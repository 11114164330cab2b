#include "framing/edge_members.hpp"

#include "base/polygon.hpp"
#include "framing/cuts.hpp"
#include "framing/seats.hpp"
#include "framing/stage.hpp"
#include "units/length.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ridgeward::framing {

namespace {

constexpr double longest_ladder_m = 12.0 * units::inch_m;
constexpr double lookout_spacing_m = 24.0 * units::inch_m;
constexpr double least_m = 0.5 * units::inch_m;
constexpr const char* lookout_stock = "2x4";

/// The members of one plane's rakes.
class RakeFramer {
 public:
  RakeFramer(const Building& building, PlaneId id, Framing& framing)
      : building_(building),
        id_(id),
        plane_(building.surface.planes[id]),
        timber_(building.stock[plane_.part]),
        framing_(framing) {
    for (const surface::Loop& loop : plane_.loops) {
      polygon::Loop turned;
      for (const glm::dvec2 p : surface::corners_uv(building.surface, plane_.frame, loop)) {
        turned.emplace_back(p.y, p.x);
      }
      turned_.push_back(std::move(turned));
    }
  }

  void frame(const GableEnd& end);

 private:
  Member piece(MemberKind kind, glm::dvec2 from, glm::dvec2 to) const;
  bool has_rafter_beyond(const GableEnd& end) const;
  void add_barge(const GableEnd& end, double at_m);
  void add_lookouts(const GableEnd& end);
  double next_face(const GableEnd& end, double v) const;

  const Building& building_;
  PlaneId id_;
  const surface::Plane& plane_;
  const PartStock& timber_;
  Framing& framing_;
  polygon::Loops turned_;  ///< the border with u and v exchanged
  std::size_t barges_ = 0;
  std::size_t lookouts_ = 0;
};

Member RakeFramer::piece(MemberKind kind, glm::dvec2 from, glm::dvec2 to) const {
  Member member;
  member.kind = kind;
  member.part = plane_.part;
  member.plane = id_;
  member.from = plane_.frame.at(from);
  member.to = plane_.frame.at(to);
  member.at_m = 0.5 * (from.x + to.x);
  member.layout_m = member.at_m - plane_.wall_start_u_m;
  member.line_length_m = member.length_m = std::hypot(to.x - from.x, to.y - from.y);
  member.plumb_cut_rad = 0.5 * std::numbers::pi;
  return member;
}

bool RakeFramer::has_rafter_beyond(const GableEnd& end) const {
  const PlaneFraming& own = framing_.planes[id_];
  const double low = std::min(end.wall_u_m, end.rake_u_m);
  const double high = std::max(end.wall_u_m, end.rake_u_m);
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    const Member& member = framing_.members[MemberId(i)];
    if (member.kind != MemberKind::header && member.at_m > low && member.at_m < high) {
      return true;
    }
  }
  return false;
}

void RakeFramer::add_barge(const GableEnd& end, double at_m) {
  const double cosine = std::cos(plane_.pitch.radians());
  for (const polygon::Chord& rise : polygon::chords_at(turned_, at_m)) {
    if (rise.to < end.low_v_m + least_m || rise.from > end.high_v_m - least_m) {
      continue;
    }
    LineId head;
    for (const surface::LoopStep& step : plane_.loops.front()) {
      const surface::Line& line = building_.surface.lines[step.line];
      const double v = plane_.frame.uv(building_.surface.nodes[line.from]).y;
      if (line.kind == surface::LineKind::ridge && std::abs(v - rise.to) < 1e-6) {
        head = step.line;
      }
    }
    const double shortening_m =
        head.is_none() ? 0.0 : 0.5 * thickness_under(building_.surface, building_.stock, head);
    Member member =
        piece(MemberKind::barge_rafter, {at_m, rise.from}, {at_m, rise.to - shortening_m / cosine});
    member.line_length_m = rise.to - rise.from;
    member.head_shortening_m = shortening_m;
    member.head_line = head;
    member.plumb_cut_rad = 0.5 * std::numbers::pi - plane_.pitch.radians();
    member.stock = building_.model.parts[plane_.part].framing.rafter;
    member.thickness_m = timber_.rafter_m;
    member.depth_m = timber_.rafter_depth_m;
    member.id = plane_.id + "/barge" + std::to_string(++barges_);
    set_points(member);
    framing_.members.push_back(std::move(member));
  }
}

/// The near face of the rafter behind the gable-end rafter, where there is one at this height.
double RakeFramer::next_face(const GableEnd& end, double v) const {
  const double way = end.is_on_right ? -1.0 : 1.0;  // into the house
  const double behind_m = 1.5 * timber_.rafter_m;
  const PlaneFraming& own = framing_.planes[id_];
  double nearest = HUGE_VAL;
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    const Member& member = framing_.members[MemberId(i)];
    const double inward = way * (member.at_m - end.wall_u_m) - 0.5 * member.thickness_m;
    if (member.kind == MemberKind::header || inward < behind_m - 0.5 * timber_.rafter_m ||
        inward >= nearest) {
      continue;
    }
    const polygon::Box box = polygon::box_of(member.outline);
    nearest = box.low.y < v && v < box.high.y ? inward : nearest;
  }
  return nearest == HUGE_VAL ? end.wall_u_m : end.wall_u_m + way * nearest;
}

void RakeFramer::add_lookouts(const GableEnd& end) {
  const Stock stock = stock_named(lookout_stock);
  const double way = end.is_on_right ? 1.0 : -1.0;  // out of the house
  const double outer = end.rake_u_m - way * timber_.rafter_m;
  const bool is_ladder = std::abs(end.rake_u_m - end.wall_u_m) <= longest_ladder_m + 1e-9;
  const double reach_m = end.high_v_m - end.low_v_m - 0.5 * stock.depth_m;
  const auto count = static_cast<int>(std::floor(reach_m / lookout_spacing_m - 1e-9));
  for (int k = 1; k <= count; ++k) {
    const double v = end.low_v_m + k * lookout_spacing_m;
    const double inner = is_ladder ? end.wall_u_m : next_face(end, v);
    if (way * (outer - inner) < least_m) {
      continue;
    }
    Member member = piece(MemberKind::lookout, {inner, v}, {outer, v});
    member.lie = is_ladder ? Lie::under_deck : Lie::flat;
    member.stock = lookout_stock;
    member.thickness_m = stock.thickness_m;
    member.depth_m = stock.depth_m;
    member.id = plane_.id + "/l" + std::to_string(++lookouts_);
    set_points(member);
    framing_.members.push_back(std::move(member));
  }
}

void RakeFramer::frame(const GableEnd& end) {
  const double overhang_m = std::abs(end.rake_u_m - end.wall_u_m);
  if (overhang_m < 2.0 * timber_.rafter_m || has_rafter_beyond(end)) {
    return;
  }
  add_barge(end, end.rake_u_m + (end.is_on_right ? -0.5 : 0.5) * timber_.rafter_m);
  add_lookouts(end);
}

/// One piece of blocking of `part`, face to face at height `v` of its plane.
Member block(const Building& building, PlaneId id, std::size_t part, const polygon::Chord& clear,
             double v) {
  const surface::Plane& plane = building.surface.planes[id];
  const model::Framing& wanted = building.model.parts[part].framing;
  const PartStock& timber = building.stock[part];
  Member member;
  member.kind = wanted.blocking == model::Blocking::solid ? MemberKind::blocking
                                                          : MemberKind::vented_blocking;
  member.part = part;
  member.plane = id;
  member.from = plane.frame.at({clear.from, v});
  member.to = plane.frame.at({clear.to, v});
  member.at_m = 0.5 * (clear.from + clear.to);
  member.layout_m = member.at_m - plane.wall_start_u_m;
  member.line_length_m = member.length_m = clear.to - clear.from;
  member.plumb_cut_rad = 0.5 * std::numbers::pi;
  member.stock = wanted.rafter;
  member.thickness_m = timber.rafter_m;
  member.depth_m = timber.rafter_depth_m;
  set_points(member);
  return member;
}

void block_plane(const Building& building, PlaneId id, Framing& framing) {
  const surface::Plane& plane = building.surface.planes[id];
  std::size_t count = 0;
  const PlaneFraming own = framing.planes[id];
  for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
    const Bay& bay = framing.bays[BayId(i)];
    if (bay.at_plate == AtPlate::none) {
      continue;
    }
    // Its outer face stands over that of the wall.
    const double v = bay.wall.v_m +
                     0.5 * building.stock[bay.wall.part].rafter_m / std::cos(plane.pitch.radians());
    for (const polygon::Chord& clear : polygon::chords_at({bay.outline}, v)) {
      if (clear.to - clear.from >= least_m) {
        Member one = block(building, id, bay.wall.part, clear, v);
        one.id = plane.id + "/k" + std::to_string(++count);
        framing.members.push_back(std::move(one));
      }
    }
  }
}

}  // namespace

void add_rakes(const Building& building, Framing& framing) {
  for (const PlaneId id : building.surface.planes.ids()) {
    const surface::Plane& plane = building.surface.planes[id];
    if (!building.model.parts[plane.part].framing.lookouts || plane.loops.empty()) {
      continue;
    }
    RakeFramer framer(building, id, framing);
    for (const GableEnd& end : gable_ends(building.model, building.surface, plane)) {
      if (end.is_upright) {
        framer.frame(end);
      }
    }
  }
}

void add_blocking(const Building& building, Framing& framing) {
  for (const PlaneId id : building.surface.planes.ids()) {
    const surface::Plane& plane = building.surface.planes[id];
    if (building.model.parts[plane.part].framing.blocking != model::Blocking::none) {
      block_plane(building, id, framing);
    }
  }
}

}  // namespace ridgeward::framing
