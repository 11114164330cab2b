// The list of keys: what the table of commands has, by what it is for, beside what the mouse does.
#include "draw/palette.hpp"
#include "panels/commands.hpp"
#include "panels/fields.hpp"
#include "panels/theme.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

namespace ridgeward::panels {
namespace {

struct KeyRow {
  std::string keys;
  std::string words;
  std::string id;  ///< of the first of its commands; empty: the mouse's
};
struct KeyGroup {
  const char* title;
  std::vector<KeyRow> rows;
};

std::vector<KeyRow> mouse_rows() {
  return {{"Drag left", "Turn around the house", {}},
          {"Drag right, Shift+drag", "Move it", {}},
          {"Wheel", "Nearer, farther", {}},
          {"Click", "Select a plane or a line", {}},
          {"Two clicks on lines", "Length; distance, angle", {}},
          {"Drag on the ribbon", "Move or trim a run", {}}};
}

/// Rows of the commands whose ids begin with one of `starts`.
std::vector<KeyRow> rows_of(const std::vector<Command>& all,
                            const std::vector<std::string>& starts) {
  std::vector<KeyRow> rows;
  std::set<std::string> families;
  for (const Command& one : all) {
    const bool is_its = std::any_of(starts.begin(), starts.end(), [&](const std::string& start) {
      return one.id.starts_with(start);
    });
    if (!is_its || one.keys.empty() ||
        (!one.family.empty() && !families.insert(one.family).second)) {
      continue;
    }
    const auto& known = key_families();
    const auto family = std::find_if(
        known.begin(), known.end(), [&](const KeyFamily& other) { return one.family == other.id; });
    KeyRow row{one.keys, one.words, one.id};
    for (const std::string& key : one.also) {
      row.keys += ", " + key;
    }
    if (family != known.end()) {
      row.keys = family->keys;
      row.words = family->words;
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

/// Groups, column by column.
std::array<std::vector<KeyGroup>, 3> columns(const State& state) {
  // As they are when nothing is under way, with all that a cut house has.
  State usual;
  usual.has_model = true;
  usual.style = state.style;
  usual.edit.is_open = true;
  usual.sight.cut.way = scene::CutWay::across;
  const std::vector<Command> all = commands(usual);
  return {{{{"The mouse", mouse_rows()},
            {"Looking",
             rows_of(all, {"view/fit", "view/frame", "look/", "view/turn", "view/flat", "view/cut",
                           "view/peel", "view/measure", "view/sun", "layer/", "view/air"})}},
           {{"Selecting and moving by keys", rows_of(all, {"select/", "edit/enter", "move/"})},
            {"Panels", rows_of(all, {"view/next", "view/control", "view/panel", "view/clear"})},
            {"Window", rows_of(all, {"view/units", "view/dark", "view/large", "view/keys",
                                     "view/commands", "lesson/"})}},
           {{"Files", rows_of(all, {"file/"})},
            {"Editing", rows_of(all, {"edit/undo", "edit/redo", "edit/fields", "edit/remove",
                                      "tool/", "add/", "vents/"})}}}};
}

float width_of(const std::string& text) { return ImGui::CalcTextSize(text.c_str()).x; }

/// Widths of a column's keys and words.
struct Widths {
  float keys = 0.0F;
  float words = 0.0F;
};

Widths widths_of(const std::vector<KeyGroup>& groups) {
  Widths widths;
  for (const KeyGroup& group : groups) {
    for (const KeyRow& row : group.rows) {
      widths.keys = std::max(widths.keys, width_of(row.keys));
      widths.words = std::max(widths.words, width_of(row.words));
    }
  }
  return widths;
}

/// One column at `left`; `words` is where its words start.
void draw_column(const std::vector<KeyGroup>& groups, float left, float words, Recorder& recorder) {
  for (const KeyGroup& group : groups) {
    ImGui::SetCursorPosX(left);
    heading(group.title);
    for (const KeyRow& row : group.rows) {
      ImGui::SetCursorPosX(left);
      ImGui::TextUnformatted(row.keys.c_str());
      if (!row.id.empty()) {
        note(recorder, "keys/" + row.id, "text", row.keys);
      }
      ImGui::SameLine();
      ImGui::SetCursorPosX(words);
      ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::faint_ink));
      ImGui::TextUnformatted(row.words.c_str());
      ImGui::PopStyleColor();
      if (!row.id.empty()) {
        note(recorder, "keys/words/" + row.id, "text", row.words);
      }
    }
    ImGui::Dummy({0.0F, ImGui::GetTextLineHeight() / 3});
  }
}

}  // namespace

const std::vector<KeyFamily>& key_families() {
  static const std::vector<KeyFamily> families{
      {"look", "1 ... 9", "Look from a side (number pad)"},
      {"turn", "Arrow keys", "Turn"},
      {"plane", "W, Shift+W", "Next plane; in plan: edge"},
      {"line", "K, Shift+K", "Next line; in plan: corner"},
      {"bay", "B, Shift+B", "Next bay"},
      {"thing", "R, Shift+R", "Next run, vent or obstacle"},
      {"move", "Shift+arrows", "Move it by 1 in or 1 cm"},
      {"far", "Ctrl+arrows", "By a bay; others 2 ft, 50 cm"},
      {"trim-from", "Alt+Left, Right", "Its left end, by a bay"},
      {"trim-to", "Ctrl+Shift+Left, Right", "Its right end, by a bay"},
      {"controls", "Tab, Shift+Tab", "Next button, field or slider"},
      {"panels", "F6, Shift+F6", "Next panel"}};
  return families;
}

void keys_panel(const Look& look, Recorder& recorder, Intents& intents) {
  // All of it at once, in smaller letters where the window is small.
  constexpr float whole_height = 640.0F;
  constexpr float key_gap = 12.0F;
  constexpr float column_gap = 26.0F;
  const auto all = columns(look.state);
  float whole_width = 2 * ImGui::GetStyle().WindowPadding.x - column_gap * ui_scale();
  for (const auto& groups : all) {
    const Widths widths = widths_of(groups);
    whole_width += widths.keys + widths.words + (key_gap + column_gap) * ui_scale();
  }
  const float fit = std::min({1.0F, (static_cast<float>(look.width_px) - 16.0F) / whole_width,
                              static_cast<float>(look.height_px) / (whole_height * ui_scale())});
  const float s = fit * ui_scale();
  const float width = std::ceil(whole_width * fit) + 2.0F;
  ImGui::SetNextWindowFocus();
  ImGui::SetNextWindowBgAlpha(1.0F);
  begin_panel(
      "keys",
      {(static_cast<float>(look.width_px) - width) / 2, static_cast<float>(look.height_px) * 0.03F},
      width, 0.0F);
  ImGui::SetWindowFontScale(fit);
  float x = ImGui::GetCursorPosX();
  const float y = ImGui::GetCursorPosY();
  float low = y;
  for (const auto& groups : all) {
    const Widths widths = widths_of(groups);
    ImGui::SetCursorPosY(y);
    draw_column(groups, x, x + widths.keys + key_gap * s, recorder);
    x += widths.keys + widths.words + (key_gap + column_gap) * s;
    low = std::max(low, ImGui::GetCursorPosY());
  }
  ImGui::SetCursorPosY(low);
  const Form form{look, recorder, intents};
  if (button(form, "keys/close", "Close (Esc)")) {
    intents.emplace_back(ShowKeys{false});
  }
  note_panel(recorder, "panel/keys");
  ImGui::End();
}

}  // namespace ridgeward::panels
