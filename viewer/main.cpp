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

void add_all(CLI::App& app, int& exit_code) {
  using namespace ridgeward::command;
  add_assess(app, exit_code);
  add_place(app, exit_code);
#ifdef RIDGEWARD_HAS_VIEWER
  add_view(app, exit_code);
  add_picture(app, exit_code);
  add_lesson(app, exit_code);
#endif
#ifdef RIDGEWARD_HAS_SOLID
  add_export(app, exit_code);
#endif
  add_import(app, exit_code);
  add_importers(app, exit_code);
  add_batch(app, exit_code);
  add_schema(app, exit_code);
}

int run(int argc, char** argv) {
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
  add_all(app, exit_code);
  if (argc > 1 && !is_known(app, argv[1])) {
    std::cerr << "ridgeward: there is no call \"" << argv[1] << "\"\n  cure: use one of"
              << names_of_calls(app) << "; ridgeward --help explains them\n";
    return 2;
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    exit_code = app.exit(error) == 0 ? 0 : 2;
  }
  std::cout << std::flush;
  if (!std::cout || std::fflush(stdout) != 0) {
    std::cerr << "ridgeward: standard output can't be written\n"
              << "  cure: see whether the disk is full, or name a file instead\n";
    return 2;
  }
  return exit_code;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(argc, argv);
  } catch (const std::exception& error) {
    std::fputs("ridgeward: the program failed: ", stderr);
    std::fputs(error.what(), stderr);
    std::fputs("\n  Please report the model that did it.\n", stderr);
    return 3;
  }
}
