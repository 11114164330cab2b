// Ids, points, loops and names of planes and lines.
#include "model/outline_check.hpp"
#include "model/read_pieces.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace ridgeward::model {

void read_version(const Cursor& cursor) {
  if (!cursor.is_there()) {
    cursor.fault("version.missing", "the file does not say which format version it has",
                 "write \"ridgeward\": 1 as its first entry");
    return;
  }
  const std::optional<double> version = cursor.number({-1.0e9, 1.0e9});
  if (version && *version != 1.0) {
    cursor.fault("version.unknown", fmt::format("format version {:g} is not known", *version),
                 "this program reads version 1");
  }
}

std::optional<units::LengthUnit> read_unit(const Cursor& cursor) {
  using units::LengthUnit;
  return cursor.one_of<LengthUnit>({{"ft", LengthUnit::ft},
                                    {"in", LengthUnit::in},
                                    {"m", LengthUnit::m},
                                    {"mm", LengthUnit::mm}});
}

std::string Ids::read(const Cursor& cursor, const std::string& otherwise) {
  std::string id = cursor.id().value_or(otherwise);
  if (!met_.insert(id).second) {
    cursor.fault("id.twice", "the id \"" + id + "\" is used twice", "give each its own id");
  }
  return id;
}

std::optional<glm::dvec2> read_point(const Cursor& cursor) {
  if (!cursor.open_list()) {
    return std::nullopt;
  }
  if (cursor.size() != 2) {
    cursor.fault("field.type", fmt::format("{} numbers make no point", cursor.size()),
                 "give two lengths: [x, y]");
    return std::nullopt;
  }
  const std::optional<double> x = cursor.item(0).length(any_length);
  const std::optional<double> y = cursor.item(1).length(any_length);
  return x && y ? std::optional(glm::dvec2(*x, *y)) : std::nullopt;
}

std::vector<glm::dvec2> read_corners(const Cursor& cursor) {
  if (!cursor.open_list()) {
    return {};
  }
  if (cursor.size() > most_corners) {
    cursor.fault("outline.too_many", fmt::format("{} corners are too many", cursor.size()),
                 fmt::format("give at most {} corners", most_corners));
    return {};
  }
  std::vector<glm::dvec2> corners;
  corners.reserve(cursor.size());
  bool all_read = true;
  for (std::size_t i = 0; i < cursor.size(); ++i) {
    const Cursor item = cursor.item(i);
    const std::optional<glm::dvec2> corner = read_point(item);
    all_read = all_read && corner.has_value();
    corners.push_back(corner.value_or(glm::dvec2(0.0)));
  }
  if (all_read && corners.empty()) {
    cursor.fault("outline.too_few", "0 corners make no outline", "give at least three corners");
  }
  return all_read ? corners : std::vector<glm::dvec2>{};
}

std::vector<glm::dvec2> read_loop(const Cursor& cursor) {
  std::vector<glm::dvec2> corners = read_corners(cursor);
  if (corners.empty()) {
    return {};
  }
  Faults faults = check_simple({corners, cursor.where()});
  for (Fault& fault : faults) {
    cursor.reading().fault(std::move(fault));
  }
  if (!faults.empty()) {
    return {};
  }
  if (!is_counter_clockwise(corners)) {
    std::reverse(corners.begin(), corners.end());
  }
  return corners;
}

namespace {

/// What is wrong with a plane's name, empty when it is built on an edge of a part.
std::string plane_fault(std::string_view plane, const RoofModel& model) {
  const std::size_t stroke = plane.find('/');
  const std::string_view part_id = plane.substr(0, stroke);
  const auto part = std::find_if(model.parts.begin(), model.parts.end(),
                                 [&](const Part& p) { return p.id == part_id; });
  if (part == model.parts.end()) {
    return fmt::format("there is no part \"{}\"", part_id);
  }
  std::string_view digits = stroke == std::string_view::npos ? "" : plane.substr(stroke + 1);
  digits = digits.substr(0, digits.find(':'));
  std::size_t edge = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), edge);
  if (digits.empty() || error != std::errc{} || end != digits.data() + digits.size() ||
      edge >= part->edge_count()) {
    return fmt::format(R"("{}" names no edge of part "{}", which has edges 0 to {})", plane,
                       part_id, part->edge_count() - 1);
  }
  return "";
}

}  // namespace

void check_plane_name(const Cursor& cursor, const std::string& plane, const RoofModel& model) {
  if (const std::string fault = plane_fault(plane, model); !fault.empty()) {
    cursor.fault("name.unknown", fault,
                 "name a plane by part and edge: \"" + model.parts.front().id + "/0\"");
  }
}

void check_line_name(const Cursor& cursor, const std::string& line, const RoofModel& model) {
  const std::string_view whole = line;
  const std::string_view planes = whole.substr(0, whole.find('#'));
  const std::size_t bar = planes.find('|');
  std::string fault = bar == std::string_view::npos ? "\"" + line + "\" names no line" : "";
  if (fault.empty()) {
    fault = plane_fault(planes.substr(0, bar), model);
  }
  if (fault.empty()) {
    fault = plane_fault(planes.substr(bar + 1), model);
  }
  if (!fault.empty()) {
    const std::string& part = model.parts.front().id;
    cursor.fault("name.unknown", fault,
                 fmt::format("name a line by the planes beside it: \"{}/0|{}/2\"", part, part));
  }
}

}  // namespace ridgeward::model
