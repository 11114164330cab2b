#pragma once
// The assessment as JSON, version 1 (docs/assessment.md). SI units in the field names.

#include "assess.hpp"

#include <string>

namespace ridgeward::papers {

/// `indent` < 0 gives one line. Equal assessments give equal bytes.
std::string to_json(const Assessment& assessment, int indent = 2);

/// The JSON Schema of what to_json() writes.
std::string assessment_schema();

/// Faults as one JSON object, for machine readers: {"ridgeward": 1, "faults": [...]}.
std::string faults_to_json(const Faults& faults, int indent = -1);

}  // namespace ridgeward::papers
