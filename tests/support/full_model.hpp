#pragma once
// A model file that uses every key there is.

namespace ridgeward::tests {

inline constexpr const char* full_model = R"json({
  "$schema": "model.schema.json", "ridgeward": 1, "name": "All of it", "units": "ft",
  "site": {"north_deg": 20, "code": "us-irc-2018", "climate_zone": "5A", "snow": true,
           "exposure": "open", "winter_c": -12.5, "summer_c": 35},
  "parts": [
    {"id": "main", "outline": [[0, 0], [60, 0], [60, 40], [0, "40' 0 1/64\""]],
     "holes": [{"outline": [[20, 15], [20, 25], [30, 25], [30, 15]],
                "edges": [{"pitch": "8/12"}, {"pitch": "33.7 deg"}, {"pitch": "66.7 %"},
                          {"kind": "gable", "overhang": "3 in"}]}],
     "drawn_to": "drip", "wall_thickness": "5 1/2 in", "plate": "9' 1 1/8\"", "heel": "350 mm",
     "deck": "5/8 in", "fascia": "as_given", "valleys": "overlaid",
     "deck_openings": [[[3, 3], [6, 3], [6, "6' 1/2\""]]], "flat_top": "12 ft",
     "edges": [{"kind": "eave", "pitch": "7.25/12", "overhang": 1.5, "soffit": "vented",
                "breaks": [{"height": 6, "pitch": "4/12"}, {"height": 8, "pitch": "40 deg"}]},
               {"kind": "half_hip", "pitch": "8/12", "overhang": 1, "from_height": 4},
               {"kind": "gablet", "pitch": "8/12", "overhang": "12 in", "wall_height": "3'"},
               {"kind": "wall"}],
     "framing": {"kind": "truss", "spacing": "19.2 in", "rafter": "2x6", "ridge": "1.5x9 in",
                 "hip": "45x195 mm", "valley": "2x12", "origin": "-2 in", "blocking": "vented",
                 "lookouts": false,
                 "air_past": {"hips": "dropped", "valleys": "drilled", "headers": "drilled"},
                 "collar_ties": {"height": "6' 2\"", "every": 3, "stock": "2x6"},
                 "edges": {"0": {"at": [1.25, 2.5, "3' 10 13/64\""]}, "7": {"at": []}}}},
    {"id": "wing", "outline": [[60, 10], [80, 10], [80, 30], [60, 30]],
     "edges": [{"pitch": "5/12"}, {"kind": "shed_top"}, {"pitch": "5/12"}, {"kind": "gable"}]}],
  "ceilings": [{"id": "attic", "kind": "sloped", "outline": [[0, 0], [60, 0], [60, 40]],
                "height": 9, "insulation": "14 in", "baffles": true}],
  "dividers": [{"id": "fire-wall", "from": [20, 0], "to": [20, 40]}],
  "obstacles": [{"id": "chimney", "kind": "chimney", "outline": [[5, 5], [7, 5], [7, 7], [5, 7]],
                 "clearance": "2 in", "cricket": "always"},
                {"id": "sky", "kind": "skylight", "plane": "main/0", "at": [12, 6], "size": [2, 4]}],
  "vents": {"intake": [{"id": "south", "product": "over-deck-10", "plane": "main/0",
                        "position": "upslope", "from": 1, "to": 40},
                       {"id": "north", "product": "over-deck-10", "plane": "main/2:b",
                        "whole": true}],
            "exhaust": [{"id": "top", "product": "ridge-12", "line": "main/0|main/2#2",
                         "whole": true},
                        {"id": "part", "product": "ridge-12", "line": "main/0|wing/2", "from": "1'",
                         "to": 12},
                        {"id": "box-1", "product": "box-50", "plane": "main/2", "at": [18, 14]}]},
  "prices": {"over-deck-10": 21.5, "ridge-12": 0},
  "air": {"wind_ms": 5, "shelter": "rows", "inside_winter_c": 21, "inside_summer_c": 25.5,
          "inside_humidity": "35 %", "ceiling_leakage_cm2_m2": 0.79, "house_leakage_cm2_m2": 4,
          "absorptance": 0.32,
          "cases": [{"name": "gale", "outside_c": 4, "inside_c": 19, "wind_ms": 15,
                     "wind_from_deg": 225, "clear_sky": false, "fans": true},
                    {"name": "snow", "outside_c": -5.6, "attic_c": -1.1, "sun": 0.2, "snow": "12 in"}]}
})json";

}  // namespace ridgeward::tests
