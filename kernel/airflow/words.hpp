#pragma once
// What the airflow says to people. Private to this folder but for the papers' use of brief().

#include "airflow/airflow.hpp"
#include "airflow/stage.hpp"

#include <string>
#include <vector>

namespace ridgeward::airflow {

/// Fills in the assumptions and the cautions that apply.
void say_limits(const Site& site, Airflow& air);

/// The airflow of one case in a sentence or two, for a foreman; metric or US figures.
std::string told(const Airflow& air, const CaseAir& one, units::Style style);

/// "59 F", "15 C"; "0.12 m3/s", "250 cfm".
std::string temperature_words(double celsius, units::Style style);
std::string flow_words(double flow_m3s, units::Style style);

}  // namespace ridgeward::airflow
