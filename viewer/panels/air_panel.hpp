#pragma once
// The air on the drawing: which weather is shown, what of it is worked out, how it is drawn.

#include "airflow/airflow.hpp"
#include "model/roof_model.hpp"

#include "scene/air_path.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ridgeward::panels {

/// What the window remembers of it. The layer Layer::airflow says whether air is shown at all.
struct AirView {
  bool plays = true;
  std::optional<std::size_t> chosen;  ///< index into Airflow::cases; none: the usual one
  std::optional<model::AirCase> own;  ///< weather of one's own, in place of a case
};

struct PlayAir {
  bool on;
};
struct ChooseAir {
  std::size_t index;
};
/// Weather of one's own.
struct SetAir {
  model::AirCase conditions;
};
using AirIntent = std::variant<PlayAir, ChooseAir, SetAir>;

AirIntent play_air(bool on);
AirIntent choose_air(std::size_t index);
AirIntent set_air(model::AirCase conditions);

/// Does what was asked. Pure.
AirView applied(AirView view, const AirIntent& intent);

/// The case shown: the usual one, or `chosen`, counted round.
std::size_t shown_case(const AirView& view, const airflow::Airflow& air);
/// The weather shown. REQUIRES cases.
model::AirCase weather(const AirView& view, const airflow::Airflow& air);
bool same_weather(const model::AirCase& one, const model::AirCase& other);

/// What the drawing takes of it, put together by whoever works it out.
struct AirShow {
  airflow::CaseAir one;
  scene::AirScene scene;
  double clock_s = 0.0;
  bool is_pending = false;  ///< a newer one is being worked out
};
/// Of a case as it was assessed, at the start of the clock.
AirShow shown_air(const Assessment& assessment, std::size_t index);

/// "SW" from 225 degrees, the nearest of sixteen.
const char* compass_word(double degrees);

/// Wind, temperatures and what the air does, as rows of text.
std::vector<std::pair<std::string, std::string>> air_rows(const Assessment& assessment,
                                                          const airflow::CaseAir& one,
                                                          units::Style style);
/// The worst thing to say of it, in plain words; what goes right when nothing is wrong.
std::string air_verdict(const Assessment& assessment, const AirShow& show);

}  // namespace ridgeward::panels
