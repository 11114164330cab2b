#include "panels/edit_state.hpp"

#include "base/overloaded.hpp"

namespace ridgeward::panels {
namespace {

void set_tool(EditState& state, Tool tool) {
  state.tool = tool;
  state.plan.drawn.clear();
  state.plan.typed.clear();
  state.plan.drag = {};
  state.has_add_list = false;
}

void fold(EditState& state, const Fold& ask) {
  if (ask.is_open) {
    state.open_groups.insert(ask.id);
  } else {
    state.open_groups.erase(ask.id);
  }
}

void forget_words(EditState& state) {
  state.said.clear();
  state.trouble.clear();
  state.trouble_field.clear();
}

void type_option(EditState& state, const TypeOption& ask) {
  if (!state.import) {
    return;
  }
  for (ImporterChoice& importer : state.import->importers) {
    for (ImportOption& option : importer.options) {
      if (importer.name == state.import->importer && option.key == ask.key) {
        option.text = ask.text;
      }
    }
  }
}

}  // namespace

void forget_house(EditState& state) {
  state.target = {};
  state.corner.reset();
  state.plan = {};
  state.tool = Tool::look;
  state.is_new = false;
  forget_words(state);
  state.import.reset();
}

bool shows_plan(const EditState& state) {
  return state.tool == Tool::plan || state.tool == Tool::draw;
}

EditState applied(EditState state, const EditIntent& intent) {
  std::visit(Overloaded{
                 [&](const Wish& ask) { state.wishes.push_back(ask); },
                 [&](const SetTool& ask) { set_tool(state, ask.tool); },
                 [&](const SetTarget& ask) {
                   state.target = ask.target;
                   state.corner.reset();
                 },
                 [&](const ShowFields& ask) { state.has_fields = ask.on; },
                 [&](const ShowPalette& ask) {
                   state.has_palette = ask.on;
                   state.palette_text.clear();
                   state.palette_row = 0;
                 },
                 [&](const TypePalette& ask) {
                   state.palette_text = ask.text;
                   state.palette_row = ask.row;
                 },
                 [&](const ShowAddList& ask) { state.has_add_list = ask.on; },
                 [&](const CloseBrowser&) { state.browser.is_shown = false; },
                 [&](const Browse& ask) {
                   state.browser.folder = ask.folder;
                   state.browser.name = ask.name;
                 },
                 [&](const ShowAllFiles& ask) {
                   state.browser.shows_all = ask.on;
                   state.browser.listed.clear();
                 },
                 [&](const TypeField& ask) {
                   state.field = ask.field;
                   state.field_text = ask.text;
                 },
                 [&](const ChooseProduct& ask) {
                   (ask.is_intake ? state.intake_product : state.exhaust_product) = ask.id;
                 },
                 [&](const ChooseObstacle& ask) { state.obstacle_kind = ask.kind; },
                 [&](const SelectCorner& ask) { state.corner = ask.corner; },
                 [&](const MovePlan& ask) { state.plan = ask.plan; },
                 [&](const ShowGiven& ask) {
                   if (state.import) {
                     state.import->shows_planes = ask.on;
                   }
                 },
                 [&](const ChooseImporter& ask) {
                   if (state.import) {
                     state.import->importer = ask.name;
                   }
                 },
                 [&](const TypeOption& ask) { type_option(state, ask); },
                 [&](const Fold& ask) { fold(state, ask); },
                 [&](const Forget&) { forget_words(state); },
             },
             intent);
  return state;
}

}  // namespace ridgeward::panels
