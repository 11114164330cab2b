#pragma once
// The ribbon of eaves at the foot of the drawing: what it remembers, what can be asked of it.

#include "scene/pick.hpp"
#include "scene/ribbon.hpp"

#include <optional>
#include <string>
#include <variant>

namespace ridgeward::panels {

struct State;

/// New ends of a run of intake, along its plane as in the model.
struct PutRun {
  std::string run;
  double from_m = 0.0;
  double to_m = 0.0;
  bool is_done = true;  ///< false while the hand still moves
};

struct RibbonView {
  bool is_shown = true;   ///< a picture has none where it is not
  double from_m = 0.0;    ///< what of the ribbon stands at the panel's left border
  double px_per_m = 0.0;  ///< 0: as large as shows all of it
  BayId bay;              ///< pointed at, on the ribbon or on the house
  SlotId slot;
  scene::Picked followed;  ///< what was selected when the ribbon looked last
  std::optional<scene::Pull> pull;
  double pulled_from_m = 0.0;
  double pulled_to_m = 0.0;
  std::optional<std::string> from_text;  ///< being typed
  std::optional<std::string> to_text;
  std::optional<PutRun> wants_run;  ///< taken up by whoever changes models
};

struct ShowRibbon {
  bool on;
};
struct ScrollRibbon {
  double from_m;
  double px_per_m;
};
/// A bay, a slot or neither, and the selection on the house that goes with it.
struct PointRibbon {
  BayId bay;
  SlotId slot;
  scene::Picked selected;
  std::optional<double> from_m = std::nullopt;  ///< scrolls there
};
struct PullRun {
  std::optional<scene::Pull> pull;  ///< none: let go
  double from_m = 0.0;
  double to_m = 0.0;
};
struct TypeRun {
  std::optional<std::string> from_text;
  std::optional<std::string> to_text;
};
using RibbonIntent = std::variant<ShowRibbon, ScrollRibbon, PointRibbon, PullRun, PutRun, TypeRun>;

/// Does what was asked. A PutRun is only noted in `wants_run`.
void apply(State& state, const RibbonIntent& intent);

/// Height of the ribbon's panel, in pixels; shut it is a bar with its name.
double ribbon_height(const RibbonView& view);

/// What of the ribbon lies under a place on the house: the slot whose vent holds it, the bay that
/// holds it. Nothing for lines but eaves.
struct Pointed {
  BayId bay;
  SlotId slot;
};
Pointed pointed_at(const Assessment& assessment, const scene::Picked& picked);

/// A run's ends from what was typed; none where it is no length or the run would be upside down.
std::optional<PutRun> typed_run(const scene::Pull& pull, const std::string& from,
                                const std::string& to, units::Style style);

}  // namespace ridgeward::panels
