#include "model/keys.hpp"

#include <algorithm>
#include <array>

namespace ridgeward::model {

namespace {

using Words = std::string_view;

constexpr std::array<Words, 13> model_names{
    "ridgeward", "name",      "units", "site",   "roofing", "parts",  "ceilings",
    "dividers",  "obstacles", "vents", "prices", "air",     "$schema"};
constexpr std::array<Words, 4> roofing_names{"exposure", "starter", "ice_barrier",
                                             "ice_barrier_from"};
constexpr std::array<Words, 7> site_names{"north_deg", "code",     "climate_zone", "snow",
                                          "exposure",  "winter_c", "summer_c"};
constexpr std::array<Words, 14> part_names{
    "id",   "outline", "edges",  "holes",   "drawn_to",      "wall_thickness", "plate",
    "heel", "deck",    "fascia", "valleys", "deck_openings", "flat_top",       "framing"};
constexpr std::array<Words, 2> hole_names{"outline", "edges"};
constexpr std::array<Words, 7> edge_names{"kind",        "pitch",       "overhang", "soffit",
                                          "from_height", "wall_height", "breaks"};
constexpr std::array<Words, 2> break_names{"height", "pitch"};
constexpr std::array<Words, 12> framing_names{"kind",     "spacing",     "rafter",   "ridge",
                                              "hip",      "valley",      "origin",   "blocking",
                                              "lookouts", "collar_ties", "air_past", "edges"};
constexpr std::array<Words, 3> air_past_names{"hips", "valleys", "headers"};
constexpr std::array<Words, 3> collar_tie_names{"height", "every", "stock"};
constexpr std::array<Words, 2> measured_names{"at", "stopped"};
constexpr std::array<Words, 6> ceiling_names{"id",     "kind",       "outline",
                                             "height", "insulation", "baffles"};
constexpr std::array<Words, 3> divider_names{"id", "from", "to"};
constexpr std::array<Words, 8> obstacle_names{"id", "kind", "outline",   "plane",
                                              "at", "size", "clearance", "cricket"};
constexpr std::array<Words, 2> vents_names{"intake", "exhaust"};
constexpr std::array<Words, 8> intake_names{"id",   "product", "plane", "position",
                                            "from", "to",      "whole", "every"};
constexpr std::array<Words, 9> exhaust_names{"id",    "product", "line", "plane", "wall",
                                             "whole", "from",    "to",   "at"};
constexpr std::array<Words, 9> air_names{"wind_ms",
                                         "shelter",
                                         "inside_winter_c",
                                         "inside_summer_c",
                                         "inside_humidity",
                                         "ceiling_leakage_cm2_m2",
                                         "house_leakage_cm2_m2",
                                         "absorptance",
                                         "cases"};
constexpr std::array<Words, 10> air_case_names{"name",          "outside_c", "inside_c", "attic_c",
                                               "wind_ms",       "sun",       "fans",     "snow",
                                               "wind_from_deg", "clear_sky"};
constexpr std::array<Words, 5> catalogue_names{"ridgeward", "name", "units", "products", "$schema"};
constexpr std::array<Words, 16> product_names{"id",
                                              "what",
                                              "kind",
                                              "free_area_per_length",
                                              "free_area_each",
                                              "length",
                                              "depth",
                                              "pitch_min",
                                              "pitch_max",
                                              "positions",
                                              "slot",
                                              "least_piece",
                                              "nails_each",
                                              "nail_length",
                                              "fan_flow",
                                              "fan_shut_pressure"};
constexpr std::array<Words, 6> slot_names{"lower_line", "above_butt",    "width",
                                          "hold_back",  "hold_back_hip", "hold_back_obstacle"};

}  // namespace

bool ObjectKeys::has(std::string_view key) const {
  return std::find(keys.begin(), keys.end(), key) != keys.end();
}

namespace keys {
constinit const ObjectKeys model{"model", model_names};
constinit const ObjectKeys site{"site", site_names};
constinit const ObjectKeys roofing{"roofing", roofing_names};
constinit const ObjectKeys part{"part", part_names};
constinit const ObjectKeys hole{"hole", hole_names};
constinit const ObjectKeys edge{"edge", edge_names};
constinit const ObjectKeys pitch_break{"break", break_names};
constinit const ObjectKeys framing{"framing", framing_names};
constinit const ObjectKeys air_past{"air_past", air_past_names};
constinit const ObjectKeys measured_edge{"measured_edge", measured_names};
constinit const ObjectKeys collar_ties{"collar_ties", collar_tie_names};
constinit const ObjectKeys ceiling{"ceiling", ceiling_names};
constinit const ObjectKeys divider{"divider", divider_names};
constinit const ObjectKeys obstacle{"obstacle", obstacle_names};
constinit const ObjectKeys vents{"vents", vents_names};
constinit const ObjectKeys intake{"intake", intake_names};
constinit const ObjectKeys exhaust{"exhaust", exhaust_names};
constinit const ObjectKeys air{"air", air_names};
constinit const ObjectKeys air_case{"air_case", air_case_names};
constinit const ObjectKeys catalogue{"catalogue", catalogue_names};
constinit const ObjectKeys product{"product", product_names};
constinit const ObjectKeys slot{"slot", slot_names};
}  // namespace keys

std::span<const ObjectKeys* const> model_keys() {
  static constexpr std::array<const ObjectKeys*, 19> all{
      &keys::model,       &keys::roofing,     &keys::site,    &keys::part,     &keys::hole,
      &keys::edge,        &keys::pitch_break, &keys::framing, &keys::air_past, &keys::measured_edge,
      &keys::collar_ties, &keys::ceiling,     &keys::divider, &keys::obstacle, &keys::vents,
      &keys::intake,      &keys::exhaust,     &keys::air,     &keys::air_case};
  return all;
}

std::span<const ObjectKeys* const> catalogue_keys() {
  static constexpr std::array<const ObjectKeys*, 3> all{&keys::catalogue, &keys::product,
                                                        &keys::slot};
  return all;
}

}  // namespace ridgeward::model
