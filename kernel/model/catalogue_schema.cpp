#include "model/catalogue.hpp"

#include <string_view>

namespace ridgeward::model {

namespace {

constexpr std::string_view text =
    R"json({
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "Ridgeward catalogue of vents, version 1",
  "type": "object",
  "required": ["ridgeward", "products"],
  "properties": {
    "$schema": {"type": "string"},
    "ridgeward": {"const": 1, "description": "format version"},
    "name": {"type": "string"},
    "units": {"enum": ["ft", "in", "m", "mm"], "default": "in", "description": "unit of bare lengths"},
    "products": {"type": "array", "items": {"$ref": "#/$defs/product"}}
  },
  "additionalProperties": false,
  "$defs": {
    "length": {"description": "a number in the file's unit, or a text with its own: 9 1/4 in, 350 mm", "type": ["number", "string"]},
    "pitch": {"description": "8/12, 33.7 deg or 66.7 %", "type": "string"},
    "area": {"description": "with its unit: 50 in2, 320 cm2", "type": "string"},
    "area_per_length": {"description": "with its unit: 10 in2/ft, 200 cm2/m", "type": "string"},
    "product": {"type": "object", "additionalProperties": false, "required": ["id", "kind"], "properties": {
      "id": {"type": "string", "minLength": 1, "maxLength": 100, "pattern": "^[^/|#:]+$"},
      "what": {"type": "string", "description": "plain words"},
      "kind": {"enum": ["over_deck_intake", "drip_edge_intake", "soffit_strip", "soffit_piece", "ridge_vent", "hip_vent", "box_vent", "gable_louvre", "turbine", "powered"]},
      "free_area_per_length": {"$ref": "#/$defs/area_per_length", "description": "over_deck_intake, drip_edge_intake, soffit_strip, ridge_vent, hip_vent"},
      "free_area_each": {"$ref": "#/$defs/area", "description": "soffit_piece, box_vent, gable_louvre, turbine, powered"},
      "length": {"$ref": "#/$defs/length", "description": "of one piece"},
      "depth": {"$ref": "#/$defs/length", "description": "up the slope"},
      "pitch_min": {"$ref": "#/$defs/pitch"},
      "pitch_max": {"$ref": "#/$defs/pitch"},
      "positions": {"type": "array", "maxItems": 2, "items": {"enum": ["eave", "upslope"]}},
      "slot": {"$ref": "#/$defs/slot"},
      "least_piece": {"$ref": "#/$defs/length", "default": 0, "description": "shortest piece worth cutting"},
      "nails_each": {"type": "integer", "minimum": 0, "maximum": 1000, "default": 0},
      "nail_length": {"$ref": "#/$defs/length"},
      "fan_flow": {"type": "string", "description": "powered: without resistance: 1000 cfm, 0.5 m3/s, 1700 m3/h"},
      "fan_shut_pressure": {"type": "string", "description": "powered: pressure at which nothing flows: 60 Pa, 0.25 in wg"}}},
    "slot": {"type": "object", "additionalProperties": false, "properties": {
      "lower_line": {"$ref": "#/$defs/length", "description": "eave position: up the slope from the drip edge"},
      "above_butt": {"$ref": "#/$defs/length", "default": "5 in", "description": "upslope position: up the slope from the butt of the face-nailed row"},
      "width": {"$ref": "#/$defs/length", "description": "of the slot; for ridge and hip vents of the cut on each side; for vents on a plane of the hole"},
      "hold_back": {"$ref": "#/$defs/length", "default": 0, "description": "from gable-end walls"},
      "hold_back_hip": {"$ref": "#/$defs/length", "description": "from hips, valleys and walls; default: hold_back"},
      "hold_back_obstacle": {"$ref": "#/$defs/length", "description": "from chimneys, skylights, pipes, solar arrays; default: hold_back_hip"}}}
  }
}
)json";

}  // namespace

std::string catalogue_schema() { return std::string(text); }

}  // namespace ridgeward::model
