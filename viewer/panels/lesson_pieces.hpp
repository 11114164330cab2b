#pragma once
// The lesson's panel and what its pages share; private to the viewer.

#include "draw/palette.hpp"
#include "panels/lesson.hpp"
#include "panels/pieces.hpp"

#include <string>
#include <vector>

namespace ridgeward::panels {

// Numbers of the window's keys that the panels' library has no name for: letters are themselves.
inline constexpr int first_function_key = 291;  // F2
inline constexpr int space_key = 32;
inline constexpr int backspace_key = 259;

/// A key of the lesson, while no button or field has the keys.
bool pressed(const Look& look, int key);
/// In the letters of a room.
void large_words(const std::string& text, glm::vec3 colour = draw::ink);
/// A mark with words beside it.
void marked_words(Verdict verdict, const std::string& text, bool is_large);

/// One frame of it, in the panel at hand or on a slide.
class LessonPanel {
 public:
  LessonPanel(const Look& look, const scene::Viewport& viewport, bool is_slide, Recorder& recorder,
              Intents& intents)
      : look_(look),
        view_(look.state.lesson),
        viewport_(viewport),
        is_slide_(is_slide),
        recorder_(recorder),
        intents_(intents) {}

  void body();

 private:
  void ask(LessonIntent intent) { intents_.emplace_back(std::move(intent)); }
  bool button(const std::string& words, const std::string& id, float width, bool is_enabled = true);
  void tabs();
  void steps();
  void step_foot(const std::vector<papers::LessonStep>& steps);
  void go(const std::vector<papers::LessonStep>& steps, std::size_t step);
  void what_if();
  void switches(const WhatIfDesk& desk);
  scene::Camera view_of(papers::Mistake mistake, bool is_made) const {
    return camera_of(mistake, is_made, papers::lesson_of(look_.assessment, look_.state.style),
                     look_.scene, viewport_);
  }
  void outcome(const papers::Outcome& outcome);
  void quiz();
  void choices(const papers::Question& question);
  void go_to(const std::vector<papers::Question>& questions, std::size_t question);
  void quiz_foot(const std::vector<papers::Question>& questions);
  void export_row();
  void begin_words();
  void end_words();

  const Look& look_;
  const LessonView& view_;
  const scene::Viewport& viewport_;
  bool is_slide_;
  Recorder& recorder_;
  Intents& intents_;
};

}  // namespace ridgeward::panels
