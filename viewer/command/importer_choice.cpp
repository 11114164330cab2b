#include "command/importer_choice.hpp"

#include "plugin/guard.hpp"

#include "command/outputs.hpp"

#include <algorithm>
#include <filesystem>
#include <set>
#include <system_error>

namespace ridgeward::command {

namespace {

/// Bytes that importers see to judge a file.
constexpr std::size_t head_size = 4096;
/// From here on importers of other endings need not be asked.
constexpr int sure_enough = 50;

std::string names_of(const plugin::FoundAll& all) {
  std::string names;
  for (const plugin::Found& found : all.importers) {
    names += (names.empty() ? "" : ", ") + found.name;
  }
  return names.empty() ? "none are installed" : "there are " + names;
}

bool reads_ending(const plugin::Found& found, const std::string& ending) {
  return std::any_of(found.endings.begin(), found.endings.end(), [&](const std::string& own) {
    return !ending.empty() && own.ends_with(ending);
  });
}

}  // namespace

bool starts_as_model(std::string_view bytes) {
  const std::string_view head = bytes.substr(0, head_size);
  const std::size_t first = head.find_first_not_of(" \t\r\n\xEF\xBB\xBF");
  return first != std::string_view::npos && head[first] == '{' &&
         head.find("\"ridgeward\"") != std::string_view::npos;
}

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

Faults missing(const std::vector<std::string>& folders) {
  Faults faults;
  for (const std::string& folder : folders) {
    std::error_code error;
    if (!std::filesystem::is_directory(folder, error)) {
      faults.push_back({"importer.folder", "", "there is no folder \"" + folder + "\"",
                        "name a folder that holds importers, or leave out --plugins"});
    }
  }
  return faults;
}

Faults misfits(const plugin::Found& importer, const std::vector<std::string>& options) {
  std::string known;
  for (const plugin::OptionWords& option : importer.options) {
    known += (known.empty() ? "" : ", ") + option.key + "=" + option.value;
  }
  const std::string cure = known.empty() ? "the importer " + importer.name + " has no options"
                                         : importer.name + " has " + known;
  Faults faults;
  std::set<std::string> given;
  for (const std::string& option : options) {
    const std::string key = option.substr(0, option.find('='));
    const bool is_known =
        std::any_of(importer.options.begin(), importer.options.end(),
                    [&](const plugin::OptionWords& words) { return words.key == key; });
    const std::string who = "the option \"" + option + "\"";
    if (!is_known) {
      faults.push_back({"option.unknown", "",
                        "the importer " + importer.name + " has no option \"" + key + "\"", cure});
    } else if (key.size() + 1 >= option.size() || option.find('\n') != std::string::npos) {
      faults.push_back({"option.form", "", who + " is no key=value", cure});
    } else if (!given.insert(key).second) {
      faults.push_back({"option.twice", "", who + " is given twice", "give each option once"});
    }
  }
  return faults;
}

Result<plugin::Found> choose(const plugin::FoundAll& all, const std::string& name,
                             const std::string& file, std::string_view bytes) {
  if (!name.empty()) {
    const auto found = std::find_if(all.importers.begin(), all.importers.end(),
                                    [&](const plugin::Found& f) { return f.name == name; });
    if (found == all.importers.end()) {
      return Fault{"importer.unknown", "", "there is no importer \"" + name + "\"", names_of(all)};
    }
    return *found;
  }
  if (bytes.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    return Fault{"import.empty", "", "the file is empty",
                 "see whether it was written or fetched to its end"};
  }
  const std::string ending = ending_of(file);
  std::vector<plugin::Found> order = all.importers;
  std::stable_partition(order.begin(), order.end(),
                        [&](const plugin::Found& found) { return reads_ending(found, ending); });
  const plugin::Found* best = nullptr;
  int surest = 0;
  Faults faults;
  for (const plugin::Found& found : order) {
    if (surest >= sure_enough && !reads_ending(found, ending)) {
      break;
    }
    const Result<int> sure = plugin::sniff_apart(found.library, bytes.substr(0, head_size), file,
                                                 {.wall_s = 10.0, .cpu_s = 10.0});
    if (!sure) {
      faults.insert(faults.end(), sure.faults().begin(), sure.faults().end());
    } else if (sure.value() > surest) {
      surest = sure.value();
      best = &found;
    }
  }
  if (best != nullptr) {
    return *best;
  }
  if (starts_as_model(bytes)) {
    return Fault{"import.model", "", "this is a model file already: it needs no import",
                 "give it to ridgeward assess, or open it with ridgeward view"};
  }
  // Nobody knows these bytes; the importer whose ending it is can say what is wrong with them.
  const auto by_ending = [&](const plugin::Found& found) { return reads_ending(found, ending); };
  if (std::count_if(order.begin(), order.end(), by_ending) == 1) {
    return *std::find_if(order.begin(), order.end(), by_ending);
  }
  faults.push_back({"importer.none", "", "no importer reads this file", names_of(all)});
  return faults;
}

}  // namespace ridgeward::command
