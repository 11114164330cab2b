#include "papers/text_table.hpp"

#include <algorithm>
#include <array>
#include <sstream>

namespace ridgeward::papers {

namespace {

bool are_digits(const std::string& text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
}

/// Without what opens and closes around a word.
std::string bare(const std::string& word) {
  const std::size_t first = word.find_first_not_of('(');
  const std::size_t last = word.find_last_not_of(".,;:)");
  return first == std::string::npos || last == std::string::npos
             ? std::string()
             : word.substr(first, last + 1 - first);
}

/// Whether two words are one measure: `1' 2`, `2 1/2"`, `8 800`, `800 cm2`.
bool are_one_measure(const std::string& before, const std::string& after) {
  static const std::array<const char*, 9> units{"mm", "m",  "m2",  "m3", "cm2",
                                                "in", "ft", "in2", "ft2"};
  if (before.empty() || after.empty() || before.find_last_of(",;:)") == before.size() - 1) {
    return false;
  }
  const std::string left = bare(before);
  const std::string right = bare(after);
  if (left.empty() || right.empty() || left[0] < '0' || left[0] > '9') {
    return false;
  }
  if (right == "%" || std::find(units.begin(), units.end(), right) != units.end()) {
    return left.find_first_not_of("0123456789.,/") == std::string::npos;
  }
  if (left.back() == '\'') {
    return right[0] >= '0' && right[0] <= '9' && right.back() != '\'';
  }
  return are_digits(left) && ((right.size() == 3 && left.size() <= 3 && are_digits(right)) ||
                              (right.find('/') != std::string::npos && right.back() == '"'));
}

}  // namespace

std::vector<std::string> words_of(const std::string& text) {
  std::istringstream words(text);
  std::vector<std::string> pieces;
  std::string before;
  for (std::string word; words >> word; before = word) {
    if (are_one_measure(before, word)) {
      pieces.back() += " " + word;
    } else {
      pieces.push_back(word);
    }
  }
  return pieces;
}

std::size_t width_of(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

std::string wrap(const std::string& text, std::size_t indent, std::size_t columns) {
  std::string out;
  std::string line(indent, ' ');
  bool is_empty = true;
  for (const std::string& word : words_of(text)) {
    if (!is_empty && width_of(line) + 1 + width_of(word) > columns) {
      out += line + "\n";
      line = std::string(indent + 2, ' ');
      is_empty = true;
    }
    line += (is_empty ? "" : " ") + word;
    is_empty = false;
  }
  return out + (is_empty ? "" : line) + "\n";
}

std::vector<Table::Column> Table::columns_used() const {
  std::vector<Column> used;
  for (std::size_t c = 0; c < rows_[0].size(); ++c) {
    std::size_t width = 0;
    bool is_used = c == 0;
    for (std::size_t r = 0; r < rows_.size(); ++r) {
      width = std::max(width, width_of(rows_[r][c]));
      is_used = is_used || (r > 0 && rows_[r][c] != "-");
    }
    if (is_used) {
      used.push_back({c, width});
    }
  }
  return used;
}

std::string Table::rows_of(const std::vector<Column>& shown, std::size_t indent,
                           std::size_t left_columns) const {
  std::string out;
  for (const auto& row : rows_) {
    std::string line(indent, ' ');
    for (const Column& column : shown) {
      const std::string& cell = row[column.index];
      const std::string pad(column.width - width_of(cell), ' ');
      line +=
          (column.index == 0 ? "" : "  ") + (column.index < left_columns ? cell + pad : pad + cell);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out;
}

std::string Table::text(std::size_t indent, std::size_t left_columns, std::size_t columns) const {
  const std::vector<Column> used = columns_used();
  std::string out;
  std::vector<Column> shown{used[0]};
  std::size_t width = indent + used[0].width;
  for (std::size_t i = 1; i < used.size(); ++i) {
    if (width + 2 + used[i].width > columns && shown.size() > 1) {
      out += rows_of(shown, indent, left_columns) + "\n";
      shown.resize(1);
      width = indent + used[0].width;
    }
    shown.push_back(used[i]);
    width += 2 + used[i].width;
  }
  return out + rows_of(shown, indent, left_columns);
}

}  // namespace ridgeward::papers
