#pragma once
// Members, trusses and the cut list of the assessment's JSON. Private to the papers.

#include "assess.hpp"

#include <nlohmann/json_fwd.hpp>

namespace ridgeward::papers {

nlohmann::ordered_json members_json(const Assessment& a);
nlohmann::ordered_json trusses_json(const Assessment& a);
nlohmann::ordered_json cut_list_json(const Assessment& a);

/// Where bays of other planes, and bays past an opening, lie along a bay.
nlohmann::ordered_json across_json(const Assessment& a, const framing::Bay& bay);
nlohmann::ordered_json beyond_opening_json(const Assessment& a, const framing::Bay& bay);

}  // namespace ridgeward::papers
