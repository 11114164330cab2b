#include "papers/plan_drawing.hpp"

#include "base/polygon.hpp"
#include "papers/cairo.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace ridgeward::papers {

namespace {

using surface::LineKind;

constexpr double label_mm = 2.4;
constexpr double least_label_line_mm = 9.0;

polygon::Box plan_box(const surface::Surface& s) {
  polygon::Box box;
  for (const glm::dvec3& node : s.nodes) {
    box.add(glm::dvec2(node));
  }
  return box;
}

constexpr int most_side_by_side = 12;

/// The sign of a vent that stands alone.
Path vent_box(glm::dvec2 middle) {
  constexpr double half = 1.2;
  Path box = area_of({{middle + glm::dvec2{-half, -half}, middle + glm::dvec2{half, -half},
                       middle + glm::dvec2{half, half}, middle + glm::dvec2{-half, half}}},
                     1.0);
  box.stroke = {0.4, 0.0, {}};
  return box;
}

class PlanPen {
 public:
  PlanPen(const Assessment& a, const PlanScale& scale, units::Style style, Page& page)
      : a_(a), scale_(scale), style_(style), page_(page) {}

  void planes();
  void obstacles();
  void openings();
  void lines();
  void marks(const std::vector<PlanMark>& marks);
  void labels();

 private:
  glm::dvec2 at(glm::dvec3 p) const { return scale_.at(glm::dvec2(p)); }

  const Assessment& a_;
  const PlanScale& scale_;
  units::Style style_;
  Page& page_;
};

void PlanPen::planes() {
  for (const surface::Plane& plane : a_.surface.planes) {
    std::vector<std::vector<glm::dvec2>> loops;
    for (const surface::Loop& loop : plane.loops) {
      loops.emplace_back();
      for (const glm::dvec3& corner : surface::corners(a_.surface, loop)) {
        loops.back().push_back(at(corner));
      }
    }
    page_.paths.push_back(area_of(std::move(loops), 0.96));
  }
  for (const surface::BlindDeck& deck : a_.surface.blind_decks) {
    if (!deck.cricket.empty()) {
      continue;
    }
    std::vector<std::vector<glm::dvec2>> loops;
    for (const std::vector<glm::dvec2>& loop : deck.outline_uv) {
      loops.emplace_back();
      for (const glm::dvec2 uv : loop) {
        loops.back().push_back(at(deck.frame.at(uv)));
      }
    }
    Path path = area_of(std::move(loops), 1.0);
    path.is_filled = false;
    path.hatch = {1.6, 0.25 * std::numbers::pi, 0.55};
    page_.paths.push_back(std::move(path));
  }
}

void PlanPen::obstacles() {
  for (const surface::Region& region : a_.surface.regions) {
    const surface::Frame& frame = a_.surface.planes[region.plane].frame;
    std::vector<glm::dvec2> loop;
    loop.reserve(region.outline_uv.size());
    for (const glm::dvec2 uv : region.outline_uv) {
      loop.push_back(at(frame.at(uv)));
    }
    Path path = area_of({loop}, 0.8);
    path.stroke = {0.25, 0.0, {}};
    page_.paths.push_back(std::move(path));
  }
}

void PlanPen::openings() {
  for (const vents::Slot& slot : a_.vents.slots) {
    page_.paths.push_back(segment(at(slot.from), at(slot.to), {1.3, 0.0, {}}));
  }
  for (const vents::Exhaust& exhaust : a_.vents.exhausts) {
    const glm::dvec2 from = at(exhaust.from);
    const glm::dvec2 to = at(exhaust.to);
    if (glm::length(to - from) > 0.1) {
      page_.paths.push_back(segment(from, to, {1.6, 0.0, {}}));
      page_.paths.push_back(segment(from, to, {0.9, 1.0, {}}));
      continue;
    }
    page_.paths.push_back(vent_box(from));
  }
}

void PlanPen::lines() {
  for (const surface::Line& line : a_.surface.lines) {
    if (line.kind != LineKind::wall_edge && line.plan_length_m > 1e-6) {
      page_.paths.push_back(segment(at(a_.surface.nodes[line.from]), at(a_.surface.nodes[line.to]),
                                    stroke_of(line.kind)));
    }
  }
}

void PlanPen::marks(const std::vector<PlanMark>& marks) {
  for (const PlanMark& mark : marks) {
    const glm::dvec2 middle = at(mark.at);
    Text number;
    number.text = mark.text;
    number.size_mm = 2.8;
    number.is_bold = true;
    number.align = Align::middle;
    // Those of one place stand side by side.
    for (int step = 0; step < most_side_by_side; ++step) {
      number.at = middle + glm::dvec2{5.2 * step, 1.0};
      if (add_label(page_, number)) {
        page_.paths.push_back(ring_about(number.at - glm::dvec2{0.0, 1.0}, 2.2));
        break;
      }
    }
  }
}

void PlanPen::labels() {
  for (const surface::Plane& plane : a_.surface.planes) {
    if (!plane.cricket.empty()) {
      continue;
    }
    std::vector<glm::dvec2> loop;
    for (const glm::dvec3& corner : surface::corners(a_.surface, plane.loops.front())) {
      loop.push_back(at(corner));
    }
    Text name;
    name.at = polygon::centroid(loop);
    name.text = plane.id + "  " +
                (plane.pitch.tangent() > 0 ? units::show_pitch(plane.pitch) : std::string("flat"));
    name.size_mm = label_mm;
    name.is_bold = true;
    name.align = Align::middle;
    name.has_halo = true;
    add_label(page_, name);
  }
  for (const surface::Line& line : a_.surface.lines) {
    const glm::dvec2 from = at(a_.surface.nodes[line.from]);
    const glm::dvec2 to = at(a_.surface.nodes[line.to]);
    if (line.kind == LineKind::wall_edge || glm::length(to - from) < least_label_line_mm) {
      continue;
    }
    Text length;
    length.text = units::show(line.length_m, style_);
    length.size_mm = label_mm;
    length.align = Align::middle;
    length.has_halo = true;
    const glm::dvec2 d = to - from;
    double turned = std::atan2(d.y, d.x);
    if (turned > 0.5 * std::numbers::pi + 1e-6 || turned <= -0.5 * std::numbers::pi + 1e-6) {
      turned += turned > 0 ? -std::numbers::pi : std::numbers::pi;
    }
    length.turned_rad = turned;
    const glm::dvec2 down{-std::sin(turned), std::cos(turned)};
    length.at = (from + to) / 2.0 - 0.9 * down;
    add_label(page_, length);
  }
}

/// An arrow to the north and a bar of whole feet or metres.
void draw_north_and_bar(const Assessment& a, const PlanScale& scale, const Frame& frame,
                        units::Style style, Page& page) {
  const double turned = a.model.site.north_deg * std::numbers::pi / 180;
  const glm::dvec2 north{std::sin(turned), -std::cos(turned)};
  draw_north(page, frame.low + glm::dvec2{7.0, 7.0}, north);
  const bool in_feet = style == units::Style::feet_inches;
  const double unit_m = in_feet ? units::foot_m : 1.0;
  double count = in_feet ? 20 : 5;
  if (count * unit_m * scale.mm_per_m > 0.45 * frame.size.x) {
    count = in_feet ? 10 : 2;
  }
  const double length = count * unit_m * scale.mm_per_m;
  const glm::dvec2 left{frame.low.x + frame.size.x - length - 2.0,
                        frame.low.y + frame.size.y - 2.0};
  page.paths.push_back(segment(left, left + glm::dvec2{length, 0.0}, {0.5, 0.0, {}}));
  for (const double x : {0.0, length / 2, length}) {
    page.paths.push_back(
        segment(left + glm::dvec2{x, -1.2}, left + glm::dvec2{x, 0.0}, {0.3, 0.0, {}}));
  }
  Text words;
  words.text = fmt::format("{:.0f} {}   {}", count, in_feet ? "ft" : "m", scale.words);
  words.size_mm = 2.6;
  words.align = Align::right;
  words.at = left + glm::dvec2{length, -1.9};
  page.texts.push_back(words);
}

enum class Sign { line, along, box };
/// A line of the plan's key.
struct KeyEntry {
  const char* words;
  Stroke stroke;
  Sign sign = Sign::line;
};

/// Of what the house has.
std::vector<KeyEntry> key_of(const Assessment& assessment) {
  std::vector<KeyEntry> entries;
  const std::array<std::pair<LineKind, const char*>, 10> kinds{
      {{LineKind::eave, "eave"},
       {LineKind::ridge, "ridge"},
       {LineKind::hip, "hip"},
       {LineKind::valley, "valley"},
       {LineKind::rake, "rake"},
       {LineKind::pitch_break, "pitch break"},
       {LineKind::headwall, "headwall"},
       {LineKind::sidewall, "sidewall"},
       {LineKind::step_wall, "step wall"},
       {LineKind::shed_top, "shed top"}}};
  for (const auto& [kind, words] : kinds) {
    const bool is_there =
        std::any_of(assessment.surface.lines.begin(), assessment.surface.lines.end(),
                    [wanted = kind](const surface::Line& line) { return line.kind == wanted; });
    if (is_there) {
      entries.push_back({words, stroke_of(kind)});
    }
  }
  entries.push_back({"intake slot", {1.3, 0.0, {}}});
  const auto has_vent = [&](bool is_along) {
    return std::any_of(assessment.vents.exhausts.begin(), assessment.vents.exhausts.end(),
                       [&](const vents::Exhaust& vent) { return vent.line.is_none() != is_along; });
  };
  const bool has_single = has_vent(false);
  if (has_vent(true) || !has_single) {
    entries.push_back({"exhaust", {1.6, 0.0, {}}, Sign::along});
  }
  if (has_single) {
    entries.push_back({"single vent or louvre", {0.0, 0.0, {}}, Sign::box});
  }
  return entries;
}

}  // namespace

PlanScale scale_to_fit(const Assessment& assessment, const Frame& frame, units::Style style) {
  const polygon::Box box = plan_box(assessment.surface);
  const glm::dvec2 size = box.high - box.low;
  // Room for labels at the border, the arrow above and the bar below.
  const glm::dvec2 room = frame.size - glm::dvec2{8.0, 24.0};
  const UsualScale usual = largest_fitting(plan_scales(style), size, room);
  PlanScale scale;
  scale.mm_per_m = usual.mm_per_m;
  scale.words = usual.words;
  scale.frame = frame;
  const glm::dvec2 middle = (box.low + box.high) / 2.0;
  const glm::dvec2 centre = frame.low + frame.size / 2.0 + glm::dvec2{0.0, 3.0};
  scale.origin = centre - scale.mm_per_m * glm::dvec2{middle.x, -middle.y};
  return scale;
}

void draw_plan(const Assessment& assessment, const PlanScale& scale, const Frame& frame,
               units::Style style, Page& page) {
  std::vector<PlanMark> marks;
  marks.reserve(assessment.findings.size());
  for (const conflicts::Finding& finding : assessment.findings) {
    marks.push_back({finding.at, fmt::format("{}", marks.size() + 1)});
  }
  PlanScale framed = scale;
  framed.frame = frame;
  draw_numbered_plan(assessment, framed, style, marks, page);
}

void draw_numbered_plan(const Assessment& assessment, const PlanScale& scale, units::Style style,
                        const std::vector<PlanMark>& marks, Page& page) {
  PlanPen pen(assessment, scale, style, page);
  draw_north_and_bar(assessment, scale, scale.frame, style, page);
  pen.planes();
  pen.obstacles();
  pen.lines();
  pen.openings();
  pen.marks(marks);
  pen.labels();
}

double draw_plan_key(const Assessment& assessment, glm::dvec2 at, double width_mm, Page& page) {
  double x = 0.0;
  double y = 0.0;
  for (const KeyEntry& entry : key_of(assessment)) {
    constexpr double sample = 9.0;
    constexpr double size = 2.6;
    const double wide = sample + 1.5 + text_width_mm(entry.words, size, false) + 5.0;
    if (x > 0.0 && x + wide > width_mm) {
      x = 0.0;
      y += 4.5;
    }
    const glm::dvec2 left = at + glm::dvec2{x, y};
    if (entry.sign == Sign::box) {
      page.paths.push_back(vent_box(left + glm::dvec2{0.5 * sample, 0.0}));
    } else {
      page.paths.push_back(segment(left, left + glm::dvec2{sample, 0.0}, entry.stroke));
    }
    if (entry.sign == Sign::along) {
      page.paths.push_back(segment(left, left + glm::dvec2{sample, 0.0}, {0.9, 1.0, {}}));
    }
    Text text;
    text.at = left + glm::dvec2{sample + 1.5, 0.9};
    text.text = entry.words;
    text.size_mm = size;
    page.texts.push_back(text);
    x += wide;
  }
  return y + 4.5;
}

}  // namespace ridgeward::papers
