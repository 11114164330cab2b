// Conflicts of slots and vents with timber, walls, obstacles, ice and code: each kind with a house
// that draws it and a twin with the remedy applied that does not.
#include "conflicts/judged.hpp"
#include "model/read.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>

using namespace ridgeward;
using conflicts::Finding;
using conflicts::Severity;
using judged_roofs::box;
using judged_roofs::is_quiet;
using judged_roofs::judged;
using judged_roofs::required;
using small_roofs::ft;
using small_roofs::in;
using small_roofs::whole_eave;
using small_roofs::whole_ridge;
using tests::Worked;

namespace {

/// 40 x 28 ft gable, both eaves and the ridge vented.
model::RoofModel vented_gable(double pitch = 8.0, double overhang_in = 12.0) {
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}},
                     {support::eave(pitch, overhang_in * in), support::gable(0.5 * ft),
                      support::eave(pitch, overhang_in * in), support::gable(0.5 * ft)});
  model.parts[0].heel_m = 12 * in;
  model.intake = {whole_eave("south", "main/0"), whole_eave("north", "main/2")};
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  return model;
}

}  // namespace

TEST_CASE("a slot over or beside the timber of a hip") {
  const model::Edge edge = support::eave(6, 12 * in);
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {edge, edge, edge, edge});
  model.intake = {whole_eave("south", "main/0")};
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  model::Catalogue catalogue = tests::default_catalogue();
  catalogue.products["over-deck-10"].slot.hold_back_hip_m = 0.0;
  const Finding over =
      required(judged(model, catalogue), "slot_near_hip_or_valley", Severity::error);
  CHECK_FALSE(over.member.is_none());
  // 2 in along the eave is 2 x sin(48.1897 deg) = 1.49 in from the hip's line, 3/4 in from its
  // face.
  catalogue.products["over-deck-10"].slot.hold_back_hip_m = 2 * in;
  const Finding near =
      required(judged(model, catalogue), "slot_near_hip_or_valley", Severity::warning);
  CHECK(near.measured.find("3/4\"") != std::string::npos);
  CHECK(is_quiet(judged(model), "slot_near_hip_or_valley"));  // held back 12 in
}

TEST_CASE("a slot over the end rafter on a gable-end wall") {
  model::Catalogue catalogue = tests::default_catalogue();
  catalogue.products["over-deck-10"].slot.hold_back_m = 0.0;
  required(judged(vented_gable(), catalogue), "slot_past_gable_wall", Severity::warning);
  CHECK(is_quiet(judged(vented_gable()), "slot_past_gable_wall"));
}

TEST_CASE("a slot along the blocking over the wall line") {
  // Wall line at 6 in x 1.20185 = 7.2 in up: under the band from 6 1/2 to 8 in.
  model::RoofModel model = vented_gable(8, 6);
  model.parts[0].framing.blocking = model::Blocking::vented;
  required(judged(model), "slot_over_timber", Severity::error);
  for (model::IntakeRun& run : model.intake) {
    run.position = model::Position::upslope;  // the remedy
  }
  CHECK(is_quiet(judged(model), "slot_over_timber"));
  model = vented_gable(8, 6);
  CHECK(is_quiet(judged(model), "slot_over_timber"));  // no blocking, no conflict
}

TEST_CASE("a slot that ends over a doubled rafter") {
  model::RoofModel model = vented_gable();
  model::Obstacle skylight;
  skylight.id = "sky";
  skylight.kind = model::ObstacleKind::skylight;
  skylight.plane = "main/0";
  skylight.at = {20 * ft, 8 * ft};
  skylight.size = {2 * ft, 4 * ft};
  model.obstacles = {skylight};
  const Worked whole = judged(model);
  CHECK(is_quiet(whole, "slot_over_timber"));  // crossing it is no conflict
  double trimmer_m = 0.0;
  for (const framing::Member& member : whole.framing.members) {
    trimmer_m = member.kind == framing::MemberKind::trimmer ? member.at_m : trimmer_m;
  }
  REQUIRE(trimmer_m > 0.0);
  model.intake[0].whole = false;
  model.intake[0].from_m = 2 * ft;
  model.intake[0].to_m = trimmer_m;
  const Finding finding = required(judged(model), "slot_over_timber", Severity::warning);
  CHECK(finding.message.find("doubled") != std::string::npos);
  model.intake[0].to_m = trimmer_m - 4 * in;
  CHECK(is_quiet(judged(model), "slot_over_timber"));
}

TEST_CASE("an upslope slot outside the plate's inner face") {
  // 20/12: a row of 5 5/8 in reaches 2.9 in level, less than a wall 12 in thick.
  model::RoofModel model = vented_gable(16, 12);
  model.parts[0].wall_thickness_m = 14 * in;
  for (model::IntakeRun& run : model.intake) {
    run.position = model::Position::upslope;
  }
  const Finding finding = required(judged(model), "slot_over_plate", Severity::error);
  CHECK(finding.remedy.find("Set it 2 rows of") != std::string::npos);
  model::Catalogue catalogue = tests::default_catalogue();
  catalogue.products["over-deck-10"].slot.above_butt_m = 5 * in + 3 * 5.625 * in;
  CHECK(is_quiet(judged(model, catalogue), "slot_over_plate"));
}

TEST_CASE("an upslope slot cuts the ice barrier where the climate asks for one") {
  model::RoofModel model = vented_gable();
  model.site.climate_zone = "7";
  for (model::IntakeRun& run : model.intake) {
    run.position = model::Position::upslope;
  }
  // The section is that of the set in force; what a set does not name is common practice.
  const auto needed = [&](const char* code) {
    return required(judged(model, tests::default_catalogue(), code), "slot_in_ice_barrier",
                    Severity::warning)
        .needed;
  };
  CHECK(needed("us-irc-2021").find("(R905.1.2)") != std::string::npos);
  CHECK(needed("de-din-4108-3").find("(common practice)") != std::string::npos);
  model.site.climate_zone = "4C";
  CHECK(is_quiet(judged(model), "slot_in_ice_barrier"));
  model.site.climate_zone = "7";
  for (model::IntakeRun& run : model.intake) {
    run.position = model::Position::eave;
  }
  CHECK(is_quiet(judged(model), "slot_in_ice_barrier"));
}

TEST_CASE("a hole over a rafter") {
  model::RoofModel model = vented_gable();
  model.intake.clear();
  // Rafters 24 in on centre from the west wall, 6 in of rake: at 6 + 24 k in.
  model.exhaust = {box("box", "main/2", {6 + 24 * 10 + 3, 140})};
  const Finding finding = required(judged(model), "vent_over_rafter", Severity::warning);
  CHECK_FALSE(finding.exhaust.is_none());
  CHECK(finding.remedy.find("9\" to the right") != std::string::npos);
  model.exhaust = {box("box", "main/2", {6 + 24 * 10 + 12, 140})};
  CHECK(is_quiet(judged(model), "vent_over_rafter"));
}

TEST_CASE("a vent too near its plane's border, or hanging over it") {
  model::RoofModel model = vented_gable();
  model.intake.clear();
  const double ridge_v = (14 + 1) * 12 * std::sqrt(208.0) / 12.0;  // in
  model.exhaust = {box("box", "main/2", {258, ridge_v - 8})};
  required(judged(model), "vent_near_border", Severity::warning);
  model.exhaust = {box("box", "main/2", {258, ridge_v - 2})};
  required(judged(model), "vent_near_border", Severity::error);
  model.exhaust = {box("box", "main/2", {258, ridge_v - 14})};
  CHECK(is_quiet(judged(model), "vent_near_border"));
}

TEST_CASE("vents in and beside obstacles") {
  model::RoofModel model = vented_gable();
  model::Obstacle chimney;
  chimney.id = "stack";
  chimney.kind = model::ObstacleKind::chimney;
  chimney.plane = "main/2";
  chimney.at = {240 * in, 120 * in};
  chimney.size = {24 * in, 24 * in};
  model.obstacles = {chimney};
  model.intake.clear();
  model.exhaust = {box("box", "main/2", {252, 132})};
  required(judged(model), "vent_at_obstacle", Severity::error);
  model.exhaust = {box("box", "main/2", {270, 132})};  // its hole 2 in beside the chimney
  required(judged(model), "vent_at_obstacle", Severity::error);
  model.exhaust = {box("box", "main/2", {282, 132})};
  CHECK(is_quiet(judged(model), "vent_at_obstacle"));
  // A slot that is held back by nothing stands against a pipe beside the eave.
  model::RoofModel low = vented_gable();
  model::Obstacle pipe;
  pipe.id = "vent-pipe";
  pipe.kind = model::ObstacleKind::pipe;
  pipe.plane = "main/0";
  pipe.at = {240 * in, 4 * in};
  pipe.size = {6 * in, 8 * in};
  low.obstacles = {pipe};
  model::Catalogue catalogue = tests::default_catalogue();
  catalogue.products["over-deck-10"].slot.hold_back_obstacle_m = 0.0;
  CHECK(is_quiet(judged(low), "vent_at_obstacle"));
}

TEST_CASE("intake above the bottom third where the code asks for it") {
  // 2 ft of overhang on a low roof, slot counted up the slope: 3/12 rises 3 ft 6 in.
  model::RoofModel model = vented_gable(3, 12);
  model.parts[0].heel_m = 0.0;
  for (model::IntakeRun& run : model.intake) {
    run.position = model::Position::upslope;
  }
  model::Catalogue catalogue = tests::default_catalogue();
  catalogue.products["over-deck-10"].slot.above_butt_m = 60 * in;
  const Worked w = judged(model, catalogue);
  const Finding* finding = w.finding("intake_too_high");
  REQUIRE(finding != nullptr);
  CHECK(finding->needed.find("R806.2") != std::string::npos);
  CHECK(is_quiet(judged(model), "intake_too_high"));
  // The 2009 text has no bottom third.
  CHECK(is_quiet(judged(model, catalogue, "us-irc-2009"), "intake_too_high"));
}

TEST_CASE("exhaust more than 3 ft below the top") {
  model::RoofModel model = vented_gable();
  // C05: 36.0 in below the ridge holds, 36.1 in fails. 8/12: 36 in plumb are 36 x sqrt(208) / 8 up.
  const double ridge_v = 15 * 12 * std::sqrt(208.0) / 12.0;
  const double below = 36 * std::sqrt(208.0) / 8.0;
  model.exhaust = {box("box", "main/2", {258, ridge_v - below - 0.2})};
  const Finding finding = required(judged(model), "exhaust_too_low", Severity::warning);
  CHECK(finding.needed.find("3' 0\"") != std::string::npos);
  model.exhaust = {box("box", "main/2", {258, ridge_v - below + 0.01})};
  CHECK(is_quiet(judged(model), "exhaust_too_low"));
}

TEST_CASE("a hip roof with too little ridge") {
  const model::Edge edge = support::eave(8, 12 * in);
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 32}, {0, 32}}, {edge, edge, edge, edge});
  model.intake = {whole_eave("south", "main/0"), whole_eave("north", "main/2")};
  model.exhaust = {whole_ridge("top", "main/0|main/2")};
  // 8 ft of ridge for 1 280 ft2: 40 % of 1/300 are 246 in2.
  const Finding finding = required(judged(model), "ridge_too_short", Severity::warning);
  CHECK(finding.remedy.find("a foot") != std::string::npos);
  CHECK(is_quiet(judged(vented_gable()), "ridge_too_short"));
  model.exhaust = {box("box", "main/2", {258, 200})};  // the remedy: vents by the piece
  CHECK(is_quiet(judged(model), "ridge_too_short"));
}

TEST_CASE("a slot onto the old deck beneath an overlaid dormer") {
  model::RoofModel model = vented_gable(6, 0);
  model::RoofModel dormer =
      support::house({{14, 4}, {26, 4}, {26, 13}, {14, 13}},
                     {support::gable(), support::eave(6), support::gable(), support::eave(6)});
  dormer.parts[0].id = "dormer";
  dormer.parts[0].plate_m = 5 * ft;
  dormer.parts[0].valleys = model::Valleys::overlaid;
  model.parts.push_back(dormer.parts[0]);
  const surface::Surface surface = tests::value_of(surface::raise(model));
  REQUIRE_FALSE(surface.blind_decks.empty());
  model.intake = {whole_eave("dormer", "dormer/1")};
  const Worked w = judged(model);
  REQUIRE_FALSE(w.vents.slots.empty());
  const Finding finding = required(w, "slot_onto_blind_deck", Severity::error);
  CHECK(finding.message.find("main/0") != std::string::npos);
  // The remedy: the old deck is cut away beneath the dormer.
  model.parts[1].deck_openings = {
      {{14 * ft, 4 * ft}, {26 * ft, 4 * ft}, {26 * ft, 13 * ft}, {14 * ft, 13 * ft}}};
  CHECK(is_quiet(judged(model), "slot_onto_blind_deck"));
}

TEST_CASE("demo houses draw no error and no warning") {
  const model::Catalogue catalogue = tests::default_catalogue();
  const std::filesystem::path folder =
      std::filesystem::path(RIDGEWARD_SOURCE_DIR) / "models" / "houses";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const model::RoofModel model = tests::value_of(model::read_file(entry.path().string())).model;
    const Worked w = judged(model, catalogue, model.site.code.c_str());
    for (const Finding& finding : w.findings) {
      INFO(entry.path().stem().string() << ": " << finding.kind << ": " << finding.message);
      CHECK(finding.severity == Severity::note);
    }
  }
}
