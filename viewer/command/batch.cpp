// Models, one JSON a line, in; assessments, one a line and in order, out.
#include "model/read.hpp"
#include "papers/json.hpp"

#include "command/commands.hpp"
#include "command/load.hpp"

#include <CLI/CLI.hpp>

#include <condition_variable>
#include <deque>
#include <exception>
#include <iostream>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <unistd.h>
#include <utility>
#include <vector>

namespace ridgeward::command {

namespace {

/// What the lines are assessed by; each code set is read once.
class Rules {
 public:
  Rules(LoadOptions options, model::Catalogue catalogue)
      : options_(std::move(options)), catalogue_(std::move(catalogue)) {}
  const model::Catalogue& catalogue() const { return catalogue_; }
  /// The set that a model asks for, or the one named for all.
  Result<codes::CodeSet> code(const std::string& asked) {
    const std::string& id = options_.code.empty() ? asked : options_.code;
    const std::lock_guard<std::mutex> lock(mutex_);
    const auto known = codes_.find(id);
    if (known != codes_.end()) {
      return known->second;
    }
    Result<codes::CodeSet> code = load_code(id, "/site/code", options_);
    if (code) {
      codes_.emplace(id, code.value());
    }
    return code;
  }

 private:
  LoadOptions options_;
  model::Catalogue catalogue_;
  std::mutex mutex_;
  std::map<std::string, codes::CodeSet> codes_;
};

/// One line's answer; a bad line gives an object with its faults and the run goes on.
std::string answer(const std::string& line, Rules& rules) {
  try {
    const Result<model::ReadModel> read = model::read(line);
    if (!read) {
      return papers::faults_to_json(read.faults());
    }
    const Result<codes::CodeSet> code = rules.code(read.value().model.site.code);
    if (!code) {
      return papers::faults_to_json(code.faults());
    }
    const Result<Assessment> assessment =
        assess(read.value().model, rules.catalogue(), code.value());
    return assessment ? papers::to_json(assessment.value(), -1)
                      : papers::faults_to_json(assessment.faults());
  } catch (const std::exception& error) {
    return papers::faults_to_json(
        {{"program.failed", "", error.what(), "report the model that did it"}});
  }
}

/// Lines go to whoever is free; answers leave in the order of their lines. At most `ahead` lines
/// wait, so that a long input needs no more memory than a short one.
class LineUp {
 public:
  LineUp(unsigned jobs, Rules& rules) : rules_(rules) {
    for (unsigned i = 0; i < jobs; ++i) {
      workers_.emplace_back([this] { work(); });
    }
  }
  void put(std::string line) {
    std::unique_lock<std::mutex> lock(mutex_);
    changed_.wait(lock, [this] { return next_in_ - next_out_ < ahead; });
    waiting_.emplace_back(next_in_++, std::move(line));
    changed_.notify_all();
  }
  void finish() {
    {
      const std::lock_guard<std::mutex> lock(mutex_);
      is_last_ = true;
    }
    changed_.notify_all();
    for (std::thread& worker : workers_) {
      worker.join();
    }
  }

 private:
  static constexpr std::size_t ahead = 256;

  void show_progress() const {
    if (has_screen_ && next_out_ > 0) {
      std::cerr << '\r' << next_out_ << " models"
                << (is_last_ && next_out_ == next_in_ ? "\n" : "");
    }
  }

  void work() {
    for (;;) {
      std::unique_lock<std::mutex> lock(mutex_);
      changed_.wait(lock, [this] { return !waiting_.empty() || is_last_; });
      if (waiting_.empty()) {
        return;
      }
      auto [number, line] = std::move(waiting_.front());
      waiting_.pop_front();
      lock.unlock();
      std::string text = answer(line, rules_);
      lock.lock();
      done_.emplace(number, std::move(text));
      while (!done_.empty() && done_.begin()->first == next_out_) {
        std::cout << done_.begin()->second;
        done_.erase(done_.begin());
        ++next_out_;
      }
      show_progress();
      changed_.notify_all();
    }
  }

  Rules& rules_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<std::pair<std::size_t, std::string>> waiting_;
  std::map<std::size_t, std::string> done_;
  const bool has_screen_ = ::isatty(STDERR_FILENO) != 0;
  std::size_t next_in_ = 0;
  std::size_t next_out_ = 0;
  bool is_last_ = false;
  std::vector<std::thread> workers_;
};

int run(unsigned jobs, const LoadOptions& options) {
  Result<model::Catalogue> catalogue = load_catalogue(options);
  if (!catalogue) {
    complain(catalogue.faults());
    return 2;
  }
  Rules rules(options, std::move(catalogue).value());
  // A set named for all lines is tried before the first.
  if (!options.code.empty()) {
    if (const auto code = rules.code(options.code); !code) {
      complain(code.faults());
      return 2;
    }
  }
  LineUp line_up(jobs, rules);
  for (std::string line; std::getline(std::cin, line);) {
    if (line.find_first_not_of(" \t\r") != std::string::npos) {
      line_up.put(std::move(line));
    }
  }
  line_up.finish();
  return 0;
}

}  // namespace

void add_batch(CLI::App& app, int& exit_code) {
  auto jobs = std::make_shared<unsigned>(std::max(1U, std::thread::hardware_concurrency()));
  auto options = std::make_shared<LoadOptions>();
  CLI::App* call = app.add_subcommand(
      "batch", "Models, one JSON a line, on stdin; assessments, one a line, on stdout");
  call->add_option("--jobs", *jobs, "Models assessed at the same time")
      ->check(CLI::Range(1U, 256U));
  call->add_option("--code", options->code, "Code set: its id or a file");
  call->add_option("--catalogue", options->catalogue, "Catalogue file");
  call->callback([jobs, options, &exit_code] { exit_code = run(*jobs, *options); });
}

}  // namespace ridgeward::command
