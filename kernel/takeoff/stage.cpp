#include "takeoff/takeoff.hpp"

#include <cmath>
#include <map>

namespace ridgeward::takeoff {

namespace {

void add_line(Lengths& lengths, const surface::Line& line) {
  switch (line.kind) {
    case surface::LineKind::eave:
      lengths.eave_m += line.length_m;
      break;
    case surface::LineKind::rake:
      lengths.rake_m += line.length_m;
      break;
    case surface::LineKind::ridge:
      lengths.ridge_m += line.length_m;
      break;
    case surface::LineKind::hip:
      lengths.hip_m += line.length_m;
      break;
    case surface::LineKind::valley:
      lengths.valley_m += line.length_m;
      break;
    case surface::LineKind::headwall:
    case surface::LineKind::sidewall:
    case surface::LineKind::step_wall:
      lengths.wall_m += line.length_m;
      break;
    default:
      break;
  }
}

/// Whole pieces that cover a length; a hair over a whole number is rounding, not a piece more.
double pieces(double length_m, double piece_m) {
  return piece_m > 0.0 ? std::ceil(length_m / piece_m - 1e-9) : 1.0;
}

/// Pieces by product and by the run or vent that they are for, both in the order of the model.
struct Count {
  std::string product;
  std::string for_what;
  double quantity = 0.0;
};

void add(std::vector<Count>& counts, const std::string& product, const std::string& for_what,
         double quantity) {
  for (Count& count : counts) {
    if (count.product == product && count.for_what == for_what) {
      count.quantity += quantity;
      return;
    }
  }
  counts.push_back({product, for_what, quantity});
}

std::vector<Count> vent_pieces(const model::Catalogue& catalogue, const vents::Vents& vents) {
  std::vector<Count> counts;
  for (const vents::Slot& slot : vents.slots) {
    const auto product = catalogue.products.find(slot.product);
    if (product != catalogue.products.end()) {
      add(counts, slot.product, slot.run, pieces(slot.vent_length_m, product->second.length_m));
    }
  }
  // A vent told in several exhausts, one a compartment, is still laid in one.
  std::map<std::string, double> lengths;
  for (const vents::Exhaust& exhaust : vents.exhausts) {
    lengths[exhaust.vent] += exhaust.length_m;
  }
  for (const vents::Exhaust& exhaust : vents.exhausts) {
    const auto product = catalogue.products.find(exhaust.product);
    const auto length = lengths.find(exhaust.vent);
    if (product == catalogue.products.end() || length == lengths.end()) {
      continue;
    }
    add(counts, exhaust.product, exhaust.vent,
        model::runs_along(product->second.kind) ? pieces(length->second, product->second.length_m)
                                                : 1.0);
    lengths.erase(length);
  }
  return counts;
}

std::vector<OrderLine> order_of(const model::Catalogue& catalogue, const vents::Vents& vents) {
  std::vector<OrderLine> order;
  std::vector<Count> nails;
  for (const Count& count : vent_pieces(catalogue, vents)) {
    const model::Product& product = catalogue.products.at(count.product);
    const bool is_section = model::runs_along(product.kind);
    order.push_back(
        {count.product, is_section ? "section" : "piece", count.quantity, count.for_what});
    if (product.nails_each > 0) {
      add(nails, count.product, "", count.quantity * product.nails_each);
    }
  }
  for (const Count& count : nails) {
    order.push_back({"nails", "piece", count.quantity, count.product});
  }
  return order;
}

}  // namespace

Takeoff count(const model::RoofModel&, const model::Catalogue& catalogue,
              const surface::Surface& surface, const vents::Vents& vents) {
  Takeoff takeoff;
  takeoff.planes.resize(surface.planes.size());
  for (const PlaneId id : surface.planes.ids()) {
    const surface::Plane& plane = surface.planes[id];
    takeoff.planes[id].area_m2 = plane.area_m2;
    takeoff.planes[id].plan_area_m2 = plane.plan_area_m2;
    takeoff.totals.area_m2 += plane.area_m2;
    takeoff.totals.plan_area_m2 += plane.plan_area_m2;
  }
  for (const surface::Line& line : surface.lines) {
    const PlaneId left = line.left_plane();
    const PlaneId right = line.right_plane();
    if (!left.is_none()) {
      add_line(takeoff.planes[left], line);
    }
    if (!right.is_none() && right != left) {
      add_line(takeoff.planes[right], line);
    }
    if (!left.is_none() || !right.is_none()) {
      add_line(takeoff.totals, line);
    }
  }
  takeoff.order = order_of(catalogue, vents);
  return takeoff;
}

}  // namespace ridgeward::takeoff
