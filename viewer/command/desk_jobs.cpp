// Long work of the desk: this program again, in a process of its own, on a copy of the model.
#include "model/file_bytes.hpp"
#include "model/read.hpp"
#include "papers/file.hpp"

#include "command/desk.hpp"
#include "command/importer_choice.hpp"
#include "panels/texts.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <unistd.h>

namespace ridgeward::command {

namespace fs = std::filesystem;
using panels::State;

namespace {

/// The program's words on stderr, without its name before each.
std::string plain(const std::string& errors) {
  std::string text = errors;
  const std::string name = "ridgeward: ";
  for (std::size_t at = text.find(name); at != std::string::npos; at = text.find(name, at)) {
    text.erase(at, name.size());
  }
  while (!text.empty() && text.back() == '\n') {
    text.pop_back();
  }
  return text.empty() ? "it ended without a word" : text;
}

/// This program with other words.
std::vector<std::string> self_with(const std::vector<std::string>& words) {
  std::vector<std::string> all{"/proc/self/exe"};
  std::error_code error;
  if (const fs::path self = fs::read_symlink("/proc/self/exe", error); !error) {
    all[0] = self.string();
  }
  all.insert(all.end(), words.begin(), words.end());
  return all;
}

void remove_files(const std::vector<std::string>& paths) {
  for (const std::string& path : paths) {
    std::error_code error;
    fs::remove(path, error);
  }
}

/// What `import --found` wrote. An empty one where it did not.
panels::ImportView found_in(const std::string& path) {
  panels::ImportView view;
  const Result<std::string> bytes = model::file_bytes(path);
  try {
    const auto json = nlohmann::json::parse(bytes ? bytes.value() : std::string("{}"));
    view.importer = json.value("importer", "");
    view.notes = json.value("notes", view.notes);
    view.assumed = json.value("assumed", view.assumed);
    for (const auto& fit : json.value("fits", nlohmann::json::array())) {
      ++view.buildings;
      view.planes_given += fit.value("planes_given", std::size_t{0});
      view.plain += fit.value("plain", std::size_t{0});
      view.distance_m = std::max(view.distance_m, fit.value("distance_m", 0.0));
      view.area_given_m2 += fit.value("area_given_m2", 0.0);
      view.area_rebuilt_m2 += fit.value("area_rebuilt_m2", 0.0);
    }
    for (const auto& loop : json.value("planes", nlohmann::json::array())) {
      auto& corners = view.planes.emplace_back();
      for (const auto& corner : loop) {
        corners.emplace_back(corner.at(0).get<double>(), corner.at(1).get<double>(),
                             corner.at(2).get<double>());
      }
    }
  } catch (const nlohmann::json::exception&) {
    return {};
  }
  return view;
}

/// An import, assessed beside the drawing thread.
struct Import {
  document::Snapshot made;  ///< null where `found` tells of trouble
  panels::ImportView found;
};

Import imported(const document::Ended& ended, const std::string& model, const std::string& found,
                const document::Library& library) {
  const Result<model::ReadModel> read = model::read_file(model);
  Import import{nullptr, found_in(found)};
  remove_files({model, found});
  if (ended.exit_code != 0 || !read) {
    import.found.trouble = plain(ended.errors);
    return import;
  }
  import.found.parts = read.value().model.parts.size();
  const auto code = library.code(read.value().model.site.code);
  const auto assessed = code ? assess(read.value().model, library.catalogue, code.value())
                             : Result<Assessment>(code.faults());
  if (assessed) {
    import.made = std::make_shared<const Assessment>(assessed.value());
  } else {
    import.found.trouble = in_words(assessed.faults().front());
  }
  return import;
}

/// The importers that there are; what was said to the one that read the file stands in its options.
std::vector<panels::ImporterChoice> choices(const std::vector<std::string>& options,
                                            const std::string& importer) {
  std::vector<panels::ImporterChoice> all;
  for (const plugin::Found& found : importers_at_hand({}).importers) {
    panels::ImporterChoice& choice = all.emplace_back();
    choice.name = found.name;
    choice.what = found.what;
    for (const plugin::OptionWords& option : found.options) {
      std::string text;
      for (const std::string& said : options) {
        const bool is_it = importer == found.name && said.starts_with(option.key + "=");
        text = is_it ? said.substr(option.key.size() + 1) : text;
      }
      choice.options.push_back({option.key, option.what, option.value, text});
    }
  }
  return all;
}

}  // namespace

std::string Desk::scratch(const std::string& name) const {
  std::error_code error;
  const fs::path folder = fs::temp_directory_path(error);
  return (folder / ("ridgeward-" + std::to_string(::getpid()) + "-" + name)).string();
}

void Desk::run_self(const SelfRun& run,
                    const std::function<void(const document::Ended&, State&)>& after) {
  work_.start(run.name, [this, run, after](document::Task& task) -> document::Work::After {
    const document::Ended ended = task.run(self_with(run.words));
    remove_files(task.is_cancelled() ? std::vector{run.copy, run.made} : std::vector{run.copy});
    if (run.ended_well && run.ended_well(ended)) {
      task.keep();
    }
    return
        [this, ended, after] { outcome_ = [ended, after](State& state) { after(ended, state); }; };
  });
}

void Desk::import(const panels::ImportFile& wish, State& state) {
  const std::string made = scratch("imported.roof.json");
  const std::string found = scratch("found.json");
  state.edit.said.clear();
  state.edit.trouble.clear();
  state.edit.browser.is_shown = false;
  std::vector<std::string> words{"import", wish.path, "-o", made, "--found", found, "--progress"};
  if (!wish.importer.empty()) {
    words.insert(words.end(), {"--with", wish.importer});
  }
  for (const std::string& option : wish.options) {
    words.insert(words.end(), {"--option", option});
  }
  work_.start("Importing " + wish.path,
              [this, words = self_with(words), wish, made,
               found](document::Task& task) -> document::Work::After {
                const document::Ended ended = task.run(words);
                auto import = imported(ended, made, found, document_.library());
                import.found.file = wish.path;
                if (import.found.importer.empty()) {
                  import.found.importer = wish.importer;
                }
                import.found.importers = choices(wish.options, import.found.importer);
                return [this, import = std::move(import)] {
                  outcome_ = [this, import](State& then) {
                    preview(import.made, import.found, then);
                  };
                };
              });
}

void Desk::preview(const document::Snapshot& made, panels::ImportView found, State& state) {
  preview_ = made;
  state.edit.import = std::move(found);
}

void Desk::take_import(State& state) {
  if (!is_preview() || must_ask(panels::TakeImport{}, state.edit)) {
    return;
  }
  const std::string file = state.edit.import ? state.edit.import->file : std::string();
  document_.begin(std::exchange(preview_, nullptr), "");
  panels::forget_house(state.edit);
  state.edit.said = {"Imported from " + file + ". It is not saved yet."};
  state.path.clear();
  state.path_text.clear();
}

void Desk::leave_import(State& state) {
  preview_.reset();
  state.edit.import.reset();
}

bool Desk::must_wait(const panels::Wish& wish) const {
  return is_preview() &&
         (std::holds_alternative<panels::Do>(wish) || std::holds_alternative<panels::Undo>(wish) ||
          std::holds_alternative<panels::Redo>(wish) ||
          std::holds_alternative<panels::NewHouse>(wish) ||
          std::holds_alternative<panels::PlaceVents>(wish) ||
          std::holds_alternative<panels::ExportFile>(wish));
}

void Desk::export_to(const panels::ExportFile& wish, State& state) {
  const std::string& path = wish.path;
  const auto& endings = state.edit.endings;
  if (std::none_of(endings.begin(), endings.end(),
                   [&](const std::string& ending) { return path.ends_with(ending); })) {
    trouble(state.edit, {{"export.unknown", path, "nothing is written with this ending",
                          "give the file one of the endings that are listed"}});
    return;
  }
  if (!wish.may_replace && must_ask_to_replace(wish, path, state.edit)) {
    return;
  }
  state.edit.browser.is_shown = false;
  const std::string model = scratch("export.roof.json");
  if (const auto written = papers::write_whole(model, document_.text()); !written) {
    trouble(state.edit, written.faults());
    return;
  }
  std::vector<std::string> words{"export", model, "-o", path, "--progress"};
  for (const char* kind : {"pdf", "csv", "html", "json"}) {
    if (path.ends_with(std::string(".") + kind)) {
      words = {"assess", model, std::string("--") + kind, path, "--progress"};
    }
  }
  if (!options_.catalogue.empty()) {
    words.insert(words.end(), {"--catalogue", options_.catalogue});
  }
  if (!options_.code.empty()) {
    words.insert(words.end(), {"--code", options_.code});
  }
  const bool is_assess = words.front() == "assess";
  state.edit.said.clear();
  // 1: the roof is at fault; its papers say so and are written.
  const auto is_written = [is_assess](const document::Ended& ended) {
    return ended.exit_code == 0 || (is_assess && ended.exit_code == 1);
  };
  run_self({"Writing " + path, words, model, "", is_written},
           [path, is_written](const document::Ended& ended, State& then) {
             if (is_written(ended)) {
               then.edit.said = {"Written: " + path};
             } else {
               then.edit.trouble = plain(ended.errors);
             }
           });
}

void Desk::place(State& state) {
  const std::string model = scratch("place.roof.json");
  const std::string made = scratch("placed.roof.json");
  if (const auto written = papers::write_whole(model, document_.text()); !written) {
    trouble(state.edit, written.faults());
    return;
  }
  std::vector<std::string> words{"place", model, "-o", made};
  if (!options_.catalogue.empty()) {
    words.insert(words.end(), {"--catalogue", options_.catalogue});
  }
  if (!options_.code.empty()) {
    words.insert(words.end(), {"--code", options_.code});
  }
  const auto revision = document_.revision();
  state.edit.said.clear();
  run_self({"Placing vents", words, model, made, {}},
           [this, made, revision](const document::Ended& ended, State& then) {
             const Result<model::ReadModel> read = model::read_file(made);
             std::error_code error;
             fs::remove(made, error);
             if (ended.exit_code != 0 || !read) {
               then.edit.trouble = plain(ended.output + ended.errors);
             } else if (revision != document_.revision()) {
               then.edit.trouble =
                   "The house changed while vents were placed: nothing is taken over.\n"
                   "  cure: place them again";
             } else {
               const document::Snapshot before = document_.now();
               trouble(then.edit, document_.replace(read.value().model, "Place vents"));
               if (then.edit.trouble.empty()) {
                 then.edit.said = {panels::placed_words(*before, *document_.now(), then.style)};
               }
             }
           });
}

}  // namespace ridgeward::command
