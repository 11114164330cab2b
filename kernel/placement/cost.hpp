#pragma once
// What a placement costs, with prices and without.

#include "model/catalogue.hpp"
#include "model/roof_model.hpp"

namespace ridgeward::placement {

/// Without prices: effort, in metres of vent laid. Common practice, no source; only the order of
/// placements hangs on it.
namespace effort {
inline constexpr double a_metre = 1.0;
inline constexpr double a_piece = 0.1;         ///< of vent along an eave or line: carry, butt, nail
inline constexpr double a_cut = 0.25;          ///< an end trimmed or mitred
inline constexpr double a_run = 0.5;           ///< lay out, start the saw, close both ends
inline constexpr double a_vent = 2.0;          ///< by the piece: hole, flashing, nails
inline constexpr double a_turning_vent = 6.0;  ///< one with moving parts, which wear
}  // namespace effort

/// With prices effort only settles ties: money weighs a thousand times as much.
inline constexpr double tie = 0.001;

/// What one run or vent costs.
struct Cost {
  double all = 0.0;       ///< by itself: money for whole pieces, and effort
  double at_least = 0.0;  ///< the same, where other runs take all that is left over of its pieces
  double money = 0.0;     ///< of `all`; 0 without a price
};

/// One run or vent of a product: whole pieces that cover `length_m`, `cuts` ends trimmed. Products
/// by the piece cost the same whatever the length.
Cost cost_of(const model::RoofModel& model, const model::Product& product, double length_m,
             int cuts);

/// Whether a placement may use a product: all where the model gives no prices, else those with one.
bool may_use(const model::RoofModel& model, const model::Catalogue& catalogue,
             const model::Product& product);

}  // namespace ridgeward::placement
