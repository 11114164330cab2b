// The crew's and the apprentice's drawings measured with a ruler: distance on the page over the
// scale printed beside it is the length in the assessment.
#include "airflow/words.hpp"
#include "papers/air_drawing.hpp"
#include "papers/assessed.hpp"
#include "papers/cairo.hpp"
#include "papers/crew_sheet.hpp"
#include "papers/crew_steps.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/framing_square.hpp"
#include "papers/plane_drawing.hpp"
#include "papers/section_drawing.hpp"
#include "papers/sheet.hpp"

#include <glm/geometric.hpp>

#include <cmath>
#include <map>
#include <regex>
#include <tuple>

using namespace ridgeward;
using namespace ridgeward::tests;
using units::foot_m;
using units::inch_m;

namespace {

constexpr auto feet = units::Style::feet_inches;

/// The figure after the colon of "1/8 in = 1 ft (1:96)": metres of the house for a metre of paper.
double ratio_of(const std::string& words) { return std::stod(words.substr(words.rfind(':') + 1)); }

/// Lower left and upper right corner of an area.
std::pair<glm::dvec2, glm::dvec2> box_of(const papers::Path& path) {
  glm::dvec2 low{1e9};
  glm::dvec2 high{-1e9};
  for (const auto& loop : path.loops) {
    for (const glm::dvec2 p : loop) {
      low = glm::min(low, p);
      high = glm::max(high, p);
    }
  }
  return {low, high};
}

/// The areas filled in this shade.
std::vector<papers::Path> filled(const papers::Page& page, double shade) {
  std::vector<papers::Path> all;
  for (const papers::Path& path : page.paths) {
    if (path.is_filled && path.fill_shade == shade && !path.loops.empty()) {
      all.push_back(path);
    }
  }
  return all;
}

/// Whether a line of this length, in metres of the house, is drawn.
bool has_segment(const papers::Page& page, double ratio, double length_m) {
  return std::any_of(page.paths.begin(), page.paths.end(), [&](const papers::Path& path) {
    return path.loops.size() == 1 && path.loops[0].size() == 2 &&
           std::abs(glm::length(path.loops[0][1] - path.loops[0][0]) * ratio / 1000 - length_m) <
               1e-7;
  });
}

bool any_holds(const std::vector<std::string>& steps, const std::string& words) {
  return std::any_of(steps.begin(), steps.end(), [&](const std::string& step) {
    return step.find(words) != std::string::npos;
  });
}

/// Cells of a table by RFC 4180.
std::vector<std::vector<std::string>> read_csv(const std::string& bytes) {
  std::vector<std::vector<std::string>> rows{{""}};
  bool is_quoted = false;
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    const char c = bytes[i];
    std::string& cell = rows.back().back();
    if (is_quoted && c == '"' && i + 1 < bytes.size() && bytes[i + 1] == '"') {
      cell += bytes[++i];
    } else if (c == '"') {
      is_quoted = !is_quoted;
    } else if (!is_quoted && c == ',') {
      rows.back().emplace_back();
    } else if (!is_quoted && c == '\r') {
      REQUIRE(bytes.at(++i) == '\n');
      rows.push_back({""});
    } else {
      cell += c;
    }
  }
  rows.pop_back();
  return rows;
}

}  // namespace

TEST_CASE("marks: a gable's slot and ridge from the edges a tape hooks on, by hand") {
  const Assessment a = assessed(demo("plain-gable"));
  const vents::Slot& slot = a.vents.slots[SlotId(0)];
  const papers::SlotMarks marks = papers::marks_of(a, slot);
  CHECK(marks.left_hook == "rake edge");
  CHECK(marks.right_hook == "rake edge");
  // 40 ft of wall and 8 in of overhang at both rakes; the run goes from 12 ft to 28 ft.
  CHECK(marks.eave_m == Approx(41 * foot_m + 4 * inch_m));
  CHECK(marks.start_from_left_m == Approx(12 * foot_m));
  CHECK(marks.end_from_right_m == Approx(13 * foot_m + 4 * inch_m));
  CHECK(marks.deck_m == Approx(0.5 * inch_m));
  for (const papers::RafterMark& mark : marks.rafters) {
    CHECK(mark.from_left_m + mark.from_right_m == Approx(marks.eave_m));
    const double at = a.framing.members[mark.member].at_m;
    CHECK(mark.from_left_m == Approx(at - marks.hook_u_m));
  }
  REQUIRE(marks.rafters.size() == slot.crossings.size());
  // Ridge of 1 1/2 in at 6/12: half of it, level, is 3/4 in x sqrt(1.25) along the slope; the cut
  // is 3/4 in wide.
  const papers::RidgeMarks ridge = papers::marks_of(a, a.vents.exhausts[ExhaustId(0)]);
  REQUIRE(ridge.sides.size() == 2);
  for (const papers::ChalkedSide& side : ridge.sides) {
    CHECK(side.near_m / inch_m == Approx(0.75 * std::sqrt(1.25)));
    CHECK((side.far_m - side.near_m) / inch_m == Approx(0.75));
  }
  CHECK(ridge.first_hook == "rake edge");
  CHECK(ridge.end_from_first_m + ridge.end_from_last_m == Approx(ridge.line_m));
}

TEST_CASE("marks: slots between a hip and a valley hook on the corners") {
  const Assessment a = assessed(demo("sorrel-lane"));
  const papers::SlotMarks marks = papers::marks_of(a, a.vents.slots[SlotId(0)]);
  CHECK(marks.left_hook == "hip corner");
  CHECK(marks.right_hook == "valley corner");
}

TEST_CASE("a run is drawn true to scale: slot, its place, its lines") {
  for (const char* name : {"plain-gable", "sorrel-lane", "heron-court"}) {
    const Assessment a = assessed(demo(name));
    for (const papers::Run& run : papers::runs_of(a)) {
      const papers::PlaneView view =
          papers::whole_plane(a, run.plane, {{15, 30}, {186, 120}}, feet);
      const double ratio = ratio_of(view.words);
      papers::Page page;
      papers::draw_run(a, view, run.slots, feet, page);
      const vents::Slot& slot = a.vents.slots[run.slots.front()];
      const papers::SlotMarks marks = papers::marks_of(a, slot);
      const auto black = filled(page, 0.0);
      REQUIRE(black.size() == run.slots.size());
      const auto [low, high] = box_of(black.front());
      CHECK((high.x - low.x) * ratio / 1000 == Approx(marks.length_m));
      CHECK((high.y - low.y) * ratio / 1000 == Approx(slot.width_m));
      const glm::dvec2 hook = view.at({marks.hook_u_m, slot.drip_v_m});
      CHECK((low.x - hook.x) * ratio / 1000 == Approx(marks.start_from_left_m));
      CHECK((hook.y - high.y) * ratio / 1000 == Approx(slot.lower_line_m));
      CHECK(has_segment(page, ratio, marks.eave_m));
    }
  }
}

TEST_CASE("an enlarged end is true to scale") {
  const Assessment a = assessed(demo("plover-hall"));
  for (const bool is_left : {true, false}) {
    papers::Page page;
    papers::draw_slot_end(a, SlotId(0), is_left, {{15, 30}, {90, 58}}, feet, page);
    const double ratio = ratio_of(page.texts.front().text);
    const vents::Slot& slot = a.vents.slots[SlotId(0)];
    const papers::SlotMarks marks = papers::marks_of(a, slot);
    const auto [low, high] = box_of(filled(page, 0.0).front());
    CHECK((high.y - low.y) * ratio / 1000 == Approx(slot.width_m));
    // The distance to the hook is a line of that length where the hook is in the window.
    if (is_left) {
      CHECK(has_segment(page, ratio, marks.start_from_left_m));
    }
    for (const papers::Path& path : page.paths) {
      for (const auto& loop : path.loops) {
        for (const glm::dvec2 p : loop) {
          CHECK((p.x >= 15 - 1.5 && p.x <= 105 && p.y >= 30 && p.y <= 88));
        }
      }
    }
  }
}

TEST_CASE("mitres, ridges and sections are true to scale") {
  const Assessment a = assessed(demo("plover-hall"));
  const vents::Slot& slot = a.vents.slots[SlotId(0)];
  REQUIRE(slot.right_mitre);
  // 8/12, square corner: 14 in x cos(slope), 11 5/8 in; source: the plane's angle formula.
  CHECK(slot.right_mitre->offset_m / inch_m == Approx(14 * 12 / std::hypot(12.0, 8.0)));
  papers::Page mitre;
  papers::draw_mitre(*slot.right_mitre, false, 14 * inch_m, {{15, 30}, {90, 50}}, feet, mitre);
  CHECK(has_segment(mitre, ratio_of(mitre.texts.front().text), slot.right_mitre->offset_m));
  CHECK(has_segment(mitre, ratio_of(mitre.texts.front().text), 14 * inch_m));

  const papers::RidgeRun run = papers::ridge_runs_of(a).front();
  papers::Page ridge;
  papers::draw_ridge(a, run.vents, {{15, 30}, {186, 60}}, feet, ridge);
  const auto words = std::find_if(ridge.texts.begin(), ridge.texts.end(),
                                  [](const auto& text) { return text.text.find("Scale") == 0; });
  REQUIRE(words != ridge.texts.end());
  CHECK(has_segment(ridge, ratio_of(words->text),
                    papers::marks_of(a, a.vents.exhausts[run.vents.front()]).line_m));

  // Every piece of the run: both edges as long as the cutting plan says.
  papers::Page pieces;
  const takeoff::SectionRun& strip = a.takeoff.sections.front();
  REQUIRE(strip.over == slot.id);
  papers::draw_pieces(strip, 14 * inch_m, {{15, 30}, {186, 30}}, feet, pieces);
  const double ratio = ratio_of(pieces.texts.back().text);
  const auto boxes = filled(pieces, 1.0);
  REQUIRE(boxes.size() == strip.pieces.size());
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    const auto& loop = boxes[i].loops.front();
    CHECK((loop[1].x - loop[0].x) * ratio / 1000 == Approx(strip.pieces[i].lower_edge_m));
    CHECK((loop[2].x - loop[3].x) * ratio / 1000 == Approx(strip.pieces[i].upper_edge_m));
  }
}

TEST_CASE("the plan of a crew's cover as SVG: an eave measures what the scale says") {
  const Assessment a = assessed(demo("plain-gable"));
  const papers::Drawing sheet = papers::crew_sheet(a, feet, papers::Paper::letter);
  const std::string svg = papers::to_svg(sheet, 2).value();
  double ratio = 0.0;
  for (const papers::Text& text : sheet.pages[2].texts) {
    if (text.text.find("Scale") != std::string::npos) {
      ratio = ratio_of(text.text.substr(0, text.text.find(')')));
    }
  }
  REQUIRE(ratio == 96);
  // 41 ft 4 in of eave at 1:96; cairo writes points to a few decimals.
  const double wanted = (41 * foot_m + 4 * inch_m) * 1000 / ratio;
  const std::regex line("M ([-\\d.]+) ([-\\d.]+) L ([-\\d.]+) ([-\\d.]+) ?\"");
  bool is_found = false;
  for (std::sregex_iterator i(svg.begin(), svg.end(), line), end; i != end; ++i) {
    const double length = std::hypot(std::stod((*i)[3]) - std::stod((*i)[1]),
                                     std::stod((*i)[4]) - std::stod((*i)[2]));
    is_found = is_found || std::abs(length - wanted) < 0.01;
  }
  CHECK(is_found);
}

TEST_CASE("the section is a true one: slopes, heights, walls") {
  const Assessment a = assessed(demo("plain-gable"));
  const auto place = papers::place_of_section(a);
  REQUIRE(place);
  const auto pieces = papers::roof_in_section(a, *place);
  REQUIRE(pieces.size() == 2);
  // A plain gable of 6/12, cut square to its ridge: up at 1 in 2, down at 1 in 2.
  CHECK((pieces[0].to.y - pieces[0].from.y) / (pieces[0].to.x - pieces[0].from.x) == Approx(0.5));
  CHECK((pieces[1].to.y - pieces[1].from.y) / (pieces[1].to.x - pieces[1].from.x) == Approx(-0.5));
  CHECK(pieces[0].from.x == Approx(0.0).margin(1e-9));
  CHECK(pieces[0].to.x == Approx(pieces[1].from.x));
  papers::Page page;
  const double ratio = ratio_of(papers::draw_section(a, *place, {{15, 30}, {186, 78}}, feet, page));
  CHECK(has_segment(page, ratio, glm::length(pieces[0].to - pieces[0].from)));
  // No roof, no section.
  model::RoofModel bare = house(demo("plain-gable"));
  bare.intake.clear();
  CHECK_FALSE(papers::place_of_section(assessed(bare)));
}

TEST_CASE("the section is of the largest attic, and shows insulation between sloped rafters") {
  // A flat ceiling up to x = 18 ft, a sloped one beyond: the slot from 12 ft to 28 ft opens onto
  // both, mostly onto the rafter spaces.
  model::RoofModel model = house(demo("plain-gable"));
  model::Ceiling vault = model.ceilings[0];
  for (auto* corners : {&model.ceilings[0].outline, &vault.outline}) {
    const bool is_vault = corners == &vault.outline;
    for (glm::dvec2& p : *corners) {
      p.x = is_vault ? std::max(p.x, 18 * foot_m) : std::min(p.x, 18 * foot_m);
    }
  }
  vault.id = "vault";
  vault.kind = model::CeilingKind::sloped;
  vault.insulation_m = 5 * inch_m;
  model.ceilings.push_back(vault);
  const Assessment both = assessed(model);
  const auto at = papers::place_of_section(both);
  REQUIRE(at);
  const CompartmentId within = both.attic.bays[at->bay].compartment;
  CHECK_FALSE(both.attic.compartments[within].is_rafter_space);
  CHECK(*papers::open_in_section_m(both, *at) / inch_m == Approx(3.749).margin(0.001));

  // Sloped all over: a 2x8 is 7 1/4 in deep, 5 in leave 2 1/4 in; of 7 in an inch stays open.
  model.ceilings[0].kind = model::CeilingKind::sloped;
  for (const auto& [given_in, drawn_in] : {std::pair{5.0, 5.0}, std::pair{7.0, 6.25}}) {
    model.ceilings[0].insulation_m = model.ceilings[1].insulation_m = given_in * inch_m;
    const Assessment a = assessed(model);
    const auto place = papers::place_of_section(a);
    REQUIRE(place);
    CHECK(*papers::open_in_section_m(a, *place) / inch_m == Approx(7.25 - drawn_in));
    const auto pieces = papers::sloped_ceilings_in_section(a, *place);
    REQUIRE(pieces.size() == 2);
    for (const papers::SlopedPiece& piece : pieces) {
      const double flat = 1.0 / std::sqrt(1.25);
      CHECK((piece.top_from.y - piece.from.y) * flat / inch_m == Approx(drawn_in));
      CHECK((piece.top_to.y - piece.to.y) * flat / inch_m == Approx(drawn_in));
      CHECK(std::abs(piece.to.y - piece.from.y) == Approx(0.5 * (piece.to.x - piece.from.x)));
    }
    // From the outer face of the wall: 1 ft in, 1 ft x 1/2 up, deck and rafter below.
    const double roof = papers::roof_in_section(a, *place)[0].from.y + 0.5 * foot_m;
    CHECK(pieces[0].from.x == Approx(foot_m));
    CHECK(roof - pieces[0].from.y == Approx(7.75 * inch_m * std::sqrt(1.25)));
    papers::Page page;
    const double ratio =
        ratio_of(papers::draw_section(a, *place, {{15, 30}, {186, 78}}, feet, page));
    CHECK(has_segment(page, ratio, glm::length(pieces[0].to - pieces[0].from)));
  }
}

TEST_CASE("over trusses no step speaks of a ridge board") {
  model::RoofModel model = house(demo("plain-gable"));
  CHECK(
      any_holds(papers::steps_of(assessed(model), papers::ridge_runs_of(assessed(model))[0], feet),
                "Board and rafters stay whole"));
  model.parts[0].framing.kind = model::FramingKind::truss;
  const Assessment a = assessed(model);
  const auto steps = papers::steps_of(a, papers::ridge_runs_of(a)[0], feet);
  CHECK(any_holds(steps, "clear from the line itself, for no board lies beneath"));
  CHECK(any_holds(steps, "The top chords of the trusses stay whole"));
  CHECK_FALSE(any_holds(steps, "face of the board"));
  CHECK_FALSE(any_holds(steps, "rafters"));
}

TEST_CASE("the last row of a table is not left alone on a page") {
  for (const double room_mm : {30.0, 35.0, 40.0, 45.0, 50.0}) {
    papers::Sheet sheet("t", "f", papers::Paper::letter);
    sheet.space(sheet.room_mm() - room_mm);
    std::vector<std::vector<std::string>> rows;
    for (int i = 0; i < 9; ++i) {
      rows.push_back({"row"});
    }
    sheet.table({{"a", 1.0}}, rows);
    const papers::Drawing drawing = sheet.take();
    const auto count =
        std::count_if(drawing.pages.back().texts.begin(), drawing.pages.back().texts.end(),
                      [](const papers::Text& text) { return text.text == "row"; });
    CHECK(count >= 3);
  }
}

TEST_CASE("the section shows vents that are set one by one, in their size") {
  // Sides of the catalogue's entries; the box's height is for the eye.
  const std::vector<std::tuple<const char*, bool, double>> kinds{{"box-50", true, 18 * inch_m},
                                                                 {"powered-140", true, 24 * inch_m},
                                                                 {"gable-60", false, 12 * inch_m}};
  for (const auto& [product, is_on_plane, side_m] : kinds) {
    CAPTURE(product);
    model::RoofModel model = house(demo("plain-gable"));
    model::ExhaustVent vent;
    vent.id = "one";
    vent.product = product;
    vent.plane = is_on_plane ? "main/0" : "";
    vent.wall = is_on_plane ? "" : "main/1";
    vent.at = is_on_plane ? glm::dvec2{6.0, 3.0} : glm::dvec2{4.0, 1.0};
    model.exhaust = {vent};
    const Assessment a = assessed(model);
    const auto place = papers::place_of_section(a);
    REQUIRE(place);
    papers::Page page;
    const double ratio =
        ratio_of(papers::draw_section(a, *place, {{15, 30}, {186, 78}}, feet, page));
    CHECK(has_segment(page, ratio, side_m));
    model.exhaust.clear();
    papers::Page bare;
    papers::draw_section(assessed(model), *place, {{15, 30}, {186, 78}}, feet, bare);
    CHECK_FALSE(has_segment(bare, ratio, side_m));
  }
}

TEST_CASE("a louvre is drawn in its gable wall, true to scale, with its place") {
  model::RoofModel model = house(demo("plain-gable"));
  model::ExhaustVent louvre;
  louvre.id = "louvre";
  louvre.product = "gable-60";
  louvre.wall = "main/1";
  louvre.at = {13 * foot_m, 3 * foot_m};
  model.exhaust = {louvre};
  const Assessment a = assessed(model);
  const papers::Drawing sheet = papers::crew_sheet(a, feet, papers::Paper::letter);
  const papers::Page* page = nullptr;
  double ratio = 0.0;
  for (const papers::Page& one : sheet.pages) {
    for (const papers::Text& text : one.texts) {
      if (text.text.rfind("Gable wall main/1", 0) == 0) {
        page = &one;
        ratio = ratio_of(text.text);
      }
    }
  }
  REQUIRE(page != nullptr);
  const auto louvres = filled(*page, 1.0);
  const bool is_drawn = std::any_of(louvres.begin(), louvres.end(), [&](const papers::Path& path) {
    const auto [low, high] = box_of(path);
    const glm::dvec2 size = (high - low) * ratio / 1000.0;
    return path.hatch.distance_mm > 0.0 && std::abs(size.x - 12 * inch_m) < 1e-7 &&
           std::abs(size.y - 18 * inch_m) < 1e-7;
  });
  CHECK(is_drawn);
  // Both dimensions measure what they say.
  CHECK(has_segment(*page, ratio, 13 * foot_m));
  CHECK(has_segment(*page, ratio, 3 * foot_m));
  const auto says = [&](const char* words) {
    return std::any_of(page->texts.begin(), page->texts.end(),
                       [&](const papers::Text& text) { return text.text == words; });
  };
  CHECK(says("13' 0\""));
  CHECK(says("3' 0\""));
}

TEST_CASE("steps of the upslope position count this roof's courses") {
  model::RoofModel model = house(demo("plain-gable"));
  for (model::IntakeRun& run : model.intake) {
    run.position = model::Position::upslope;
  }
  const Assessment a = assessed(model);
  const papers::Run run = papers::runs_of(a).front();
  const auto steps = papers::steps_of(a, run, feet);
  // Common practice, no source: 12 in of overhang at 6/12 is 13.42 in of slope; courses of 5 5/8 in
  // from 1/2 in below the edge: row 3 lies over the wall. Row 5, butt at 22 in, is face-nailed at
  // 26 1/2 in; the slot starts at 27 in.
  CHECK(any_holds(steps, "Row 3 lies over the wall line (1' 1 3/8\" up the slope)"));
  CHECK(any_holds(steps, "Row 4, butt at 1' 4 3/8\", is laid and nailed whole"));
  CHECK(any_holds(steps, "Row 5, butt at 1' 10\""));
  CHECK(any_holds(steps, "Face-nail it along 2' 2 1/2\""));
  CHECK(any_holds(steps, "lower line 2' 3\", upper line 2' 4 1/2\""));
  CHECK(any_holds(steps, "Set the saw to 1/2\""));
  CHECK_FALSE(any_holds(steps, "over the edge of the eave"));
  const papers::Drawing sheet = papers::crew_sheet(a, feet, papers::Paper::a4);
  CAPTURE(papers::overlapping_texts(sheet));
  CHECK(papers::overlapping_texts(sheet).empty());
  CHECK(papers::texts_off_page(sheet).empty());
}

TEST_CASE("steps of both positions hold every figure of common practice") {
  // Common practice, no source.
  model::RoofModel model = house(demo("plain-gable"));
  for (model::IntakeRun& run : model.intake) {
    run.whole = true;  // from rake to rake
  }
  const Assessment eave = assessed(model);
  const auto at_eave = papers::steps_of(eave, papers::runs_of(eave).front(), feet);
  for (const char* words :
       {"Drip edge first", "at least 1' 6\" wide", "lower line 6 1/2\", upper line 8\"",
        "lift out the strip of 1 1/2\"", "at least 1\" open between insulation and deck",
        "set 1\" over the edge of the eave", "1 1/4\"", "nails of 3\"",
        "No nail between 6 1/2\" and 8\""}) {
    INFO(words);
    CHECK(any_holds(at_eave, words));
  }
  for (model::IntakeRun& run : model.intake) {
    run.position = model::Position::upslope;
  }
  const Assessment above = assessed(model);
  const auto upslope = papers::steps_of(above, papers::runs_of(above).front(), feet);
  for (const char* words : {"Underlayment over the whole slope", "2' 0\" beyond the second course",
                            "4 more nails a shingle 1\" below its top", "nails of 3\"",
                            "Air enters at the vent's upper edge"}) {
    INFO(words);
    CHECK(any_holds(upslope, words));
  }
}

TEST_CASE("over a pitch break the steps speak of the break") {
  model::RoofModel model = house(demo("otter-barn"));
  for (model::IntakeRun& run : model.intake) {
    run.position = model::Position::upslope;
    run.plane += ":b";
  }
  const Assessment a = assessed(model);
  const auto steps = papers::steps_of(a, papers::runs_of(a).front(), feet);
  CHECK(any_holds(steps, "Flash the pitch break"));
  CHECK(any_holds(steps, "from the pitch break. Rows 1 and 2, butt at 5 1/8\", are laid"));
  CHECK_FALSE(any_holds(steps, "wall line"));
  CHECK_FALSE(any_holds(steps, "whole eave"));
  const papers::Drawing sheet = papers::crew_sheet(a, feet, papers::Paper::a4);
  CAPTURE(papers::overlapping_texts(sheet));
  CHECK(papers::overlapping_texts(sheet).empty());
}

TEST_CASE("crew sheets of soffit vents, drip edges, turbines and louvres can be read too") {
  for (const char* product : {"soffit-strip-9", "soffit-grille-65", "drip-edge-9"}) {
    model::RoofModel model = house(demo("plain-gable"));
    for (model::Part& part : model.parts) {
      for (model::Edge& edge : part.edges) {
        edge.soffit = model::Soffit::vented;
      }
    }
    for (model::IntakeRun& run : model.intake) {
      run.product = product;
      run.every_m = 0.8;
    }
    model::ExhaustVent turbine;
    turbine.id = "turbine";
    turbine.product = "turbine-110";
    turbine.plane = "main/0";
    turbine.at = {6.0, 3.5};
    model::ExhaustVent louvre;
    louvre.id = "louvre";
    louvre.product = "gable-60";
    louvre.wall = "main/1";
    louvre.at = {4.0, 1.0};
    model.exhaust = {turbine, louvre};
    const Assessment a = assessed(model);
    const papers::Drawing sheet = papers::crew_sheet(a, feet, papers::Paper::letter);
    CAPTURE(product, papers::overlapping_texts(sheet), papers::texts_off_page(sheet));
    CHECK(papers::overlapping_texts(sheet).empty());
    CHECK(papers::texts_off_page(sheet).empty());
    CHECK_FALSE(papers::steps_of(a, papers::runs_of(a).front(), feet).empty());
  }
}

TEST_CASE("the framing square's figures") {
  // US Navy, NAVEDTRA 14044 (Builder), ch. 2: unit length 14.42 at 8 in 12, hip 18.76, jacks 16 in
  // on centre differ by 19.23 in.
  const auto eight = papers::square_figures(units::Pitch::from_rise_run(8, 12), 16 * inch_m);
  CHECK(eight.common_per_12 == Approx(14.42).margin(0.005));
  CHECK(eight.hip_per_12 == Approx(18.76).margin(0.005));
  CHECK(eight.jack_difference_m / inch_m == Approx(19.23).margin(0.005));
  CHECK(eight.hip_run_per_12 == Approx(16.97).margin(0.005));
  const auto figures = papers::square_figures_of(assessed(demo("quarry-rise")));
  REQUIRE(figures.size() > 1);
  CHECK(std::is_sorted(figures.begin(), figures.end(), [](const auto& a, const auto& b) {
    return a.pitch.tangent() < b.pitch.tangent();
  }));
}

TEST_CASE("the table for spreadsheets: RFC 4180, units in the heads, sums as in the assessment") {
  model::RoofModel model = house(demo("sorrel-lane"));
  model.intake.front().id = "south, \"long\" side";
  const Assessment a = assessed(model);
  for (const units::Style style : {feet, units::Style::metric}) {
    const bool in_feet = style == feet;
    const auto rows = read_csv(papers::to_csv(a, style));
    std::map<std::string, std::size_t> column;
    for (std::size_t i = 0; i < rows[0].size(); ++i) {
      column[rows[0][i]] = i;
    }
    const char* area_name = in_feet ? "area_ft2" : "area_m2";
    REQUIRE(column.contains(area_name));
    REQUIRE(column.contains(in_feet ? "eave_ft" : "eave_m"));
    std::map<std::string, double> sums;
    std::map<std::string, std::map<std::string, double>> quantities;
    bool has_quoted = false;
    for (std::size_t r = 1; r < rows.size(); ++r) {
      REQUIRE(rows[r].size() == rows[0].size());
      const std::string& record = rows[r][0];
      const std::string& area = rows[r][column[area_name]];
      sums[record] += area.empty() ? 0.0 : std::stod(area);
      has_quoted = has_quoted || rows[r][column["for"]] == "south, \"long\" side";
      const std::string& place = rows[r][column[record == "order" ? "for" : "plane"]];
      CHECK((record == "total" || record == "price_total" || record == "order_total" ||
             !place.empty()));
      if (record == "order" || record == "order_total") {
        quantities[rows[r][column["item"]]][record] += std::stod(rows[r][column["quantity"]]);
      }
    }
    // Every item once more, all of it.
    CHECK(quantities.size() > 5);
    for (const auto& [item, sum] : quantities) {
      INFO(item);
      CHECK(sum.at("order_total") == Approx(sum.at("order")));
    }
    CHECK(has_quoted);
    CHECK(sums["plane"] == Approx(sums["total"]).epsilon(1e-6));
    const double unit = in_feet ? units::foot_m * units::foot_m : 1.0;
    CHECK(sums["total"] * unit == Approx(a.takeoff.totals.area_m2).epsilon(1e-6));
  }
}

TEST_CASE("the air in plan: rings where it leaves, arrows where it comes in, figures of the case") {
  const Assessment a = assessed(demo("plain-gable"));
  const airflow::CaseAir& noon = *a.airflow.first(airflow::CaseKind::summer);
  const papers::Frame frame{{10, 10}, {180, 200}};
  const papers::PlanScale scale = papers::scale_to_fit(a, frame, feet);
  papers::Page page;
  papers::draw_air_plan(a, noon, scale, feet, page);
  std::size_t arrows = 0;
  for (const papers::Path& path : filled(page, 0.0)) {
    arrows += path.loops[0].size() == 3 ? 1 : 0;
  }
  CHECK(arrows >= 4);
  // A ring for each way out through the ridge, over its place.
  std::size_t rings = 0;
  for (const airflow::Path& way : air_paths(a, noon)) {
    if (way.kind != airflow::Path::Kind::goes_out) {
      continue;
    }
    const glm::dvec2 middle = scale.at(glm::dvec2(way.points.back()));
    rings += std::any_of(page.paths.begin(), page.paths.end(), [&](const papers::Path& path) {
      return path.is_filled && path.loops[0].size() > 8 &&
             glm::length(0.5 * (box_of(path).first + box_of(path).second) - middle) < 1e-6;
    });
  }
  CHECK(rings > 0);
  // What each vent passes stands beside it as the case has it.
  for (std::size_t i = 0; i < a.airflow.openings.size(); ++i) {
    const airflow::Way& way = a.airflow.openings[i];
    if (way.role != airflow::Role::leak) {
      const double flow = noon.openings[i].flow_m3s;
      const std::string words =
          way.id + ": " + airflow::flow_words(std::abs(flow), feet) + (flow > 0.0 ? " in" : " out");
      INFO(words);
      CHECK(std::any_of(page.texts.begin(), page.texts.end(),
                        [&](const papers::Text& text) { return text.text == words; }));
    }
  }
  CHECK(papers::overlapping_texts({"", frame.size, {page}}).empty());
}
