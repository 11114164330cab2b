#include "draw/slides.hpp"

#include "draw/gui.hpp"
#include "draw/offscreen.hpp"
#include "draw/renderer.hpp"
#include "draw/target.hpp"
#include "panels/screen.hpp"
#include "scene/from_assessment.hpp"

#include <algorithm>

namespace ridgeward::draw {
namespace {

/// What the window would remember at that place of the lesson.
panels::State state_of(const Slide& slide, const scene::Scene& scene, const SlideOrder& order) {
  panels::State state;
  state.has_model = true;
  state.style = order.style;
  state.lesson = slide.lesson;
  state.lesson.is_open = true;
  const scene::Viewport viewport =
      order.has_words ? panels::window_viewport(order.width_px, order.height_px, state)
                      : scene::Viewport{0.0, 0.0, static_cast<double>(order.width_px),
                                        static_cast<double>(order.height_px)};
  const std::vector<papers::LessonStep> steps = papers::lesson_of(*slide.house, order.style);
  papers::LessonStep step = steps[std::min(slide.lesson.step, steps.size() - 1)];
  if (slide.lesson.tab != panels::LessonTab::steps) {
    step = {papers::Topic::trouble, {}, {}, {}, {}};
  }
  state.layers = panels::layers_of(step.topic);
  state.camera = panels::camera_of(step, scene, viewport);
  return state;
}

}  // namespace

Result<std::vector<Image>> take_slides(const std::vector<Slide>& slides, const SlideOrder& order) {
  auto offscreen = Offscreen::make();
  if (!offscreen) {
    return offscreen.faults();
  }
  Target target;
  target.resize(order.width_px, order.height_px);
  const double scale =
      order.letters * std::max(0.85, std::min(order.width_px / 1280.0, order.height_px / 800.0));
  const Gui gui(scale);
  Renderer renderer;
  std::vector<Image> images;
  scene::Scene scene;
  const Assessment* shown = nullptr;
  for (const Slide& slide : slides) {
    if (slide.house != shown) {
      scene = scene::from_assessment(*slide.house);
      renderer.load(scene);
      shown = slide.house;
    }
    const panels::State state = state_of(slide, scene, order);
    const scene::Viewport viewport =
        order.has_words ? panels::window_viewport(order.width_px, order.height_px, state)
                        : scene::Viewport{0.0, 0.0, static_cast<double>(order.width_px),
                                          static_cast<double>(order.height_px)};
    // Panels are settled in the third frame.
    for (int frame = 0; frame < 3; ++frame) {
      target.bind();
      View view = view_of(state, scene, viewport, scale);
      view.selected = {};
      view.marks = panels::marks_of(state, *slide.house);
      renderer.draw(view, order.width_px, order.height_px);
      Gui::begin(order.width_px, order.height_px);
      panels::Recorder recorder;
      panels::draw_slide({state, *slide.house, scene, order.width_px, order.height_px},
                         order.has_words, recorder);
      Gui::end();
    }
    target.resolve();
    images.push_back(target.read());
    if (order.tell) {
      order.tell(images.size(), slides.size());
    }
  }
  return images;
}

}  // namespace ridgeward::draw
