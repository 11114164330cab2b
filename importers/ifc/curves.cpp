#include "ifc/curves.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>

namespace ridgeward::ifc {
namespace {

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;
using importing::Point;
using importing::scaled;

constexpr std::size_t most_corners = 500;

/// Between two corners of an arc over a third, in steps of 5 degrees at most; without its start.
void add_arc(Loop& corners, const Point& from, const Point& over, const Point& to) {
  const Point a = minus(over, from);
  const Point b = minus(to, from);
  const Point n = cross(a, b);
  const double twice = 2.0 * dot(n, n);
  if (!(twice > 1e-18)) {
    corners.push_back(over);
    corners.push_back(to);
    return;
  }
  const Point out = minus(scaled(cross(b, n), dot(a, a)), scaled(cross(a, n), dot(b, b)));
  const Point middle = plus(from, scaled(out, 1.0 / twice));
  const Point x = minus(from, middle);
  const Point y = scaled(cross(n, x), 1.0 / length(n));
  const auto angle = [&](const Point& p) {
    const double way = std::atan2(dot(minus(p, middle), y), dot(minus(p, middle), x));
    return way < 0.0 ? way + 2.0 * M_PI : way;
  };
  const double sweep = angle(to);
  const int steps = std::clamp(static_cast<int>(std::ceil(sweep / (M_PI / 36.0))), 1, 72);
  for (int i = 1; i < steps; ++i) {
    const double way = sweep * i / steps;
    corners.push_back(plus(middle, plus(scaled(x, std::cos(way)), scaled(y, std::sin(way)))));
  }
  corners.push_back(to);
}

/// IfcIndexedPolyCurve: Points, Segments (IfcLineIndex, IfcArcIndex), SelfIntersect.
Loop corners_of_indexed(const Table& table, const std::vector<std::string>& values) {
  const Statement* list = table.at(values.front(), "IFCCARTESIANPOINTLIST2D");
  list = list == nullptr ? table.at(values.front(), "IFCCARTESIANPOINTLIST3D") : list;
  Loop points;
  for (std::vector<double>& numbers :
       list == nullptr ? std::vector<std::vector<double>>{} : tuples_in(list->values().front())) {
    numbers.resize(3, 0.0);
    points.push_back({numbers[0], numbers[1], numbers[2]});
  }
  if (values.size() < 2 || values[1] == "$") {
    return points;
  }
  Loop corners;
  std::string_view segments = values[1];
  for (std::size_t at = segments.find("INDEX("); at != std::string_view::npos;
       at = segments.find("INDEX(")) {
    const bool is_arc = at >= 3 && segments.substr(at - 3, 3) == "ARC";
    segments.remove_prefix(at + 6);
    const std::vector<double> numbers = numbers_in(segments);
    Loop way;
    for (const double number : numbers) {
      const auto count = static_cast<double>(points.size());
      if (!(number >= 1.0 && number <= count)) {
        return {};
      }
      way.push_back(points[static_cast<std::size_t>(number) - 1]);
    }
    if (way.size() < 2) {
      return {};
    }
    if (corners.empty()) {
      corners.push_back(way.front());
    }
    if (is_arc && way.size() == 3) {
      add_arc(corners, way[0], way[1], way[2]);
    } else {
      corners.insert(corners.end(), way.begin() + 1, way.end());
    }
  }
  return corners;
}

}  // namespace

Loop corners_of_curve(const Table& table, const std::string& curve) {
  Loop corners;
  if (const Statement* line = table.at(curve, "IFCPOLYLINE"); line != nullptr) {
    for (const Name name : names_in(line->list)) {
      const auto p = table.triple("#" + std::to_string(name), "IFCCARTESIANPOINT");
      if (!p) {
        return {};
      }
      corners.push_back(*p);
    }
  } else if (const Statement* indexed = table.at(curve, "IFCINDEXEDPOLYCURVE");
             indexed != nullptr) {
    corners = corners_of_indexed(table, indexed->values());
  }
  const auto same = [](const Point& a, const Point& b) { return a == b; };
  corners.erase(std::unique(corners.begin(), corners.end(), same), corners.end());
  while (corners.size() > 1 && corners.front() == corners.back()) {
    corners.pop_back();
  }
  return corners.size() > most_corners ? Loop{} : corners;
}

Loop outline_in(const Table& table, const std::string& profile) {
  if (const Statement* free = table.at(profile, "IFCARBITRARYCLOSEDPROFILEDEF"); free != nullptr) {
    const std::vector<std::string> values = free->values();
    return values.size() < 3 ? Loop{} : corners_of_curve(table, values[2]);
  }
  const Statement* box = table.at(profile, "IFCRECTANGLEPROFILEDEF");
  const std::vector<std::string> values =
      box == nullptr ? std::vector<std::string>{} : box->values();
  if (values.size() < 5 || numbers_in(values[3]).empty() || numbers_in(values[4]).empty()) {
    return {};
  }
  const double x = numbers_in(values[3]).front() / 2.0;
  const double y = numbers_in(values[4]).front() / 2.0;
  Point origin{0.0, 0.0, 0.0};
  Point way{1.0, 0.0, 0.0};
  if (const Statement* place = table.at(values[2], "IFCAXIS2PLACEMENT2D"); place != nullptr) {
    const std::vector<std::string> parts = place->values();
    origin = table.triple(parts.front(), "IFCCARTESIANPOINT").value_or(origin);
    way = parts.size() < 2 ? way : table.triple(parts[1], "IFCDIRECTION").value_or(way);
    way = scaled(way, 1.0 / std::max(length(way), 1e-12));
  }
  const Point side{-way[1], way[0], 0.0};
  Loop ring;
  for (const auto& [a, b] :
       {std::pair(-x, -y), std::pair(x, -y), std::pair(x, y), std::pair(-x, y)}) {
    ring.push_back(plus(origin, plus(scaled(way, a), scaled(side, b))));
  }
  return ring;
}

}  // namespace ridgeward::ifc
