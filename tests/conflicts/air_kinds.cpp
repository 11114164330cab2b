// The kinds that read the airflow: each with a house that raises it and a twin that does not.
#include "conflicts/judged.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ridgeward;
using conflicts::Finding;
using conflicts::Severity;
using judged_roofs::box;
using judged_roofs::house_without_exhaust;
using judged_roofs::judged_small;
using judged_roofs::sound_house;
using small_roofs::ft;
using small_roofs::in;
using tests::Worked;

namespace {

/// What the model of the air says is told as modelled.
Finding modelled(const Worked& w, const std::string& kind, Severity severity) {
  const Finding finding = judged_roofs::required(w, kind, severity);
  CHECK(finding.message.find("modelled") != std::string::npos);
  return finding;
}

}  // namespace

TEST_CASE("an exhaust set low draws in, and feeds the one above it") {
  model::RoofModel model = sound_house();
  for (int i = 0; i < 4; ++i) {
    model.exhaust.push_back(
        box("low-" + std::to_string(i), "main/2", 12.0 * glm::dvec2{8 + 6 * i, 3.0}));
  }
  const Worked w = judged_small(model);
  const Finding back = modelled(w, "opening_runs_backwards", Severity::warning);
  CHECK(back.message.find("Exhaust low-0 draws in") != std::string::npos);
  CHECK(back.measured.find("cfm in") != std::string::npos);
  CHECK_FALSE(back.plane.is_none());
  const Finding fed = modelled(w, "exhaust_fed_by_exhaust", Severity::warning);
  CHECK(fed.message.find("low-") != std::string::npos);
  CHECK(fed.at.z < w.vents.exhausts[ExhaustId(0U)].from.z);
  // The remedy: close them.
  const Worked twin = judged_small(sound_house());
  CHECK(twin.finding("opening_runs_backwards") == nullptr);
  CHECK(twin.finding("exhaust_fed_by_exhaust") == nullptr);
}

TEST_CASE("an attic that the rooms blow up takes nothing in") {
  model::RoofModel model = house_without_exhaust();
  for (model::IntakeRun& run : model.intake) {
    run.to_m = run.from_m + 3 * ft;
  }
  model.exhaust = {box("box", "main/2", 12.0 * glm::dvec2{18, 14})};
  model.air.ceiling_leakage_cm2_m2 = 20.0;
  model.air.house_leakage_cm2_m2 = 60.0;
  const Worked w = judged_small(model);
  const Finding finding = modelled(w, "neutral_level_below_intake", Severity::warning);
  CHECK_FALSE(finding.slot.is_none());
  CHECK(w.finding("opening_runs_backwards") == nullptr);  // said once, by its cause
  model.air.ceiling_leakage_cm2_m2 = 0.8;                 // the remedy: seal the ceiling
  CHECK(judged_small(model).finding("neutral_level_below_intake") == nullptr);
}

TEST_CASE("hardly any air in a walled-off end") {
  model::RoofModel model = sound_house();
  model::Divider wall;
  wall.id = "fire-wall";
  wall.from = {28 * ft, 0.0};
  wall.to = {28 * ft, 28 * ft};
  model.dividers = {wall};
  // The east end gets one box and a foot of slot; the ridge vent ends before it.
  model.exhaust[0].whole = false;
  model.exhaust[0].from_m = 2 * ft;
  model.exhaust[0].to_m = 27 * ft;
  model.intake[0].to_m = 28 * ft;
  model.intake[1].from_m = 14 * ft;
  model::IntakeRun end = small_roofs::whole_eave("end", "main/0");
  end.whole = false;
  end.from_m = 32 * ft;
  end.to_m = 32.6 * ft;
  model.intake.push_back(end);
  model.exhaust.push_back(box("end-box", "main/2", 12.0 * glm::dvec2{6, 14}));
  model.air.ceiling_leakage_cm2_m2 = 0.0;
  const Finding finding = modelled(judged_small(model), "almost_no_flow", Severity::warning);
  CHECK(finding.message.find("attic/") != std::string::npos);
  model.dividers.clear();  // the remedy: open it to the space beside it
  CHECK(judged_small(model).finding("almost_no_flow") == nullptr);
}

TEST_CASE("hardly any air in a bay that the ridge vent only just reaches") {
  // A sloped ceiling over all: each bay by itself. The ridge vent ends a hair past a rafter, so the
  // bay beyond it is live by what is cut, and hardly breathes.
  model::RoofModel model = sound_house();
  model::Ceiling ceiling;
  ceiling.id = "vault";
  ceiling.kind = model::CeilingKind::sloped;
  ceiling.outline = model.parts[0].outline;
  ceiling.insulation_m = 5 * in;
  model.ceilings = {ceiling};
  model.air.ceiling_leakage_cm2_m2 = 0.0;
  model.exhaust[0].whole = false;
  const auto ending_at = [&](double to_m) {
    model.exhaust[0].from_m = 2 * ft;
    model.exhaust[0].to_m = to_m;
    return judged_small(model);
  };
  // Bays whose left side, seen from the south, lies right of the middle of the ridge.
  const Worked whole = ending_at(38 * ft);
  CHECK(whole.finding("almost_no_flow") == nullptr);
  const vents::Exhaust& ridge = whole.vents.exhausts[ExhaustId(0U)];
  const double start_x = ridge.from.x < ridge.to.x ? ridge.from.x - 2 * ft : ridge.from.x + 2 * ft;
  const double way = ridge.from.x < ridge.to.x ? 1.0 : -1.0;
  double cut_m = 0.0;
  for (const vents::SlotBay& part : whole.vents.slots[SlotId(0U)].bays) {
    const framing::Bay& bay = whole.framing.bays[part.bay];
    const double x =
        whole.surface.planes[bay.plane].frame.at({way > 0.0 ? bay.from_u_m : bay.to_u_m, 0.0}).x;
    const double along = way * (x - start_x);
    if (along > 20 * ft && cut_m == 0.0) {
      cut_m = along;
    }
  }
  REQUIRE(cut_m > 0.0);
  const Worked w = ending_at(cut_m + 0.002);
  const Finding finding = modelled(w, "almost_no_flow", Severity::warning);
  CHECK(finding.message.find("bay main/") != std::string::npos);
  CHECK(finding.measured.find("bay") != std::string::npos);
  CHECK_FALSE(finding.plane.is_none());
  // Its remedy: open the way to the exhaust.
  CHECK(ending_at(cut_m + 1 * ft).finding("almost_no_flow") == nullptr);
}

TEST_CASE("few air changes where vents are few") {
  model::RoofModel model = house_without_exhaust();
  model.intake.pop_back();
  model.intake[0].to_m = model.intake[0].from_m + 2 * ft;
  model.exhaust = {box("box", "main/2", 12.0 * glm::dvec2{18, 14})};
  model.air.ceiling_leakage_cm2_m2 = 0.8;
  const Finding finding = modelled(judged_small(model), "few_air_changes", Severity::note);
  CHECK(finding.measured.find("0.") == 0);
  CHECK(judged_small(sound_house()).finding("few_air_changes") == nullptr);
}

TEST_CASE("an intake that blows out under most winds") {
  // A long hip roof with slots on its south side and on both short ends: the long slot sets the
  // pressure, and an end draws only where the wind meets it and not the south side.
  const model::Edge edge = support::eave(6, 1.0 * ft);
  model::RoofModel model =
      support::house({{0, 0}, {80, 0}, {80, 24}, {0, 24}}, {edge, edge, edge, edge});
  model.parts[0].heel_m = 12 * in;
  for (const int side : {0, 1, 3}) {
    model.intake.push_back(
        small_roofs::whole_eave("side-" + std::to_string(side), "main/" + std::to_string(side)));
  }
  model.exhaust = {box("box", "main/2", 12.0 * glm::dvec2{40, 9})};
  model.air.wind_ms = 12.0;
  const Finding finding = modelled(judged_small(model), "intake_seldom_draws", Severity::note);
  CHECK(finding.measured.find("of 16 winds") != std::string::npos);
  CHECK(judged_small(sound_house()).finding("intake_seldom_draws") == nullptr);
  // Over a sloped ceiling each bay is a space by itself; the intake is judged as a whole.
  model::Ceiling vault;
  vault.id = "vault";
  vault.kind = model::CeilingKind::sloped;
  vault.outline = model.parts[0].outline;
  vault.insulation_m = 4 * in;
  model.ceilings = {vault};
  const std::vector<Finding> each =
      judged_roofs::all_of(judged_small(model), "intake_seldom_draws");
  REQUIRE_FALSE(each.empty());
  CHECK(each.size() <= model.intake.size());
  CHECK(each.front().measured.find("as the mean of its ") != std::string::npos);
}

TEST_CASE("a powered vent short of intake draws air up from the rooms") {
  // Field study of eight houses (Tooley and Davis 1995): 104 to 646 cfm of house air, the rooms at
  // -0.5 to -2.5 Pa.
  model::Catalogue catalogue = small_roofs::catalogue();
  model::Product fan = catalogue.products["box-50"];
  fan.id = "fan";
  fan.kind = model::VentKind::powered;
  fan.free_area_each_m2 = 140 * in * in;
  fan.fan_flow_m3s = 0.5;
  fan.fan_shut_pressure_pa = 60.0;
  catalogue.products[fan.id] = fan;
  model::RoofModel model = house_without_exhaust();
  for (model::IntakeRun& run : model.intake) {
    run.to_m = run.from_m + 8 * ft;
  }
  model.exhaust = {box("fan", "main/2", 12.0 * glm::dvec2{18, 14})};
  model.exhaust[0].product = "fan";
  const codes::CodeSet code = tests::code_set("us-irc-2021");
  const Worked w = tests::worked(model, catalogue, code);
  const Finding finding = modelled(w, "house_air_drawn_up", Severity::warning);
  CHECK(finding.message.find("carbon monoxide") != std::string::npos);
  const airflow::CaseAir& noon = *w.airflow.first(airflow::CaseKind::summer);
  CHECK(noon.house_pa < 0.0);
  CHECK(std::any_of(
      w.airflow.cautions.begin(), w.airflow.cautions.end(),
      [](const std::string& words) { return words.find("flue") != std::string::npos; }));
  // The remedy: intake enough and a tight ceiling.
  model.intake = house_without_exhaust().intake;
  model.air.ceiling_leakage_cm2_m2 = 0.3;
  CHECK(tests::worked(model, catalogue, code).finding("house_air_drawn_up") == nullptr);
}

TEST_CASE("through a gable louvre that has an attic to itself air goes both ways") {
  model::Catalogue catalogue = small_roofs::catalogue();
  model::Product louvre;
  louvre.id = "louvre";
  louvre.kind = model::VentKind::gable_louvre;
  louvre.free_area_each_m2 = 300 * in * in;
  louvre.length_m = 18 * in;
  louvre.depth_m = 24 * in;
  catalogue.products[louvre.id] = louvre;
  model::RoofModel model = house_without_exhaust();
  model.intake.clear();
  model.air.ceiling_leakage_cm2_m2 = 0.0;
  model::ExhaustVent vent;
  vent.id = "gable";
  vent.product = "louvre";
  vent.wall = "main/1";
  vent.at = {14 * ft, 4 * ft};
  model.exhaust = {vent};
  const Worked w = tests::worked(model, catalogue, tests::code_set("us-irc-2021"));
  const airflow::CaseAir& winter = *w.airflow.first(airflow::CaseKind::winter);
  REQUIRE(winter.openings.size() == 2);
  CHECK(winter.openings[0].in_kgs > 0.0);
  CHECK(winter.openings[0].in_kgs == Approx(winter.openings[0].out_kgs).epsilon(1e-6));
}

TEST_CASE("a model without vents has its air worked out and nothing found") {
  model::RoofModel model = house_without_exhaust();
  model.intake.clear();
  const Worked w = judged_small(model);
  CHECK_FALSE(w.airflow.cases.empty());
  CHECK(w.findings.empty());
}
