#pragma once
// The stage's inner steps; private to the folder.

#include "base/fault.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include "edit/edit.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::edit {

using Said = std::vector<std::string>;

/// The part with this id; none and a fault in `faults` if there is none.
model::Part* part_named(model::RoofModel& model, const std::string& id, Faults& faults);

/// Where the edges of one part went: the new number by the old one, none where an edge is gone.
struct Renumbering {
  std::string part;
  std::string new_part;
  std::vector<std::optional<std::size_t>> edges;
};
/// Lets everything that names a plane, line or wall go on naming it; takes out what lies on a plane
/// that is gone, and says so.
void renumber(model::RoofModel& model, const Renumbering& change, Said& said);

/// Each changes `model`; no check but of what it names.
void apply(model::RoofModel& model, const MoveCorner& edit, Faults& faults);
void apply(model::RoofModel& model, const MoveEdge& edit, Faults& faults);
void apply(model::RoofModel& model, const InsertCorner& edit, Faults& faults, Said& said);
void apply(model::RoofModel& model, const RemoveCorner& edit, Faults& faults, Said& said);
void apply(model::RoofModel& model, const MovePart& edit, Faults& faults);
void apply(model::RoofModel& model, const PutHole& edit, Faults& faults, Said& said);
void apply(model::RoofModel& model, const RemoveHole& edit, Faults& faults, Said& said);
void apply(model::RoofModel& model, const DrawPart& edit);
void apply(model::RoofModel& model, const AddPart& edit, Faults& faults);

/// Takes out or cuts short what has no place on the roof as it is now, and raises it. Faults: those
/// of surface::raise that no taking out mends.
Result<surface::Surface> settle(const model::RoofModel& before, model::RoofModel& model,
                                Said& said);

}  // namespace ridgeward::edit
