#include "plugin/find.hpp"

#include "model/file_bytes.hpp"
#include "model/json_cursor.hpp"
#include "model/read_pieces.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <system_error>

namespace ridgeward::plugin {

namespace {

namespace fs = std::filesystem;
using Words = std::string_view;

constexpr std::uintmax_t largest_description = 65536;

constexpr std::array<Words, 7> description_names{
    "ridgeward_importer", "name", "what", "endings", "options", "each", "library"};
constinit const model::ObjectKeys description_keys{"importer", description_names};
constexpr std::array<Words, 3> option_names{"key", "value", "what"};
constinit const model::ObjectKeys option_keys{"option of an importer", option_names};

void read_options(const model::Cursor& list, Found& found) {
  if (!list.open_list()) {
    return;
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    model::Cursor option = list.item(i);
    if (option.open_object(option_keys)) {
      OptionWords words;
      model::take(words.key, option.key("key").required("give the option's name").id());
      model::take(words.value, option.key("value").text());
      model::take(words.what, option.key("what").text());
      found.options.push_back(std::move(words));
    }
  }
}

Result<Found> read_description(std::string_view json, const fs::path& folder) {
  model::Reading reading;
  Result<model::Document> document = model::parse_json(json, reading.warnings);
  if (!document) {
    return document.faults();
  }
  model::Cursor root(document.value(), reading);
  Found found;
  root.open_object(description_keys);
  const model::Cursor version = root.key("ridgeward_importer");
  version.required("write \"ridgeward_importer\": 1").whole(1, 1);
  model::take(found.name, root.key("name").required("give one word").id());
  model::take(found.what, root.key("what").text());
  const model::Cursor library = root.key("library").required("name the shared object");
  std::string file;
  if (model::take(file, library.text()) && fs::path(file).filename() != fs::path(file)) {
    library.fault("importer.library", "the library lies in another folder",
                  "name a file beside this one");
  }
  found.library = (folder / file).string();
  const model::Cursor endings = root.key("endings");
  if (endings.open_list()) {
    for (std::size_t i = 0; i < endings.size(); ++i) {
      found.endings.push_back(endings.item(i).text().value_or(""));
    }
  }
  read_options(root.key("options"), found);
  model::take(found.gives_each, root.key("each").boolean());
  if (!reading.faults.empty()) {
    return std::move(reading.faults);
  }
  return found;
}

/// Files that describe importers, in order of their names.
std::vector<fs::path> descriptions_in(const fs::path& folder) {
  std::vector<fs::path> files;
  std::error_code error;
  for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
    if (at->path().extension() == ".json") {
      files.push_back(at->path());
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

/// The text of a JSON file that means to describe an importer: others may lie in the folder too.
std::optional<std::string> description_in(const fs::path& file) {
  std::error_code error;
  const auto size = fs::file_size(file, error);
  if (error || size > largest_description) {
    return std::nullopt;
  }
  Result<std::string> bytes = model::file_bytes(file.string());
  const bool is_meant = bytes && bytes.value().find("\"ridgeward_importer\"") != std::string::npos;
  return is_meant ? std::optional(std::move(bytes).value()) : std::nullopt;
}

void add_from(const fs::path& folder, FoundAll& all) {
  for (const fs::path& file : descriptions_in(folder)) {
    const auto text = description_in(file);
    if (!text) {
      continue;
    }
    const Result<Found> found = read_description(*text, folder);
    if (!found) {
      const Fault& first = found.faults().front();
      all.faults.push_back({"importer.description",
                            file.string() + (first.where.empty() ? "" : " at " + first.where),
                            "this does not describe an importer: " + first.what, first.cure});
      continue;
    }
    std::error_code error;
    if (!fs::is_regular_file(found.value().library, error)) {
      all.faults.push_back({"importer.missing", file.string(),
                            "the importer " + found.value().name + " has no library: there is no " +
                                found.value().library,
                            "build it, or remove this description"});
      continue;
    }
    const bool is_known =
        std::any_of(all.importers.begin(), all.importers.end(),
                    [&](const Found& other) { return other.name == found.value().name; });
    if (!is_known) {
      all.importers.push_back(found.value());
    }
  }
}

}  // namespace

FoundAll find(const std::vector<std::string>& folders) {
  FoundAll all;
  for (const std::string& folder : folders) {
    if (!fs::path(folder).is_absolute()) {
      all.faults.push_back({"importer.folder", "", "\"" + folder + "\" is no full path of a folder",
                            "give the whole path, from the root"});
      continue;
    }
    add_from(folder, all);
  }
  std::sort(all.importers.begin(), all.importers.end(),
            [](const Found& a, const Found& b) { return a.name < b.name; });
  return all;
}

std::vector<std::string> folders_beside(const std::string& executable) {
  const fs::path folder = fs::path(executable).parent_path();
  if (!folder.is_absolute()) {
    return {};
  }
  return {(folder / "importers").string(),
          (folder.parent_path() / "lib" / "ridgeward" / "importers").string()};
}

}  // namespace ridgeward::plugin
