// The lesson's questions.
#include "panels/lesson_pieces.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::panels {

void LessonPanel::choices(const papers::Question& question) {
  const bool given = view_.answers[view_.question].has_value();
  const std::size_t chosen = view_.answers[view_.question].value_or(question.choices.size());
  for (std::size_t i = 0; i < question.choices.size(); ++i) {
    const papers::Choice& choice = question.choices[i];
    const bool is_chosen = chosen == i;
    const bool is_right = i == question.right;
    ImGui::PushFont(font(Font::large));
    const bool clicked = ImGui::RadioButton(
        fmt::format("{}##choice-{}", typeset(choice.text), i).c_str(), is_chosen);
    ImGui::PopFont();
    note(recorder_, fmt::format("lesson/choice/{}", i), "radio",
         std::string(is_chosen ? "on " : "off ") + choice.text);
    const bool is_keyed = pressed(look_, first_function_key + static_cast<int>(i));
    if ((clicked || is_keyed) && !given) {
      ask(Answer{view_.question, i});
    }
    if (given && (is_chosen || is_right)) {
      marked_words(is_right ? Verdict::good : Verdict::fault,
                   (is_right ? "Right. " : "No. ") + choice.says, false);
      note(recorder_, fmt::format("lesson/feedback/{}", i), "text",
           (is_right ? "Right. " : "No. ") + choice.says);
    }
    ImGui::Spacing();
  }
}

/// Another question, and the place that it asks about in sight.
void LessonPanel::go_to(const std::vector<papers::Question>& questions, std::size_t question) {
  ask(ShowQuestion{question,
                   camera_of({papers::Topic::place, {}, {}, {}, questions[question].sight},
                             look_.scene, viewport_)});
}

void LessonPanel::quiz_foot(const std::vector<papers::Question>& questions) {
  const std::size_t count = questions.size();
  const float s = ui_scale();
  const float width = (ImGui::GetContentRegionAvail().x - 12 * s) / 3;
  if (button("Start again", "lesson/again", width)) {
    ask(RestartQuiz{});
  }
  ImGui::SameLine(0, 6 * s);
  const bool back = button("Back (Backspace)", "lesson/back", width, view_.question > 0);
  if ((back || pressed(look_, backspace_key)) && view_.question > 0) {
    go_to(questions, view_.question - 1);
  }
  ImGui::SameLine(0, 6 * s);
  const bool has_next = view_.question + 1 < count;
  const bool next = button("Next (Space)", "lesson/next", width, has_next);
  if ((next || pressed(look_, space_key)) && has_next) {
    go_to(questions, view_.question + 1);
  }
}

void LessonPanel::quiz() {
  const std::vector<papers::Question> questions =
      papers::questions_of(look_.assessment, look_.state.style);
  begin_words();
  if (view_.question < questions.size() && view_.question < view_.answers.size()) {
    const papers::Question& question = questions[view_.question];
    const auto answered = std::count_if(view_.answers.begin(), view_.answers.end(),
                                        [](const auto& one) { return one.has_value(); });
    const std::string score = fmt::format("{} of {} answered, {} right", answered, questions.size(),
                                          right_answers(view_, questions));
    ImGui::TextDisabled("Question %d of %d. %s", static_cast<int>(view_.question + 1),
                        static_cast<int>(questions.size()), score.c_str());
    note(recorder_, "lesson/score", "text", score);
    large_words(question.asks);
    note(recorder_, "lesson/asks", "text", question.asks);
    ImGui::Spacing();
    ImGui::Spacing();
    choices(question);
    if (!view_.answers[view_.question]) {
      ImGui::TextDisabled("%s", "Click an answer, or F2 for the first, F3 for the second ...");
    }
  } else {
    large_words("This house has nothing to ask about yet.");
  }
  end_words();
  quiz_foot(questions);
  export_row();
}

}  // namespace ridgeward::panels
