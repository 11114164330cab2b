#include "papers/text_table.hpp"

#include <algorithm>
#include <sstream>

namespace ridgeward::papers {

std::size_t width_of(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

std::string wrap(const std::string& text, std::size_t indent, std::size_t columns) {
  std::istringstream words(text);
  std::string out;
  std::string line(indent, ' ');
  bool is_empty = true;
  for (std::string word; words >> word;) {
    if (!is_empty && width_of(line) + 1 + width_of(word) > columns) {
      out += line + "\n";
      line = std::string(indent + 2, ' ');
      is_empty = true;
    }
    line += (is_empty ? "" : " ") + word;
    is_empty = false;
  }
  return out + line + "\n";
}

std::string Table::text(std::size_t indent, std::size_t left_columns) const {
  std::vector<std::size_t> widths(rows_[0].size(), 0);
  std::vector<bool> is_used(rows_[0].size(), false);
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    for (std::size_t c = 0; c < widths.size(); ++c) {
      widths[c] = std::max(widths[c], width_of(rows_[r][c]));
      is_used[c] = is_used[c] || (r > 0 && rows_[r][c] != "-");
    }
  }
  std::string out;
  for (const auto& row : rows_) {
    std::string line(indent, ' ');
    for (std::size_t c = 0; c < widths.size(); ++c) {
      if (!is_used[c]) {
        continue;
      }
      const std::string pad(widths[c] - width_of(row[c]), ' ');
      line += (c == 0 ? "" : "  ") + (c < left_columns ? row[c] + pad : pad + row[c]);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out;
}

}  // namespace ridgeward::papers
