#include "takeoff/sections.hpp"

#include "base/fault.hpp"
#include "takeoff/cutting.hpp"
#include "takeoff/cutting_pieces.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace ridgeward::takeoff {

namespace {

constexpr double near_m = 1e-6;
constexpr double at_border_m = 1e-4;  // a united surface moves nodes by micrometres
constexpr double right_angle = 0.5 * std::numbers::pi;

/// An end of a strip: where its lower and its upper edge end along the eave.
struct StripEnd {
  EndAt at = EndAt::run_end;
  double low_u_m = 0.0;
  double high_u_m = 0.0;
  bool is_factory = false;

  double offset_m() const { return std::abs(high_u_m - low_u_m); }
  bool is_slanting() const { return offset_m() > near_m; }
};

/// A strip in plane coordinates; along a ridge or hip `u` runs along the line.
struct Laid {
  StripEnd left;
  StripEnd right;
  double depth_m = 0.0;
  double from_u_m() const { return std::min(left.low_u_m, left.high_u_m); }
  double to_u_m() const { return std::max(right.low_u_m, right.high_u_m); }
};

EndAt end_at(surface::LineKind kind) {
  switch (kind) {
    case surface::LineKind::rake:
      return EndAt::rake;
    case surface::LineKind::valley:
      return EndAt::valley;
    case surface::LineKind::hip:
      return EndAt::hip;
    case surface::LineKind::headwall:
    case surface::LineKind::sidewall:
    case surface::LineKind::step_wall:
      return EndAt::wall;
    default:
      return EndAt::run_end;
  }
}

/// Looks for what ends the strip over a slot.
class EndFinder {
 public:
  EndFinder(const surface::Surface& surface, const vents::Slot& slot, double depth_m)
      : surface_(surface),
        plane_(surface.planes[slot.plane]),
        low_v_m_(slot.drip_v_m + slot.vent_low_m),
        high_v_m_(low_v_m_ + depth_m),
        on_plane_v_m_(std::max(low_v_m_, slot.drip_v_m)) {}

  StripEnd find(double u_m, const std::optional<vents::Mitre>& mitre, bool is_left) const;

 private:
  struct Ends {
    glm::dvec2 a{0.0};
    glm::dvec2 b{0.0};
    double at(double v) const { return a.x + (v - a.y) / (b.y - a.y) * (b.x - a.x); }
  };
  Ends ends_of(LineId id) const {
    const surface::Line& line = surface_.lines[id];
    return {plane_.frame.uv(surface_.nodes[line.from]), plane_.frame.uv(surface_.nodes[line.to])};
  }
  bool ends_strip(const Ends& ends, double u_m, bool is_left) const;
  StripEnd along(LineId id) const;

  const surface::Surface& surface_;
  const surface::Plane& plane_;
  double low_v_m_;
  double high_v_m_;
  double on_plane_v_m_;
};

StripEnd EndFinder::along(LineId id) const {
  const Ends ends = ends_of(id);
  StripEnd end{end_at(surface_.lines[id].kind), ends.at(low_v_m_), ends.at(high_v_m_), false};
  end.is_factory = end.at == EndAt::rake && !end.is_slanting();
  return end;
}

bool EndFinder::ends_strip(const Ends& ends, double u_m, bool is_left) const {
  if (std::abs(ends.b.y - ends.a.y) <= near_m) {
    return false;
  }
  const double middle = 0.5 * (on_plane_v_m_ + high_v_m_);
  if (std::min(ends.a.y, ends.b.y) > middle || std::max(ends.a.y, ends.b.y) < middle) {
    return false;
  }
  const double low = ends.at(on_plane_v_m_);
  const double high = ends.at(high_v_m_);
  return std::abs((is_left ? std::min(low, high) : std::max(low, high)) - u_m) <= at_border_m;
}

StripEnd EndFinder::find(double u_m, const std::optional<vents::Mitre>& mitre, bool is_left) const {
  if (mitre.has_value()) {
    return along(mitre->line);
  }
  for (const surface::Loop& loop : plane_.loops) {
    for (const surface::LoopStep& step : loop) {
      const bool is_named = end_at(surface_.lines[step.line].kind) != EndAt::run_end;
      if (is_named && ends_strip(ends_of(step.line), u_m, is_left)) {
        return along(step.line);
      }
    }
  }
  return {EndAt::run_end, u_m, u_m, false};
}

/// A strip, and the run that it becomes.
struct Order {
  SectionRun run;
  Laid laid;
};

std::vector<Order> intake_orders(const model::Catalogue& catalogue, const surface::Surface& surface,
                                 const vents::Vents& vents) {
  std::vector<Order> orders;
  for (const vents::Slot& slot : vents.slots) {
    const auto product = catalogue.products.find(slot.product);
    if (product == catalogue.products.end() || !model::runs_along(slot.kind) ||
        slot.vent_length_m <= near_m) {
      continue;
    }
    Order order;
    order.run = {slot.run, slot.id, slot.product, slot.plane, {}, 0.0, {}};
    order.laid.depth_m = product->second.depth_m;
    if (slot.kind == model::VentKind::over_deck_intake) {
      const EndFinder finder(surface, slot, product->second.depth_m);
      order.laid.left = finder.find(slot.vent_from_m, slot.left_mitre, true);
      order.laid.right = finder.find(slot.vent_to_m, slot.right_mitre, false);
    } else {
      order.laid.left = {EndAt::run_end, slot.vent_from_m, slot.vent_from_m, false};
      order.laid.right = {EndAt::run_end, slot.vent_to_m, slot.vent_to_m, false};
    }
    orders.push_back(std::move(order));
  }
  return orders;
}

/// A vent told in several exhausts, one a compartment, is still laid in one.
void add_exhaust_orders(const model::Catalogue& catalogue, const vents::Vents& vents,
                        std::vector<Order>& orders) {
  for (const vents::Exhaust& exhaust : vents.exhausts) {
    const auto product = catalogue.products.find(exhaust.product);
    if (product == catalogue.products.end() || !model::runs_along(exhaust.kind) ||
        exhaust.length_m <= near_m) {
      continue;
    }
    if (!orders.empty() && orders.back().run.over == exhaust.vent &&
        orders.back().run.line == exhaust.line &&
        std::abs(orders.back().laid.right.low_u_m - exhaust.from_m) <= near_m) {
      orders.back().laid.right.low_u_m = orders.back().laid.right.high_u_m = exhaust.to_m;
      continue;
    }
    Order order;
    order.run = {exhaust.vent, exhaust.vent, exhaust.product, {}, exhaust.line, 0.0, {}};
    order.laid = {{EndAt::run_end, exhaust.from_m, exhaust.from_m, false},
                  {EndAt::run_end, exhaust.to_m, exhaust.to_m, false},
                  product->second.depth_m};
    orders.push_back(std::move(order));
  }
}

/// A mitre has to end within its piece, with the least piece beyond it.
EndNeed need_of(const StripEnd& end, const CuttingRules& rules) {
  return {end.is_factory, end.is_slanting() ? end.offset_m() + rules.least_piece_m : 0.0};
}

/// What of a piece reaches from its own ends to the strip's slanting ones.
double edge_m(const Piece& piece, double left_u_m, double right_u_m) {
  return std::max(0.0, std::min(piece.to_m, right_u_m) - std::max(piece.from_m, left_u_m));
}

/// How a piece is cut where the strip ends; `into_m` is how far the slant reaches into it.
PieceEnd cut_along(const StripEnd& end, double into_m, double depth_m) {
  PieceEnd cut;
  cut.kind = CutKind::mitre;
  cut.at = end.at;
  cut.angle_rad = std::atan2(depth_m, end.offset_m());
  cut.offset_m = into_m;
  return cut;
}

PieceEnd cut_across(bool is_factory, EndAt at) {
  return {is_factory ? CutKind::factory : CutKind::square, at, right_angle, 0.0};
}

void fill_pieces(const std::vector<Cutting>& cuttings, const CuttingRules& rules, Order& order) {
  const Laid& laid = order.laid;
  double at_m = laid.from_u_m();
  const double left_end_m = std::max(laid.left.low_u_m, laid.left.high_u_m);
  const double right_end_m = std::min(laid.right.low_u_m, laid.right.high_u_m);
  for (std::size_t i = 0; i < cuttings.size(); ++i) {
    const Cutting& cutting = cuttings[i];
    Piece piece;
    piece.length_m = cutting.length_m;
    piece.from_m = at_m;
    piece.to_m = at_m + cutting.length_m;
    at_m = piece.to_m;
    piece.lower_edge_m = edge_m(piece, laid.left.low_u_m, laid.right.low_u_m);
    piece.upper_edge_m = edge_m(piece, laid.left.high_u_m, laid.right.high_u_m);
    piece.section = static_cast<int>(cutting.section) + 1;
    piece.section_from_m = cutting.section_from_m;
    const bool is_first = i == 0;
    const bool is_last = i + 1 == cuttings.size();
    piece.left = left_end_m - piece.from_m > near_m
                     ? cut_along(laid.left, left_end_m - piece.from_m, laid.depth_m)
                     : cut_across(cutting.section_from_m <= same_cut_m,
                                  is_first ? laid.left.at : EndAt::joint);
    piece.right =
        piece.to_m - right_end_m > near_m
            ? cut_along(laid.right, piece.to_m - right_end_m, laid.depth_m)
            : cut_across(cutting.section_from_m + cutting.length_m >= rules.section_m - same_cut_m,
                         is_last ? laid.right.at : EndAt::joint);
    order.run.pieces.push_back(piece);
  }
}

void plan_product(const model::Product& product, std::vector<Order*> orders, Takeoff& takeoff) {
  const CuttingRules rules{product.length_m, product.least_piece_m};
  std::vector<Strip> strips;
  Purchase purchase;
  purchase.product = product.id;
  purchase.section_m = product.length_m;
  for (Order* order : orders) {
    const double length_m = order->laid.to_u_m() - order->laid.from_u_m();
    ensure(length_m > 0.0, "a strip of vent ends to the right of its start");
    order->run.length_m = length_m;
    strips.push_back(
        {length_m, need_of(order->laid.left, rules), need_of(order->laid.right, rules)});
    purchase.laid_m += length_m;
  }
  const CuttingPlan plan = plan_cuts(strips, rules);
  for (std::size_t i = 0; i < orders.size(); ++i) {
    fill_pieces(plan.strips[i], rules, *orders[i]);
  }
  purchase.bought = static_cast<int>(plan.bought);
  purchase.lower_bound = static_cast<int>(plan.lower_bound);
  purchase.is_least = plan.is_least;
  purchase.waste_m = purchase.bought * product.length_m - purchase.laid_m;
  takeoff.purchases.push_back(purchase);
}

}  // namespace

const char* word(CutKind kind) {
  switch (kind) {
    case CutKind::factory:
      return "factory";
    case CutKind::square:
      return "square";
    case CutKind::mitre:
      return "mitre";
  }
  return "";
}

const char* word(EndAt at) {
  switch (at) {
    case EndAt::joint:
      return "joint";
    case EndAt::rake:
      return "rake";
    case EndAt::valley:
      return "valley";
    case EndAt::hip:
      return "hip";
    case EndAt::wall:
      return "wall";
    case EndAt::run_end:
      return "run_end";
  }
  return "";
}

void plan_sections(const model::Catalogue& catalogue, const surface::Surface& surface,
                   const vents::Vents& vents, Takeoff& takeoff) {
  std::vector<Order> orders = intake_orders(catalogue, surface, vents);
  add_exhaust_orders(catalogue, vents, orders);
  std::map<std::string, std::vector<Order*>> by_product;
  for (Order& order : orders) {
    by_product[order.run.product].push_back(&order);
  }
  for (auto& [id, some] : by_product) {
    const model::Product& product = catalogue.products.at(id);
    if (product.length_m > 0.0) {
      plan_product(product, some, takeoff);
    }
  }
  for (Order& order : orders) {
    takeoff.sections.push_back(std::move(order.run));
  }
}

}  // namespace ridgeward::takeoff
