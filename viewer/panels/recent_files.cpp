// Files that were open lately: on the empty window, and over the list of files to open.
#include "panels/edit_panels.hpp"
#include "panels/theme.hpp"

#include <algorithm>
#include <filesystem>

namespace ridgeward::panels {
namespace {

constexpr std::size_t most_on_welcome = 8;

std::string id_of(const std::string& path) { return "recent/" + path; }

bool is_missing(const EditState& edit, const std::string& path) {
  return std::find(edit.missing.begin(), edit.missing.end(), path) != edit.missing.end();
}

/// Its name, then its folder; whether it was clicked.
bool file_row(const Look& look, const std::string& path, float width, const std::string& id,
              Recorder& recorder) {
  const float s = ui_scale();
  const std::filesystem::path file(path);
  const bool is_there = !is_missing(look.state.edit, path);
  const float second = 200 * s;
  ImGui::BeginDisabled(!is_there);
  const float at = ImGui::GetCursorPosX();
  const bool is_chosen = look.state.edit.browser.is_shown && look.state.edit.browser.name == path;
  const bool is_clicked = ImGui::Selectable(("##" + id).c_str(), is_chosen);
  note(recorder, id, "button", is_there ? "there" : "not there");
  ImGui::SameLine(at);
  ImGui::TextUnformatted(elided(file.filename().string(), second - 8 * s).c_str());
  ImGui::SameLine(at + second);
  const std::string folder = file.parent_path().string();
  const std::string where = is_there ? folder : "not there any more: " + folder;
  ImGui::TextDisabled("%s", elided(where, width - second - 30 * s).c_str());
  ImGui::EndDisabled();
  return is_clicked;
}

}  // namespace

void recent_files(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
                  Intents& intents) {
  const EditState& edit = look.state.edit;
  if (edit.recent.empty() || edit.found_work || edit.browser.is_shown) {
    return;
  }
  const float s = ui_scale();
  const float width = std::min(560 * s, static_cast<float>(viewport.width) - 24 * s);
  const auto middle_x = static_cast<float>(viewport.x + viewport.width / 2);
  const auto middle_y = static_cast<float>(viewport.y + viewport.height / 2);
  begin_panel("recent", {middle_x - width / 2, middle_y + 44 * s}, width, 0.0F);
  heading("Lately open");
  for (std::size_t i = 0; i < std::min(edit.recent.size(), most_on_welcome); ++i) {
    if (file_row(look, edit.recent[i], width, id_of(edit.recent[i]), recorder)) {
      const Intents ask = command(look.state, id_of(edit.recent[i])).ask;
      intents.insert(intents.end(), ask.begin(), ask.end());
    }
  }
  note_panel(recorder, "panel/recent");
  ImGui::End();
}

std::optional<std::string> recent_rows(const Look& look, Recorder& recorder) {
  std::optional<std::string> clicked;
  const EditState& edit = look.state.edit;
  const float width = ImGui::GetContentRegionAvail().x;
  for (const std::string& path : edit.recent) {
    if (file_row(look, path, width, "browser/" + id_of(path), recorder)) {
      clicked = path;
    }
  }
  return clicked;
}

std::string recent_beside(const EditState& edit, const std::string& name, int way) {
  std::vector<std::string> there;
  std::copy_if(edit.recent.begin(), edit.recent.end(), std::back_inserter(there),
               [&](const std::string& path) { return !is_missing(edit, path); });
  const auto at = std::find(there.begin(), there.end(), name);
  if (there.empty() || (at == there.end() && way < 0)) {
    return name;
  }
  if (at == there.end()) {
    return there.front();
  }
  const bool is_first = at == there.begin();
  const bool is_last = at + 1 == there.end();
  return way < 0 ? (is_first ? std::string() : *(at - 1)) : is_last ? name : *(at + 1);
}

}  // namespace ridgeward::panels
