#pragma once
// Tells how far long work is, on stderr.

#include "base/tell.hpp"

#include <chrono>
#include <cstdio>
#include <string>

namespace ridgeward::command {

/// On a terminal one line that is written anew, after half a second of work, and wiped out at the
/// end. For programs, which ask for it with --progress, a line for each step: "progress 3 of 15
/// pages", "progress 40 % read". Else silent.
class Progress {
 public:
  explicit Progress(bool is_for_programs);
  /// `out` in the place of stderr; whether it is a terminal; another time than half a second.
  Progress(std::FILE* out, bool is_terminal, bool is_for_programs,
           std::chrono::milliseconds patience = std::chrono::milliseconds(500));
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  ~Progress();

  /// The same words twice are told once.
  void tell(const std::string& words);
  /// Steps of a noun: "3 of 15 pages".
  Tell steps(const std::string& noun);
  /// Ends the line on the terminal, so that other words may follow.
  void wipe();

 private:
  using Clock = std::chrono::steady_clock;
  std::FILE* out_;
  bool is_terminal_;
  bool is_for_programs_;
  std::chrono::milliseconds patience_;
  Clock::time_point started_ = Clock::now();
  std::string told_;
  std::size_t width_ = 0;  ///< of what stands on the terminal
};

/// Of the option --progress.
inline constexpr const char* progress_help =
    "Tell on stderr how far it is, a line a step, for programs";

}  // namespace ridgeward::command
