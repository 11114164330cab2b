// How the house is looked at: flat cameras, glides, cuts and their sections, the sun, measuring.
#include "panels/sight.hpp"

#include "attic/columns.hpp"

#include "draw/palette.hpp"
#include "panels/commands.hpp"
#include "panels/pointer.hpp"
#include "panels/texts.hpp"
#include "scene/bodies.hpp"
#include "scene/from_assessment.hpp"
#include "support/assessed_house.hpp"
#include "support/houses.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>
#include <glm/vec4.hpp>

#include <algorithm>
#include <cmath>
#include <map>

using namespace ridgeward;
using scene::Camera;
using scene::Cut;
using scene::CutWay;
using scene::FaceRole;
using scene::Lens;
using scene::Spot;

namespace {

const scene::Viewport port{100.0, 50.0, 1000.0, 800.0};

Camera flat(const char* word, glm::dvec2 along = {1.0, 0.0}) {
  const auto camera = scene::looking_flat_from(word, 0.0, along);
  REQUIRE(camera.ok());
  return camera.value();
}

/// Six times the volume that triangles enclose, and their summed directed areas.
struct Enclosed {
  double volume_m3 = 0.0;
  glm::dvec3 directed{0.0};
};
void add(const std::vector<scene::Triangle>& triangles, Enclosed& sum) {
  for (const scene::Triangle& t : triangles) {
    sum.volume_m3 += glm::dot(t[0], glm::cross(t[1], t[2])) / 6;
    sum.directed += glm::cross(t[1] - t[0], t[2] - t[0]) / 2.0;
  }
}

Spot on_line(std::size_t line, glm::dvec3 from, glm::dvec3 to, double share = 0.5) {
  return {
      Spot::On::line, from + share * (to - from), LineId(line), scene::StrokeRole::eave, from, to};
}

struct Fixture {
  Assessment house = test_support::wing_house();
  scene::Scene scene = scene::from_assessment(house);
  panels::State state;
  panels::Pointer pointer;

  Fixture() {
    state.has_model = true;
    ask(panels::LookFrom{"south-east"});
  }
  void ask(const panels::Intent& intent) {
    state = panels::applied(std::move(state), intent, scene, port);
    while (panels::advance(state, 1.0)) {
    }
  }
  void feed(const panels::Input& input) {
    for (const panels::Intent& intent : panels::follow(pointer, input, state, scene, port)) {
      ask(intent);
    }
  }
  void click(glm::dvec2 at) {
    panels::Input input;
    input.at = at;
    feed(input);
    input.left_down = true;
    feed(input);
    input.left_down = false;
    feed(input);
  }
  void key(const std::string& name) {
    for (const panels::Intent& intent : panels::asked_by(name, state)) {
      ask(intent);
    }
  }
  glm::dvec2 pixel(glm::dvec3 p) const {
    return panels::lens_of(state, scene, port).pixel(p).value();
  }
  const scene::Stroke& eave() const {
    return *std::find_if(scene.strokes.begin(), scene.strokes.end(), [&](const auto& s) {
      const scene::Lens lens = panels::lens_of(state, scene, port);
      return s.role == scene::StrokeRole::eave && glm::length(s.to - s.from) > 3.0 &&
             scene::is_in_sight(scene, lens, s.from + 0.3 * (s.to - s.from));
    });
  }
};

}  // namespace

TEST_CASE("a flat camera draws equal lengths equal, however far away") {
  Camera camera = flat("south");
  CHECK(camera.elevation_rad == 0.0);
  camera.target = {3.0, 2.0, 1.0};
  const Lens lens{camera, port};
  const auto length_px = [&](glm::dvec3 a, glm::dvec3 b) {
    return glm::length(*lens.pixel(b) - *lens.pixel(a));
  };
  const double near = length_px({0, -9, 0}, {4, -9, 0});
  const double far = length_px({0, 90, 0}, {4, 90, 0});
  CHECK(near == Approx(far));
  CHECK(near == Approx(4.0 * lens.px_per_m()));
  CHECK(length_px({0, 0, 0}, {0, 0, 2}) == Approx(2.0 * lens.px_per_m()));
  CHECK(length_px({0, 0, 0}, {0, 5, 0}) == Approx(0.0).margin(1e-9));
  // A ray through a pixel passes the points that appear there.
  const glm::dvec3 point{2.0, 7.0, 4.0};
  const scene::Ray ray = lens.ray(*lens.pixel(point));
  CHECK(glm::length(glm::cross(ray.direction, point - ray.from)) < 1e-9);
  // OpenGL's matrices say the same as pixel().
  const glm::dvec4 clip = lens.projection(1.0, 4000.0) * lens.view() * glm::dvec4(point, 1.0);
  CHECK(port.x + (clip.x / clip.w + 1) / 2 * port.width == Approx(lens.pixel(point)->x));
  CHECK(port.y + (1 - clip.y / clip.w) / 2 * port.height == Approx(lens.pixel(point)->y));
}

TEST_CASE("an elevation looks square at the side nearest to the compass direction") {
  const glm::dvec2 turned(std::cos(0.4), std::sin(0.4));
  for (const char* word : {"north", "east", "south", "west"}) {
    const Camera camera = flat(word, turned);
    const glm::dvec3 back = camera.axes().back;
    CHECK(std::min(std::abs(glm::dot(glm::dvec2(back), turned)),
                   std::abs(back.x * turned.y - back.y * turned.x)) < 1e-12);
    CHECK(scene::side_word(camera, 0.0) == word);
  }
  CHECK(flat("above").elevation_rad == Approx(glm::radians(90.0)));
  CHECK_FALSE(scene::looking_flat_from("up", 0.0, {1, 0}).ok());
}

TEST_CASE("a flat camera fits a house tightly, whatever its depth") {
  const std::vector<glm::dvec3> points{{-6, -4, 0}, {6, 400, 5}};
  const Lens lens{scene::fitted(flat("south"), points, port, 0.1), port};
  const auto a = lens.pixel(points[0]);
  const auto b = lens.pixel(points[1]);
  CHECK(a->x == Approx(port.x + 80.0));
  CHECK(b->x == Approx(port.x + port.width - 80.0));
  CHECK((a->y + b->y) / 2 == Approx(port.y + port.height / 2));
}

TEST_CASE("a glide starts where it is, ends where it goes, and turns the shorter way") {
  Camera from;
  from.azimuth_rad = 3.0;
  from.distance_m = 10.0;
  Camera to = from;
  to.azimuth_rad = -3.0;
  to.distance_m = 40.0;
  to.target = {8, 0, 0};
  CHECK(scene::between(from, to, 0.0).height_m() == Approx(from.height_m()));
  CHECK(scene::between(from, to, 1.0).azimuth_rad == to.azimuth_rad);
  const Camera half = scene::between(from, to, 0.5);
  CHECK(half.distance_m == Approx(20.0));  // the geometric mean: as much nearer each moment
  CHECK(std::cos(half.azimuth_rad) == Approx(-1.0));
  CHECK(half.target.x == Approx(4.0));
  CHECK(scene::eased(0.0) == 0.0);
  CHECK(scene::eased(1.0) == 1.0);
  for (double t = 0.0; t < 1.0; t += 0.05) {
    CHECK(scene::eased(t + 0.05) > scene::eased(t));
  }
}

TEST_CASE("the camera glides for its time and then asks for no more frames") {
  Fixture f;
  const Camera before = f.state.camera;
  f.state = panels::applied(std::move(f.state), panels::LookFrom{"north"}, f.scene, port);
  CHECK(f.state.camera.azimuth_rad == before.azimuth_rad);
  int frames = 0;
  while (panels::advance(f.state, 1.0 / 60)) {
    ++frames;
  }
  CHECK(frames == Approx(panels::glide_s * 60).margin(2));
  CHECK(scene::direction_word(f.state.camera, f.scene.north_deg) == "north");
  CHECK_FALSE(panels::advance(f.state, 1.0));
  // A hand on the house stops it where it is.
  f.state = panels::applied(std::move(f.state), panels::LookFrom{"south"}, f.scene, port);
  panels::advance(f.state, 0.1);
  f.state = panels::applied(std::move(f.state), panels::Pan{{0, 0}}, f.scene, port);
  CHECK_FALSE(panels::advance(f.state, 0.1));
}

TEST_CASE("where little motion is wanted the camera is at once where it is sent") {
  Fixture f;
  panels::State state;
  state.air.plays = true;
  const Camera to = scene::fitted(flat("above"), f.scene.corners, port, 0.1);
  panels::glide_to(state, to, panels::lesson_glide_s);
  CHECK(panels::advance(state, 0.3));
  REQUIRE(state.sight.glide);  // a step of the lesson takes longer than a key's
  apply(state, panels::SetStill{true}, f.scene, port);
  CHECK_FALSE(state.sight.glide);
  CHECK(state.camera.distance_m == to.distance_m);
  CHECK_FALSE(state.air.plays);
  Camera other = to;
  other.azimuth_rad += 1.0;
  panels::glide_to(state, other);
  CHECK(state.camera.azimuth_rad == other.azimuth_rad);
  CHECK_FALSE(panels::advance(state, 0.1));
}

TEST_CASE("of a loop only what stands is kept") {
  const std::vector<glm::dvec3> square{{0, 0, 1}, {4, 0, 1}, {4, 2, 1}, {0, 2, 1}};
  CHECK(scene::kept(square, std::nullopt) == square);
  const auto left = scene::kept(square, scene::HalfSpace{{1, 0, 0}, 1.0});
  REQUIRE(left.size() == 4);
  for (const glm::dvec3 corner : left) {
    CHECK(corner.x <= 1.0 + 1e-12);
    CHECK(corner.z == 1.0);
  }
  CHECK(scene::kept(square, scene::HalfSpace{{1, 0, 0}, 9.0}) == square);
  CHECK(scene::kept(square, scene::HalfSpace{{1, 0, 0}, -1.0}).empty());
}

TEST_CASE("the sliders' arithmetic: steps, reach, order") {
  CHECK(panels::stepped(42.0, 5.0, 1, {0, 359}) == 45.0);
  CHECK(panels::stepped(42.0, 5.0, -1, {0, 359}) == 40.0);
  CHECK(panels::stepped(45.0, 5.0, 1, {0, 359}) == 50.0);
  CHECK(panels::stepped(358.0, 5.0, 10, {0, 359}) == 359.0);
  CHECK(panels::stepped(-3.0, 0.5, -1, {-3, 3}) == -3.0);
  const std::vector<std::string> ids{"a", "b", "c"};
  CHECK(panels::next_of(ids, "", false) == "a");
  CHECK(panels::next_of(ids, "a", false) == "b");
  CHECK(panels::next_of(ids, "c", false).empty());
  CHECK(panels::next_of(ids, "", true) == "c");
  CHECK(panels::next_of(ids, "a", true).empty());
  CHECK(panels::next_of(ids, "gone", false) == "a");
  CHECK(panels::next_of({}, "a", false).empty());
}

TEST_CASE("the sun stands where worked examples have it") {
  // Duffie and Beckman, Solar Engineering of Thermal Processes, example 1.6.2, latitude 43 (from
  // memory): 13 February, 9:30: zenith 66.5, azimuth 40.0 east of south; 1 July, 18:30: zenith
  // 79.6, azimuth 112.0 west of south.
  const scene::SunPlace winter = scene::sun_place({true, 43.0, 44, 9.5});
  CHECK(glm::degrees(winter.altitude_rad) == Approx(90.0 - 66.5).margin(0.15));
  CHECK(glm::degrees(winter.azimuth_rad) == Approx(180.0 - 40.0).margin(0.15));
  const scene::SunPlace summer = scene::sun_place({true, 43.0, 182, 18.5});
  CHECK(glm::degrees(summer.altitude_rad) == Approx(90.0 - 79.6).margin(0.15));
  CHECK(glm::degrees(summer.azimuth_rad) == Approx(180.0 + 112.0).margin(0.15));
  // At noon it stands in the south, in the southern half of the world in the north.
  CHECK(glm::degrees(scene::sun_place({true, 50.0, 80, 12.0}).azimuth_rad) == Approx(180.0));
  CHECK(std::cos(scene::sun_place({true, -35.0, 80, 12.0}).azimuth_rad) == Approx(1.0));
  CHECK(scene::light_direction({true, 43.0, 44, 23.0}, Camera(), 0.0).z > 0.0);
  CHECK(scene::day_of_month(172) == 21);
  CHECK(std::string(scene::month_of(172)) == "June");
  CHECK(scene::day_of_month(365) == 31);
}

TEST_CASE("cuts are read from words") {
  const auto level = scene::parse_cut("level:60%");
  REQUIRE(level.ok());
  CHECK(level.value().way == CutWay::level);
  CHECK(level.value().share == Approx(0.6));
  CHECK(scene::parse_cut("across").value().share == 0.5);
  for (const char* bad : {"", "up", "across:", "across:1.2", "along:-1", "level:x"}) {
    const auto cut = scene::parse_cut(bad);
    REQUIRE_FALSE(cut.ok());
    CHECK(cut.faults().front().code == "cut.unknown");
  }
}

TEST_CASE("a cut keeps one half, the other when asked, and moves by metres") {
  const scene::Scene house = scene::from_assessment(test_support::wing_house());
  Cut cut{CutWay::across, 0.25, false};
  const auto [low, high] = scene::extent(cut, house);
  const auto low_half = scene::half_that_stays(cut, house);
  cut.keeps_high = true;
  const auto high_half = scene::half_that_stays(cut, house);
  REQUIRE((low_half && high_half));
  CHECK(low_half->reach_m == Approx(low + 0.25 * (high - low)));
  for (const glm::dvec3& p : house.corners) {
    CHECK(low_half->beyond_m(p) == Approx(-high_half->beyond_m(p)));
  }
  CHECK(scene::moved(cut, 1.0, house).share == Approx(0.25 + 1.0 / (high - low)));
  CHECK(scene::moved(cut, 1000.0, house).share == 1.0);
  CHECK_FALSE(scene::half_that_stays({}, house));
  for (const glm::dvec3& corner : scene::sheet(cut, house)) {
    CHECK(std::abs(low_half->beyond_m(corner)) < 1e-9);
  }
  CHECK(std::abs(low_half->beyond_m(scene::handle(cut, house))) < 1e-9);
  for (const CutWay way : {CutWay::across, CutWay::along, CutWay::level}) {
    const Camera camera = scene::best_view(house);
    const Cut open = scene::opened_towards({way, 0.5, false}, camera, house);
    CHECK(glm::dot(scene::half_that_stays(open, house)->normal, camera.axes().back) > 0);
  }
}

TEST_CASE("the border of slabs encloses their volume, without walls between them") {
  // Two boxes side by side, the second half as deep: one wall partly in common.
  const std::vector<scene::Slab> slabs{
      {{{0, 0}, {2, 0}, {2, 4}, {0, 4}}, {0, 0, 0, 0}, {3, 3, 3, 3}},
      {{{2, 0}, {5, 0}, {5, 2}, {2, 2}}, {0, 0, 0, 0}, {3, 3, 3, 3}}};
  Enclosed sum;
  double walls_at_2 = 0.0;
  for (const scene::Face& face : scene::border(slabs, {})) {
    add(face.triangles, sum);
    for (const scene::Triangle& t : face.triangles) {
      if (std::all_of(t.begin(), t.end(), [](glm::dvec3 p) { return std::abs(p.x - 2) < 1e-9; })) {
        walls_at_2 += glm::length(glm::cross(t[1] - t[0], t[2] - t[0])) / 2;
      }
    }
  }
  CHECK(sum.volume_m3 == Approx(2 * 4 * 3 + 3 * 2 * 3));
  CHECK(glm::length(sum.directed) < 1e-9);
  CHECK(walls_at_2 == Approx(2.0 * 3.0));  // only where the first stands alone
}

TEST_CASE("bodies of a house are closed, so that a cut finds what is inside") {
  for (const char* name : {"sorrel-lane", "quarry-rise", "wren-cape"}) {
    INFO(name);
    const Assessment house = support::assessed(name);
    std::map<FaceRole, Enclosed> bodies;
    for (const scene::Face& face : scene::from_assessment(house).faces) {
      if (scene::is_body(face.role)) {
        add(face.triangles, bodies[face.role]);
      }
    }
    REQUIRE(bodies.count(FaceRole::deck) == 1);
    REQUIRE(bodies.count(FaceRole::timber) == 1);
    REQUIRE(bodies.count(FaceRole::wall_core) == 1);
    REQUIRE(bodies.count(FaceRole::air) == 1);
    for (const auto& [role, body] : bodies) {
      INFO(static_cast<int>(role));
      CHECK(body.volume_m3 > 0.0);
      CHECK(glm::length(body.directed) < 2e-3);
    }
    // Air, insulation and the deck over them fill each attic; the insulation of a rafter space lies
    // beneath its air.
    double expected = 0.0;
    const attic::Columns columns(house.surface);
    for (const attic::Space& space : house.attic.spaces) {
      const bool is_attic = space.kind == attic::SpaceKind::attic;
      double own = 0.0;
      for (const attic::Column& column : columns.of(space)) {
        const surface::Plane& plane = house.surface.planes[column.plane];
        const double thick_m =
            is_attic ? -house.model.parts[plane.part].deck_m : space.insulation_m;
        own += attic::volume_m3(column);
        expected += polygon::area(column.plan) * thick_m / plane.frame.normal.z;
      }
      if (is_attic) {
        CHECK(own == Approx(space.volume_m3));
      }
      expected += own;
    }
    const double filled = bodies[FaceRole::air].volume_m3 + bodies[FaceRole::insulation].volume_m3;
    CHECK(filled == Approx(expected).epsilon(0.005));
  }
}

TEST_CASE("the section of a box is its outline") {
  const std::vector<scene::Slab> box{
      {{{0, 0}, {4, 0}, {4, 3}, {0, 3}}, {0, 0, 0, 0}, {2, 2, 2, 2}}};
  double length = 0.0;
  for (const scene::Face& face : scene::border(box, {})) {
    for (const scene::Segment& piece : scene::section(face.triangles, {{1.0, 0.0, 0.0}, 1.5})) {
      CHECK(piece.first.x == Approx(1.5));
      CHECK(piece.second.x == Approx(1.5));
      length += glm::length(piece.second - piece.first);
    }
    CHECK(scene::section(face.triangles, {{1.0, 0.0, 0.0}, 9.0}).empty());
  }
  CHECK(length == Approx(2 * (3 + 2)));
}

TEST_CASE("seen through a lens, pixel by pixel, is what a ray meets") {
  const scene::Scene house = scene::from_assessment(test_support::wing_house());
  const Camera camera = scene::fitted(scene::best_view(house), house.corners, port, 0.02);
  for (const Cut& cut : {Cut{}, Cut{CutWay::across, 0.4, false}}) {
    const Lens lens{camera, port, scene::half_that_stays(cut, house)};
    const scene::Seen seen(house, lens);
    for (double y = port.y + 3; y < port.y + port.height; y += 41.0) {
      for (double x = port.x + 3; x < port.x + port.width; x += 37.0) {
        const auto one = seen.at({x, y});
        const auto other = scene::first_hit(house, lens.ray({x, y}), lens.keeps);
        REQUIRE(one.has_value() == other.has_value());
        CHECK((!one ||
               (one->face == other->face && std::abs(one->distance_m - other->distance_m) < 1e-9)));
      }
    }
  }
}

TEST_CASE("a lone line gives its length, true and level") {
  scene::Measure measure;
  measure = scene::clicked(measure, on_line(1, {0, 0, 0}, {3, 0, 4}), false);
  const scene::Figures figures = scene::figures(measure);
  REQUIRE(figures.line);
  CHECK(figures.line->true_m == Approx(5.0));
  CHECK(figures.line->level_m == Approx(3.0));
  CHECK(figures.line->rise_m == Approx(4.0));
  CHECK_FALSE(figures.distance);
}

TEST_CASE("two lines give the distance and the angle between them, true and level") {
  // An eave and the hip from its end, both roofs at 12/12: half a right angle in plan, and in space
  // that between edge and diagonal of a cube, acos(1/sqrt 3) = 54.74 degrees (elementary geometry).
  scene::Measure measure;
  measure.spots = {on_line(1, {0, 0, 0}, {10, 0, 0}), on_line(2, {5, 5, 5}, {0, 0, 0})};
  scene::Figures figures = scene::figures(measure);
  REQUIRE((figures.angle_rad && figures.level_angle_rad && figures.distance));
  CHECK(glm::degrees(*figures.angle_rad) == Approx(54.7356).epsilon(1e-5));
  CHECK(glm::degrees(*figures.level_angle_rad) == Approx(45.0));
  CHECK(figures.distance->level_m == Approx(std::hypot(2.5, 2.5)));
  CHECK(*figures.slope_rad == Approx(std::atan2(2.5, std::hypot(2.5, 2.5))));
  // An obtuse corner stays obtuse where the lines share an end, and is told acute where not.
  measure.spots = {on_line(1, {0, 0, 0}, {10, 0, 0}), on_line(2, {0, 0, 0}, {-5, 5, 0})};
  CHECK(glm::degrees(*scene::figures(measure).angle_rad) == Approx(135.0));
  measure.spots = {on_line(1, {0, 0, 0}, {10, 0, 0}), on_line(2, {0, 3, 0}, {-5, 8, 0})};
  CHECK(glm::degrees(*scene::figures(measure).angle_rad) == Approx(45.0));
  // Parallel lines are so far apart, wherever they were clicked.
  measure.spots = {on_line(1, {0, 0, 0}, {10, 0, 0}, 0.1), on_line(2, {0, 6, 4}, {10, 6, 4}, 0.9)};
  CHECK(scene::figures(measure).square_m.value() == Approx(std::hypot(6.0, 4.0)));
}

TEST_CASE("clicks measure from line to place, and figures stay until cleared") {
  Fixture f;
  const scene::Stroke eave = f.eave();
  const glm::dvec3 on_eave = eave.from + 0.3 * (eave.to - eave.from);
  f.click(f.pixel(on_eave));
  REQUIRE(f.state.sight.measure.spots.size() == 1);
  CHECK(f.state.sight.measure.spots[0].line == eave.line);
  const auto rows = panels::measure_rows(f.state.sight.measure, units::Style::metric);
  CHECK(rows.front().second == units::show(glm::length(eave.to - eave.from), units::Style::metric));
  // Elsewhere on the same side of the roof.
  const scene::Face& roof =
      f.scene.faces[scene::first_hit(f.scene, panels::lens_of(f.state, f.scene, port)
                                                  .ray(f.pixel(on_eave) - glm::dvec2(0, 60)))
                        ->face];
  CHECK(roof.role == FaceRole::roof);
  f.click(f.pixel(on_eave) - glm::dvec2(0, 60));
  REQUIRE(f.state.sight.measure.spots.size() == 2);
  CHECK(scene::figures(f.state.sight.measure).square_m.has_value());
  f.click({port.x + 3, port.y + 3});  // beside the house
  CHECK(f.state.sight.measure.spots.size() == 2);
  f.key("Esc");
  CHECK(f.state.sight.measure.spots.empty());
  // From anywhere, while measuring; nothing is selected then.
  f.key("M");
  f.ask(panels::Select{});
  f.click(f.pixel(on_eave) - glm::dvec2(0, 60));
  CHECK(f.state.sight.measure.spots.size() == 1);
  CHECK(f.state.selected.is_nothing());
}

TEST_CASE("spots snap to ends and middles of lines") {
  Fixture f;
  const scene::Stroke eave = f.eave();
  const Lens lens = panels::lens_of(f.state, f.scene, port);
  const glm::dvec3 middle = (eave.from + eave.to) / 2.0;
  const auto snapped = scene::spot_at(f.scene, lens, f.pixel(middle) + glm::dvec2(3, 2), 7.0);
  REQUIRE(snapped);
  CHECK(snapped->on == Spot::On::middle);
  CHECK(snapped->at == middle);
  for (const glm::dvec3& end : {eave.from, eave.to}) {
    const auto corner = scene::spot_at(f.scene, lens, f.pixel(end) + glm::dvec2(2, -2), 7.0);
    if (corner && scene::is_in_sight(f.scene, lens, end)) {
      CHECK(corner->on == Spot::On::corner);
      CHECK(glm::length(corner->at - end) < 1e-6);
    }
  }
  CHECK_FALSE(scene::spot_at(f.scene, lens, {port.x + 3, port.y + 3}, 7.0));
}

TEST_CASE("pointing at a line tells it, and stops telling it") {
  Fixture f;
  const scene::Stroke eave = f.eave();
  panels::Input input;
  input.at = f.pixel(eave.from + 0.3 * (eave.to - eave.from));
  f.feed(input);
  REQUIRE(f.state.sight.pointed);
  CHECK(f.state.sight.pointed->line == eave.line);
  CHECK(panels::follow(f.pointer, input, f.state, f.scene, port).empty());
  input.at = {port.x + 3, port.y + 3};
  f.feed(input);
  CHECK_FALSE(f.state.sight.pointed);
}

TEST_CASE("keys cut, flip, move, peel, flatten, darken and enlarge") {
  Fixture f;
  f.key("X");
  CHECK(f.state.sight.cut.way == CutWay::across);
  CHECK(f.state.layers.has(scene::Layer::insulation));
  const bool half = f.state.sight.cut.keeps_high;
  f.key("Shift+X");
  CHECK(f.state.sight.cut.keeps_high != half);
  f.key("Page Up");
  CHECK(f.state.sight.cut.share == Approx(0.52));
  f.key("Page Down");
  CHECK(f.state.sight.cut.share == Approx(0.5));
  // The handle follows the hand.
  const glm::dvec2 at = f.pixel(scene::handle(f.state.sight.cut, f.scene));
  f.ask(panels::MoveCut{1.0});
  const glm::dvec2 to = f.pixel(scene::handle(f.state.sight.cut, f.scene));
  f.ask(panels::MoveCut{-1.0});
  panels::Input input;
  input.at = at;
  input.left_down = true;
  f.feed(input);
  input.at = to;
  f.feed(input);
  input.left_down = false;
  f.feed(input);
  const auto [low, high] = scene::extent(f.state.sight.cut, f.scene);
  CHECK((f.state.sight.cut.share - 0.5) * (high - low) == Approx(1.0).margin(0.15));
  for (int i = 0; i < 3; ++i) {
    f.key("X");
  }
  CHECK(f.state.sight.cut.way == CutWay::none);

  f.key("P");
  CHECK(f.state.sight.peeled.size() == f.house.surface.planes.size());
  f.key("P");
  CHECK(f.state.sight.peeled.empty());
  f.ask(panels::Select{{PlaneId(std::size_t{1}), LineId(), {}}});
  f.key("P");
  CHECK(f.state.sight.peeled == std::vector<PlaneId>{PlaneId(std::size_t{1})});

  f.key("O");
  CHECK(f.state.camera.is_flat);
  f.key("5");
  CHECK(f.state.camera.is_flat);
  CHECK(f.state.camera.elevation_rad == Approx(glm::radians(90.0)));
  f.key("O");
  CHECK_FALSE(f.state.camera.is_flat);
  f.key("S");
  CHECK(f.state.sight.sun.is_shown);
  f.key("N");
  CHECK(f.state.sight.is_dark);
  f.key("T");
  CHECK(f.state.sight.is_large);
  f.key("L");
  CHECK_FALSE(f.state.layers.has(scene::Layer::lengths));
}

TEST_CASE("words stand out from the paper in both themes") {
  // WCAG 2.1, success criterion 1.4.3: contrast of text at least 4.5 to 1; relative luminance as
  // it defines it.
  const auto luminance = [](glm::vec3 c) {
    const auto linear = [](float v) {
      return v <= 0.04045F ? v / 12.92F : std::pow((v + 0.055F) / 1.055F, 2.4F);
    };
    return 0.2126F * linear(c.r) + 0.7152F * linear(c.g) + 0.0722F * linear(c.b);
  };
  const auto contrast = [&](glm::vec3 a, glm::vec3 b) {
    const float high = std::max(luminance(a), luminance(b));
    const float low = std::min(luminance(a), luminance(b));
    return (high + 0.05F) / (low + 0.05F);
  };
  for (const bool is_dark : {false, true}) {
    draw::set_dark(is_dark);
    const draw::Inks inks = draw::inks();
    for (const glm::vec3& words : {inks.ink, inks.faint_ink, inks.intake, inks.good, inks.bad}) {
      CHECK(contrast(words, inks.card) > 4.5F);
    }
    CHECK(contrast(inks.ink, inks.paper) > 7.0F);
  }
  draw::set_dark(false);
}
