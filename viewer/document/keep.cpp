#include "document/keep.hpp"

#include "model/file_bytes.hpp"
#include "papers/file.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <sys/file.h>
#include <system_error>
#include <unistd.h>

namespace ridgeward::document {

namespace fs = std::filesystem;
using nlohmann::json;

namespace {

std::string xdg_folder(const char* variable, const char* below_home) {
  const char* own = std::getenv(variable);
  if (own != nullptr && own[0] == '/') {  // others are to be ignored, says the specification
    return std::string(own) + "/ridgeward";
  }
  const char* home = std::getenv("HOME");
  return home != nullptr && home[0] == '/' ? std::string(home) + below_home + "/ridgeward"
                                           : std::string();
}

bool make_folder(const std::string& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) {
    return false;
  }
  fs::permissions(folder, fs::perms::owner_all, error);
  return true;
}

/// A lock that this program holds from now on; -1 where another one holds it.
int locked(const std::string& path) {
  const int handle = open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (handle >= 0 && flock(handle, LOCK_EX | LOCK_NB) != 0) {
    close(handle);
    return -1;
  }
  return handle;
}

std::string lock_of(const std::string& file) { return file + ".lock"; }

/// Text at `key`; none where the object has none.
std::optional<std::string> text_at(const json& object, const char* key) {
  const auto found = object.find(key);
  return found != object.end() && found->is_string() ? std::optional(found->get<std::string>())
                                                     : std::nullopt;
}

std::optional<json> read_object(const std::string& path) {
  const Result<std::string> bytes = model::file_bytes(path);
  if (!bytes) {
    return std::nullopt;
  }
  json object = json::parse(bytes.value(), nullptr, false);
  return object.is_object() ? std::optional(std::move(object)) : std::nullopt;
}

std::string dumped(const json& object) {
  return object.dump(1, ' ', false, json::error_handler_t::replace) + "\n";
}

}  // namespace

std::string state_folder() { return xdg_folder("XDG_STATE_HOME", "/.local/state"); }
std::string config_folder() { return xdg_folder("XDG_CONFIG_HOME", "/.config"); }

Recovery::Recovery(std::string folder) : folder_(std::move(folder)) {
  if (folder_.empty() || !make_folder(folder_)) {
    return;
  }
  // A number that was used before may still have work to recover: the next free one is taken.
  for (int number = 1; number < 1000 && lock_ < 0; ++number) {
    const std::string file = folder_ + "/unsaved-" + std::to_string(number) + ".json";
    std::error_code error;
    if (!fs::exists(file, error)) {
      lock_ = locked(lock_of(file));
      file_ = lock_ >= 0 ? file : std::string();
    }
  }
}

Recovery::~Recovery() {
  if (lock_ >= 0) {
    std::error_code error;
    if (!fs::exists(file_, error)) {
      fs::remove(lock_of(file_), error);
    }
    close(lock_);
  }
}

Faults Recovery::keep(const std::string& path, const std::string& model) {
  if (file_.empty()) {
    return {};
  }
  const auto written = papers::write_whole(
      file_, dumped({{"ridgeward_recovery", 1}, {"path", path}, {"model", model}}));
  return written ? Faults{} : written.faults();
}

void Recovery::drop() {
  if (!file_.empty()) {
    std::error_code error;
    fs::remove(file_, error);
  }
}

std::optional<Recovered> Recovery::found() const {
  std::optional<Recovered> newest;
  fs::file_time_type when;
  std::error_code error;
  if (folder_.empty()) {
    return newest;
  }
  for (const fs::directory_entry& entry : fs::directory_iterator(folder_, error)) {
    const std::string file = entry.path().string();
    if (file == file_ || entry.path().extension() != ".json") {
      continue;
    }
    const int lock = locked(lock_of(file));
    if (lock < 0) {
      continue;  // its program runs
    }
    close(lock);
    const auto object = read_object(file);
    const auto model = object ? text_at(*object, "model") : std::nullopt;
    const fs::file_time_type written = entry.last_write_time(error);
    if (model && (!newest || written > when)) {
      newest = Recovered{file, text_at(*object, "path").value_or(""), *model};
      when = written;
    }
  }
  return newest;
}

void Recovery::discard(const Recovered& recovered) {
  std::error_code error;
  fs::remove(recovered.file, error);
  fs::remove(lock_of(recovered.file), error);
}

Settings read_settings(const std::string& folder) {
  Settings settings;
  const auto object = folder.empty() ? std::nullopt : read_object(folder + "/window.json");
  if (!object) {
    return settings;
  }
  if (const auto list = object->find("recent"); list != object->end() && list->is_array()) {
    for (const json& path : *list) {
      if (path.is_string() && settings.recent.size() < most_recent) {
        settings.recent.push_back(path.get<std::string>());
      }
    }
  }
  if (const auto words = object->find("words"); words != object->end() && words->is_object()) {
    for (const auto& [name, value] : words->items()) {
      if (value.is_string()) {
        settings.words[name] = value.get<std::string>();
      }
    }
  }
  return settings;
}

Faults write_settings(const std::string& folder, const Settings& settings) {
  if (folder.empty() || !make_folder(folder)) {
    return {};
  }
  const auto written = papers::write_whole(
      folder + "/window.json", dumped({{"recent", settings.recent}, {"words", settings.words}}));
  return written ? Faults{} : written.faults();
}

void remember(Settings& settings, const std::string& path) {
  std::erase(settings.recent, path);
  settings.recent.insert(settings.recent.begin(), path);
  settings.recent.resize(std::min(settings.recent.size(), most_recent));
}

}  // namespace ridgeward::document
