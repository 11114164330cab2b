#include "placement/cost.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::placement {

namespace {

/// A hair over a whole number of pieces is rounding, not a piece more; as the takeoff counts.
constexpr double hair = 1e-9;

/// Whether the model prices anything on the same side of the roof.
bool has_prices(const model::RoofModel& model, const model::Catalogue& catalogue, bool is_intake) {
  return std::any_of(model.prices.begin(), model.prices.end(), [&](const auto& price) {
    const auto product = catalogue.products.find(price.first);
    return product != catalogue.products.end() &&
           model::is_intake(product->second.kind) == is_intake;
  });
}

}  // namespace

Cost cost_of(const model::RoofModel& model, const model::Product& product, double length_m,
             int cuts) {
  const bool is_along = model::runs_along(product.kind);
  const bool has_moving_parts =
      product.kind == model::VentKind::turbine || product.kind == model::VentKind::powered;
  const double laid = is_along && product.length_m > 0.0 ? length_m / product.length_m : 1.0;
  const double pieces = std::ceil(laid - hair);
  const double effort = is_along ? effort::a_run + effort::a_metre * length_m +
                                       effort::a_piece * pieces + effort::a_cut * cuts
                                 : (has_moving_parts ? effort::a_turning_vent : effort::a_vent);
  const auto price = model.prices.find(product.id);
  if (price == model.prices.end()) {
    return {effort, effort, 0.0};
  }
  const double money = price->second * pieces;
  return {money + tie * effort, price->second * std::min(laid, pieces) + tie * effort, money};
}

bool may_use(const model::RoofModel& model, const model::Catalogue& catalogue,
             const model::Product& product) {
  // A fan needs power and can draw combustion gases: only who prices one wants one.
  const bool is_priced = model.prices.count(product.id) > 0;
  return has_prices(model, catalogue, model::is_intake(product.kind))
             ? is_priced
             : product.kind != model::VentKind::powered;
}

}  // namespace ridgeward::placement
