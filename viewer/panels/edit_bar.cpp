// The bar over the drawing and its list of parts.
#include "draw/palette.hpp"
#include "panels/edit_panels.hpp"
#include "panels/fields.hpp"
#include "panels/theme.hpp"

#include <imgui.h>

namespace ridgeward::panels {
namespace {

/// A button of the bar, by its command; pressed in where its tool is in the hand.
void command_button(const Form& form, const char* id, const char* words, bool is_on = false) {
  const Command one = command(form.look.state, id);
  if (is_on) {
    for (const ImGuiCol ground : {ImGuiCol_Button, ImGuiCol_ButtonHovered, ImGuiCol_ButtonActive}) {
      ImGui::PushStyleColor(ground, packed(draw::selected));
    }
    ImGui::PushStyleColor(ImGuiCol_Text, packed(words_on(draw::selected)));
  }
  if (button(form, std::string("bar/") + id, words, 0.0F, one.can_be_done())) {
    form.intents.insert(form.intents.end(), one.ask.begin(), one.ask.end());
  }
  if (is_on) {
    ImGui::PopStyleColor(4);
  }
  if (ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) {
    ImGui::SetTooltip("%s%s%s", one.words.c_str(), one.keys.empty() ? "" : "   ", one.keys.c_str());
  }
  ImGui::SameLine();
}

void add_list(const Form& form, ImVec2 below) {
  const EditState& edit = form.look.state.edit;
  if (!edit.has_add_list) {
    return;
  }
  ImGui::SetNextWindowFocus();
  begin_panel("add-list", below, 290 * ui_scale(), 0.0F);
  heading("Add to the house");
  const bool has_edge = edit.target.what == Target::What::edge;
  if (!has_edge) {
    ImGui::TextWrapped(
        "Wings and dormers are set on an edge: click a roof plane, or an edge in "
        "plan (H), first.");
  } else {
    ImGui::TextWrapped("On edge %s/%d:", edit.target.id.c_str(),
                       static_cast<int>(edit.target.index));
  }
  const auto entry = [&](const std::string& id) {
    const Command one = command(form.look.state, id);
    if (button(form, "list/" + id, one.words, ImGui::GetContentRegionAvail().x,
               one.can_be_done())) {
      form.intents.insert(form.intents.end(), one.ask.begin(), one.ask.end());
      form.intents.emplace_back(EditIntent(ShowAddList{false}));
    }
  };
  for (const edit::PartKindWords& kind : edit::part_kinds()) {
    entry(std::string("add/") + kind.word);
  }
  entry("tool/draw");
  note_panel(form.recorder, "panel/add-list");
  ImGui::End();
}

}  // namespace

float toolbar_height() { return 40.0F * ui_scale(); }

void toolbar(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
             Intents& intents) {
  const Form form{look, recorder, intents};
  const EditState& edit = look.state.edit;
  const float s = ui_scale();
  const ImVec2 corner{static_cast<float>(viewport.x) + 6 * s, 10.0F * s};
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {4 * s, 4 * s});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {5 * s, 5 * s});
  begin_panel("bar", corner, static_cast<float>(viewport.width) - 12 * s, 34 * s);
  // Where the bar is short, what has no room is found among all commands.
  bool has_room = true;
  const auto fits = [&](const char* label) {
    const float right = ImGui::GetCursorPosX() + ImGui::CalcTextSize(label).x +
                        2 * ImGui::GetStyle().FramePadding.x;
    has_room = has_room && right < static_cast<float>(viewport.width) - (12 + 36) * s;
    return has_room;
  };
  const auto if_room = [&](const char* command, const char* label, bool is_on = false) {
    if (fits(label)) {
      command_button(form, command, label, is_on);
    }
  };
  if_room("file/new", "New");
  if_room("file/browse", "Open");
  if_room("file/save", edit.is_dirty ? "Save*" : "Save");
  if_room("edit/undo", "Undo");
  if_room("edit/redo", "Redo");
  if_room("edit/fields", "Edit", edit.has_fields);
  if_room("tool/plan", "Plan", edit.tool == Tool::plan);
  ImVec2 below = corner;
  if (fits("Add ...")) {
    if (button(form, "bar/add", "Add ...", 0.0F, edit.is_open && !edit.import)) {
      intents.emplace_back(EditIntent(ShowAddList{!edit.has_add_list}));
    }
    below = {ImGui::GetItemRectMin().x, ImGui::GetItemRectMax().y + 6 * s};
    ImGui::SameLine();
  }
  if_room("tool/intake", "Intake", edit.tool == Tool::intake);
  if_room("tool/exhaust", "Exhaust", edit.tool == Tool::exhaust);
  if_room("tool/obstacle", "Obstacle", edit.tool == Tool::obstacle);
  if_room("vents/place", "Place");
  if_room("file/export", "Export");
  if_room("file/import", "Import");
  command_button(form, "view/commands", "...");
  note_panel(recorder, "panel/bar");
  ImGui::End();
  ImGui::PopStyleVar(2);
  add_list(form, below);
}

}  // namespace ridgeward::panels
