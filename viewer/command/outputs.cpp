#include "command/outputs.hpp"

#include "model/nearest.hpp"
#include "papers/file.hpp"

#include "command/complain.hpp"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <sys/ioctl.h>
#include <system_error>
#include <unistd.h>

namespace ridgeward::command {

namespace {

namespace fs = std::filesystem;

/// Whether there is something at `path` that takes what is written as it comes: a pipe, a device.
bool is_stream(const std::string& path) {
  std::error_code error;
  const fs::file_status there = fs::status(path, error);
  return fs::exists(there) && !fs::is_regular_file(there) && !fs::is_directory(there);
}

/// Two names of one file, whether it exists or not.
bool are_same(const std::string& a, const std::string& b) {
  if (a == "-" || b == "-") {
    return a == b;
  }
  std::error_code error;
  if (is_stream(a) || is_stream(b)) {
    return false;
  }
  if (fs::equivalent(a, b, error)) {
    return true;
  }
  const auto full = [&](const std::string& path) {
    return fs::weakly_canonical(fs::absolute(path, error), error);
  };
  return full(a) == full(b);
}

void judge_ending(const Output& output, Faults& faults) {
  const std::string ending = ending_of(output.path);
  const auto& own = output.endings;
  if (own.empty() || ending.empty() || output.path == "-" || is_stream(output.path) ||
      std::find(own.begin(), own.end(), ending) != own.end()) {
    return;
  }
  faults.push_back(
      {"output.ending", output.path,
       output.option + " writes " + model::listed(own) + ", and this ends in " + ending,
       "give it the ending " + std::string(own.front()) + ", or none"});
}

void judge_place(const Output& output, Faults& faults) {
  if (output.path == "-" || is_stream(output.path)) {
    return;  // opening a pipe would wait for its reader
  }
  if (const auto file = papers::WholeFile::open(output.path); !file) {
    faults.insert(faults.end(), file.faults().begin(), file.faults().end());
  }
}

}  // namespace

Faults misdirected(const std::string& input, const std::vector<Output>& outputs) {
  std::vector<Output> asked;
  std::copy_if(outputs.begin(), outputs.end(), std::back_inserter(asked),
               [](const Output& output) { return !output.path.empty(); });
  for (const Output& output : asked) {
    if (Faults faults = would_replace(input, output.path); !faults.empty()) {
      return faults;
    }
  }
  Faults faults;
  for (std::size_t i = 0; i < asked.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (are_same(asked[j].path, asked[i].path)) {
        faults.push_back({"output.twice", asked[i].path == "-" ? "standard output" : asked[i].path,
                          asked[j].option + " and " + asked[i].option + " would both go here",
                          "give each of them a file of its own"});
      }
    }
    judge_ending(asked[i], faults);
    judge_place(asked[i], faults);
  }
  return faults;
}

std::string ending_of(const std::string& file) {
  std::string ending = fs::path(file).extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return ending;
}

std::size_t columns_of_output() {
  constexpr std::size_t usual = 80;
  winsize size{};
  if (::isatty(STDOUT_FILENO) == 0 || ::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 ||
      size.ws_col == 0) {
    return usual;
  }
  return std::clamp<std::size_t>(size.ws_col, 60, 100);
}

}  // namespace ridgeward::command
