// ridgeward importers
#include "command/commands.hpp"
#include "command/complain.hpp"
#include "command/importer_choice.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <cstdio>
#include <memory>

namespace ridgeward::command {

void add_importers(CLI::App& app, int& exit_code) {
  const auto folders = std::make_shared<std::vector<std::string>>();
  CLI::App* call = app.add_subcommand("importers", "List the importers and what they read");
  call->add_option("--plugins", *folders, "folder with further importers; may be repeated")
      ->allow_extra_args(false);
  call->footer("Exit status: 0 done, 2 a folder is not there, 3 the program failed.");
  call->callback([folders, &exit_code] {
    if (const Faults faults = missing(*folders); !faults.empty()) {
      complain(faults);
      exit_code = 2;
      return;
    }
    const plugin::FoundAll all = importers_at_hand(*folders);
    for (const plugin::Found& found : all.importers) {
      std::string endings;
      for (const std::string& ending : found.endings) {
        endings += " " + ending;
      }
      fmt::print("{:<12}{}\n            {}:{}\n", found.name, found.what, "files", endings);
      for (const plugin::OptionWords& option : found.options) {
        fmt::print("            --option {}={}: {}\n", option.key, option.value, option.what);
      }
    }
    if (all.importers.empty()) {
      fmt::print("no importers are installed\n");
    }
    warn(all.faults);
    exit_code = 0;
  });
}

}  // namespace ridgeward::command
