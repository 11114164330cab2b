#include "papers/plan_drawing.hpp"

#include "base/polygon.hpp"
#include "papers/cairo.hpp"
#include "papers/plan_names.hpp"
#include "papers/plan_scale.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace ridgeward::papers {

namespace {

using surface::LineKind;

constexpr int most_side_by_side = 12;

void draw_vent_box(Page& page, glm::dvec2 middle) {
  const double half = 1.2;
  Path box = area_of({{middle + glm::dvec2{-half, -half}, middle + glm::dvec2{half, -half},
                       middle + glm::dvec2{half, half}, middle + glm::dvec2{-half, half}}},
                     1.0);
  box.stroke = {0.4, 0.0, {}};
  page.paths.push_back(std::move(box));
}

class PlanPen {
 public:
  PlanPen(const Assessment& a, const PlanScale& scale, Page& page)
      : a_(a), scale_(scale), page_(page) {}

  void planes();
  void obstacles();
  void openings();
  void lines();
  void marks(const std::vector<PlanMark>& marks);

 private:
  glm::dvec2 at(glm::dvec3 p) const { return scale_.at(glm::dvec2(p)); }

  const Assessment& a_;
  const PlanScale& scale_;
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
      draw_vent_band(page_, from, to);
      continue;
    }
    draw_vent_box(page_, from);
  }
}

void PlanPen::lines() {
  for (const surface::Line& line : a_.surface.lines) {
    if (line.kind != LineKind::wall_edge && line.plan_length_m > 1e-6) {
      draw_roof_line(page_, line.kind, at(a_.surface.nodes[line.from]),
                     at(a_.surface.nodes[line.to]));
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

/// The names that have no room, in columns.
void draw_names_key(const std::vector<KeyedName>& keyed, const PlanScale& scale, Page& page) {
  const double wide = key_wide_mm(keyed);
  const auto rows =
      static_cast<std::size_t>(std::max(1.0, std::floor(scale.key_size.y / key_row_mm)));
  for (std::size_t i = 0; i < keyed.size(); ++i) {
    const std::size_t column = i / rows;
    const glm::dvec2 at = scale.key + glm::dvec2{wide * static_cast<double>(column),
                                                 key_row_mm * static_cast<double>(i % rows + 1)};
    Text letter = label_at(at, keyed[i].letter, Align::left);
    letter.is_bold = true;
    page.texts.push_back(letter);
    page.texts.push_back(label_at(at + glm::dvec2{5.0, 0.0}, keyed[i].name, Align::left));
  }
}

std::vector<PlanMark> marks_of_findings(const Assessment& assessment) {
  std::vector<PlanMark> marks;
  marks.reserve(assessment.findings.size());
  for (const conflicts::Finding& finding : assessment.findings) {
    marks.push_back({finding.at, fmt::format("{}", marks.size() + 1)});
  }
  return marks;
}

enum class Openings { numbered, named };

/// Everything but the key; the names that had no room.
std::vector<KeyedName> draw_all(const Assessment& a, const PlanScale& scale, units::Style style,
                                const std::vector<PlanMark>& marks, Openings openings, Page& page) {
  PlanPen pen(a, scale, page);
  draw_north_and_bar(a, scale, style, page);
  pen.planes();
  pen.obstacles();
  pen.lines();
  pen.openings();
  pen.marks(marks);
  PlanNames names(a, scale, style, page);
  for (const PlanMark& mark : marks) {
    const glm::dvec2 middle = scale.at(glm::dvec2(mark.at));
    names.room().block(middle - glm::dvec2{2.2, 0.0}, middle + glm::dvec2{2.2, 0.0}, 2.2);
  }
  const double half = 0.5 * scale.key_size.y;
  const glm::dvec2 left = scale.key + glm::dvec2{0.0, half};
  names.room().block(left, left + glm::dvec2{scale.key_size.x, 0.0}, half);
  names.room().block(scale.bar - glm::dvec2{bar_of(scale, style).length_mm, 0.0}, scale.bar, 2.0);
  names.room().block(scale.arrow - glm::dvec2{6.0, 0.0}, scale.arrow + glm::dvec2{6.0, 0.0}, 6.0);
  names.planes();
  if (openings == Openings::named) {
    names.openings();
  }
  names.obstacles();
  names.lengths();
  return names.keyed();
}

}  // namespace

void draw_north_and_bar(const Assessment& a, const PlanScale& scale, units::Style style,
                        Page& page) {
  const double turned = a.model.site.north_deg * std::numbers::pi / 180;
  const glm::dvec2 north = scale.along({std::sin(turned), std::cos(turned)});
  draw_north(page, scale.arrow, north);
  const double length = bar_of(scale, style).length_mm;
  const glm::dvec2 left = scale.bar - glm::dvec2{length, 0.0};
  page.paths.push_back(segment(left, left + glm::dvec2{length, 0.0}, {0.5, 0.0, {}}));
  for (const double x : {0.0, length / 2, length}) {
    page.paths.push_back(
        segment(left + glm::dvec2{x, -1.2}, left + glm::dvec2{x, 0.0}, {0.3, 0.0, {}}));
  }
  Text words;
  words.text = bar_words(scale, style);
  words.size_mm = 2.6;
  words.align = Align::right;
  words.at = left + glm::dvec2{length, -1.9};
  page.texts.push_back(words);
}

PlanScale scale_to_fit(const Assessment& assessment, const Frame& frame, units::Style style) {
  PlanScale scale = fitting(assessment, key_sizes({}), frame, style);
  // A smaller roof leaves more names without room.
  std::size_t most = 2;
  for (int tries = 0; tries < 3; ++tries) {
    Page trial;
    const std::vector<KeyedName> keyed =
        draw_all(assessment, scale, style, marks_of_findings(assessment), Openings::named, trial);
    if (keyed.size() <= most) {
      break;
    }
    most = keyed.size() + 2;
    scale = fitting(assessment, key_sizes(keyed), frame, style);
  }
  return scale;
}

void draw_plan(const Assessment& assessment, const PlanScale& scale, const Frame& frame,
               units::Style style, Page& page) {
  PlanScale framed = scale;
  framed.frame = frame;
  const std::vector<KeyedName> keyed =
      draw_all(assessment, framed, style, marks_of_findings(assessment), Openings::named, page);
  draw_names_key(keyed, framed, page);
}

void draw_numbered_plan(const Assessment& assessment, const PlanScale& scale, units::Style style,
                        const std::vector<PlanMark>& marks, Page& page) {
  const std::vector<KeyedName> keyed =
      draw_all(assessment, scale, style, marks, Openings::numbered, page);
  draw_names_key(keyed, scale, page);
}

namespace {

/// A sample of a symbol in the key, its middle line from `left`.
struct KeyEntry {
  std::string words;
  void (*draw)(Page&, glm::dvec2 left, glm::dvec2 right, LineKind);
  LineKind kind = LineKind::eave;
};

std::vector<KeyEntry> key_entries(const Assessment& a) {
  std::vector<KeyEntry> entries;
  for (const LineKind kind : {LineKind::eave, LineKind::rake, LineKind::ridge, LineKind::hip,
                              LineKind::valley, LineKind::pitch_break, LineKind::shed_top,
                              LineKind::headwall, LineKind::sidewall, LineKind::step_wall}) {
    if (std::any_of(a.surface.lines.begin(), a.surface.lines.end(),
                    [&](const surface::Line& line) { return line.kind == kind; })) {
      entries.push_back({surface::word(kind),
                         [](Page& page, glm::dvec2 left, glm::dvec2 right, LineKind k) {
                           draw_roof_line(page, k, left, right);
                         },
                         kind});
      std::replace(entries.back().words.begin(), entries.back().words.end(), '_', ' ');
    }
  }
  if (!a.vents.slots.empty()) {
    entries.push_back({"intake slot", [](Page& page, glm::dvec2 left, glm::dvec2 right, LineKind) {
                         page.paths.push_back(segment(left, right, {1.3, 0.0, {}}));
                       }});
  }
  const auto has = [&](bool is_along_line) {
    return std::any_of(
        a.vents.exhausts.begin(), a.vents.exhausts.end(),
        [&](const vents::Exhaust& one) { return one.line.is_none() != is_along_line; });
  };
  if (has(true)) {
    entries.push_back(
        {"exhaust along a line", [](Page& page, glm::dvec2 left, glm::dvec2 right, LineKind) {
           draw_vent_band(page, left, right);
         }});
  }
  if (has(false)) {
    entries.push_back(
        {"exhaust piece", [](Page& page, glm::dvec2 left, glm::dvec2 right, LineKind) {
           draw_vent_box(page, (left + right) / 2.0);
         }});
  }
  return entries;
}

}  // namespace

double draw_plan_key(const Assessment& assessment, glm::dvec2 at, double width_mm, Page& page) {
  constexpr double sample = 9.0;
  constexpr double size = 2.6;
  double x = 0.0;
  double y = 0.0;
  for (const KeyEntry& entry : key_entries(assessment)) {
    const double wide = sample + 1.5 + text_width_mm(entry.words, size, false) + 5.0;
    if (x > 0.0 && x + wide > width_mm) {
      x = 0.0;
      y += 4.5;
    }
    const glm::dvec2 left = at + glm::dvec2{x, y};
    entry.draw(page, left, left + glm::dvec2{sample, 0.0}, entry.kind);
    Text text;
    text.at = left + glm::dvec2{sample + 1.5, 0.9};
    text.text = entry.words;
    text.size_mm = size;
    page.texts.push_back(text);
    x += wide;
  }
  Text note;
  note.text =
      "* true length, up the slope: longer than on this plan. Other lengths measure as "
      "they are written.";
  note.size_mm = size;
  note.at = at + glm::dvec2{0.0, y + 5.4};
  page.texts.push_back(note);
  return y + 9.0;
}

}  // namespace ridgeward::papers
