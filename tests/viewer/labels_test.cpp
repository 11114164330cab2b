#include "scene/labels.hpp"

#include "scene/from_assessment.hpp"
#include "scene/pick.hpp"
#include "support/houses.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ridgeward;
using scene::Box;
using scene::Layer;
using scene::Placed;

namespace {

scene::Lettering plain_lettering(double letter_px) {
  scene::Lettering ink;
  ink.text_of = [](const scene::Label& label) {
    return label.of == scene::Label::Of::line ? units::feet_inches(label.length_m) : label.words;
  };
  ink.size_of = [letter_px](const std::string& text) {
    return glm::dvec2(letter_px * static_cast<double>(text.size()) + 10, 2 * letter_px + 4);
  };
  return ink;
}

std::vector<Box> boxes_of(const Placed& placed) {
  std::vector<Box> boxes;
  for (const scene::PlacedMarker& marker : placed.markers) {
    boxes.push_back(marker.box);
  }
  for (const scene::PlacedLabel& label : placed.labels) {
    boxes.push_back(label.box);
  }
  return boxes;
}

void check_laws(const Placed& placed, const scene::Viewport& port, const std::vector<Box>& taken) {
  const std::vector<Box> boxes = boxes_of(placed);
  const Box frame{{port.x, port.y}, {port.x + port.width, port.y + port.height}};
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    CHECK(boxes[i].is_within(frame));
    CHECK(std::none_of(taken.begin(), taken.end(),
                       [&](const Box& box) { return box.overlaps(boxes[i]); }));
    for (std::size_t j = 0; j < i; ++j) {
      CHECK_FALSE(boxes[i].overlaps(boxes[j]));
    }
  }
}

}  // namespace

TEST_CASE(
    "laws: labels overlap neither each other nor what is taken, from any side and at any size") {
  const Assessment house = test_support::wing_house();
  const scene::Scene scene = scene::from_assessment(house);
  for (const scene::Viewport& port :
       {scene::Viewport{0, 0, 964, 800}, scene::Viewport{236, 48, 500, 400},
        scene::Viewport{0, 0, 160, 120}}) {
    const std::vector<Box> taken{
        {{port.x, port.y + port.height - 70}, {port.x + 70, port.y + port.height}}};
    for (const std::string& word : scene::direction_words()) {
      INFO("from " << word << ", " << port.width << " px wide");
      const scene::Lens lens{
          scene::fitted(scene::looking_from(word, 0.0).value(), scene.corners, port, 0.06), port};
      check_laws(scene::place_labels(scene, lens, scene::usual_layers(), taken, plain_lettering(7)),
                 port, taken);
    }
  }
}

TEST_CASE("every eave in sight gets its length where there is room") {
  const Assessment house = test_support::wing_house();
  const scene::Scene scene = scene::from_assessment(house);
  const scene::Viewport port{0, 0, 1400, 1000};
  const scene::Lens lens{
      scene::fitted(scene::looking_from("above", 0.0).value(), scene.corners, port, 0.1), port};
  const Placed placed =
      scene::place_labels(scene, lens, scene::usual_layers(), {}, plain_lettering(7));
  const auto eaves =
      std::count_if(placed.labels.begin(), placed.labels.end(), [](const scene::PlacedLabel& l) {
        return l.label->of == scene::Label::Of::line && l.label->role == scene::StrokeRole::eave;
      });
  CHECK(eaves == 5);
}

TEST_CASE("a plane's name stands on that plane") {
  const Assessment house = test_support::wing_house();
  const scene::Scene scene = scene::from_assessment(house);
  const scene::Viewport port{0, 0, 964, 800};
  int names = 0;
  for (const std::string& word : scene::direction_words()) {
    const scene::Lens lens{
        scene::fitted(scene::looking_from(word, 0.0).value(), scene.corners, port, 0.06), port};
    for (const scene::PlacedLabel& placed :
         scene::place_labels(scene, lens, scene::usual_layers(), {}, plain_lettering(7)).labels) {
      if (placed.label->of == scene::Label::Of::plane) {
        ++names;
        for (const glm::dvec2 corner : {placed.box.low, placed.box.high}) {
          CHECK(scene::pick(scene, lens, corner, 0.0).plane == placed.label->plane);
        }
      }
    }
  }
  CHECK(names > 10);
}

TEST_CASE("layers decide which labels are placed") {
  const Assessment house = test_support::wing_house();
  const scene::Scene scene = scene::from_assessment(house);
  const scene::Viewport port{0, 0, 964, 800};
  const scene::Lens lens{
      scene::fitted(scene::looking_from("south", 0.0).value(), scene.corners, port, 0.06), port};
  const auto shown = [&](const char* list) {
    return scene::place_labels(scene, lens, scene::parse_layers(list).value(), {},
                               plain_lettering(7));
  };
  CHECK(shown("lines").labels.empty());
  CHECK_FALSE(shown("lines,lengths").labels.empty());
  CHECK(shown("lengths").labels.empty());  // lengths of lines that are not drawn
  CHECK(shown("lines,lengths").markers.empty());
  CHECK(shown("findings").markers.size() == 3);
}
