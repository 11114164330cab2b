#pragma once
// Long work beside the drawing thread: one thing at a time, each in a thread of its own.

#include <atomic>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace ridgeward::document {

/// How a program that was run ended.
struct Ended {
  int exit_code = -1;  ///< -1: it could not be started or was ended by a signal
  std::string output;
  std::string errors;
};

/// What the work may look at and tell while it runs.
class Task {
 public:
  bool is_cancelled() const { return is_cancelled_; }
  /// Runs a program to its end, without a shell; its words are passed as they are. cancel() ends
  /// it. What stands behind "progress " at the start of a line of what it says on either stream is
  /// told meanwhile, and left out of `errors`.
  Ended run(const std::vector<std::string>& words);
  /// What was to be done is done, and no file of it is taken back: the outcome counts even where
  /// cancel() came in the last moment.
  void keep() { is_kept_ = true; }

 private:
  friend class Work;
  std::atomic<bool> is_cancelled_{false};
  std::atomic<int> child_{0};
  std::atomic<bool> is_over_{false};
  std::atomic<bool> is_kept_{false};
  mutable std::mutex mutex_;
  std::string progress_;  ///< guarded by the mutex
};

/// The last "progress 3 of 15 pictures" among the whole lines of a text, without its first word.
std::string last_progress(const std::string& output);
/// Which share that is, 0 to 1: of "3 of 15 pictures", "40 % read". None where it tells none.
std::optional<double> share_of(const std::string& progress);

class Work {
 public:
  /// What is to be done with the outcome, on the drawing thread.
  using After = std::function<void()>;
  using Job = std::function<After(Task&)>;

  /// `wake` is called on the worker's thread when it is done.
  explicit Work(std::function<void()> wake) : wake_(std::move(wake)) {}
  Work(const Work&) = delete;
  Work& operator=(const Work&) = delete;
  /// Cancels and waits.
  ~Work();

  bool is_busy() const { return task_ != nullptr; }
  const std::string& name() const { return name_; }
  /// How far it is, as the program that runs tells it: "3 of 15 pictures"; empty where it does not.
  std::string progress() const;
  /// REQUIRES that nothing is done yet.
  void start(std::string name, Job job);
  /// Ends a program that runs; the outcome is thrown away unless the job keeps it.
  void cancel();
  /// Whether it ended, its outcome taken in.
  bool take();

 private:
  std::function<void()> wake_;
  std::string name_;
  std::shared_ptr<Task> task_;
  std::shared_ptr<After> after_;
  std::thread thread_;
};

}  // namespace ridgeward::document
