#pragma once
// The smallest house: what the program assumes of the rest is told.

namespace ridgeward::tests {

/// One part, four sides, two eaves.
inline constexpr const char* gable_house = R"json({"ridgeward": 1, "units": "ft", "parts": [
  {"id": "main", "outline": [[0, 0], [40, 0], [40, 28], [0, 28]],
   "edges": [{"pitch": "8/12"}, {"kind": "gable"}, {"pitch": "8/12"}, {"kind": "gable"}]}]})json";

}  // namespace ridgeward::tests
