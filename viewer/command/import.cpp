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
#include "command/outputs.hpp"
#include "command/progress.hpp"
#include "rebuild/assumed.hpp"
#include "rebuild/stage.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

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
  std::string found;
  bool each = false;
  bool tells = false;
  unsigned jobs = 1;
};

Faults with_importer(const Result<rebuild::Modelled>& read, const std::string& importer) {
  Faults faults = read.faults();
  for (Fault& fault : faults) {
    fault.what = "the model that the importer " + importer + " made: " + fault.what;
  }
  return faults;
}

/// What was found and assumed, for programs (docs/importers.md).
std::string found_as_json(const std::string& importer, const std::vector<std::string>& notes,
                          const std::vector<std::string>& assumed, const rebuild::Modelled& made) {
  nlohmann::json json{{"ridgeward_found", 1},
                      {"importer", importer},
                      {"notes", notes},
                      {"assumed", assumed},
                      {"fits", nlohmann::json::array()},
                      {"planes", nlohmann::json::array()}};
  for (const rebuild::Fit& fit : made.fits) {
    json["fits"].push_back({{"building", fit.building},
                            {"planes_given", fit.planes_given},
                            {"parts", fit.parts},
                            {"plain", fit.plain},
                            {"distance_m", fit.distance_m},
                            {"area_given_m2", fit.area_given_m2},
                            {"area_rebuilt_m2", fit.area_rebuilt_m2}});
  }
  for (const std::vector<glm::dvec3>& loop : made.given) {
    nlohmann::json corners = nlohmann::json::array();
    for (const glm::dvec3& corner : loop) {
      corners.push_back({corner.x, corner.y, corner.z});
    }
    json["planes"].push_back(std::move(corners));
  }
  return json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

/// Says what was found and assumed, on stderr and in the file that was asked for.
Faults tell(const Wish& wish, const std::string& importer, const plugin::Imported& imported,
            const rebuild::Modelled& made) {
  std::vector<std::string> notes = imported.notes;
  const std::vector<std::string> assumed = rebuild::assumed(imported.json, made);
  warn(placed(wish.file, made.read.warnings));
  notes.insert(notes.end(), made.notes.begin(), made.notes.end());
  for (const std::string& note : notes) {
    fmt::print(stderr, "note: {}\n", note);
  }
  for (const std::string& assumption : assumed) {
    fmt::print(stderr, "assumed: {}\n", assumption);
  }
  if (wish.found.empty()) {
    return {};
  }
  const auto written =
      papers::write_whole(wish.found, found_as_json(importer, notes, assumed, made));
  return written ? Faults{} : written.faults();
}

std::vector<Output> outputs_of(const Wish& wish) {
  std::vector<std::string_view> of_models{".json"};
  if (wish.each) {
    of_models = {".jsonl", ".ndjson", ".json"};
  }
  return {{"-o", wish.model, of_models}, {"--found", wish.found, {".json"}}};
}

/// Files over the limit are for importers that give their buildings one by one.
Faults too_large(const plugin::Found& importer, std::size_t size, const Wish& wish) {
  if (size <= model::largest_text || (wish.each && importer.gives_each)) {
    return {};
  }
  return {{"file.too_large", "", "the file is larger than 64 MiB",
           importer.gives_each ? "import its buildings one by one with --each"
                               : "the importer " + importer.name +
                                     " reads a file as a whole, with --each too: cut out what is "
                                     "to be read"}};
}

/// Imports and writes; the faults that stand in the way, empty when done.
Faults import(const Wish& wish) {
  if (Faults faults = misdirected(wish.file, outputs_of(wish)); !faults.empty()) {
    return faults;
  }
  const Result<model::FileView> file = model::FileView::open(wish.file);
  if (!file) {
    return placed(wish.file, file.faults());
  }
  const std::string_view bytes = file.value().bytes();
  if (Faults faults = missing(wish.folders); !faults.empty()) {
    return faults;
  }
  const plugin::FoundAll all = importers_at_hand(wish.folders);
  warn(all.faults);
  const Result<plugin::Found> importer = choose(all, wish.importer, wish.file, bytes);
  if (!importer) {
    return placed(wish.file, importer.faults());
  }
  if (const Faults faults = too_large(importer.value(), bytes.size(), wish); !faults.empty()) {
    return placed(wish.file, faults);
  }
  if (Faults faults = misfits(importer.value(), wish.options); !faults.empty()) {
    return faults;
  }
  std::string options;
  for (const std::string& option : wish.options) {
    options += option + "\n";
  }
  std::error_code error;
  const auto folder = std::filesystem::absolute(wish.file, error).parent_path().string();
  plugin::Job job{bytes, options, error ? "" : folder};
  Progress progress(wish.tells);
  if (wish.each) {
    return placed(wish.file, import_each(importer.value(), job, wish.model, wish.jobs, progress));
  }
  job.go_on = [&](double share_done) {
    progress.tell(fmt::format("{:.0f} % read", 100.0 * share_done));
    return true;
  };
  const Result<plugin::Imported> imported = plugin::read_apart(importer.value().library, job);
  if (!imported) {
    return placed(wish.file, imported.faults());
  }
  const Result<rebuild::Modelled> read =
      rebuild::modelled(imported.value().json, progress.steps("buildings rebuilt"));
  progress.wipe();
  if (!read) {
    return placed(wish.file, with_importer(read, importer.value().name));
  }
  if (const auto written = papers::write_whole(wish.model, model::write(read.value().read.model));
      !written) {
    return written.faults();
  }
  return tell(wish, importer.value().name, imported.value(), read.value());
}

}  // namespace

void add_import(CLI::App& app, int& exit_code) {
  const auto wish = std::make_shared<Wish>();
  CLI::App* call = app.add_subcommand("import", "Make a model file from a file of another format");
  call->add_option("FILE", wish->file, "file to read")->required();
  call->add_option("-o,--output", wish->model, "model file to write, - for stdout")->required();
  call->add_option("--with", wish->importer, "importer to use; otherwise the surest one");
  call->add_option("--option", wish->options, "key=value for the importer; may be repeated")
      ->allow_extra_args(false);
  call->add_option("--plugins", wish->folders, "folder with further importers; may be repeated")
      ->allow_extra_args(false);
  CLI::Option* each =
      call->add_flag("--each", wish->each,
                     "one model a line for each building, as `batch` reads them; for whole cities");
  call->add_flag("--progress", wish->tells, progress_help);
  call->add_option("--found", wish->found,
                   "JSON file: what was found and assumed, the fit, the planes as given");
  wish->jobs = std::max(1U, std::thread::hardware_concurrency());
  call->add_option("--jobs", wish->jobs, "With --each: buildings rebuilt at the same time")
      ->check(CLI::Range(1U, 256U))
      ->needs(each);
  call->footer("Exit status: 0 done, 2 the input can't be used, 3 the program failed.");
  call->callback([wish, &exit_code] {
    const Faults faults = import(*wish);
    complain(faults);
    exit_code = faults.empty() ? 0 : unusable;
  });
}

}  // namespace ridgeward::command
