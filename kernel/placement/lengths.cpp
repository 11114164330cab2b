#include "placement/lengths.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::placement {

namespace {

constexpr double near_m = 1e-6;

/// What a tape shows: 1/8 in, or 1 mm.
double mark_m(units::LengthUnit unit) {
  const bool is_metric = unit == units::LengthUnit::m || unit == units::LengthUnit::mm;
  return is_metric ? units::metres_in(units::LengthUnit::mm) : units::inch_m / 8.0;
}

}  // namespace

double on_mark(double length_m, units::LengthUnit unit) {
  const double mark = mark_m(unit);
  return units::on_grid(std::round(length_m / mark) * mark);
}

bool is_whole(double length_m, double piece_m) {
  return piece_m > 0.0 && std::abs(length_m - std::round(length_m / piece_m) * piece_m) <= near_m;
}

std::vector<Span> spans_in(const Span& room, const model::Product& product, Rest rest,
                           units::LengthUnit unit) {
  const double mark = mark_m(unit);
  const auto up = [&](double m) { return units::on_grid(std::ceil(m / mark - 1e-6) * mark); };
  const auto down = [&](double m) { return units::on_grid(std::floor(m / mark + 1e-6) * mark); };
  const Span all{up(room.from_m), down(room.to_m)};
  std::vector<Span> spans;
  const double least_m = std::max(product.least_piece_m, 2.0 * mark);
  if (all.length_m() < least_m) {
    return spans;
  }
  const double piece_m = product.length_m;
  for (int count = 1; piece_m > 0.0 && count * piece_m <= all.length_m() + near_m; ++count) {
    const double length_m = count * piece_m;
    const double left_m = std::max(0.0, all.length_m() - length_m);
    const double from_m = down(all.from_m + (rest == Rest::in_middle ? 0.5 * left_m : left_m));
    if (length_m >= least_m) {
      spans.push_back({from_m, std::min(from_m + length_m, all.to_m)});
    }
  }
  if (spans.empty() || spans.back().length_m() < all.length_m() - near_m) {
    spans.push_back(all);
  }
  return spans;
}

double most_apart(std::vector<Worth> all) {
  std::sort(all.begin(), all.end(),
            [](const Worth& l, const Worth& r) { return l.span.to_m < r.span.to_m; });
  std::vector<double> best{0.0};  // of the first so many
  for (const Worth& own : all) {
    const auto before = std::upper_bound(
        all.begin(), all.begin() + static_cast<std::ptrdiff_t>(best.size() - 1),
        own.span.from_m + near_m, [](double m, const Worth& one) { return m < one.span.to_m; });
    const double beside = best[static_cast<std::size_t>(before - all.begin())];
    best.push_back(std::max(best.back(), beside + own.worth));
  }
  return best.back();
}

}  // namespace ridgeward::placement
