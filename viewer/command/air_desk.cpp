#include "command/air_desk.hpp"

#include <algorithm>
#include <chrono>

namespace ridgeward::command {
namespace {

constexpr double frame_s = 1.0 / 60.0;
constexpr double playing_frame_s = 1.0 / 30.0;
constexpr double waiting_frame_s = 0.02;
constexpr double longest_step_s = 0.1;  // of the clock, however long the window slept

panels::AirShow worked_out(const Assessment& assessment, const model::AirCase& weather) {
  panels::AirShow show;
  show.one = air_in(assessment, weather);
  show.scene = scene::air_scene(assessment, show.one);
  return show;
}

}  // namespace

void AirDesk::take(const Assessment& assessment) {
  if (coming_.valid()) {
    coming_.wait();
    coming_ = {};
  }
  assessment_ = &assessment;
  copy_.reset();
  show_.reset();
  case_.reset();
  last_cost_s_ = 0.0;
}

void AirDesk::receive() {
  using namespace std::chrono_literals;
  if (coming_.valid() && coming_.wait_for(0s) == std::future_status::ready) {
    const double clock_s = show_ ? show_->clock_s : 0.0;
    show_ = coming_.get();
    show_->clock_s = clock_s;
    case_.reset();
  }
}

void AirDesk::work_out(const model::AirCase& weather) {
  if (coming_.valid()) {
    return;  // the thread is at it; what is wanted by then comes next
  }
  if (last_cost_s_ < frame_s) {
    const auto start = std::chrono::steady_clock::now();
    const double clock_s = show_ ? show_->clock_s : 0.0;
    show_ = worked_out(*assessment_, weather);
    show_->clock_s = clock_s;
    case_.reset();
    last_cost_s_ = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    return;
  }
  if (copy_ == nullptr) {
    copy_ = std::make_shared<const Assessment>(*assessment_);
  }
  coming_ = std::async(std::launch::async,
                       [roof = copy_, weather] { return worked_out(*roof, weather); });
}

const panels::AirShow* AirDesk::serve(const panels::State& state, double now_s) {
  wants_s_ = 0.0;
  const double step_s = std::clamp(now_s - last_now_s_, 0.0, longest_step_s);
  last_now_s_ = now_s;
  if (assessment_ == nullptr || assessment_->airflow.cases.empty() ||
      !state.layers.has(scene::Layer::airflow) || state.lesson.is_open) {
    return nullptr;
  }
  receive();
  if (state.air.own) {
    if (!show_ || case_ || !panels::same_weather(show_->one.conditions, *state.air.own)) {
      work_out(*state.air.own);
    }
  } else {
    const std::size_t index = panels::shown_case(state.air, assessment_->airflow);
    if (case_ != index) {
      const double clock_s = show_ ? show_->clock_s : 0.0;
      show_ = panels::shown_air(*assessment_, index);
      show_->clock_s = clock_s;
      case_ = index;
    }
  }
  if (!show_) {  // the first answer is still on its way: what was assessed stands in
    const std::size_t index = panels::shown_case(state.air, assessment_->airflow);
    show_ = panels::shown_air(*assessment_, index);
    case_ = index;
  }
  show_->is_pending = coming_.valid();
  if (state.air.plays) {
    show_->clock_s += step_s;
    wants_s_ = playing_frame_s;
  }
  if (coming_.valid()) {
    wants_s_ = waiting_frame_s;
  }
  return &*show_;
}

}  // namespace ridgeward::command
