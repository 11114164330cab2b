// What a stranger to the house must find on the crew's pages: which end, how far, from where, and
// whether it may be cut at all. Lengths by hand; facts of the trade: common practice, no source.
#include "papers/assessed.hpp"
#include "papers/crew_sheet.hpp"
#include "papers/crew_steps.hpp"
#include "papers/inspector_sheet.hpp"
#include "papers/marks.hpp"
#include "papers/plane_drawing.hpp"
#include "papers/sheet.hpp"
#include "papers/summary.hpp"

#include <glm/geometric.hpp>

#include <cmath>
#include <map>
#include <set>

using namespace ridgeward;
using namespace ridgeward::tests;
using units::foot_m;
using units::inch_m;

namespace {

constexpr auto feet = units::Style::feet_inches;

bool any_holds(const std::vector<std::string>& steps, const std::string& words) {
  return std::any_of(steps.begin(), steps.end(), [&](const std::string& step) {
    return step.find(words) != std::string::npos;
  });
}

/// All words of a page, its lines joined.
std::string words_of(const papers::Page& page) {
  std::string all;
  for (const papers::Text& text : page.texts) {
    all += text.text + " ";
  }
  return all;
}

/// The pages from the one whose heading starts so to the next heading of a page.
std::string pages_of(const papers::Drawing& sheet, const std::string& heading) {
  std::string all;
  bool is_in = false;
  for (std::size_t i = 2; i < sheet.pages.size(); ++i) {  // after cover and plan
    for (const papers::Text& text : sheet.pages[i].texts) {
      if (text.is_bold && text.size_mm == 3.8 && text.text.find(heading) != std::string::npos) {
        is_in = true;
      }
    }
    const std::string words = words_of(sheet.pages[i]);
    if (is_in && !all.empty() && words.find("Before you cut:") != std::string::npos) {
      break;
    }
    all += is_in ? words : "";
  }
  return all;
}

model::IntakeRun run_of(const char* id, const char* product, double from_ft, double to_ft) {
  model::IntakeRun run;
  run.id = id;
  run.product = product;
  run.plane = "main/2";
  run.from_m = from_ft * foot_m;
  run.to_m = to_ft * foot_m;
  return run;
}

model::ExhaustVent on_plane(const char* id, const char* product, glm::dvec2 at_ft) {
  model::ExhaustVent vent;
  vent.id = id;
  vent.product = product;
  vent.plane = "main/2";
  vent.at = at_ft * foot_m;
  return vent;
}

/// The plain gable with a wing at its back, 18 ft by 13 ft, that goes in under the main overhang of
/// 1 ft: a run on its east eave, a vent on its ridge.
model::RoofModel with_wing(double plate_ft) {
  model::RoofModel model = house(demo("plain-gable"));
  model::Part wing = model.parts[0];
  wing.id = "wing";
  wing.outline = {glm::dvec2{12, 28} * foot_m, glm::dvec2{30, 28} * foot_m,
                  glm::dvec2{30, 41} * foot_m, glm::dvec2{12, 41} * foot_m};
  wing.plate_m = plate_ft * foot_m;
  wing.heel_m = 0.5 * foot_m;
  wing.edges = {wing.edges[1], wing.edges[0], wing.edges[1], wing.edges[0]};
  wing.edges[0].overhang_m = wing.edges[2].overhang_m = 0.0;
  model.parts.push_back(wing);
  model::IntakeRun run = model.intake.front();
  run.id = "east";
  run.plane = "wing/1";
  run.from_m = 3 * foot_m;
  run.to_m = 9 * foot_m;
  model.intake.push_back(run);
  model::ExhaustVent top = model.exhaust.front();
  top.id = "wing-top";
  top.line = "wing/1|wing/3";
  top.from_m = 3 * foot_m;
  top.to_m = 9 * foot_m;
  model.exhaust.push_back(top);
  return model;
}

papers::Run run_named(const Assessment& a, const std::string& id) {
  const std::vector<papers::Run> all = papers::runs_of(a);
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const papers::Run& run) { return run.id == id; });
  REQUIRE(found != all.end());
  return *found;
}

double left_of(const papers::Path& path) {
  double least = HUGE_VAL;
  for (const auto& loop : path.loops) {
    for (const glm::dvec2 p : loop) {
      least = std::min(least, p.x);
    }
  }
  return least;
}

model::ExhaustVent in_wall(const char* id, const char* wall) {
  model::ExhaustVent vent;
  vent.id = id;
  vent.product = "gable-60";
  vent.wall = wall;
  vent.at = glm::dvec2{14.0, 4.0} * foot_m;
  return vent;
}

/// The plain gable with vents in its soffits; `soffit` of all eaves.
model::RoofModel soffit_house(model::Soffit soffit) {
  model::RoofModel model = house(demo("plain-gable"));
  for (model::Edge& edge : model.parts.front().edges) {
    edge.soffit = soffit;
  }
  model.intake = {run_of("strip", "soffit-strip-9", 2, 30),
                  run_of("grille", "soffit-grille-65", 32, 40)};
  return model;
}

}  // namespace

TEST_CASE("a soffit is level: its vents are as wide as bought, measured from the fascia") {
  const Assessment a = assessed(soffit_house(model::Soffit::vented));
  const papers::Run strip = papers::runs_of(a).front();
  const papers::SlotMarks marks = papers::marks_of(a, a.vents.slots[strip.slots.front()]);
  REQUIRE(marks.soffit);
  // 12 in of overhang, 2 1/2 in of vent in its middle.
  CHECK(marks.soffit->wide_m / inch_m == Approx(2.5));
  CHECK(marks.soffit->from_edge_m / inch_m == Approx(4.75));
  CHECK(marks.soffit->to_edge_m / inch_m == Approx(7.25));
  CHECK(marks.soffit->from_wall_m / inch_m == Approx(4.75));
  const auto steps = papers::steps_of(a, strip, feet);
  CHECK(any_holds(steps, "(the face of the fascia): 4 3/4\" and 7 1/4\""));
  CHECK(any_holds(steps, "from 2' 0\" to 30' 0\" from the LEFT rake edge, 2 1/2\" wide"));
  CHECK(any_holds(papers::steps_of(a, papers::runs_of(a).back(), feet), ", 8\" wide"));
  const std::string summary = papers::to_summary(a, feet);
  CHECK(summary.find("2 3/4\"") == std::string::npos);
  CHECK_FALSE(papers::marks_of(a, assessed(demo("plain-gable")).vents.slots[SlotId(0)]).soffit);
}

TEST_CASE("grilles side by side: each rafter once, each opening by its number") {
  const Assessment a = assessed(soffit_house(model::Soffit::vented));
  const papers::Run grilles = papers::runs_of(a).back();
  REQUIRE(grilles.slots.size() == 6);
  std::set<MemberId> crossed;
  std::size_t crossings = 0;
  for (const SlotId id : grilles.slots) {
    for (const vents::Crossing& crossing : a.vents.slots[id].crossings) {
      crossed.insert(crossing.member);
      ++crossings;
    }
  }
  REQUIRE(crossings > crossed.size());
  const std::string pages = pages_of(papers::crew_sheet(a, feet, papers::Paper::letter), "grille");
  for (const MemberId id : crossed) {
    const papers::SlotMarks marks = papers::marks_of(a, a.vents.slots[grilles.slots.front()]);
    const std::string mark = papers::short_name(a.framing.members[id].id) + " " +
                             units::show(a.framing.members[id].at_m - marks.hook_u_m, feet);
    const std::string on_drawing = papers::short_name(a.framing.members[id].id) + "  " +
                                   units::show(a.framing.members[id].at_m - marks.hook_u_m, feet);
    INFO(mark << "\n" << pages);
    const std::size_t at = std::min(pages.find(mark), pages.find(on_drawing));
    REQUIRE(at != std::string::npos);
    CHECK(pages.find(mark, at + 1) == std::string::npos);
    CHECK(pages.find(on_drawing, at + 1) == std::string::npos);
  }
  for (int i = 1; i <= 6; ++i) {
    CHECK(pages.find(fmt::format(" /{} ", i)) != std::string::npos);
  }
}

TEST_CASE("a run is not at fault for rafter spaces that it does not open onto") {
  model::RoofModel model = tests::house(demo("plain-gable"));
  model::Ceiling vault;
  vault.id = "vault";
  vault.kind = model::CeilingKind::sloped;
  vault.outline = model.parts[0].outline;
  vault.insulation_m = 4 * 0.0254;
  model.ceilings = {vault};
  const std::string front = model.intake.at(0).plane;
  std::erase_if(model.intake, [&](const model::IntakeRun& run) { return run.plane != front; });
  const Assessment a = assessed(model);
  // The spaces of the other side have no intake, and are told together.
  const auto bare = std::find_if(
      a.findings.begin(), a.findings.end(),
      [](const conflicts::Finding& one) { return one.kind == "compartment_without_openings"; });
  REQUIRE(bare != a.findings.end());
  CHECK_FALSE(bare->others.empty());
  CHECK(conflicts::is_about(*bare, bare->others.back()));
  for (const papers::Run& run : papers::runs_of(a)) {
    for (const std::size_t i : papers::findings_about(a, run.slots, {})) {
      CHECK(a.findings[i].kind != "compartment_without_openings");
    }
  }
}

TEST_CASE("findings are told in feet and inches or in metric, whatever the model is drawn in") {
  const Assessment a = assessed(demo("quarry-rise"));
  const auto in_feet = findings_in(a, units::Style::feet_inches);
  const auto in_metric = findings_in(a, units::Style::metric);
  REQUIRE(in_feet.size() == a.findings.size());
  REQUIRE(in_metric.size() == a.findings.size());
  for (std::size_t i = 0; i < in_feet.size(); ++i) {
    CHECK(in_feet[i].kind == in_metric[i].kind);
    CHECK(in_feet[i].measured == a.findings[i].measured);  // drawn in feet
    CHECK(in_feet[i].measured != in_metric[i].measured);
  }
}

TEST_CASE("a run at fault says at the head of its page that it must not be cut, and why") {
  const Assessment a = assessed(soffit_house(model::Soffit::closed));
  const papers::Drawing sheet = papers::crew_sheet(a, feet, papers::Paper::letter);
  const std::string strip = pages_of(sheet, "Intake strip");
  CHECK(strip.find("NOT READY TO CUT: Slot strip/1 lies in a soffit that is closed") !=
        std::string::npos);
  CHECK(strip.find("NOT READY") < strip.find("Steps"));
  CHECK(strip.find("nothing: the soffit here is closed") != std::string::npos);
  CHECK(strip.find("out at") == std::string::npos);
  CHECK(strip.find("Upright hatch: dead bays") != std::string::npos);
  const std::string grille = pages_of(sheet, "Intake grille");
  std::size_t errors = 0;
  for (const std::size_t i : papers::findings_about(a, papers::runs_of(a).back().slots, {})) {
    errors += a.findings[i].severity == conflicts::Severity::error ? 1 : 0;
  }
  REQUIRE(errors >= 6);
  CHECK(grille.find(fmt::format("And {} more errors, under Warnings.", errors - 3)) !=
        std::string::npos);
  // One without fault says nothing of the kind, but has its cautions.
  const Assessment good = assessed(demo("plain-gable"));
  const papers::Drawing fine = papers::crew_sheet(good, feet, papers::Paper::letter);
  const std::string front = pages_of(fine, "Intake front");
  CHECK(front.find("NOT READY") == std::string::npos);
  for (const char* word : {"falls", "wiring", "asbestos"}) {
    CHECK(front.find(word) < front.find("Steps"));
  }
  CHECK(front.find("Upright hatch") == std::string::npos);
}

TEST_CASE("beneath another roof the tape hooks on the wall, or below the drip line by name") {
  const Assessment a = assessed(with_wing(3.0));
  // The wall at y = 28 ft, main's drip line at 29, the wing's gable at 41, rafters at 24 in from
  // the wall; the run starts 3 ft from the drip line and is 6 ft long.
  const papers::Run run = run_named(a, "east");
  const papers::SlotMarks marks = papers::marks_of(a, a.vents.slots[run.slots.front()]);
  REQUIRE(marks.left_over);
  CHECK(marks.left_over->part == "main");
  CHECK(marks.left_over->to_wall_m == Approx(1 * foot_m));
  CHECK(marks.left_over->goes_on);
  CHECK_FALSE(marks.right_over);
  CHECK(marks.left_words() == "LEFT wall");
  CHECK(marks.eave_m == Approx(13 * foot_m));
  CHECK(marks.start_from_left_m == Approx(4 * foot_m));
  CHECK(marks.end_from_right_m == Approx(3 * foot_m));
  REQUIRE(marks.rafters.size() == 4);
  for (std::size_t i = 0; i < marks.rafters.size(); ++i) {
    CHECK(marks.rafters[i].from_left_m == Approx((4.0 + 2.0 * static_cast<double>(i)) * foot_m));
  }
  const auto steps = papers::steps_of(a, run, feet);
  CHECK(any_holds(steps, "4' 0\" and 10' 0\" from the LEFT wall; check 3' 0\" from"));
  CHECK(any_holds(steps,
                  "On the left the deck goes on 1' 0\" beneath the overhang of main: hook "
                  "the tape on the wall there"));
  // The hook and what is drawn of the deck beneath lie left of the plane, within the frame.
  papers::Page page;
  const papers::PlaneView view = papers::whole_plane(a, run.plane, {{15, 30}, {186, 120}}, feet);
  papers::draw_run(a, view, run.slots, feet, page);
  CHECK(words_of(page).find("eave 13' 0\" (LEFT wall to RIGHT") != std::string::npos);
  CHECK(std::any_of(page.paths.begin(), page.paths.end(), [&](const papers::Path& path) {
    return path.hatch.distance_mm > 0.0 && !path.loops.empty() &&
           std::abs(view.at({marks.hook_u_m, 0.0}).x - left_of(path)) < 0.01;
  }));
  // The ridge is measured as it is drawn, and its end named by the drip line.
  const papers::RidgeMarks ridge = papers::marks_of(a, a.vents.exhausts[ExhaustId(1)]);
  REQUIRE(ridge.first_over.has_value() != ridge.last_over.has_value());
  const papers::Overhang& over = ridge.first_over ? *ridge.first_over : *ridge.last_over;
  CHECK_FALSE(over.goes_on);
  CHECK(over.to_wall_m == Approx(1 * foot_m));
  const auto ridge_steps = papers::steps_of(a, papers::ridge_runs_of(a)[1], feet);
  CHECK(any_holds(ridge_steps, "plumb below the drip line of main, 1' 0\" out from its wall"));

  // Close beneath the overhang no tape goes in: the eave is measured as drawn.
  const Assessment close = assessed(with_wing(8.3));
  const papers::Run close_run = run_named(close, "east");
  const papers::SlotMarks above =
      papers::marks_of(close, close.vents.slots[close_run.slots.front()]);
  REQUIRE(above.left_over);
  CHECK_FALSE(above.left_over->goes_on);
  CHECK(above.left_words() == "LEFT drip line above (main)");
  CHECK(above.eave_m == Approx(12 * foot_m));
  CHECK(above.start_from_left_m == Approx(3 * foot_m));
  CHECK(any_holds(papers::steps_of(close, close_run, feet),
                  "On the left the place to measure from is plumb below the drip line of main, "
                  "1' 0\" out from its wall."));
}

TEST_CASE("what lies beyond a valley's corner is taped from the other side, without a minus") {
  // A wing 16 ft wide in front, of the main roof's own pitch and height; its slot up the slope
  // starts where the valley has left the eave behind.
  model::RoofModel model = with_wing(4.0);
  model.parts[1].outline = {glm::dvec2{6, -9} * foot_m, glm::dvec2{22, -9} * foot_m,
                            glm::dvec2{22, 14} * foot_m, glm::dvec2{6, 14} * foot_m};
  model.parts[1].plate_m = model.parts[0].plate_m;
  model.parts[1].heel_m = model.parts[0].heel_m;
  model.parts[1].edges = {model.parts[0].edges[1], model.parts[0].edges[0], model.parts[0].edges[1],
                          model.parts[0].edges[0]};
  model.intake.resize(1);
  model.intake[0].plane = "wing/3";
  model.intake[0].position = model::Position::upslope;
  model.intake[0].whole = true;
  model.exhaust.pop_back();
  const Assessment a = assessed(model);
  REQUIRE(a.vents.slots.size() == 1);
  const papers::SlotMarks marks = papers::marks_of(a, a.vents.slots[SlotId(0)]);
  REQUIRE(marks.start_from_left_m < -inch_m);
  REQUIRE(marks.rafters.front().from_left_m < 0.0);
  const papers::Run run = papers::runs_of(a).front();
  const std::string beyond = units::show(-marks.start_from_left_m, feet);
  CHECK(any_holds(papers::steps_of(a, run, feet), "from the RIGHT rake edge; the left one lies " +
                                                      beyond + " beyond the LEFT valley corner"));
  papers::Page page;
  const papers::PlaneView view = papers::whole_plane(a, run.plane, {{15, 30}, {186, 120}}, feet);
  REQUIRE(papers::draw_run(a, view, run.slots, feet, page));
  const auto zero = std::find_if(page.texts.begin(), page.texts.end(),
                                 [](const auto& text) { return text.text == "0"; });
  REQUIRE(zero != page.texts.end());
  bool has_beyond = false;
  for (const papers::Text& text : page.texts) {
    CHECK(text.text.find(" -") == std::string::npos);
    if (text.text.find(" beyond") != std::string::npos) {
      has_beyond = true;
      // The ring, 1.9 mm, is clear of a mark's letters that stand upright.
      CHECK(std::abs(text.at.x - zero->at.x) > 1.9 + text.size_mm / 2);
    }
  }
  CHECK(has_beyond);
  CHECK(papers::place_words(a, a.vents.slots[SlotId(0)], feet).rfind(beyond + " beyond to", 0) ==
        0);
}

TEST_CASE("where a hold-back shortens the slot, the vent is not said to end flush with it") {
  model::RoofModel model = house(demo("plain-gable"));
  model.intake.resize(1);
  model.intake.front().to_m = 41 * foot_m;
  const Assessment a = assessed(model);
  // The gable-end wall stands 40 ft 8 in from the left rake, the slot ends 6 in before it: 10 in
  // before the vent.
  const auto steps = papers::steps_of(a, papers::runs_of(a).front(), feet);
  CHECK(any_holds(steps,
                  "At the left end the vent ends on the open deck, flush with the slot, at the "
                  "right end 10\" past the end of the slot: cut no further than the marks of the "
                  "slot"));
}

TEST_CASE("where both ends of an eave bear one name, the side is said") {
  const Assessment a = assessed(demo("plain-gable"));
  const papers::Run run = papers::runs_of(a).front();
  const auto steps = papers::steps_of(a, run, feet);
  CHECK(any_holds(steps, "tape hooked on the LEFT rake edge"));
  CHECK(any_holds(steps,
                  "12' 0\" and 28' 0\" from the LEFT rake edge; check 13' 4\" from its right "
                  "end to the RIGHT rake edge"));
  // The vent ends with the slot, far from both rakes.
  CHECK(any_holds(steps, "At the left and the right end the vent ends on the open deck"));
  papers::Page page;
  const papers::PlaneView view = papers::whole_plane(a, run.plane, {{15, 30}, {186, 120}}, feet);
  papers::draw_run(a, view, run.slots, feet, page);
  const std::string words = words_of(page);
  CHECK(words.find("(LEFT rake edge to RIGHT rake edge)") != std::string::npos);
  // The hook: a ring with 0 that a line joins to the corner.
  const papers::SlotMarks marks = papers::marks_of(a, a.vents.slots[run.slots.front()]);
  const glm::dvec2 hook = view.at({marks.hook_u_m, 0.0});
  const auto zero = std::find_if(page.texts.begin(), page.texts.end(),
                                 [](const auto& text) { return text.text == "0"; });
  REQUIRE(zero != page.texts.end());
  CHECK(std::any_of(page.paths.begin(), page.paths.end(), [&](const papers::Path& path) {
    return path.loops.size() == 1 && path.loops[0].size() == 2 &&
           glm::length(path.loops[0][0] - hook) < 1e-9 &&
           glm::length(path.loops[0][1] - zero->at) < 1.0;
  }));
  // A run to both rakes has no free end.
  model::RoofModel model = house(demo("plain-gable"));
  model.intake.front().whole = true;
  const Assessment whole = assessed(model);
  CHECK_FALSE(any_holds(papers::steps_of(whole, papers::runs_of(whole).front(), feet),
                        "the vent ends on the open deck"));
}

TEST_CASE("ends of a ridge are named by the compass, of a hip by foot and top") {
  model::RoofModel model = house(demo("plain-gable"));
  const auto ends = [&](double north_deg) {
    model.site.north_deg = north_deg;
    const Assessment a = assessed(model);
    const papers::RidgeMarks marks = papers::marks_of(a, a.vents.exhausts[ExhaustId(0)]);
    return std::set<std::string>{marks.first_end, marks.last_end};
  };
  // The ridge lies along x. With north 20 deg clockwise from y it still runs west to east.
  CHECK(ends(0) == std::set<std::string>{"west end", "east end"});
  CHECK(ends(20) == std::set<std::string>{"west end", "east end"});
  CHECK(ends(90) == std::set<std::string>{"south end", "north end"});
  CHECK(ends(45) == std::set<std::string>{"south-west end", "north-east end"});
  model.site.north_deg = 0;
  const Assessment gable = assessed(model);
  const auto ridge = papers::steps_of(gable, papers::ridge_runs_of(gable).front(), feet);
  // The pieces are ordered as long as the slot: 21 ft from 10 ft to 31 ft.
  CHECK(any_holds(ridge, "Lay the 6 pieces"));
  CHECK(any_holds(ridge, "from one end of the slot to the other: 21' 0\" together, as ordered"));
  CHECK_FALSE(any_holds(ridge, "past the slot"));
  CHECK(any_holds(ridge, "lapped away from the wind"));

  const Assessment hall = assessed(demo("plover-hall"));
  std::size_t hips = 0;
  for (const papers::RidgeRun& run : papers::ridge_runs_of(hall)) {
    const vents::Exhaust& vent = hall.vents.exhausts[run.vents.front()];
    if (hall.surface.lines[vent.line].kind != surface::LineKind::hip) {
      continue;
    }
    ++hips;
    const papers::RidgeMarks marks = papers::marks_of(hall, vent);
    CHECK(marks.first_end == (vent.from.z < vent.to.z ? "foot" : "top"));
    CHECK(marks.last_end == (vent.from.z < vent.to.z ? "top" : "foot"));
    const auto steps = papers::steps_of(hall, run, feet);
    CHECK(any_holds(steps, "from the foot of the hip up"));
    CHECK_FALSE(any_holds(steps, "wind"));
  }
  REQUIRE(hips > 0);
}

TEST_CASE("single vents are taped from an end of the ridge, numbered, and have their steps") {
  model::RoofModel model = house(demo("plain-gable"));
  model.exhaust = {on_plane("box-a", "box-50", {10, 12}), on_plane("box-b", "box-50", {20, 12}),
                   on_plane("box-c", "box-50", {22, 12}), on_plane("fan", "powered-140", {30, 12})};
  const Assessment a = assessed(model);
  std::vector<ExhaustId> all;
  for (const ExhaustId id : a.vents.exhausts.ids()) {
    all.push_back(id);
  }
  const vents::Exhaust& first = a.vents.exhausts[all.front()];
  const papers::PlaceMarks place = papers::place_of(a, first);
  // On the north slope the left end seen from outside is the east one. The slope is 15 ft, level,
  // of 6/12: 15 x sqrt(1.25) = 16.771 ft along the deck.
  CHECK(place.hook == "LEFT (east) end of the ridge");
  CHECK(place.along_m == Approx(10 * foot_m));
  CHECK(place.slope_m == Approx((15 * std::sqrt(1.25) - 12) * foot_m));
  CHECK_FALSE(place.is_up);
  REQUIRE(papers::tape_hooks(a, all).size() == 1);
  const std::string page =
      pages_of(papers::crew_sheet(a, feet, papers::Paper::letter), "Single vents on plane main/2");
  CHECK(page.find("A is the LEFT (east) end of the ridge") != std::string::npos);
  papers::Page drawn;
  const papers::PlaneView view = papers::whole_plane(a, first.plane, {{15, 30}, {186, 100}}, feet);
  papers::draw_places(a, view, all, feet, drawn);
  for (const char* number : {"1", "2", "3", "4", "A"}) {
    CHECK(std::any_of(drawn.texts.begin(), drawn.texts.end(),
                      [&](const papers::Text& text) { return text.text == number; }));
  }
  const auto steps = papers::steps_of_singles(a, all, feet);
  CHECK(any_holds(steps, "Set the saw to 1/2\""));
  CHECK(any_holds(steps, "8\" for box-50, 1' 2\" for powered-140"));
  CHECK(any_holds(steps, "under the shingles above and beside it and over those below"));
  CHECK(any_holds(steps, "48 nails in all"));  // 12 each
  CHECK(any_holds(steps, "licensed electrician"));
  CHECK(any_holds(steps, "carbon monoxide"));
  const auto boxes = papers::steps_of_singles(a, {all[0], all[1]}, feet);
  CHECK_FALSE(any_holds(boxes, "electrician"));
}

TEST_CASE("what is found stands on the page of everything that it names") {
  model::RoofModel model = house(demo("plain-gable"));
  model.exhaust = {in_wall("lou", "main/1"), in_wall("lou2", "main/3"),
                   on_plane("fan", "powered-140", {20, 12})};
  const Assessment a = assessed(model);
  const auto kinds = [&](const std::vector<std::size_t>& found) {
    std::set<std::string> all;
    for (const std::size_t i : found) {
      all.insert(a.findings[i].kind);
    }
    return all;
  };
  const auto fan = kinds(papers::findings_about(a, {}, {ExhaustId(2)}));
  CHECK(fan.contains("exhaust_kinds_mixed"));
  const auto lou = kinds(papers::findings_about(a, {}, {ExhaustId(0)}));
  CHECK(lou.contains("exhaust_kinds_mixed"));
  CHECK(lou.contains("opening_runs_backwards"));
  CHECK(lou.contains("exhaust_too_low"));
  CHECK_FALSE(fan.contains("exhaust_too_low"));
  // Every finding has a page: no exhaust or slot of the house is left out.
  std::vector<SlotId> slots;
  for (const SlotId id : a.vents.slots.ids()) {
    slots.push_back(id);
  }
  const auto all = papers::findings_about(a, slots, {ExhaustId(0), ExhaustId(1), ExhaustId(2)});
  for (std::size_t i = 0; i < a.findings.size(); ++i) {
    const conflicts::Finding& finding = a.findings[i];
    const bool is_of_a_vent =
        !finding.slot.is_none() || !finding.exhaust.is_none() || !finding.compartment.is_none();
    CAPTURE(finding.message);
    CHECK((!is_of_a_vent || std::find(all.begin(), all.end(), i) != all.end()));
  }
  const papers::Drawing sheet = papers::crew_sheet(a, feet, papers::Paper::letter);
  CHECK(pages_of(sheet, "Single vents").find("lou (gable-60) and fan (powered-140)") !=
        std::string::npos);
  CHECK(pages_of(sheet, "Louvres").find("Exhaust lou draws in") != std::string::npos);
  const std::string summary = papers::to_summary(a, feet);
  CHECK(summary.find("gable-60, in gable wall main/1") != std::string::npos);
  CHECK(summary.find("plane ?") == std::string::npos);
  // One open attic lets air out at all three.
  const vents::Slot& slot = a.vents.slots[SlotId(0)];
  CHECK(papers::way_words(a, slot.bays[1]) ==
        "into attic, out at gable louvre lou, gable louvre lou2 and powered fan");
  model.exhaust.resize(1);
  const Assessment one = assessed(model);
  CHECK(papers::way_words(one, one.vents.slots[SlotId(0)].bays[1]) ==
        one.vents.bays[one.vents.slots[SlotId(0)].bays[1].bay].why);
  model.exhaust = {on_plane("a", "box-50", {5, 12}), on_plane("b", "box-50", {12, 12}),
                   on_plane("c", "box-50", {20, 12}), on_plane("d", "box-50", {30, 12})};
  const Assessment many = assessed(model);
  const vents::Slot& over = many.vents.slots[SlotId(0)];
  CHECK(papers::way_words(many, over.bays[1]) == "into attic, out at the 4 exhausts of attic");
}

TEST_CASE("a gap beside a doubled rafter is no bay to count on") {
  const Assessment a = assessed(demo("tern-cottage"));
  bool is_found = false;
  for (const vents::Slot& slot : a.vents.slots) {
    for (const vents::SlotBay& under : slot.bays) {
      const framing::Bay& bay = a.framing.bays[under.bay];
      is_found = is_found || papers::is_mere_gap(bay);
      // R806.3: an inch is the least that air is given over insulation.
      CHECK(papers::is_mere_gap(bay) == (bay.clear_width_m < inch_m));
    }
  }
  REQUIRE(is_found);
  const papers::Drawing sheet = papers::crew_sheet(a, feet, papers::Paper::letter);
  std::string all;
  for (const papers::Page& page : sheet.pages) {
    all += words_of(page);
  }
  CHECK(all.find("1/4\" gap into attic") != std::string::npos);
  CHECK(all.find("too narrow to count on for air") != std::string::npos);
}

TEST_CASE("a piece from another run's section says so") {
  const Assessment a = assessed(demo("sorrel-lane"));
  const papers::Drawing sheet = papers::crew_sheet(a, feet, papers::Paper::letter);
  const std::string east = pages_of(sheet, "Intake east");
  std::size_t told = 0;
  std::map<int, std::string> opened;
  for (const takeoff::SectionRun& strip : a.takeoff.sections) {
    for (const takeoff::Piece& piece : strip.pieces) {
      if (strip.product != "over-deck-10") {
        continue;
      }
      const auto [first, is_new] = opened.emplace(piece.section, strip.run);
      if (!is_new && first->second != strip.run && strip.run == "east") {
        ++told;
        CHECK(east.find(fmt::format("comes from section {}, which is ordered with {}",
                                    piece.section, first->second)) != std::string::npos);
      }
    }
  }
  REQUIRE(told > 0);
}

TEST_CASE("figures stand apart from the words that follow them") {
  papers::Sheet sheet("title", "foot", papers::Paper::letter);
  sheet.table({{"how much", 1.0, true}, {"for", 1.0}}, {{"12 sections", "south"}});
  const papers::Drawing drawing = sheet.take();
  double right = 0.0;
  double left = 0.0;
  for (const papers::Text& text : drawing.pages.front().texts) {
    right = text.text == "how much" ? text.at.x : right;
    left = text.text == "for" ? text.at.x : left;
  }
  CHECK(left - right >= 5.0 - 1e-9);
}

TEST_CASE("a state of a sheet can be come back to") {
  papers::Sheet sheet("title", "foot", papers::Paper::a4);
  sheet.paragraph("stays");
  const papers::Sheet::Place place = sheet.place();
  for (int i = 0; i < 200; ++i) {
    sheet.paragraph("goes");
  }
  REQUIRE(sheet.page_number() > place.page);
  sheet.back_to(place);
  CHECK(sheet.page_number() == place.page);
  CHECK(sheet.y_mm() == place.y_mm);
  const papers::Drawing drawing = sheet.take();
  CHECK(words_of(drawing.pages.front()).find("goes") == std::string::npos);
  CHECK(words_of(drawing.pages.front()).find("stays") != std::string::npos);
}

TEST_CASE("no page of the crew's is left with a line or two") {
  for (const char* name : {"wren-cape", "heron-court", "sorrel-lane", "plain-gable"}) {
    for (const auto& [style, paper] : {std::pair{feet, papers::Paper::letter},
                                       std::pair{units::Style::metric, papers::Paper::a4}}) {
      const papers::Drawing sheet = papers::crew_sheet(assessed(demo(name)), style, paper);
      for (std::size_t i = 2; i + 1 < sheet.pages.size(); ++i) {
        double lowest = 0.0;
        for (const papers::Text& text : sheet.pages[i].texts) {
          // Not the foot's small print.
          lowest = text.size_mm > 2.5 ? std::max(lowest, text.at.y) : lowest;
        }
        CAPTURE(name, i, words_of(sheet.pages[i]));
        CHECK(lowest > 45.0);
      }
    }
  }
}

TEST_CASE("a page is at fault for the spaces that it touches only") {
  // A vault with intake on one side: the rafter spaces of the other lack it, and the page of the
  // run can't mend that. The ridge vent serves both.
  model::RoofModel model = house(demo("plain-gable"));
  REQUIRE(model.ceilings.size() == 1);
  model.ceilings[0].kind = model::CeilingKind::sloped;
  model.ceilings[0].insulation_m = 2 * inch_m;
  model.dividers.clear();
  std::erase_if(model.intake, [](const model::IntakeRun& run) { return run.plane != "main/0"; });
  REQUIRE(model.intake.size() == 1);
  const Assessment a = assessed(model);
  const auto lacking = [&](const std::vector<std::size_t>& found) {
    return std::any_of(found.begin(), found.end(), [&](std::size_t i) {
      return a.findings[i].kind == "compartment_without_openings" &&
             a.findings[i].message.find("main/2/") != std::string::npos;
    });
  };
  std::vector<SlotId> slots;
  for (const SlotId id : a.vents.slots.ids()) {
    slots.push_back(id);
  }
  REQUIRE_FALSE(a.vents.exhausts.empty());
  CHECK_FALSE(lacking(papers::findings_about(a, slots, {})));
  CHECK(lacking(papers::findings_about(a, {}, {ExhaustId(0)})));
}

TEST_CASE("a sliver of a bay at a slot's end is not told as 0 in") {
  model::RoofModel model = house(demo("plain-gable"));
  const Assessment whole = assessed(model);
  const vents::Slot& first = whole.vents.slots[SlotId(0)];
  REQUIRE(first.crossings.size() > 2);
  const framing::Member& rafter = whole.framing.members[first.crossings[1].member];
  model.intake = {model.intake.front()};
  model.intake[0].whole = false;
  // The slot starts 1/32 in before the face of a rafter.
  model.intake[0].from_m = rafter.at_m - 0.5 * rafter.thickness_m - inch_m / 32;
  model.intake[0].to_m = first.end_m;
  const Assessment a = assessed(model);
  const vents::Slot& slot = a.vents.slots[SlotId(0)];
  REQUIRE(slot.bays.front().open_length_m == Approx(inch_m / 32));
  const std::string name = papers::short_name(a.framing.bays[slot.bays.front().bay].id);
  const std::string pages = pages_of(papers::crew_sheet(a, feet, papers::Paper::letter), "Intake");
  CHECK(pages.find("0\" live") == std::string::npos);
  CHECK(papers::to_summary(a, feet).find(name + " 0\"") == std::string::npos);
  CHECK(papers::to_summary(a, feet).find(fmt::format("opens onto {} bays", slot.bays.size() - 1)) !=
        std::string::npos);
}
