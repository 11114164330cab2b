// The program: one executable, the first word chooses what it does.
#include "model/nearest.hpp"

#include "command/commands.hpp"
#include "command/complain.hpp"

#include <CLI/CLI.hpp>

#include <cctype>
#include <cstdio>
#include <exception>
#include <iostream>
#include <string>
#include <string_view>
#include <vector>

namespace {

using ridgeward::Fault;

std::string names_of_calls(CLI::App& app) {
  std::string names;
  for (const CLI::App* call : app.get_subcommands([](const CLI::App*) { return true; })) {
    names += (names.empty() ? " " : ", ") + call->get_name();
  }
  return names;
}

/// The name of `names` that was most likely meant, as a question; empty where none is near.
std::string question(const std::string& word, const std::vector<std::string>& names) {
  if (word.size() < 3) {
    return {};  // a letter is near to every other
  }
  const std::vector<std::string_view> views(names.begin(), names.end());
  const std::string near = ridgeward::model::nearest(word, views);
  return near.empty() ? "" : "did you mean \"" + near + "\"? ";
}

std::vector<std::string> options_of(const CLI::App& call) {
  std::vector<std::string> names;
  for (const CLI::Option* option : call.get_options()) {
    for (const std::string& name : option->get_lnames()) {
      names.push_back("--" + name);
    }
    for (const std::string& name : option->get_snames()) {
      names.push_back("-" + name);
    }
  }
  return names;
}

/// Words on the command line that `call` has no use for.
Fault unexpected(const CLI::App& call, const std::vector<std::string>& words,
                 const std::string& help) {
  for (const std::string& word : words) {
    const std::string name = word.substr(0, word.find('='));
    if (name.size() < 2 || name[0] != '-') {
      continue;
    }
    if (call.get_option_no_throw(name) != nullptr) {
      return {"usage.option", "", name + " stands before the call",
              "write ridgeward " + call.get_name() + " first; " + help};
    }
    return {"usage.option", "", call.get_name() + " has no option " + name,
            question(name, options_of(call)) + help};
  }
  return {"usage.word", "",
          "there is one word too many: \"" + (words.empty() ? std::string() : words.front()) + "\"",
          help};
}

/// What the command line lacks or has wrong, with the way to learn what is right.
Fault misused(CLI::App& app, const CLI::ParseError& error) {
  const std::vector<CLI::App*> chosen = app.get_subcommands();
  if (chosen.empty()) {
    const std::vector<std::string> words = app.remaining();
    if (!words.empty()) {
      return unexpected(app, words, "ridgeward --help says what there is");
    }
    return {"usage.call", "", "no call is given: what to do",
            "use one of" + names_of_calls(app) + "; ridgeward --help explains them"};
  }
  const CLI::App& call = *chosen.front();
  const std::string help = "ridgeward " + call.get_name() + " --help says what it takes";
  if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr) {
    return unexpected(call, app.remaining(true), help);
  }
  std::string what = error.what();
  if (const std::size_t at = what.find(": 1 required TEXT missing"); at != std::string::npos) {
    what = what.substr(0, at) + " needs a value";
  }
  if (!what.empty() && what[0] != '-' && what.size() > 1 &&
      std::islower(static_cast<unsigned char>(what[1])) != 0) {
    what[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(what[0])));
  }
  return {"usage.value", "", call.get_name() + ": " + what, help};
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
    std::vector<std::string> calls;
    for (const CLI::App* call : app.get_subcommands([](const CLI::App*) { return true; })) {
      calls.push_back(call->get_name());
    }
    ridgeward::command::complain(
        {{"usage.call", "", "there is no call \"" + std::string(argv[1]) + "\"",
          question(argv[1], calls) + "use one of" + names_of_calls(app) +
              "; ridgeward --help explains them"}});
    return 2;
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() == 0) {
      app.exit(error);  // help and version
    } else {
      ridgeward::command::complain({misused(app, error)});
      exit_code = 2;
    }
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
