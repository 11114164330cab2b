// What single edits do, and what all of them keep.
#include "base/polygon.hpp"
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "edit/stage.hpp"
#include "support/random_edits.hpp"
#include "support/same_model.hpp"
#include "support/seed.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cstdlib>
#include <utility>

using namespace ridgeward;
using units::foot_m;

namespace {

model::RoofModel house(const std::string& name) {
  auto read =
      model::read_file(std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/" + name + ".roof.json");
  REQUIRE(read.ok());
  return std::move(read).value().model;
}

edit::Edited done(const model::RoofModel& model, const edit::Edit& edit) {
  auto edited = edit::edited(model, edit);
  INFO((edited ? std::string() : edited.faults().front().what));
  REQUIRE(edited.ok());
  // Law 1: written and read back to the bit.
  auto again = model::read(model::write(edited.value().model));
  REQUIRE(again.ok());
  CHECK(tests::difference(edited.value().model, again.value().model).empty());
  return std::move(edited).value();
}

std::string code_of(const model::RoofModel& model, const edit::Edit& edit) {
  const auto edited = edit::edited(model, edit);
  return edited ? "" : edited.faults().front().code;
}

double area_m2(const model::RoofModel& model) {
  const auto surface = surface::raise(model);
  REQUIRE(surface.ok());
  double sum = 0.0;
  for (const surface::Plane& plane : surface.value().planes) {
    sum += plane.plan_area_m2;
  }
  return sum;
}

std::size_t cases(std::size_t usual) {
  const char* given = std::getenv("RIDGEWARD_CASES");
  return given != nullptr ? std::strtoull(given, nullptr, 10) : usual;
}

}  // namespace

TEST_CASE("a corner on an edge renumbers what comes after it, and all goes on naming its plane") {
  // sorrel-lane: edges 0 to 5; runs on planes 0, 3, 4; ridges 0|4 and 1|3; a pipe on plane 3.
  const model::RoofModel before = house("sorrel-lane");
  const auto after = done(before, edit::InsertCorner{"main", 1, {26 * foot_m, -6 * foot_m}});
  CHECK(after.said.empty());
  const model::RoofModel& m = after.model;
  CHECK(m.intake[0].plane == "main/0");
  CHECK(m.intake[1].plane == "main/4");
  CHECK(m.intake[2].plane == "main/5");
  CHECK(m.exhaust[0].line == "main/0|main/5");
  CHECK(m.exhaust[1].line == "main/1|main/4");
  CHECK(m.obstacles[1].plane == "main/4");
  CHECK(m.parts[0].edges[2] == m.parts[0].edges[1]);
  // The roof is the same: a straight eave is parted in two.
  CHECK(area_m2(m) == Approx(area_m2(before)).epsilon(1e-9));
  // Taking the corner out again gives the model that was.
  const auto back = done(m, edit::RemoveCorner{"main", 2});
  CHECK(back.said.empty());
  CHECK(tests::difference(back.model, before).empty());
}

TEST_CASE("what was measured along an edge goes to the half that it stands on") {
  model::RoofModel before = house("sorrel-lane");
  const glm::dvec2 from = before.parts[0].outline[0];
  const glm::dvec2 to = before.parts[0].outline[1];
  const double length_m = glm::distance(from, to);
  before.parts[0].framing.measured = {{0, {0.1 * length_m}, {0.25 * length_m, 0.75 * length_m}}};
  const auto after = done(before, edit::InsertCorner{"main", 0, 0.5 * (from + to)});
  const auto& measured = after.model.parts[0].framing.measured;
  REQUIRE(measured.size() == 2);
  CHECK(measured[0].edge == 0);
  CHECK(measured[0].at_m.size() == 1);
  REQUIRE(measured[0].stopped_m.size() == 1);
  CHECK(measured[0].stopped_m[0] == Approx(0.25 * length_m));
  CHECK(measured[1].edge == 1);
  CHECK(measured[1].at_m.empty());
  REQUIRE(measured[1].stopped_m.size() == 1);
  CHECK(measured[1].stopped_m[0] == Approx(0.25 * length_m));
  const auto read = model::read(model::write(after.model));
  REQUIRE(read);
  CHECK(tests::difference(read.value().model, after.model).empty());
}

TEST_CASE("corner 0 takes edge 0 with it") {
  model::RoofModel before = house("plain-gable");
  const auto wider = done(
      before, edit::InsertCorner{"main", before.parts[0].outline.size() - 1, {0.0, 14 * foot_m}});
  // The new corner stands last; turn the numbering by removing the first corner of a straight side.
  const auto gone = done(wider.model, edit::RemoveCorner{"main", 4});
  CHECK(tests::difference(gone.model, before).empty());
  const auto triangle = edit::edited(before, edit::RemoveCorner{"main", 0});
  REQUIRE(triangle.ok());
  CHECK(triangle.value().model.parts[0].outline.size() == 3);
  CHECK(triangle.value().model.parts[0].edges[2] == before.parts[0].edges[3]);
}

TEST_CASE("an edge moves out by what is asked, and the sides beside it keep their directions") {
  const model::RoofModel before = house("sorrel-lane");
  const auto after = done(before, edit::MoveEdge{"main", 2, 4 * foot_m});
  const auto& outline = after.model.parts[0].outline;
  CHECK(outline[2].y == Approx(-20 * foot_m));
  CHECK(outline[3].y == Approx(-20 * foot_m));
  CHECK(outline[2].x == before.parts[0].outline[2].x);
  // Its ceiling has corners there: they come with it.
  CHECK(after.model.ceilings[0].outline[2].y == outline[2].y);
  // 22 ft of wing and its eaves' overhangs, 4 ft longer.
  CHECK(area_m2(after.model) - area_m2(before) == Approx(4 * (22 + 3) * foot_m * foot_m));
}

TEST_CASE("runs are cut short with their eave, and what lies on nothing is taken out") {
  const model::RoofModel before = house("sorrel-lane");
  const auto shorter = done(before, edit::MoveEdge{"main", 5, -4 * foot_m});
  REQUIRE(shorter.model.intake.size() == 3);
  const auto far_shorter = done(before, edit::MoveEdge{"main", 5, -16 * foot_m});
  CHECK_FALSE(far_shorter.said.empty());
  model::Edge gable = before.parts[0].edges[4];
  gable.kind = model::EdgeKind::gable;
  const auto no_plane = done(before, edit::SetEdge{"main", 4, gable});
  CHECK(no_plane.model.intake.size() == 2);
  for (const model::ExhaustVent& vent : no_plane.model.exhaust) {
    CHECK(vent.id != "main-ridge");
  }
  CHECK(no_plane.said.size() >= 2);
}

TEST_CASE("a vent is cut short with its ridge, or taken out where nothing of it is left") {
  const model::RoofModel before = house("wren-cape");  // a ridge of 37 ft 6 in, its vent 10 to 27
  const auto cut = done(before, edit::MoveEdge{"main", 1, -18 * foot_m});
  REQUIRE(cut.model.exhaust.size() == 1);
  CHECK(cut.model.exhaust[0].to_m == Approx(19.5 * foot_m));
  CHECK(cut.said.size() >= 1);
  // A courtyard across the ridge leaves two short pieces of it.
  const auto square = edit::free_square(before.parts[0], before.unit);
  const auto court = done(before, edit::PutHole{"main", 0, square});
  for (const model::ExhaustVent& vent : court.model.exhaust) {
    const auto surface = surface::raise(court.model);
    const LineId line = surface.value().line_named(vent.line);
    CHECK(vent.to_m <= surface.value().lines[line].length_m + 1e-6);
  }
}

TEST_CASE("parts from the list stand where they are put and raise a sound roof") {
  const model::RoofModel before = house("plain-gable");
  for (const edit::PartKindWords& kind : edit::part_kinds()) {
    CAPTURE(kind.word);
    const auto after = done(before, edit::AddPart{kind.kind, "main", 0, {}, {}, {}});
    REQUIRE(after.model.parts.size() == 2);
    const auto surface = surface::raise(after.model);
    REQUIRE(surface.ok());
    CHECK(surface::verify(surface.value()).empty());
    std::size_t planes = 0;
    for (const surface::Plane& plane : surface.value().planes) {
      planes += plane.part == 1 ? 1 : 0;
    }
    const std::size_t expected =
        kind.kind == edit::PartKind::hipped_wing                                           ? 3
        : kind.kind == edit::PartKind::shed_dormer || kind.kind == edit::PartKind::lean_to ? 1
                                                                                           : 2;
    CHECK(planes == expected);
    const auto gone = done(after.model, edit::RemovePart{after.model.parts[1].id});
    CHECK(tests::difference(gone.model, done(before, edit::SetName{before.name}).model).empty());
  }
}

TEST_CASE("what is added stands in the widest free stretch, or says why it can't") {
  // 40' x 28' 6 1/2", hips at 6/12 all round; a wing in the middle of the front.
  auto drawn = edit::new_house({{0, 0},
                                {40 * foot_m, 0},
                                {40 * foot_m, 28 * foot_m + 6.5 * units::inch_m},
                                {0, 28 * foot_m + 6.5 * units::inch_m}},
                               units::LengthUnit::ft);
  REQUIRE(drawn);
  const auto wing =
      done(drawn.value(), edit::AddPart{edit::PartKind::wing, "main", 0, {}, {}, {}}).model;
  // A dormer has its walls within the plane that it stands on, clear of hips and of the wing.
  const auto stands_free = [](const model::RoofModel& before, const model::RoofModel& after) {
    const auto roof = surface::raise(before);
    REQUIRE(roof);
    const auto loops =
        surface::plan_of(roof.value(), roof.value().planes[roof.value().plane_named("main/0")]);
    for (const glm::dvec2 corner : after.parts.back().outline) {
      CHECK(polygon::contains(loops, corner));
    }
  };
  for (const edit::PartKind kind : {edit::PartKind::dormer, edit::PartKind::shed_dormer}) {
    const edit::AddPart beside{kind, "main", 0, {}, {}, {}};
    const auto both = edit::edited(wing, beside);
    if (both) {
      stands_free(wing, both.value().model);
      const auto surface = surface::raise(both.value().model);
      REQUIRE(surface);
      CHECK(surface::verify(surface.value()).empty());
    } else {
      CHECK(both.faults().front().what.find("along edge main/0") != std::string::npos);
    }
    // In the middle where nothing is in the way.
    const auto alone = done(drawn.value(), beside).model;
    stands_free(drawn.value(), alone);
    double middle = 0.0;
    for (const glm::dvec2 corner : alone.parts.back().outline) {
      middle += corner.x / 4;
    }
    CHECK(middle == Approx(20 * foot_m));
  }
  // A second wing on that side finds only the corners beside the first: 12 ft each.
  const auto second = done(wing, edit::AddPart{edit::PartKind::wing, "main", 0, {}, {}, {}}).model;
  const auto span = [](const model::Part& part) {
    double low = 1e9;
    double high = -1e9;
    for (const glm::dvec2 corner : part.outline) {
      low = std::min(low, corner.x);
      high = std::max(high, corner.x);
    }
    return std::pair(low, high);
  };
  const auto [first_low, first_high] = span(second.parts[1]);
  const auto [low, high] = span(second.parts[2]);
  CHECK((high < first_low || low > first_high));
  CHECK(code_of(wing, edit::AddPart{edit::PartKind::wing, "main", 0, {}, 20 * foot_m, {}}) ==
        "edit.part_does_not_fit");
}

TEST_CASE("a wing's ridge runs in level at the height that its width gives") {
  // Equal pitch 8/12 and plate: a wing 12 ft wide has its ridge 4 ft over its eaves' deck height.
  const model::RoofModel before = house("plain-gable");
  const auto after =
      done(before, edit::AddPart{edit::PartKind::wing, "main", 0, {}, 12 * foot_m, 10 * foot_m});
  const auto surface = surface::raise(after.model);
  REQUIRE(surface.ok());
  const double rise = before.parts[0].edges[0].pitch.tangent() * 6 * foot_m;
  bool has_ridge = false;
  for (const surface::Line& line : surface.value().lines) {
    const double z = surface.value().nodes[line.from].z;
    has_ridge =
        has_ridge || (line.kind == surface::LineKind::ridge &&
                      std::abs(z - before.parts[0].plate_m - before.parts[0].heel_m - rise) < 1e-6);
  }
  CHECK(has_ridge);
}

TEST_CASE("courtyards are put, changed and taken out; edges after them go on being named") {
  const model::RoofModel before = house("sorrel-lane");
  const model::Part& main = before.parts[0];
  const std::size_t own = main.edges.size();
  const auto square = edit::free_square(main, before.unit);
  REQUIRE(square.size() == 4);
  const auto with = done(before, edit::PutHole{"main", 0, square});
  REQUIRE(with.model.parts[0].holes.size() == 1);
  const auto side = square[1].x - square[0].x;
  // Walls go in by the square; its overhangs go on over it.
  CHECK(area_m2(with.model) < area_m2(before));
  CHECK(area_m2(with.model) > area_m2(before) - side * side);
  CHECK(with.model.parts[0].holes[0].edges[0].pitch == main.edges[0].pitch);
  // A second one behind it, then the first is gone: what lies on the second follows.
  auto both = with;
  const auto second = edit::free_square(with.model.parts[0], before.unit);
  both = done(with.model, edit::PutHole{"main", 1, second});
  model::Part measured = both.model.parts[0];
  measured.framing.measured.push_back({static_cast<int>(own) + 4, {0.2, 0.5}});
  both = done(both.model, edit::SetPart{measured});
  const auto one = done(both.model, edit::RemoveHole{"main", 0});
  REQUIRE(one.model.parts[0].holes.size() == 1);
  CHECK(one.model.parts[0].framing.measured.back().edge == static_cast<int>(own));
  // A corner more on its first edge: the others keep what they are.
  model::Edge marked = one.model.parts[0].holes[0].edges[2];
  marked.overhang_m = 0.1;
  const auto with_mark = done(one.model, edit::SetEdge{"main", own + 2, marked});
  std::vector<glm::dvec2> outline = with_mark.model.parts[0].holes[0].outline;
  outline.insert(outline.begin() + 1, (outline[0] + outline[1]) / 2.0);
  const auto five = done(with_mark.model, edit::PutHole{"main", 0, outline});
  REQUIRE(five.model.parts[0].holes[0].edges.size() == 5);
  CHECK(five.model.parts[0].holes[0].edges[3].overhang_m == Approx(0.1));
  const auto none = done(five.model, edit::RemoveHole{"main", 0});
  CHECK(area_m2(none.model) == Approx(area_m2(before)));
}

TEST_CASE("what can't be done is a fault with a cure") {
  const model::RoofModel m = house("plain-gable");
  const auto fault = [&](const edit::Edit& edit) { return code_of(m, edit); };
  CHECK(fault(edit::MoveCorner{"nothing", 0, {}}) == "edit.part_unknown");
  CHECK(fault(edit::MoveCorner{"main", 9, {}}) == "edit.corner_unknown");
  CHECK(fault(edit::MoveEdge{"main", 9, 1.0}) == "edit.edge_unknown");
  CHECK(fault(edit::MoveCorner{"main", 0, m.parts[0].outline[1]}) == "outline.zero_edge");
  CHECK(fault(edit::RemovePart{"main"}) == "edit.last_part");
  CHECK(fault(edit::RemoveHole{"main", 0}) == "edit.hole_unknown");
  CHECK(fault(edit::PutHole{"main", 1, m.parts[0].outline}) == "edit.hole_unknown");
  CHECK(fault(edit::PutHole{"main", 0, {{-9, -9}, {-8, -9}, {-8, -8}}}) == "hole.outside");
  CHECK(fault(edit::Remove{edit::Thing::intake, "none"}) == "edit.id_unknown");
  CHECK(fault(edit::AddPart{edit::PartKind::dormer, "main", 1, {}, {}, {}}) ==
        "edit.part_does_not_fit");
  CHECK(fault(edit::AddPart{edit::PartKind::dormer, "main", 0, {}, 40 * foot_m, {}}) ==
        "edit.part_does_not_fit");
  model::Edge flat = m.parts[0].edges[0];
  flat.pitch = units::Pitch::from_rise_run(0, 12);
  CHECK(fault(edit::SetEdge{"main", 0, flat}) == "pitch.range");
  flat = m.parts[0].edges[0];
  flat.overhang_m = std::nan("");
  CHECK_FALSE(fault(edit::SetEdge{"main", 0, flat}).empty());
  for (const auto& edit :
       {edit::Edit(edit::RemovePart{"main"}), edit::Edit(edit::MoveEdge{"main", 9, 1.0})}) {
    CHECK_FALSE(edit::edited(m, edit).faults().front().cure.empty());
  }
}

TEST_CASE("a house from nothing, its outline in either sense") {
  const std::vector<glm::dvec2> outline{{0, 0}, {0, 8}, {12, 8}, {12, 0}};  // clockwise
  const auto model = edit::new_house(outline, units::LengthUnit::m);
  REQUIRE(model.ok());
  // A hip roof with overhangs of a foot: its plan is the rectangle grown by them.
  CHECK(area_m2(model.value()) == Approx((12 + 2 * foot_m) * (8 + 2 * foot_m)));
  CHECK(edit::new_house({{0, 0}, {4, 4}, {4, 0}, {0, 4}}, units::LengthUnit::m)
            .faults()
            .front()
            .code == "outline.crosses_itself");
}

TEST_CASE("any edits in any order leave models that read back, with a sound surface") {
  const char* houses[]{"sorrel-lane", "tern-cottage", "wren-cape", "plain-gable", "heron-court"};
  const std::size_t count = cases(150);
  std::size_t taken = 0;
  std::size_t asked = 0;
  for (const char* name : houses) {
    tests::RandomEdits random(tests::seed());
    model::RoofModel model = house(name);
    for (std::size_t i = 0; i < count; ++i) {
      const edit::Edit edit = random.next(model);
      CAPTURE(name, i, edit::words_of(edit));
      const auto edited = edit::edited(model, edit);
      ++asked;
      if (!edited) {
        for (const Fault& fault : edited.faults()) {
          CHECK_FALSE(fault.code.empty());
          CHECK_FALSE(fault.cure.empty());
        }
        continue;
      }
      ++taken;
      const auto again = model::read(model::write(edited.value().model));
      REQUIRE(again.ok());
      REQUIRE(tests::difference(edited.value().model, again.value().model).empty());
      const auto surface = surface::raise(edited.value().model);
      REQUIRE(surface.ok());
      model = edited.value().model;
    }
  }
  CHECK(taken * 3 > asked);  // most of what is asked can be done: the walk gets somewhere
}
