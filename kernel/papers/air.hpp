#pragma once
// The airflow as JSON and as text. Private to this folder.

#include "assess.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace ridgeward::papers {

/// The assessment's key "airflow".
nlohmann::ordered_json air_json(const Assessment& assessment);
/// Its schema.
nlohmann::ordered_json air_schema();
/// Cautions of the program and those that the airflow adds.
std::vector<std::string> all_cautions(const Assessment& assessment);

/// One row a case: weather, outside, attic, air changes an hour, shares of what comes in by intake,
/// by exhaust, from the rooms. Of the standard winds only the worst.
std::vector<std::vector<std::string>> air_rows(const Assessment& assessment, units::Style style);
/// The same and more in sentences.
std::vector<std::string> air_words(const Assessment& assessment, units::Style style);

/// In one sentence how much comes in and goes out, and that both weigh the same: volumes differ,
/// since air swells as it warms.
std::string balance_words(const airflow::CaseAir& one, const airflow::Airflow& air,
                          units::Style style);

/// The summary's part about air: a table of cases and a few sentences. Empty without cases.
std::string air_text(const Assessment& assessment, units::Style style, std::size_t columns);

}  // namespace ridgeward::papers
