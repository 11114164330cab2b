#include "takeoff/order.hpp"

#include "base/polygon.hpp"
#include "takeoff/courses.hpp"
#include "vents/band.hpp"
#include "vents/courses.hpp"
#include "vents/practice.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::takeoff {

namespace {

using surface::LineKind;

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
  void run(const vents::Slot& slot, double length_m);
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
}

/// What the work over one slot takes beside the sections (trade practice, docs/takeoff.md).
void OrderWriter::run(const vents::Slot& slot, double length_m) {
  const double shingles = std::ceil(length_m / shingle::length_m - 1e-9);
  if (slot.position == model::Position::eave) {
    add_line("underlayment strip 18 in", "m", length_m, slot.run);
  } else {
    add_line("starter", "m", length_m, slot.run);
    add_line("face nails", "piece",
             shingles * (shingle::nails_each + vents::practice::top_nails_each), slot.run);
  }
  // The starter and the first course over the vent.
  add_line("hand nails 3 in", "piece", 2 * shingles * shingle::nails_each, slot.run);
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
  for (const surface::Plane& plane : surface_.planes) {
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
    add_line("ice barrier", "m2", area_m2, plane.id);
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
      add_line("caps", "piece", std::ceil(line.length_m / model_.roofing.exposure_m - 1e-9),
               line.id);
    }
  }
}

void OrderWriter::shingles() {
  for (const ShingledPlane& plane : takeoff_.shingles) {
    add_line("shingles", "piece", plane.bought, surface_.planes[plane.plane].id);
    add_line("shingle nails", "piece", (plane.whole + plane.cut) * shingle::nails_each,
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
      writer.run(slot, slot.vent_length_m);
    }
  }
  writer.edges();
  writer.ice_barrier();
  writer.lines();
  writer.shingles();
  writer.price();
}

}  // namespace ridgeward::takeoff
