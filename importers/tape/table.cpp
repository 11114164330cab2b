#include "tape/table.hpp"

#include "units/pitch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <numbers>
#include <numeric>
#include <optional>
#include <utility>

namespace ridgeward::tape {

namespace {

using importing::Refused;
using Row = std::vector<std::string>;

/// Half hips and gablets need heights that the table has no column for.
constexpr std::array<std::string_view, 4> kinds{"eave", "gable", "shed_top", "wall"};
constexpr std::array<const char*, 9> columns{"part",     "length", "turn", "kind", "pitch",
                                             "overhang", "plate",  "x",    "y"};
constexpr double least_wall_m = 0.05;
constexpr double small_wall_m = 0.3;  ///< under which a wall is doubted
constexpr double most_wall_m = 1000.0;
constexpr std::size_t most_walls = 2000;
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

bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

/// "1,200 mm" as "1200 mm", "1.234,5 cm" as "1234.5 cm"; empty where the number at the front is not
/// written with marks between its thousands. One mark alone could be a decimal point, but in
/// millimetres: nobody measures thousandths of them.
std::string without_thousands(const std::string& text) {
  const std::size_t end = std::min(text.find_first_not_of("0123456789.,"), text.size());
  const std::string number = text.substr(0, end);
  const std::size_t first = number.find_first_of(".,");
  if (first == std::string::npos || first == 0 || first > 3) {
    return "";
  }
  std::string plain = number.substr(0, first);
  std::size_t at = first;
  std::size_t groups = 0;
  while (at < number.size() && number[at] == number[first] && number.size() >= at + 4 &&
         std::all_of(number.begin() + static_cast<std::ptrdiff_t>(at) + 1,
                     number.begin() + static_cast<std::ptrdiff_t>(at) + 4, is_digit)) {
    plain += number.substr(at + 1, 3);
    at += 4;
    ++groups;
  }
  const bool has_decimals = at < number.size() && number[at] != number[first] &&
                            number.find_first_not_of("0123456789", at + 1) == std::string::npos;
  if (groups == 0 || (at < number.size() && !has_decimals)) {
    return "";
  }
  const bool is_plain =
      groups > 1 || has_decimals || importing::small(text).find("mm", end) != std::string::npos;
  return is_plain ? plain + (has_decimals ? "." + number.substr(at + 1) : "") + text.substr(end)
                  : "";
}

/// The cure for a measure that can't be read.
std::string cure_for(const std::string& text, const std::string& otherwise) {
  const std::string plain = without_thousands(text);
  if (!plain.empty()) {
    return "write thousands without a mark (" + plain + ")";
  }
  return with_points(text) == text
             ? otherwise
             : "write decimals with a point (" + with_points(text) +
                   "), or part the columns by semicolons: commas are decimal points then";
}

/// How many letters have to be put in, left out or changed to make one word of the other.
std::size_t letters_apart(std::string_view one, std::string_view other) {
  std::vector<std::size_t> row(other.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= one.size(); ++i) {
    std::size_t before = std::exchange(row[0], i);
    for (std::size_t k = 1; k <= other.size(); ++k) {
      const std::size_t changed = before + (one[i - 1] == other[k - 1] ? 0 : 1);
      before = std::exchange(row[k], std::min({row[k] + 1, row[k - 1] + 1, changed}));
    }
  }
  return row.back();
}

/// The column that a name which is none was most likely meant for; none for other words.
const char* nearly(std::string_view name) {
  constexpr std::size_t most_letters = 40;
  for (const char* column : columns) {
    const std::string_view word = column;
    const std::size_t most_apart = word.size() > 5 ? 2 : 1;
    if (word.size() > 3 && name.size() < most_letters &&
        (name.find(word) != std::string_view::npos || letters_apart(name, word) <= most_apart)) {
      return column;
    }
  }
  return nullptr;
}

/// Of a length that can be read, but is none of a wall.
std::string cure_for_short(const std::string& text) {
  const std::string plain = without_thousands(text);
  return plain.empty() ? "check its unit, or give the option unit"
                       : "write thousands without a mark (" + plain + ")";
}

class Reader {
 public:
  Reader(std::string_view text, units::LengthUnit unit) : unit_(unit) {
    while (!text.empty()) {
      const std::string_view line = text.substr(0, text.find_first_of("\r\n"));
      text.remove_prefix(line.size());
      text.remove_prefix(text.starts_with("\r\n") ? 2 : (text.empty() ? 0 : 1));
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
  Table told;

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
      const bool is_known = std::find(columns.begin(), columns.end(), name) != columns.end();
      if (const char* meant = is_known ? nullptr : nearly(name)) {
        throw Refused("line " + std::to_string(line_), "the column \"" + name + "\" is not known",
                      std::string("call it ") + meant + " if that is what it is: " + known_columns);
      }
      if (is_known && std::find(head_.begin(), head_.end(), name) != head_.end()) {
        throw Refused("line " + std::to_string(line_), "there are two columns \"" + name + "\"",
                      "leave one of them out, or give it another name");
      }
      if (!is_known && !name.empty()) {
        told.unknown.push_back(name);
      }
      head_.push_back(is_known || name.empty() ? name : "?");
    }
    if (std::find(head_.begin(), head_.end(), "length") == head_.end()) {
      throw Refused("line " + std::to_string(line_), "there is no column \"length\"",
                    "start with a line of column names: part,length,turn,kind,pitch");
    }
  }
  void read_wall(const Row& cells) {
    if (std::all_of(cells.begin(), cells.end(), [](const std::string& c) { return c.empty(); })) {
      return;
    }
    std::map<std::string, std::string> row;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (i < head_.size() && !head_[i].empty()) {
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
    if (!length || !(*length > 0.0) || *length > most_wall_m) {
      throw Refused(where("length"), "\"" + row["length"] + "\" is no length of a wall",
                    cure_for(row["length"], "write 28' 6 1/2\", 28.5 ft or 8.7 m"));
    }
    if (*length < least_wall_m) {
      throw Refused(
          where("length"),
          fmt::format("\"{}\" is {:.4g} mm, too short for a wall", row["length"], *length * 1000.0),
          cure_for_short(row["length"]));
    }
    if (*length < small_wall_m) {
      doubt(fmt::format("\"{}\" is {:.0f} mm, short for a wall", row["length"], *length * 1000.0));
    }
    wall.length_m = *length;
    note_unit(row["length"]);
    wall.turn_rad = turn(importing::small(row["turn"]));
    wall.kind = kind(importing::small(row["kind"]));
    wall.pitch = pitch(row["pitch"], wall.kind);
    wall.overhang = row["overhang"];
    const std::string id =
        row["part"].empty() ? (told.parts.empty() ? "main" : told.parts.back().id) : row["part"];
    if (told.parts.empty() || told.parts.back().id != id) {
      begin({id,
             "",
             0,
             place(row["x"], "x"),
             place(row["y"], "y"),
             !row["x"].empty() || !row["y"].empty(),
             {}});
    }
    Part& part = told.parts.back();
    if (part.plate.empty() && !row["plate"].empty()) {
      part.plate = row["plate"];
      part.plate_line = line_;
    }
    part.walls.push_back(wall);
  }
  /// A part that nobody placed lies over the one that starts where it does.
  void begin(Part part) {
    const auto same = std::find_if(told.parts.begin(), told.parts.end(), [&](const Part& other) {
      return std::abs(other.x_m - part.x_m) < least_wall_m &&
             std::abs(other.y_m - part.y_m) < least_wall_m;
    });
    if (same != told.parts.end() && !part.is_placed) {
      throw Refused(
          "line " + std::to_string(line_),
          "\"" + part.id + "\" starts at the same corner as \"" + same->id + "\" and lies over it",
          "give where its first wall starts in the columns x and y, on this line; 0 and 0 "
          "if it does start there");
    }
    told.parts.push_back(std::move(part));
  }
  void doubt(const std::string& words) {
    told.doubts.push_back("in doubt: " + where("length") + ", " + words);
  }
  void note_unit(const std::string& length) {
    const bool is_bare = units::parse_length(length, units::LengthUnit::ft) !=
                         units::parse_length(length, units::LengthUnit::m);
    told.has_bare = told.has_bare || is_bare;
    told.is_metric =
        told.is_metric && !is_bare && importing::small(length).find('m') != std::string::npos;
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
    if (text.empty() || text == "left" || text == "l") {
      return quarter;
    }
    if (text == "right" || text == "r") {
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

}  // namespace

std::string Wall::where(const char* column) const {
  return "line " + std::to_string(line) + ", column " + column;
}

Table read_table(std::string_view text, units::LengthUnit unit) { return Reader(text, unit).told; }

double length_in(const std::string& text, units::LengthUnit bare, const std::string& where) {
  const std::optional<double> length = units::parse_length(text, bare);
  if (!length) {
    throw Refused(where, "\"" + text + "\" is no length",
                  cure_for(text, "write 18 in, 1.5 ft or 0.45 m"));
  }
  return *length;
}

}  // namespace ridgeward::tape
