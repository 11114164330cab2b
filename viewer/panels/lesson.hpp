#pragma once
// Lesson mode: this house's job step by step, mistakes on purpose, questions. What it remembers and
// what can be asked of it.

#include "papers/lesson.hpp"
#include "papers/what_if.hpp"

#include "scene/camera.hpp"
#include "scene/layers.hpp"
#include "scene/scene.hpp"

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ridgeward::panels {

struct State;

enum class LessonTab { steps, what_if, quiz };

/// What whoever assesses has worked out for the lesson.
struct WhatIfDesk {
  std::vector<papers::WhatIf> offers;
  std::optional<papers::Outcome> outcome;  ///< of the mistakes made
  std::string trouble;                     ///< why the house with mistakes can't be assessed
};

struct LessonView {
  bool is_open = false;
  LessonTab tab = LessonTab::steps;
  std::size_t step = 0;
  std::vector<papers::Mistake> mistakes;  ///< made just now, on a copy of the model
  std::shared_ptr<const WhatIfDesk> desk;
  std::size_t question = 0;
  std::vector<std::optional<std::size_t>> answers;  ///< the choice first made, by question
  std::string export_path;
  std::string export_told;                  ///< what became of the last export
  std::optional<std::string> wants_export;  ///< taken up by whoever writes files
  bool is_writing = false;
  std::optional<double> written_share;  ///< 0 to 1, where it is known
  bool wants_stop = false;              ///< likewise
  // As they were before the lesson.
  scene::Layers layers_before;
  scene::Camera camera_before;
};

/// Opening starts where the lesson was left; closing puts layers and camera back.
struct OpenLesson {
  bool on = true;
  std::size_t questions = 0;  ///< how many there are
};
struct ShowTab {
  LessonTab tab = LessonTab::steps;
};
/// A step, with what it is to be seen from.
struct ShowStep {
  std::size_t step = 0;
  scene::Camera camera;
  scene::Layers layers;
};
struct SetMistake {
  papers::Mistake mistake = papers::Mistake::bay;
  bool on = true;
  std::optional<scene::Camera> camera;  ///< from where it is to be seen
};
struct ShowQuestion {
  std::size_t question = 0;
};
/// The first answer to a question counts; later ones are only explained.
struct Answer {
  std::size_t question = 0;
  std::size_t choice = 0;
};
struct RestartQuiz {};
struct TypeExport {
  std::string path;
};
struct ExportLesson {
  std::string path;
};
struct StopExport {};
using LessonIntent = std::variant<OpenLesson, ShowTab, ShowStep, SetMistake, ShowQuestion, Answer,
                                  RestartQuiz, TypeExport, ExportLesson, StopExport>;

/// Does what was asked. An ExportLesson is only noted in `wants_export`.
void apply(State& state, const LessonIntent& intent, const scene::Scene& scene,
           const scene::Viewport& viewport);

/// The camera that shows what a step speaks of.
scene::Camera camera_of(const papers::LessonStep& step, const scene::Scene& scene,
                        const scene::Viewport& viewport);
/// The one for a mistake made or taken back: one bay is seen from where the step about the slot's
/// place sees it, all else from where the whole house is.
scene::Camera camera_of(papers::Mistake mistake, bool is_made,
                        const std::vector<papers::LessonStep>& steps, const scene::Scene& scene,
                        const scene::Viewport& viewport);
/// The layers that a step needs.
scene::Layers layers_of(papers::Topic topic);

/// How many questions were answered right.
std::size_t right_answers(const LessonView& view, const std::vector<papers::Question>& questions);

/// Width of the lesson's panel, in pixels.
double lesson_width();

}  // namespace ridgeward::panels
