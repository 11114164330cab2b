#pragma once
// How long a run can be in the room that it has.

#include "model/catalogue.hpp"
#include "model/roof_model.hpp"

#include <vector>

namespace ridgeward::placement {

struct Span {
  double from_m = 0.0;
  double to_m = 0.0;
  double length_m() const { return to_m - from_m; }
};

/// Where the room that is left goes: to both ends, or all before the start.
enum class Rest { in_middle, at_end };

/// Every whole number of pieces that fits, from one up, and all of the room unless that is whole
/// pieces; none shorter than the least workable piece. Ends lie on eighths of an inch, or on
/// millimetres where the model is metric, within the room.
std::vector<Span> spans_in(const Span& room, const model::Product& product, Rest rest,
                           units::LengthUnit unit);

/// The nearest mark of a tape: eighths of an inch, or millimetres where the model is metric.
double on_mark(double length_m, units::LengthUnit unit);

/// An interval, and what taking it is worth.
struct Worth {
  Span span;
  double worth = 0.0;
};
/// The most that intervals can be worth of which no two overlap. REQUIRES worths of zero or more.
double most_apart(std::vector<Worth> all);

/// Whether a length is a whole number of pieces, to a micrometre.
bool is_whole(double length_m, double piece_m);

}  // namespace ridgeward::placement
