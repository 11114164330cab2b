#include "papers/section_drawing.hpp"

#include "base/polygon.hpp"
#include "units/length.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace ridgeward::papers {

namespace {

constexpr double shown_wall_m = 0.7;       // of the walls below their plates
constexpr double most_over_plate_m = 0.9;  // of a roof that rests on a wall
constexpr double vent_high_m = 0.025;      // of the strip over the deck, as drawn
constexpr double under_deck_m = 0.04;      // of the arrows, where there is room
constexpr int samples = 160;

/// Level distance and height onto the page.
class SectionPen {
 public:
  SectionPen(const Assessment& a, const SectionPlace& place, Page& page)
      : a_(a), place_(place), pieces_(roof_in_section(a, place)), page_(page) {}

  void fit(const UsualScale& scale, const Frame& frame);
  glm::dvec2 at(glm::dvec2 sz) const { return origin_ + mm_per_m_ * glm::dvec2{sz.x, -sz.y}; }
  void deck();
  void walls();
  void wall(const model::Part& one, double s);
  void ceilings();
  void slot();
  void exhaust();
  void singles();
  void air();
  double slope_rad() const { return plane().pitch.radians(); }
  /// Middle of the top of the first wall that is drawn; `otherwise` without one.
  glm::dvec2 first_wall(glm::dvec2 otherwise) const;
  /// Plumb, from the top of the deck to the middle of the stream below it.
  double under_deck() const {
    return (part().deck_m + under_deck_m) * plane().pitch.slope_factor();
  }
  double roof_at(double s) const;
  /// Plumb, from the top of the deck to the lower edge of the rafters.
  double under_rafters() const {
    return (part().deck_m + rafter_in_section_m(a_, place_)) * plane().pitch.slope_factor();
  }
  /// Level distance of a place up the slope of the bay's plane.
  double level(double v_m) const;
  /// In a ring `away_mm` from what it names on the page, with a line to it.
  void number(const char* text, glm::dvec2 sz, glm::dvec2 away_mm);

  glm::dvec2 low{0.0};  ///< window
  glm::dvec2 high{0.0};

 private:
  void single(const vents::Exhaust& vent, glm::dvec2 foot, glm::dvec2 along);
  void louvre(const vents::Exhaust& vent);
  void line(glm::dvec2 from, glm::dvec2 to, const Stroke& stroke);
  void ceiling(const attic::Space& space, const polygon::Chord& chord);
  std::vector<std::vector<glm::dvec2>> cut(const std::vector<glm::dvec2>& loop) const;
  std::vector<polygon::Chord> chords(const std::vector<std::vector<glm::dvec2>>& plan) const;
  const model::Part& part() const {
    return a_.model.parts[a_.surface.planes[a_.framing.bays[place_.bay].plane].part];
  }
  const surface::Plane& plane() const {
    return a_.surface.planes[a_.framing.bays[place_.bay].plane];
  }

  const Assessment& a_;
  const SectionPlace& place_;
  std::vector<RoofPiece> pieces_;
  std::vector<glm::dvec2> wall_tops_;  ///< of those that were drawn
  Page& page_;
  double mm_per_m_ = 1.0;
  double foot_mm_ = 0.0;  ///< of the frame, on the page
  glm::dvec2 origin_{0.0};
};

void SectionPen::fit(const UsualScale& scale, const Frame& frame) {
  mm_per_m_ = scale.mm_per_m;
  foot_mm_ = frame.low.y + frame.size.y;
  const glm::dvec2 middle = (low + high) / 2.0;
  origin_ = frame.low + frame.size / 2.0 - mm_per_m_ * glm::dvec2{middle.x, -middle.y};
}

void SectionPen::line(glm::dvec2 from, glm::dvec2 to, const Stroke& stroke) {
  const std::vector<glm::dvec2> kept = clipped(from, to, low, high);
  if (kept.size() == 2) {
    page_.paths.push_back(segment(at(kept[0]), at(kept[1]), stroke));
  }
}

/// What of a convex loop lies in the window, on the page; no loop where nothing does.
std::vector<std::vector<glm::dvec2>> SectionPen::cut(const std::vector<glm::dvec2>& loop) const {
  polygon::Loop turned = loop;
  if (polygon::area(turned) < 0.0) {
    std::reverse(turned.begin(), turned.end());
  }
  polygon::Loop kept = polygon::overlap(turned, {low, {high.x, low.y}, high, {low.x, high.y}});
  for (glm::dvec2& p : kept) {
    p = at(p);
  }
  return kept.size() > 2 ? std::vector<std::vector<glm::dvec2>>{kept}
                         : std::vector<std::vector<glm::dvec2>>{};
}

std::vector<polygon::Chord> SectionPen::chords(
    const std::vector<std::vector<glm::dvec2>>& plan) const {
  return polygon::chords_at(beside_cut(place_, plan), 0.0);
}

double SectionPen::roof_at(double s) const {
  double z = -1e9;
  for (const RoofPiece& piece : pieces_) {
    if (s >= piece.from.x - 1e-9 && s <= piece.to.x + 1e-9 && piece.to.x > piece.from.x) {
      const double t = (s - piece.from.x) / (piece.to.x - piece.from.x);
      z = std::max(z, piece.from.y + t * (piece.to.y - piece.from.y));
    }
  }
  return z;
}

double SectionPen::level(double v_m) const {
  const surface::Frame& frame = plane().frame;
  const glm::dvec3 p = frame.at({0.0, v_m}) - frame.at({0.0, 0.0});
  const glm::dvec3 drip = frame.origin;
  return glm::dot(glm::dvec2(drip + p) - place_.at, place_.up);
}

/// The deck's thickness, and the lower edge of a rafter.
void SectionPen::deck() {
  const double depth = rafter_in_section_m(a_, place_);
  for (const RoofPiece& piece : pieces_) {
    const glm::dvec2 d = piece.to - piece.from;
    const double plumb = std::hypot(d.x, d.y) / d.x;
    const glm::dvec2 deck{0.0, -part().deck_m * plumb};
    Path band = area_of(cut({piece.from, piece.to, piece.to + deck, piece.from + deck}), 0.35);
    page_.paths.push_back(std::move(band));
    line(piece.from, piece.to, {0.35, 0.0, {}});
    const glm::dvec2 lower{0.0, -(part().deck_m + depth) * plumb};
    line(piece.from + lower, piece.to + lower, {0.15, 0.4, {2.0, 1.0}});
  }
}

void SectionPen::walls() {
  for (std::size_t i = 0; i < a_.surface.wall_outlines.size(); ++i) {
    const model::Part& one = a_.model.parts[i];
    for (const polygon::Chord& chord : chords(a_.surface.wall_outlines[i])) {
      wall(one, chord.from);
      wall(one, chord.to - one.wall_thickness_m);
    }
  }
}

void SectionPen::wall(const model::Part& one, double s) {
  // One that no roof rests on is a side of a higher part, or stands beyond the cut.
  if (roof_at(s + one.wall_thickness_m / 2) - one.plate_m > most_over_plate_m) {
    return;
  }
  const double foot = one.plate_m - shown_wall_m;
  Path wall = area_of(cut({{s, foot},
                           {s + one.wall_thickness_m, foot},
                           {s + one.wall_thickness_m, one.plate_m},
                           {s, one.plate_m}}),
                      1.0);
  wall.stroke = {0.3, 0.0, {}};
  wall.hatch = {1.2, -0.8, 0.4};
  if (!wall.loops.empty()) {
    wall_tops_.emplace_back(s + one.wall_thickness_m / 2, one.plate_m);
  }
  page_.paths.push_back(std::move(wall));
}

glm::dvec2 SectionPen::first_wall(glm::dvec2 otherwise) const {
  const auto first = std::min_element(wall_tops_.begin(), wall_tops_.end(),
                                      [](glm::dvec2 a, glm::dvec2 b) { return a.x < b.x; });
  return first == wall_tops_.end() ? otherwise : *first;
}

/// One ceiling's stretch of the cut with its insulation, as far as the deck leaves room.
void SectionPen::ceiling(const attic::Space& space, const polygon::Chord& chord) {
  Path wool = area_of({}, 1.0);
  wool.is_filled = false;
  wool.hatch = {1.5, 0.6, 0.45};
  const double step = (chord.to - chord.from) / samples;
  const auto top = [&](double s) {
    const double gap = space.baffles ? units::inch_m : 0.0;
    const double under = roof_at(s) - (part().deck_m + gap) * plane().pitch.slope_factor();
    return std::max(space.bottom_m, std::min(space.bottom_m + space.insulation_m, under));
  };
  for (int k = 0; k < samples; ++k) {
    const double s = chord.from + k * step;
    line({s, top(s)}, {s + step, top(s + step)}, {0.15, 0.3, {}});
    for (auto& loop : cut({{s, space.bottom_m},
                           {s + step, space.bottom_m},
                           {s + step, top(s + step)},
                           {s, top(s)}})) {
      wool.loops.push_back(std::move(loop));
    }
  }
  if (!wool.loops.empty()) {
    wool.stroke.width_mm = 0.0;
    page_.paths.push_back(std::move(wool));
  }
  line({chord.from, space.bottom_m}, {chord.to, space.bottom_m}, {0.5, 0.0, {}});
}

void SectionPen::ceilings() {
  for (const attic::Space& space : a_.attic.spaces) {
    if (space.kind != attic::SpaceKind::attic || space.is_over_deck) {
      continue;
    }
    for (const polygon::Chord& chord : chords(space.outline)) {
      ceiling(space, chord);
    }
  }
  Path wool = area_of({}, 1.0);
  wool.is_filled = false;
  wool.hatch = {1.5, 0.6, 0.45};
  wool.stroke.width_mm = 0.0;
  for (const SlopedPiece& one : sloped_ceilings_in_section(a_, place_)) {
    for (auto& loop : cut({one.from, one.to, one.top_to, one.top_from})) {
      wool.loops.push_back(std::move(loop));
    }
    line(one.top_from, one.top_to, {0.15, 0.3, {}});
    line(one.from, one.to, {0.5, 0.0, {}});
  }
  if (!wool.loops.empty()) {
    page_.paths.push_back(std::move(wool));
  }
}

void SectionPen::slot() {
  if (place_.slot.is_none()) {
    return;
  }
  const vents::Slot& slot = a_.vents.slots[place_.slot];
  const model::Product* product = a_.product(slot.product);
  const auto on_deck = [&](double up_m, double over_m) {
    const double v = slot.drip_v_m + up_m;
    const glm::dvec3 p = plane().frame.at({0.0, v}) + over_m * plane().frame.normal;
    return glm::dvec2{glm::dot(glm::dvec2(p) - place_.at, place_.up), p.z};
  };
  // The cut itself: the deck is gone there, down past its underside.
  const double through = -1.3 * part().deck_m;
  page_.paths.push_back(
      area_of(cut({on_deck(slot.lower_line_m, 0.004), on_deck(slot.upper_line_m(), 0.004),
                   on_deck(slot.upper_line_m(), through), on_deck(slot.lower_line_m, through)}),
              1.0));
  if (product != nullptr && !model::is_in_soffit(slot.kind)) {
    const double top = slot.vent_low_m + product->depth_m;
    Path vent = area_of(cut({on_deck(slot.vent_low_m, 0.0), on_deck(top, 0.0),
                             on_deck(top, vent_high_m), on_deck(slot.vent_low_m, vent_high_m)}),
                        1.0);
    vent.stroke = {0.3, 0.0, {}};
    page_.paths.push_back(std::move(vent));
  }
}

/// Vents along lines that the cut crosses.
void SectionPen::exhaust() {
  const glm::dvec2 side{-place_.up.y, place_.up.x};
  for (const vents::Exhaust& vent : a_.vents.exhausts) {
    const double a = glm::dot(glm::dvec2(vent.from) - place_.at, side);
    const double b = glm::dot(glm::dvec2(vent.to) - place_.at, side);
    if (vent.line.is_none() || a * b > 0.0 || std::abs(b - a) < 1e-9) {
      continue;
    }
    const glm::dvec3 p = vent.from + a / (a - b) * (vent.to - vent.from);
    const double s = glm::dot(glm::dvec2(p) - place_.at, place_.up);
    const double half = 0.15;
    const double lift = 0.03;
    const double drop = half * plane().pitch.tangent();
    for (const double over : {lift, 2 * lift}) {
      line({s - half, p.z - drop + over}, {s, p.z + over}, {0.4, 0.0, {}});
      line({s, p.z + over}, {s + half, p.z - drop + over}, {0.4, 0.0, {}});
    }
  }
}

/// A vent on a deck as it looks from the side: a box; a ball on a stem for a turbine; a fan in a
/// box for a powered one. Its side is the product's, its height for the eye only.
void SectionPen::single(const vents::Exhaust& vent, glm::dvec2 foot, glm::dvec2 along) {
  const model::Product* product = a_.product(vent.product);
  const double side = product != nullptr && product->depth_m > 0.0 ? product->depth_m : 0.35;
  const glm::dvec2 up{-along.y, along.x};
  const Stroke thin{0.25, 0.0, {}};
  const double tall = vent.kind == model::VentKind::box_vent ? 0.35 * side : 0.5 * side;
  const std::vector<glm::dvec2> box{foot - 0.5 * side * along, foot + 0.5 * side * along,
                                    foot + 0.5 * side * along + tall * up,
                                    foot - 0.5 * side * along + tall * up};
  if (vent.kind == model::VentKind::turbine) {
    const double radius = 0.4 * side;
    const glm::dvec2 middle = foot + glm::dvec2{0.0, radius + 0.12};
    line(foot, middle - glm::dvec2{0.0, radius}, {0.5, 0.0, {}});
    if (middle.x - radius > low.x && middle.x + radius < high.x && middle.y + radius < high.y) {
      page_.paths.push_back(ring_about(at(middle), radius * mm_per_m_));
      line(middle - glm::dvec2{0.6 * radius, 0.0}, middle + glm::dvec2{0.6 * radius, 0.0}, thin);
      line(middle - glm::dvec2{0.0, 0.8 * radius}, middle + glm::dvec2{0.0, 0.8 * radius}, thin);
    }
    return;
  }
  for (std::size_t i = 0; i < box.size(); ++i) {
    line(box[i], box[(i + 1) % box.size()], {0.4, 0.0, {}});
  }
  if (vent.kind == model::VentKind::powered) {
    line(box[0], box[2], thin);
    line(box[1], box[3], thin);
  }
}

/// A louvre in a wall that stands beyond the cut: its frame dashed, with slats.
void SectionPen::louvre(const vents::Exhaust& vent) {
  const model::Product* product = a_.product(vent.product);
  if (product == nullptr) {
    return;
  }
  const double s = glm::dot(glm::dvec2(vent.from) - place_.at, place_.up);
  const glm::dvec2 half{0.5 * product->length_m, 0.5 * product->depth_m};
  const glm::dvec2 middle{s, vent.from.z};
  const Stroke dashed{0.3, 0.0, {1.0, 0.6}};
  const glm::dvec2 flat{half.x, 0.0};
  const glm::dvec2 tall{0.0, half.y};
  line(middle - flat - tall, middle + flat - tall, dashed);
  line(middle - flat + tall, middle + flat + tall, dashed);
  line(middle - flat - tall, middle - flat + tall, dashed);
  line(middle + flat - tall, middle + flat + tall, dashed);
  for (const double share : {-0.5, 0.0, 0.5}) {
    line(middle - flat + share * tall, middle + flat + share * tall, {0.15, 0.0, {}});
  }
}

/// Vents set one by one on the planes that are cut, at their height, and louvres in the walls that
/// lie along the cut: they stand before or behind it. Those of one height are drawn once.
void SectionPen::singles() {
  std::vector<glm::dvec2> drawn;
  for (const vents::Exhaust& vent : a_.vents.exhausts) {
    if (!vent.line.is_none()) {
      continue;
    }
    if (vent.plane.is_none()) {
      louvre(vent);
      continue;
    }
    for (const RoofPiece& piece : pieces_) {
      const double rise = piece.to.y - piece.from.y;
      const double share = std::abs(rise) > 1e-6 ? (vent.from.z - piece.from.y) / rise : -1.0;
      if (piece.plane != vent.plane || share < 0.0 || share > 1.0) {
        continue;
      }
      const glm::dvec2 foot = piece.from + share * (piece.to - piece.from);
      const bool is_there = std::any_of(
          drawn.begin(), drawn.end(), [&](glm::dvec2 p) { return glm::distance(p, foot) < 0.05; });
      if (!is_there) {
        drawn.push_back(foot);
        single(vent, foot, glm::normalize(piece.to - piece.from));
      }
    }
  }
}

/// Arrows from below the eave through the slot and up under the deck to the highest point.
void SectionPen::air() {
  if (place_.slot.is_none()) {
    return;
  }
  const vents::Slot& slot = a_.vents.slots[place_.slot];
  const double in = level(slot.drip_v_m + (slot.lower_line_m + slot.upper_line_m()) / 2);
  double top = in;
  for (double s = in; s < high.x && roof_at(s) > -1e8; s += 0.01) {
    top = roof_at(s) > roof_at(top) ? s : top;
  }
  const double down = (part().deck_m + under_deck_m) * plane().pitch.slope_factor();
  const Stroke flow{0.4, 0.0, {}};
  const auto arrow = [&](glm::dvec2 from, glm::dvec2 to) {
    if (from.x >= low.x && to.x <= high.x && from.y >= low.y && to.y <= high.y) {
      draw_arrow(page_, at(from), at(to), flow);
    }
  };
  arrow({in - 0.16, roof_at(in) - 0.30}, {level(slot.drip_v_m) - 0.01, roof_at(in) - 0.13});
  arrow({in, roof_at(in) + 0.02}, {in + 0.01, roof_at(in) - down});
  constexpr int steps = 4;
  for (int k = 0; k < steps; ++k) {
    const double a = in + 0.06 + (top - in - 0.06) * k / steps;
    const double b = in + 0.06 + (top - in - 0.06) * (k + 0.75) / steps;
    arrow({a, roof_at(a) - down}, {b, roof_at(b) - down});
  }
}

void SectionPen::number(const char* text, glm::dvec2 sz, glm::dvec2 away_mm) {
  constexpr double ring_mm = 2.1;
  const glm::dvec2 target = at(sz);
  away_mm.y = std::min(away_mm.y, foot_mm_ - ring_mm - target.y);
  const glm::dvec2 middle = target + away_mm;
  Text label = label_at(middle + glm::dvec2{0.0, 0.9}, text);
  label.is_bold = true;
  label.has_halo = false;
  page_.paths.push_back(
      segment(target, middle - ring_mm * glm::normalize(away_mm), {0.2, 0.0, {}}));
  page_.paths.push_back(area_of({ring_about(target, 0.45).loops.front()}, 0.0));
  page_.paths.push_back(ring_about(middle, ring_mm));
  add_label(page_, label);
}

}  // namespace

std::string draw_section(const Assessment& assessment, const SectionPlace& place,
                         const Frame& frame, units::Style style, Page& page) {
  SectionPen pen(assessment, place, page);
  polygon::Box box;
  for (const RoofPiece& piece : roof_in_section(assessment, place)) {
    box.add(piece.from);
    box.add(piece.to);
  }
  double plate = box.low.y;
  for (const model::Part& part : assessment.model.parts) {
    plate = std::min(plate, part.plate_m);
  }
  pen.low = {box.low.x - 0.4, plate - shown_wall_m};
  pen.high = {box.high.x + 0.4, box.high.y + 0.3};
  const UsualScale scale = largest_fitting(plan_scales(style), pen.high - pen.low, frame.size);
  pen.fit(scale, frame);
  pen.ceilings();
  pen.walls();
  pen.deck();
  pen.slot();
  pen.exhaust();
  pen.singles();
  pen.air();
  return scale.words;
}

std::string draw_eave_section(const Assessment& assessment, const SectionPlace& place,
                              const Frame& frame, units::Style style, Page& page) {
  SectionPen pen(assessment, place, page);
  const vents::Slot& slot = assessment.vents.slots[place.slot];
  const double drip = pen.level(slot.drip_v_m);
  const double wall = pen.level(slot.drip_v_m + slot.wall_line_m);
  const double in = pen.level(slot.drip_v_m + (slot.lower_line_m + slot.upper_line_m()) / 2);
  // Steep roofs soon leave the picture: less of them is shown, so that it is large enough.
  const double reach = std::max(wall, in) + std::clamp(0.45 / std::tan(pen.slope_rad()), 0.3, 0.7);
  const SpaceId inside = assessment.attic.bays[place.bay].space;
  const attic::Space* space = inside.is_none() ? nullptr : &assessment.attic.spaces[inside];
  const bool is_sloped = space != nullptr && space->kind == attic::SpaceKind::rafter_space;
  const double ceiling = is_sloped          ? pen.roof_at(wall) - pen.under_rafters()
                         : space != nullptr ? space->bottom_m
                                            : pen.roof_at(wall);
  const double lowest = std::min({pen.roof_at(drip), pen.roof_at(wall), ceiling});
  pen.low = {drip - 0.15, lowest - 0.3};
  pen.high = {reach, pen.roof_at(reach) + 0.1};
  const UsualScale scale = largest_fitting(detail_scales(style), pen.high - pen.low, frame.size);
  pen.fit(scale, frame);
  pen.ceilings();
  pen.walls();
  pen.deck();
  pen.slot();
  pen.air();
  const double slope = pen.slope_rad();
  const glm::dvec2 out{-std::sin(slope), -std::cos(slope)};
  const glm::dvec2 up{std::cos(slope), -std::sin(slope)};
  const double beyond = std::max(wall, in) + 0.6 * (reach - std::max(wall, in));
  const glm::dvec2 plate = pen.first_wall({wall, ceiling});
  const double low_side = std::min(ceiling, plate.y);
  pen.number("1", {drip + 0.01, pen.roof_at(drip + 0.01) + vent_high_m / 2}, 9.0 * out - 5.0 * up);
  pen.number("2", {in, pen.roof_at(in)}, 13.0 * out);
  pen.number("3", {beyond, pen.roof_at(beyond) - pen.under_deck()}, 11.0 * out + 4.0 * up);
  pen.number("4", plate, {6.0, 20.0 + (plate.y - low_side) * scale.mm_per_m});
  const double in_wool =
      is_sloped ? pen.roof_at(reach - 0.06) - pen.under_rafters() + 0.03 : ceiling + 0.03;
  pen.number("5", {reach - 0.06, in_wool},
             {0.0, 9.0 + (is_sloped ? 4.0 : (ceiling - low_side) * scale.mm_per_m)});
  return scale.words;
}

}  // namespace ridgeward::papers
