#pragma once
// Lengths, areas and the order. Value types and the stage's one function.

#include "framing/framing.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <string>
#include <vector>

namespace ridgeward::takeoff {

/// Lines and areas of one plane or of the whole roof, true lengths; lines between two planes count
/// once in the whole and for both planes beside them.
struct Lengths {
  double plan_area_m2 = 0.0;
  double area_m2 = 0.0;
  double eave_m = 0.0;
  double rake_m = 0.0;
  double ridge_m = 0.0;
  double hip_m = 0.0;
  double valley_m = 0.0;
  double wall_m = 0.0;  ///< headwall, sidewall and step wall
};

struct OrderLine {
  std::string item;
  std::string unit;
  double quantity = 0.0;
  std::string for_what;
};

struct Takeoff {
  IndexedVector<PlaneId, Lengths> planes;
  Lengths totals;
  std::vector<OrderLine> order;
};

Takeoff count(const model::RoofModel& model, const model::Catalogue& catalogue,
              const surface::Surface& surface, const vents::Vents& vents);

}  // namespace ridgeward::takeoff
