// Messages over the drawing, palette, files and questions.
#include "draw/palette.hpp"
#include "panels/edit_panels.hpp"
#include "panels/fields.hpp"
#include "panels/hand.hpp"
#include "panels/theme.hpp"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <array>
#include <filesystem>

namespace ridgeward::panels {
namespace {

void add(Intents& intents, const Intents& more) {
  intents.insert(intents.end(), more.begin(), more.end());
}

/// What the mouse does with the tool in the hand.
std::string hint(const EditState& edit) {
  switch (edit.tool) {
    case Tool::look:
      return "";
    case Tool::plan:
      return "Drag corners and edges. Double-click an edge for a new corner, Del takes one out. "
             "Wheel: nearer; right drag: move. Esc: done.";
    case Tool::draw:
      return edit.is_new
                 ? "New house: click the corners of its walls, or point (mouse or arrow "
                   "keys) and type a length and Enter. Click the first corner, or Enter, "
                   "to close."
                 : "Click the corners of the part's walls, or point (mouse or arrow keys) and "
                   "type a length and Enter. Click the first corner, or Enter, to close.";
    case Tool::intake:
      return "Click a roof plane for a run along its whole eave, or drag along it for a part. "
             "Esc: done.";
    case Tool::exhaust:
      return "Click a ridge or a hip; for vents by the piece a place on a plane; for louvres one "
             "on a "
             "gable wall. Esc: done.";
    case Tool::obstacle:
      return "Click a place on a roof plane. Esc: done.";
  }
  return "";
}

/// What is chosen for the tool.
void tool_choices(const Form& form) {
  const EditState& edit = form.look.state.edit;
  const auto products = [&](bool is_intake, const std::string& now) {
    std::vector<std::string> words;
    std::size_t chosen = 0;
    for (const ProductChoice& product : edit.products) {
      if (model::is_intake(product.kind) == is_intake) {
        chosen = product.id == now ? words.size() : chosen;
        words.push_back(product.id);
      }
    }
    if (const auto picked = choice_field(form, "tool/product", "Product", words, chosen)) {
      form.intents.emplace_back(EditIntent(ChooseProduct{is_intake, words[*picked]}));
    }
  };
  if (edit.tool == Tool::intake) {
    products(true, edit.intake_product);
  } else if (edit.tool == Tool::exhaust) {
    products(false, edit.exhaust_product);
  } else if (edit.tool == Tool::obstacle) {
    const std::vector<std::string> words{"chimney", "skylight", "pipe", "solar"};
    if (const auto picked = choice_field(form, "tool/obstacle", "What", words,
                                         static_cast<std::size_t>(edit.obstacle_kind))) {
      form.intents.emplace_back(
          EditIntent(ChooseObstacle{static_cast<model::ObstacleKind>(*picked)}));
    }
  }
}

void coloured(glm::vec3 colour, const std::string& words) {
  ImGui::PushStyleColor(ImGuiCol_Text, packed(colour));
  ImGui::TextWrapped("%s", words.c_str());
  ImGui::PopStyleColor();
}

/// A panel in the middle of the window.
void begin_dialog(const Look& look, const char* id, float width) {
  const float s = ui_scale();
  ImGui::SetNextWindowFocus();
  ImGui::SetNextWindowBgAlpha(1.0F);
  begin_panel(id,
              {(static_cast<float>(look.width_px) - width * s) / 2,
               static_cast<float>(look.height_px) * 0.16F},
              width * s, 0.0F);
}

void palette(const Look& look, Recorder& recorder, Intents& intents) {
  const EditState& edit = look.state.edit;
  begin_dialog(look, "palette", 520);
  ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, {0.0F, 0.5F});
  const std::string text = typed_on(edit.palette_text);
  const bool is_entered = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter));
  // Not a field of the library's, which takes letters only a frame after it was shown.
  ImGui::PushStyleColor(ImGuiCol_Text, packed(text.empty() ? draw::faint_ink : draw::ink));
  ImGui::Button((text.empty() ? "What do you want to do?" : text + "_").c_str(),
                {ImGui::GetContentRegionAvail().x, 0.0F});
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
  note(recorder, "palette/text", "field", text);
  State closed = look.state;  // Esc means there what lies under the palette
  closed.edit.has_palette = false;
  const std::vector<Command> found = matching(commands(closed), text);
  std::size_t row = text == edit.palette_text ? edit.palette_row : 0;
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_DownArrow)) && row + 1 < found.size()) {
    ++row;
  }
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_UpArrow)) && row > 0) {
    --row;
  }
  if (text != edit.palette_text || row != edit.palette_row) {
    intents.emplace_back(EditIntent(TypePalette{text, row}));
  }
  ImGui::BeginChild("found", {0, 330 * ui_scale()});
  if (found.empty()) {
    const std::string words = "Nothing is called so: " + text;
    ImGui::TextWrapped("%s", words.c_str());
    ImGui::TextDisabled("Backspace takes letters back, Esc closes this.");
    note(recorder, "palette/nothing", "text", words);
  }
  for (std::size_t i = 0; i < found.size(); ++i) {
    const Command& one = found[i];
    ImGui::BeginDisabled(!one.can_be_done());
    const bool is_pressed = ImGui::Selectable((one.words + "##" + one.id).c_str(), i == row) ||
                            (is_entered && i == row);
    note(recorder, "palette/" + one.id, "button", one.words);
    ImGui::EndDisabled();
    ImGui::SameLine(ImGui::GetWindowContentRegionMax().x - ImGui::CalcTextSize(one.keys.c_str()).x -
                    4);
    ImGui::TextDisabled("%s", one.keys.c_str());
    if (i == row && row != edit.palette_row) {
      ImGui::SetScrollHereY();
    }
    if (is_pressed && one.can_be_done()) {
      intents.emplace_back(EditIntent(ShowPalette{false}));
      add(intents, one.ask);
    }
  }
  ImGui::EndChild();
  note_panel(recorder, "panel/palette");
  ImGui::End();
}

struct BrowserWords {
  const char* title;
  const char* act;
};
BrowserWords words_of(Browser::For what) {
  switch (what) {
    case Browser::For::open:
      return {"Open a model file", "Open"};
    case Browser::For::save:
      return {"Save as", "Save"};
    case Browser::For::import:
      return {"Import a file of another format", "Import"};
    case Browser::For::export_to:
      return {"Export or print", "Write"};
  }
  return {"", ""};
}

/// With the texts as they stand in this frame; whether the list goes away is for who grants it.
void browser_act(const Form& form, const std::string& folder, const std::string& name) {
  if (name.empty()) {
    return;
  }
  const std::string path = (std::filesystem::path(folder) / name).string();
  switch (form.look.state.edit.browser.what) {
    case Browser::For::open:
      form.intents.emplace_back(EditIntent(Wish(OpenFile{path})));
      return;
    case Browser::For::save:
      form.intents.emplace_back(EditIntent(Wish(SaveAs{path})));
      return;
    case Browser::For::import:
      form.intents.emplace_back(EditIntent(Wish(ImportFile{path, {}, {}})));
      return;
    case Browser::For::export_to:
      form.intents.emplace_back(EditIntent(Wish(ExportFile{path})));
      return;
  }
}

void browser_entries(const Form& form) {
  const Browser& browser = form.look.state.edit.browser;
  ImGui::BeginChild("entries", {0, 280 * ui_scale()}, true);
  if (ImGui::Selectable("../")) {
    form.intents.emplace_back(EditIntent(
        Browse{std::filesystem::path(browser.folder).parent_path().string(), browser.name}));
  }
  note(form.recorder, "browser/up", "button", "../");
  for (const Browser::Entry& entry : browser.entries) {
    const std::string words = entry.is_folder ? entry.name + "/" : entry.name;
    if (ImGui::Selectable(words.c_str(), entry.name == browser.name,
                          ImGuiSelectableFlags_AllowDoubleClick)) {
      const std::string inside = (std::filesystem::path(browser.folder) / entry.name).string();
      form.intents.emplace_back(EditIntent(entry.is_folder ? Browse{inside, browser.name}
                                                           : Browse{browser.folder, entry.name}));
      if (!entry.is_folder && ImGui::IsMouseDoubleClicked(0)) {
        browser_act(form, browser.folder, entry.name);
      }
    }
    note(form.recorder, "browser/entry/" + entry.name, "button", words);
  }
  if (browser.entries.empty()) {
    ImGui::TextDisabled("Nothing of that kind is here.");
  }
  ImGui::EndChild();
}

/// What was open lately, to be opened again.
void browser_recent(const Form& form) {
  const EditState& edit = form.look.state.edit;
  if (edit.browser.what != Browser::For::open || edit.recent.empty()) {
    return;
  }
  const float most_rows = 5.5F;
  const float rows = std::min(static_cast<float>(edit.recent.size()), most_rows);
  ImGui::TextDisabled("Lately open (Down and Up, then Enter)");
  const ImGuiStyle& style = ImGui::GetStyle();
  ImGui::BeginChild("recent-rows",
                    {0, rows * ImGui::GetTextLineHeightWithSpacing() + 2 * style.WindowPadding.y},
                    true);
  if (const auto path = recent_rows(form.look, form.recorder)) {
    form.intents.emplace_back(EditIntent(Wish(OpenFile{*path})));
  }
  ImGui::EndChild();
}

/// Down and Up in the field of the name go through the files that were open lately.
int walk_recent(ImGuiInputTextCallbackData* data) {
  const auto& edit = *static_cast<const EditState*>(data->UserData);
  if (edit.browser.what == Browser::For::open) {
    const std::string now(data->Buf, static_cast<std::size_t>(data->BufTextLen));
    const std::string next = recent_beside(edit, now, data->EventKey == ImGuiKey_UpArrow ? -1 : 1);
    data->DeleteChars(0, data->BufTextLen);
    data->InsertChars(0, next.c_str());
  }
  return 0;
}

void browser_panel(const Look& look, Recorder& recorder, Intents& intents) {
  const Form form{look, recorder, intents};
  const Browser& browser = look.state.edit.browser;
  const BrowserWords words = words_of(browser.what);
  begin_dialog(look, "browser", 560);
  heading(words.title);
  browser_recent(form);
  std::string folder = browser.folder;
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
  ImGui::InputText("##folder", &folder);
  note(recorder, "browser/folder", "field", folder);
  browser_entries(form);
  if (!browser.endings.empty()) {
    std::string endings = browser.what == Browser::For::export_to ? "Endings:" : "Shown:";
    for (const std::string& ending : browser.endings) {
      endings += " " + ending;
    }
    ImGui::TextWrapped("%s", endings.c_str());
    if (const auto on = check_field(form, "browser/all", "Show all files", browser.shows_all)) {
      intents.emplace_back(EditIntent(ShowAllFiles{*on}));
    }
  }
  std::string name = browser.name;
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted("Name");
  ImGui::SameLine();
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
  if (!ImGui::IsAnyItemActive()) {
    ImGui::SetKeyboardFocusHere();
  }
  EditState edit = look.state.edit;  // the library hands it on as a thing that may be changed
  const bool is_entered =
      ImGui::InputText("##name", &name,
                       ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll |
                           ImGuiInputTextFlags_CallbackHistory,
                       walk_recent, &edit);
  note(recorder, "browser/name", "field", name);
  if (folder != browser.folder || name != browser.name) {
    intents.emplace_back(EditIntent(Browse{folder, name}));
  }
  if (button(form, "browser/act", words.act, 0.0F, !name.empty()) || is_entered) {
    browser_act(form, folder, name);
  }
  ImGui::SameLine();
  if (button(form, "browser/cancel", "Cancel (Esc)")) {
    intents.emplace_back(EditIntent(CloseBrowser{}));
  }
  if (const std::string& trouble = look.state.edit.trouble; !trouble.empty()) {
    coloured(draw::bad, trouble);
    note(recorder, "browser/trouble", "text", trouble);
  }
  note_panel(recorder, "panel/browser");
  ImGui::End();
}

/// How a question is answered without a mouse.
void by_keys() {
  ImGui::PushFont(font(Font::small_text));
  ImGui::TextDisabled("Tab or arrow keys choose, Enter presses.");
  ImGui::PopFont();
}

void unsaved_question(const Look& look, Recorder& recorder, Intents& intents) {
  const Form form{look, recorder, intents};
  begin_dialog(look, "unsaved", 430);
  heading("There are changes that are not saved");
  ImGui::Spacing();
  const auto answer = [&](const char* id, const char* words, Unsaved::Answer which) {
    if (button(form, std::string("unsaved/") + id, words)) {
      intents.emplace_back(EditIntent(Wish(Unsaved{which})));
    }
    ImGui::SameLine();
  };
  answer("save", "Save", Unsaved::Answer::save);
  answer("discard", "Throw them away", Unsaved::Answer::discard);
  answer("cancel", "Go back (Esc)", Unsaved::Answer::cancel);
  ImGui::NewLine();
  by_keys();
  note_panel(recorder, "panel/unsaved");
  ImGui::End();
}

void replace_question(const Look& look, Recorder& recorder, Intents& intents) {
  const Form form{look, recorder, intents};
  begin_dialog(look, "replace", 460);
  heading("There is a file of that name");
  ImGui::TextWrapped("%s", look.state.edit.asks_replace.c_str());
  ImGui::Spacing();
  if (button(form, "replace/yes", "Replace it")) {
    intents.emplace_back(EditIntent(Wish(Replace{true})));
  }
  ImGui::SameLine();
  if (button(form, "replace/no", "Go back (Esc)")) {
    intents.emplace_back(EditIntent(Wish(Replace{false})));
  }
  note_panel(recorder, "panel/replace");
  ImGui::End();
}

void recover_question(const Look& look, Recorder& recorder, Intents& intents) {
  const Form form{look, recorder, intents};
  begin_dialog(look, "recover", 460);
  heading("Work was found that was not saved");
  const std::string path = look.state.edit.found_work.value_or("");
  ImGui::TextWrapped(
      "%s", path.empty() ? "A house that had no file yet." : ("Changes to " + path).c_str());
  ImGui::Spacing();
  const auto answer = [&](const char* id, const char* words, Recover::Answer which) {
    if (button(form, std::string("recover/") + id, words)) {
      intents.emplace_back(EditIntent(Wish(Recover{which})));
    }
    ImGui::SameLine();
  };
  answer("take", "Recover it", Recover::Answer::take);
  answer("discard", "Throw it away", Recover::Answer::discard);
  answer("later", "Ask again later (Esc)", Recover::Answer::later);
  ImGui::NewLine();
  by_keys();
  note_panel(recorder, "panel/recover");
  ImGui::End();
}

/// What the last edit said or why it could not be done, with a button beside it that takes it away.
void outcome(const Form& form) {
  const EditState& edit = form.look.state.edit;
  const bool has_trouble =
      !edit.trouble.empty() && !edit.browser.is_shown;  // the list says its own
  if (!has_trouble && edit.said.empty()) {
    return;
  }
  const float right = ImGui::GetWindowContentRegionMax().x - 34 * ui_scale();
  const float top = ImGui::GetCursorPosY();
  ImGui::PushTextWrapPos(right - 8 * ui_scale());
  if (has_trouble) {
    ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::bad));
    ImGui::TextUnformatted(edit.trouble.c_str());
    ImGui::PopStyleColor();
    note(form.recorder, "message/trouble", "text", edit.trouble);
  }
  for (std::size_t i = 0; i < edit.said.size(); ++i) {
    ImGui::TextUnformatted(edit.said[i].c_str());
    note(form.recorder, "message/said/" + std::to_string(i), "text", edit.said[i]);
  }
  ImGui::PopTextWrapPos();
  const float below = ImGui::GetCursorPosY();
  ImGui::SetCursorPos({right, top});
  if (button(form, "message/forget", "OK")) {
    form.intents.emplace_back(EditIntent(Forget{}));
  }
  ImGui::SetCursorPosY(std::max(below, ImGui::GetCursorPosY()));
}

}  // namespace

void messages(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
              Intents& intents) {
  const Form form{look, recorder, intents};
  const EditState& edit = look.state.edit;
  const std::string help = hint(edit);
  if (help.empty() && edit.trouble.empty() && edit.said.empty() && edit.busy.empty() &&
      !edit.waits_for_dialog) {
    return;
  }
  const float s = ui_scale();
  // Over the title rather than over the house, as far as two lines go.
  ImGui::SetNextWindowBgAlpha(1.0F);
  begin_panel("messages", {static_cast<float>(viewport.x) + 6 * s, toolbar_height() + 10 * s},
              static_cast<float>(viewport.width) - 12 * s, 0.0F);
  if (!help.empty()) {
    coloured(draw::faint_ink, help);
    note(recorder, "message/hint", "text", help);
    tool_choices(form);
  }
  if (!edit.busy.empty()) {
    ImGui::TextWrapped("%s ...", edit.busy.c_str());
    note(recorder, "message/busy", "text", edit.busy);
    progress_bar(edit.busy_share, 90 * s, "message/share", recorder);
    ImGui::SameLine();
    if (button(form, "work/stop", "Cancel")) {
      intents.emplace_back(EditIntent(Wish(StopWork{})));
    }
  }
  if (edit.waits_for_dialog) {
    ImGui::TextWrapped("Choose the file in the desktop's own window.");
    note(recorder, "message/dialog", "text", "");
    if (button(form, "dialog/here", "List files here instead")) {
      intents.emplace_back(EditIntent(Wish(Pick{edit.browser.what, true})));
    }
    ImGui::SameLine();
    if (button(form, "dialog/stop", "Cancel")) {
      intents.emplace_back(EditIntent(Wish(StopPick{})));
    }
  }
  outcome(form);
  note_panel(recorder, "panel/messages");
  ImGui::End();
}

void dialogs(const Look& look, Recorder& recorder, Intents& intents) {
  const EditState& edit = look.state.edit;
  if (edit.found_work) {
    recover_question(look, recorder, intents);
  } else if (edit.asks_unsaved) {
    unsaved_question(look, recorder, intents);
  } else if (!edit.asks_replace.empty()) {
    replace_question(look, recorder, intents);
  } else if (edit.browser.is_shown) {
    browser_panel(look, recorder, intents);
  } else if (edit.has_palette) {
    palette(look, recorder, intents);
  }
}

}  // namespace ridgeward::panels
