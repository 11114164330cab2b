#include "edit/stage.hpp"

#include "base/overloaded.hpp"
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "edit/pieces.hpp"

#include <algorithm>
#include <array>

namespace ridgeward::edit {

namespace {

template <class Things>
void put(Things& things, const typename Things::value_type& value) {
  const auto found = std::find_if(things.begin(), things.end(),
                                  [&](const auto& thing) { return thing.id == value.id; });
  if (found == things.end()) {
    things.push_back(value);
  } else {
    *found = value;
  }
}

template <class Things>
void remove(Things& things, const Remove& edit, Faults& faults) {
  const std::size_t gone =
      std::erase_if(things, [&](const auto& one) { return one.id == edit.id; });
  if (gone == 0) {
    faults.push_back({"edit.id_unknown", "", "there is no \"" + edit.id + "\" to remove",
                      "choose one that is there"});
  }
}

void apply(model::RoofModel& model, const Remove& edit, Faults& faults) {
  switch (edit.thing) {
    case Thing::ceiling:
      return remove(model.ceilings, edit, faults);
    case Thing::divider:
      return remove(model.dividers, edit, faults);
    case Thing::obstacle:
      return remove(model.obstacles, edit, faults);
    case Thing::intake:
      return remove(model.intake, edit, faults);
    case Thing::exhaust:
      return remove(model.exhaust, edit, faults);
  }
}

void apply(model::RoofModel& model, const SetEdge& edit, Faults& faults) {
  model::Part* part = part_named(model, edit.part, faults);
  if (part == nullptr) {
    return;
  }
  if (edit.edge >= part->edge_count()) {
    faults.push_back({"edit.edge_unknown", "",
                      "part " + edit.part + " has no edge " + std::to_string(edit.edge),
                      "choose one from 0 to " + std::to_string(part->edge_count() - 1)});
    return;
  }
  std::size_t index = edit.edge;
  std::vector<model::Edge>* edges = &part->edges;
  for (std::size_t hole = 0; index >= edges->size(); ++hole) {
    index -= edges->size();
    edges = &part->holes[hole].edges;
  }
  (*edges)[index] = edit.value;
}

void apply(model::RoofModel& model, const SetPart& edit, Faults& faults) {
  model::Part* part = part_named(model, edit.value.id, faults);
  if (part == nullptr) {
    return;
  }
  model::Part value = edit.value;
  value.outline = part->outline;
  value.edges = part->edges;
  value.holes = part->holes;
  *part = std::move(value);
}

/// Every edge of a part where it is, or all of them gone.
Renumbering whole_part(const model::Part& part, const std::string& to, bool is_kept) {
  Renumbering change{part.id, to, {}};
  for (std::size_t i = 0; i < part.edge_count(); ++i) {
    change.edges.push_back(is_kept ? std::optional(i) : std::nullopt);
  }
  return change;
}

void apply(model::RoofModel& model, const RenamePart& edit, Faults& faults, Said& said) {
  const model::Part* part = part_named(model, edit.part, faults);
  const bool is_taken = std::any_of(model.parts.begin(), model.parts.end(),
                                    [&](const auto& one) { return one.id == edit.to; });
  if (part != nullptr && is_taken && edit.to != edit.part) {
    faults.push_back(
        {"id.twice", "", "there is a part \"" + edit.to + "\" already", "choose another name"});
  } else if (part != nullptr) {
    renumber(model, whole_part(*part, edit.to, true), said);
  }
}

void apply(model::RoofModel& model, const RemovePart& edit, Faults& faults, Said& said) {
  const model::Part* part = part_named(model, edit.part, faults);
  if (part == nullptr) {
    return;
  }
  if (model.parts.size() == 1) {
    faults.push_back({"edit.last_part", "", "this is the only part of the house",
                      "draw another part first, or start a new house"});
    return;
  }
  renumber(model, whole_part(*part, part->id, false), said);
  std::erase_if(model.ceilings, [&](const auto& one) { return one.id == edit.part; });
  std::erase_if(model.parts, [&](const auto& one) { return one.id == edit.part; });
}

/// Changes `model` as asked, without a check of what comes out.
void change(model::RoofModel& model, const Edit& edit, Faults& faults, Said& said) {
  std::visit(Overloaded{
                 [&](const MoveCorner& e) { apply(model, e, faults); },
                 [&](const MoveEdge& e) { apply(model, e, faults); },
                 [&](const InsertCorner& e) { apply(model, e, faults, said); },
                 [&](const RemoveCorner& e) { apply(model, e, faults, said); },
                 [&](const MovePart& e) { apply(model, e, faults); },
                 [&](const SetEdge& e) { apply(model, e, faults); },
                 [&](const SetPart& e) { apply(model, e, faults); },
                 [&](const RenamePart& e) { apply(model, e, faults, said); },
                 [&](const DrawPart& e) { apply(model, e); },
                 [&](const AddPart& e) { apply(model, e, faults); },
                 [&](const RemovePart& e) { apply(model, e, faults, said); },
                 [&](const PutCeiling& e) { put(model.ceilings, e.value); },
                 [&](const PutDivider& e) { put(model.dividers, e.value); },
                 [&](const PutObstacle& e) { put(model.obstacles, e.value); },
                 [&](const PutIntake& e) { put(model.intake, e.value); },
                 [&](const PutExhaust& e) { put(model.exhaust, e.value); },
                 [&](const Remove& e) { apply(model, e, faults); },
                 [&](const SetName& e) { model.name = e.name; },
                 [&](const SetUnits& e) { model.unit = e.unit; },
                 [&](const SetSite& e) { model.site = e.value; },
                 [&](const SetRoofing& e) { model.roofing = e.value; },
                 [&](const SetAir& e) { model.air = e.value; },
                 [&](const PutHole& e) { apply(model, e, faults, said); },
                 [&](const RemoveHole& e) { apply(model, e, faults, said); },
             },
             edit);
}

/// Whether vents and obstacles may have to follow what the edit does.
bool moves_roof(const Edit& edit) {
  return !touches_vents_only(edit) && !std::holds_alternative<PutObstacle>(edit) &&
         !std::holds_alternative<SetName>(edit) && !std::holds_alternative<SetUnits>(edit);
}

Result<model::RoofModel> as_read(const model::RoofModel& model) {
  auto read = model::read(model::write(model));
  if (!read) {
    return read.faults();
  }
  return std::move(read).value().model;
}

}  // namespace

model::Part* part_named(model::RoofModel& model, const std::string& id, Faults& faults) {
  const auto found = std::find_if(model.parts.begin(), model.parts.end(),
                                  [&](const model::Part& part) { return part.id == id; });
  if (found == model.parts.end()) {
    faults.push_back({"edit.part_unknown", "", "there is no part \"" + id + "\"",
                      "choose a part that is there"});
    return nullptr;
  }
  return &*found;
}

bool touches_vents_only(const Edit& edit) {
  const auto* gone = std::get_if<Remove>(&edit);
  return std::holds_alternative<PutIntake>(edit) || std::holds_alternative<PutExhaust>(edit) ||
         (gone != nullptr && (gone->thing == Thing::intake || gone->thing == Thing::exhaust));
}

Result<Edited> edited(const model::RoofModel& model, const Edit& edit) {
  Edited result;
  result.model = model;
  Faults faults;
  change(result.model, edit, faults, result.said);
  if (!faults.empty()) {
    return faults;
  }
  // Read before it is raised: surfaces are promised for models that read() lets through.
  auto read = as_read(result.model);
  if (!read) {
    return read.faults();
  }
  result.model = std::move(read).value();
  if (moves_roof(edit)) {
    const std::size_t said = result.said.size();
    if (const auto raised = settle(model, result.model, result.said); !raised) {
      return raised.faults();
    }
    if (result.said.size() > said) {
      read = as_read(result.model);
      ensure(read.ok(), "what is left after things were taken out can be read");
      result.model = std::move(read).value();
    }
  } else if (std::holds_alternative<PutObstacle>(edit)) {
    if (const auto raised = surface::raise(result.model); !raised) {
      return raised.faults();
    }
  }
  return result;
}

Result<model::RoofModel> new_house(const std::vector<glm::dvec2>& outline, units::LengthUnit unit) {
  model::RoofModel model;
  model.unit = unit;
  apply(model, DrawPart{outline});
  auto read = as_read(model);
  if (read) {
    if (const auto raised = surface::raise(read.value()); !raised) {
      return raised.faults();
    }
  }
  return read;
}

std::string free_id(const model::RoofModel& model, const std::string& wanted) {
  const auto is_taken = [&](const std::string& id) {
    const auto has = [&](const auto& things) {
      return std::any_of(things.begin(), things.end(),
                         [&](const auto& thing) { return thing.id == id; });
    };
    return has(model.parts) || has(model.ceilings) || has(model.dividers) || has(model.obstacles) ||
           has(model.intake) || has(model.exhaust);
  };
  std::string id = wanted;
  for (int number = 2; is_taken(id); ++number) {
    id = wanted + "-" + std::to_string(number);
  }
  return id;
}

std::string words_of(const Edit& edit) {
  constexpr std::array<const char*, std::variant_size_v<Edit>> words{
      "Move corner",    "Move edge",   "Add corner",     "Remove corner",   "Move part",
      "Change edge",    "Change part", "Rename part",    "Draw part",       "Add part",
      "Remove part",    "Set ceiling", "Set divider",    "Set obstacle",    "Set intake run",
      "Set exhaust",    "Remove",      "Name the house", "Change units",    "Change site",
      "Change roofing", "Change air",  "Set courtyard",  "Remove courtyard"};
  return words.at(edit.index());
}

}  // namespace ridgeward::edit
