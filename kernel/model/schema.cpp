#include "model/read.hpp"

#include <string_view>

namespace ridgeward::model {

namespace {

constexpr std::string_view text =
    R"json({
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "Ridgeward model file, version 1",
  "type": "object",
  "required": ["ridgeward", "parts"],
  "properties": {
    "$schema": {"type": "string"},
    "ridgeward": {"const": 1, "description": "format version"},
    "name": {"type": "string", "maxLength": 400},
    "units": {"enum": ["ft", "in", "m", "mm"], "default": "ft", "description": "unit of bare numbers"},
    "site": {"$ref": "#/$defs/site"},
    "roofing": {"$ref": "#/$defs/roofing"},
    "parts": {"type": "array", "minItems": 1, "maxItems": 1000, "items": {"$ref": "#/$defs/part"}},
    "ceilings": {"type": "array", "items": {"$ref": "#/$defs/ceiling"}},
    "dividers": {"type": "array", "items": {"$ref": "#/$defs/divider"}},
    "obstacles": {"type": "array", "items": {"$ref": "#/$defs/obstacle"}},
    "vents": {"$ref": "#/$defs/vents"},
    "prices": {"type": "object", "additionalProperties": {"type": "number", "minimum": 0}, "description": "product id to price of one piece"},
    "air": {"$ref": "#/$defs/air"}
  },
  "additionalProperties": false,
  "$defs": {
    "length": {"description": "a number in the file's unit, or a text with its own: 28' 6 1/2\", 9 1/4 in, 350 mm", "type": ["number", "string"]},
    "pitch": {"description": "8/12, 33.7 deg or 66.7 %; at least 0.1 and less than 89.5 degrees", "type": "string"},
    "id": {"type": "string", "minLength": 1, "maxLength": 100, "pattern": "^[^/|#:]+$"},
    "point": {"type": "array", "items": {"$ref": "#/$defs/length"}, "minItems": 2, "maxItems": 2},
    "outline": {"type": "array", "items": {"$ref": "#/$defs/point"}, "minItems": 3, "maxItems": 20000},
    "edges": {"type": "array", "items": {"$ref": "#/$defs/edge"}, "description": "edges[i] is the side from outline[i] to outline[i + 1]"},
    "plane": {"type": "string", "description": "part and edge: main/2"},
    "site": {"type": "object", "additionalProperties": false, "properties": {
      "north_deg": {"type": "number", "minimum": -360, "maximum": 360, "default": 0, "description": "where north lies, clockwise from the plan's +y axis"},
      "code": {"type": "string", "default": "us-irc-2021", "description": "id of a code set"},
      "climate_zone": {"type": "string", "maxLength": 20},
      "snow": {"type": "boolean", "default": false},
      "exposure": {"enum": ["flat", "open", "suburb", "city"], "default": "suburb"},
      "winter_c": {"type": "number", "minimum": -80, "maximum": 60, "default": -10},
      "summer_c": {"type": "number", "minimum": -80, "maximum": 60, "default": 33}}},
    "roofing": {"type": "object", "additionalProperties": false, "properties": {
      "exposure": {"$ref": "#/$defs/length", "default": "5 5/8 in", "description": "of one course of shingles"},
      "starter": {"$ref": "#/$defs/length", "default": "1/2 in", "description": "how far starter and first course pass the drip edge"},
      "ice_barrier": {"enum": ["by_climate", "required", "none"], "default": "by_climate"},
      "ice_barrier_from": {"enum": ["inner_face", "outer_face"], "default": "inner_face", "description": "face of the wall from which its reach inward is measured"}}},
    "part": {"type": "object", "additionalProperties": false, "required": ["outline", "edges"], "properties": {
      "id": {"$ref": "#/$defs/id"},
      "outline": {"$ref": "#/$defs/outline", "description": "counter-clockwise seen from above"},
      "edges": {"$ref": "#/$defs/edges"},
      "holes": {"type": "array", "items": {"$ref": "#/$defs/hole"}},
      "drawn_to": {"enum": ["wall", "drip"], "default": "wall"},
      "wall_thickness": {"$ref": "#/$defs/length", "default": "6 in"},
      "plate": {"$ref": "#/$defs/length", "default": "8 ft", "description": "height of the top of the wall plate"},
      "heel": {"$ref": "#/$defs/length", "default": 0, "description": "height of the deck over the plate at the wall line"},
      "deck": {"$ref": "#/$defs/length", "default": "1/2 in", "description": "thickness of the sheathing"},
      "fascia": {"enum": ["level", "as_given"], "default": "level"},
      "valleys": {"enum": ["framed", "overlaid"], "default": "framed"},
      "deck_openings": {"type": "array", "items": {"$ref": "#/$defs/outline"}, "description": "overlaid parts: where the deck beneath is cut away, in plan"},
      "flat_top": {"$ref": "#/$defs/length", "description": "height over the plate at which the roof is cut off and closed by a flat deck"},
      "framing": {"$ref": "#/$defs/framing"}}},
    "hole": {"type": "object", "additionalProperties": false, "required": ["outline", "edges"], "properties": {
      "outline": {"$ref": "#/$defs/outline", "description": "clockwise seen from above"},
      "edges": {"$ref": "#/$defs/edges"}}},
    "edge": {"type": "object", "additionalProperties": false, "properties": {
      "kind": {"enum": ["eave", "gable", "gablet", "half_hip", "shed_top", "wall"], "default": "eave"},
      "pitch": {"$ref": "#/$defs/pitch", "description": "required for eave, gablet and half_hip"},
      "overhang": {"$ref": "#/$defs/length", "default": 0, "description": "horizontal"},
      "soffit": {"enum": ["none", "open", "vented", "closed"], "default": "closed"},
      "from_height": {"$ref": "#/$defs/length", "description": "half_hip: height over the plate where the clipped end starts"},
      "wall_height": {"$ref": "#/$defs/length", "description": "gablet: height of the small gable"},
      "breaks": {"type": "array", "items": {"$ref": "#/$defs/break"}, "description": "from the lowest to the highest"}}},
    "break": {"type": "object", "additionalProperties": false, "required": ["height", "pitch"], "properties": {
      "height": {"$ref": "#/$defs/length", "description": "over the edge's own eave"},
      "pitch": {"$ref": "#/$defs/pitch"}}},
    "framing": {"type": "object", "additionalProperties": false, "properties": {
      "kind": {"enum": ["rafter", "truss"], "default": "rafter"},
      "spacing": {"$ref": "#/$defs/length", "default": "24 in"},
      "rafter": {"type": "string", "default": "2x8"},
      "ridge": {"type": "string", "default": "2x10"},
      "hip": {"type": "string", "default": "2x10"},
      "valley": {"type": "string", "default": "2x10"},
      "origin": {"$ref": "#/$defs/length", "default": 0},
      "blocking": {"enum": ["none", "vented", "solid"], "default": "none"},
      "lookouts": {"type": "boolean", "default": true},
      "air_past": {"$ref": "#/$defs/air_past"},
      "collar_ties": {"$ref": "#/$defs/collar_ties"},
      "edges": {"type": "object", "additionalProperties": {"$ref": "#/$defs/measured_edge"}, "propertyNames": {"pattern": "^[0-9]+$"}}}},
    "collar_ties": {"type": "object", "additionalProperties": false, "required": ["height"], "properties": {
      "height": {"$ref": "#/$defs/length", "description": "of their underside over the plate, more than 0"},
      "every": {"type": "integer", "minimum": 1, "maximum": 100, "default": 1, "description": "at every pair of rafters, every second, and so on"},
      "stock": {"type": "string", "default": "2x4"}}},
    "air_past": {"type": "object", "additionalProperties": false, "description": "whether air gets past what a bay ends at", "properties": {
      "hips": {"$ref": "#/$defs/way"},
      "valleys": {"$ref": "#/$defs/way"},
      "headers": {"$ref": "#/$defs/way"}}},
    "way": {"enum": ["tight", "dropped", "drilled"], "default": "tight", "description": "not; over it, its top edge is kept below the deck; through holes"},
    "measured_edge": {"type": "object", "additionalProperties": false, "anyOf": [{"required": ["at"]}, {"required": ["stopped"]}], "properties": {
      "at": {"type": "array", "items": {"$ref": "#/$defs/length"}, "description": "centres of the members from the left end of the edge, seen from outside; left out: on the layout"},
      "stopped": {"type": "array", "items": {"$ref": "#/$defs/length"}, "description": "a place in each bay that is stopped up at its foot, from the same end"}}},
    "ceiling": {"type": "object", "additionalProperties": false, "required": ["outline"], "properties": {
      "id": {"$ref": "#/$defs/id"},
      "kind": {"enum": ["flat", "sloped", "open", "unvented"], "default": "flat"},
      "outline": {"$ref": "#/$defs/outline"},
      "height": {"$ref": "#/$defs/length", "description": "default: the plate of the first part"},
      "insulation": {"$ref": "#/$defs/length", "default": 0},
      "baffles": {"type": "boolean", "default": false}}},
    "divider": {"type": "object", "additionalProperties": false, "required": ["from", "to"], "properties": {
      "id": {"$ref": "#/$defs/id"},
      "from": {"$ref": "#/$defs/point"},
      "to": {"$ref": "#/$defs/point"}}},
    "obstacle": {"type": "object", "additionalProperties": false, "required": ["kind"], "properties": {
      "id": {"$ref": "#/$defs/id"},
      "kind": {"enum": ["chimney", "skylight", "pipe", "solar"]},
      "outline": {"$ref": "#/$defs/outline", "description": "in plan; or plane, at and size"},
      "plane": {"$ref": "#/$defs/plane"},
      "at": {"$ref": "#/$defs/point", "description": "along the eave, then up the slope"},
      "size": {"$ref": "#/$defs/point"},
      "clearance": {"$ref": "#/$defs/length", "default": 0},
      "cricket": {"enum": ["where_needed", "always", "none"], "default": "where_needed", "description": "chimneys only"}}},
    "vents": {"type": "object", "additionalProperties": false, "properties": {
      "intake": {"type": "array", "items": {"$ref": "#/$defs/intake"}},
      "exhaust": {"type": "array", "items": {"$ref": "#/$defs/exhaust"}}}},
    "intake": {"type": "object", "additionalProperties": false, "required": ["product", "plane"], "properties": {
      "id": {"$ref": "#/$defs/id"},
      "product": {"type": "string", "description": "id in the catalogue"},
      "plane": {"$ref": "#/$defs/plane"},
      "position": {"enum": ["eave", "upslope"], "default": "eave"},
      "from": {"$ref": "#/$defs/length", "default": 0, "description": "along the eave from the plane's left end seen from outside"},
      "to": {"$ref": "#/$defs/length"},
      "whole": {"type": "boolean", "default": false, "description": "the whole eave, in place of from and to"},
      "every": {"$ref": "#/$defs/length", "description": "soffit pieces: from centre to centre; left out: butted"}}},
    "exhaust": {"type": "object", "additionalProperties": false, "required": ["product"], "properties": {
      "id": {"$ref": "#/$defs/id"},
      "product": {"type": "string"},
      "line": {"type": "string", "description": "the two planes beside it: main/0|main/2, main/0|main/2#2"},
      "plane": {"$ref": "#/$defs/plane", "description": "for vents set on a plane, with at"},
      "wall": {"$ref": "#/$defs/plane", "description": "part and edge of a gable wall, for louvres in it, with at"},
      "at": {"$ref": "#/$defs/point", "description": "on a plane: along the eave, up the slope; in a wall: along it, up from the plate"},
      "from": {"$ref": "#/$defs/length", "default": 0},
      "to": {"$ref": "#/$defs/length"},
      "whole": {"type": "boolean", "default": false}}},
    "air": {"type": "object", "additionalProperties": false, "description": "for the airflow", "properties": {
      "wind_ms": {"type": "number", "exclusiveMinimum": 0, "maximum": 40, "default": 4, "description": "of the standard wind cases, as weather stations give it; they are run at half of it too"},
      "shelter": {"enum": ["none", "scattered", "rows", "close"], "description": "how close other houses stand; default by site.exposure"},
      "inside_winter_c": {"type": "number", "minimum": -80, "maximum": 60, "default": 20},
      "inside_summer_c": {"type": "number", "minimum": -80, "maximum": 60, "default": 24},
      "inside_humidity": {"type": ["number", "string"], "default": 0.4, "description": "relative, of the rooms in winter: 0.4 or 40 %"},
      "ceiling_leakage_cm2_m2": {"type": "number", "minimum": 0, "maximum": 1000, "default": 1.8, "description": "effective leakage area at 4 Pa of each m2 of ceiling"},
      "house_leakage_cm2_m2": {"type": "number", "minimum": 0, "maximum": 1000, "default": 6, "description": "the same of the walls below, for each m2 of ceiling"},
      "absorptance": {"type": "number", "minimum": 0, "maximum": 1, "default": 0.95, "description": "of the roofing for sun; dark shingles 0.95, white metal 0.32"},
      "cases": {"type": "array", "maxItems": 100, "items": {"$ref": "#/$defs/air_case"}, "description": "beside the standard ones"}}},
    "air_case": {"type": "object", "additionalProperties": false, "required": ["outside_c"], "properties": {
      "name": {"type": "string", "maxLength": 100},
      "outside_c": {"type": "number", "minimum": -80, "maximum": 60},
      "inside_c": {"type": "number", "minimum": -80, "maximum": 60, "description": "default: inside_winter_c"},
      "attic_c": {"type": "number", "minimum": -80, "maximum": 120, "description": "taken as given; worked out from the heat when left out"},
      "wind_ms": {"type": "number", "minimum": 0, "maximum": 40, "default": 0},
      "wind_from_deg": {"type": "number", "minimum": -360, "maximum": 360, "description": "clockwise from north; needed with wind"},
      "sun": {"type": "number", "minimum": 0, "maximum": 1, "default": 0, "description": "share of a clear summer noon's"},
      "clear_sky": {"type": "boolean", "default": false, "description": "at night: the roof loses heat to it"},
      "snow": {"$ref": "#/$defs/length", "default": 0, "description": "depth on the roof"},
      "fans": {"type": "boolean", "default": false, "description": "whether powered vents run"}}}
  }
}
)json";

}  // namespace

std::string schema() { return std::string(text); }

}  // namespace ridgeward::model
