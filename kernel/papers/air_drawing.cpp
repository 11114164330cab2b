#include "papers/air_drawing.hpp"

#include "airflow/words.hpp"
#include "papers/plan_names.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::papers {

namespace {

using Kind = airflow::Path::Kind;

constexpr double apart_mm = 3.0;  ///< of arrows side by side
constexpr double ring_mm = 1.5;
constexpr double wrong_mm = 0.6;
constexpr double head_room_mm = 2.4;  ///< for the arrow's head on the last stretch
constexpr double grey = 0.45;

class AirPen {
 public:
  AirPen(const Assessment& a, const airflow::CaseAir& one, const PlanScale& scale, Page& page)
      : a_(a), one_(one), scale_(scale), page_(page), room_(page, scale.frame) {}

  void surroundings(units::Style style);
  void roof();
  void paths();
  void names(units::Style style);

 private:
  glm::dvec2 at(glm::dvec3 p) const { return scale_.at(glm::dvec2(p)); }
  bool is_wrong(const airflow::Path& path) const;
  bool crosses_another(const airflow::Path& path) const;
  double flow_of(const std::vector<std::string>& vents) const;
  void arrow(const airflow::Path& path);
  void ring(const airflow::Path& path);

  const Assessment& a_;
  const airflow::CaseAir& one_;
  const PlanScale& scale_;
  Page& page_;
  LabelRoom room_;
  std::vector<std::pair<glm::dvec2, glm::dvec2>> drawn_;  ///< stretches of arrows
  std::map<Kind, glm::dvec2> last_;
};

void AirPen::roof() {
  for (const surface::Line& line : a_.surface.lines) {
    if (line.kind != surface::LineKind::wall_edge) {
      Stroke thin = stroke_of(line.kind);
      thin.width_mm = std::min(thin.width_mm, 0.2);
      thin.shade = grey;
      const glm::dvec2 from = at(a_.surface.nodes[line.from]);
      const glm::dvec2 to = at(a_.surface.nodes[line.to]);
      page_.paths.push_back(segment(from, to, thin));
      room_.cross(from, to, 0.2);
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

bool AirPen::crosses_another(const airflow::Path& path) const {
  const auto side = [](glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) {
    const double twice = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    return std::abs(twice) < 1e-6 ? 0 : twice > 0.0 ? 1 : -1;
  };
  for (std::size_t i = 1; i < path.points.size(); ++i) {
    const glm::dvec2 from = at(path.points[i - 1]);
    const glm::dvec2 to = at(path.points[i]);
    const bool is_hit = std::any_of(drawn_.begin(), drawn_.end(), [&](const auto& other) {
      const auto& [a, b] = other;
      return side(a, b, from) * side(a, b, to) < 0 && side(from, to, a) * side(from, to, b) < 0;
    });
    if (is_hit) {
      return true;
    }
  }
  return false;
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
  if (crosses_another(path)) {
    return;  // at a corner, where a neighbour stands for it
  }
  last_[path.kind] = middle;
  for (std::size_t i = 1; i < path.points.size(); ++i) {
    drawn_.emplace_back(at(path.points[i - 1]), at(path.points[i]));
    room_.block(at(path.points[i - 1]), at(path.points[i]), 0.8);
  }
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
  room_.block(middle - glm::dvec2{ring_mm, 0.0}, middle + glm::dvec2{ring_mm, 0.0}, ring_mm);
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

/// What all openings of these vents pass together.
double AirPen::flow_of(const std::vector<std::string>& vents) const {
  double sum = 0.0;
  for (std::size_t i = 0; i < a_.airflow.openings.size(); ++i) {
    const airflow::Way& way = a_.airflow.openings[i];
    if (way.role != airflow::Role::leak &&
        std::find(vents.begin(), vents.end(), way.id) != vents.end()) {
      sum += one_.openings[i].flow_m3s;
    }
  }
  return sum;
}

/// Each vent, or row of vents, once with all that it passes.
void AirPen::names(units::Style style) {
  for (const OpeningName& name : opening_names(a_)) {
    const double sum = flow_of(name.ids);
    const Text label =
        label_at({}, fmt::format("{}: {} {}", name.text, airflow::flow_words(std::abs(sum), style),
                                 sum >= 0.0 ? "in" : "out"));
    for (const double farthest_mm : {16.0, 60.0}) {
      const bool is_placed =
          std::any_of(name.at.begin(), name.at.end(), [&](const glm::dvec3& place) {
            return room_.place_with_leader(at(place), label, farthest_mm);
          });
      if (is_placed) {
        break;
      }
    }
  }
}

void AirPen::surroundings(units::Style style) {
  draw_north_and_bar(a_, scale_, style, page_);
  room_.block(scale_.arrow - glm::dvec2{6.0, 0.0}, scale_.arrow + glm::dvec2{6.0, 0.0}, 6.0);
}

}  // namespace

void draw_air_plan(const Assessment& assessment, const airflow::CaseAir& one,
                   const PlanScale& scale, units::Style style, Page& page) {
  AirPen pen(assessment, one, scale, page);
  pen.surroundings(style);
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
