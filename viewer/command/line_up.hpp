#pragma once
// Work on many lines by several threads, answers in the order of the lines.

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <map>
#include <mutex>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace ridgeward::command {

/// Lines go to whoever is free; answers leave in the order of their lines. At most `ahead` lines
/// wait, so that a long input needs no more memory than a short one.
class LineUp {
 public:
  /// `answer` is called by any of the threads, `put_out` by one at a time.
  using Answer = std::function<std::string(const std::string& line)>;
  using PutOut = std::function<void(const std::string& answer)>;
  /// No thread is started before the first line: until then the process may be forked. `noun`: what
  /// the progress on a terminal counts; empty: whoever asks tells it.
  LineUp(unsigned jobs, std::string noun, Answer answer, PutOut put_out);
  LineUp(const LineUp&) = delete;
  LineUp(LineUp&&) = delete;
  LineUp& operator=(const LineUp&) = delete;
  LineUp& operator=(LineUp&&) = delete;
  ~LineUp();

  void put(std::string line);
  /// Returns when all lines are answered; nothing may be put afterwards.
  void finish();

 private:
  static constexpr std::size_t ahead = 256;
  void show_progress() const;
  void work();

  const std::string noun_;
  const Answer answer_;
  const PutOut put_out_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<std::pair<std::size_t, std::string>> waiting_;
  std::map<std::size_t, std::string> done_;
  const unsigned jobs_;
  const bool has_screen_;
  std::size_t next_in_ = 0;
  std::size_t next_out_ = 0;
  bool is_last_ = false;
  std::vector<std::thread> workers_;
};

}  // namespace ridgeward::command
