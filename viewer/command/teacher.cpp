#include "command/teacher.hpp"

#include "model/read.hpp"
#include "papers/file.hpp"

#include "command/complain.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <unistd.h>
#include <utility>

namespace ridgeward::command {

Teacher::Teacher(LoadOptions load, std::function<void()> wake)
    : load_(std::move(load)), work_(std::move(wake)) {}

bool Teacher::take(panels::State& state) {
  if (work_.take()) {
    state.lesson.is_writing = false;
    state.lesson.written_share.reset();
    state.lesson.export_told = told_;
    return true;
  }
  if (const std::string far = work_.progress(); !far.empty() && far != far_) {
    far_ = far;
    state.lesson.export_told = fmt::format("Writing: {} ...", far);
    state.lesson.written_share = document::share_of(far);
    return true;
  }
  return false;
}

void Teacher::forget(panels::State& state) {
  mistaken_.reset();
  made_.clear();
  state.lesson.mistakes.clear();
  state.lesson.desk.reset();
}

bool Teacher::follow(const Assessment& own, panels::State& state) {
  if (const auto path = std::exchange(state.lesson.wants_export, std::nullopt)) {
    start_export(own, state, *path);
  }
  if (std::exchange(state.lesson.wants_stop, false) && work_.is_busy()) {
    work_.cancel();
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
  if (work_.is_busy()) {
    state.lesson.export_told = "The last lesson is still being written.";
    return;
  }
  // The house as it is shown, saved or not.
  const std::string model = (std::filesystem::temp_directory_path() /
                             fmt::format("ridgeward-lesson-{}.roof.json", getpid()))
                                .string();
  if (const auto written = papers::write_whole(model, model::write(own.model)); !written) {
    state.lesson.export_told = in_words(written.faults().front());
    return;
  }
  std::vector<std::string> words{std::filesystem::read_symlink("/proc/self/exe").string(),
                                 "lesson",
                                 model,
                                 "-o",
                                 path,
                                 "--progress",
                                 "--units",
                                 state.style == units::Style::metric ? "metric" : "ft-in"};
  if (!load_.code.empty()) {
    words.insert(words.end(), {"--code", load_.code});
  }
  if (!load_.catalogue.empty()) {
    words.insert(words.end(), {"--catalogue", load_.catalogue});
  }
  far_.clear();
  told_ = "Stopped: nothing is written.";  // unless it ends by itself
  state.lesson.is_writing = true;
  work_.start("Lesson", [this, words, model, path](document::Task& task) {
    const document::Ended ended = task.run(words);
    std::error_code ignored;
    std::filesystem::remove(model, ignored);
    const std::string told =
        ended.exit_code == 0 ? "Written: " + path : "Not written: " + ended.errors;
    if (ended.exit_code == 0) {
      task.keep();
    }
    return document::Work::After([this, told] { told_ = told; });
  });
}

}  // namespace ridgeward::command
