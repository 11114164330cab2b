#pragma once
// Columns and wrapped lines of plain text.

#include <string>
#include <vector>

namespace ridgeward::papers {

/// Width on screen of UTF-8 text: code points.
std::size_t width_of(const std::string& text);

/// `text` in lines of at most `columns`, all indented; continued lines two more.
std::string wrap(const std::string& text, std::size_t indent, std::size_t columns);

class Table {
 public:
  explicit Table(std::vector<std::string> heads) : rows_{std::move(heads)} {}
  /// REQUIRES as many cells as heads.
  void add(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  /// The first `left_columns` stand left, the others right; columns in which every row after the
  /// head is "-" are left out.
  std::string text(std::size_t indent, std::size_t left_columns) const;

 private:
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace ridgeward::papers
