#include "command/teacher.hpp"

#include "model/read.hpp"
#include "papers/file.hpp"

#include "command/complain.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <signal.h>  // NOLINT: kill() is POSIX
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>
#include <utility>

namespace ridgeward::command {

Teacher::Teacher(LoadOptions load, std::function<void()> wake)
    : load_(std::move(load)), wake_(std::move(wake)) {}

Teacher::~Teacher() {
  if (waiting_.joinable()) {
    if (const int child = child_; child > 0 && exit_code_ < 0) {
      kill(child, SIGTERM);
    }
    waiting_.join();
    std::error_code ignored;
    std::filesystem::remove(model_file_, ignored);
  }
}

void Teacher::forget(panels::State& state) {
  mistaken_.reset();
  made_.clear();
  state.lesson.mistakes.clear();
  state.lesson.desk.reset();
}

bool Teacher::follow(const Assessment& own, panels::State& state) {
  if (exit_code_ >= 0) {
    end_export(state);
  }
  if (const auto path = std::exchange(state.lesson.wants_export, std::nullopt)) {
    start_export(own, state, *path);
  }
  const bool is_needed =
      state.lesson.is_open && (!state.lesson.desk || made_ != state.lesson.mistakes);
  const bool is_left = !state.lesson.is_open && mistaken_ != nullptr;
  if (!is_needed && !is_left) {
    return false;
  }
  const bool was_mistaken = mistaken_ != nullptr;
  work_out(own, state);
  return was_mistaken || mistaken_ != nullptr;
}

void Teacher::work_out(const Assessment& own, panels::State& state) {
  auto desk = std::make_shared<panels::WhatIfDesk>();
  mistaken_.reset();
  made_ = state.lesson.mistakes;
  if (!catalogue_) {
    if (auto loaded = load_catalogue(load_)) {
      catalogue_ = std::move(loaded).value();
    } else {
      desk->trouble = in_words(loaded.faults().front());
    }
  }
  if (catalogue_) {
    desk->offers = papers::what_ifs_of(own, *catalogue_);
  }
  if (catalogue_ && !made_.empty()) {
    const papers::Variant variant = papers::varied(own, *catalogue_, made_);
    auto assessed = assess(variant.model, variant.catalogue, own.code);
    if (assessed) {
      mistaken_ = std::make_unique<Assessment>(std::move(assessed).value());
      desk->outcome = papers::compared(own, *mistaken_, state.style);
    } else {
      desk->trouble = in_words(assessed.faults().front());
    }
  }
  state.lesson.desk = std::move(desk);
}

void Teacher::start_export(const Assessment& own, panels::State& state, const std::string& path) {
  if (waiting_.joinable()) {
    state.lesson.export_told = "The last lesson is still being written.";
    return;
  }
  // The house as it is shown, saved or not.
  model_file_ = (std::filesystem::temp_directory_path() /
                 fmt::format("ridgeward-lesson-{}.roof.json", getpid()))
                    .string();
  const auto written = papers::write_whole(model_file_, model::write(own.model));
  if (!written) {
    state.lesson.export_told = in_words(written.faults().front());
    return;
  }
  output_ = path;
  std::vector<std::string> words{"ridgeward",
                                 "lesson",
                                 model_file_,
                                 "-o",
                                 path,
                                 "--units",
                                 state.style == units::Style::metric ? "metric" : "ft-in"};
  if (!load_.code.empty()) {
    words.insert(words.end(), {"--code", load_.code});
  }
  if (!load_.catalogue.empty()) {
    words.insert(words.end(), {"--catalogue", load_.catalogue});
  }
  std::vector<char*> arguments;
  for (std::string& word : words) {
    arguments.push_back(word.data());
  }
  arguments.push_back(nullptr);
  pid_t child = 0;
  exit_code_ = -1;
  if (posix_spawn(&child, "/proc/self/exe", nullptr, nullptr, arguments.data(), environ) != 0) {
    state.lesson.export_told = "The lesson can't be written: no second process could be started.";
    return;
  }
  child_ = child;
  waiting_ = std::thread([this, child] {
    int status = 0;
    waitpid(child, &status, 0);
    exit_code_ = WIFEXITED(status) ? WEXITSTATUS(status) : 3;
    wake_();
  });
}

void Teacher::end_export(panels::State& state) {
  waiting_.join();
  const int code = exit_code_.exchange(-1);
  child_ = 0;
  std::error_code ignored;
  std::filesystem::remove(model_file_, ignored);
  state.lesson.export_told =
      code == 0 ? "Written: " + output_
                : "Not written: " + output_ + ". Is the folder there, and may you write to it?";
}

}  // namespace ridgeward::command
