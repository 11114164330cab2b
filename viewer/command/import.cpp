// ridgeward import FILE -o MODEL
#include "model/file_bytes.hpp"
#include "model/json_cursor.hpp"
#include "model/read.hpp"
#include "papers/file.hpp"
#include "plugin/guard.hpp"

#include "command/commands.hpp"
#include "command/complain.hpp"
#include "command/import_each.hpp"
#include "command/importer_choice.hpp"
#include "rebuild/stage.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string_view>
#include <system_error>
#include <thread>

namespace ridgeward::command {

namespace {

constexpr int unusable = 2;

struct Wish {
  std::string file;
  std::string model;
  std::string importer;
  std::vector<std::string> options;
  std::vector<std::string> folders;
  bool each = false;
  unsigned jobs = 1;
};

Faults with_importer(const Result<rebuild::Modelled>& read, const std::string& importer) {
  Faults faults = read.faults();
  for (Fault& fault : faults) {
    fault.what = "the model that the importer " + importer + " made: " + fault.what;
  }
  return faults;
}

/// Imports and writes; the faults that stand in the way, empty when done.
Faults import(const Wish& wish) {
  if (Faults faults = would_replace(wish.file, wish.model); !faults.empty()) {
    return faults;
  }
  const Result<model::FileView> file = model::FileView::open(wish.file);
  if (!file) {
    return placed(wish.file, file.faults());
  }
  const std::string_view bytes = file.value().bytes();
  if (!wish.each && bytes.size() > model::largest_text) {
    return placed(wish.file, {{"file.too_large", "", "the file is larger than 64 MiB",
                               "import its buildings one by one with --each"}});
  }
  const plugin::FoundAll all = importers_at_hand(wish.folders);
  complain(placed("importers", all.faults));
  const Result<plugin::Found> importer = choose(all, wish.importer, wish.file, bytes);
  if (!importer) {
    return placed(wish.file, importer.faults());
  }
  std::string options;
  for (const std::string& option : wish.options) {
    options += option + "\n";
  }
  std::error_code error;
  const auto folder = std::filesystem::absolute(wish.file, error).parent_path().string();
  const plugin::Job job{bytes, options, error ? "" : folder};
  if (wish.each) {
    return placed(wish.file, import_each(importer.value(), job, wish.model, wish.jobs));
  }
  const Result<plugin::Imported> imported = plugin::read_apart(importer.value().library, job);
  if (!imported) {
    return placed(wish.file, imported.faults());
  }
  const Result<rebuild::Modelled> read = rebuild::modelled(imported.value().json);
  if (!read) {
    return placed(wish.file, with_importer(read, importer.value().name));
  }
  if (const auto written = papers::write_whole(wish.model, model::write(read.value().read.model));
      !written) {
    return written.faults();
  }
  warn(placed(wish.file, read.value().read.warnings));
  for (const std::vector<std::string>* notes : {&imported.value().notes, &read.value().notes}) {
    for (const std::string& note : *notes) {
      fmt::print(stderr, "note: {}\n", note);
    }
  }
  for (const std::string& assumption : read.value().read.model.assumptions) {
    fmt::print(stderr, "assumed: {}\n", assumption);
  }
  return {};
}

}  // namespace

void add_import(CLI::App& app, int& exit_code) {
  const auto wish = std::make_shared<Wish>();
  CLI::App* call = app.add_subcommand("import", "Make a model file from a file of another format");
  call->add_option("FILE", wish->file, "file to read")->required();
  call->add_option("-o,--output", wish->model, "model file to write, - for stdout")->required();
  call->add_option("--with", wish->importer, "importer to use; otherwise the surest one");
  call->add_option("--option", wish->options, "key=value for the importer; may be repeated");
  call->add_option("--plugins", wish->folders, "folder with further importers; may be repeated");
  call->add_flag("--each", wish->each,
                 "one model a line for each building, as `batch` reads them; for whole cities");
  wish->jobs = std::max(1U, std::thread::hardware_concurrency());
  call->add_option("--jobs", wish->jobs, "With --each: buildings rebuilt at the same time")
      ->check(CLI::Range(1U, 256U));
  call->callback([wish, &exit_code] {
    const Faults faults = import(*wish);
    complain(faults);
    exit_code = faults.empty() ? 0 : unusable;
  });
}

}  // namespace ridgeward::command
