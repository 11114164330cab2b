#include "command/places.hpp"

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <vector>

namespace ridgeward::command {

namespace fs = std::filesystem;

std::string executable_folder() {
  std::error_code error;
  const fs::path self = fs::read_symlink("/proc/self/exe", error);
  return error ? std::string(".") : self.parent_path().string();
}

std::string models_folder() {
  const std::string installed = executable_folder() + "/../share/ridgeward/models";
  return exists(installed) ? installed : std::string(RIDGEWARD_SOURCE_MODELS);
}

std::string report_folder() {
  const std::string installed = executable_folder() + "/../share/ridgeward/report";
  return exists(installed) ? installed : std::string(RIDGEWARD_BUILT_REPORT);
}

bool exists(const std::string& path) {
  std::error_code error;
  return fs::exists(path, error);
}

std::string full_path(const std::string& path) {
  std::error_code error;
  const fs::path made = fs::absolute(path, error);
  return error ? path : made.lexically_normal().string();
}

std::string known_codes() {
  std::vector<std::string> names;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(models_folder() + "/codes", error)) {
    names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  std::string all;
  for (const std::string& name : names) {
    all += (all.empty() ? "" : ", ") + name;
  }
  return all.empty() ? "the installed ones" : all;
}

}  // namespace ridgeward::command
