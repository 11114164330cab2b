#include "papers/file.hpp"

#include "command/air_desk.hpp"
#include "command/commands.hpp"
#include "command/complain.hpp"
#include "command/desk.hpp"
#include "command/load.hpp"
#include "command/teacher.hpp"
#include "draw/image.hpp"
#include "draw/renderer.hpp"
#include "draw/target.hpp"
#include "draw/window.hpp"
#include "panels/hand.hpp"
#include "panels/remembered.hpp"
#include "panels/screen.hpp"
#include "scene/from_assessment.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <memory>
#include <optional>
#include <string>

namespace ridgeward::command {
namespace {

constexpr int first_width = 1280;
constexpr int first_height = 800;
constexpr double look_again_s = 0.25;  // at an export that runs

struct Words {
  std::string model;
  std::string ui_dump;
  std::string units;
  double scale = 0.0;
  LoadOptions load;
  std::string dialogs = "desktop";
};

/// Of a clock that only goes on.
double now_s() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

/// The window with what it shows.
class Session {
 public:
  Session(Words words, Result<model::Catalogue> catalogue, std::unique_ptr<draw::Window> window)
      : words_(std::move(words)),
        window_(std::move(window)),
        desk_(
            words_.load, std::move(catalogue), [] { draw::Window::wake(); },
            words_.dialogs == "desktop"),
        teacher_(words_.load, [] { draw::Window::wake(); }) {
    restore();
    dress();
  }

  void open(const std::string& path) { desk_.open(path, state_); }

  void run() {
    bool is_first = true;
    desk_.look_for_lost_work(state_.edit);
    serve();
    while (!is_closing()) {
      if (window_->wait(teacher_.is_busy() ? look_again_s : desk_.sleep_s())) {
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
        state_.wants_to_open = *path;
      }
      serve();
      keep_settings();
    }
    desk_.leave();
  }

 private:
  scene::Viewport viewport() const {
    return panels::window_viewport(window_->width_px(), window_->height_px(), state_);
  }

  bool is_closing() {
    const bool is_asked = window_->is_closing() || state_.wants_to_close;
    if (!is_asked || desk_.may_close(state_)) {
      return is_asked;
    }
    window_->stay_open();
    window_->touch();
    return false;
  }

  /// Grants wishes and shows what came of them.
  void serve() {
    const bool is_news = desk_.serve(state_, now_s());
    const document::Snapshot now = desk_.shown();
    if (now == nullptr && state_.has_model) {
      show_nothing();
    } else if (now != nullptr && now != taken_) {
      if (desk_.is_preview() && !before_) {
        before_ = {state_, desk_.document().revision()};
        state_.edit.tool = panels::Tool::look;
        state_.edit.has_fields = false;
        state_.edit.has_add_list = false;
      }
      show(now);
    }
    if (before_ && !desk_.is_preview()) {
      bring_back(*before_);
      before_.reset();
    }
    if (is_news) {
      window_->touch();
    }
  }

  /// The window before an import was shown.
  struct Before {
    panels::State state;
    std::uint64_t revision = 0;  ///< of the document
  };

  /// The view as it was before an import that was left.
  void bring_back(const Before& before) {
    if (before.revision != desk_.document().revision()) {
      return;  // it was taken, or another file opened
    }
    state_.camera = before.state.camera;
    state_.selected = before.state.selected;
    state_.sight = before.state.sight;
    state_.ribbon = before.state.ribbon;
    state_.edit.target = before.state.edit.target;
    state_.edit.corner = before.state.edit.corner;
    state_.edit.plan = before.state.edit.plan;
    state_.edit.tool = before.state.edit.tool;
    state_.edit.has_fields = before.state.edit.has_fields;
  }

  void show_nothing() {
    taken_ = nullptr;
    assessment_ = std::make_shared<const Assessment>();
    panels::forget_house(state_);
    state_.selected = {};
    state_.has_model = false;
    scene_ = std::make_unique<scene::Scene>();
    renderer_.load(*scene_);
    window_->set_title("Ridgeward");
    window_->touch();
  }

  /// Another state of the open file, or another file.
  void show(document::Snapshot now) {
    const bool is_other = desk_.is_preview() ||
                          (desk_.document().history().size() == 0 && !desk_.document().is_whole());
    state_.selected = is_other ? scene::Picked{}
                               : panels::again(state_.selected, assessment_->surface, now->surface);
    if (is_other) {
      panels::forget_house(state_);
    } else {
      state_.sight.peeled = peeled_again(now->surface);
      state_.sight.measure = {};
      state_.sight.pointed.reset();
    }
    if (!state_.has_model && words_.units.empty() && !has_units_) {
      state_.style = units::style_of(now->model.unit);
    }
    taken_ = std::move(now);
    assessment_ = told(taken_);
    if (state_.selected.plane.is_none() && state_.selected.line.is_none()) {
      state_.selected = panels::plane_of(state_.edit.target, *assessment_);
    }
    teacher_.forget(state_);
    air_.take(*assessment_);
    // What the ribbon pointed at may be no more.
    if (!assessment_->framing.bays.has(state_.ribbon.bay)) {
      state_.ribbon.bay = {};
    }
    if (!assessment_->vents.slots.has(state_.ribbon.slot)) {
      state_.ribbon.slot = {};
    }
    auto scene = std::make_unique<scene::Scene>(scene::from_assessment(*assessment_));
    renderer_.load(*scene);
    scene_ = std::move(scene);
    state_.has_model = true;
    if (is_other) {
      state_.camera = scene::best_view(*scene_);
      state_.camera = scene::fitted(state_.camera, scene_->corners, viewport(), panels::fit_margin);
    }
    const std::string& path = desk_.document().path();
    window_->set_title("Ridgeward - " + (scene_->name.empty() ? path : scene_->name));
    window_->touch();
  }

  /// With findings in the units that are shown.
  document::Snapshot told(const document::Snapshot& house) const {
    if (house == nullptr || units::style_of(house->model.unit) == state_.style) {
      return house;
    }
    Assessment copy = *house;
    copy.findings = findings_in(copy, state_.style);
    return std::make_shared<const Assessment>(std::move(copy));
  }

  /// The planes without their deck that the house still has.
  std::vector<PlaneId> peeled_again(const surface::Surface& now) const {
    std::vector<PlaneId> peeled;
    for (const PlaneId plane : state_.sight.peeled) {
      scene::Picked picked;
      picked.plane = plane;
      picked = panels::again(picked, assessment_->surface, now);
      if (!picked.plane.is_none()) {
        peeled.push_back(picked.plane);
      }
    }
    return peeled;
  }

  void restore() {
    panels::Words words = desk_.settings().words;
    if (!words_.units.empty()) {
      words["units"] = words_.units;
    }
    has_units_ = words.contains("units");
    panels::take_up(state_, words);
  }

  void keep_settings() {
    desk_.keep_words(panels::remembered(state_, {window_->width_px(), window_->height_px()}),
                     now_s());
  }

  void dress() {
    window_->dress(state_.sight.is_large ? panels::large_type : 1.0, state_.sight.is_dark);
  }

  void frame() {
    const int width = window_->width_px();
    const int height = window_->height_px();
    dress();
    target_.resize(width, height);
    target_.bind();
    const scene::Viewport port = viewport();
    keep_in_sight(port);
    window_->begin_frame();
    if (panels::advance(state_, draw::Window::frame_s())) {
      window_->touch();
    }
    const panels::AirShow* air = air_.serve(state_, now_s());
    if (air_.wants_frame_in_s() > 0.0) {
      window_->soon(air_.wants_frame_in_s());
    }
    draw::View view = draw::view_of(state_, *scene_, port, window_->scale());
    view.marks = panels::marks_of(state_, shown());
    renderer_.draw(view, width, height);
    panels::Recorder recorder;
    panels::Intents intents =
        panels::draw_window({state_, shown(), *scene_, width, height, air}, recorder);
    panels::Input input = window_->input();
    const panels::Look look{state_, shown(), *scene_, width, height, air};
    const auto on_controls = panels::follow_focus(recorder, state_.focus, input);
    intents.insert(intents.end(), on_controls.begin(), on_controls.end());
    const panels::Intents edits = panels::edit_input(hand_, input, look, port);
    intents.insert(intents.end(), edits.begin(), edits.end());
    const panels::Intents asked = panels::follow(pointer_, input, state_, *scene_, port);
    intents.insert(intents.end(), asked.begin(), asked.end());
    panels::follow_up(look, intents);
    panels::draw_drag(hand_, input, look, recorder);
    draw::Window::end_frame();
    target_.resolve();
    target_.show_in_window();
    window_->show();
    const units::Style style = state_.style;
    for (const panels::Intent& intent : intents) {
      state_ = panels::applied(std::move(state_), intent, *scene_, port);
      window_->touch();
    }
    if (state_.style != style && taken_ != nullptr) {
      assessment_ = told(taken_);
    }
    if (teacher_.follow(*assessment_, state_)) {
      show_house();
    }
    dump(recorder);
  }

  /// Panels that take room from the drawing or give it back must not cut the house off; a house
  /// that was shown whole fills its room again.
  void keep_in_sight(const scene::Viewport& port) {
    const scene::Viewport was = last_port_;
    const bool is_lesson = state_.lesson.is_open || was_in_lesson_;  // it looks after its camera
    last_port_ = port;
    was_in_lesson_ = state_.lesson.is_open;
    const bool is_same = was.width == port.width && was.height == port.height;
    if (is_same || is_lesson || was.width <= 0.0 || state_.sight.glide) {
      return;
    }
    const scene::Camera whole =
        scene::fitted(state_.camera, scene_->corners, was, panels::fit_margin);
    const bool was_whole = glm::distance(whole.target, state_.camera.target) < 1e-3 &&
                           std::abs(whole.distance_m - state_.camera.distance_m) < 1e-3;
    state_.camera = was_whole
                        ? scene::fitted(state_.camera, scene_->corners, port, panels::fit_margin)
                        : scene::zoomed(state_.camera, was.width / port.width);
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
    recorder.add({"state/frames", "state", std::to_string(++frames_), 0.0, 0.0, 0.0, 0.0});
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
  Desk desk_;
  document::Snapshot taken_;  ///< as the desk has it
  document::Snapshot assessment_ = std::make_shared<const Assessment>();
  std::optional<Before> before_;
  std::unique_ptr<scene::Scene> scene_ = std::make_unique<scene::Scene>();
  panels::State state_;
  panels::Pointer pointer_;
  AirDesk air_;
  panels::Hand hand_;
  bool has_units_ = false;
  std::string dumped_;
  std::size_t frames_ = 0;                         ///< drawn since the start
  scene::Viewport last_port_{0.0, 0.0, 0.0, 0.0};  ///< of the frame before
  bool was_in_lesson_ = false;
  Teacher teacher_;
};

int view(const Words& words) {
  Result<model::Catalogue> catalogue = load_catalogue(words.load);
  if (!catalogue) {
    complain(catalogue.faults());
    return 2;
  }
  // What can't be shown is told before a window opens for it.
  if (!words.model.empty()) {
    const auto assessment = load_and_assess(words.model, words.load, Depth::live);
    if (!assessment) {
      complain(assessment.faults());
      return 2;
    }
  }
  const auto [width, height] = panels::window_size(
      document::read_settings(document::config_folder()).words, {first_width, first_height});
  auto window = draw::Window::open(width, height, words.scale);
  if (!window) {
    complain(window.faults());
    return 2;
  }
  Session session(words, std::move(catalogue), std::move(window).value());
  if (!words.model.empty()) {
    session.open(words.model);
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
  call->add_option(
          "--dialogs", words->dialogs,
          "For files: the desktop's where it has some (desktop), or in the window (window)")
      ->check(CLI::IsMember({"desktop", "window"}));
  call->add_option("--ui-dump", words->ui_dump,
                   "Keep FILE up to date with every widget's id, rectangle and state, one JSON "
                   "object a line");
  call->callback([words, &exit_code] { exit_code = view(*words); });
}

}  // namespace ridgeward::command
