#pragma once
// What an estimator asks: lines and areas by plane and in total, and the order.

#include "assess.hpp"
#include "papers/drawing.hpp"
#include "units/length.hpp"

#include <string>

namespace ridgeward::papers {

/// Law: no two texts overlap, none leaves the page.
Drawing estimator_sheet(const Assessment& assessment, units::Style style, Paper paper);

/// Lines of one item together, in the order of the first of each.
std::vector<takeoff::OrderLine> by_item(const std::vector<takeoff::OrderLine>& order);

/// One line for each item: all of it, and what it costs; for nothing in particular. Law: the sums
/// of quantities and prices are the order's.
std::vector<takeoff::OrderLine> together_of(const std::vector<takeoff::OrderLine>& order);

/// An item as people read it: sizes in its name in millimetres in metric ("hand nails 76 mm").
std::string item_words(const std::string& item, units::Style style);
/// "21.50 a section", "3.20 a ft": for the unit in which the quantity is told; "-" without a price.
std::string unit_price_words(const takeoff::OrderLine& line, units::Style style);
/// How long nails are of which the order gives no size.
std::string nail_words(const Assessment& assessment, units::Style style);

/// "12 sections", "1 piece", "45' 9\"", "120.0 ft2": how much of a line of the order.
std::string quantity_words(const takeoff::OrderLine& line, units::Style style);

/// The same for a spreadsheet, and every line of the roof: RFC 4180, one head row, CRLF, a point
/// before decimals. The unit of a column stands in its name: ft and ft2, or m and m2 by `style`.
/// Column `record` says what a row is: plane, line, order (for one run, plane or
/// line), order_total (an item, all of it), price_total, total; each names its plane, its line or
/// what it is for. Sums of rows "plane" count lines between two planes twice, the row "total" once.
std::string to_csv(const Assessment& assessment, units::Style style);

}  // namespace ridgeward::papers
