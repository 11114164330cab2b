#include "exports/exporter.hpp"
#include "papers/file.hpp"

#include "command/commands.hpp"
#include "command/load.hpp"
#include "command/outputs.hpp"
#include "command/progress.hpp"

#include <CLI/CLI.hpp>

#include <memory>
#include <string>

namespace ridgeward::command {

namespace {

struct Words {
  std::string model;
  std::string output;
  std::string show;
  bool tells = false;
  LoadOptions load;
};

std::string endings() {
  std::string all;
  for (const exports::Exporter* exporter : exports::exporters()) {
    all += (all.empty() ? "" : ", ") + std::string(exporter->ending);
  }
  return all;
}

std::string content_help() {
  std::string all;
  std::string usual;
  const exports::Content content;
  for (const exports::ContentWords& entry : exports::content_words()) {
    all += std::string(entry.word) + " (" + entry.words + "), ";
    if (content.*entry.field) {
      usual += (usual.empty() ? "" : ",") + std::string(entry.word);
    }
  }
  return "What it carries, separated by commas: " + all + "all; +word and -word change what is " +
         "usual: " + usual;
}

int run(const Words& words) {
  const exports::Exporter* exporter = exports::exporter_for(words.output);
  if (exporter == nullptr) {
    complain({{"export.unknown_ending", words.output, "no exporter writes this ending",
               "use one of " + endings()}});
    return 2;
  }
  exports::Content content;
  if (!words.show.empty()) {
    const Result<exports::Content> asked = exports::parse_content(words.show);
    if (!asked) {
      complain(asked.faults());
      return 2;
    }
    content = asked.value();
  }
  if (const Faults faults = misdirected(words.model, {{"-o", words.output, {}}}); !faults.empty()) {
    complain(faults);
    return 2;
  }
  const Result<Assessment> assessment = load_and_assess(words.model, words.load);
  if (!assessment) {
    complain(assessment.faults());
    return 2;
  }
  Progress progress(words.tells);
  const Result<std::string> bytes =
      exporter->write(assessment.value(), content, progress.steps("pieces"));
  progress.wipe();
  if (!bytes) {
    complain(placed(words.model, bytes.faults()));
    return 3;
  }
  const auto written = papers::write_whole(words.output, bytes.value());
  if (!written) {
    complain(written.faults());
    return 2;
  }
  return 0;
}

}  // namespace

void add_export(CLI::App& app, int& exit_code) {
  auto words = std::make_shared<Words>();
  CLI::App* call = app.add_subcommand("export", "Write the roof for other programs: " + endings());
  call->add_option("MODEL", words->model, "Model file (*.roof.json)")->required();
  call->add_option("-o,--output", words->output, "File to write; its ending chooses the format")
      ->required();
  call->add_option("--show", words->show, content_help());
  call->add_flag("--progress", words->tells, progress_help);
  call->add_option("--code", words->load.code, "Code set: its id or a file");
  call->add_option("--catalogue", words->load.catalogue, "Catalogue file");
  call->callback([words, &exit_code] { exit_code = run(*words); });
}

}  // namespace ridgeward::command
