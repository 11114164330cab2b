#include "xyz/read.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>

namespace ridgeward::xyz {

namespace {

using importing::Refused;
using Cells = std::vector<std::string_view>;

constexpr std::size_t most_cells = 32;
constexpr double farthest_m = 1e8;

/// The lines that say something, without blanks at their ends.
class Lines {
 public:
  explicit Lines(std::string_view text) : left_(text) {
    if (left_.starts_with("\xEF\xBB\xBF")) {
      left_.remove_prefix(3);
    }
  }
  /// False at the end of the text.
  bool next(std::string_view& line) {
    while (!left_.empty()) {
      const std::size_t size = left_.find_first_of("\n\r");
      line = left_.substr(0, size);
      const std::size_t ends = size == left_.npos ? 0 : (left_.substr(size, 2) == "\r\n" ? 2 : 1);
      left_.remove_prefix(line.size() + ends);
      is_whole_ = ends > 0;
      ++number_;
      line.remove_prefix(std::min(line.size(), line.find_first_not_of(" \t")));
      line = line.substr(0, line.find_last_not_of(" \t") + 1);
      if (!line.empty() && line.front() != '#' && !line.starts_with("//")) {
        return true;
      }
    }
    return false;
  }
  /// Whether the line that next() gave has an end.
  bool is_whole() const { return is_whole_; }
  std::size_t number() const { return number_; }

 private:
  std::string_view left_;
  std::size_t number_ = 0;
  bool is_whole_ = false;
};

/// The cells of a line; blanks go with the mark beside them.
void part(std::string_view line, std::string_view marks, Cells& cells) {
  cells.clear();
  while (!line.empty() && cells.size() < most_cells) {
    const std::size_t size = std::min(line.size(), line.find_first_of(marks));
    cells.push_back(line.substr(0, size));
    line.remove_prefix(size);
    line.remove_prefix(std::min(line.size(), line.find_first_not_of(" \t")));
    if (!line.empty() && line.front() != ' ' && marks.find(line.front()) != marks.npos) {
      line.remove_prefix(1);
      line.remove_prefix(std::min(line.size(), line.find_first_not_of(" \t")));
    }
  }
}

/// Also NaN and what is too large, which the caller refuses.
std::optional<double> number_in(std::string_view cell, bool has_decimal_commas) {
  std::array<char, 64> copy{};
  if (cell.starts_with('+')) {
    cell.remove_prefix(1);
  }
  if (cell.empty() || cell.size() > copy.size()) {
    return std::nullopt;
  }
  const char* first = cell.data();
  if (has_decimal_commas) {
    std::replace_copy(cell.begin(), cell.end(), copy.begin(), ',', '.');
    first = copy.data();
  }
  double value = 0.0;
  const auto [end, error] = std::from_chars(first, first + cell.size(), value);
  if (end != first + cell.size() || error == std::errc::invalid_argument) {
    return std::nullopt;
  }
  return error == std::errc{} ? value : std::nan("");
}

bool is_count(const Cells& cells) {
  return cells.size() == 1 && cells[0].size() <= 12 &&
         cells[0].find_first_not_of("0123456789") == std::string_view::npos;
}

class Reader {
 public:
  explicit Reader(const Axes& axes) : axes_(axes) {}

  Text read(std::string_view text) {
    Lines lines(text);
    std::string_view line;
    Cells cells;
    while (lines.next(line)) {
      if (found_.points.empty() && !has_marks_) {
        choose_marks(line);
      }
      part(line, marks_, cells);
      if (is_count(cells)) {
        std::size_t count = 0;
        std::from_chars(cells[0].data(), cells[0].data() + cells[0].size(), count);
        promised_ += count;
      } else if (!take(cells, lines.number())) {
        take_head(cells, lines.number());
      }
    }
    if (found_.points.size() < promised_) {
      throw Refused("",
                    "the file says that it has " + std::to_string(promised_) +
                        " points, but there are " + std::to_string(found_.points.size()),
                    "it was cut off; get it anew");
    }
    return std::move(found_);
  }

 private:
  static std::string where(std::size_t line) { return "line " + std::to_string(line); }

  /// Between semicolons a comma is a decimal point.
  void choose_marks(std::string_view line) {
    const bool has_semicolons = line.find(';') != std::string_view::npos;
    const bool has_digits = line.find_first_of("0123456789") != std::string_view::npos;
    has_decimal_commas_ = has_semicolons && line.find(',') != std::string_view::npos;
    marks_ = has_semicolons ? " \t;" : " \t,";
    has_marks_ = has_digits && line.find_first_of(" \t,;") != std::string_view::npos;
  }

  /// False where the line is no point.
  bool take(const Cells& cells, std::size_t line) {
    Point p{};
    for (std::size_t k = 0; k < 3; ++k) {
      if (columns_.at(k) >= cells.size()) {
        return false;
      }
      const std::optional<double> value = number_in(cells[columns_.at(k)], has_decimal_commas_);
      if (!value) {
        return false;
      }
      p.at(k) = *value * axes_.unit_m;
      if (!std::isfinite(p.at(k)) || std::abs(p.at(k)) > farthest_m) {
        throw Refused(where(line), "a coordinate is no number or lies beyond 100 000 km",
                      "correct the line, or leave it out");
      }
    }
    if (found_.points.size() == most_points) {
      throw Refused(where(line), "there are more than 10 million points",
                    "cut out the building and its surroundings, or thin the points out");
    }
    found_.points.push_back(axes_.is_y_up ? Point{p[0], -p[2], p[1]} : p);
    return true;
  }

  /// One line of words before all points.
  void take_head(const Cells& cells, std::size_t line) {
    if (!found_.points.empty() || found_.passed_over > 0) {
      throw Refused(where(line), "the line is not x, y and z",
                    "give three numbers a line; comments start with #");
    }
    ++found_.passed_over;
    constexpr std::array<std::array<std::string_view, 4>, 3> names{
        {{"x", "easting", "east", "e"},
         {"y", "northing", "north", "n"},
         {"z", "height", "elevation", "h"}}};
    std::array<std::size_t, 3> named{most_cells, most_cells, most_cells};
    for (std::size_t i = cells.size(); i-- > 0;) {
      std::string cell = importing::small(std::string(cells[i]));
      std::erase(cell, '"');
      for (std::size_t k = 0; k < 3; ++k) {
        if (std::find(names.at(k).begin(), names.at(k).end(), cell) != names.at(k).end()) {
          named.at(k) = i;
        }
      }
    }
    if (std::find(named.begin(), named.end(), most_cells) == named.end()) {
      columns_ = named;
    }
  }

  Axes axes_;
  Text found_;
  std::string_view marks_ = " \t,";
  bool has_marks_ = false;
  bool has_decimal_commas_ = false;
  std::array<std::size_t, 3> columns_{0, 1, 2};
  std::size_t promised_ = 0;
};

}  // namespace

Text read_text(std::string_view text, const Axes& axes) { return Reader(axes).read(text); }

bool looks_like_points(std::string_view head) {
  Lines lines(head);
  std::string_view line;
  Cells cells;
  std::size_t points = 0;
  std::size_t others = 0;
  while (lines.next(line) && (points + others == 0 || lines.is_whole())) {
    const bool has_semicolons = line.find(';') != std::string_view::npos;
    part(line, has_semicolons ? " \t;" : " \t,", cells);
    const bool is_point =
        cells.size() >= 3 && std::all_of(cells.begin(), cells.begin() + 3, [&](auto cell) {
          return number_in(cell, has_semicolons).has_value();
        });
    points += is_point ? 1 : 0;
    others += is_point ? 0 : 1;
    if (others > 2) {
      return false;
    }
  }
  return points > others;
}

}  // namespace ridgeward::xyz
