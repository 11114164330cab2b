#include "ifc/places.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <functional>
#include <limits>
#include <set>
#include <utility>

namespace ridgeward::ifc {
namespace {

using importing::length;
using importing::minus;
using importing::plus;
using importing::Point;
using importing::scaled;

constexpr int most_nested = 40;

std::optional<Point> triple(const Statements& lines, std::string_view name, std::string_view kind) {
  const auto at = lines.find(name);
  if (at == lines.end() || at->second.kind != kind) {
    return std::nullopt;
  }
  const std::vector<double> numbers = numbers_in(at->second.values().front());
  return numbers.size() < 3 ? std::nullopt
                            : std::optional(Point{numbers[0], numbers[1], numbers[2]});
}

std::optional<Point> direction(const Statements& lines, const std::vector<std::string>& values,
                               std::size_t place, const Point& otherwise) {
  if (values.size() <= place || values[place] == "$") {
    return otherwise;
  }
  const std::optional<Point> way = triple(lines, values[place], "IFCDIRECTION");
  const double size = way ? length(*way) : 0.0;
  return size > 1e-12 ? std::optional(scaled(*way, 1.0 / size)) : std::nullopt;
}

/// ISO 16739-1, IfcAxis2Placement3D: the third axis, and the first made square to it.
std::optional<Place> axes(const Statements& lines, std::string_view name) {
  const auto at = lines.find(name);
  if (at == lines.end() || at->second.kind != "IFCAXIS2PLACEMENT3D") {
    return std::nullopt;
  }
  const std::vector<std::string> values = at->second.values();
  const auto origin = triple(lines, values.front(), "IFCCARTESIANPOINT");
  const auto z = direction(lines, values, 1, {0.0, 0.0, 1.0});
  const auto toward = direction(lines, values, 2, {1.0, 0.0, 0.0});
  return origin && z && toward ? place_by(*origin, *z, *toward) : std::nullopt;
}

std::optional<Place> world(const Statements& lines, std::string_view name, int deepest) {
  const auto at = lines.find(name);
  if (at == lines.end() || at->second.kind != "IFCLOCALPLACEMENT" || deepest == 0) {
    return std::nullopt;
  }
  const std::vector<std::string> values = at->second.values();
  const std::optional<Place> own = values.size() > 1 ? axes(lines, values[1]) : std::nullopt;
  if (!own || values.front() == "$") {
    return own;
  }
  const std::optional<Place> above = world(lines, values.front(), deepest - 1);
  if (!above) {
    return std::nullopt;
  }
  return Place{above->turned(own->x), above->turned(own->y), above->turned(own->z),
               above->at(own->origin)};
}

/// A solid that a profile makes on its way: the profile, and what else says its way, stand in the
/// frame of its attribute Position.
bool is_swept(std::string_view kind) {
  return kind.starts_with("IFCEXTRUDEDAREASOLID") || kind.starts_with("IFCREVOLVEDAREASOLID") ||
         kind == "IFCSURFACECURVESWEPTAREASOLID" || kind == "IFCFIXEDREFERENCESWEPTAREASOLID" ||
         kind == "IFCSURFACEOFLINEAREXTRUSION" || kind == "IFCSURFACEOFREVOLUTION";
}

/// Whether what an attribute of a shape's statement names stands in the shape's own frame.
bool leads_on(std::string_view kind, std::size_t index) {
  if (is_swept(kind)) {
    return index == 1;
  }
  if (kind == "IFCPRODUCTDEFINITIONSHAPE") {
    return index == 2;
  }
  if (kind == "IFCSHAPEREPRESENTATION") {
    return index == 3;
  }
  if (kind == "IFCMAPPEDITEM") {  // what is mapped has a frame of its own
    return index == 1;
  }
  if (kind == "IFCPOLYGONALBOUNDEDHALFSPACE") {
    return index != 3;
  }
  return kind != "IFCCURVEBOUNDEDPLANE" || index == 0;
}

/// Calls `take` with the names "#17" in a list, outside strings, and the attribute they stand at.
void each_name(std::string_view list,
               const std::function<void(std::string_view name, std::size_t index)>& take) {
  std::size_t index = 0;
  int depth = 0;
  bool in_string = false;
  for (std::size_t at = 0; at < list.size() && depth >= 0; ++at) {
    const char c = list[at];
    in_string = c == '\'' ? !in_string : in_string;
    if (in_string) {
      continue;
    }
    depth += (c == '(' ? 1 : 0) - (c == ')' ? 1 : 0);
    index += c == ',' && depth == 0 ? 1U : 0U;
    if (c == '#') {
      const std::size_t end = std::min(list.size(), list.find_first_not_of("0123456789", at + 1));
      take(list.substr(at, end - at), index);
      at = end - 1;
    }
  }
}

/// Calls `take` with a statement and with each that it leads to, once.
void each_below(const Statements& lines, std::string_view first,
                bool (*leads)(std::string_view kind, std::size_t index),
                const std::function<void(const Statement&)>& take) {
  std::set<std::string_view> seen;
  std::vector<std::string_view> open{first};
  while (!open.empty()) {
    const auto at = lines.find(open.back());
    open.pop_back();
    if (at == lines.end() || !seen.insert(at->first).second) {
      continue;
    }
    const Statement& it = at->second;
    take(it);
    each_name(it.list, [&](std::string_view next, std::size_t index) {
      if (leads(it.kind, index)) {
        open.push_back(next);
      }
    });
  }
}

bool is_far_point(const Statement& it, double far) {
  const std::vector<double> numbers = numbers_in(it.list);
  return numbers.size() > 1 && std::hypot(numbers[0], numbers[1]) > far;
}

/// Half way between the outermost, in plan.
Point middle_of(const std::vector<Point>& corners) {
  Point middle{0.0, 0.0, 0.0};
  for (std::size_t k = 0; k < 2 && !corners.empty(); ++k) {
    const auto [low, high] =
        std::minmax_element(corners.begin(), corners.end(),
                            [&](const Point& a, const Point& b) { return a.at(k) < b.at(k); });
    middle.at(k) = std::round(low->at(k) / 2.0 + high->at(k) / 2.0);
  }
  return middle;
}

}  // namespace

std::optional<std::map<std::string_view, Place>> placements_in(std::string_view text) {
  Statements lines =
      statements_of(text, {"IFCLOCALPLACEMENT", "IFCAXIS2PLACEMENT3D", "IFCDIRECTION"});
  std::set<std::string> wanted;
  for (const auto& [name, line] : lines) {
    if (line.kind == "IFCAXIS2PLACEMENT3D") {
      wanted.insert(line.values().front());
    }
  }
  each_statement(text, [&](const Statement& it) {
    if (it.kind == "IFCCARTESIANPOINT" && wanted.contains(std::string(it.name))) {
      lines.emplace(it.name, it);
    }
  });
  std::map<std::string_view, Place> found;
  for (const auto& [name, line] : lines) {
    if (line.kind != "IFCLOCALPLACEMENT") {
      continue;
    }
    const std::optional<Place> frame = world(lines, name, most_nested);
    if (!frame) {
      return std::nullopt;
    }
    found.emplace(name, *frame);
  }
  return found;
}

std::string_view attribute(const Statement& it, std::size_t index) {
  std::size_t begin = 0;
  int depth = 0;
  bool in_string = false;
  for (std::size_t at = 0; at < it.list.size(); ++at) {
    const char c = it.list[at];
    in_string = c == '\'' ? !in_string : in_string;
    depth += in_string ? 0 : (c == '(' ? 1 : 0) - (c == ')' ? 1 : 0);
    const bool is_end = !in_string && (depth < 0 || (c == ',' && depth == 0));
    if (is_end && index == 0) {
      std::string_view found = it.list.substr(begin, at - begin);
      found.remove_prefix(std::min(found.size(), found.find_first_not_of(" \t\r\n")));
      return found.substr(0, found.find_last_not_of(" \t\r\n") + 1);
    }
    if (depth < 0) {
      break;
    }
    if (is_end) {
      --index;
      begin = at + 1;
    }
  }
  return {};
}

FarShapes::FarShapes(std::string_view text, double far) {
  bool has_far = false;
  each_statement(text, [&](const Statement& it) {
    has_far = has_far || (it.kind == "IFCCARTESIANPOINT" && is_far_point(it, far));
  });
  if (!has_far) {
    return;
  }
  each_statement(text, [&](const Statement& it) { lines_.emplace(it.name, it); });
  std::vector<Point> middles;
  for (const auto& [name, line] : lines_) {
    // IfcProduct (ISO 16739-1): the sixth attribute and the seventh.
    const std::string_view shape = line.list.starts_with('\'') ? attribute(line, 6) : "";
    const auto at = lines_.find(shape);
    if (at == lines_.end() || at->second.kind != "IFCPRODUCTDEFINITIONSHAPE") {
      continue;
    }
    std::vector<Point> corners;
    reach(shape, corners);
    const Point middle = middle_of(corners);
    if (std::hypot(middle[0], middle[1]) > far) {
      found_.push_back({attribute(line, 5), shape});
      middles.push_back(middle);
    }
  }
  by_ = middle_of(middles);
}

void FarShapes::reach(std::string_view shape, std::vector<Point>& corners) const {
  // Where a solid's outline lies counts, not the place that it hangs on.
  const auto leads = [](std::string_view kind, std::size_t index) {
    return !is_swept(kind) && leads_on(kind, index);
  };
  each_below(lines_, shape, leads, [&](const Statement& it) {
    if (const auto corner = triple(lines_, it.name, "IFCCARTESIANPOINT")) {
      corners.push_back(*corner);
    } else if (is_swept(it.kind)) {
      reach_outline(it, corners);
    }
  });
}

void FarShapes::reach_outline(const Statement& solid, std::vector<Point>& corners) const {
  const std::optional<Place> frame = axes(lines_, attribute(solid, 1));
  const auto all = [](std::string_view, std::size_t) { return true; };
  each_below(lines_, attribute(solid, 0), all, [&](const Statement& it) {
    const bool is_corner = frame && it.kind == "IFCCARTESIANPOINT";
    const std::vector<double> numbers = is_corner ? numbers_in(it.list) : std::vector<double>{};
    if (numbers.size() == 2) {
      corners.push_back(plus(frame->origin, frame->turned({numbers[0], numbers[1], 0.0})));
    }
  });
}

std::string FarShapes::nearer(std::string_view name, std::uint64_t& last, std::string& added) {
  if (const auto done = made_.find(name); done != made_.end()) {
    return done->second;
  }
  made_.emplace(name, name);  // what names itself is left as it is
  constexpr int deepest = 1000;
  const auto at = lines_.find(name);
  if (at == lines_.end() || depth_ > deepest) {
    return std::string(name);
  }
  ++depth_;
  const Statement& it = at->second;
  std::string list;
  if (const auto corner = triple(lines_, name, "IFCCARTESIANPOINT")) {
    const Point moved = minus(*corner, by_);
    std::array<char, 160> words{};
    std::snprintf(words.data(), words.size(), "(%.9f,%.9f,%.9f))", moved[0], moved[1], moved[2]);
    list = words.data();
  } else {
    std::size_t done = 0;
    bool is_changed = false;
    each_name(it.list, [&](std::string_view next, std::size_t index) {
      if (leads_on(it.kind, index)) {
        const std::string now = nearer(next, last, added);
        const auto start = static_cast<std::size_t>(next.data() - it.list.data());
        list += it.list.substr(done, start - done);
        list += now;
        done = start + next.size();
        is_changed = is_changed || now != next;
      }
    });
    list += it.list.substr(done);
    if (!is_changed) {
      --depth_;
      return std::string(name);
    }
  }
  --depth_;
  std::string made = "#" + std::to_string(++last);
  added += made + "=" + std::string(it.kind) + "(" + list + ";\n";
  made_[name] = made;
  return made;
}

}  // namespace ridgeward::ifc
