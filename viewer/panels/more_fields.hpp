#pragma once
// Fields that few houses need, in groups that can be folded; private to the folder.

#include "panels/thing_fields.hpp"

#include <glm/vec2.hpp>

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace ridgeward::panels {

/// A head that opens and folds what stands below it; whether it is open.
bool group(const Form& form, const std::string& id, const std::string& words);

/// A place in plan as fields show it, "12' 6\", 8'", and as it is typed.
std::string corner_text(glm::dvec2 corner, units::Style style);
std::optional<glm::dvec2> typed_corner(const std::string& text, units::Style style);
/// Lengths with commas or semicolons between them; none from an empty text.
std::optional<std::vector<double>> typed_lengths(const std::string& text, units::Style style);

/// The corners of an outline, a row each; `then` gets it with one of them changed.
void outline_group(const Form& form, const std::string& id, const std::vector<glm::dvec2>& outline,
                   const std::function<void(const std::vector<glm::dvec2>&)>& then);
void break_fields(const Form& form, const model::Part& part, std::size_t index);
void measured_fields(const Form& form, const model::Part& part, std::size_t index);
void courtyard_fields(const Form& form, const model::Part& part);
void deck_opening_fields(const Form& form, const model::Part& part);
void collar_tie_fields(const Form& form, const model::Part& part);
void air_past_fields(const Form& form, const model::Part& part);
void air_fields(const Form& form, const model::RoofModel& model);

}  // namespace ridgeward::panels
