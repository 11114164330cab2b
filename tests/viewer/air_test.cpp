// Moving air: streams and heads as arithmetic, the panel by a mouse made of numbers.
#include "airflow/words.hpp"
#include "papers/assessed.hpp"

#include "panels/screen.hpp"
#include "panels/theme.hpp"
#include "scene/air_path.hpp"
#include "scene/from_assessment.hpp"
#include "support/houses.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>
#include <imgui.h>

#include <algorithm>
#include <cmath>

using namespace ridgeward;
using scene::AirRole;
using scene::AirScene;
using scene::AirStream;

namespace {

AirStream stream_of(std::vector<glm::dvec3> points, double pace_ms) {
  AirStream stream;
  stream.points = std::move(points);
  for (std::size_t i = 1; i < stream.points.size(); ++i) {
    stream.length_m += glm::length(stream.points[i] - stream.points[i - 1]);
  }
  stream.pace_ms = pace_ms;
  return stream;
}

/// A vault of one sloped ceiling with a ridge vent over its west half: the east bays are dead.
Assessment half_vented() {
  model::RoofModel model = tests::house(tests::demo("plain-gable"));
  model::Ceiling ceiling;
  ceiling.id = "vault";
  ceiling.kind = model::CeilingKind::sloped;
  ceiling.outline = model.parts[0].outline;
  ceiling.insulation_m = 0.1;
  model.ceilings = {ceiling};
  for (model::IntakeRun& run : model.intake) {
    run.whole = true;
  }
  model.exhaust[0].whole = false;
  model.exhaust[0].from_m = 1.0;
  model.exhaust[0].to_m = 5.0;
  return tests::assessed(model);
}

double flow_of(const AirScene& air, AirRole role) {
  double sum = 0.0;
  for (const AirStream& stream : air.streams) {
    sum += stream.role == role ? stream.flow_m3s : 0.0;
  }
  return sum;
}

}  // namespace

TEST_CASE("heads stand evenly on their stream and move on with the clock") {
  // 3 m along x, then 4 m up: 7 m at 0.5 m/s.
  const AirStream stream = stream_of({{0, 0, 0}, {3, 0, 0}, {3, 0, 4}}, 0.5);
  const auto start = scene::heads_of(stream, 0.0, 1.0);
  REQUIRE(start.size() == 7);
  CHECK(start[0].at.x == Approx(0.5));
  CHECK(start[0].way.x == Approx(1.0));
  CHECK(start[3].at.z == Approx(0.5));
  CHECK(start[3].way.z == Approx(1.0));
  const auto later = scene::heads_of(stream, 0.6, 1.0);
  CHECK(later[0].at.x == Approx(0.8));  // 0.5 + 0.5 x 0.6
  // After a whole gap the picture is the same: what moves has no seam.
  const auto round = scene::heads_of(stream, 2.0, 1.0);
  REQUIRE(round.size() == start.size());
  for (std::size_t i = 0; i < start.size(); ++i) {
    CHECK(glm::length(round[i].at - start[i].at) < 1e-9);
  }
  CHECK(start.front().fade == 1.0);
  CHECK(scene::heads_of(stream, 0.999, 1.0).front().fade > 0.9);
  CHECK(scene::heads_of(stream_of({{0, 0, 0}, {0.2, 0, 0}}, 0.5), 0.0, 1.0).size() == 1);
  CHECK(scene::heads_of(stream_of({{1, 1, 1}, {1, 1, 1}}, 0.5), 3.0, 1.0).empty());
}

TEST_CASE("the streams carry what the openings pass") {
  const Assessment house = tests::assessed(tests::demo("plain-gable"));
  for (const airflow::CaseAir& one : house.airflow.cases) {
    const AirScene air = scene::air_scene(house, one);
    double in = 0.0;
    double out = 0.0;
    double wrong = 0.0;
    double leaks = 0.0;
    for (std::size_t i = 0; i < one.openings.size(); ++i) {
      const double flow = one.openings[i].flow_m3s;
      const airflow::Role role = house.airflow.openings[i].role;
      if (role == airflow::Role::leak) {
        leaks += std::abs(flow);
      } else if ((flow > 0.0) != (role == airflow::Role::intake)) {
        wrong += std::abs(flow);
      } else {
        (flow > 0.0 ? in : out) += std::abs(flow);
      }
    }
    CHECK(flow_of(air, AirRole::intake) == Approx(in).margin(1e-8));
    CHECK(flow_of(air, AirRole::exhaust) == Approx(out).margin(1e-8));
    CHECK(flow_of(air, AirRole::wrong_way) == Approx(wrong).margin(1e-8));
    CHECK(flow_of(air, AirRole::rooms) == Approx(leaks).margin(1e-8));
    CHECK_FALSE(air.has(AirRole::bay));  // an open attic
    for (const AirStream& stream : air.streams) {
      CHECK(stream.strength >= 0.0);
      CHECK(stream.strength <= 1.0);
      CHECK(stream.pace_ms > 0.0);
      CHECK(std::isfinite(stream.length_m));
    }
  }
}

TEST_CASE("bays that lead nowhere and bays that are shut off are told apart") {
  const Assessment dead = half_vented();
  const airflow::CaseAir& noon = dead.airflow.cases[scene::usual_case(dead.airflow)];
  CHECK(noon.kind == airflow::CaseKind::summer);
  const AirScene air = scene::air_scene(dead, noon);
  CHECK(air.has(AirRole::bay));
  CHECK(air.has(scene::StillWhy::dead));
  CHECK_FALSE(air.has(scene::StillWhy::blocked));
  for (const scene::StillBay& bay : air.still) {
    CHECK_FALSE(dead.vents.bays[bay.bay].live);
    CHECK(bay.outline.size() >= 3);
  }
  model::RoofModel model = tests::house(tests::demo("plain-gable"));
  model.parts[0].framing.blocking = model::Blocking::solid;
  const Assessment shut = tests::assessed(model);
  const AirScene none = scene::air_scene(shut, shut.airflow.cases[scene::usual_case(shut.airflow)]);
  CHECK(none.has(scene::StillWhy::blocked));
  CHECK(flow_of(none, AirRole::intake) == 0.0);
}

TEST_CASE("weather of one's own is what the assessment of it gives") {
  const Assessment house = tests::assessed(tests::demo("plain-gable"));
  const airflow::CaseAir& given = house.airflow.cases.back();
  const airflow::CaseAir again = air_in(house, given.conditions);
  REQUIRE(again.openings.size() == given.openings.size());
  for (std::size_t i = 0; i < again.openings.size(); ++i) {
    CHECK(again.openings[i].flow_m3s == given.openings[i].flow_m3s);
  }
  CHECK(again.attic_c == given.attic_c);
  // Another wind, another answer; no roof, no air.
  model::AirCase storm = given.conditions;
  storm.wind_ms = 12.0;
  CHECK(air_in(house, storm).air_changes_per_h > given.air_changes_per_h);
  CHECK(scene::air_scene(Assessment{}, air_in(Assessment{}, storm)).streams.empty());
}

TEST_CASE("cases are found by how their name begins") {
  const Assessment house = tests::assessed(tests::demo("plain-gable"));
  const auto& cases = house.airflow.cases;
  CHECK(cases[scene::case_named(house.airflow, "Calm Winter")].kind == airflow::CaseKind::winter);
  CHECK(scene::case_named(house.airflow, "gale") == cases.size());
  // As tables print it, in either units.
  for (std::size_t i = 0; i < cases.size(); ++i) {
    for (const units::Style style : {units::Style::feet_inches, units::Style::metric}) {
      const std::string name = airflow::case_words(cases[i], style);
      CAPTURE(name);
      CHECK(scene::case_named(house.airflow, name) == i);
      CHECK(scene::case_named(house.airflow, name + ", the worst") == i);
    }
  }
  panels::AirView view;
  CHECK(panels::shown_case(view, house.airflow) == scene::usual_case(house.airflow));
  view = applied(view, panels::choose_air(cases.size() + 1));
  CHECK(panels::shown_case(view, house.airflow) == 1);  // counted round
  model::AirCase own = cases[1].conditions;
  own.wind_ms = 7.0;
  view = applied(view, panels::set_air(own));
  CHECK(panels::weather(view, house.airflow).wind_ms == 7.0);
  CHECK_FALSE(panels::same_weather(own, cases[1].conditions));
  view = applied(view, panels::choose_air(0));
  CHECK_FALSE(view.own);
  CHECK_FALSE(applied(view, panels::play_air(false)).plays);
}

TEST_CASE("directions have their names") {
  CHECK(std::string(panels::compass_word(0.0)) == "N");
  CHECK(std::string(panels::compass_word(359.0)) == "N");
  CHECK(std::string(panels::compass_word(225.0)) == "SW");
  CHECK(std::string(panels::compass_word(-22.5)) == "NNW");
}

TEST_CASE("the air panel: a legend of what is drawn, sliders, a button that stops it") {
  const Assessment house = half_vented();
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  panels::set_theme(1.0);
  unsigned char* pixels = nullptr;
  ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&pixels, nullptr, nullptr);
  const scene::Scene scene = scene::from_assessment(house);
  panels::State state;
  state.has_model = true;
  const scene::Viewport without = panels::window_viewport(1280, 800, state);
  state.layers.set(scene::Layer::airflow, true);
  const scene::Viewport port = panels::window_viewport(1280, 800, state);
  CHECK(port.width < without.width);
  state.camera =
      scene::fitted(scene::looking_from("south", 0.0).value(), scene.corners, port, 0.07);
  const panels::AirShow air = panels::shown_air(house, scene::usual_case(house.airflow));
  panels::Recorder recorder;
  const auto frame = [&](bool is_picture) {
    ImGui::GetIO().DisplaySize = {1280.0F, 800.0F};
    ImGui::GetIO().DeltaTime = 1.0F / 60;
    ImGui::NewFrame();
    recorder = {};
    panels::Intents intents;
    const panels::Look look{state, house, scene, 1280, 800, &air};
    if (is_picture) {
      panels::draw_picture(look, recorder);
    } else {
      intents = panels::draw_window(look, recorder);
    }
    ImGui::Render();
    return intents;
  };
  const auto item = [&](const std::string& id) -> const panels::UiItem* {
    const auto found = std::find_if(recorder.items().begin(), recorder.items().end(),
                                    [&](const panels::UiItem& one) { return one.id == id; });
    return found == recorder.items().end() ? nullptr : &*found;
  };
  frame(false);
  frame(false);
  for (const char* id : {"air/case", "air/play", "air/wind-from", "air/wind", "air/outside",
                         "air/inside", "air/verdict", "air/legend/comes in through intake",
                         "air/legend/bay leads to no exhaust", "panel/air"}) {
    INFO(id);
    CHECK(item(id) != nullptr);
  }
  CHECK(item("air/legend/drifts and mixes in the attic") == nullptr);
  CHECK(std::stoi(item("air/streams")->state) > 4);
  const panels::UiItem panel = *item("panel/air");
  CHECK(panel.x >= port.x + port.width);
  CHECK(panel.y + panel.height <= 800);
  // A press on the button, a drag of the wind's slider.
  const panels::UiItem play = *item("air/play");
  panels::Intents all;
  const auto point = [&](const panels::UiItem& at, double share, bool down) {
    ImGui::GetIO().MousePos = {static_cast<float>(at.x + share * at.width),
                               static_cast<float>(at.y + 0.5 * at.height)};
    ImGui::GetIO().MouseDown[0] = down;
    const panels::Intents some = frame(false);
    all.insert(all.end(), some.begin(), some.end());
  };
  for (const bool down : {false, true, false}) {
    point(play, 0.5, down);
  }
  REQUIRE(all.size() == 1);
  CHECK_FALSE(applied(state.air, std::get<panels::AirIntent>(all.front())).plays);
  all.clear();
  const panels::UiItem slider = *item("air/wind");
  for (const bool down : {false, true, true, false}) {
    point(slider, 0.5, down);
  }
  REQUIRE_FALSE(all.empty());
  const panels::AirView view = applied(state.air, std::get<panels::AirIntent>(all.back()));
  REQUIRE(view.own);
  CHECK(view.own->wind_ms == Approx(17.0 * 0.44704).epsilon(0.05));  // half of 34 mph
  frame(true);
  frame(true);
  CHECK(item("panel/air") != nullptr);
  CHECK(item("air/wind-from") == nullptr);  // nothing to press on a picture
  ImGui::DestroyContext();
}
