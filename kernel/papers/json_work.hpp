#pragma once
// What the crew's and the apprentice's sheets say, as JSON; private to this folder.

#include "assess.hpp"

#include <nlohmann/json_fwd.hpp>

namespace ridgeward::papers {

/// Tape measures of a slot, and of a vent along a line (null for others).
nlohmann::ordered_json marks_json(const Assessment& assessment, const vents::Slot& slot);
nlohmann::ordered_json marks_json(const Assessment& assessment, const vents::Exhaust& exhaust);
/// Where the tape hooks for a vent set on a plane (null for others).
nlohmann::ordered_json tape_json(const Assessment& assessment, const vents::Exhaust& exhaust);
/// The products that the model uses.
nlohmann::ordered_json products_json(const Assessment& assessment);
/// Figures of the work that no product states (kernel/vents/practice.hpp).
nlohmann::ordered_json practice_json();
nlohmann::ordered_json framing_square_json(const Assessment& assessment);

nlohmann::ordered_json slot_marks_schema();
nlohmann::ordered_json ridge_marks_schema();
nlohmann::ordered_json tape_schema();
nlohmann::ordered_json products_schema();
nlohmann::ordered_json practice_schema();
nlohmann::ordered_json framing_square_schema();

}  // namespace ridgeward::papers
