#pragma once
// The ways of the air as lines in space, for pictures and papers. Value types only.

#include "airflow/airflow.hpp"
#include "airflow/stage.hpp"

#include <glm/vec3.hpp>

#include <vector>

namespace ridgeward::airflow {

/// A line that air follows, in its direction. Inside an attic the air is mixed: a line ends a short
/// way in, and another begins below the vent through which it leaves.
struct Path {
  enum class Kind { comes_in, along_bay, goes_out };
  Kind kind = Kind::comes_in;
  std::size_t opening = 0;  ///< index into Airflow::openings; unused along a bay
  BayId bay;                ///< that it passes; none for exhausts and leaks
  std::vector<glm::dvec3> points;
  double flow_m3s = 0.0;  ///< over 0
  double speed_ms = 0.0;  ///< through the opening
  double temperature_c = 0.0;
};

/// Every bay under a slot, every rafter space from end to end, every exhaust (along a line one path
/// every 4 ft or so), every ceiling.
/// Openings that pass nothing have none. `one` is a case of `air`.
/// Law: the flows of an opening's paths, those along bays left out, sum to the opening's flow.
std::vector<Path> paths(const Site& site, const Airflow& air, const CaseAir& one);

}  // namespace ridgeward::airflow
