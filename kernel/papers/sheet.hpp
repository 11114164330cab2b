#pragma once
// Text and tables that flow down pages: headings, paragraphs, rows; a new page where one is full.

#include "papers/drawing.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

/// A column of a table: its share of the width, and whether figures stand at its right end.
struct Column {
  std::string title;
  double share = 1.0;
  bool is_right = false;
};

class Sheet {
 public:
  /// `title` heads every page; `foot` stands at its foot, wrapped.
  Sheet(std::string title, std::string foot, Paper paper);

  double width_mm() const { return drawing_.size_mm.x - 2 * margin_mm; }
  double left_mm() const { return margin_mm; }
  /// Where the next thing goes, and how much room is below.
  double y_mm() const { return y_; }
  double room_mm() const;
  Page& page() { return drawing_.pages.back(); }
  /// The first is 0; REQUIRES a page that is there.
  std::size_t page_number() const { return drawing_.pages.size() - 1; }
  Page& page_at(std::size_t number) { return drawing_.pages.at(number); }

  /// A state to come back to; what was written since is taken away.
  struct Place {
    std::size_t page = 0;
    std::size_t pictures = 0;
    std::size_t paths = 0;
    std::size_t texts = 0;
    double y_mm = 0.0;
  };
  Place place() const;
  /// REQUIRES that no page before that place was written on since.
  void back_to(const Place& place);
  /// Of this page's text and drawings, below its title.
  double filled_mm() const { return y_ - top_; }

  void new_page();
  /// A new page unless so much room is left.
  void keep(double height_mm);
  void space(double height_mm) { y_ += height_mm; }

  /// Goes with what follows it to the next page.
  void heading(const std::string& text);
  void paragraph(const std::string& text, double indent_mm = 0.0, bool is_bold = false);
  /// With a sign before it ("1", "-"), wrapped beside it.
  void item(const std::string& sign, const std::string& text);
  /// Height of such an item.
  double item_mm(const std::string& text) const;
  /// Its last three rows stay together, the sum that stands last among them.
  void table(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows);
  void rule();
  /// A picture over the whole width, `aspect` as wide as high.
  void picture(const std::string& png, double aspect);

  Drawing take();

 private:
  static constexpr double margin_mm = 15.0;
  static constexpr double text_mm = 3.1;
  static constexpr double line_mm = 4.3;
  static constexpr double item_indent_mm = 7.0;
  void line_of(const std::string& text, double x, bool is_bold, Align align = Align::left);
  void titles(const std::vector<Column>& columns);
  double row_height(const std::vector<Column>& columns, const std::vector<std::string>& row) const;
  void row(const std::vector<Column>& columns, const std::vector<std::string>& row, bool is_bold);

  Drawing drawing_;
  std::string foot_;
  double foot_top_ = 0.0;
  double y_ = 0.0;
  double top_ = 0.0;
  double heading_y_ = -1.0;  ///< where the last heading ended; nothing follows it while y_ is there
};

/// The text's words in lines that fit.
std::vector<std::string> wrapped_lines(const std::string& text, double width_mm, double size_mm,
                                       bool is_bold);

}  // namespace ridgeward::papers
