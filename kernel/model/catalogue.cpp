#include "model/catalogue.hpp"

#include "model/file_bytes.hpp"
#include "model/json_cursor.hpp"
#include "model/read_pieces.hpp"

#include <fmt/format.h>

namespace ridgeward::model {

namespace {

/// Steepest pitch of a product that names none: steeper than any roof.
constexpr double any_pitch_rise = 1000.0;

bool needs_slot(VentKind kind) {
  return kind == VentKind::over_deck_intake || kind == VentKind::drip_edge_intake ||
         kind == VentKind::ridge_vent || kind == VentKind::hip_vent;
}

std::optional<VentKind> read_kind(const Cursor& cursor) {
  return cursor.required("give the kind of vent")
      .one_of<VentKind>({{"over_deck_intake", VentKind::over_deck_intake},
                         {"drip_edge_intake", VentKind::drip_edge_intake},
                         {"soffit_strip", VentKind::soffit_strip},
                         {"soffit_piece", VentKind::soffit_piece},
                         {"ridge_vent", VentKind::ridge_vent},
                         {"hip_vent", VentKind::hip_vent},
                         {"box_vent", VentKind::box_vent},
                         {"gable_louvre", VentKind::gable_louvre},
                         {"turbine", VentKind::turbine},
                         {"powered", VentKind::powered}});
}

void read_free_area(const Cursor& item, Product& product) {
  const Cursor per_length = item.key("free_area_per_length");
  const Cursor each = item.key("free_area_each");
  const bool along = runs_along(product.kind);
  const Cursor& used = along ? per_length : each;
  const Cursor& unused = along ? each : per_length;
  used.required(along ? "give the free area per length: \"10 in2/ft\""
                      : "give the free area of one piece: \"50 in2\"");
  if (unused.is_there()) {
    unused.warn("field.unused", "vents of this kind are not measured by this area",
                along ? "give free_area_per_length" : "give free_area_each");
  }
  take(product.free_area_per_length_m, per_length.area_per_length());
  take(product.free_area_each_m2, each.area());
  const double area = along ? product.free_area_per_length_m : product.free_area_each_m2;
  if (used.is_there() && item.reading().faults.empty() && area <= 0.0) {
    used.fault("field.range", "a vent has a free area of more than nothing",
               "give the free area that its maker states");
  }
}

void read_slot(Cursor cursor, Product& product) {
  SlotGeometry& slot = product.slot;
  if (needs_slot(product.kind)) {
    cursor.required(R"(give the slot that is cut for this vent: {"width": "1 1/2 in", ...})");
  }
  if (!cursor.open_object(keys::slot)) {
    return;
  }
  const Cursor lower_line = cursor.key("lower_line");
  const Cursor width = cursor.key("width");
  if (product.kind == VentKind::over_deck_intake) {
    lower_line.required("give the slot's lower line, up the slope from the drip edge");
  }
  if (needs_slot(product.kind)) {
    width.required("give the width of the slot");
  }
  take(slot.lower_line_m, lower_line.length(no_less_than_zero));
  take(slot.above_butt_m, cursor.key("above_butt").length(no_less_than_zero));
  take(slot.width_m, width.length(more_than_zero));
  take(slot.hold_back_m, cursor.key("hold_back").length(no_less_than_zero));
  slot.hold_back_hip_m = slot.hold_back_m;
  take(slot.hold_back_hip_m, cursor.key("hold_back_hip").length(no_less_than_zero));
  slot.hold_back_obstacle_m = cursor.key("hold_back_obstacle").length(no_less_than_zero);
}

void read_fan(const Cursor& item, Product& product) {
  const Cursor flow = item.key("fan_flow");
  const Cursor pressure = item.key("fan_shut_pressure");
  take(product.fan_flow_m3s, flow.flow());
  take(product.fan_shut_pressure_pa, pressure.pressure());
  for (const Cursor& one : {flow, pressure}) {
    if (one.is_there() && product.kind != VentKind::powered) {
      one.warn("field.unused", "only powered vents have a fan", "leave it out");
    }
  }
  if (flow.is_there() != pressure.is_there()) {
    item.fault("field.missing", "a fan needs its flow and the pressure that stops it",
               R"(give both: "fan_flow": "1000 cfm", "fan_shut_pressure": "60 Pa")");
  }
}

void read_pitches(const Cursor& item, Product& product) {
  product.pitch_max = units::Pitch::from_rise_run(any_pitch_rise, 12.0);
  const Cursor most = item.key("pitch_max");
  take(product.pitch_min, item.key("pitch_min").pitch());
  if (take(product.pitch_max, most.pitch()) &&
      product.pitch_max.tangent() < product.pitch_min.tangent()) {
    most.fault("field.range", "the greatest pitch is less than the least",
               "give pitch_min and pitch_max the other way round");
  }
}

void read_positions(const Cursor& list, Product& product) {
  if (!list.open_list()) {
    if (product.kind == VentKind::over_deck_intake) {
      product.positions = {Position::eave, Position::upslope};
    } else if (is_intake(product.kind)) {
      product.positions = {Position::eave};
    }
    return;
  }
  for (std::size_t i = 0; i < list.size() && i < 2; ++i) {
    const auto position =
        list.item(i).one_of<Position>({{"eave", Position::eave}, {"upslope", Position::upslope}});
    if (position) {
      product.positions.push_back(*position);
    }
  }
}

Product read_product(const Cursor& item, std::string id) {
  Product product;
  product.id = std::move(id);
  take(product.what, item.key("what").text());
  const bool has_kind = take(product.kind, read_kind(item.key("kind")));
  if (!has_kind) {
    return product;
  }
  read_free_area(item, product);
  const Cursor length = item.key("length");
  if (runs_along(product.kind) || product.kind == VentKind::soffit_piece) {
    length.required("give the length of one piece: \"4 ft\"");
  }
  take(product.length_m, length.length(more_than_zero));
  take(product.depth_m, item.key("depth").length(no_less_than_zero));
  read_pitches(item, product);
  read_positions(item.key("positions"), product);
  read_slot(item.key("slot"), product);
  take(product.least_piece_m, item.key("least_piece").length(no_less_than_zero));
  take(product.nails_each, item.key("nails_each").whole(0, 1000));
  take(product.nail_length_m, item.key("nail_length").length(more_than_zero));
  read_fan(item, product);
  return product;
}

void read_products(const Cursor& list, Catalogue& catalogue) {
  list.required("give a list of products");
  if (!list.open_list()) {
    return;
  }
  Ids ids;
  for (std::size_t i = 0; i < list.size(); ++i) {
    Cursor item = list.item(i);
    if (!item.open_object(keys::product)) {
      continue;
    }
    const Cursor id = item.key("id").required("give the name by which models call the product");
    const std::string name = ids.read(id, fmt::format("product-{}", i + 1));
    catalogue.products.insert_or_assign(name, read_product(item, name));
  }
}

}  // namespace

const char* word(VentKind kind) {
  switch (kind) {
    case VentKind::over_deck_intake:
      return "over_deck_intake";
    case VentKind::drip_edge_intake:
      return "drip_edge_intake";
    case VentKind::soffit_strip:
      return "soffit_strip";
    case VentKind::soffit_piece:
      return "soffit_piece";
    case VentKind::ridge_vent:
      return "ridge_vent";
    case VentKind::hip_vent:
      return "hip_vent";
    case VentKind::box_vent:
      return "box_vent";
    case VentKind::gable_louvre:
      return "gable_louvre";
    case VentKind::turbine:
      return "turbine";
    case VentKind::powered:
      return "powered";
  }
  return "over_deck_intake";
}

bool is_intake(VentKind kind) {
  return kind == VentKind::over_deck_intake || kind == VentKind::drip_edge_intake ||
         is_in_soffit(kind);
}

bool runs_along(VentKind kind) {
  return (is_intake(kind) && kind != VentKind::soffit_piece) || kind == VentKind::ridge_vent ||
         kind == VentKind::hip_vent;
}

bool is_in_soffit(VentKind kind) {
  return kind == VentKind::soffit_strip || kind == VentKind::soffit_piece;
}

bool stands_on_plane(VentKind kind) {
  return kind == VentKind::box_vent || kind == VentKind::turbine || kind == VentKind::powered;
}

Result<Catalogue> read_catalogue(std::string_view json) {
  Reading reading;
  reading.unit = units::LengthUnit::in;
  Result<Document> document = parse_json(json, reading.warnings);
  if (!document) {
    return document.faults();
  }
  Cursor root(document.value(), reading);
  Catalogue catalogue;
  if (root.open_object(keys::catalogue)) {
    read_version(root.key("ridgeward"));
    take(reading.unit, read_unit(root.key("units")));
    take(catalogue.name, root.key("name").text());
    read_products(root.key("products"), catalogue);
  }
  if (!reading.faults.empty()) {
    return std::move(reading.faults);
  }
  catalogue.warnings = std::move(reading.warnings);
  return catalogue;
}

Result<Catalogue> read_catalogue_file(const std::string& path) {
  const Result<std::string> bytes = file_bytes(path);
  return bytes ? read_catalogue(bytes.value()) : Result<Catalogue>(bytes.faults());
}

}  // namespace ridgeward::model
