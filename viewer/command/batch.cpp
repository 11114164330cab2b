// Models, one JSON a line, in; assessments, one a line and in order, out.
#include "model/read.hpp"
#include "papers/json.hpp"

#include "command/commands.hpp"
#include "command/line_up.hpp"
#include "command/load.hpp"

#include <CLI/CLI.hpp>

#include <exception>
#include <iostream>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <utility>

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
  LineUp line_up(
      jobs, "models", [&](const std::string& line) { return answer(line, rules); },
      [](const std::string& text) { std::cout << text; });
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
