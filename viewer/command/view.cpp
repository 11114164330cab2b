#include "papers/file.hpp"

#include "command/commands.hpp"
#include "command/complain.hpp"
#include "command/load.hpp"
#include "command/teacher.hpp"
#include "draw/image.hpp"
#include "draw/renderer.hpp"
#include "draw/target.hpp"
#include "draw/window.hpp"
#include "panels/screen.hpp"
#include "scene/from_assessment.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <cstdio>
#include <memory>
#include <string>

namespace ridgeward::command {
namespace {

constexpr int first_width = 1280;
constexpr int first_height = 800;

struct Words {
  std::string model;
  std::string ui_dump;
  std::string units;
  double scale = 0.0;
  LoadOptions load;
};

/// The window with what it shows.
class Session {
 public:
  Session(Words words, std::unique_ptr<draw::Window> window)
      : words_(std::move(words)),
        window_(std::move(window)),
        teacher_(words_.load, [] { draw::Window::wake(); }) {}

  void take(Assessment assessment, const std::string& path) {
    assessment_ = std::make_unique<Assessment>(std::move(assessment));
    scene_ = std::make_unique<scene::Scene>(scene::from_assessment(*assessment_));
    // The first model settles the units; after that they are the user's.
    if (!state_.has_model) {
      state_.style = style_for(words_.units, *assessment_);
    }
    state_.has_model = true;
    state_.path = state_.path_text = path;
    state_.trouble.clear();
    state_.selected = {};
    teacher_.forget(state_);
    state_.camera = scene::best_view(*scene_);
    state_.camera = scene::fitted(state_.camera, scene_->corners, viewport(), panels::fit_margin);
    renderer_.load(*scene_);
    window_->set_title("Ridgeward - " + (scene_->name.empty() ? path : scene_->name));
    window_->touch();
  }

  void run() {
    bool is_first = true;
    while (!window_->is_closing() && !state_.wants_to_close) {
      if (window_->wait()) {
        frame();
        if (is_first && !words_.ui_dump.empty()) {
          std::puts("ready");
          std::fflush(stdout);
        }
        is_first = false;
      }
      if (teacher_.take(state_)) {
        window_->touch();
      }
      if (const auto path = window_->dropped()) {
        open(*path);
      }
    }
  }

 private:
  scene::Viewport viewport() const {
    return panels::window_viewport(window_->width_px(), window_->height_px(), state_);
  }

  void open(const std::string& path) {
    auto assessment = load_and_assess(path, words_.load);
    if (assessment) {
      take(std::move(assessment).value(), path);
    } else {
      state_.trouble = in_words(assessment.faults().front());
      window_->touch();
    }
  }

  void frame() {
    const int width = window_->width_px();
    const int height = window_->height_px();
    window_->dress(state_.sight.is_large ? panels::large_type : 1.0, state_.sight.is_dark);
    target_.resize(width, height);
    target_.bind();
    const scene::Viewport port = viewport();
    window_->begin_frame();
    if (panels::advance(state_, draw::Window::frame_s())) {
      window_->touch();
    }
    renderer_.draw(draw::view_of(state_, *scene_, port, window_->scale()), width, height);
    panels::Recorder recorder;
    panels::Intents intents =
        panels::draw_window({state_, shown(), *scene_, width, height}, recorder);
    const panels::Intents asked = panels::follow(pointer_, window_->input(), state_, *scene_, port);
    intents.insert(intents.end(), asked.begin(), asked.end());
    draw::Window::end_frame();
    target_.resolve();
    target_.show_in_window();
    window_->show();
    for (const panels::Intent& intent : intents) {
      state_ = panels::applied(std::move(state_), intent, *scene_, port);
      window_->touch();
    }
    if (teacher_.follow(*assessment_, state_)) {
      show_house();
    }
    if (const auto path = std::exchange(state_.wants_to_open, std::nullopt)) {
      open(*path);
    }
    dump(recorder);
  }

  /// The assessment that is drawn: the house, in a lesson perhaps with mistakes.
  const Assessment& shown() const {
    return teacher_.mistaken() == nullptr ? *assessment_ : *teacher_.mistaken();
  }

  void show_house() {
    scene_ = std::make_unique<scene::Scene>(scene::from_assessment(shown()));
    renderer_.load(*scene_);
    window_->touch();
  }

  void dump(panels::Recorder& recorder) {
    if (words_.ui_dump.empty()) {
      return;
    }
    panels::note_state(state_, shown(), recorder);
    std::string text = panels::to_json_lines(recorder.items());
    if (text != dumped_) {
      const auto written = papers::write_whole(words_.ui_dump, text);
      if (!written) {
        complain(written.faults());
        state_.wants_to_close = true;
      }
      dumped_ = std::move(text);
    }
  }

  Words words_;
  std::unique_ptr<draw::Window> window_;
  draw::Target target_;
  draw::Renderer renderer_;
  std::unique_ptr<Assessment> assessment_ = std::make_unique<Assessment>();
  std::unique_ptr<scene::Scene> scene_ = std::make_unique<scene::Scene>();
  panels::State state_;
  panels::Pointer pointer_;
  std::string dumped_;
  Teacher teacher_;
};

int view(const Words& words) {
  std::unique_ptr<Assessment> first;
  if (!words.model.empty()) {
    auto assessment = load_and_assess(words.model, words.load);
    if (!assessment) {
      complain(assessment.faults());
      return 2;
    }
    first = std::make_unique<Assessment>(std::move(assessment).value());
  }
  auto window = draw::Window::open(first_width, first_height, words.scale);
  if (!window) {
    complain(window.faults());
    return 2;
  }
  Session session(words, std::move(window).value());
  if (first) {
    session.take(std::move(*first), words.model);
  }
  session.run();
  return 0;
}

}  // namespace

void add_view(CLI::App& app, int& exit_code) {
  auto words = std::make_shared<Words>();
  CLI::App* call = app.add_subcommand("view", "Show the roof in a window");
  call->add_option("MODEL", words->model, "Model file (*.roof.json); left out: opened there");
  call->add_option("--units", words->units, "ft-in or metric; left out: as the model is drawn")
      ->check(CLI::IsMember({"ft-in", "metric"}));
  call->add_option("--scale", words->scale, "Of text and strokes; 0: as the screen says")
      ->check(CLI::Range(0.0, 8.0));
  call->add_option("--code", words->load.code, "Code set: its id or a file");
  call->add_option("--catalogue", words->load.catalogue, "Catalogue file");
  call->add_option("--ui-dump", words->ui_dump,
                   "Keep FILE up to date with every widget's id, rectangle and state, one JSON "
                   "object a line");
  call->callback([words, &exit_code] { exit_code = view(*words); });
}

}  // namespace ridgeward::command
