#pragma once
// What lesson mode needs beside the window: houses with mistakes, assessed, and files written by a
// second process so that the window goes on.

#include "assess.hpp"

#include "command/load.hpp"
#include "document/work.hpp"
#include "panels/state.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace ridgeward::command {

class Teacher {
 public:
  /// `wake` is called from another thread when an export has ended. An export that still runs when
  /// the teacher goes is stopped.
  Teacher(LoadOptions load, std::function<void()> wake);
  /// Another house, or the same one changed: what was worked out is stale.
  void forget(panels::State& state);
  /// Works out what the lesson asks for; true when another house is to be shown than before.
  bool follow(const Assessment& own, panels::State& state);
  /// Takes in an export that has ended or got on; true when there is anything new.
  bool take(panels::State& state);
  bool is_busy() const { return work_.is_busy(); }
  /// The house with its mistakes; null where it is as planned.
  const Assessment* mistaken() const { return mistaken_.get(); }

 private:
  void work_out(const Assessment& own, panels::State& state);
  void start_export(const Assessment& own, panels::State& state, const std::string& path);

  LoadOptions load_;
  std::optional<model::Catalogue> catalogue_;
  std::vector<papers::Mistake> made_;
  std::unique_ptr<Assessment> mistaken_;
  std::string told_;  ///< of the export that has ended
  std::string far_;   ///< how far it was when last looked at
  document::Work work_;
};

}  // namespace ridgeward::command
