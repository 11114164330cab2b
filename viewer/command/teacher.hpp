#pragma once
// What lesson mode needs beside the window: houses with mistakes, assessed, and files written by a
// second process so that the window goes on.

#include "assess.hpp"

#include "command/load.hpp"
#include "panels/state.hpp"

#include <atomic>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace ridgeward::command {

class Teacher {
 public:
  /// `wake` is called from another thread when an export has ended.
  Teacher(LoadOptions load, std::function<void()> wake);
  Teacher(const Teacher&) = delete;
  Teacher& operator=(const Teacher&) = delete;
  /// Stops an export that still runs.
  ~Teacher();

  /// Another house, or the same one changed: what was worked out is stale.
  void forget(panels::State& state);
  /// Works out what the lesson asks for; true when another house is to be shown than before.
  bool follow(const Assessment& own, panels::State& state);
  /// Whether an export has ended since follow().
  bool has_news() const { return exit_code_ >= 0; }
  /// The house with its mistakes; null where it is as planned.
  const Assessment* mistaken() const { return mistaken_.get(); }

 private:
  void work_out(const Assessment& own, panels::State& state);
  void start_export(const Assessment& own, panels::State& state, const std::string& path);
  void end_export(panels::State& state);

  LoadOptions load_;
  std::function<void()> wake_;
  std::optional<model::Catalogue> catalogue_;
  std::vector<papers::Mistake> made_;
  std::unique_ptr<Assessment> mistaken_;
  std::thread waiting_;
  std::atomic<int> child_{0};
  std::atomic<int> exit_code_{-1};
  std::string model_file_;
  std::string output_;
};

}  // namespace ridgeward::command
