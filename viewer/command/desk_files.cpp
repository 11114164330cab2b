// Files of the desk: chosen in the desktop's dialog or in the list, named, and replaced only when
// the person says so.
#include "command/desk.hpp"
#include "command/importer_choice.hpp"
#include "command/places.hpp"
#include "document/dialogs.hpp"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <string_view>
#include <system_error>
#include <utility>

namespace ridgeward::command {

namespace fs = std::filesystem;
using panels::State;

namespace {

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  return text;
}

std::vector<std::string> endings_of_importers() {
  std::vector<std::string> endings;
  for (const plugin::Found& found : importers_at_hand({}).importers) {
    for (const std::string& ending : found.endings) {
      if (std::find(endings.begin(), endings.end(), ending) == endings.end()) {
        endings.push_back(ending);  // several importers read .json
      }
    }
  }
  return endings;
}

}  // namespace

void Desk::list_folder(panels::Browser& browser) const {
  if (!browser.is_shown) {
    return;
  }
  std::error_code error;
  if (browser.folder.empty()) {
    const fs::path start = document_.path().empty() ? fs::current_path(error)
                                                    : fs::path(document_.path()).parent_path();
    browser.folder = start.string();
  }
  if (browser.listed == browser.folder) {
    return;
  }
  browser.listed = browser.folder;
  browser.entries.clear();
  for (const fs::directory_entry& entry : fs::directory_iterator(browser.folder, error)) {
    const std::string name = entry.path().filename().string();
    std::error_code unknown;
    const bool is_folder = entry.is_directory(unknown);
    const bool is_of_kind =
        browser.endings.empty() ||
        std::any_of(browser.endings.begin(), browser.endings.end(),
                    [&](const std::string& ending) { return lower(name).ends_with(ending); });
    const bool is_model = browser.what == panels::Pick::For::import &&
                          lower(name).ends_with(".roof.json");  // opened, not imported
    const bool is_listed = is_of_kind && !is_model;
    if (!name.starts_with('.') && (is_folder || browser.shows_all || is_listed)) {
      browser.entries.push_back({name, is_folder});
    }
  }
  std::sort(browser.entries.begin(), browser.entries.end(), [](const auto& a, const auto& b) {
    return a.is_folder != b.is_folder ? a.is_folder : a.name < b.name;
  });
}

void Desk::save_as(const panels::SaveAs& wish, State& state) {
  std::string path = full_path(wish.path);
  if (fs::path(path).extension().empty()) {
    path += ".roof.json";
  }
  // The desktop's dialog did not ask for the name with the ending.
  const bool has_asked = wish.may_replace && path == full_path(wish.path);
  if (has_asked || !must_ask_to_replace(panels::SaveAs{path}, path, state.edit)) {
    save(path, state);
  }
}

void Desk::list_files(panels::Pick::For what, panels::EditState& edit) {
  using For = panels::Pick::For;
  edit.said.clear();
  edit.trouble.clear();
  edit.browser.is_shown = true;
  edit.browser.what = what;
  edit.browser.shows_all = false;
  edit.browser.listed.clear();
  edit.browser.name.clear();
  edit.browser.endings = {".json"};
  if (what == For::save || what == For::export_to) {
    edit.browser.name = suggested_name() + (what == For::save ? ".roof.json" : ".pdf");
  }
  if (what == For::export_to) {
    edit.browser.endings = edit.endings;
  } else if (what == For::import) {
    edit.browser.endings = endings_of_importers();
  }
}

std::string Desk::suggested_name() const {
  std::string name = fs::path(document_.path()).filename().string();
  for (const char* ending : {".json", ".roof"}) {
    if (name.ends_with(ending)) {
      name.resize(name.size() - std::string_view(ending).size());
    }
  }
  if (name.empty() && document_.is_open()) {
    for (const char letter : document_.now()->model.name) {
      const bool is_plain = std::isalnum(static_cast<unsigned char>(letter)) != 0;
      name += is_plain ? static_cast<char>(std::tolower(static_cast<unsigned char>(letter))) : '-';
    }
  }
  return name.empty() ? "house" : name;
}

bool Desk::must_ask_to_replace(const panels::Wish& wish, const std::string& path,
                               panels::EditState& edit) {
  std::error_code error;
  if (!fs::exists(path, error) || path == document_.path()) {
    return false;
  }
  replacing_ = wish;
  edit.asks_replace = path;
  return true;
}

void Desk::answer(const panels::Replace& answer, State& state) {
  state.edit.asks_replace.clear();
  auto wish = std::exchange(replacing_, std::nullopt);
  if (!answer.yes || !wish) {
    return;
  }
  if (auto* save_as = std::get_if<panels::SaveAs>(&*wish)) {
    save_as->may_replace = true;
  } else if (auto* export_file = std::get_if<panels::ExportFile>(&*wish)) {
    export_file->may_replace = true;
  }
  grant(*wish, state);
}

void Desk::pick(const panels::Pick& wish, State& state) {
  using For = panels::Pick::For;
  const auto program = has_dialogs_ && !wish.in_window ? document::dialog_program() : std::nullopt;
  if (!program) {
    dialog_.cancel();
    is_picking_ = false;
    list_files(wish.what, state.edit);
    return;
  }
  if (dialog_.is_busy()) {
    next_pick_ = is_picking_ ? std::nullopt : std::optional(wish);
    return;
  }
  std::error_code error;
  const fs::path own(document_.path());
  const std::string folder =
      (own.empty() ? fs::current_path(error) : own.parent_path()).string() + "/";
  document::DialogAsk ask;
  ask.start = folder;
  ask.saves = wish.what == For::save || wish.what == For::export_to;
  if (wish.what == For::open || wish.what == For::save) {
    ask.title = wish.what == For::open ? "Open a model file" : "Save as";
    ask.kind = "Model files";
    ask.patterns = {"*.roof.json", "*.json"};
    ask.start = wish.what == For::open ? folder
                : own.empty()          ? folder + suggested_name() + ".roof.json"
                                       : own.string();
  } else {
    ask.title = wish.what == For::import ? "Import a file of another format" : "Export or print:";
    for (const std::string& ending : state.edit.endings) {
      ask.title += wish.what == For::import ? "" : " " + ending;
    }
  }
  state.edit.browser.what = wish.what;
  is_picking_ = true;
  dialog_.start("Dialog",
                [this, words = document::dialog_words(*program, ask)](
                    document::Task& task) -> document::Work::After {
                  const document::Ended ended = task.run(words);
                  return [this, ended] { picked_ = ended; };
                });
}

void Desk::take_picked(State& state) {
  if (!dialog_.is_busy()) {
    if (const auto next = std::exchange(next_pick_, std::nullopt)) {
      pick(*next, state);
    }
  }
  const auto ended = std::exchange(picked_, std::nullopt);
  if (!ended) {
    return;
  }
  using For = panels::Pick::For;
  is_picking_ = false;
  const For what = state.edit.browser.what;
  const document::DialogAnswer answer = document::dialog_answer(*ended);
  if (answer.kind == document::DialogAnswer::Kind::no_dialog) {
    has_dialogs_ = false;  // it will not answer the next time either
    list_files(what, state.edit);
  } else if (answer.kind == document::DialogAnswer::Kind::file) {
    grant(what == For::open     ? panels::Wish(panels::OpenFile{answer.path})
          : what == For::save   ? panels::Wish(panels::SaveAs{answer.path, true})
          : what == For::import ? panels::Wish(panels::ImportFile{answer.path, {}, {}})
                                : panels::Wish(panels::ExportFile{answer.path, true}),
          state);
  }
}

}  // namespace ridgeward::command
