#include "papers/text_table.hpp"

#include "draw/palette.hpp"
#include "panels/lesson_pieces.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <array>

namespace ridgeward::panels {
namespace {

constexpr float foot_height = 78.0F;
constexpr float bar_height = 26.0F;  // of an export's progress

/// In lines that fit; no measure is broken, which the panels' library would do at its inch mark.
std::string in_lines(const std::string& text) {
  const float room = ImGui::GetContentRegionAvail().x;
  std::string lines;
  std::string line;
  for (const std::string& word : papers::words_of(text)) {
    const std::string longer = line.empty() ? word : fmt::format("{} {}", line, word);
    if (!line.empty() && ImGui::CalcTextSize(typeset(longer).c_str()).x > room) {
      lines += line + "\n";
      line = word;
    } else {
      line = longer;
    }
  }
  return typeset(lines + line);
}

std::string export_path_for(const std::string& model) {
  const std::string ending = ".roof.json";
  std::string stem = model;
  if (stem.size() > ending.size() && stem.ends_with(ending)) {
    stem.resize(stem.size() - ending.size());
  }
  return (stem.empty() ? std::string("roof") : stem) + "-lesson.pdf";
}

void title_words(const std::string& text) {
  ImGui::PushFont(font(Font::title));
  ImGui::TextWrapped("%s", text.c_str());
  ImGui::PopFont();
}

}  // namespace

bool pressed(const Look& look, int key) {
  return look.state.focus.id.empty() && !ImGui::GetIO().WantTextInput && ImGui::IsKeyPressed(key);
}

void large_words(const std::string& text, glm::vec3 colour) {
  ImGui::PushFont(font(Font::large));
  ImGui::PushStyleColor(ImGuiCol_Text, packed(colour));
  ImGui::TextUnformatted(in_lines(text).c_str());
  ImGui::PopStyleColor();
  ImGui::PopFont();
}

void marked_words(Verdict verdict, const std::string& text, bool is_large) {
  const float s = ui_scale();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  draw_mark(*ImGui::GetWindowDrawList(), {at.x + 8 * s, at.y + 9 * s}, 7 * s, verdict);
  ImGui::Indent(24 * s);
  if (is_large) {
    large_words(text, colour_of(verdict));
  } else {
    ImGui::TextUnformatted(in_lines(text).c_str());
  }
  ImGui::Unindent(24 * s);
}

bool LessonPanel::button(const std::string& words, const std::string& id, float width,
                         bool is_enabled) {
  ImGui::BeginDisabled(!is_enabled);
  const bool is_pressed = ImGui::Button((words + "##" + id).c_str(), {width, 0.0F});
  ImGui::EndDisabled();
  note(recorder_, id, "button", is_enabled ? words : "disabled");
  return is_pressed && is_enabled;
}

void LessonPanel::tabs() {
  const float s = ui_scale();
  constexpr std::array<std::array<const char*, 2>, 3> names{
      {{"Steps", "lesson/steps"}, {"What if", "lesson/what-if"}, {"Quiz", "lesson/quiz"}}};
  for (std::size_t i = 0; i < names.size(); ++i) {
    const bool is_here = view_.tab == static_cast<LessonTab>(i);
    if (i > 0) {
      ImGui::SameLine(0, 5 * s);
    }
    if (is_here) {
      for (const ImGuiCol colour :
           {ImGuiCol_Button, ImGuiCol_ButtonHovered, ImGuiCol_ButtonActive}) {
        ImGui::PushStyleColor(colour, packed(draw::intake));
      }
      ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::card));
    }
    if (button(names[i][0], names[i][1], 84 * s)) {
      ask(ShowTab{static_cast<LessonTab>(i)});
    }
    if (is_here) {
      ImGui::PopStyleColor(4);
    }
  }
  ImGui::SameLine(ImGui::GetWindowContentRegionMax().x - 78 * s);
  if (button("Close (J)", "lesson/close", 78 * s)) {
    ask(OpenLesson{false, 0});
  }
  ImGui::Separator();
}

void LessonPanel::begin_words() {
  const float foot = foot_height + (view_.is_writing ? bar_height : 0.0F);
  const float room = is_slide_ ? 0.0F : -foot * ui_scale();
  ImGui::BeginChild("words", {0.0F, room}, false, ImGuiWindowFlags_NoNav);
}

void LessonPanel::end_words() {
  ImGui::EndChild();
  if (!is_slide_) {
    ImGui::Separator();
  }
}

void LessonPanel::go(const std::vector<papers::LessonStep>& steps, std::size_t step) {
  ask(ShowStep{step, camera_of(steps[step], look_.scene, viewport_), layers_of(steps[step].topic)});
}

void LessonPanel::steps() {
  const std::vector<papers::LessonStep> steps =
      papers::lesson_of(look_.assessment, look_.state.style);
  const papers::LessonStep& step = steps[std::min(view_.step, steps.size() - 1)];
  begin_words();
  ImGui::TextDisabled("Step %d of %d", static_cast<int>(view_.step + 1),
                      static_cast<int>(steps.size()));
  title_words(step.title);
  note(recorder_, "lesson/title", "text", step.title);
  ImGui::Spacing();
  for (std::size_t i = 0; i < step.says.size(); ++i) {
    large_words(step.says[i]);
    note(recorder_, fmt::format("lesson/says/{}", i), "text", step.says[i]);
    ImGui::Spacing();
  }
  for (const std::string& caution : step.cautions) {
    marked_words(Verdict::caution, caution, false);
    note(recorder_, "lesson/caution", "text", caution);
    ImGui::Spacing();
  }
  end_words();
  if (!is_slide_) {
    step_foot(steps);
    export_row();
  }
}

void LessonPanel::step_foot(const std::vector<papers::LessonStep>& steps) {
  const float s = ui_scale();
  const float width = (ImGui::GetContentRegionAvail().x - 12 * s) / 3;
  if (button("Restart", "lesson/restart", width)) {
    go(steps, 0);
  }
  ImGui::SameLine(0, 6 * s);
  const bool back = button("Back (Backspace)", "lesson/back", width, view_.step > 0);
  if ((back || pressed(look_, backspace_key)) && view_.step > 0) {
    go(steps, view_.step - 1);
  }
  ImGui::SameLine(0, 6 * s);
  const bool has_next = view_.step + 1 < steps.size();
  const bool next = button("Next (Space)", "lesson/next", width, has_next);
  if ((next || pressed(look_, space_key)) && has_next) {
    go(steps, view_.step + 1);
  }
}

void LessonPanel::export_row() {
  const float s = ui_scale();
  std::string path = view_.export_path;
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - 116 * s);
  const bool entered =
      ImGui::InputText("##lesson-path", &path, ImGuiInputTextFlags_EnterReturnsTrue);
  note(recorder_, "lesson/path", "field", path);
  if (ImGui::IsItemHovered()) {
    ImGui::SetTooltip("A file F.pdf, or a folder for one picture (PNG) a step");
  }
  if (path != view_.export_path) {
    ask(TypeExport{path});
  }
  ImGui::SameLine(0, 6 * s);
  if (view_.is_writing) {
    if (button("Cancel", "lesson/stop", 110 * s)) {
      ask(StopExport{});
    }
  } else if ((button("Export lesson", "lesson/export", 110 * s) || entered) && !path.empty()) {
    ask(ExportLesson{path});
  }
  if (view_.is_writing) {
    progress_bar(view_.written_share, 0.0F, "lesson/share", recorder_);
  }
  if (!view_.export_told.empty()) {
    ImGui::TextDisabled("%s", view_.export_told.c_str());
    note(recorder_, "lesson/told", "text", view_.export_told);
  }
}

void LessonPanel::switches(const WhatIfDesk& desk) {
  for (std::size_t i = 0; i < desk.offers.size(); ++i) {
    const papers::WhatIf& offer = desk.offers[i];
    bool on = std::find(view_.mistakes.begin(), view_.mistakes.end(), offer.mistake) !=
              view_.mistakes.end();
    if (is_slide_ && !on) {
      continue;
    }
    ImGui::PushFont(font(Font::large));
    const std::string words =
        is_slide_ ? offer.title : fmt::format("{}  (F{})", offer.title, i + 2);
    const bool clicked = ImGui::Checkbox(words.c_str(), &on);
    ImGui::PopFont();
    note(recorder_, std::string("lesson/what-if/") + papers::word(offer.mistake), "checkbox",
         on ? "on" : "off");
    const bool is_keyed = !is_slide_ && pressed(look_, first_function_key + static_cast<int>(i));
    if (clicked || is_keyed) {
      const bool is_made = is_keyed ? !on : on;
      ask(SetMistake{offer.mistake, is_made, view_of(offer.mistake, is_made)});
    }
    ImGui::Indent(24 * ui_scale());
    ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::faint_ink));
    ImGui::TextWrapped("%s", offer.does.c_str());
    ImGui::PopStyleColor();
    ImGui::Unindent(24 * ui_scale());
  }
}

void LessonPanel::outcome(const papers::Outcome& outcome) {
  const float s = ui_scale();
  const float second = ImGui::GetContentRegionAvail().x - 168 * s;
  const float third = ImGui::GetContentRegionAvail().x - 82 * s;
  ImGui::Separator();
  ImGui::TextDisabled("%s", "of the largest space");
  ImGui::SameLine(second);
  ImGui::TextDisabled("%s", "as planned");
  ImGui::SameLine(third);
  ImGui::TextDisabled("%s", "what if");
  for (const papers::Change& change : outcome.changes) {
    ImGui::TextUnformatted(change.what.c_str());
    ImGui::SameLine(second);
    ImGui::TextUnformatted(typeset(change.before).c_str());
    ImGui::SameLine(third);
    ImGui::PushFont(font(change.is_changed() ? Font::bold : Font::text));
    ImGui::TextUnformatted(typeset(change.after).c_str());
    ImGui::PopFont();
    note(recorder_, "lesson/change/" + change.what, "text", change.before + " > " + change.after);
  }
  ImGui::Spacing();
  if (outcome.says.empty()) {
    marked_words(Verdict::good, "Nothing new is found.", false);
  }
  for (const papers::Remark& remark : outcome.says) {
    const Verdict verdict = verdict_of_severity(static_cast<int>(remark.severity));
    marked_words(verdict, remark.words, false);
    note(recorder_, "lesson/outcome", verdict == Verdict::fault ? "fault" : "text", remark.words);
    ImGui::Spacing();
  }
}

void LessonPanel::what_if() {
  begin_words();
  title_words("What if ...");
  if (!is_slide_) {
    ImGui::TextWrapped(
        "Mistakes on purpose, made on a copy and assessed like the house. Your file stays as it "
        "is.");
  }
  ImGui::Spacing();
  if (view_.desk) {
    switches(*view_.desk);
    if (!view_.desk->trouble.empty()) {
      marked_words(Verdict::fault, view_.desk->trouble, false);
    }
    if (const auto& told = view_.desk->outcome; told) {
      ImGui::Spacing();
      outcome(*told);
    }
    if (view_.desk->offers.empty()) {
      large_words("This house has no vents yet: there is nothing to do wrong with them.");
    }
  }
  end_words();
  if (!is_slide_) {
    if (button("As planned", "lesson/as-planned", 120 * ui_scale())) {
      for (const papers::Mistake mistake : view_.mistakes) {
        ask(SetMistake{mistake, false, view_of(mistake, false)});
      }
    }
    export_row();
  }
}

void LessonPanel::body() {
  if (!is_slide_) {
    tabs();
  }
  switch (view_.tab) {
    case LessonTab::steps:
      steps();
      return;
    case LessonTab::what_if:
      what_if();
      return;
    case LessonTab::quiz:
      quiz();
      return;
  }
}

Intents begin_lesson(const Look& look) {
  Intents intents;
  State open = look.state;
  open.lesson.is_open = true;
  const scene::Viewport viewport = window_viewport(look.width_px, look.height_px, open);
  const std::vector<papers::LessonStep> steps =
      papers::lesson_of(look.assessment, look.state.style);
  const std::size_t step = std::min(look.state.lesson.step, steps.size() - 1);
  const std::size_t questions = papers::questions_of(look.assessment, look.state.style).size();
  intents.emplace_back(LessonIntent{OpenLesson{true, questions}});
  if (look.state.lesson.export_path.empty()) {
    intents.emplace_back(LessonIntent{TypeExport{export_path_for(look.state.path)}});
  }
  intents.emplace_back(LessonIntent{
      ShowStep{step, camera_of(steps[step], look.scene, viewport), layers_of(steps[step].topic)}});
  return intents;
}

void lesson_button(const Look& look, Recorder& recorder, Intents& intents) {
  const bool clicked = ImGui::Button("Lesson (J)", {ImGui::GetContentRegionAvail().x, 0.0F});
  note(recorder, "lesson/open", "button", "");
  if (clicked) {
    const Intents more = begin_lesson(look);
    intents.insert(intents.end(), more.begin(), more.end());
  }
}

void draw_lesson(const Look& look, const scene::Viewport& viewport, bool is_slide,
                 Recorder& recorder, Intents& intents) {
  const float s = ui_scale();
  mark_lesson(look, viewport);
  // Close to the roof the title stands on it.
  ImGui::GetBackgroundDrawList()->AddRectFilled(
      {0.0F, 0.0F}, {static_cast<float>(viewport.width), static_cast<float>(viewport.y)},
      packed(draw::paper, 0.85F));
  const auto width = static_cast<float>(lesson_width());
  begin_panel("lesson", {static_cast<float>(look.width_px) - width - 10 * s, 10 * s}, width,
              static_cast<float>(look.height_px) - 20 * s);
  LessonPanel(look, viewport, is_slide, recorder, intents).body();
  note_panel(recorder, "panel/lesson");
  ImGui::End();
}

}  // namespace ridgeward::panels
