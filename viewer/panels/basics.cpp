#include "panels/pieces.hpp"
#include "panels/theme.hpp"

namespace ridgeward::panels {

void note(Recorder& recorder, const std::string& id, const char* kind, const std::string& state) {
  const ImVec2 low = ImGui::GetItemRectMin();
  const ImVec2 high = ImGui::GetItemRectMax();
  recorder.add({id, kind, state, low.x, low.y, high.x - low.x, high.y - low.y});
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
}

void heading(const std::string& text) {
  ImGui::PushFont(font(Font::bold));
  ImGui::TextUnformatted(text.c_str());
  ImGui::PopFont();
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
