#pragma once
// What the airflow says to people.

#include "airflow/airflow.hpp"
#include "airflow/stage.hpp"

#include <string>
#include <vector>

namespace ridgeward::airflow {

/// Fills in the assumptions and the cautions that apply.
void say_limits(const Site& site, Airflow& air);

/// What a foreman wants to know, in short sentences: where the air comes in, what the wind does,
/// ice and frost. Empty without vents.
std::vector<std::string> in_words(const Airflow& air, const std::vector<std::string>& spaces,
                                  units::Style style);

/// "59 F" or "15 C"; "250 cfm" or "425 m3/h"; "9 mph" or "4 m/s".
std::string temperature_words(double celsius, units::Style style);
std::string flow_words(double flow_m3s, units::Style style);
std::string speed_words(double speed_ms, units::Style style);
/// A case by the name that people read: "wind 9 mph from W".
std::string case_words(const CaseAir& one, units::Style style);

}  // namespace ridgeward::airflow
