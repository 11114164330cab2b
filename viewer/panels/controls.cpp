#include "draw/palette.hpp"
#include "panels/edit_panels.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <array>

namespace ridgeward::panels {
namespace {

bool button(const std::string& words, const std::string& id, float width, Recorder& recorder) {
  const bool pressed = ImGui::Button((words + "##" + id).c_str(), {width, 0.0F});
  note(recorder, id, "button", words);
  return pressed;
}

void path_field(const Look& look, Recorder& recorder, Intents& intents) {
  std::string text = look.state.path_text;
  ImGui::TextUnformatted("Model file");
  const float open_width = 52 * ui_scale();
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - open_width -
                          ImGui::GetStyle().ItemSpacing.x);
  const bool entered = ImGui::InputText("##path", &text, ImGuiInputTextFlags_EnterReturnsTrue);
  note(recorder, "file/path", "field", text);
  if (text != look.state.path_text) {
    intents.emplace_back(EditPath{text});
  }
  ImGui::SameLine();
  const bool pressed = button("Open", "file/open", open_width, recorder);
  if ((entered || pressed) && !text.empty()) {
    intents.emplace_back(Open{text});
  }
}

void layer_boxes(const Look& look, Recorder& recorder, Intents& intents) {
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {8 * ui_scale(), 3 * ui_scale()});
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {3 * ui_scale(), 1.5F * ui_scale()});
  const float second = ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x / 2;
  bool is_left = true;
  for (const scene::LayerWords& entry : scene::layer_words()) {
    if (entry.layer == scene::Layer::totals) {
      continue;  // always in sight
    }
    if (!is_left) {
      ImGui::SameLine(second);
    }
    is_left = !is_left;
    bool on = look.state.layers.has(entry.layer);
    if (ImGui::Checkbox(entry.brief, &on)) {
      intents.emplace_back(SetLayer{entry.layer, on});
    }
    if (ImGui::IsItemHovered()) {
      ImGui::SetTooltip("%s", entry.words);
    }
    note(recorder, std::string("layers/") + entry.word, "checkbox", on ? "on" : "off");
  }
  ImGui::PopStyleVar(2);
}

void unit_switch(const Look& look, Recorder& recorder, Intents& intents) {
  const auto choice = [&](const char* words, const char* id, units::Style style) {
    if (ImGui::RadioButton(words, look.state.style == style)) {
      intents.emplace_back(SetUnits{style});
    }
    note(recorder, id, "radio", look.state.style == style ? "on" : "off");
  };
  choice("ft, in", "units/feet-inches", units::Style::feet_inches);
  ImGui::SameLine();
  choice("metric", "units/metric", units::Style::metric);
}

void directions(Recorder& recorder, Intents& intents) {
  const float spacing = 4 * ui_scale();
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {spacing, spacing});
  const float width = (ImGui::GetContentRegionAvail().x - 2 * spacing) / 3;
  constexpr std::array<std::array<const char*, 2>, 9> rose{{{"NW", "north-west"},
                                                            {"N", "north"},
                                                            {"NE", "north-east"},
                                                            {"W", "west"},
                                                            {"Above", "above"},
                                                            {"E", "east"},
                                                            {"SW", "south-west"},
                                                            {"S", "south"},
                                                            {"SE", "south-east"}}};
  for (std::size_t i = 0; i < rose.size(); ++i) {
    if (i % 3 != 0) {
      ImGui::SameLine();
    }
    if (button(rose[i][0], std::string("from/") + rose[i][1], width, recorder)) {
      intents.emplace_back(LookFrom{rose[i][1]});
    }
  }
  ImGui::PopStyleVar();
}

}  // namespace

void controls_body(const Look& look, Recorder& recorder, Intents& intents) {
  path_field(look, recorder, intents);
  ImGui::Spacing();
  ImGui::Separator();
  heading("Show");
  layer_boxes(look, recorder, intents);
  ImGui::Separator();
  ImGui::AlignTextToFramePadding();
  heading("Units");
  ImGui::SameLine(0.0F, 16 * ui_scale());
  unit_switch(look, recorder, intents);
  ImGui::Separator();
  heading("Look from");
  directions(recorder, intents);
  const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
  if (button("Fit all", "camera/fit", half, recorder)) {
    intents.emplace_back(FrameAll{});
  }
  ImGui::SameLine();
  if (button("Keys (F1)", "keys/open", half, recorder)) {
    intents.emplace_back(ShowKeys{true});
  }
  if (look.state.has_model) {
    lesson_button(look, recorder, intents);
  }
  if (look.state.layers.has(scene::Layer::legend) && look.state.has_model) {
    ImGui::Separator();
    heading("Legend");
    legend_body(look, recorder);
  }
}

namespace {

constexpr std::array<std::array<const char*, 2>, 27> mouse_and_keys{
    {{"Drag left", "turn around the house"},
     {"Drag right or middle, shift + drag", "move"},
     {"Wheel", "nearer, farther"},
     {"Click", "select a plane or a line"},
     {"Esc", "let go of all; close this"},
     {"F", "frame the selection, or all"},
     {"Home, A", "frame all"},
     {"1 ... 9 (as on a number pad)", "look from a side; 5 from above"},
     {"Arrow keys", "turn"},
     {"Click a line, then elsewhere", "its length; distance and angle"},
     {"M", "measure from anywhere"},
     {"L", "lengths on all lines"},
     {"O", "flat: plan and elevations to scale"},
     {"X", "cut: across, along, level, whole"},
     {"Shift + X", "the other half"},
     {"Page Up, Page Down", "move the cut; or drag its handle"},
     {"P", "peel the deck off the selection, or all"},
     {"S", "light from the sun"},
     {"N, T", "dark colours; large type"},
     {"U", "feet and inches, or metric"},
     {"J", "the lesson"},
     {"G", "moving air, or none"},
     {"Space; C", "air stands or moves; the next weather"},
     {"Tab, Shift + Tab", "from slider to slider (sun, cut, air)"},
     {"Left, Right (Shift: ten); a value, Enter", "moves that slider; Esc lets go"},
     {"F1", "this list"},
     {"Ctrl + Q", "close"}}};

}  // namespace

void keys_panel(const Look& look, Recorder& recorder, Intents& intents) {
  // All of it at once, in smaller letters where the window is small.
  constexpr float whole_width = 940.0F;
  constexpr float whole_height = 640.0F;
  const float fit = std::min({1.0F, static_cast<float>(look.width_px) / (whole_width * ui_scale()),
                              static_cast<float>(look.height_px) / (whole_height * ui_scale())});
  const float s = fit * ui_scale();
  const float width = whole_width * s;
  ImGui::SetNextWindowFocus();
  ImGui::SetNextWindowBgAlpha(1.0F);
  begin_panel(
      "keys",
      {(static_cast<float>(look.width_px) - width) / 2, static_cast<float>(look.height_px) * 0.03F},
      width, 0.0F);
  ImGui::SetWindowFontScale(fit);
  ImGui::BeginGroup();
  heading("Mouse and keys");
  ImGui::Spacing();
  for (const auto& key : mouse_and_keys) {
    ImGui::TextUnformatted(key[0]);
    ImGui::SameLine(250 * s);
    ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::faint_ink));
    ImGui::TextUnformatted(key[1]);
    ImGui::PopStyleColor();
  }
  ImGui::EndGroup();
  ImGui::SameLine(480 * s);
  ImGui::BeginGroup();
  editing_keys(look, s, recorder);
  ImGui::EndGroup();
  ImGui::Spacing();
  if (button("Close", "keys/close", 90 * s, recorder)) {
    intents.emplace_back(ShowKeys{false});
  }
  note_panel(recorder, "panel/keys");
  ImGui::End();
}

}  // namespace ridgeward::panels
