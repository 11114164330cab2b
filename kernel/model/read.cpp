#include "model/read.hpp"

#include "model/file_bytes.hpp"
#include "model/json_cursor.hpp"
#include "model/read_pieces.hpp"

#include <utility>

namespace ridgeward::model {

Result<ReadModel> read(std::string_view json) {
  Reading reading;
  Result<Document> document = parse_json(json, reading.warnings);
  if (!document) {
    return document.faults();
  }
  Cursor root(document.value(), reading);
  ReadModel result;
  RoofModel& model = result.model;
  if (root.open_object(keys::model)) {
    read_version(root.key("ridgeward"));
    if (!take(model.unit, read_unit(root.key("units")))) {
      model.assumptions.emplace_back("No units are given: bare numbers are taken as feet.");
    }
    reading.unit = model.unit;
    take(model.name, root.key("name").text());
    read_site(root.key("site"), model);
    read_roofing(root.key("roofing"), model);
    read_parts(root.key("parts"), model);
    read_ceilings(root.key("ceilings"), model);
    read_dividers(root.key("dividers"), model);
    read_obstacles(root.key("obstacles"), model);
    read_vents(root.key("vents"), model);
    read_prices(root.key("prices"), model);
    read_air(root.key("air"), model);
  }
  if (!reading.faults.empty()) {
    // A mistyped key is often why another one is missing.
    for (Fault& warning : reading.warnings) {
      if (warning.code == "field.unknown" && warning.cure.starts_with("did you mean")) {
        reading.fault(std::move(warning));
      }
    }
    return std::move(reading.faults);
  }
  result.warnings = std::move(reading.warnings);
  return result;
}

Result<ReadModel> read_file(const std::string& path) {
  const Result<std::string> bytes = file_bytes(path);
  if (!bytes) {
    return bytes.faults();
  }
  return read(bytes.value());
}

}  // namespace ridgeward::model
