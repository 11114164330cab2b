#include "document/dialogs.hpp"

#include <cstdlib>
#include <filesystem>
#include <sstream>
#include <unistd.h>

namespace ridgeward::document {

namespace fs = std::filesystem;

namespace {

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value != nullptr ? value : "";
}

/// The first executable of that name on PATH; relative folders there are passed over.
std::optional<std::string> on_path(const std::string& name) {
  std::istringstream folders(variable("PATH"));
  for (std::string folder; std::getline(folders, folder, ':');) {
    const std::string path = (fs::path(folder) / name).string();
    std::error_code error;
    if (folder.starts_with('/') && fs::is_regular_file(path, error) &&
        access(path.c_str(), X_OK) == 0) {
      return path;
    }
  }
  return std::nullopt;
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) {
    text += (text.empty() ? "" : " ") + word;
  }
  return text;
}

std::vector<std::string> zenity_words(const std::string& program, const DialogAsk& ask) {
  std::vector<std::string> words{program, "--file-selection", "--title=" + ask.title,
                                 "--filename=" + ask.start};
  if (ask.saves) {
    words.insert(words.end(), {"--save", "--confirm-overwrite"});
  }
  if (!ask.kind.empty()) {
    words.push_back("--file-filter=" + ask.kind + " | " + joined(ask.patterns));
    words.emplace_back("--file-filter=All files | *");
  }
  return words;
}

std::vector<std::string> kdialog_words(const std::string& program, const DialogAsk& ask) {
  std::vector<std::string> words{program, "--title", ask.title,
                                 ask.saves ? "--getsavefilename" : "--getopenfilename", ask.start};
  if (!ask.kind.empty()) {
    words.push_back(ask.kind + " (" + joined(ask.patterns) + ")\nAll files (*)");
  }
  return words;
}

}  // namespace

std::optional<std::string> dialog_program() {
  if (variable("DISPLAY").empty() && variable("WAYLAND_DISPLAY").empty()) {
    return std::nullopt;
  }
  const bool is_kde = variable("XDG_CURRENT_DESKTOP").find("KDE") != std::string::npos;
  for (const char* name : {is_kde ? "kdialog" : "zenity", is_kde ? "zenity" : "kdialog"}) {
    if (auto path = on_path(name)) {
      return path;
    }
  }
  return std::nullopt;
}

std::vector<std::string> dialog_words(const std::string& program, const DialogAsk& ask) {
  return program.ends_with("kdialog") ? kdialog_words(program, ask) : zenity_words(program, ask);
}

DialogAnswer dialog_answer(const Ended& ended) {
  std::string path = ended.output;
  if (path.ends_with('\n')) {
    path.pop_back();
  }
  if (ended.exit_code == 0 && path.starts_with('/')) {
    return {DialogAnswer::Kind::file, path};
  }
  // Both programs end with 1 when the person thinks better of it, and zenity also when no display
  // answers it.
  const bool has_display = ended.errors.find("open display") == std::string::npos &&
                           ended.errors.find("connect to display") == std::string::npos;
  const bool is_cancelled = ended.exit_code == 1 && has_display;
  return {is_cancelled ? DialogAnswer::Kind::cancelled : DialogAnswer::Kind::no_dialog, ""};
}

}  // namespace ridgeward::document
