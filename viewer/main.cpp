// The program: one executable, the first word chooses what it does.
#include "command/commands.hpp"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <exception>
#include <iostream>
#include <string>

namespace {

std::string names_of_calls(CLI::App& app) {
  std::string names;
  for (const CLI::App* call : app.get_subcommands([](const CLI::App*) { return true; })) {
    names += (names.empty() ? " " : ", ") + call->get_name();
  }
  return names;
}

bool is_known(CLI::App& app, const std::string& word) {
  return word.empty() || word[0] == '-' ||
         !app.get_subcommands([&](const CLI::App* call) { return call->get_name() == word; })
              .empty();
}

}  // namespace

int main(int argc, char** argv) {
  using namespace ridgeward::command;
  CLI::App app{
      "Ridgeward: which rafter bays an intake slot opens onto, whether every attic space meets "
      "code, and what to order"};
  app.name("ridgeward");
  app.set_version_flag("--version", "ridgeward " RIDGEWARD_VERSION);
  app.require_subcommand(1);
  app.footer(
      "Exit status: 0 done and nothing at fault, 1 the roof is at fault, 2 the input can't be "
      "used, 3 the program failed.\nLocal codes and licensed practice decide.");
  int exit_code = 0;
  try {
    add_assess(app, exit_code);
#ifdef RIDGEWARD_HAS_VIEWER
    add_view(app, exit_code);
    add_picture(app, exit_code);
#endif
#ifdef RIDGEWARD_HAS_SOLID
    add_export(app, exit_code);
#endif
    add_import(app, exit_code);
    add_importers(app, exit_code);
    add_batch(app, exit_code);
    add_schema(app, exit_code);
    if (argc > 1 && !is_known(app, argv[1])) {
      std::cerr << "ridgeward: there is no call \"" << argv[1] << "\"\n  cure: use one of"
                << names_of_calls(app) << "; ridgeward --help explains them\n";
      return 2;
    }
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    exit_code = app.exit(error) == 0 ? 0 : 2;
  } catch (const std::exception& error) {
    std::cerr << "ridgeward: the program failed: " << error.what()
              << "\n  Please report the model that did it.\n";
    return 3;
  }
  std::cout << std::flush;
  if (!std::cout || std::fflush(stdout) != 0) {
    std::cerr << "ridgeward: standard output can't be written\n"
              << "  cure: see whether the disk is full, or name a file instead\n";
    return 2;
  }
  return exit_code;
}
