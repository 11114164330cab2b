#pragma once
// What a plan in DXF comes to.
#include "model/read.hpp"
#include "plugin/guard.hpp"

#include "importers/bare_planes.hpp"
#include "importers/drawn.hpp"
#include "importers/imported.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>

#include <string>

namespace ridgeward::tests {

/// A model made of a drawing, and the notes, a line each.
struct FromPlan {
  model::RoofModel model;
  std::string notes;

  bool says(const std::string& words) const { return notes.find(words) != std::string::npos; }
  double plan_m2() const {
    double sum = 0.0;
    for (const surface::Plane& plane : raised(model).planes) {
      sum += plane.plan_area_m2;
    }
    return sum;
  }
};

inline FromPlan from_plan(const std::string& dxf, const std::string& options = "") {
  const auto given = plugin::read_apart(library("dxf"), {dxf, options, ""});
  INFO(tests::words(given));
  REQUIRE(given.ok());
  const auto read = model::read(given.value().json);
  INFO(tests::words(read));
  REQUIRE(read.ok());
  FromPlan made{read.value().model, ""};
  for (const std::string& note : given.value().notes) {
    made.notes += note + "\n";
  }
  return made;
}

inline std::string box(const std::string& layer, double x1, double y1, double x2, double y2) {
  return closed(layer, {{x1, y1}, {x2, y1}, {x2, y2}, {x1, y2}});
}

}  // namespace ridgeward::tests
