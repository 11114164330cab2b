#pragma once
// The calls of the program. Each adds itself to the command line and, when chosen, runs and leaves
// its exit status: 0 done, 1 the roof is at fault, 2 the input can't be used, 3 the program failed.

namespace CLI {
class App;
}

namespace ridgeward::command {

void add_assess(CLI::App& app, int& exit_code);
void add_batch(CLI::App& app, int& exit_code);
void add_export(CLI::App& app, int& exit_code);
void add_import(CLI::App& app, int& exit_code);
void add_importers(CLI::App& app, int& exit_code);
void add_lesson(CLI::App& app, int& exit_code);
void add_picture(CLI::App& app, int& exit_code);
void add_place(CLI::App& app, int& exit_code);
void add_schema(CLI::App& app, int& exit_code);
void add_view(CLI::App& app, int& exit_code);

}  // namespace ridgeward::command
