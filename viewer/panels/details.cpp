#include "draw/palette.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::panels {
namespace {

void finding_line(const FindingText& text, Recorder& recorder, Intents& intents) {
  const float s = ui_scale();
  ImGui::PushID(text.number);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float wrap = ImGui::GetContentRegionAvail().x - 22 * s;
  const ImVec2 size = ImGui::CalcTextSize(text.message.c_str(), nullptr, false, wrap);
  if (ImGui::InvisibleButton("finding", {wrap + 22 * s, size.y})) {
    intents.emplace_back(GoTo{text.at});
  }
  note(recorder, fmt::format("findings/{}", text.number), "button", text.message);
  const bool is_hovered = ImGui::IsItemHovered();
  if (is_hovered && !text.remedy.empty()) {
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(340 * s);
    ImGui::TextUnformatted(text.remedy.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
  }
  ImDrawList& list = *ImGui::GetWindowDrawList();
  draw_mark(list, {at.x + 7 * s, at.y + 8 * s}, 6.5F * s, text.verdict);
  list.AddText(font(Font::text), font(Font::text)->FontSize, {at.x + 22 * s, at.y},
               packed(is_hovered ? draw::intake : draw::ink), text.message.c_str(), nullptr, wrap);
  ImGui::PopID();
}

}  // namespace

void selection_body(const Look& look, Recorder& recorder, Intents& intents) {
  const SelectionText text = selection_text(look.assessment, look.state.selected, look.state.style);
  if (text.title.empty()) {
    heading("Nothing selected");
    ImGui::TextWrapped("Click a plane or a line of the roof.");
    return;
  }
  heading(text.title);
  note(recorder, "selection/title", "text", text.title);
  for (std::size_t i = 0; i < text.rows.size(); ++i) {
    row(text.rows[i]);
    note(recorder, fmt::format("selection/{}/{}", i, text.rows[i].first), "text",
         text.rows[i].second);
  }
  if (ImGui::Button("Frame it (F)")) {
    intents.emplace_back(FrameSelection{});
  }
  note(recorder, "selection/frame", "button", "");
  ImGui::SameLine();
  if (ImGui::Button("Clear (Esc)")) {
    intents.emplace_back(Select{});
  }
  note(recorder, "selection/clear", "button", "");
}

void findings_body(const Look& look, std::size_t most, Recorder& recorder, Intents& intents) {
  std::vector<FindingText> texts = findings_text(look.assessment);
  if (texts.empty()) {
    heading("Nothing in the way");
    return;
  }
  heading(texts.size() == 1 ? "1 finding" : fmt::format("{} findings", texts.size()));
  std::stable_sort(texts.begin(), texts.end(), [](const FindingText& a, const FindingText& b) {
    return a.verdict > b.verdict;
  });
  for (std::size_t i = 0; i < std::min(most, texts.size()); ++i) {
    finding_line(texts[i], recorder, intents);
  }
  if (texts.size() > most) {
    ImGui::TextDisabled("and %d more", static_cast<int>(texts.size() - most));
  }
}

}  // namespace ridgeward::panels
