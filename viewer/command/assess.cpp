#include "assess.hpp"

#include "papers/file.hpp"
#include "papers/json.hpp"
#include "papers/summary.hpp"

#include "command/commands.hpp"
#include "command/load.hpp"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>
#include <string>

namespace ridgeward::command {

namespace {

struct Words {
  std::string model;
  std::string json;
  std::string units;
  LoadOptions load;
};

int run(const Words& words) {
  if (const Faults faults = would_replace(words.model, words.json); !faults.empty()) {
    complain(faults);
    return 2;
  }
  const Result<Assessment> assessment = load_and_assess(words.model, words.load);
  if (!assessment) {
    complain(assessment.faults());
    return 2;
  }
  if (!words.json.empty()) {
    const auto written = papers::write_whole(words.json, papers::to_json(assessment.value()));
    if (!written) {
      complain(written.faults());
      return 2;
    }
  }
  if (words.json != "-") {
    std::cout << papers::to_summary(assessment.value(), style_for(words.units, assessment.value()));
  }
  return assessment.value().is_at_fault() ? 1 : 0;
}

}  // namespace

void add_assess(CLI::App& app, int& exit_code) {
  auto words = std::make_shared<Words>();
  CLI::App* call = app.add_subcommand(
      "assess", "The main job: planes, eaves, rafter bays, slots, free area, code, conflicts");
  call->add_option("MODEL", words->model, "Model file (*.roof.json)")->required();
  call->add_option("--json", words->json, "Write the whole assessment as JSON; - for stdout");
  call->add_option("--units", words->units,
                   "ft-in or metric, for the summary; left out: as the model is drawn")
      ->check(CLI::IsMember({"ft-in", "metric"}));
  call->add_option("--code", words->load.code, "Code set: its id or a file");
  call->add_option("--catalogue", words->load.catalogue, "Catalogue file");
  call->callback([words, &exit_code] { exit_code = run(*words); });
}

}  // namespace ridgeward::command
