#pragma once
// What the kinds that read the airflow share: which cases count, and figures for people.

#include "conflicts/check.hpp"

#include <string>
#include <vector>

namespace ridgeward::conflicts {

/// The calm cases, winter first. A way that goes wrong without any wind goes wrong for good.
std::vector<const airflow::CaseAir*> calm_cases(const Roof& roof);
/// The standard winds.
std::vector<const airflow::CaseAir*> wind_cases(const Roof& roof);

/// "120 cfm" or "200 m3/h".
std::string air_words(const Roof& roof, double flow_m3s);
/// Plane of a slot or of an exhaust on a plane; none else.
PlaneId plane_of(const Roof& roof, const airflow::Way& way);
/// Whether a compartment has openings of a role.
bool has_role(const Roof& roof, CompartmentId compartment, airflow::Role role);

/// Closes every message that rests on the model: it is no measurement.
inline constexpr const char* as_modelled =
    " (modelled, to about half as much or half as much again)";

}  // namespace ridgeward::conflicts
