#pragma once
// Columns and wrapped lines of plain text.

#include <string>
#include <vector>

namespace ridgeward::papers {

/// Width on screen of UTF-8 text: code points.
std::size_t width_of(const std::string& text);

/// The words of `text`; those of one measure ("1' 2 1/2\"", "8 800 cm2", "50 %") together.
std::vector<std::string> words_of(const std::string& text);

/// `text` in lines of at most `columns`, all indented; continued lines two more. A
/// measure ("1' 2 1/2\"", "8 800 cm2", "50 %") is not broken; a word longer than a line stands
/// alone.
std::string wrap(const std::string& text, std::size_t indent, std::size_t columns);

class Table {
 public:
  explicit Table(std::vector<std::string> heads) : rows_{std::move(heads)} {}
  /// REQUIRES as many cells as heads.
  void add(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  /// The first `left_columns` stand left, the others right; columns in which every row after the
  /// head is "-" are left out. A table wider than `columns` goes on below itself, its first column
  /// repeated.
  std::string text(std::size_t indent, std::size_t left_columns, std::size_t columns) const;

 private:
  struct Column {
    std::size_t index;
    std::size_t width;
  };
  std::vector<Column> columns_used() const;
  std::string rows_of(const std::vector<Column>& shown, std::size_t indent,
                      std::size_t left_columns) const;

  std::vector<std::vector<std::string>> rows_;
};

}  // namespace ridgeward::papers
