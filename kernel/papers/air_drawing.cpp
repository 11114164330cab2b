#include "papers/air_drawing.hpp"

#include "airflow/words.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

namespace ridgeward::papers {

namespace {

using Kind = airflow::Path::Kind;

constexpr double apart_mm = 3.0;  ///< of arrows side by side
constexpr double ring_mm = 1.5;
constexpr double wrong_mm = 0.6;
constexpr double head_room_mm = 2.4;  ///< for the arrow's head on the last stretch
constexpr double grey = 0.45;

/// Pushes a label sideways so that it lies between two places on the paper.
void keep_within(Text& label, glm::dvec2 from_to) {
  double left = from_to.y;
  double right = from_to.x;
  for (const glm::dvec2& corner : box_of(label)) {
    left = std::min(left, corner.x);
    right = std::max(right, corner.x);
  }
  label.at.x += std::max(0.0, from_to.x - left) - std::max(0.0, right - from_to.y);
}

class AirPen {
 public:
  AirPen(const Assessment& a, const airflow::CaseAir& one, const AirPlan& plan, Page& page)
      : a_(a), one_(one), scale_(plan.scale), within_(plan.left_to_right_mm), page_(page) {}

  void roof();
  void paths();
  void names(units::Style style);

 private:
  glm::dvec2 at(glm::dvec3 p) const { return scale_.at(glm::dvec2(p)); }
  bool is_wrong(const airflow::Path& path) const;
  void arrow(const airflow::Path& path);
  void ring(const airflow::Path& path);

  const Assessment& a_;
  const airflow::CaseAir& one_;
  const PlanScale& scale_;
  glm::dvec2 within_;
  Page& page_;
  std::map<Kind, glm::dvec2> last_;
};

void AirPen::roof() {
  for (const surface::Line& line : a_.surface.lines) {
    if (line.kind != surface::LineKind::wall_edge) {
      Stroke thin = stroke_of(line.kind);
      thin.width_mm = std::min(thin.width_mm, 0.2);
      thin.shade = grey;
      page_.paths.push_back(
          segment(at(a_.surface.nodes[line.from]), at(a_.surface.nodes[line.to]), thin));
    }
  }
}

bool AirPen::is_wrong(const airflow::Path& path) const {
  if (path.kind == Kind::along_bay) {
    return false;
  }
  const airflow::Role role = a_.airflow.openings[path.opening].role;
  return role != airflow::Role::leak &&
         (path.kind == Kind::comes_in) != (role == airflow::Role::intake);
}

void AirPen::arrow(const airflow::Path& path) {
  const glm::dvec2 from = at(path.points.front());
  const glm::dvec2 to = at(path.points.back());
  const glm::dvec2 middle = 0.5 * (from + to);
  const auto last = last_.find(path.kind);
  if (glm::length(to - from) < 1.0 ||
      (last != last_.end() && glm::length(last->second - middle) < apart_mm)) {
    return;
  }
  last_[path.kind] = middle;
  const Stroke pen{is_wrong(path) ? wrong_mm : 0.25, 0.0, {}};
  glm::dvec2 start = from;
  for (std::size_t i = 1; i < path.points.size(); ++i) {
    const glm::dvec2 next = at(path.points[i]);
    if (i + 1 == path.points.size()) {
      draw_arrow(page_, start, next, pen);
    } else if (glm::length(to - next) > head_room_mm) {
      page_.paths.push_back(segment(start, next, pen));
      start = next;
    }
  }
}

void AirPen::ring(const airflow::Path& path) {
  const bool is_out = path.kind == Kind::goes_out;
  const glm::dvec2 middle = at(is_out ? path.points.back() : path.points.front());
  Path circle = ring_about(middle, ring_mm);
  circle.stroke.width_mm = is_wrong(path) ? wrong_mm : 0.25;
  page_.paths.push_back(std::move(circle));
  if (is_out) {
    page_.paths.push_back(area_of({ring_about(middle, 0.45).loops.front()}, 0.0));
    return;
  }
  const double r = 0.7 * ring_mm;
  page_.paths.push_back(segment(middle - r, middle + r, {0.25, 0.0, {}}));
  page_.paths.push_back(
      segment(middle + glm::dvec2{-r, r}, middle + glm::dvec2{r, -r}, {0.25, 0.0, {}}));
}

void AirPen::paths() {
  for (const airflow::Path& path : air_paths(a_, one_)) {
    const bool is_leak = path.kind != Kind::along_bay &&
                         a_.airflow.openings[path.opening].role == airflow::Role::leak;
    if (is_leak) {
      continue;  // everywhere through the ceiling: told in the table
    }
    if (path.kind != Kind::along_bay && path.bay.is_none()) {
      ring(path);
    } else {
      arrow(path);
    }
  }
}

/// Each vent once, with all that it passes.
void AirPen::names(units::Style style) {
  std::map<std::string, double> flow;
  std::map<std::string, glm::dvec3> place;
  std::map<std::string, glm::dvec2> outward;
  for (std::size_t i = 0; i < a_.airflow.openings.size(); ++i) {
    const airflow::Way& way = a_.airflow.openings[i];
    if (way.role != airflow::Role::leak) {
      flow[way.id] += one_.openings[i].flow_m3s;
      place.try_emplace(way.id, way.at);
      glm::dvec2 out{0.0, -0.7};
      if (!way.slot.is_none()) {
        out = glm::dvec2{a_.surface.planes[a_.vents.slots[way.slot].plane].frame.normal};
        out = glm::length(out) > 0.0 ? glm::normalize(out) : out;
      }
      outward.try_emplace(way.id, out);
    }
  }
  for (const auto& [id, sum] : flow) {
    // Beside an eave on its outer side, clear of the arrows.
    const glm::dvec2 out = outward.at(id);
    const Align align = out.x > 0.5 ? Align::left : out.x < -0.5 ? Align::right : Align::middle;
    Text label = label_at(at(place.at(id)) + glm::dvec2{5.0 * out.x, -5.0 * out.y + 1.2},
                          fmt::format("{}: {} {}", id, airflow::flow_words(std::abs(sum), style),
                                      sum >= 0.0 ? "in" : "out"),
                          align);
    label.has_halo = true;
    keep_within(label, within_);
    add_label(page_, std::move(label));
  }
}

}  // namespace

void draw_air_plan(const Assessment& assessment, const airflow::CaseAir& one, const AirPlan& plan,
                   units::Style style, Page& page) {
  AirPen pen(assessment, one, plan, page);
  pen.roof();
  pen.paths();
  pen.names(style);
}

const char* air_plan_key() {
  return "Arrows: the way of the air from outside into a bay, or along one. Ring with a dot: out "
         "through the roof; with a cross: in. Thick: the wrong way for that vent. Within an attic "
         "the air mixes and has no line of its own.";
}

}  // namespace ridgeward::papers
