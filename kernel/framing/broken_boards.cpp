#include "framing/broken_boards.hpp"

#include "base/polygon.hpp"
#include "framing/cuts.hpp"
#include "framing/seats.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace ridgeward::framing {

namespace {

constexpr double near_m = 1e-6;

/// A stretch of a board, from its foot, and what takes it.
struct Gap {
  double from_m = 0.0;
  double to_m = 0.0;
  std::string opening;
  MemberId header;  ///< none for the opening itself
};

/// The share of a -> b within a box; false when there is none.
bool within(const polygon::Box& box, glm::dvec2 a, glm::dvec2 b, double& from, double& to) {
  from = 0.0;
  to = 1.0;
  const glm::dvec2 d = b - a;
  for (int axis = 0; axis < 2; ++axis) {
    const double low = box.low[axis] - near_m - a[axis];
    const double high = box.high[axis] + near_m - a[axis];
    if (std::abs(d[axis]) < 1e-12) {
      if (low > 0.0 || high < 0.0) {
        return false;
      }
      continue;
    }
    const double one = low / d[axis];
    const double other = high / d[axis];
    from = std::max(from, std::min(one, other));
    to = std::min(to, std::max(one, other));
  }
  return to > from;
}

class Breaker {
 public:
  Breaker(const Building& building, Framing& framing) : building_(building), framing_(framing) {}

  void run();

 private:
  std::vector<Gap> gaps_of(const Member& board) const;
  void add_gap(const Member& board, PlaneId plane, const std::vector<glm::dvec2>& outline, Gap like,
               std::vector<Gap>& gaps) const;
  std::vector<Member> pieces(const Member& board, const std::vector<Gap>& gaps) const;

  const Building& building_;
  Framing& framing_;
};

void Breaker::add_gap(const Member& board, PlaneId id, const std::vector<glm::dvec2>& outline,
                      Gap like, std::vector<Gap>& gaps) const {
  const surface::Frame& frame = building_.surface.planes[id].frame;
  double from = 0.0;
  double to = 0.0;
  if (within(polygon::box_of(outline), frame.uv(board.from), frame.uv(board.to), from, to) &&
      (to - from) * board.length_m > 4.0 * near_m) {
    like.from_m = from * board.length_m;
    like.to_m = to * board.length_m;
    gaps.push_back(std::move(like));
  }
}

std::vector<Gap> Breaker::gaps_of(const Member& board) const {
  std::vector<Gap> gaps;
  const surface::Line& line = building_.surface.lines[board.line];
  for (const PlaneId id : {line.left_plane(), line.right_plane()}) {
    if (id.is_none()) {
      continue;
    }
    const std::size_t before = gaps.size();
    for (const Opening& opening : framing_.openings) {
      if (opening.plane == id) {
        add_gap(board, id, opening.outline, {0.0, 0.0, opening.id, {}}, gaps);
      }
    }
    if (gaps.size() == before) {
      continue;  // headers alone end at the board
    }
    const PlaneFraming& own = framing_.planes[id];
    for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
      const Member& header = framing_.members[MemberId(i)];
      const bool is_of_gap = std::any_of(
          gaps.begin(), gaps.end(), [&](const Gap& gap) { return gap.opening == header.opening; });
      if (header.kind == MemberKind::header && is_of_gap) {
        add_gap(board, id, header.outline, {0.0, 0.0, header.opening, MemberId(i)}, gaps);
      }
    }
  }
  std::stable_sort(gaps.begin(), gaps.end(),
                   [](const Gap& l, const Gap& r) { return l.from_m < r.from_m; });
  return gaps;
}

std::vector<Member> Breaker::pieces(const Member& board, const std::vector<Gap>& gaps) const {
  std::vector<Member> all;
  const glm::dvec3 along = (board.to - board.from) / board.length_m;
  double from = 0.0;
  MemberId foot_header;
  std::string opening = gaps.front().opening;
  const auto add = [&](double to, MemberId head_header) {
    if (to - from <= board.thickness_m) {
      return;
    }
    Member piece = board;
    piece.opening = opening;
    piece.from = board.from + from * along;
    piece.to = board.from + to * along;
    piece.line_length_m = piece.length_m = to - from;
    piece.foot_header = foot_header;
    piece.head_header = head_header;
    if (from > near_m) {
      piece.foot_side_cut_rad = piece.foot_shortening_m = piece.tail_m = piece.overhang_m = 0.0;
      piece.heel_cut_m = piece.seat_cut_m = piece.over_plate_m = 0.0;
    }
    if (to < board.length_m - near_m) {
      piece.side_cut_rad = piece.head_shortening_m = 0.0;
    }
    piece.id = all.empty() ? board.id : board.id + "#" + std::to_string(all.size() + 1);
    set_points(piece);
    all.push_back(std::move(piece));
  };
  for (const Gap& gap : gaps) {
    if (gap.from_m > from + near_m) {
      opening = gap.opening;
      add(gap.from_m, gap.header);
      foot_header = MemberId();
    }
    if (gap.to_m >= from) {
      from = gap.to_m;
      foot_header = gap.header;
      opening = gap.opening;
    }
  }
  add(board.length_m, MemberId());
  return all;
}

void Breaker::run() {
  if (framing_.openings.empty()) {
    return;
  }
  IndexedVector<MemberId, Member> kept;
  kept.reserve(framing_.members.size());
  for (const Member& member : framing_.members) {
    const bool is_board = member.plane.is_none() && !member.line.is_none() &&
                          (member.kind == MemberKind::hip || member.kind == MemberKind::valley ||
                           member.kind == MemberKind::ridge_board);
    const std::vector<Gap> gaps = is_board ? gaps_of(member) : std::vector<Gap>{};
    if (gaps.empty()) {
      kept.push_back(member);
      continue;
    }
    for (Member& piece : pieces(member, gaps)) {
      kept.push_back(std::move(piece));
    }
  }
  framing_.members = std::move(kept);
}

/// Towards the overlaid part, square to the valley on the plane below it.
glm::dvec2 under_the_part(const surface::Plane& plane, LineId line, glm::dvec2 along) {
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      if (step.line == line) {
        // The plane lies on the left of its border.
        return step.forward ? glm::dvec2{along.y, -along.x} : glm::dvec2{-along.y, along.x};
      }
    }
  }
  return {0.0, 0.0};
}

}  // namespace

void break_boards(const Building& building, Framing& framing) { Breaker(building, framing).run(); }

void add_sleepers(const Building& building, Framing& framing) {
  const surface::Surface& surface = building.surface;
  for (const LineId id : surface.lines.ids()) {
    if (!is_overlaid_valley(surface, building.stock, id)) {
      continue;
    }
    const surface::Line& line = surface.lines[id];
    const bool is_left_earlier =
        surface.planes[line.left_plane()].part < surface.planes[line.right_plane()].part;
    const PlaneId below = is_left_earlier ? line.left_plane() : line.right_plane();
    const std::size_t part =
        surface.planes[is_left_earlier ? line.right_plane() : line.left_plane()].part;
    const surface::Plane& plane = surface.planes[below];
    const PartStock& timber = building.stock[part];
    if (timber.is_truss || line.length_m <= timber.valley_m) {
      continue;
    }
    const bool is_rising = surface.nodes[line.to].z >= surface.nodes[line.from].z;
    const glm::dvec2 from = plane.frame.uv(surface.nodes[is_rising ? line.from : line.to]);
    const glm::dvec2 to = plane.frame.uv(surface.nodes[is_rising ? line.to : line.from]);
    const glm::dvec2 run =
        plane.frame.uv(surface.nodes[line.to]) - plane.frame.uv(surface.nodes[line.from]);
    const glm::dvec2 aside =
        0.5 * timber.valley_depth_m * under_the_part(plane, id, run / glm::length(run));
    Member sleeper;
    sleeper.kind = MemberKind::valley_sleeper;
    sleeper.lie = Lie::flat;
    sleeper.part = part;
    sleeper.plane = below;
    sleeper.from = plane.frame.at(from + aside);
    sleeper.to = plane.frame.at(to + aside);
    sleeper.at_m = 0.5 * (from.x + to.x) + aside.x;
    sleeper.line_length_m = sleeper.length_m = glm::length(sleeper.to - sleeper.from);
    sleeper.stock = building.model.parts[part].framing.valley;
    sleeper.thickness_m = timber.valley_m;
    sleeper.depth_m = timber.valley_depth_m;
    sleeper.plumb_cut_rad = 0.5 * M_PI;
    sleeper.id = line.id + "/valley_sleeper";
    set_points(sleeper);
    framing.members.push_back(std::move(sleeper));
  }
}

}  // namespace ridgeward::framing
