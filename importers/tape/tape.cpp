// Reads walls as they are measured around a house: lengths and turns, one wall a line of CSV
// (RFC 4180; semicolons and tabs serve too).
#include "plugin/importer_abi.h"
#include "units/length.hpp"
#include "units/pitch.hpp"

#include "support/crossing.hpp"
#include "support/importing.hpp"
#include "support/planes.hpp"
#include "tape/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

namespace ridgeward::tape {
namespace {

using importing::Host;
using importing::Refused;
using Options = std::map<std::string, std::string>;

/// What is told, a sentence each.
using Doubts = std::vector<std::string>;

/// Walls whose ends lie farther apart than this share of their length were not measured so.
constexpr double worst_closing = 0.02;
/// Of a roof: beyond the first an overhang is refused, beyond the second doubted; the same of
/// plates.
constexpr double most_overhang_m = 3.0;
constexpr double wide_overhang_m = 1.3;
constexpr double least_plate_m = 0.3;
constexpr double most_plate_m = 100.0;
constexpr double high_plate_m = 20.0;
/// What no house is smaller than.
constexpr double least_house_m2 = 4.0;
/// Of a part that gives none, in feet, as in a model file.
constexpr double usual_plate_ft = 8.0;

struct Corner {
  double x = 0.0;
  double y = 0.0;
};

/// Walks the walls from 0, 0 along +x, then shares out what is missing at the end by the transit
/// rule of surveying (from memory): each wall's way along x and y by its share of all ways along
/// that axis, so that walls along the axes stay so. Returns the corners, and how far the end was
/// from the start.
std::vector<Corner> walk(const Part& part, units::Style style, double& missing_m) {
  std::vector<Corner> ways;
  Corner end;
  Corner sum;
  double heading = 0.0;
  double whole = 0.0;
  for (const Wall& wall : part.walls) {
    // Sines of quarter turns come out as 1e-17 and the like.
    const auto round = [](double value) { return std::abs(value) < 1e-12 ? 0.0 : value; };
    ways.push_back(
        {wall.length_m * round(std::cos(heading)), wall.length_m * round(std::sin(heading))});
    end.x += ways.back().x;
    end.y += ways.back().y;
    sum.x += std::abs(ways.back().x);
    sum.y += std::abs(ways.back().y);
    whole += wall.length_m;
    heading += wall.turn_rad;
  }
  missing_m = std::hypot(end.x, end.y);
  if (part.walls.size() < 3 || missing_m > worst_closing * whole) {
    throw Refused("line " + std::to_string(part.walls.front().line),
                  fmt::format("the {} walls of \"{}\" do not close: {} are missing from the end to "
                              "the start",
                              part.walls.size(), part.id, units::show(missing_m, style)),
                  "check lengths and turns; walk with the house on the left hand");
  }
  std::vector<Corner> corners;
  Corner at;
  for (const Corner& way : ways) {
    corners.push_back(at);
    at.x += way.x - (sum.x > 0.0 ? end.x * std::abs(way.x) / sum.x : 0.0);
    at.y += way.y - (sum.y > 0.0 ? end.y * std::abs(way.y) / sum.y : 0.0);
  }
  return corners;
}

double twice_area(const std::vector<Corner>& corners) {
  double sum = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Corner& next = corners[(i + 1) % corners.size()];
    sum += corners[i].x * next.y - corners[i].y * next.x;
  }
  return sum;
}

/// How lengths are read and written.
struct Measure {
  units::LengthUnit bare = units::LengthUnit::ft;  ///< of what has no unit of its own
  units::LengthUnit model = units::LengthUnit::ft;
  std::string number(double length_m) const {
    return importing::number(length_m / units::metres_in(model));
  }
  bool is_metric() const { return model == units::LengthUnit::m || model == units::LengthUnit::mm; }
  units::Style style() const {
    return is_metric() ? units::Style::metric : units::Style::feet_inches;
  }
};

/// The height of the part's plate.
double plate_of(const Part& part, const Measure& measure, Doubts& doubts) {
  if (part.plate.empty()) {
    return usual_plate_ft * units::metres_in(units::LengthUnit::ft);
  }
  const std::string where = fmt::format("line {}, column plate", part.plate_line);
  const double plate_m = length_in(part.plate, measure.bare, where);
  if (plate_m < 0.0 || (plate_m > 0.0 && plate_m < least_plate_m) || plate_m > most_plate_m) {
    throw Refused(where,
                  fmt::format("\"{}\" is {}: no plate of a house lies there", part.plate,
                              units::show(plate_m, measure.style())),
                  "give its height over the ground with its unit: 8 ft, 2.5 m");
  }
  if (plate_m > high_plate_m) {
    doubts.push_back(fmt::format("in doubt: {}, the plate lies {} high: is its unit right?", where,
                                 units::show(plate_m, measure.style())));
  }
  return plate_m;
}

/// Of an edge; refused where no roof has it, or the eave would lie under the ground.
double overhang_of(const Wall& wall, double plate_m, const Measure& measure, Doubts& doubts) {
  const double overhang_m = length_in(wall.overhang, measure.bare, wall.where("overhang"));
  const std::string shown = units::show(overhang_m, measure.style());
  if (overhang_m < 0.0 || overhang_m > most_overhang_m) {
    throw Refused(wall.where("overhang"),
                  "\"" + wall.overhang + "\" is " + shown + ", no overhang of a roof",
                  "give its unit: 16 in, 0.4 m");
  }
  const std::optional<units::Pitch> pitch = units::parse_pitch(wall.pitch);
  if (wall.kind == "eave" && pitch && overhang_m * pitch->tangent() > plate_m - units::grid_m) {
    throw Refused(wall.where("overhang"),
                  fmt::format("an overhang of {} brings the eave under the ground: the plate lies "
                              "{} high",
                              shown, units::show(plate_m, measure.style())),
                  "check the units of overhang and plate");
  }
  if (overhang_m > wide_overhang_m) {
    doubts.push_back(
        fmt::format("in doubt: {} is {}: is its unit right?", wall.where("overhang"), shown));
  }
  return overhang_m;
}

std::string edge_json(const Wall& wall, double plate_m, const Measure& measure, Doubts& doubts) {
  std::string text = "{\"kind\": " + importing::quoted(wall.kind);
  if (!wall.pitch.empty()) {
    text += ", \"pitch\": " + importing::quoted(wall.pitch);
  }
  if (!wall.overhang.empty()) {
    text += ", \"overhang\": " + measure.number(overhang_of(wall, plate_m, measure, doubts));
  }
  return text + "}";
}

/// Refused where the walls of a part, walked and closed, can't stand around a house.
void judge(const Part& part, const std::vector<Corner>& corners, Doubts& doubts) {
  const auto crossing = importing::first_crossing(
      corners, [](const Corner& c) { return c.x; }, [](const Corner& c) { return c.y; });
  if (crossing) {
    throw Refused("line " + std::to_string(part.walls[crossing->second].line),
                  "this wall of \"" + part.id + "\" crosses that of line " +
                      std::to_string(part.walls[crossing->first].line),
                  "check lengths and turns between the two");
  }
  if (twice_area(corners) < 0.0) {
    throw Refused("line " + std::to_string(part.walls.front().line),
                  "the walls of \"" + part.id + "\" run clockwise",
                  "walk with the house on the left hand, or turn left and right about");
  }
  const double area_m2 = 0.5 * twice_area(corners);
  if (area_m2 < least_house_m2) {
    doubts.push_back(
        fmt::format("in doubt: \"{}\" covers {:.2g} m2: are its units right?", part.id, area_m2));
  }
}

std::string part_json(const Part& part, const Measure& measure, Doubts& doubts, const Host& host) {
  double missing_m = 0.0;
  const std::vector<Corner> corners = walk(part, measure.style(), missing_m);
  judge(part, corners, doubts);
  host.note(
      fmt::format("\"{}\": {} walls, {} missing from the end to the start, shared out among them",
                  part.id, part.walls.size(),
                  measure.is_metric() ? units::show(missing_m, units::Style::metric)
                                      : units::feet_inches(missing_m, 16)));
  const double plate_m = plate_of(part, measure, doubts);
  std::string outline;
  std::string edges;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const char* comma = i == 0 ? "" : ", ";
    outline += comma + ("[" + measure.number(corners[i].x + part.x_m) + ", " +
                        measure.number(corners[i].y + part.y_m) + "]");
    edges += comma + edge_json(part.walls[i], plate_m, measure, doubts);
  }
  const std::string plate = part.plate.empty() ? "" : ", \"plate\": " + measure.number(plate_m);
  return "{\"id\": " + importing::quoted(part.id) + ", \"outline\": [" + outline +
         "], \"edges\": [" + edges + "]" + plate + "}";
}

/// Refused for texts that are not UTF-8 but UTF-16, as spreadsheets write them.
void judge_encoding(std::string_view text) {
  const bool is_marked = text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF");
  if (is_marked || text.substr(0, 64).find('\0') != std::string_view::npos) {
    throw Refused("", is_marked ? "the file is UTF-16" : "the file is no text in UTF-8",
                  "save it as UTF-8 (\"CSV UTF-8\" in spreadsheets)");
  }
}

void import_text(std::string_view text, const Options& options, const Host& host) {
  judge_encoding(text);
  const auto at = options.find("unit");
  const bool is_asked = at != options.end();
  const std::optional<units::LengthUnit> unit = units::unit_named(is_asked ? at->second : "ft");
  if (!unit) {
    throw Refused("", "unit=" + at->second + " is not known", "give unit=ft, in, m or mm");
  }
  const Table table = read_table(text, *unit);
  if (!table.unknown.empty()) {
    std::string names;
    for (const std::string& name : table.unknown) {
      names += (names.empty() ? "\"" : ", \"") + name + "\"";
    }
    host.note("passed over, columns that are not known: " + names);
  }
  if (table.parts.empty()) {
    throw Refused("", "there are no walls in the file",
                  "give a line of column names, then one line a wall");
  }
  Measure measure{*unit, *unit};
  if (!is_asked && table.is_metric) {
    measure.model = units::LengthUnit::m;
  }
  std::string parts;
  Doubts doubts = table.doubts;
  for (const Part& part : table.parts) {
    parts += (parts.empty() ? "" : ",\n") + part_json(part, measure, doubts, host);
  }
  constexpr std::size_t most_told = 4;
  for (std::size_t i = 0; i < std::min(doubts.size(), most_told); ++i) {
    host.note(doubts[i]);
  }
  if (doubts.size() > most_told) {
    host.note(fmt::format("in doubt, too: {} more such", doubts.size() - most_told));
  }
  if (table.has_bare && !is_asked) {
    host.note("lengths without a unit are taken as feet; otherwise give the option unit=m");
  }
  host.note("the first wall of each part runs along +x, from its x and y or from 0, 0");
  constexpr std::array<const char*, 4> names{"ft", "in", "m", "mm"};
  host.emit("{\"ridgeward\": 1, \"units\": " +
            importing::quoted(names.at(static_cast<std::size_t>(measure.model))) +
            ", \"parts\": [" + parts + "]}");
}

int sniff(const char* head, std::size_t size, const char* file_name) {
  const std::string text = importing::small(std::string(head, size));
  const std::string name = importing::small(file_name == nullptr ? "" : file_name);
  const bool has_columns = text.find("length") != std::string_view::npos &&
                           (text.find("turn") != std::string_view::npos ||
                            text.find("kind") != std::string_view::npos) &&
                           text.find('{') == std::string_view::npos;
  return has_columns && name.ends_with(".csv") ? 80 : (name.ends_with(".csv") ? 30 : 0);
}

constexpr ridgeward_importer_table table{
    RIDGEWARD_IMPORTER_ABI,
    sizeof(ridgeward_importer_table),
    "tape",
    "walls measured around the house, one a line: CSV with the "
    "columns part, length, turn, kind, pitch, overhang, plate",
    ".csv",
    sniff,
    importing::read_with<import_text>};

}  // namespace
}  // namespace ridgeward::tape

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::tape::table : nullptr;
}
