#include "framing/stage.hpp"

#include "base/fault.hpp"
#include "base/polygon.hpp"
#include "framing/cells.hpp"
#include "framing/cuts.hpp"
#include "framing/layout.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ridgeward::framing {

namespace {

constexpr double near_m = 1e-9;

/// Which of two lines met at a corner a rafter is said to stand on or reach: level ones first.
int rank(surface::LineKind kind) {
  switch (kind) {
    case surface::LineKind::eave:
    case surface::LineKind::ridge:
    case surface::LineKind::shed_top:
    case surface::LineKind::headwall:
      return 0;
    case surface::LineKind::pitch_break:
      return 1;
    case surface::LineKind::hip:
      return 2;
    case surface::LineKind::valley:
      return 3;
    default:
      return 4;
  }
}

MemberKind kind_between(surface::LineKind foot, surface::LineKind head) {
  const bool is_from_valley = foot == surface::LineKind::valley;
  if (head == surface::LineKind::hip) {
    return is_from_valley ? MemberKind::cripple_jack : MemberKind::hip_jack;
  }
  if (is_from_valley || head == surface::LineKind::valley) {
    return MemberKind::valley_jack;
  }
  return foot == surface::LineKind::hip ? MemberKind::hip_jack : MemberKind::common;
}

Stock known_stock(const std::string& name, const std::string& part, const Stock& otherwise,
                  std::vector<std::string>& assumptions) {
  const Stock stock = stock_named(name);
  if (stock.thickness_m > 0.0) {
    return stock;
  }
  assumptions.push_back("The stock \"" + name + "\" of part " + part +
                        " is not known; it is taken as 1 1/2 in thick.");
  return otherwise;
}

std::vector<PartStock> stock_of_parts(const model::RoofModel& model,
                                      std::vector<std::string>& assumptions) {
  std::vector<PartStock> all;
  for (const model::Part& part : model.parts) {
    const model::Framing& f = part.framing;
    const Stock rafter = known_stock(f.rafter, part.id, stock_named("2x8"), assumptions);
    const Stock ridge = known_stock(f.ridge, part.id, stock_named("2x10"), assumptions);
    const Stock hip = known_stock(f.hip, part.id, stock_named("2x10"), assumptions);
    const Stock valley = known_stock(f.valley, part.id, stock_named("2x10"), assumptions);
    all.push_back({rafter.thickness_m, ridge.thickness_m, hip.thickness_m, valley.thickness_m,
                   rafter.depth_m, ridge.depth_m, hip.depth_m, valley.depth_m,
                   part.valleys == model::Valleys::overlaid && !all.empty()});
    if (all.back().is_overlaid) {
      assumptions.push_back("The valleys of part " + part.id +
                            " are laid over the earlier roof: no valley rafters stand under them, "
                            "and the rafters and deck beneath are not shown.");
    }
    if (f.kind == model::FramingKind::truss) {
      assumptions.push_back("The trusses of part " + part.id +
                            " are set out as rafters on their spacing; girders and step-down "
                            "trusses at hips are not told apart.");
    }
    if (!f.measured.empty()) {
      assumptions.push_back("Rafters of part " + part.id +
                            " stand as measured on the edges that give positions.");
    }
  }
  return all;
}

/// Frames one plane into the common lists.
class PlaneFramer {
 public:
  PlaneFramer(const model::RoofModel& model, const surface::Surface& surface,
              const std::vector<PartStock>& stock, const Joints& joints, Framing& framing)
      : model_(model), surface_(surface), stock_(stock), joints_(joints), framing_(framing) {}

  void frame(PlaneId id);

 private:
  /// A rafter and the pieces of the plane that it takes.
  struct Standing {
    Member member;
    std::vector<std::size_t> pieces;
  };
  struct Cut {
    double level_m = 0.0;
    double side_rad = 0.0;
  };

  std::vector<BorderEdge> border_of(const surface::Plane& plane) const;
  LineId chosen(const std::array<LineId, 2>& lines) const;
  bool is_peak(const std::array<LineId, 2>& heads) const;
  Cut cut_at(const surface::Plane& plane, const std::array<LineId, 2>& lines) const;
  Member rafter(PlaneId id, const CentreLine& line) const;
  Bay bay(PlaneId id, const Cells& cells, std::size_t owner) const;
  static void stand(Standing one, std::vector<std::uint8_t>& taken, std::vector<Standing>& all);
  std::vector<Standing> standing(PlaneId id, const Layout& layout, const Cells& cells) const;
  void clear_of_members(Bay& bay) const;

  const model::RoofModel& model_;
  const surface::Surface& surface_;
  const std::vector<PartStock>& stock_;
  const Joints& joints_;
  Framing& framing_;
};

std::vector<BorderEdge> PlaneFramer::border_of(const surface::Plane& plane) const {
  std::vector<BorderEdge> border;
  for (const surface::Loop& loop : plane.loops) {
    const std::vector<glm::dvec2> corners = surface::corners_uv(surface_, plane.frame, loop);
    for (std::size_t i = 0; i < corners.size(); ++i) {
      border.push_back({corners[i], corners[(i + 1) % corners.size()], loop[i].line});
    }
  }
  return border;
}

LineId PlaneFramer::chosen(const std::array<LineId, 2>& lines) const {
  const int left = rank(surface_.lines[lines[0]].kind);
  const int right = rank(surface_.lines[lines[1]].kind);
  return right < left ? lines[1] : lines[0];
}

/// Whether a rafter reaches the very corner in which two hips meet.
bool PlaneFramer::is_peak(const std::array<LineId, 2>& heads) const {
  return heads[0] != heads[1] && surface_.lines[heads[0]].kind == surface::LineKind::hip &&
         surface_.lines[heads[1]].kind == surface::LineKind::hip;
}

PlaneFramer::Cut PlaneFramer::cut_at(const surface::Plane& plane,
                                     const std::array<LineId, 2>& lines) const {
  const LineId id = chosen(lines);
  const surface::Line& line = surface_.lines[id];
  if (is_peak(lines)) {
    const surface::Line& other = surface_.lines[lines[1]];
    const NodeId node = line.from == other.from || line.from == other.to ? line.from : line.to;
    if (joints_.has_ridge(node)) {
      return {0.5 * stock_[plane.part].rafter_m, 0.0};  // against the end of the ridge board
    }
  }
  const double thickness_m = thickness_under(surface_, stock_, id);
  if (thickness_m == 0.0) {
    return {};
  }
  const glm::dvec2 eave{plane.frame.along.x, plane.frame.along.y};
  const glm::dvec2 direction = plan_direction(surface_, line);
  // Run and eave are square in plan: the sine to the run is the cosine to the eave.
  const double sine = std::min(1.0, std::abs(glm::dot(eave, direction)));
  const double across = sine_between(eave, direction);
  const double side_rad = std::atan2(across / std::cos(plane.pitch.radians()), sine);
  return {level_shortening_m(thickness_m, sine), is_peak(lines) ? 0.0 : side_rad};
}

Member PlaneFramer::rafter(PlaneId id, const CentreLine& line) const {
  const surface::Plane& plane = surface_.planes[id];
  const double cosine = std::cos(plane.pitch.radians());
  Member member;
  member.plane = id;
  member.foot_line = chosen(line.feet);
  member.head_line = chosen(line.heads);
  member.kind = is_peak(line.heads)
                    ? kind_between(surface_.lines[member.foot_line].kind, surface::LineKind::ridge)
                    : kind_between(surface_.lines[member.foot_line].kind,
                                   surface_.lines[member.head_line].kind);
  const Cut foot = cut_at(plane, line.feet);
  const Cut head = cut_at(plane, line.heads);
  member.at_m = line.at_m;
  member.line_length_m = line.head_v_m - line.foot_v_m;
  member.foot_shortening_m = foot.level_m;
  member.head_shortening_m = head.level_m;
  member.foot_side_cut_rad = foot.side_rad;
  member.side_cut_rad = head.side_rad;
  member.length_m = member.line_length_m - (foot.level_m + head.level_m) / cosine;
  member.from = plane.frame.at({line.at_m, line.foot_v_m + foot.level_m / cosine});
  member.to = plane.frame.at({line.at_m, line.head_v_m - head.level_m / cosine});
  member.thickness_m = stock_[plane.part].rafter_m;
  member.depth_m = stock_[plane.part].rafter_depth_m;
  member.stock = model_.parts[plane.part].framing.rafter;
  member.plumb_cut_rad = 0.5 * std::numbers::pi - plane.pitch.radians();
  return member;
}

Bay PlaneFramer::bay(PlaneId id, const Cells& cells, std::size_t owner) const {
  Bay bay;
  bay.plane = id;
  const std::vector<std::size_t> pieces = cells.pieces_of(owner);
  bay.from_u_m = cells.piece(pieces.front()).u0;
  bay.to_u_m = bay.from_u_m;
  for (const std::size_t piece : pieces) {
    bay.from_u_m = std::min(bay.from_u_m, cells.piece(piece).u0);
    bay.to_u_m = std::max(bay.to_u_m, cells.piece(piece).u1);
  }
  bay.clear_width_m = bay.to_u_m - bay.from_u_m;
  const double middle = 0.5 * (bay.from_u_m + bay.to_u_m);
  for (const std::size_t index : pieces) {
    const slabs::Piece& piece = cells.piece(index);
    const double length = piece.high_at(middle) - piece.low_at(middle);
    if (piece.u0 <= middle && middle <= piece.u1 && length > bay.length_m + near_m) {
      bay.length_m = length;
      bay.foot = LineId(piece.low_tag);
      bay.head = LineId(piece.high_tag);
    }
  }
  if (bay.foot.is_none()) {  // a bay so thin that its middle has no height
    bay.foot = LineId(cells.piece(pieces.front()).low_tag);
    bay.head = LineId(cells.piece(pieces.front()).high_tag);
  }
  bay.kind = kind_between(surface_.lines[bay.foot].kind, surface_.lines[bay.head].kind);
  bay.outline = cells.outline(owner);
  return bay;
}

/// Where the plane's border leans back over the end of a rafter, the bay reaches over it; its clear
/// width is still that between the rafters.
void PlaneFramer::clear_of_members(Bay& bay) const {
  double from = bay.from_u_m;
  double to = bay.to_u_m;
  if (!bay.left.is_none()) {
    const Member& left = framing_.members[bay.left];
    from = std::max(from, left.at_m + 0.5 * left.thickness_m);
  }
  if (!bay.right.is_none()) {
    const Member& right = framing_.members[bay.right];
    to = std::min(to, right.at_m - 0.5 * right.thickness_m);
  }
  if (to > from) {
    bay.from_u_m = from;
    bay.to_u_m = to;
    bay.clear_width_m = to - from;
  }
}

/// Takes the rafter in unless it overlaps one before it, or would be shorter than it is thick.
void PlaneFramer::stand(Standing one, std::vector<std::uint8_t>& taken,
                        std::vector<Standing>& all) {
  const bool is_taken = std::any_of(one.pieces.begin(), one.pieces.end(),
                                    [&](std::size_t piece) { return taken[piece] != 0; });
  if (is_taken || one.pieces.empty() || one.member.length_m <= one.member.thickness_m) {
    return;
  }
  for (const std::size_t piece : one.pieces) {
    taken[piece] = 1;
  }
  all.push_back(std::move(one));
}

/// The rafters of a plane, along the eave. Those at its borders come first; a layout mark gives way
/// where it would overlap one of them.
std::vector<PlaneFramer::Standing> PlaneFramer::standing(PlaneId id, const Layout& layout,
                                                         const Cells& cells) const {
  std::vector<Mark> marks = layout.marks();
  std::stable_partition(marks.begin(), marks.end(), [](const Mark& mark) { return mark.is_end; });
  const double thickness_m = stock_[surface_.planes[id].part].rafter_m;
  std::vector<Standing> all;
  std::vector<std::uint8_t> taken(cells.piece_count(), 0);
  for (const Mark& mark : marks) {
    for (const CentreLine& line : cells.centre_lines(mark.at_m)) {
      if (layout.stands(mark, line.foot_v_m, line.head_v_m)) {
        stand({rafter(id, line), cells.strip(line, thickness_m)}, taken, all);
      }
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const Standing& l, const Standing& r) {
    return l.member.at_m < r.member.at_m;
  });
  return all;
}

void PlaneFramer::frame(PlaneId id) {
  const surface::Plane& plane = surface_.planes[id];
  const std::vector<BorderEdge> border = border_of(plane);
  PlaneFraming& own = framing_.planes[id];
  own.first_member = own.end_member = static_cast<std::uint32_t>(framing_.members.size());
  own.first_bay = own.end_bay = static_cast<std::uint32_t>(framing_.bays.size());
  if (border.size() < 3) {
    return;
  }
  const double thickness_m = stock_[plane.part].rafter_m;
  const Layout layout(model_, surface_, plane, border, thickness_m);
  std::vector<double> centres;
  centres.reserve(layout.marks().size());
  for (const Mark& mark : layout.marks()) {
    centres.push_back(mark.at_m);
  }
  Cells cells(border, centres, thickness_m);
  for (Standing& one : standing(id, layout, cells)) {
    const std::size_t owner = cells.take(std::move(one.pieces));
    one.member.id = plane.id + "/r" + std::to_string(owner + 1);
    one.member.outline = cells.outline(owner);
    framing_.members.push_back(std::move(one.member));
  }
  const std::size_t rafters = cells.owners();
  cells.take_bays();
  const auto member_of = [&](std::size_t owner) {
    return owner < rafters ? MemberId(own.first_member + owner) : MemberId();
  };
  std::vector<Bay> bays;
  for (std::size_t owner = rafters; owner < cells.owners(); ++owner) {
    bays.push_back(bay(id, cells, owner));
    bays.back().left = member_of(cells.neighbour(owner, false));
    bays.back().right = member_of(cells.neighbour(owner, true));
    clear_of_members(bays.back());
  }
  std::stable_sort(bays.begin(), bays.end(),
                   [](const Bay& l, const Bay& r) { return l.from_u_m < r.from_u_m; });
  for (std::size_t i = 0; i < bays.size(); ++i) {
    bays[i].id = plane.id + "/b" + std::to_string(i + 1);
    framing_.bays.push_back(std::move(bays[i]));
  }
  own.end_member = static_cast<std::uint32_t>(framing_.members.size());
  own.end_bay = static_cast<std::uint32_t>(framing_.bays.size());
}

}  // namespace

Framing frame(const model::RoofModel& model, const surface::Surface& surface) {
  Framing framing;
  const std::vector<PartStock> stock = stock_of_parts(model, framing.assumptions);
  const Joints joints(surface);
  framing.planes.resize(surface.planes.size());
  PlaneFramer framer(model, surface, stock, joints, framing);
  for (const PlaneId id : surface.planes.ids()) {
    framer.frame(id);
  }
  for (Member& member : board_members(model, surface, stock, joints)) {
    framing.members.push_back(std::move(member));
  }
  framing.assumptions.emplace_back(
      "Rafter lengths run from the drip line to the ridge, hip or wall along the top of the deck; "
      "fascia and tail cuts are not taken off.");
  return framing;
}

}  // namespace ridgeward::framing
