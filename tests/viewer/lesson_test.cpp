// Lesson mode: steps, keys, what-ifs and the quiz as the window does them, without graphics.

#include "papers/lesson.hpp"

#include "panels/lesson.hpp"
#include "viewer/desk.hpp"

#include <catch2/catch.hpp>

#include <memory>

using namespace ridgeward;
using panels::LessonIntent;
using panels::LessonTab;
using test_viewer::assessed;
using test_viewer::demo;
using test_viewer::Desk;

namespace {

constexpr int space = 32;
constexpr int backspace = 259;
constexpr int f2 = 291;

void ask(Desk& desk, LessonIntent intent) {
  desk.state = panels::applied(std::move(desk.state), std::move(intent), desk.scene,
                               panels::window_viewport(1280, 800, desk.state));
}

}  // namespace

TEST_CASE("lesson: what a step speaks of is in its picture, for every house and step") {
  for (const auto& entry :
       std::filesystem::directory_iterator(RIDGEWARD_SOURCE_DIR "/models/houses")) {
    const Assessment house = assessed(entry.path());
    const scene::Scene scene = scene::from_assessment(house);
    const scene::Viewport viewport{0.0, 48.0, 860.0, 752.0};
    for (const papers::LessonStep& step : papers::lesson_of(house, units::Style::metric)) {
      CAPTURE(house.model.name, step.title);
      const scene::Lens lens{panels::camera_of(step, scene, viewport), viewport};
      for (const glm::dvec3 point : step.sight.points.empty() ? scene.corners : step.sight.points) {
        const auto pixel = lens.pixel(point);
        REQUIRE(pixel);
        CHECK(pixel->x >= viewport.x - 1);
        CHECK(pixel->x <= viewport.x + viewport.width + 1);
        CHECK(pixel->y >= viewport.y - 1);
        CHECK(pixel->y <= viewport.y + viewport.height + 1);
      }
      CHECK(panels::layers_of(step.topic).has(scene::Layer::slots));
    }
  }
}

TEST_CASE("lesson: forth and back by keys and buttons; closing puts all back") {
  Desk desk(assessed(demo("sorrel-lane")));
  const scene::Layers layers = desk.state.layers;
  const double distance = desk.state.camera.distance_m;
  desk.frame();
  desk.strike("J");
  REQUIRE(desk.state.lesson.is_open);
  desk.frame();
  CHECK(desk.item("lesson/title").state == "Why the roof needs air");
  CHECK_FALSE(desk.state.layers == layers);
  desk.key(space);
  desk.frame();
  CHECK(desk.item("lesson/title").state == "What the code asks");
  desk.click("lesson/next");
  desk.click("lesson/next");
  CHECK(desk.state.lesson.step == 3);
  CHECK(desk.item("lesson/title").state == "Where the slot goes");
  CHECK(desk.item("lesson/says/0").state.find("11 bays") != std::string::npos);
  CHECK_FALSE(desk.item("lesson/caution").state.empty());
  desk.key(backspace);
  CHECK(desk.state.lesson.step == 2);
  for (int i = 0; i < 12; ++i) {
    desk.key(space);
  }
  CHECK(desk.state.lesson.step == papers::topic_count - 1);
  desk.click("lesson/restart");
  CHECK(desk.state.lesson.step == 0);
  desk.strike("J");
  CHECK_FALSE(desk.state.lesson.is_open);
  CHECK(desk.state.layers == layers);
  CHECK(panels::goal(desk.state).distance_m == distance);
}

TEST_CASE("lesson: mistakes are switched by click and key, and end with the tab") {
  Desk desk(assessed(demo("sorrel-lane")));
  auto table = std::make_shared<panels::WhatIfDesk>();
  const auto catalogue =
      model::read_catalogue_file(RIDGEWARD_SOURCE_DIR "/models/catalogues/default.json");
  table->offers = papers::what_ifs_of(desk.house, catalogue.value());
  REQUIRE(table->offers.size() == 6);
  desk.frame();
  desk.strike("J");
  desk.state.lesson.desk = table;
  desk.click("lesson/what-if");
  REQUIRE(desk.state.lesson.tab == LessonTab::what_if);
  desk.click("lesson/what-if/snow");
  CHECK(desk.state.lesson.mistakes == std::vector<papers::Mistake>{papers::Mistake::snow});
  desk.key(f2);
  CHECK(desk.state.lesson.mistakes ==
        std::vector<papers::Mistake>{papers::Mistake::bay, papers::Mistake::snow});
  desk.key(f2);
  CHECK(desk.state.lesson.mistakes.size() == 1);
  desk.click("lesson/as-planned");
  CHECK(desk.state.lesson.mistakes.empty());
  desk.click("lesson/what-if/exhaust");
  desk.click("lesson/steps");
  CHECK(desk.state.lesson.mistakes.empty());
}

TEST_CASE("lesson: the first answer counts, both are explained, the quiz starts again") {
  Desk desk(assessed(demo("sorrel-lane")));
  const auto questions = papers::questions_of(desk.house, units::Style::feet_inches);
  desk.frame();
  desk.strike("J");
  desk.click("lesson/quiz");
  const std::size_t wrong = questions[0].right == 0 ? 1 : 0;
  desk.click("lesson/choice/" + std::to_string(wrong));
  CHECK(desk.state.lesson.answers[0] == wrong);
  CHECK(desk.item("lesson/feedback/" + std::to_string(wrong)).state.substr(0, 3) == "No.");
  CHECK(desk.item("lesson/feedback/" + std::to_string(questions[0].right)).state ==
        "Right. " + questions[0].how);
  desk.click("lesson/choice/" + std::to_string(questions[0].right));
  CHECK(desk.state.lesson.answers[0] == wrong);
  desk.key(space);
  desk.key(f2 + static_cast<int>(questions[1].right));
  desk.frame();
  CHECK(panels::right_answers(desk.state.lesson, questions) == 1);
  CHECK(desk.item("lesson/score").state ==
        "2 of " + std::to_string(questions.size()) + " answered, 1 right");
  desk.click("lesson/again");
  CHECK(panels::right_answers(desk.state.lesson, questions) == 0);
  CHECK(desk.state.lesson.question == 0);
}

TEST_CASE("lesson: an export is asked for with its path") {
  Desk desk(assessed(demo("plain-gable")));
  desk.state.path = "/somewhere/plain.roof.json";
  desk.frame();
  desk.strike("J");
  CHECK(desk.state.lesson.export_path == "/somewhere/plain-lesson.pdf");
  desk.click("lesson/export");
  CHECK(desk.state.lesson.wants_export == "/somewhere/plain-lesson.pdf");
  ask(desk, panels::TypeExport{"/somewhere/else"});
  CHECK(desk.state.lesson.export_path == "/somewhere/else");
}
