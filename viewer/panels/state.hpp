#pragma once
// All that the window remembers, and all that a person can ask of it.

#include "units/length.hpp"

#include "panels/air_panel.hpp"
#include "panels/edit_state.hpp"
#include "panels/focus.hpp"
#include "panels/keyed.hpp"
#include "panels/lesson.hpp"
#include "panels/ribbon.hpp"
#include "panels/sight.hpp"
#include "scene/camera.hpp"
#include "scene/layers.hpp"
#include "scene/pick.hpp"
#include "scene/scene.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ridgeward::panels {

struct State {
  bool has_model = false;
  std::string path;       ///< of the model shown
  std::string path_text;  ///< in the path field
  std::string trouble;    ///< why the last file could not be shown; empty when it could
  scene::Layers layers = scene::usual_layers();
  units::Style style = units::Style::feet_inches;
  scene::Camera camera;
  scene::Picked selected;
  Sight sight;
  RibbonView ribbon;
  LessonView lesson;
  FocusView focus;
  bool keys_shown = false;
  bool wants_to_close = false;
  AirView air;
  std::optional<std::string> wants_to_open;  ///< taken up by whoever reads files
  EditState edit;
};

struct SetLayer {
  scene::Layer layer;
  bool on;
};
struct SetUnits {
  units::Style style;
};
struct Select {
  scene::Picked picked;
};
struct ShowKeys {
  bool on;
};
struct LookFrom {
  std::string word;
};
struct FrameAll {};
struct FrameSelection {};
/// Brings the eye to a place, as near as suits a detail.
struct GoTo {
  glm::dvec3 at;
  double within_m = 9.0;  ///< from the eye, at most
};
struct Orbit {
  double azimuth_rad;
  double elevation_rad;
};
struct Pan {
  glm::dvec2 by_px;
};
struct Zoom {
  double factor;
};
struct EditPath {
  std::string text;
};
struct Open {
  std::string path;
};
struct Close {};

using Intent =
    std::variant<SetLayer, SetUnits, Select, ShowKeys, LookFrom, FrameAll, FrameSelection, GoTo,
                 Orbit, Pan, Zoom, EditPath, Open, Close, RibbonIntent, LessonIntent, SightIntent,
                 AirIntent, FocusIntent, EditAsk, KeyedIntent>;
using Intents = std::vector<Intent>;

/// Does what was asked. Pure: nothing is drawn and no file is read. An Open is only noted in
/// `wants_to_open`.
State applied(State state, const Intent& intent, const scene::Scene& scene,
              const scene::Viewport& viewport);

/// The camera that shows what is selected, or all where nothing is.
scene::Camera framed(const State& state, const scene::Scene& scene,
                     const scene::Viewport& viewport);

/// Share of the viewport kept free around a fitted house.
inline constexpr double fit_margin = 0.07;

}  // namespace ridgeward::panels
