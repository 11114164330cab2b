#include "assess.hpp"

#include "papers/cairo.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/file.hpp"
#include "papers/json.hpp"
#include "papers/sheets.hpp"
#include "papers/summary.hpp"

#include "command/commands.hpp"
#include "command/load.hpp"
#include "command/outputs.hpp"
#include "command/own_checks.hpp"
#include "command/progress.hpp"
#include "command/report.hpp"

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
  std::string pdf;
  std::string csv;
  std::string html;
  std::vector<std::string> sheets;
  std::string paper = "letter";
  std::vector<std::string> plugins;
  bool tells = false;
  LoadOptions load;
};

/// Writes what was asked for.
bool write_paper(const std::string& path, const Result<std::string>& bytes) {
  if (!bytes) {
    complain(bytes.faults());
    return false;
  }
  const auto written = papers::write_whole(path, bytes.value());
  if (!written) {
    complain(written.faults());
    return false;
  }
  return true;
}

int run(const Words& words) {
  Faults faults = misdirected(words.model, {{"--json", words.json, {".json"}},
                                            {"--pdf", words.pdf, {".pdf"}},
                                            {"--csv", words.csv, {".csv"}},
                                            {"--html", words.html, {".html", ".htm"}}});
  if (faults.empty() && !words.html.empty()) {
    faults = missing_for_report();
  }
  if (!faults.empty()) {
    complain(faults);
    return 2;
  }
  Result<Assessment> loaded = load_and_assess(words.model, words.load);
  if (!loaded) {
    complain(loaded.faults());
    return 2;
  }
  Assessment assessment = std::move(loaded).value();
  faults = add_own_checks(words.plugins, assessment);
  if (!faults.empty()) {
    complain(faults);
    return 2;
  }
  const units::Style style = units::style_of(assessment.model.unit);
  const papers::Paper paper = words.paper == "a4" ? papers::Paper::a4 : papers::Paper::letter;
  if (!words.json.empty() && !write_paper(words.json, papers::to_json(assessment))) {
    return 2;
  }
  Progress progress(words.tells);
  if (!words.pdf.empty()) {
    const papers::Drawing set = papers::sheets(
        assessment, words.sheets.empty() ? papers::sheet_names() : words.sheets, style, paper);
    if (!write_paper(words.pdf, papers::to_pdf(set, progress.steps("pages")))) {
      return 2;
    }
  }
  if (!words.csv.empty() && !write_paper(words.csv, papers::to_csv(assessment, style))) {
    return 2;
  }
  if (!words.html.empty() &&
      !write_paper(words.html, report_of(assessment, style, progress.steps("pieces")))) {
    return 2;
  }
  progress.wipe();
  if (words.json != "-" && words.pdf != "-" && words.csv != "-" && words.html != "-") {
    std::cout << papers::to_summary(assessment, style, columns_of_output());
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
  CLI::Option* pdf = call->add_option("--pdf", words->pdf, "Write the papers as PDF; - for stdout");
  call->add_option("--csv", words->csv,
                   "Write lengths, areas and the order as a table for spreadsheets; - for stdout");
  call->add_option("--html", words->html,
                   "Write a report for a browser or a phone, with the roof in 3D, as one file that "
                   "needs no network; - for stdout");
  call->add_option("--sheets", words->sheets,
                   "Only these of the papers: crew, inspector, estimator, lesson, with commas")
      ->delimiter(',')
      ->check(CLI::IsMember(papers::sheet_names()))
      ->needs(pdf);
  call->add_option("--paper", words->paper, "letter or a4, for the PDF")
      ->check(CLI::IsMember({"letter", "a4"}))
      ->needs(pdf);
  call->add_option("--units", words->load.units,
                   "ft-in or metric, for summary and papers; left out: as the model is drawn")
      ->check(CLI::IsMember({"ft-in", "metric"}));
  call->add_flag("--progress", words->tells, progress_help);
  call->add_option("--code", words->load.code, "Code set: its id or a file");
  call->add_option("--catalogue", words->load.catalogue, "Catalogue file");
  call->add_option("--plugins", words->plugins, "Folder with checks of your own; may be repeated")
      ->allow_extra_args(false);
  call->callback([words, &exit_code] { exit_code = run(*words); });
}

}  // namespace ridgeward::command
