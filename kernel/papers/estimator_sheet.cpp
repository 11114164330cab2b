#include "papers/estimator_sheet.hpp"

#include "papers/plan_names.hpp"
#include "papers/sheet.hpp"
#include "papers/told_tests.hpp"
#include "units/area.hpp"
#include "vents/practice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace ridgeward::papers {

namespace {

constexpr double square_m2 = 100 * units::square_foot_m2;  // the trade's square of roofing
constexpr double nothing_m = 1e-9;

class EstimatorSheet {
 public:
  EstimatorSheet(const Assessment& a, units::Style style, Paper paper)
      : a_(a),
        style_(style),
        sheet_(
            (a.model.name.empty() ? std::string("Unnamed roof") : a.model.name) +
                ": for the estimator",
            "Measured on the model given; true lengths and areas. Areas and lines by plane go over "
            "chimneys and other openings; shingles leave them out. The order is for the vents "
            "of the model.",
            paper) {}

  Drawing run() {
    together();
    areas();
    lines();
    order();
    sections();
    shingles();
    return sheet_.take();
  }

 private:
  bool in_feet() const { return style_ == units::Style::feet_inches; }
  std::string dash_or_length(double m) const {
    return m > nothing_m ? column_length(m) : std::string("-");
  }
  /// A column keeps one unit: metres in metric.
  std::string column_length(double m) const {
    return in_feet() ? units::show(m, style_) : fmt::format("{:.3f} m", m);
  }
  std::string squares(double m2) const { return fmt::format("{:.2f}", m2 / square_m2); }
  void areas();
  void lines();
  void together();
  void order();
  /// Rows of the order, priced or not; the last one sums what has a price.
  void order_table(const std::vector<takeoff::OrderLine>& lines, bool has_for);
  void sections();
  void shingles();

  const Assessment& a_;
  units::Style style_;
  Sheet sheet_;
};

void EstimatorSheet::areas() {
  sheet_.heading("Areas by plane");
  std::vector<Column> columns{
      {"plane", 2.2}, {"pitch", 1.2}, {"area", 1.6, true}, {"area in plan", 1.6, true}};
  if (in_feet()) {
    columns.push_back({"squares", 1.1, true});
  }
  std::vector<std::vector<std::string>> rows;
  const auto add = [&](const std::string& name, const std::string& pitch,
                       const takeoff::Lengths& l) {
    rows.push_back({name, pitch, units::show_area(l.area_m2, style_),
                    units::show_area(l.plan_area_m2, style_)});
    if (in_feet()) {
      rows.back().push_back(squares(l.area_m2));
    }
  };
  for (const PlaneId id : a_.surface.planes.ids()) {
    add(a_.surface.planes[id].id, units::show_pitch(a_.surface.planes[id].pitch, style_),
        a_.takeoff.planes[id]);
  }
  add("all", "", a_.takeoff.totals);
  sheet_.table(columns, rows);
}

void EstimatorSheet::lines() {
  sheet_.heading("Lines by plane, true lengths");
  std::vector<std::vector<std::string>> rows;
  const auto add = [&](const std::string& name, const takeoff::Lengths& l) {
    rows.push_back({name, dash_or_length(l.eave_m), dash_or_length(l.rake_m),
                    dash_or_length(l.ridge_m), dash_or_length(l.hip_m), dash_or_length(l.valley_m),
                    dash_or_length(l.wall_m)});
  };
  for (const PlaneId id : a_.surface.planes.ids()) {
    add(a_.surface.planes[id].id, a_.takeoff.planes[id]);
  }
  add("all", a_.takeoff.totals);
  sheet_.table({{"plane", 1.7},
                {"eave", 1.2, true},
                {"rake", 1.2, true},
                {"ridge", 1.2, true},
                {"hip", 1.2, true},
                {"valley", 1.2, true},
                {"wall", 1.2, true}},
               rows);
  sheet_.paragraph("Ridges, hips and valleys stand with both of their planes and once in \"all\".");
}

void EstimatorSheet::together() {
  sheet_.heading("Order, all together");
  if (a_.takeoff.order.empty()) {
    sheet_.paragraph("Nothing: the model has no vents.");
    return;
  }
  if (a_.takeoff.price.without_price > 0 && a_.takeoff.price.sum > 0.0) {
    const auto without = static_cast<std::size_t>(a_.takeoff.price.without_price);
    sheet_.paragraph(counted(without, "line of the order has", "lines of the order have") +
                     " no price and " + (without == 1 ? "is" : "are") + " not in the sum.");
  }
  sheet_.paragraph("Lengths and areas are net, without laps. " + nail_words(a_, style_));
  order_table(together_of(a_.takeoff.order), false);
}

void EstimatorSheet::order() {
  if (a_.takeoff.order.empty()) {
    return;
  }
  sheet_.heading("Order, by what it is for");
  order_table(by_item(a_.takeoff.order), true);
}

void EstimatorSheet::order_table(const std::vector<takeoff::OrderLine>& lines, bool has_for) {
  const bool is_priced = std::any_of(lines.begin(), lines.end(),
                                     [](const auto& line) { return line.total_price.has_value(); });
  std::vector<Column> columns{{"item", 2.1}, {"how much", 1.4, true}};
  if (has_for) {
    columns.push_back({"for", 2.0});
  }
  if (is_priced) {
    columns.push_back({"price", 1.4, true});
    columns.push_back({"sum", 1.1, true});
  }
  std::vector<std::vector<std::string>> rows;
  for (const takeoff::OrderLine& line : lines) {
    rows.push_back({item_words(line.item, style_), quantity_words(line, style_)});
    if (has_for) {
      rows.back().push_back(line.for_what);
    }
    if (is_priced) {
      rows.back().push_back(unit_price_words(line, style_));
      rows.back().push_back(line.total_price ? fmt::format("{:.2f}", *line.total_price) : "-");
    }
  }
  if (is_priced) {
    rows.emplace_back(columns.size());
    rows.back().front() = "all that has a price";
    rows.back().back() = fmt::format("{:.2f}", a_.takeoff.price.sum);
  }
  sheet_.table(columns, rows);
}

void EstimatorSheet::sections() {
  if (a_.takeoff.purchases.empty()) {
    return;
  }
  sheet_.heading("Sections and what is left of them");
  std::vector<std::vector<std::string>> rows;
  rows.reserve(a_.takeoff.purchases.size());
  for (const takeoff::Purchase& one : a_.takeoff.purchases) {
    rows.push_back({one.product, column_length(one.section_m), fmt::format("{}", one.bought),
                    one.is_least ? "proven" : "not proven", column_length(one.laid_m),
                    column_length(one.waste_m)});
  }
  sheet_.table({{"product", 2.0},
                {"section", 1.2, true},
                {"bought", 0.9, true},
                {"fewest", 1.2},
                {"laid", 1.4, true},
                {"left over", 1.2, true}},
               rows);
}

void EstimatorSheet::shingles() {
  if (a_.takeoff.shingles.empty()) {
    return;
  }
  sheet_.heading("Shingles, laid course by course");
  std::vector<std::vector<std::string>> rows;
  takeoff::ShingledPlane all;
  for (const takeoff::ShingledPlane& one : a_.takeoff.shingles) {
    rows.push_back({a_.surface.planes[one.plane].id, fmt::format("{}", one.courses),
                    fmt::format("{}", one.whole), fmt::format("{}", one.cut),
                    fmt::format("{}", one.bought), units::show_area(one.laid_m2, style_),
                    fmt::format("{:.1f} %", one.waste_share * 100)});
    all.courses += one.courses;
    all.whole += one.whole;
    all.cut += one.cut;
    all.bought += one.bought;
    all.laid_m2 += one.laid_m2;
    all.waste_share += one.waste_share * one.laid_m2;
  }
  rows.push_back({"all", fmt::format("{}", all.courses), fmt::format("{}", all.whole),
                  fmt::format("{}", all.cut), fmt::format("{}", all.bought),
                  units::show_area(all.laid_m2, style_),
                  fmt::format("{:.1f} %", 100 * all.waste_share / std::max(all.laid_m2, 1e-9))});
  sheet_.table({{"plane", 1.8},
                {"courses", 1.0, true},
                {"whole", 0.9, true},
                {"cut", 0.8, true},
                {"bought", 1.0, true},
                {"covered", 1.5, true},
                {"waste", 1.0, true}},
               rows);
}

/// RFC 4180: quoted where it holds a comma, a quote or a line end; quotes doubled.
std::string cell(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) {
    return text;
  }
  std::string quoted = "\"";
  for (const char c : text) {
    quoted += c == '"' ? "\"\"" : std::string(1, c);
  }
  return quoted + "\"";
}

/// A row, cells by column.
struct Row {
  std::string record;
  std::string plane;
  std::string line;
  std::string for_what;
  std::string item;
  std::string quantity;
  std::string unit;
  std::string unit_price;  ///< for one of `unit`
  std::string price;
  std::string pitch_in_12;
  std::vector<std::string> areas;    ///< true, in plan
  std::vector<std::string> lengths;  ///< eave, rake, ridge, hip, valley, wall, true, in plan
};

class Csv {
 public:
  explicit Csv(units::Style style) : in_feet_(style == units::Style::feet_inches) {
    const char* m = in_feet_ ? "_ft" : "_m";
    std::string head = "record,plane,line,for,item,quantity,unit,unit_price,price,pitch_in_12";
    for (const char* name : {"area", "plan_area"}) {
      head += fmt::format(",{}{}2", name, m);
    }
    for (const char* name :
         {"eave", "rake", "ridge", "hip", "valley", "wall", "length", "plan_length"}) {
      head += fmt::format(",{}{}", name, m);
    }
    out = head + "\r\n";
  }
  std::string length(double m) const {
    return fmt::format("{:.4f}", in_feet_ ? m / units::foot_m : m);
  }
  std::string area(double m2) const {
    return fmt::format("{:.4f}", in_feet_ ? m2 / units::square_foot_m2 : m2);
  }
  void add(Row row) {
    row.areas.resize(2);
    row.lengths.resize(8);
    std::vector<std::string> cells{row.record, row.plane,      row.line, row.for_what,
                                   row.item,   row.quantity,   row.unit, row.unit_price,
                                   row.price,  row.pitch_in_12};
    cells.insert(cells.end(), row.areas.begin(), row.areas.end());
    cells.insert(cells.end(), row.lengths.begin(), row.lengths.end());
    for (std::size_t i = 0; i < cells.size(); ++i) {
      out += (i == 0 ? "" : ",") + cell(cells[i]);
    }
    out += "\r\n";
  }
  /// Metres and square metres in the table's own unit, and so the price of one.
  void add_order(const takeoff::OrderLine& line, const char* record) {
    double unit = 1.0;
    Row row;
    row.record = record;
    row.for_what = line.for_what;
    row.item = line.item;
    row.unit = line.unit;
    if (in_feet_ && line.unit == "m") {
      unit = units::foot_m;
      row.unit = "ft";
    } else if (in_feet_ && line.unit == "m2") {
      unit = units::square_foot_m2;
      row.unit = "ft2";
    }
    row.quantity = fmt::format("{:.10g}", line.quantity / unit);
    row.unit_price = line.unit_price ? fmt::format("{:.10g}", *line.unit_price * unit) : "";
    row.price = line.total_price ? fmt::format("{:.2f}", *line.total_price) : "";
    add(std::move(row));
  }
  void add_lengths(Row row, const takeoff::Lengths& l) {
    row.areas = {area(l.area_m2), area(l.plan_area_m2)};
    row.lengths = {length(l.eave_m), length(l.rake_m),   length(l.ridge_m),
                   length(l.hip_m),  length(l.valley_m), length(l.wall_m)};
    add(std::move(row));
  }

  std::string out;

 private:
  bool in_feet_;
};

void add_lines(const surface::Surface& surface, Csv& csv) {
  for (const surface::Line& line : surface.lines) {
    const PlaneId left = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    if (line.kind == surface::LineKind::wall_edge || left.is_none()) {
      continue;
    }
    Row row;
    row.record = "line";
    row.plane = surface.planes[left].id;
    const PlaneId right = line.right_plane();
    if (!right.is_none() && right != left) {
      row.plane += " " + surface.planes[right].id;
    }
    row.line = line.id;
    row.item = surface::word(line.kind);
    row.lengths.resize(6);
    row.lengths.push_back(csv.length(line.length_m));
    row.lengths.push_back(csv.length(line.plan_length_m));
    csv.add(std::move(row));
  }
}

}  // namespace

std::string quantity_words(const takeoff::OrderLine& line, units::Style style) {
  if (line.unit == "m") {
    return units::show(line.quantity, style);
  }
  if (line.unit == "m2") {
    return units::show_area(line.quantity, style);
  }
  return fmt::format("{:.0f} {}{}", line.quantity, line.unit, line.quantity == 1.0 ? "" : "s");
}

std::string item_words(const std::string& item, units::Style style) {
  if (style == units::Style::metric && item.ends_with(" in")) {
    const std::size_t number = item.rfind(' ', item.size() - 4) + 1;
    if (const auto length_m = units::parse_length(item.substr(number), units::LengthUnit::in)) {
      return item.substr(0, number) + units::show(*length_m, style);
    }
  }
  return item;
}

std::string unit_price_words(const takeoff::OrderLine& line, units::Style style) {
  if (!line.unit_price) {
    return "-";
  }
  const bool in_feet = style == units::Style::feet_inches;
  if (in_feet && line.unit == "m") {
    return fmt::format("{:.2f} a ft", *line.unit_price * units::foot_m);
  }
  if (in_feet && line.unit == "m2") {
    return fmt::format("{:.2f} a ft2", *line.unit_price * units::square_foot_m2);
  }
  return fmt::format("{:.2f} a {}", *line.unit_price, line.unit);
}

std::string nail_words(const Assessment& assessment, units::Style style) {
  return fmt::format(
      "Nails of no given size: long enough to go {} into the deck, or through one that is thinner "
      "({}); what they go through above it says how long they are.",
      units::show(vents::practice::nail_into_deck_m, style),
      codes::or_practice(assessment.code.sections.nails));
}

std::string to_csv(const Assessment& assessment, units::Style style) {
  Csv csv(style);
  for (const PlaneId id : assessment.surface.planes.ids()) {
    Row row;
    row.record = "plane";
    row.plane = assessment.surface.planes[id].id;
    row.pitch_in_12 = fmt::format("{:.4f}", assessment.surface.planes[id].pitch.in_12());
    csv.add_lengths(std::move(row), assessment.takeoff.planes[id]);
  }
  add_lines(assessment.surface, csv);
  for (const takeoff::OrderLine& line : assessment.takeoff.order) {
    csv.add_order(line, "order");
  }
  for (const takeoff::OrderLine& line : together_of(assessment.takeoff.order)) {
    csv.add_order(line, "order_total");
  }
  if (assessment.takeoff.price.sum > 0.0) {
    Row money;
    money.record = "price_total";
    money.price = fmt::format("{:.2f}", assessment.takeoff.price.sum);
    csv.add(std::move(money));
  }
  Row total;
  total.record = "total";
  csv.add_lengths(std::move(total), assessment.takeoff.totals);
  return csv.out;
}

std::vector<takeoff::OrderLine> by_item(const std::vector<takeoff::OrderLine>& order) {
  std::vector<takeoff::OrderLine> grouped;
  for (const takeoff::OrderLine& line : order) {
    const auto last = std::find_if(grouped.rbegin(), grouped.rend(),
                                   [&](const auto& there) { return there.item == line.item; });
    grouped.insert(last == grouped.rend() ? grouped.end() : last.base(), line);
  }
  return grouped;
}

std::vector<takeoff::OrderLine> together_of(const std::vector<takeoff::OrderLine>& order) {
  std::vector<takeoff::OrderLine> sums;
  for (const takeoff::OrderLine& line : order) {
    const auto same = std::find_if(sums.begin(), sums.end(), [&](const auto& there) {
      return there.item == line.item && there.unit == line.unit;
    });
    if (same == sums.end()) {
      sums.push_back(line);
      sums.back().for_what.clear();
      continue;
    }
    same->quantity += line.quantity;
    if (same->total_price && line.total_price) {
      *same->total_price += *line.total_price;
    }
  }
  return sums;
}

Drawing estimator_sheet(const Assessment& assessment, units::Style style, Paper paper) {
  return EstimatorSheet(assessment, style, paper).run();
}

}  // namespace ridgeward::papers
