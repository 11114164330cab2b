#include "panels/lesson.hpp"

#include "panels/pieces.hpp"
#include "panels/theme.hpp"
#include "scene/pick.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::panels {
namespace {

using scene::Layer;
using scene::Layers;

constexpr float panel_share = 404.0F;
constexpr double aside_rad = 0.4;   // so that depth is seen
constexpr double steep_rad = 0.62;  // over the level of what a step looks at
constexpr double around_house = 0.1;
constexpr double around_detail = 0.16;

Layers only(std::initializer_list<Layer> shown) {
  Layers layers;
  for (const Layer layer : shown) {
    layers.set(layer, true);
  }
  return layers;
}

void open(State& state, const OpenLesson& ask) {
  LessonView& view = state.lesson;
  if (view.is_open == ask.on) {
    return;
  }
  view.is_open = ask.on;
  view.mistakes.clear();
  if (ask.on) {
    view.layers_before = state.layers;
    view.camera_before = goal(state);
    // The lesson shows a whole house.
    state.sight.cut = {};
    state.sight.peeled.clear();
    state.sight.is_measuring = false;
    view.answers.resize(ask.questions);
    view.question = std::min(view.question, ask.questions == 0 ? 0 : ask.questions - 1);
    state.selected = {};
    state.keys_shown = false;
  } else {
    state.layers = view.layers_before;
    glide_to(state, view.camera_before);
    view.export_told.clear();
  }
}

void set_mistake(LessonView& view, const SetMistake& ask) {
  std::erase(view.mistakes, ask.mistake);
  if (ask.on) {
    view.mistakes.push_back(ask.mistake);
    std::sort(view.mistakes.begin(), view.mistakes.end());
  }
}

}  // namespace

scene::Layers layers_of(papers::Topic topic) {
  switch (topic) {
    case papers::Topic::why:
      return only({Layer::planes, Layer::see_through, Layer::lines, Layer::bays, Layer::slots,
                   Layer::exhaust, Layer::walls, Layer::obstacles, Layer::ceiling,
                   Layer::insulation});
    case papers::Topic::code:
      return only({Layer::planes, Layer::see_through, Layer::lines, Layer::slots, Layer::exhaust,
                   Layer::walls, Layer::obstacles, Layer::ceiling, Layer::findings});
    case papers::Topic::balance:
      return only({Layer::planes, Layer::lines, Layer::slots, Layer::exhaust, Layer::walls,
                   Layer::obstacles});
    case papers::Topic::place:
      return only({Layer::planes, Layer::lines, Layer::members, Layer::bays, Layer::slots,
                   Layer::walls, Layer::obstacles, Layer::names});
    case papers::Topic::lines:
      return only({Layer::planes, Layer::lines, Layer::lengths, Layer::members, Layer::slots,
                   Layer::walls, Layer::obstacles});
    case papers::Topic::cut:
      return only({Layer::planes, Layer::see_through, Layer::lines, Layer::members, Layer::slots,
                   Layer::bays, Layer::walls, Layer::obstacles});
    case papers::Topic::sections:
    case papers::Topic::shingles:
      return only({Layer::planes, Layer::lines, Layer::slots, Layer::walls, Layer::obstacles});
    case papers::Topic::trouble:
      return only({Layer::planes, Layer::lines, Layer::members, Layer::bays, Layer::slots,
                   Layer::exhaust, Layer::walls, Layer::obstacles, Layer::findings});
  }
  return scene::usual_layers();
}

scene::Camera camera_of(const papers::LessonStep& step, const scene::Scene& scene,
                        const scene::Viewport& viewport) {
  const papers::Sight& sight = step.sight;
  const bool has_side = sight.from != glm::dvec3(0.0);
  scene::Camera camera = has_side ? scene::Camera{} : scene::best_view(scene);
  if (has_side) {
    camera.azimuth_rad = std::atan2(sight.from.x, sight.from.y) + aside_rad;
    camera.elevation_rad = steep_rad;
  }
  return sight.points.empty() ? scene::fitted(camera, scene.corners, viewport, around_house)
                              : scene::fitted(camera, sight.points, viewport, around_detail);
}

scene::Camera camera_of(papers::Mistake mistake, bool is_made,
                        const std::vector<papers::LessonStep>& steps, const scene::Scene& scene,
                        const scene::Viewport& viewport) {
  const bool is_near = mistake == papers::Mistake::bay && is_made;
  const auto step = std::find_if(steps.begin(), steps.end(), [](const papers::LessonStep& one) {
    return one.topic == papers::Topic::place;
  });
  return camera_of(is_near && step != steps.end() ? *step : papers::LessonStep{}, scene, viewport);
}

std::size_t right_answers(const LessonView& view, const std::vector<papers::Question>& questions) {
  std::size_t right = 0;
  for (std::size_t i = 0; i < std::min(view.answers.size(), questions.size()); ++i) {
    right += view.answers[i] == questions[i].right ? 1 : 0;  // none given is none right
  }
  return right;
}

double lesson_width() { return static_cast<double>(panel_share * ui_scale()); }

void apply(State& state, const LessonIntent& intent, const scene::Scene& /*scene*/,
           const scene::Viewport& /*viewport*/) {
  LessonView& view = state.lesson;
  if (const auto* ask = std::get_if<OpenLesson>(&intent)) {
    open(state, *ask);
  } else if (const auto* tab = std::get_if<ShowTab>(&intent)) {
    view.tab = tab->tab;
    view.mistakes.clear();
    if (tab->tab == LessonTab::what_if) {
      state.layers = layers_of(papers::Topic::trouble);
    }
  } else if (const auto* step = std::get_if<ShowStep>(&intent)) {
    view.step = step->step;
    state.layers = step->layers;
    glide_to(state, step->camera, lesson_glide_s);
  } else if (const auto* mistake = std::get_if<SetMistake>(&intent)) {
    set_mistake(view, *mistake);
    if (mistake->camera) {
      glide_to(state, *mistake->camera, lesson_glide_s);
    }
  } else if (const auto* question = std::get_if<ShowQuestion>(&intent)) {
    view.question = question->question;
    if (question->camera) {
      glide_to(state, *question->camera, lesson_glide_s);
    }
  } else if (const auto* answer = std::get_if<Answer>(&intent)) {
    if (answer->question < view.answers.size() && !view.answers[answer->question]) {
      view.answers[answer->question] = answer->choice;
    }
  } else if (std::holds_alternative<RestartQuiz>(intent)) {
    view.answers.assign(view.answers.size(), std::nullopt);
    view.question = 0;
  } else if (const auto* typed = std::get_if<TypeExport>(&intent)) {
    view.export_path = typed->path;
  } else if (const auto* asked = std::get_if<ExportLesson>(&intent)) {
    view.wants_export = asked->path;
    view.export_told = "Writing " + asked->path + " ...";
  } else if (std::holds_alternative<StopExport>(intent)) {
    view.wants_stop = true;
  }
}

}  // namespace ridgeward::panels
