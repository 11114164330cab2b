// Reads walls as they are measured around a house: lengths and turns, one wall a line of CSV
// (RFC 4180; semicolons and tabs serve too).
#include "plugin/importer_abi.h"
#include "units/length.hpp"
#include "units/pitch.hpp"

#include "support/crossing.hpp"
#include "support/importing.hpp"
#include "support/planes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

namespace ridgeward::tape {
namespace {

using importing::Host;
using importing::Refused;
using Options = std::map<std::string, std::string>;
using Row = std::vector<std::string>;

constexpr std::size_t most_walls = 2000;
/// Walls whose ends lie farther apart than this share of their length were not measured so.
constexpr double worst_closing = 0.02;

/// Half hips and gablets need heights that the table has no column for.
constexpr std::array<std::string_view, 4> kinds{"eave", "gable", "shed_top", "wall"};
constexpr std::array<const char*, 9> columns{"part",     "length", "turn", "kind", "pitch",
                                             "overhang", "plate",  "x",    "y"};
constexpr const char* known_columns =
    "the columns are part, length, turn, kind, pitch, overhang, plate, x, y";

std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of(" \t\r");
  const std::size_t last = text.find_last_not_of(" \t\r");
  return first == std::string::npos ? "" : text.substr(first, last - first + 1);
}

/// What stands between quotes from `i` on, where the first one is; moves `i` behind the last one.
std::string quoted_cell(std::string_view line, std::size_t& i) {
  std::string cell;
  for (++i; i < line.size(); ++i) {
    if (line[i] == '"' && line.substr(i + 1, 1) != "\"") {
      ++i;
      return cell;
    }
    i += line[i] == '"' ? 1U : 0U;
    cell += line[i];
  }
  return cell;
}

/// Cells of one line. A quote counts at the start of a cell only: 9 1/2" needs none.
Row cells_of(std::string_view line, char between) {
  Row cells;
  while (true) {
    std::string cell;
    std::size_t i = std::min(line.find_first_not_of(' '), line.size());
    if (line.substr(i, 1) == "\"") {
      cell = quoted_cell(line, i);
      i = std::min(line.find(between, i), line.size());
    } else {
      i = std::min(line.find(between), line.size());
      cell = std::string(line.substr(0, i));
    }
    cells.push_back(trimmed(cell));
    if (i >= line.size()) {
      return cells;
    }
    line.remove_prefix(i + 1);
  }
}

/// Between digits a comma is a decimal point: 12,19.
std::string with_points(std::string text) {
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    const bool is_between = std::isdigit(static_cast<unsigned char>(text[i - 1])) != 0 &&
                            std::isdigit(static_cast<unsigned char>(text[i + 1])) != 0;
    text[i] = text[i] == ',' && is_between ? '.' : text[i];
  }
  return text;
}

/// The cure for a measure that can't be read.
std::string cure_for(const std::string& text, const std::string& otherwise) {
  return with_points(text) == text
             ? otherwise
             : "write decimals with a point (" + with_points(text) +
                   "), or part the columns by semicolons: commas are decimal points then";
}

/// One wall as written.
struct Wall {
  std::size_t line = 0;
  double length_m = 0.0;
  double turn_rad = 0.0;  ///< to the left at its end
  std::string kind;
  std::string pitch;
  std::string overhang;
};

struct Part {
  std::string id;
  std::string plate;
  double x_m = 0.0;  ///< where its first wall starts
  double y_m = 0.0;
  std::vector<Wall> walls;
};

class Table {
 public:
  Table(std::string_view text, units::LengthUnit unit) : unit_(unit) {
    while (!text.empty()) {
      const std::string_view line = text.substr(0, text.find('\n'));
      text.remove_prefix(std::min(text.size(), line.size() + 1));
      ++line_;
      const std::string plain = trimmed(std::string(line));
      if (plain.empty() || plain.front() == '#') {
        continue;
      }
      if (head_.empty()) {
        read_head(plain);
      } else {
        read_wall(cells_of(plain, between_));
      }
    }
  }
  std::vector<Part> parts;
  bool has_bare = false;  ///< a length of a wall has no unit of its own
  bool is_metric = true;  ///< all of them have one, and it is metric

 private:
  std::string where(const char* column) const {
    return "line " + std::to_string(line_) + ", column " + column;
  }
  void read_head(std::string line) {
    if (line.starts_with("\xEF\xBB\xBF")) {
      line.erase(0, 3);
    }
    for (const char mark : {'\t', ';'}) {
      between_ = line.find(mark) != std::string::npos ? mark : between_;
    }
    for (std::string name : cells_of(line, between_)) {
      name = importing::small(std::move(name));
      const auto* known = std::find(columns.begin(), columns.end(), name);
      if (known == columns.end()) {
        throw Refused("line " + std::to_string(line_), "the column \"" + name + "\" is not known",
                      known_columns);
      }
      head_.emplace_back(*known);
    }
    if (std::find(head_.begin(), head_.end(), "length") == head_.end()) {
      throw Refused("line " + std::to_string(line_), "there is no column \"length\"",
                    "start with a line of column names: part,length,turn,kind,pitch");
    }
  }
  void read_wall(const Row& cells) {
    std::map<std::string, std::string> row;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (i < head_.size()) {
        row[head_[i]] = between_ == ',' ? cells[i] : with_points(cells[i]);
      } else if (!cells[i].empty()) {
        throw Refused("line " + std::to_string(line_),
                      "there are more cells than columns: \"" + cells[i] + "\"",
                      "name a column for each; where numbers have decimal commas, part the columns "
                      "by semicolons");
      }
    }
    if (++walls_ > most_walls) {
      throw Refused(where("length"), "there are more than 2000 walls", "give one house a file");
    }
    Wall wall;
    wall.line = line_;
    const std::optional<double> length = units::parse_length(row["length"], unit_);
    if (!length || !(*length > 0.0) || *length > 1000.0) {
      throw Refused(where("length"), "\"" + row["length"] + "\" is no length of a wall",
                    cure_for(row["length"], "write 28' 6 1/2\", 28.5 ft or 8.7 m"));
    }
    wall.length_m = *length;
    note_unit(row["length"]);
    wall.turn_rad = turn(row["turn"]);
    wall.kind = kind(row["kind"]);
    wall.pitch = pitch(row["pitch"], wall.kind);
    wall.overhang = row["overhang"];
    const std::string id =
        row["part"].empty() ? (parts.empty() ? "main" : parts.back().id) : row["part"];
    if (parts.empty() || parts.back().id != id) {
      parts.push_back({id, "", place(row["x"], "x"), place(row["y"], "y"), {}});
    }
    if (parts.back().plate.empty()) {
      parts.back().plate = row["plate"];
    }
    parts.back().walls.push_back(wall);
  }
  void note_unit(const std::string& length) {
    const bool is_bare = units::parse_length(length, units::LengthUnit::ft) !=
                         units::parse_length(length, units::LengthUnit::m);
    has_bare = has_bare || is_bare;
    is_metric = is_metric && !is_bare && importing::small(length).find('m') != std::string::npos;
  }
  double place(const std::string& text, const char* column) const {
    const std::optional<double> at = units::parse_length(text.empty() ? "0" : text, unit_);
    if (!at || std::abs(*at) > 1000.0) {
      throw Refused(where(column), "\"" + text + "\" is no place",
                    cure_for(text, "write 12' 6\", or 3.8 m"));
    }
    return *at;
  }
  std::string kind(const std::string& text) const {
    if (!text.empty() && std::find(kinds.begin(), kinds.end(), text) == kinds.end()) {
      throw Refused(where("kind"), "\"" + text + "\" is no kind of edge",
                    "write eave, gable, shed_top or wall, or leave it empty for an eave");
    }
    return text.empty() ? "eave" : text;
  }
  std::string pitch(const std::string& text, const std::string& kind) const {
    if (text.empty() && kind == "eave") {
      throw Refused(where("pitch"), "there is no pitch for the plane that rises from this eave",
                    "write 8/12 or 33.7 deg, or call the edge a gable in the column kind");
    }
    if (!text.empty() && !units::parse_pitch(text)) {
      throw Refused(where("pitch"), "\"" + text + "\" is no pitch",
                    cure_for(text, "write 8/12, 33.7 deg or 66.7 %"));
    }
    return text;
  }
  /// "left", "right", or degrees to the left.
  double turn(const std::string& text) const {
    constexpr double quarter = std::numbers::pi / 2.0;
    if (text.empty() || text == "left" || text == "L" || text == "l") {
      return quarter;
    }
    if (text == "right" || text == "R" || text == "r") {
      return -quarter;
    }
    double degrees = 0.0;
    std::string_view number = text;
    for (const std::string_view sign : {"\xC2\xB0", "\xC2\xBA", "deg"}) {
      number.remove_suffix(number.ends_with(sign) ? sign.size() : 0);
    }
    number.remove_suffix(number.ends_with(' ') ? 1 : 0);
    const char* last = number.data() + number.size();
    const auto [end, error] = std::from_chars(number.data(), last, degrees);
    if (error != std::errc{} || end != last || !(std::abs(degrees) < 180.0)) {
      throw Refused(where("turn"), "\"" + text + "\" is no turn",
                    "write left, right, or degrees to the left: 45, -45");
    }
    return degrees * quarter / 90.0;
  }

  units::LengthUnit unit_;
  std::vector<std::string> head_;
  char between_ = ',';
  std::size_t line_ = 0;
  std::size_t walls_ = 0;
};

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

/// As a number in the unit of the model.
std::string length_json(const std::string& text, const Measure& measure, const Wall& wall) {
  const std::optional<double> length = units::parse_length(text, measure.bare);
  if (!length) {
    throw Refused("line " + std::to_string(wall.line), "\"" + text + "\" is no length",
                  cure_for(text, "write 18 in, 1.5 ft or 0.45 m"));
  }
  return measure.number(*length);
}

std::string edge_json(const Wall& wall, const Measure& measure) {
  std::string text = "{\"kind\": " + importing::quoted(wall.kind);
  if (!wall.pitch.empty()) {
    text += ", \"pitch\": " + importing::quoted(wall.pitch);
  }
  if (!wall.overhang.empty()) {
    text += ", \"overhang\": " + length_json(wall.overhang, measure, wall);
  }
  return text + "}";
}

/// Refused where the walls of a part, walked and closed, can't stand around a house.
void judge(const Part& part, const std::vector<Corner>& corners) {
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
}

std::string part_json(const Part& part, const Measure& measure, const Host& host) {
  double missing_m = 0.0;
  const std::vector<Corner> corners = walk(part, measure.style(), missing_m);
  judge(part, corners);
  host.note(
      fmt::format("\"{}\": {} walls, {} missing from the end to the start, shared out among them",
                  part.id, part.walls.size(),
                  measure.is_metric() ? units::show(missing_m, units::Style::metric)
                                      : units::feet_inches(missing_m, 16)));
  std::string outline;
  std::string edges;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const char* comma = i == 0 ? "" : ", ";
    outline += comma + ("[" + measure.number(corners[i].x + part.x_m) + ", " +
                        measure.number(corners[i].y + part.y_m) + "]");
    edges += comma + edge_json(part.walls[i], measure);
  }
  const std::string plate =
      part.plate.empty() ? ""
                         : ", \"plate\": " + length_json(part.plate, measure, part.walls.front());
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
  const Table table(text, *unit);
  if (table.parts.empty()) {
    throw Refused("", "there are no walls in the file",
                  "give a line of column names, then one line a wall");
  }
  Measure measure{*unit, *unit};
  if (!is_asked && table.is_metric) {
    measure.model = units::LengthUnit::m;
  }
  std::string parts;
  for (const Part& part : table.parts) {
    parts += (parts.empty() ? "" : ",\n") + part_json(part, measure, host);
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
  const std::string_view text(head, size);
  const std::string_view name = file_name == nullptr ? "" : file_name;
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
