// What single edits do, and what all of them keep.
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "edit/stage.hpp"
#include "support/random_edits.hpp"
#include "support/same_model.hpp"
#include "support/seed.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <cstdlib>

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

TEST_CASE("what can't be done is a fault with a cure") {
  const model::RoofModel m = house("plain-gable");
  const auto fault = [&](const edit::Edit& edit) { return code_of(m, edit); };
  CHECK(fault(edit::MoveCorner{"nothing", 0, {}}) == "edit.part_unknown");
  CHECK(fault(edit::MoveCorner{"main", 9, {}}) == "edit.corner_unknown");
  CHECK(fault(edit::MoveEdge{"main", 9, 1.0}) == "edit.edge_unknown");
  CHECK(fault(edit::MoveCorner{"main", 0, m.parts[0].outline[1]}) == "outline.zero_edge");
  CHECK(fault(edit::RemovePart{"main"}) == "edit.last_part");
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
