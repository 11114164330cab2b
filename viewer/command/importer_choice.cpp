#include "command/importer_choice.hpp"

#include <algorithm>
#include <filesystem>
#include <optional>
#include <system_error>

namespace ridgeward::command {

namespace {

/// Bytes that importers see to judge a file.
constexpr std::size_t head_size = 4096;

std::string names_of(const plugin::FoundAll& all) {
  std::string names;
  for (const plugin::Found& found : all.importers) {
    names += (names.empty() ? "" : ", ") + found.name;
  }
  return names.empty() ? "none are installed" : "there are " + names;
}

}  // namespace

plugin::FoundAll importers_at_hand(const std::vector<std::string>& folders) {
  std::vector<std::string> places;
  std::error_code error;
  for (const std::string& folder : folders) {
    const auto full = std::filesystem::absolute(folder, error);
    places.push_back(error ? folder : full.string());
  }
  const auto executable = std::filesystem::read_symlink("/proc/self/exe", error);
  if (!error) {
    const std::vector<std::string> beside = plugin::folders_beside(executable.string());
    places.insert(places.end(), beside.begin(), beside.end());
  }
  return plugin::find(places);
}

Result<plugin::Importer> choose(const plugin::FoundAll& all, const std::string& name,
                                const std::string& file, std::string_view bytes) {
  if (!name.empty()) {
    const auto found = std::find_if(all.importers.begin(), all.importers.end(),
                                    [&](const plugin::Found& f) { return f.name == name; });
    if (found == all.importers.end()) {
      return Fault{"importer.unknown", "", "there is no importer \"" + name + "\"", names_of(all)};
    }
    return plugin::Importer::load(found->library);
  }
  std::optional<plugin::Importer> best;
  int surest = 0;
  Faults faults;
  for (const plugin::Found& found : all.importers) {
    Result<plugin::Importer> importer = plugin::Importer::load(found.library);
    if (!importer) {
      faults.insert(faults.end(), importer.faults().begin(), importer.faults().end());
      continue;
    }
    const int sure = importer.value().sniff(bytes.substr(0, head_size), file);
    if (sure > surest) {
      surest = sure;
      best = std::move(importer).value();
    }
  }
  if (best) {
    return std::move(*best);
  }
  faults.push_back({"importer.none", "", "no importer reads this file", names_of(all)});
  return faults;
}

}  // namespace ridgeward::command
