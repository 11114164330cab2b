#include "takeoff/order.hpp"

#include "base/polygon.hpp"
#include "takeoff/courses.hpp"
#include "vents/band.hpp"
#include "vents/courses.hpp"
#include "vents/practice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::takeoff {

namespace {

using surface::LineKind;
namespace practice = vents::practice;

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

/// Sections that are bought for each run: those that it is the first to take a piece of.
void add_sections(const std::vector<SectionRun>& sections, bool is_intake,
                  std::vector<Count>& counts) {
  std::map<std::string, int> opened;
  for (const SectionRun& run : sections) {
    if (run.plane.is_none() == is_intake) {
      continue;
    }
    for (const Piece& piece : run.pieces) {
      if (piece.section > opened[run.product]) {
        opened[run.product] = piece.section;
        add(counts, run.product, run.run, 1.0);
      }
    }
  }
}

std::vector<Count> vent_pieces(const model::Catalogue& catalogue, const vents::Vents& vents,
                               const std::vector<SectionRun>& sections) {
  std::vector<Count> counts;
  add_sections(sections, true, counts);
  for (const vents::Slot& slot : vents.slots) {
    if (!model::runs_along(slot.kind) && catalogue.products.count(slot.product) != 0) {
      add(counts, slot.product, slot.run, 1.0);
    }
  }
  add_sections(sections, false, counts);
  for (const vents::Exhaust& exhaust : vents.exhausts) {
    if (!model::runs_along(exhaust.kind) && catalogue.products.count(exhaust.product) != 0) {
      add(counts, exhaust.product, exhaust.vent, 1.0);
    }
  }
  return counts;
}

class OrderWriter {
 public:
  OrderWriter(const model::RoofModel& model, const surface::Surface& surface, Takeoff& takeoff)
      : model_(model), surface_(surface), takeoff_(takeoff) {}

  void vents(const model::Catalogue& catalogue, const vents::Vents& vents);
  void run(const vents::Slot& slot, double nail_m);
  void cover(const vents::Slot& slot, const model::Product& product);
  void underlayment();
  void breaks(const vents::Vents& vents);
  void edges();
  void ice_barrier();
  void lines();
  void shingles();
  void price();

 private:
  void add_line(std::string item, std::string unit, double quantity, std::string for_what) {
    if (quantity > 0.0) {
      takeoff_.order.push_back(
          {std::move(item), std::move(unit), quantity, std::move(for_what), {}, {}});
    }
  }

  const model::RoofModel& model_;
  const surface::Surface& surface_;
  Takeoff& takeoff_;
  std::map<PlaneId, double> barrier_m2_;     ///< ice barrier, by plane
  std::map<PlaneId, double> other_nailing_;  ///< shingles that are nailed by hand or face-nailed
};

void OrderWriter::vents(const model::Catalogue& catalogue, const vents::Vents& vents) {
  std::vector<Count> nails;
  for (const SectionRun& run : takeoff_.sections) {
    const model::Product& product = catalogue.products.at(run.product);
    for (const Piece& piece : run.pieces) {
      // What a piece is nailed with goes by its length, wherever its section was bought.
      const double share = std::min(1.0, piece.length_m / product.length_m);
      add(nails, "", run.run, std::ceil(product.nails_each * share - 1e-6));
    }
  }
  for (const Count& count : vent_pieces(catalogue, vents, takeoff_.sections)) {
    const model::Product& product = catalogue.products.at(count.product);
    const bool is_strip = model::runs_along(product.kind);
    add_line(count.product, is_strip ? "section" : "piece", count.quantity, count.for_what);
    if (!is_strip) {
      add(nails, "", count.for_what, count.quantity * product.nails_each);
    }
  }
  for (const Count& count : nails) {
    add_line("nails", "piece", count.quantity, count.for_what);
  }
  for (const vents::Exhaust& exhaust : vents.exhausts) {
    if (!model::runs_along(exhaust.kind) && catalogue.products.count(exhaust.product) != 0) {
      const model::Product& product = catalogue.products.at(exhaust.product);
      // A bead all round, beneath the flange or behind the louvre's frame.
      add_line("sealant", "m", 2 * (product.length_m + product.depth_m), exhaust.vent);
    }
  }
}

std::string strip_item(double width_m) {
  return width_m <= practice::underlayment_strip_m ? "underlayment strip 18 in"
                                                   : "underlayment strip 36 in";
}

/// What is laid over the vent, where the plane's ice barrier does not go over it.
void OrderWriter::cover(const vents::Slot& slot, const model::Product& product) {
  const bool is_eave = slot.position == model::Position::eave;
  const bool is_over_deck = slot.kind == model::VentKind::over_deck_intake;
  if (is_over_deck && is_eave && slot.ice_barrier_m > 0.0) {
    return;
  }
  for (SectionRun& strip : takeoff_.sections) {
    if (strip.over != slot.id || strip.pieces.empty()) {
      continue;
    }
    const auto is_free = [&](const PieceEnd& end) {
      return is_over_deck && end.at == EndAt::run_end;
    };
    const int free_ends =
        (is_free(strip.pieces.front().left) ? 1 : 0) + (is_free(strip.pieces.back().right) ? 1 : 0);
    strip.cover_length_m = slot.vent_length_m + free_ends * practice::cover_past_end_m;
    // Upslope the vent's upper edge, where air comes in, stays free.
    const double least_m = product.depth_m + (is_eave ? practice::cover_beyond_m : 0.0);
    strip.cover_strip_m = least_m <= practice::underlayment_strip_m ? practice::underlayment_strip_m
                                                                    : practice::underlayment_roll_m;
    strip.cover_width_m = is_eave ? strip.cover_strip_m : std::min(least_m, strip.cover_strip_m);
    add_line(strip_item(strip.cover_strip_m), "m", strip.cover_length_m, slot.run);
  }
}

/// By eighths of an inch, as nails are sold: "hand nails 3 in", "hand nails 2.5 in".
std::string hand_nails_item(double nail_m) {
  return fmt::format("hand nails {:g} in", std::round(8.0 * nail_m / units::inch_m) / 8.0);
}

/// What the work over one slot takes beside the sections (trade practice, docs/takeoff.md).
void OrderWriter::run(const vents::Slot& slot, double nail_m) {
  const double length_m = slot.vent_length_m;
  const double shingles = std::ceil(length_m / shingle::length_m - 1e-9);
  other_nailing_[slot.plane] += shingles;
  if (slot.position == model::Position::eave) {
    add_line(strip_item(practice::underlayment_strip_m), "m", length_m, slot.run);
  } else {
    add_line("starter", "m", length_m, slot.run);
    add_line("face nails", "piece", shingles * (shingle::nails_each + practice::top_nails_each),
             slot.run);
  }
  // The starter and the first course over the vent.
  add_line(hand_nails_item(nail_m), "piece", 2 * shingles * shingle::nails_each, slot.run);
}

void OrderWriter::edges() {
  for (const PlaneId id : surface_.planes.ids()) {
    const Lengths& own = takeoff_.planes[id];
    add_line("drip edge", "m", own.eave_m, surface_.planes[id].id);
    add_line("starter", "m", own.eave_m, surface_.planes[id].id);
    add_line("rake metal", "m", own.rake_m, surface_.planes[id].id);
  }
}

/// The part of each plane between its eaves and the line that the code asks for.
void OrderWriter::ice_barrier() {
  if (!vents::has_ice_barrier(model_)) {
    return;
  }
  for (const PlaneId id : surface_.planes.ids()) {
    const surface::Plane& plane = surface_.planes[id];
    const std::vector<vents::EaveLine> eaves = vents::eaves_of(surface_, plane);
    if (eaves.empty() || !plane.cricket.empty()) {
      continue;
    }
    polygon::Loops border;
    for (const surface::Loop& loop : plane.loops) {
      border.push_back(surface::corners_uv(surface_, plane.frame, loop));
    }
    const bool is_one_level = eaves.back().v_m - eaves.front().v_m < 1e-5;
    constexpr double wide_m = 1e4;
    double area_m2 = 0.0;
    for (const vents::EaveLine& eave : eaves) {
      const surface::WallLine wall =
          surface::wall_line_at(surface_, plane, {0.5 * (eave.from_u_m + eave.to_u_m), eave.v_m});
      const double overhang_m = std::max(0.0, wall.v_m - eave.v_m) / plane.pitch.slope_factor();
      const double reach_m =
          vents::ice_barrier_reach_m(model_, model_.parts[wall.part], plane.pitch, overhang_m);
      const double from_m = is_one_level ? -wide_m : eave.from_u_m;
      const double to_m = is_one_level ? wide_m : eave.to_u_m;
      const polygon::Loops band{{{from_m, eave.v_m},
                                 {to_m, eave.v_m},
                                 {to_m, eave.v_m + reach_m},
                                 {from_m, eave.v_m + reach_m}}};
      area_m2 += polygon::overlap_area(border, band);
      if (is_one_level) {
        break;
      }
    }
    barrier_m2_[id] = area_m2;
    add_line("ice barrier", "m2", area_m2, plane.id);
  }
}

/// Of every plane that is shingled, what the ice barrier does not cover; double on low slopes.
void OrderWriter::underlayment() {
  for (const ShingledPlane& plane : takeoff_.shingles) {
    const surface::Plane& own = surface_.planes[plane.plane];
    const bool is_double = own.pitch.in_12() < practice::single_underlayment_in_12 - 1e-9;
    const double area_m2 = std::max(0.0, plane.laid_m2 - barrier_m2_[plane.plane]);
    add_line("underlayment", "m2", (is_double ? 2 : 1) * area_m2, own.id);
  }
}

/// Flashing of the pitch breaks that slots are counted from.
void OrderWriter::breaks(const vents::Vents& vents) {
  const auto bears_slot = [&](PlaneId plane) {
    return std::any_of(vents.slots.begin(), vents.slots.end(), [&](const vents::Slot& slot) {
      return slot.is_over_break && slot.plane == plane &&
             slot.kind == model::VentKind::over_deck_intake;
    });
  };
  for (const surface::Line& line : surface_.lines) {
    if (line.kind == LineKind::pitch_break &&
        (bears_slot(line.left_plane()) || bears_slot(line.right_plane()))) {
      add_line("pitch break flashing", "m", line.length_m, line.id);
    }
  }
}

void OrderWriter::lines() {
  for (const surface::Line& line : surface_.lines) {
    constexpr double least_m = 0.004;  // a nail's width: nothing is cut or laid for less
    if (line.left_plane().is_none() || line.right_plane().is_none() || line.length_m < least_m) {
      continue;
    }
    if (line.kind == LineKind::valley) {
      add_line("valley metal", "m", line.length_m, line.id);
    } else if (line.kind == LineKind::ridge || line.kind == LineKind::hip) {
      const double caps = std::ceil(line.length_m / model_.roofing.exposure_m - 1e-9);
      add_line("caps", "piece", caps, line.id);
      add_line("cap nails", "piece", caps * shingle::cap_nails_each, line.id);
    }
  }
}

void OrderWriter::shingles() {
  for (const ShingledPlane& plane : takeoff_.shingles) {
    add_line("shingles", "piece", plane.bought, surface_.planes[plane.plane].id);
    // Those of the course over a vent, or of the face-nailed one, stand with the vent.
    const double nailed = std::max(0.0, plane.whole + plane.cut - other_nailing_[plane.plane]);
    add_line("shingle nails", "piece", nailed * shingle::nails_each,
             surface_.planes[plane.plane].id);
  }
}

void OrderWriter::price() {
  for (OrderLine& line : takeoff_.order) {
    const auto price = model_.prices.find(line.item);
    if (price == model_.prices.end()) {
      ++takeoff_.price.without_price;
      continue;
    }
    line.unit_price = price->second;
    line.total_price = price->second * line.quantity;
    takeoff_.price.sum += *line.total_price;
  }
}

}  // namespace

void write_order(const model::RoofModel& model, const model::Catalogue& catalogue,
                 const surface::Surface& surface, const vents::Vents& vents, Takeoff& takeoff) {
  OrderWriter writer(model, surface, takeoff);
  writer.vents(catalogue, vents);
  for (const vents::Slot& slot : vents.slots) {
    if (slot.kind == model::VentKind::over_deck_intake) {
      const auto product = catalogue.products.find(slot.product);
      const bool is_said =
          product != catalogue.products.end() && product->second.nail_length_m > 0.0;
      writer.run(slot, is_said ? product->second.nail_length_m : practice::nail_length_m);
    }
    if (!model::is_in_soffit(slot.kind) && catalogue.products.count(slot.product) != 0) {
      writer.cover(slot, catalogue.products.at(slot.product));
    }
  }
  writer.edges();
  writer.ice_barrier();
  writer.underlayment();
  writer.lines();
  writer.breaks(vents);
  writer.shingles();
  writer.price();
}

}  // namespace ridgeward::takeoff
