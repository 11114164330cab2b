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
  const float go_width = 34 * ui_scale();
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - go_width -
                          ImGui::GetStyle().ItemSpacing.x);
  const bool entered = ImGui::InputText("##path", &text, ImGuiInputTextFlags_EnterReturnsTrue);
  note(recorder, "file/path", "field", text);
  if (text != look.state.path_text) {
    intents.emplace_back(EditPath{text});
  }
  ImGui::SameLine();
  const bool pressed = button("Go", "file/open", go_width, recorder);
  if (ImGui::IsItemHovered()) {
    ImGui::SetTooltip("Opens the file typed here; so does Enter");
  }
  if ((entered || pressed) && !text.empty()) {
    intents.emplace_back(Open{text});
  }
  if (!look.state.trouble.empty()) {
    ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::bad));
    ImGui::TextWrapped("%s", look.state.trouble.c_str());
    ImGui::PopStyleColor();
    note(recorder, "file/trouble", "text", look.state.trouble);
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

}  // namespace ridgeward::panels
