#pragma once
// One case on the network of a roof. Private to this folder.

#include "airflow/airflow.hpp"
#include "airflow/roof_network.hpp"
#include "airflow/stage.hpp"

namespace ridgeward::airflow {

/// Flows and temperatures of `conditions`. Air and heat are worked out in turn until no temperature
/// moves by more than a twentieth of a kelvin; from a cold and from a hot start, because wind
/// against a warm attic, or a cold deck over warm rooms, may have two answers. Where a vent lies
/// where the wind's pressure may have either sign, both are run too and give the ranges. REQUIRES
/// at least one space.
CaseAir run_case(const Site& site, const RoofNetwork& roof, const model::AirCase& conditions,
                 CaseKind kind);

/// How much the things around take off the wind.
double shelter_of(const model::RoofModel& model);

}  // namespace ridgeward::airflow
