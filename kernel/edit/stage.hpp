#pragma once
// Changes a model as a person asks. Pure: nothing is remembered from edit to edit.

#include "base/fault.hpp"
#include "model/roof_model.hpp"

#include "edit/edit.hpp"

#include <glm/vec2.hpp>

#include <string>
#include <vector>

namespace ridgeward::edit {

struct Edited {
  model::RoofModel model;
  /// What the edit took away or changed beside what was asked for, in plain words: vents on a plane
  /// that is no more, runs cut short with their eave.
  std::vector<std::string> said;
};

/// `model` after one edit. What names a plane or a line goes on naming it where edges get other
/// numbers; what lost its place is taken out or cut short, and that is said.
/// Faults: those of model::read and surface::raise (`where` points into the model as it would be
/// written), and edit.part_unknown, edit.edge_unknown, edit.corner_unknown, edit.id_unknown,
/// edit.last_part, edit.part_does_not_fit, edit.hole_unknown.
/// Laws: (1) the result is what model::read makes of model::write of it, so it is written and read
/// back to the bit; (2) it has a surface; (3) equal input gives equal output; (4) `model` where an
/// edit faults is as before.
/// Cost: about 1 ms for a house of forty planes, 3 ms where the outline or heights change.
Result<Edited> edited(const model::RoofModel& model, const Edit& edit);

/// Whether an edit leaves surface, framing and air spaces as they are.
bool touches_vents_only(const Edit& edit);

/// A house from nothing: one part over an outline in either sense, all eaves at 6/12.
/// Faults as edited().
Result<model::RoofModel> new_house(const std::vector<glm::dvec2>& outline, units::LengthUnit unit);

/// An id that is not there yet: "south", "south-2", ...
std::string free_id(const model::RoofModel& model, const std::string& wanted);

/// A square in the widest free place of a part's outline, clear of its courtyards, on whole feet or
/// decimetres: where a courtyard or an opening begins.
std::vector<glm::dvec2> free_square(const model::Part& part, units::LengthUnit unit);

/// What it does, for the list of steps: "Pitch of main/0" is up to who asks; this is "Move corner".
std::string words_of(const Edit& edit);

}  // namespace ridgeward::edit
