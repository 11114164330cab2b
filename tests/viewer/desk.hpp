#pragma once
// The window's panels without graphics over an assessed house, and a hand on mouse and keys: made
// of numbers, it clicks where the recorder says.

#include "model/read.hpp"

#include "panels/hand.hpp"
#include "panels/screen.hpp"
#include "panels/theme.hpp"
#include "scene/from_assessment.hpp"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::test_viewer {

inline Assessment assessed(const std::filesystem::path& path) {
  const auto read = model::read_file(path.string());
  REQUIRE(read);
  const auto catalogue =
      model::read_catalogue_file(RIDGEWARD_SOURCE_DIR "/models/catalogues/default.json");
  auto result = assess(read.value().model, catalogue.value(), codes::CodeSet{});
  REQUIRE(result);
  return std::move(result).value();
}

inline std::filesystem::path demo(const std::string& name) {
  return std::string(RIDGEWARD_SOURCE_DIR "/models/houses/") + name + ".roof.json";
}

struct Desk {
  Assessment house;
  scene::Scene scene;
  panels::State state;
  panels::Recorder recorder;
  int width = 1280;
  int height = 800;
  panels::Hand hand;

  explicit Desk(Assessment of, bool has_model = true) : house(std::move(of)) {
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    panels::set_theme(1.0);
    unsigned char* pixels = nullptr;
    ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&pixels, nullptr, nullptr);
    scene = scene::from_assessment(house);
    state.has_model = has_model;
    state.camera = scene::fitted(scene::best_view(scene), scene.corners, viewport(), 0.07);
  }
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;
  ~Desk() { ImGui::DestroyContext(); }

  scene::Viewport viewport() const { return panels::window_viewport(width, height, state); }

  /// One frame; what it asks for is only told.
  panels::Intents asked(bool is_picture = false) {
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
    io.DeltaTime = 1.0F / 60;
    ImGui::NewFrame();
    recorder = {};
    panels::Intents intents;
    const panels::Look look{state, house, scene, width, height};
    if (is_picture) {
      panels::draw_picture(look, recorder);
    } else {
      intents = panels::draw_window(look, recorder);
    }
    ImGui::Render();
    return intents;
  }
  void do_all(const panels::Intents& intents) {
    for (const panels::Intent& intent : intents) {
      state = panels::applied(std::move(state), intent, scene, viewport());
    }
  }
  /// One frame with keys by their names (panels::Input::pressed); what it asks for is done.
  void frame(const std::vector<std::string>& pressed = {}) {
    const ImGuiIO& io = ImGui::GetIO();
    panels::Intents intents = asked();
    const panels::Look look{state, house, scene, width, height};
    panels::Input input;
    input.pressed = pressed;
    input.typing = io.WantTextInput;
    input.left_down = io.MouseDown[0];
    input.wheel = static_cast<double>(io.MouseWheel);
    for (const auto& one : panels::follow_focus(recorder, state.focus, input)) {
      intents.emplace_back(one);
    }
    input.left_down = false;  // the hand on the drawing has tests of its own
    const panels::Intents keyed = panels::edit_input(hand, input, look, viewport());
    intents.insert(intents.end(), keyed.begin(), keyed.end());
    panels::follow_up(look, intents);
    do_all(intents);
  }
  /// A key by its name, and the frames that the panels take to settle.
  void strike(const std::string& name) {
    frame({name});
    frame();
    frame();
  }
  bool has(const std::string& id) const {
    return std::any_of(recorder.items().begin(), recorder.items().end(),
                       [&](const panels::UiItem& one) { return one.id == id; });
  }
  panels::UiItem item(const std::string& id) const {
    const auto found = std::find_if(recorder.items().begin(), recorder.items().end(),
                                    [&](const panels::UiItem& one) { return one.id == id; });
    INFO(id);
    REQUIRE(found != recorder.items().end());
    return *found;
  }
  void move(double x, double y) {
    ImGui::GetIO().MousePos = {static_cast<float>(x), static_cast<float>(y)};
    frame();
  }
  /// A key by the window's number: letters are themselves.
  void key(int code) {
    for (const bool down : {true, false}) {
      ImGui::GetIO().KeysDown[code] = down;
      frame();
    }
  }
  void press(bool down) {
    ImGui::GetIO().MouseDown[0] = down;
    frame();
  }
  void click(const std::string& id) {
    frame();
    frame();
    const panels::UiItem at = item(id);
    move(at.x + at.width / 2, at.y + at.height / 2);
    press(true);
    press(false);
    frame();
  }
  /// What a click on its left end asks for; nothing of it is done.
  panels::Intents asked_by_click(const std::string& id) {
    asked();
    asked();
    const panels::UiItem at = item(id);
    ImGui::GetIO().MousePos = {static_cast<float>(at.x + std::min(8.0, at.width / 2)),
                               static_cast<float>(at.y + at.height / 2)};
    panels::Intents all;
    for (const bool down : {false, true, false}) {
      ImGui::GetIO().MouseDown[0] = down;
      const panels::Intents some = asked();
      all.insert(all.end(), some.begin(), some.end());
    }
    return all;
  }
};

}  // namespace ridgeward::test_viewer
