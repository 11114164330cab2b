#include "codes/code_set.hpp"

#include <string_view>

namespace ridgeward::codes {

namespace {

constexpr std::string_view text =
    R"json({
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "Ridgeward code set, version 1",
  "type": "object",
  "required": ["ridgeward", "id", "name"],
  "properties": {
    "$schema": {"type": "string"},
    "ridgeward": {"const": 1, "description": "format version"},
    "id": {"type": "string", "minLength": 1, "maxLength": 100, "pattern": "^[^/|#:]+$"},
    "name": {"type": "string"},
    "edition": {"type": "string"},
    "required": {"$ref": "#/$defs/required", "description": "left out: the code asks for no area over the floor"},
    "reduced": {"$ref": "#/$defs/reduced"},
    "rules": {"type": "array", "items": {"$ref": "#/$defs/rule"}, "description": "that always apply"},
    "sections": {"$ref": "#/$defs/sections"},
    "notes": {"type": "array", "items": {"type": "string", "maxLength": 2000}, "description": "switches and doubts that a user must know"}
  },
  "additionalProperties": false,
  "$defs": {
    "ratio": {"type": "number", "minimum": 1, "maximum": 1000000, "description": "floor area over free area"},
    "bound": {"type": ["number", "string"], "description": "shares: 0.5 or 50 %; lengths: 3 ft, 25 mm, bare numbers are metres; slopes: 2/12; areas per length: 10000 mm2/m; counts: 1"},
    "required": {"type": "object", "additionalProperties": false, "required": ["ratio", "section", "words"], "properties": {
      "ratio": {"$ref": "#/$defs/ratio"},
      "section": {"type": "string"},
      "words": {"type": "string", "maxLength": 2000}}},
    "reduced": {"type": "object", "additionalProperties": false, "required": ["ratio", "section", "words", "conditions"], "properties": {
      "ratio": {"$ref": "#/$defs/ratio"},
      "section": {"type": "string"},
      "words": {"type": "string", "maxLength": 2000},
      "needs": {"enum": ["all", "any"], "default": "all"},
      "conditions": {"type": "array", "items": {"$ref": "#/$defs/rule"}},
      "proviso": {"$ref": "#/$defs/proviso"}}},
    "sections": {"type": "object", "additionalProperties": false, "description": "where the set speaks of the roofing; what is left out is told as common practice", "properties": {
      "slope": {"type": "string", "description": "least slopes under shingles"},
      "ice_barrier": {"type": "string", "description": "how far up it reaches"},
      "cricket": {"type": "string", "description": "behind wide chimneys"},
      "beside_opening": {"type": "string", "description": "metal beside chimneys and skylights"},
      "nails": {"type": "string", "description": "of shingles: how far into the deck"}}},
    "proviso": {"type": "object", "additionalProperties": false, "required": ["zones", "words"], "properties": {
      "zones": {"type": "string", "maxLength": 20, "description": "first figures of the climate zones: 678"},
      "words": {"type": "string", "maxLength": 2000, "description": "what the reduced ratio asks for there and no model tells"}}},
    "rule": {"type": "object", "additionalProperties": false, "required": ["id", "section", "words", "measure"], "anyOf": [{"required": ["least"]}, {"required": ["most"]}], "properties": {
      "id": {"type": "string", "minLength": 1, "maxLength": 100, "pattern": "^[^/|#:]+$"},
      "section": {"type": "string", "description": "of the code, or: common practice"},
      "words": {"type": "string", "maxLength": 2000},
      "measure": {"enum": ["high_share_of_required", "low_share_of_required", "exhaust_below_top", "intake_height_share", "exhaust_above_intake", "space_over_insulation", "intake_share_of_total", "lowest_slope", "intake_per_eave", "exhaust_per_ridge", "intake_share_of_slope", "exhaust_share_of_roof", "span", "rafter_length", "slope_directions"]},
      "least": {"$ref": "#/$defs/bound"},
      "most": {"$ref": "#/$defs/bound"},
      "when": {"type": "array", "items": {"$ref": "#/$defs/when"}, "description": "the rule holds only where all of these do"},
      "from_memory": {"type": "boolean", "default": false, "description": "the figure has not been read in the document itself"},
      "is_advice": {"type": "boolean", "default": false, "description": "a failure is a warning, not a failed test"}}},
    "when": {"type": "object", "additionalProperties": false, "required": ["measure"], "anyOf": [{"required": ["least"]}, {"required": ["most"]}], "properties": {
      "measure": {"enum": ["high_share_of_required", "low_share_of_required", "exhaust_below_top", "intake_height_share", "exhaust_above_intake", "space_over_insulation", "intake_share_of_total", "lowest_slope", "intake_per_eave", "exhaust_per_ridge", "intake_share_of_slope", "exhaust_share_of_roof", "span", "rafter_length", "slope_directions"]},
      "least": {"$ref": "#/$defs/bound"},
      "most": {"$ref": "#/$defs/bound"}}}
  }
}
)json";

}  // namespace

std::string code_set_schema() { return std::string(text); }

}  // namespace ridgeward::codes
