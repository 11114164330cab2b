#include "papers/ridge_drawing.hpp"

#include "papers/cairo.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <numbers>

namespace ridgeward::papers {

namespace {

constexpr double least_side_mm = 5.0;  // shown of the planes on both sides of a line
constexpr double end_window_m = 0.44;
constexpr double side_window_m = 0.1;
constexpr double beyond_m = 0.06;
constexpr double ladder_mm = 40.0;

std::string capital(std::string words) {
  words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
  return words;
}

/// A line laid level on the page, both planes folded flat beside it.
class RidgePen {
 public:
  RidgePen(const Assessment& a, const vents::Exhaust& vent, double mm_per_m, Page& page)
      : a_(a), line_(a.surface.lines[vent.line]), id_(vent.line), mm_per_m_(mm_per_m), page_(page) {
    glm::dvec3 last = a.surface.nodes[line_.to];
    first_ = a.surface.nodes[line_.from];
    const double misses = std::abs(glm::length(vent.from - first_) - vent.from_m);
    if (std::abs(glm::length(vent.from - last) - vent.from_m) < misses) {
      std::swap(first_, last);
    }
    along_ = glm::normalize(last - first_);
  }

  glm::dvec2 at(double along_m, double across_m) const {
    return origin + mm_per_m_ * glm::dvec2{along_m, -across_m};
  }
  /// `side` is 1 above the line on the page, -1 below.
  double side_of(PlaneId plane) const {
    const glm::dvec3 middle = a_.surface.planes[plane].frame.at({0.0, 0.0});
    const glm::dvec2 left{-along_.y, along_.x};
    return glm::dot(glm::dvec2(middle - first_), left) > 0 ? 1.0 : -1.0;
  }
  void band(double from_m, double to_m, double near_m, double far_m, double shade);
  void rafters(glm::dvec2 from, glm::dvec2 to);
  /// Both sides of the slot with their lines, and what to write beside them.
  std::vector<Rung> chalk(const RidgeMarks& marks, units::Style style);

  /// To the north on the page, where the line runs from left to right.
  glm::dvec2 north() const {
    const double turned = a_.model.site.north_deg * std::numbers::pi / 180;
    const glm::dvec2 plan{std::sin(turned), std::cos(turned)};
    const glm::dvec2 along = glm::normalize(glm::dvec2(along_));
    return {glm::dot(plan, along), -glm::dot(plan, glm::dvec2{-along.y, along.x})};
  }

  glm::dvec2 origin{0.0};
  glm::dvec2 low{0.0};  ///< window: along, across
  glm::dvec2 high{0.0};

 private:
  const Assessment& a_;
  const surface::Line& line_;
  LineId id_;
  double mm_per_m_;
  Page& page_;
  glm::dvec3 first_{0.0};
  glm::dvec3 along_{1.0, 0.0, 0.0};
};

void RidgePen::band(double from_m, double to_m, double near_m, double far_m, double shade) {
  const double from = std::max(from_m, low.x);
  const double to = std::min(to_m, high.x);
  if (from < to) {
    page_.paths.push_back(
        area_of({{at(from, near_m), at(to, near_m), at(to, far_m), at(from, far_m)}}, shade));
  }
}

/// Those that end at the line, folded into the page; their faces.
void RidgePen::rafters(glm::dvec2 from, glm::dvec2 to) {
  for (const framing::Member& member : a_.framing.members) {
    if (member.head_line != id_ || member.plane.is_none()) {
      continue;
    }
    const glm::dvec3 across = glm::cross(a_.surface.planes[member.plane].frame.normal, along_);
    const double sign = side_of(member.plane);
    const auto fold = [&](const glm::dvec3& p) {
      return glm::dvec2{glm::dot(p - first_, along_),
                        sign * std::abs(glm::dot(p - first_, across))};
    };
    const glm::dvec2 foot = fold(member.from);
    const glm::dvec2 head = fold(member.to);
    const glm::dvec2 d = glm::normalize(head - foot);
    const glm::dvec2 side = member.thickness_m / 2 * glm::dvec2{-d.y, d.x};
    for (const glm::dvec2 face : {side, -side}) {
      const std::vector<glm::dvec2> seen = clipped(foot + face, head + face, from, to);
      if (seen.size() == 2) {
        page_.paths.push_back(
            segment(at(seen[0].x, seen[0].y), at(seen[1].x, seen[1].y), {0.2, 0.35, {1.6, 0.8}}));
      }
    }
  }
}

std::vector<Rung> RidgePen::chalk(const RidgeMarks& marks, units::Style style) {
  std::vector<Rung> rungs{{at(0.0, 0.0).y, "the line itself"}};
  for (const ChalkedSide& side : marks.sides) {
    const double sign = side_of(side.plane);
    band(marks.start_from_first_m, marks.end_from_first_m, sign * side.near_m, sign * side.far_m,
         0.35);
    page_.paths.push_back(segment(at(low.x, sign * side.near_m), at(high.x, sign * side.near_m),
                                  {0.25, 0.0, {1.2, 0.6}}));
    page_.paths.push_back(segment(at(low.x, sign * side.far_m), at(high.x, sign * side.far_m),
                                  {0.25, 0.0, {3.0, 0.8}}));
    rungs.push_back({at(0.0, sign * side.far_m).y,
                     fmt::format("{}  chalk, {}", units::show(side.far_m, style),
                                 a_.surface.planes[side.plane].id),
                     true});
    if (side.near_m > 0.0) {
      rungs.push_back(
          {at(0.0, sign * side.near_m).y, units::show(side.near_m, style) + "  face of the board"});
    }
  }
  return rungs;
}

}  // namespace

double draw_ridge(const Assessment& assessment, const std::vector<ExhaustId>& vents,
                  const Frame& frame, units::Style style, Page& page) {
  const vents::Exhaust& first = assessment.vents.exhausts[vents.front()];
  const RidgeMarks whole = marks_of(assessment, first);
  const UsualScale scale =
      largest_fitting(plan_scales(style), {whole.line_m, 0.1}, frame.size - glm::dvec2{46.0, 20.0});
  const double side_m = std::max(0.35, least_side_mm / scale.mm_per_m);
  RidgePen pen(assessment, first, scale.mm_per_m, page);
  pen.low = {0.0, -side_m};
  pen.high = {whole.line_m, side_m};
  const double half_mm = side_m * scale.mm_per_m;
  pen.origin = {frame.low.x + (frame.size.x - whole.line_m * scale.mm_per_m) / 2,
                frame.low.y + 4.0 + half_mm};
  pen.band(0.0, whole.line_m, -side_m, side_m, 0.96);
  pen.rafters(pen.low, pen.high);
  double row = half_mm + 5.0;
  const auto below = [&](double along_m, double down) {
    return pen.at(along_m, 0.0) + glm::dvec2{0.0, down};
  };
  for (const ExhaustId id : vents) {
    const RidgeMarks marks = marks_of(assessment, assessment.vents.exhausts[id]);
    for (const ChalkedSide& side : marks.sides) {
      const double sign = pen.side_of(side.plane);
      pen.band(marks.start_from_first_m, marks.end_from_first_m, sign * side.near_m,
               sign * side.far_m, 0.0);
    }
    draw_dimension(page, below(marks.start_from_first_m, row), below(marks.end_from_first_m, row),
                   "slot " + units::show(marks.end_from_first_m - marks.start_from_first_m, style));
    for (const double end : {marks.start_from_first_m, marks.end_from_first_m}) {
      page.paths.push_back(segment(pen.at(end, 0.0), below(end, row + 1.0), {0.1, 0.3, {}}));
    }
  }
  page.paths.push_back(segment(pen.at(0.0, 0.0), pen.at(whole.line_m, 0.0), {0.3, 0.0, {}}));
  row += 6.0;
  add_label(page, label_at({frame.low.x, frame.low.y + 1.0}, std::string("Scale ") + scale.words,
                           Align::left));
  const bool is_hip = assessment.surface.lines[first.line].kind == surface::LineKind::hip;
  draw_dimension(
      page, below(0.0, row), below(whole.line_m, row),
      fmt::format("{} {} ({} to {})", is_hip ? "hip" : "ridge", units::show(whole.line_m, style),
                  whole.first_words(), whole.last_words()));
  for (const PlaneId plane : {assessment.surface.lines[first.line].left_plane(),
                              assessment.surface.lines[first.line].right_plane()}) {
    if (!plane.is_none()) {
      const double y = pen.side_of(plane) > 0 ? -half_mm - 1.2 : half_mm - 1.2;
      add_label(page, label_at(below(whole.line_m / 2, y), assessment.surface.planes[plane].id));
    }
  }
  draw_tape_hook(page, pen.at(0.0, 0.0), pen.at(0.0, 0.0) - glm::dvec2{4.0, 0.0}, "0");
  draw_north(page, frame.low + glm::dvec2{frame.size.x - 9.0, 13.0}, pen.north());
  return std::max(row + half_mm + 8.0, 24.0);
}

void draw_ridge_end(const Assessment& assessment, ExhaustId id, bool is_first, const Frame& frame,
                    units::Style style, Page& page) {
  const vents::Exhaust& vent = assessment.vents.exhausts[id];
  const RidgeMarks marks = marks_of(assessment, vent);
  const glm::dvec2 room = frame.size - glm::dvec2{ladder_mm, 18.0};
  const UsualScale scale =
      largest_fitting(detail_scales(style), {end_window_m, 2 * side_window_m}, room);
  const double wide = room.x / scale.mm_per_m;
  const double distance = is_first ? marks.start_from_first_m : marks.end_from_last_m;
  const double end = is_first ? marks.start_from_first_m : marks.end_from_first_m;
  const bool is_seen = distance < wide - 3 * beyond_m;
  RidgePen pen(assessment, vent, scale.mm_per_m, page);
  double from = 0.0;
  if (is_first) {
    from = is_seen ? -beyond_m : end - wide / 2;
  } else {
    from = is_seen ? marks.line_m + beyond_m - wide : end - wide / 2;
  }
  pen.low = {std::max(from, 0.0), -side_window_m};
  pen.high = {std::min(from + wide, marks.line_m), side_window_m};
  pen.origin = glm::dvec2{frame.low.x, frame.low.y + 8.0} +
               scale.mm_per_m * glm::dvec2{-from, side_window_m};
  Text title =
      label_at({frame.low.x, frame.low.y + 2.6},
               fmt::format("{} of {}, {}", capital(is_first ? marks.first_end : marks.last_end),
                           vent.id, scale.words),
               Align::left);
  title.is_bold = true;
  page.texts.push_back(std::move(title));
  pen.band(pen.low.x, pen.high.x, -side_window_m, side_window_m, 0.96);
  pen.rafters(pen.low, pen.high);
  std::vector<Rung> rungs = pen.chalk(marks, style);
  page.paths.push_back(segment(pen.at(pen.low.x, 0.0), pen.at(pen.high.x, 0.0), {0.4, 0.0, {}}));
  draw_ladder(page, std::move(rungs), pen.at(pen.high.x, 0.0).x, frame.low.x + room.x + 4.0,
              frame.low.y + 7.0);
  const double y = pen.at(0.0, -side_window_m).y + 4.0;
  const glm::dvec2 cut{pen.at(end, 0.0).x, y};
  const double hook_m = is_first ? 0.0 : marks.line_m;
  const glm::dvec2 hook{is_seen ? pen.at(hook_m, 0.0).x : frame.low.x + (is_first ? 0.0 : room.x),
                        y};
  page.paths.push_back(segment({cut.x, pen.at(0.0, 0.0).y}, {cut.x, y + 1.0}, {0.12, 0.0, {}}));
  draw_hook_line(page, cut, hook, is_seen);
  page.texts.push_back(label_at({frame.low.x, y + 4.0},
                                fmt::format("{} from the {}", units::show(distance, style),
                                            is_first ? marks.first_words() : marks.last_words()),
                                Align::left));
}

namespace {

/// How far the lower and the upper edge stay behind the longer one at an end.
glm::dvec2 insets(const takeoff::Piece& piece, const takeoff::PieceEnd& end) {
  if (end.kind != takeoff::CutKind::mitre) {
    return {0.0, 0.0};
  }
  const bool is_lower_longer =
      end.at == takeoff::EndAt::hip ||
      (end.at != takeoff::EndAt::valley && piece.lower_edge_m > piece.upper_edge_m);
  return is_lower_longer ? glm::dvec2{0.0, end.offset_m} : glm::dvec2{end.offset_m, 0.0};
}

}  // namespace

std::string end_words(const takeoff::PieceEnd& end, units::Style style) {
  std::string words = takeoff::word(end.kind);
  if (end.kind == takeoff::CutKind::mitre) {
    words += " " + units::show(end.offset_m, style);
  }
  const bool is_plain = end.at == takeoff::EndAt::joint || end.at == takeoff::EndAt::run_end;
  return is_plain ? words : words + ", " + takeoff::word(end.at);
}

double draw_pieces(const takeoff::SectionRun& run, double depth_m, const Frame& frame,
                   units::Style style, Page& page) {
  const UsualScale scale = largest_fitting(plan_scales(style), {run.length_m, depth_m}, frame.size);
  const double top = frame.low.y + 4.5;
  const double bottom = top + depth_m * scale.mm_per_m;
  const double start = run.pieces.empty() ? 0.0 : run.pieces.front().from_m;
  for (std::size_t i = 0; i < run.pieces.size(); ++i) {
    const takeoff::Piece& piece = run.pieces[i];
    const glm::dvec2 left = insets(piece, piece.left);
    const glm::dvec2 right = insets(piece, piece.right);
    const auto x = [&](double m) { return frame.low.x + (m - start) * scale.mm_per_m; };
    Path box = area_of({{{x(piece.from_m + left.x), bottom},
                         {x(piece.to_m - right.x), bottom},
                         {x(piece.to_m - right.y), top},
                         {x(piece.from_m + left.y), top}}},
                       1.0);
    box.stroke = {0.3, 0.0, {}};
    page.paths.push_back(std::move(box));
    const double middle = x((piece.from_m + piece.to_m) / 2);
    Text number = label_at({middle, top - 1.0}, fmt::format("{}", i + 1));
    number.is_bold = true;
    add_label(page, number);
    add_label(page, label_at({middle, bottom + 3.2}, units::show(piece.length_m, style)));
  }
  add_label(page, label_at({frame.low.x, bottom + 7.0}, std::string("Scale ") + scale.words,
                           Align::left));
  return bottom - top + 16.0;
}

void draw_mitre(const vents::Mitre& mitre, bool is_left, double depth_m, const Frame& frame,
                units::Style style, Page& page) {
  const UsualScale scale = largest_fitting(detail_scales(style), {mitre.offset_m + 0.15, depth_m},
                                           frame.size - glm::dvec2{30.0, 20.0});
  const double deep = depth_m * scale.mm_per_m;
  const double offset = mitre.offset_m * scale.mm_per_m;
  const double shown = offset + 0.15 * scale.mm_per_m;
  const double top = frame.low.y + 12.0;
  // Drawn as the right end; the left end is its mirror.
  const double corner = is_left ? frame.low.x + 4.0 : frame.low.x + 4.0 + shown;
  const double inner = is_left ? corner + shown : corner - shown;
  const double cut = is_left ? corner + offset : corner - offset;
  const double at_top = mitre.is_valley ? corner : cut;
  const double at_bottom = mitre.is_valley ? cut : corner;
  Path strip =
      area_of({{{inner, top}, {at_top, top}, {at_bottom, top + deep}, {inner, top + deep}}}, 0.9);
  page.paths.push_back(std::move(strip));
  Path edges;
  edges.loops = {{{inner, top}, {at_top, top}, {at_bottom, top + deep}, {inner, top + deep}}};
  edges.stroke = {0.35, 0.0, {}};
  page.paths.push_back(std::move(edges));
  const double waste_y = mitre.is_valley ? top + deep : top;
  page.paths.push_back(segment({cut, waste_y}, {corner, waste_y}, {0.2, 0.3, {1.0, 0.7}}));
  page.paths.push_back(segment({corner, top}, {corner, top + deep}, {0.2, 0.3, {1.0, 0.7}}));
  Text title = label_at({frame.low.x, frame.low.y + 2.6},
                        fmt::format("{} end, at the {}, {}", is_left ? "Left" : "Right",
                                    mitre.is_valley ? "valley" : "hip", scale.words),
                        Align::left);
  title.is_bold = true;
  page.texts.push_back(std::move(title));
  const double offset_y = mitre.is_valley ? top + deep + 5.0 : top - 3.5;
  draw_dimension(page, {std::min(cut, corner), offset_y}, {std::max(cut, corner), offset_y},
                 units::show(mitre.offset_m, style));
  const double right = std::max(corner, inner) + 5.0;
  page.paths.push_back(segment({right, top}, {right, top + deep}, {0.15, 0.0, {}}));
  for (const double y : {top, top + deep}) {
    page.paths.push_back(segment({right - 1.2, y}, {right + 1.2, y}, {0.3, 0.0, {}}));
  }
  page.texts.push_back(label_at({right + 2.0, top + deep / 2 + 0.9},
                                units::show(depth_m, style) + " deep", Align::left));
}

}  // namespace ridgeward::papers
