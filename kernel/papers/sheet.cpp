#include "papers/sheet.hpp"

#include "papers/cairo.hpp"
#include "papers/text_table.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::papers {

namespace {

constexpr double foot_mm = 2.3;
constexpr double foot_line_mm = 3.1;
constexpr double cell_gap_mm = 2.0;
constexpr double wide_gap_mm = 5.0;  // where words follow figures that stand at their right end

/// A word longer than the line is cut where it fills it.
std::vector<std::string> cut_word(std::string word, double width_mm, double size_mm, bool is_bold) {
  std::vector<std::string> parts;
  while (text_width_mm(word, size_mm, is_bold) > width_mm && word.size() > 1) {
    std::size_t count = word.size() - 1;
    while (count > 1 && text_width_mm(word.substr(0, count), size_mm, is_bold) > width_mm) {
      --count;
    }
    // Never through the middle of a letter of several bytes.
    while (count > 1 && (static_cast<unsigned char>(word[count]) & 0xC0U) == 0x80U) {
      --count;
    }
    parts.push_back(word.substr(0, count));
    word.erase(0, count);
  }
  parts.push_back(word);
  return parts;
}

/// Left free at the right of a column.
double gap_after(const std::vector<Column>& columns, std::size_t i) {
  const bool meets = columns[i].is_right && i + 1 < columns.size() && !columns[i + 1].is_right;
  return meets ? wide_gap_mm : cell_gap_mm;
}

}  // namespace

std::vector<std::string> wrapped_lines(const std::string& text, double width_mm, double size_mm,
                                       bool is_bold) {
  std::vector<std::string> lines;
  std::string line;
  for (const std::string& word : words_of(text)) {
    for (const std::string& part : cut_word(word, width_mm, size_mm, is_bold)) {
      const std::string longer = line.empty() ? part : fmt::format("{} {}", line, part);
      if (!line.empty() && text_width_mm(longer, size_mm, is_bold) > width_mm) {
        lines.push_back(line);
        line = part;
      } else {
        line = longer;
      }
    }
  }
  lines.push_back(line);
  return lines;
}

Sheet::Sheet(std::string title, std::string foot, Paper paper) : foot_(std::move(foot)) {
  drawing_.title = std::move(title);
  drawing_.size_mm = size_of(paper);
  const auto lines = wrapped_lines(foot_, width_mm(), foot_mm, false).size();
  foot_top_ = drawing_.size_mm.y - margin_mm - foot_line_mm * static_cast<double>(lines);
  new_page();
}

double Sheet::room_mm() const { return foot_top_ - 3.0 - y_; }

void Sheet::new_page() {
  drawing_.pages.emplace_back();
  y_ = margin_mm + 4.0;
  Text title;
  title.text = drawing_.title;
  title.size_mm = 4.6;
  title.is_bold = true;
  const auto lines = wrapped_lines(title.text, width_mm() - 22.0, title.size_mm, true);
  for (const std::string& line : lines) {
    title.text = line;
    title.at = {margin_mm, y_};
    page().texts.push_back(title);
    y_ += 5.8;
  }
  y_ -= 3.6;
  rule();
  y_ += 2.0;
  top_ = y_;
}

Sheet::Place Sheet::place() const {
  const Page& last = drawing_.pages.back();
  return {page_number(), last.pictures.size(), last.paths.size(), last.texts.size(), y_};
}

void Sheet::back_to(const Place& place) {
  drawing_.pages.resize(place.page + 1);
  page().pictures.resize(place.pictures);
  page().paths.resize(place.paths);
  page().texts.resize(place.texts);
  y_ = place.y_mm;
}

void Sheet::keep(double height_mm) {
  if (room_mm() >= height_mm) {
    return;
  }
  // A heading does not stay behind alone.
  const bool has_heading = y_ == heading_y_ && !page().texts.empty();
  const std::string text = has_heading ? page().texts.back().text : std::string();
  if (has_heading) {
    page().texts.pop_back();
  }
  new_page();
  if (has_heading) {
    heading(text);
  }
}

void Sheet::rule() {
  Path line;
  line.loops = {{{margin_mm, y_}, {margin_mm + width_mm(), y_}}};
  line.stroke = {0.25, 0.0, {}};
  page().paths.push_back(line);
  y_ += 1.0;
}

void Sheet::picture(const std::string& png, double aspect) {
  const double height = width_mm() / aspect;
  keep(height);
  page().pictures.push_back({{margin_mm, y_}, {width_mm(), height}, png});
  y_ += height + 1.0;
}

void Sheet::line_of(const std::string& text, double x, bool is_bold, Align align) {
  Text line;
  line.text = text;
  line.at = {x, y_};
  line.size_mm = text_mm;
  line.is_bold = is_bold;
  line.align = align;
  page().texts.push_back(line);
}

void Sheet::heading(const std::string& text) {
  keep(22.0);
  y_ += 7.0;
  Text line;
  line.text = text;
  line.at = {margin_mm, y_};
  line.size_mm = 3.8;
  line.is_bold = true;
  page().texts.push_back(line);
  y_ += 2.0;
  heading_y_ = y_;
}

void Sheet::paragraph(const std::string& text, double indent_mm, bool is_bold) {
  for (const std::string& line : wrapped_lines(text, width_mm() - indent_mm, text_mm, is_bold)) {
    keep(line_mm);
    y_ += line_mm;
    line_of(line, margin_mm + indent_mm, is_bold);
  }
  y_ += 1.0;
}

void Sheet::item(const std::string& sign, const std::string& text) {
  // In one piece, as long as it is no page of its own.
  const auto lines = wrapped_lines(text, width_mm() - item_indent_mm, text_mm, false).size();
  keep(line_mm * static_cast<double>(std::min<std::size_t>(lines, 12)));
  const std::size_t on_page = drawing_.pages.size();
  const double top = y_ + line_mm;
  paragraph(text, item_indent_mm);
  Text mark;
  mark.text = sign;
  mark.size_mm = text_mm;
  mark.is_bold = true;
  mark.at = {margin_mm, top};
  drawing_.pages[on_page - 1].texts.push_back(mark);
}

double Sheet::item_mm(const std::string& text) const {
  const auto lines = wrapped_lines(text, width_mm() - item_indent_mm, text_mm, false).size();
  return line_mm * static_cast<double>(lines) + 1.0;
}

double Sheet::row_height(const std::vector<Column>& columns,
                         const std::vector<std::string>& row) const {
  double shares = 0.0;
  for (const Column& column : columns) {
    shares += column.share;
  }
  std::size_t lines = 1;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const double width = width_mm() * columns[i].share / shares - gap_after(columns, i);
    lines = std::max(lines, wrapped_lines(row[i], width, text_mm, false).size());
  }
  return line_mm * static_cast<double>(lines) + 0.6;
}

void Sheet::row(const std::vector<Column>& columns, const std::vector<std::string>& row,
                bool is_bold) {
  double shares = 0.0;
  for (const Column& column : columns) {
    shares += column.share;
  }
  const double top = y_;
  double bottom = y_;
  double x = margin_mm;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const double width = width_mm() * columns[i].share / shares;
    const double gap = gap_after(columns, i);
    y_ = top;
    for (const std::string& line : wrapped_lines(row[i], width - gap, text_mm, is_bold)) {
      y_ += line_mm;
      const bool is_right = columns[i].is_right;
      line_of(line, is_right ? x + width - gap : x, is_bold, is_right ? Align::right : Align::left);
    }
    bottom = std::max(bottom, y_);
    x += width;
  }
  y_ = bottom + 0.6;
}

void Sheet::titles(const std::vector<Column>& columns) {
  std::vector<std::string> names;
  names.reserve(columns.size());
  for (const Column& column : columns) {
    names.push_back(column.title);
  }
  row(columns, names, true);
  y_ += 0.6;
  rule();
}

void Sheet::table(const std::vector<Column>& columns,
                  const std::vector<std::vector<std::string>>& rows) {
  keep(2 * line_mm + 4.0 + (rows.empty() ? 0.0 : row_height(columns, rows.front())));
  titles(columns);
  // A sum at the foot stays with rows that it sums up.
  constexpr std::size_t together = 3;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const bool is_tail = i > 0 && i + together == rows.size();
    double needed = 0.0;
    for (std::size_t k = i; k < (is_tail ? rows.size() : i + 1); ++k) {
      needed += row_height(columns, rows[k]);
    }
    if (room_mm() < needed) {
      new_page();
      titles(columns);
    }
    row(columns, rows[i], false);
  }
  y_ += 1.0;
}

Drawing Sheet::take() {
  for (std::size_t i = 0; i < drawing_.pages.size(); ++i) {
    Page& page = drawing_.pages[i];
    Text number;
    number.text = fmt::format("{} of {}", i + 1, drawing_.pages.size());
    number.size_mm = 2.8;
    number.align = Align::right;
    number.at = {margin_mm + width_mm(), margin_mm + 4.0};
    page.texts.push_back(number);
    double y = foot_top_;
    for (const std::string& line : wrapped_lines(foot_, width_mm(), foot_mm, false)) {
      y += foot_line_mm;
      Text text;
      text.text = line;
      text.size_mm = foot_mm;
      text.at = {margin_mm, y};
      page.texts.push_back(text);
    }
  }
  return std::move(drawing_);
}

}  // namespace ridgeward::papers
