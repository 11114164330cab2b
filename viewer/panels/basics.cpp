#include "draw/palette.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>
#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <string_view>

namespace ridgeward::panels {
namespace {

bool can_have_keys(std::string_view kind) {
  constexpr std::array<std::string_view, 8> kinds{"button", "toggle", "checkbox", "radio",
                                                  "choice", "list",   "field",    "slider"};
  return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
}

/// Notes that the widget drawn last can have the keys; puts the ring around it where it has them,
/// and brings it into sight.
void note_control(Recorder& recorder, const std::string& id, const char* kind,
                  const std::string& state) {
  const ImGuiContext& gui = *ImGui::GetCurrentContext();
  const bool is_off = (gui.LastItemData.InFlags & ImGuiItemFlags_Disabled) != 0;
  if (!can_have_keys(kind) || is_off || gui.LastItemData.ID == 0) {
    return;
  }
  const ImVec2 low = ImGui::GetItemRectMin();
  const ImVec2 high = ImGui::GetItemRectMax();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const bool is_whole = low.y >= list.GetClipRectMin().y && high.y <= list.GetClipRectMax().y;
  const bool is_in_list = (gui.CurrentWindow->Flags & ImGuiWindowFlags_Popup) != 0;
  recorder.add_control({id, kind, state, {}, gui.LastItemData.ID, is_in_list, is_whole});
  if (recorder.focus != id) {
    return;
  }
  const float s = ui_scale();
  list.AddRect({low.x - 2 * s, low.y - 2 * s}, {high.x + 2 * s, high.y + 2 * s},
               packed(draw::intake), 5 * s, 0, 2 * s);
  if (!is_whole && ImGui::GetScrollMaxY() > 0.0F) {
    ImGui::SetScrollHereY();
  }
}

}  // namespace

void note(Recorder& recorder, const std::string& id, const char* kind, const std::string& state) {
  const ImVec2 low = ImGui::GetItemRectMin();
  const ImVec2 high = ImGui::GetItemRectMax();
  recorder.add({id, kind, state, low.x, low.y, high.x - low.x, high.y - low.y});
  note_control(recorder, id, kind, state);
}

void begin_panel(const char* id, ImVec2 at, float width, float height) {
  ImGui::SetNextWindowPos(at);
  ImGui::SetNextWindowSize({width, height});
  ImGuiWindowFlags flags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                           ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoCollapse |
                           ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav;
  if (height <= 0.0F) {
    flags |= ImGuiWindowFlags_NoScrollbar;
  }
  ImGui::Begin(id, nullptr, flags);
}

void note_panel(Recorder& recorder, const std::string& id) {
  const ImVec2 at = ImGui::GetWindowPos();
  const ImVec2 size = ImGui::GetWindowSize();
  recorder.add({id, "panel", "", at.x, at.y, size.x, size.y});
  recorder.end_panel(id);
}

void heading(const std::string& text) {
  ImGui::PushFont(font(Font::bold));
  ImGui::TextUnformatted(text.c_str());
  ImGui::PopFont();
}

void progress_bar(const std::optional<double>& share, float right, const std::string& id,
                  Recorder& recorder) {
  const std::string words = share ? fmt::format("{:.0f} %", 100.0 * *share) : std::string();
  const float width = ImGui::GetContentRegionAvail().x - right;
  const float height = ImGui::GetFrameHeight();
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const ImVec2 high{low.x + width, low.y + height};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float rounding = ImGui::GetStyle().FrameRounding;
  list.AddRectFilled(low, high, packed(draw::paper), rounding);
  if (share && *share > 0.0) {
    list.AddRectFilled(low, {low.x + width * static_cast<float>(*share), high.y},
                       packed(draw::intake, 0.55F), rounding);
  }
  list.AddRect(low, high, packed(draw::faint_ink), rounding);
  const ImVec2 size = ImGui::CalcTextSize(words.c_str());
  list.AddText({(low.x + high.x - size.x) / 2, (low.y + high.y - size.y) / 2}, packed(draw::ink),
               words.c_str());
  ImGui::Dummy({width, height});
  note(recorder, id, "bar", words);
}

void row(const Row& row) {
  ImGui::PushStyleColor(ImGuiCol_Text, ImGui::GetStyleColorVec4(ImGuiCol_TextDisabled));
  ImGui::TextUnformatted(row.first.c_str());
  ImGui::PopStyleColor();
  const float width = ImGui::CalcTextSize(row.second.c_str()).x;
  ImGui::SameLine(ImGui::GetWindowContentRegionMax().x - width);
  ImGui::TextUnformatted(row.second.c_str());
}

}  // namespace ridgeward::panels
