#include "plugin/check.hpp"

#include "plugin/check_abi.h"
#include "plugin/library.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <dlfcn.h>
#include <filesystem>
#include <system_error>
#include <utility>

namespace ridgeward::plugin {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_found = 10000;

/// What one run() gathers; the `context` of the host's function.
struct Gathering {
  std::vector<Found3D> found;
  std::string wrong;  ///< with the first finding that can't be used
};

void take(void* context, const ridgeward_finding* finding) {
  Gathering& all = *static_cast<Gathering*>(context);
  if (finding == nullptr || finding->size < sizeof(ridgeward_finding)) {
    all.wrong = "it reports a finding of another version";
    return;
  }
  Found3D found;
  found.severity = finding->severity;
  found.at = {finding->at[0], finding->at[1], finding->at[2]};
  found.plane = text_or(finding->plane, "");
  found.slot = text_or(finding->slot, "");
  found.member = text_or(finding->member, "");
  found.exhaust = text_or(finding->exhaust, "");
  found.measured = text_or(finding->measured, "");
  found.needed = text_or(finding->needed, "");
  found.message = text_or(finding->message, "");
  found.remedy = text_or(finding->remedy, "");
  const bool is_placed = std::all_of(found.at.begin(), found.at.end(),
                                     [](double value) { return std::isfinite(value); });
  if (found.message.empty() || !is_placed || found.severity < RIDGEWARD_NOTE ||
      found.severity > RIDGEWARD_ERROR) {
    all.wrong = "it reports a finding without message, severity or place";
  } else if (all.found.size() < most_found) {
    all.found.push_back(std::move(found));
  }
}

using Entry = const ridgeward_check_table* (*)(std::uint32_t);

}  // namespace

OwnCheck::OwnCheck(std::shared_ptr<const Library> library, const ridgeward_check_table* table)
    : library_(std::move(library)), table_(table) {}

Result<OwnCheck> OwnCheck::load(const std::string& path) {
  Result<std::shared_ptr<Library>> library = Library::open(path, "check", RIDGEWARD_CHECK_SYMBOL);
  if (!library) {
    return library.faults();
  }
  const ridgeward_check_table* table = library.value()->entry<Entry>()(RIDGEWARD_CHECK_ABI);
  if (table == nullptr || table->abi != RIDGEWARD_CHECK_ABI ||
      table->size < sizeof(ridgeward_check_table) || table->kind == nullptr ||
      table->run == nullptr) {
    return Fault{"check.version", "", path + " does not work with this version of the program",
                 fmt::format("build it against version {} of check_abi.h and fill in its table",
                             RIDGEWARD_CHECK_ABI)};
  }
  return OwnCheck(std::move(library).value(), table);
}

std::string OwnCheck::kind() const { return table_->kind; }
std::string OwnCheck::words() const { return text_or(table_->words, ""); }

Result<std::vector<Found3D>> OwnCheck::run(std::string_view assessment) const {
  Gathering all;
  ridgeward_check_host host{};
  host.size = sizeof(host);
  host.context = &all;
  host.find = take;
  const int failed = table_->run(assessment.data(), assessment.size(), &host);
  if (failed != 0 || !all.wrong.empty()) {
    return Fault{
        "check.failed", "",
        "the check " + kind() + " fails: " + (all.wrong.empty() ? "it gives no reason" : all.wrong),
        "mend the check, or leave it out"};
  }
  return std::move(all.found);
}

Result<std::vector<std::string>> checks_in(const std::string& folder) {
  std::error_code error;
  const fs::path whole = fs::absolute(folder, error);
  if (error || !fs::is_directory(whole, error)) {
    return Fault{"check.folder", folder, "there is no such folder", "name a folder with checks"};
  }
  std::vector<std::string> paths;
  for (fs::directory_iterator at(whole, error), end; !error && at != end; at.increment(error)) {
    if (at->path().extension() != ".so") {
      continue;
    }
    void* handle = dlopen(at->path().c_str(), RTLD_LAZY | RTLD_LOCAL);
    if (handle != nullptr) {
      if (dlsym(handle, RIDGEWARD_CHECK_SYMBOL) != nullptr) {
        paths.push_back(at->path().string());
      }
      dlclose(handle);
    }
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace ridgeward::plugin
