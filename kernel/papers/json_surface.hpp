#pragma once
// Planes, lines and blind decks of the assessment's JSON. Private to the papers.

#include "assess.hpp"

#include <nlohmann/json_fwd.hpp>

namespace ridgeward::papers {

nlohmann::ordered_json planes_json(const Assessment& a);
nlohmann::ordered_json lines_json(const Assessment& a);
nlohmann::ordered_json blind_decks_json(const Assessment& a);

}  // namespace ridgeward::papers
