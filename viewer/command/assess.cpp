#include "assess.hpp"

#include "papers/file.hpp"
#include "papers/json.hpp"
#include "papers/summary.hpp"

#include "command/commands.hpp"
#include "command/load.hpp"
#include "command/own_checks.hpp"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::command {

namespace {

struct Words {
  std::string model;
  std::string json;
  std::string units;
  std::vector<std::string> plugins;
  LoadOptions load;
};

int run(const Words& words) {
  if (const Faults faults = would_replace(words.model, words.json); !faults.empty()) {
    complain(faults);
    return 2;
  }
  Result<Assessment> loaded = load_and_assess(words.model, words.load);
  if (!loaded) {
    complain(loaded.faults());
    return 2;
  }
  Assessment assessment = std::move(loaded).value();
  if (const Faults faults = add_own_checks(words.plugins, assessment); !faults.empty()) {
    complain(faults);
    return 2;
  }
  if (!words.json.empty()) {
    const auto written = papers::write_whole(words.json, papers::to_json(assessment));
    if (!written) {
      complain(written.faults());
      return 2;
    }
  }
  if (words.json != "-") {
    std::cout << papers::to_summary(assessment, style_for(words.units, assessment));
  }
  return assessment.is_at_fault() ? 1 : 0;
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
  call->add_option("--plugins", words->plugins, "Folder with checks of your own; may be repeated");
  call->callback([words, &exit_code] { exit_code = run(*words); });
}

}  // namespace ridgeward::command
