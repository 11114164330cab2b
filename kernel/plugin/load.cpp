#include "plugin/load.hpp"

#include "model/file_bytes.hpp"
#include "model/json_cursor.hpp"
#include "plugin/importer_abi.h"
#include "plugin/library.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

namespace ridgeward::plugin {

namespace {

/// Least size of a table: up to and with read().
constexpr std::size_t least_table = sizeof(ridgeward_importer_table);
constexpr std::size_t most_told = 200;

/// What one read() gathers; the `context` of the host's functions.
struct Gathering {
  Imported imported;
  Faults faults;
  std::string folder;
  std::function<void(std::string_view)> take_next;  ///< none: one model is wanted
  GoOn go_on;
  int hundredths = 0;     ///< last told
  std::size_t notes = 0;  ///< told or not
  bool has_emitted = false;
  bool is_too_large = false;
};

Gathering& gathering(void* context) { return *static_cast<Gathering*>(context); }

void take_json(void* context, const char* json, std::size_t size) {
  Gathering& all = gathering(context);
  all.is_too_large = all.is_too_large || size > model::largest_text;
  if (json != nullptr && size <= model::largest_text) {
    all.imported.json.assign(json, size);
    all.has_emitted = true;
  }
}

void take_next_json(void* context, const char* json, std::size_t size) {
  Gathering& all = gathering(context);
  all.is_too_large = all.is_too_large || size > model::largest_text;
  if (json != nullptr && size <= model::largest_text) {
    all.take_next({json, size});
    all.has_emitted = true;
  }
}

void take_fault(void* context, const char* where, const char* what, const char* cure) {
  Gathering& all = gathering(context);
  if (all.faults.size() < most_told) {
    all.faults.push_back({"import.failed", text_or(where, ""),
                          text_or(what, "the importer gives no reason"), text_or(cure, "")});
  }
}

void take_note(void* context, const char* words) {
  Gathering& all = gathering(context);
  if (words != nullptr && all.notes++ < most_told) {
    all.imported.notes.emplace_back(words);
  }
}

int go_on(void* context, double share_done) {
  Gathering& all = gathering(context);
  // An importer may say anything, as often as it likes.
  const bool is_share = share_done > 0.0 && share_done <= 1.0;
  const int hundredths = is_share ? static_cast<int>(share_done * 100.0) : 0;
  if (!all.go_on || hundredths <= all.hundredths) {
    return 1;
  }
  all.hundredths = hundredths;
  return all.go_on(hundredths / 100.0) ? 1 : 0;
}

int side_file(void* context, const char* name,
              void (*take)(void* taker, const char* bytes, std::size_t size), void* taker) {
  namespace fs = std::filesystem;
  const Gathering& all = gathering(context);
  if (name == nullptr || take == nullptr || all.folder.empty()) {
    return 0;
  }
  const fs::path file(name);
  if (file.empty() || file != file.filename() || file == "." || file == "..") {
    return 0;  // never outside the folder of the input
  }
  const Result<std::string> bytes = model::file_bytes((fs::path(all.folder) / file).string());
  if (!bytes) {
    return 0;
  }
  take(taker, bytes.value().data(), bytes.value().size());
  return 1;
}

using Entry = const ridgeward_importer_table* (*)(std::uint32_t);

}  // namespace

Importer::Importer(std::shared_ptr<const Library> library, const ridgeward_importer_table* table)
    : library_(std::move(library)), table_(table) {}

Result<Importer> Importer::load(const std::string& path) {
  Result<std::shared_ptr<Library>> library =
      Library::open(path, "importer", RIDGEWARD_IMPORTER_SYMBOL);
  if (!library) {
    return library.faults();
  }
  const ridgeward_importer_table* table = library.value()->entry<Entry>()(RIDGEWARD_IMPORTER_ABI);
  if (table != nullptr && table->abi == RIDGEWARD_IMPORTER_ABI && table->size < least_table) {
    return Fault{
        "importer.version", "",
        fmt::format("{} has a table of {} bytes, and it takes {}", path, table->size, least_table),
        "set the table's size to sizeof(struct ridgeward_importer_table)"};
  }
  if (table == nullptr || table->abi != RIDGEWARD_IMPORTER_ABI) {
    return Fault{"importer.version", "",
                 table == nullptr ? path + " does not work with this version of the program"
                                  : fmt::format("{} speaks version {} of the importer's contract",
                                                path, table->abi),
                 fmt::format("build it against version {}", RIDGEWARD_IMPORTER_ABI)};
  }
  if (table->name == nullptr || table->read == nullptr || table->sniff == nullptr) {
    return Fault{"importer.version", "", path + " leaves out its name, sniff or read",
                 "fill in the whole table"};
  }
  return Importer(std::move(library).value(), table);
}

std::string Importer::name() const { return table_->name; }
std::string Importer::what() const { return text_or(table_->what, ""); }

int Importer::sniff(std::string_view head, const std::string& file_name) const {
  return std::clamp(table_->sniff(head.data(), head.size(), file_name.c_str()), 0, 100);
}

namespace {

/// Faults of one read; empty when it gave what was wanted.
Faults run(const ridgeward_importer_table& table, std::string_view bytes,
           const std::string& options, Gathering& all) {
  ridgeward_host host{};
  host.size = sizeof(host);
  host.context = &all;
  host.emit = take_json;
  host.fault = take_fault;
  host.note = take_note;
  host.go_on = go_on;
  host.side_file = side_file;
  host.emit_next = all.take_next ? take_next_json : nullptr;
  const int failed = table.read(bytes.data(), bytes.size(), options.c_str(), &host);
  if (all.notes > most_told) {
    all.imported.notes.push_back(
        fmt::format("{} more notes of the importer are left out", all.notes - most_told));
  }
  if (all.is_too_large) {
    return {{"too_large", "", "the importer made more than 64 MiB of model",
             "import a part of the file"}};
  }
  if (failed != 0 && all.faults.empty()) {
    all.faults.push_back({"import.failed", "", "the importer gives no reason",
                          "check that the file is of the kind that it reads"});
  }
  if (all.faults.empty() && !all.has_emitted) {
    all.faults.push_back({"import.nothing", "", "the importer found no roof in the file",
                          "check that the file holds what it reads"});
  }
  return std::move(all.faults);
}

}  // namespace

Result<Imported> Importer::read(std::string_view bytes, const std::string& options,
                                const std::string& folder, const GoOn& go_on) const {
  Gathering all;
  all.folder = folder;
  all.go_on = go_on;
  if (Faults faults = run(*table_, bytes, options, all); !faults.empty()) {
    return faults;
  }
  return std::move(all.imported);
}

Result<std::vector<std::string>> Importer::read_each(
    std::string_view bytes, const std::string& options, const std::string& folder,
    const std::function<void(std::string_view json)>& take, const GoOn& go_on) const {
  Gathering all;
  all.folder = folder;
  all.go_on = go_on;
  all.take_next = take;
  if (Faults faults = run(*table_, bytes, options, all); !faults.empty()) {
    return faults;
  }
  if (!all.imported.json.empty()) {
    take(all.imported.json);
  }
  return std::move(all.imported.notes);
}

}  // namespace ridgeward::plugin
