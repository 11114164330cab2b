#include "command/progress.hpp"

#include <fmt/format.h>

#include <unistd.h>

namespace ridgeward::command {

Progress::Progress(bool is_for_programs)
    : Progress(stderr, ::isatty(STDERR_FILENO) != 0, is_for_programs) {}

Progress::Progress(std::FILE* out, bool is_terminal, bool is_for_programs,
                   std::chrono::milliseconds patience)
    : out_(out),
      is_terminal_(is_terminal),
      is_for_programs_(is_for_programs),
      patience_(patience) {}

Progress::~Progress() { wipe(); }

void Progress::tell(const std::string& words) {
  if (words == told_) {
    return;
  }
  if (is_for_programs_) {
    fmt::print(out_, "progress {}\n", words);
    std::fflush(out_);
  } else if (is_terminal_ && Clock::now() - started_ >= patience_) {
    fmt::print(out_, "\r{:<{}}", words, width_);
    std::fflush(out_);
    width_ = words.size();
  }
  told_ = words;
}

Tell Progress::steps(const std::string& noun) {
  return [this, noun](std::size_t done, std::size_t all) {
    tell(fmt::format("{} of {} {}", done, all, noun));
  };
}

void Progress::wipe() {
  if (width_ > 0) {
    fmt::print(out_, "\r{:<{}}\r", "", width_);
    std::fflush(out_);
    width_ = 0;
  }
}

}  // namespace ridgeward::command
