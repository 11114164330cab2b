#pragma once
// Fields of vents, obstacles, ceilings and dividers, and what all fields of the edit panel share;
// private to the folder.

#include "edit/edit.hpp"
#include "panels/fields.hpp"

#include <functional>
#include <string>
#include <vector>

namespace ridgeward::panels {

/// One value changed by one field, as one step.
struct Change {
  const Form& form;
  std::string name;

  void operator()(edit::Edit edit, const std::string& what, const std::string& field) const {
    form.intents.emplace_back(
        EditIntent(Wish(Do{std::move(edit), what + " of " + name, {}, field})));
  }
};

template <class Enum>
void choose(const Form& form, const std::string& id, const char* label,
            const std::vector<std::string>& words, Enum now, std::function<void(Enum)> then) {
  if (const auto chosen = choice_field(form, id, label, words, static_cast<std::size_t>(now))) {
    then(static_cast<Enum>(*chosen));
  }
}

void intake_fields(const Form& form, const model::IntakeRun& run);
void exhaust_fields(const Form& form, const model::ExhaustVent& vent);
void obstacle_fields(const Form& form, const model::Obstacle& obstacle);
void ceiling_fields(const Form& form, const model::Ceiling& ceiling);
void divider_fields(const Form& form, const model::Divider& divider);

}  // namespace ridgeward::panels
