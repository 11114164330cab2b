// Long work of the desk: this program again, in a process of its own, on a copy of the model.
#include "model/read.hpp"
#include "papers/file.hpp"

#include "command/desk.hpp"

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

}  // namespace

std::string Desk::scratch(const std::string& name) const {
  std::error_code error;
  const fs::path folder = fs::temp_directory_path(error);
  return (folder / ("ridgeward-" + std::to_string(::getpid()) + "-" + name)).string();
}

void Desk::run_self(const std::string& name, const std::vector<std::string>& words,
                    const std::function<void(const document::Ended&, State&)>& after) {
  std::vector<std::string> all{"/proc/self/exe"};
  std::error_code error;
  if (const fs::path self = fs::read_symlink("/proc/self/exe", error); !error) {
    all[0] = self.string();
  }
  all.insert(all.end(), words.begin(), words.end());
  work_.start(name, [this, all, after](document::Task& task) -> document::Work::After {
    const document::Ended ended = task.run(all);
    return
        [this, ended, after] { outcome_ = [ended, after](State& state) { after(ended, state); }; };
  });
}

void Desk::import(const std::string& path, State& state) {
  const std::string made = scratch("imported.roof.json");
  state.edit.said.clear();
  run_self("Importing " + path, {"import", path, "-o", made},
           [this, made, path](const document::Ended& ended, State& then) {
             const Result<model::ReadModel> read = model::read_file(made);
             std::error_code error;
             fs::remove(made, error);
             if (ended.exit_code != 0 || !read) {
               then.edit.trouble = plain(ended.errors);
               return;
             }
             take(read.value().model, "", false, then);
             then.edit.said = {"Imported from " + path + ". " + plain(ended.errors)};
           });
}

void Desk::export_to(const std::string& path, State& state) {
  const std::string model = scratch("export.roof.json");
  if (const auto written = papers::write_whole(model, document_.text()); !written) {
    trouble(state.edit, written.faults());
    return;
  }
  std::vector<std::string> words{"export", model, "-o", path};
  for (const char* kind : {"pdf", "csv", "html", "json"}) {
    if (path.ends_with(std::string(".") + kind)) {
      words = {"assess", model, std::string("--") + kind, path};
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
  run_self("Writing " + path, words,
           [model, path, is_assess](const document::Ended& ended, State& then) {
             std::error_code error;
             fs::remove(model, error);
             // 1: the roof is at fault; its papers say so and are written.
             if (ended.exit_code == 0 || (is_assess && ended.exit_code == 1)) {
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
  run_self("Placing vents", words,
           [this, model, made, revision](const document::Ended& ended, State& then) {
             const Result<model::ReadModel> read = model::read_file(made);
             std::error_code error;
             fs::remove(model, error);
             fs::remove(made, error);
             if (ended.exit_code != 0 || !read) {
               then.edit.trouble = plain(ended.output + ended.errors);
             } else if (revision != document_.revision()) {
               then.edit.trouble =
                   "The house changed while vents were placed: nothing is taken over.\n"
                   "  cure: place them again";
             } else {
               trouble(then.edit, document_.replace(read.value().model, "Place vents"));
               then.edit.said = {ended.output};
             }
           });
}

}  // namespace ridgeward::command
