#pragma once
// Works out the air that the window shows, and turns its clock.

#include "assess.hpp"

#include "panels/air_panel.hpp"
#include "panels/state.hpp"

#include <future>
#include <memory>
#include <optional>

namespace ridgeward::command {

/// Cases that were assessed are taken as they are. Weather of one's own is worked out at once while
/// that takes less than a frame, else by a thread of its own, the newest wish next.
class AirDesk {
 public:
  /// Another roof. It must stay until the next one or the end.
  void take(const Assessment& assessment);
  /// What to draw, null while no air is shown; `now_s` of any steady clock.
  const panels::AirShow* serve(const panels::State& state, double now_s);
  /// Whether the next frame is wanted before anything happens, and how soon; 0: it is not.
  double wants_frame_in_s() const { return wants_s_; }

 private:
  void work_out(const model::AirCase& weather);
  void receive();

  const Assessment* assessment_ = nullptr;
  std::shared_ptr<const Assessment> copy_;  ///< for the thread; made when first needed
  std::optional<panels::AirShow> show_;
  std::optional<std::size_t> case_;  ///< that `show_` is of; none: weather of one's own
  std::future<panels::AirShow> coming_;
  double last_cost_s_ = 0.0;
  double last_now_s_ = 0.0;
  double wants_s_ = 0.0;
};

}  // namespace ridgeward::command
