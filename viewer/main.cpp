// The program: one executable, the first word chooses what it does.
#include "command/commands.hpp"

#include <CLI/CLI.hpp>

#include <exception>
#include <iostream>

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
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : 2;
  } catch (const std::exception& error) {
    std::cerr << "ridgeward: the program failed: " << error.what()
              << "\n  Please report the model that did it.\n";
    return 3;
  }
  return exit_code;
}
