#include "panels/state.hpp"

#include "panels/commands.hpp"
#include "panels/hand.hpp"
#include "scene/from_assessment.hpp"
#include "support/houses.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <cmath>

using namespace ridgeward;
using panels::Input;
using panels::Intents;
using panels::Pointer;
using panels::State;

namespace {

const scene::Viewport port{0.0, 0.0, 1000.0, 800.0};

struct Fixture {
  Assessment house = test_support::wing_house();
  scene::Scene scene = scene::from_assessment(house);
  State state;
  Pointer pointer;

  Fixture() {
    state.has_model = true;
    ask(panels::LookFrom{"south"});
  }
  void ask(const panels::Intent& intent) {
    state = panels::applied(std::move(state), intent, scene, port);
    while (panels::advance(state, 1.0)) {  // where the camera is going
    }
  }
  Intents feed(const Input& input) {
    const Intents intents = panels::follow(pointer, input, state, scene, port);
    for (const panels::Intent& intent : intents) {
      ask(intent);
    }
    return intents;
  }
  Intents mouse(glm::dvec2 at, bool down) {
    Input input;
    input.at = at;
    input.left_down = down;
    return feed(input);
  }
  void key(const std::string& name) {
    Intents intents = panels::asked_by(name, state);
    panels::follow_up({state, house, scene, 1000, 800}, intents);
    for (const panels::Intent& intent : intents) {
      ask(intent);
    }
  }
  glm::dvec2 pixel_of(const char* plane, glm::dvec2 uv) const {
    const glm::dvec3 point = house.surface.planes[house.surface.plane_named(plane)].frame.at(uv);
    return scene::Lens{state.camera, port}.pixel(point).value();
  }
};

}  // namespace

TEST_CASE("intents change what they name and nothing else") {
  Fixture f;
  const State before = f.state;
  f.ask(panels::SetLayer{scene::Layer::bays, false});
  CHECK_FALSE(f.state.layers.has(scene::Layer::bays));
  CHECK(f.state.layers.has(scene::Layer::planes));
  CHECK(f.state.camera.azimuth_rad == before.camera.azimuth_rad);
  f.ask(panels::SetUnits{units::Style::metric});
  CHECK(f.state.style == units::Style::metric);
  f.ask(panels::ShowKeys{true});
  CHECK(f.state.keys_shown);
  f.ask(panels::EditPath{"a.roof.json"});
  CHECK(f.state.path_text == "a.roof.json");
  CHECK(f.state.path == before.path);
  f.ask(panels::Open{"b.roof.json"});
  CHECK(f.state.wants_to_open == std::optional<std::string>("b.roof.json"));
  f.ask(panels::Close{});
  CHECK(f.state.wants_to_close);
}

TEST_CASE("framing the selection brings it nearer, framing all brings the house back") {
  Fixture f;
  const double all = f.state.camera.distance_m;
  f.ask(panels::Select{{f.house.surface.plane_named("wing/1"), LineId(), {}}});
  f.ask(panels::FrameSelection{});
  CHECK(f.state.camera.distance_m < all);
  f.ask(panels::FrameAll{});
  CHECK(f.state.camera.distance_m == Approx(all));
  f.ask(panels::Select{});
  f.ask(panels::FrameSelection{});
  CHECK(f.state.camera.distance_m == Approx(all));
}

TEST_CASE("going to a finding puts it in the middle") {
  Fixture f;
  f.ask(panels::GoTo{{1, 2, 3}});
  CHECK(f.state.camera.target == glm::dvec3(1, 2, 3));
  CHECK(f.state.camera.distance_m <= 9.0);
}

TEST_CASE("a click selects, a click beside the house selects nothing") {
  Fixture f;
  const glm::dvec2 at = f.pixel_of("main/0", {2.5, 2.0});
  f.mouse(at, true);
  f.mouse(at + glm::dvec2(1, 1), false);
  CHECK(f.state.selected.plane == f.house.surface.plane_named("main/0"));
  f.mouse({3, 3}, true);
  f.mouse({3, 3}, false);
  CHECK(f.state.selected.is_nothing());
}

TEST_CASE("a drag turns the camera and selects nothing") {
  Fixture f;
  const double before = f.state.camera.azimuth_rad;
  f.mouse({500, 400}, true);
  f.mouse({540, 400}, true);
  f.mouse({600, 380}, true);
  f.mouse({600, 380}, false);
  CHECK(f.state.camera.azimuth_rad != Approx(before));
  CHECK(f.state.selected.is_nothing());
  const double after = f.state.camera.azimuth_rad;
  f.mouse({700, 300}, false);
  CHECK(f.state.camera.azimuth_rad == after);
}

TEST_CASE("dragging to the right turns the house to the right") {
  Fixture f;
  const glm::dvec3 front = f.state.camera.eye();
  f.mouse({500, 400}, true);
  f.mouse({560, 400}, true);
  f.mouse({560, 400}, false);
  // What was nearest to the eye has moved to the right of the picture.
  const scene::Lens lens{f.state.camera, port};
  const glm::dvec3 near = f.state.camera.target + 0.2 * (front - f.state.camera.target);
  CHECK(lens.pixel(near)->x > port.width / 2);
}

TEST_CASE("right, middle and shift move the house with the pointer") {
  for (const int button : {0, 1, 2}) {
    Fixture f;
    const auto before = scene::Lens{f.state.camera, port}.pixel(f.state.camera.target);
    const glm::dvec3 target = f.state.camera.target;
    Input input;
    input.at = {500, 400};
    input.right_down = button == 0;
    input.middle_down = button == 1;
    input.left_down = input.shift = button == 2;
    f.feed(input);
    input.at = {530, 390};
    f.feed(input);
    const auto after = scene::Lens{f.state.camera, port}.pixel(target);
    CHECK(after->x - before->x == Approx(30.0));
    CHECK(after->y - before->y == Approx(-10.0));
  }
}

TEST_CASE("a press on a panel asks nothing of the drawing") {
  Fixture f;
  const double before = f.state.camera.azimuth_rad;
  Input input;
  input.at = {100, 100};
  input.left_down = true;
  input.over_panel = true;
  CHECK(f.feed(input).empty());
  input.at = {200, 200};
  input.over_panel = false;
  CHECK(f.feed(input).empty());
  input.left_down = false;
  CHECK(f.feed(input).empty());
  CHECK(f.state.camera.azimuth_rad == before);
  input.wheel = 1.0;
  input.over_panel = true;
  CHECK(f.feed(input).empty());
}

TEST_CASE("the wheel brings the house nearer and back") {
  Fixture f;
  const double before = f.state.camera.distance_m;
  Input input;
  input.wheel = 2.0;
  f.feed(input);
  CHECK(f.state.camera.distance_m < before);
  input.wheel = -2.0;
  f.feed(input);
  CHECK(f.state.camera.distance_m == Approx(before));
}

TEST_CASE("keys") {
  Fixture f;
  f.key("U");
  CHECK(f.state.style == units::Style::metric);
  f.key("U");
  CHECK(f.state.style == units::Style::feet_inches);
  f.key("F1");
  CHECK(f.state.keys_shown);
  f.ask(panels::Select{{PlaneId(std::size_t{0}), LineId(), {}}});
  f.key("Esc");
  CHECK_FALSE(f.state.keys_shown);
  CHECK_FALSE(f.state.selected.is_nothing());
  f.key("Esc");
  CHECK(f.state.selected.is_nothing());
  f.key("5");
  CHECK(f.state.camera.elevation_rad == Approx(glm::radians(90.0)));
  f.key("6");
  CHECK(scene::direction_word(f.state.camera, f.scene.north_deg) == "east");
  const double azimuth = f.state.camera.azimuth_rad;
  f.key("Left");
  CHECK(f.state.camera.azimuth_rad != azimuth);
  f.key("Ctrl+Q");
  CHECK(f.state.wants_to_close);
}

TEST_CASE("keys that belong to a text field do nothing else") {
  Fixture f;
  f.state.edit.is_open = true;
  panels::Hand hand;
  Input input;
  input.pressed = {"U", "5", "Esc", "Ctrl+Z", "Ctrl+A", "Delete", "Left", "Enter", "Space"};
  input.typing = true;
  CHECK(panels::edit_input(hand, input, {f.state, f.house, f.scene, 1000, 800}, port).empty());
  input.pressed = {"Ctrl+S"};  // no field has a use for it
  CHECK(panels::edit_input(hand, input, {f.state, f.house, f.scene, 1000, 800}, port).size() == 1);
}
