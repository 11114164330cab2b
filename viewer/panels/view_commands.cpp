// The part of the table of commands that looks at the house and goes from panel to panel.
#include "panels/commands.hpp"
#include "scene/layers.hpp"

#include <algorithm>
#include <array>

namespace ridgeward::panels {
namespace {

constexpr double turn_per_key = 0.13;
constexpr double cut_step_share = 0.02;  // of the house's extent, by a key

/// Rows under way: what they may say and the words of both ways of a switch.
class Rows {
 public:
  Rows(const State& state, std::vector<Command>& all) : state_(state), all_(all) {}

  /// What makes sense with a house only.
  void add(const char* id, std::string words, const char* keys, Intent ask,
           std::vector<std::string> also = {}, const char* family = "") {
    Intents asked;
    if (state_.has_model) {
      asked.push_back(std::move(ask));
    }
    all_.push_back({id, std::move(words), keys, std::move(asked), std::move(also), family});
  }
  void sight(const char* id, std::string words, const char* keys, SightIntent ask) {
    add(id, std::move(words), keys, Intent(ask));
  }
  /// What makes sense without one too.
  void always(const char* id, std::string words, const char* keys, Intent ask) {
    all_.push_back({id, std::move(words), keys, {std::move(ask)}});
  }

 private:
  const State& state_;
  std::vector<Command>& all_;
};

const char* layer_key(scene::Layer layer) {
  return layer == scene::Layer::lengths ? "L" : layer == scene::Layer::airflow ? "G" : "";
}

void add_directions(Rows& rows) {
  // As the keys lie on a number pad: south at the bottom.
  constexpr std::array<const char*, 9> pad{"south-west", "south", "south-east",
                                           "west",       "above", "east",
                                           "north-west", "north", "north-east"};
  for (const std::string& word : scene::direction_words()) {
    const auto at = std::find(pad.begin(), pad.end(), word) - pad.begin();
    const std::string key = at < 9 ? std::to_string(at + 1) : std::string();
    rows.add(("look/" + word).c_str(), "Look from " + word, key.c_str(), LookFrom{word}, {},
             key.empty() ? "" : "look");
  }
  const auto turn = [&](const char* id, const char* words, const char* key, Orbit by) {
    rows.add(id, words, key, by, {}, "turn");
  };
  turn("view/turn-left", "Turn the house to the left", "Left", {turn_per_key, 0.0});
  turn("view/turn-right", "Turn the house to the right", "Right", {-turn_per_key, 0.0});
  turn("view/turn-up", "Look from further above", "Up", {0.0, turn_per_key});
  turn("view/turn-down", "Look from further below", "Down", {0.0, -turn_per_key});
}

void add_cuts(const State& state, Rows& rows) {
  const Sight& sight = state.sight;
  const bool is_cut = sight.cut.way != scene::CutWay::none;
  rows.sight("view/cut", "Cut open: across, along, level, whole", "X", NextCut{});
  rows.sight("view/cut-across", "Cut across the longest eave", "", CutOpen{scene::CutWay::across});
  rows.sight("view/cut-along", "Cut along the longest eave", "", CutOpen{scene::CutWay::along});
  rows.sight("view/cut-level", "Cut level", "", CutOpen{scene::CutWay::level});
  const auto moved = [&](double by) {
    scene::Cut cut = sight.cut;
    cut.share = std::clamp(cut.share + by, 0.0, 1.0);
    return SetCut{cut};
  };
  scene::Cut other = sight.cut;
  other.keeps_high = !other.keeps_high;
  if (!is_cut) {
    return;
  }
  rows.sight("view/cut-whole", "Cut: make the house whole again", "", SetCut{});
  rows.sight("view/cut-flip", "Cut: show the other half", "Shift+X", SetCut{other});
  rows.sight("view/cut-on", "Cut: move it on", "Page Up", moved(cut_step_share));
  rows.sight("view/cut-back", "Cut: move it back", "Page Down", moved(-cut_step_share));
}

void add_sight(const State& state, Rows& rows) {
  const Sight& sight = state.sight;
  const bool is_flat = goal(state).is_flat;
  scene::Sun sun = sight.sun;
  sun.is_shown = !sun.is_shown;
  rows.sight("view/flat", is_flat ? "Flat: back to depth" : "Flat: plan and elevations to scale",
             "O", SetFlat{!is_flat});
  add_cuts(state, rows);
  rows.sight("view/peel",
             sight.peeled.empty() ? "Peel the deck off the selection, or off all"
                                  : "Peel: deck off the selection, or back on all",
             "P", Peel{});
  rows.sight("view/measure",
             sight.is_measuring ? "Measure: leave off" : "Measure from anywhere to anywhere", "M",
             SetMeasuring{!sight.is_measuring});
  if (!sight.measure.spots.empty()) {
    rows.sight("view/measure-clear", "Measure: clear the figures", "", ClearMeasure{});
  }
  rows.sight("view/sun", sun.is_shown ? "Sun: light from it" : "Sun: light over the shoulder again",
             "S", SetSun{sun});
}

void add_air(const State& state, Rows& rows) {
  rows.add("view/air-play", state.air.plays ? "Air: let it stand still" : "Air: let it move again",
           "Space", AirIntent(play_air(!state.air.plays)));
  rows.add("view/air-case", "Air: the next weather", "C",
           AirIntent(choose_air(state.air.chosen ? *state.air.chosen + 1 : 0)));
}

void add_window(const State& state, Rows& rows) {
  const bool is_metric = state.style == units::Style::metric;
  const Sight& sight = state.sight;
  rows.always("view/units", is_metric ? "Units: feet and inches" : "Units: metric", "U",
              SetUnits{is_metric ? units::Style::feet_inches : units::Style::metric});
  rows.always("view/dark", sight.is_dark ? "Night off: light colours" : "Night: dark colours", "N",
              SightIntent(SetDark{!sight.is_dark}));
  rows.always("view/large",
              sight.is_large ? "Large type off: usual letters" : "Large type for a classroom", "T",
              SightIntent(SetLarge{!sight.is_large}));
  rows.always("view/motion", sight.is_still ? "Let camera and air move" : "Less motion", "",
              SightIntent(SetStill{!sight.is_still}));
  rows.add("view/ribbon", state.ribbon.is_shown ? "Hide: eave ribbon" : "Show: eave ribbon", "",
           RibbonIntent(ShowRibbon{!state.ribbon.is_shown}));
  rows.add("view/ribbon-all", "Eave ribbon: all of it", "", RibbonIntent(ScrollRibbon{}));
  rows.add("lesson/open", state.lesson.is_open ? "Lesson: leave it" : "Lesson: this house's job",
           "J",
           state.lesson.is_open ? Intent(LessonIntent(OpenLesson{false, 0}))
                                : Intent(KeyedIntent(BeginLesson{})));
  rows.always("view/keys", "Mouse and keys", "F1", ShowKeys{!state.keys_shown});
  rows.always("view/commands", "All commands", "Ctrl+P", EditIntent(ShowPalette{true}));
}

void add_focus(const State& state, Rows& rows, std::vector<Command>& all) {
  const auto to = [&](const char* id, const char* words, const char* key, MoveFocus way) {
    rows.always(id, words, key, FocusIntent(way));
    all.back().family = way.by_panel ? "panels" : "controls";
  };
  to("view/next-control", "Next button, field or slider", "Tab", {false, false});
  to("view/control-before", "Button, field or slider before", "Shift+Tab", {false, true});
  to("view/next-panel", "Next panel", "F6", {true, false});
  to("view/panel-before", "Panel before", "Shift+F6", {true, true});
  all.push_back({"view/clear", "Let go: list, tool, figures, selection", "Esc", let_go(state)});
}

}  // namespace

void add_view_commands(const State& state, std::vector<Command>& all) {
  Rows rows(state, all);
  PlanTool fitted = state.edit.plan;
  fitted.px_per_m = 0.0;
  rows.add("view/fit", "Fit all", "Home",
           shows_plan(state.edit) ? Intent(EditIntent(MovePlan{fitted})) : Intent(FrameAll{}),
           {"A"});
  rows.add("view/frame", "Frame the selection", "F", FrameSelection{});
  add_directions(rows);
  add_sight(state, rows);
  for (const scene::LayerWords& layer : scene::layer_words()) {
    const bool on = state.layers.has(layer.layer);
    rows.always((std::string("layer/") + layer.word).c_str(),
                std::string(on ? "Hide: " : "Show: ") + layer.words, layer_key(layer.layer),
                SetLayer{layer.layer, !on});
  }
  add_air(state, rows);
  add_window(state, rows);
  add_focus(state, rows, all);
}

}  // namespace ridgeward::panels
