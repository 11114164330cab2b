#include "plugin/load.hpp"

#include "model/file_bytes.hpp"
#include "model/json_cursor.hpp"
#include "plugin/importer_abi.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <dlfcn.h>
#include <filesystem>
#include <utility>

namespace ridgeward::plugin {

namespace {

/// Least size of a table: up to and with read().
constexpr std::size_t least_table = sizeof(ridgeward_importer_table);
constexpr std::size_t most_told = 200;

std::string text_or(const char* text, const char* otherwise) {
  return text != nullptr ? text : otherwise;
}

/// What one read() gathers; the `context` of the host's functions.
struct Gathering {
  Imported imported;
  Faults faults;
  std::string folder;
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

void take_fault(void* context, const char* where, const char* what, const char* cure) {
  Gathering& all = gathering(context);
  if (all.faults.size() < most_told) {
    all.faults.push_back({"import.failed", text_or(where, ""),
                          text_or(what, "the importer gives no reason"), text_or(cure, "")});
  }
}

void take_note(void* context, const char* words) {
  Gathering& all = gathering(context);
  if (words != nullptr && all.imported.notes.size() < most_told) {
    all.imported.notes.emplace_back(words);
  }
}

int go_on(void* /*context*/, double /*share_done*/) { return 1; }

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

struct Importer::Library {
  explicit Library(void* opened) : handle(opened) {}
  Library(const Library&) = delete;
  Library(Library&&) = delete;
  Library& operator=(const Library&) = delete;
  Library& operator=(Library&&) = delete;
  ~Library() { dlclose(handle); }

  void* handle;
  const ridgeward_importer_table* table = nullptr;
};

Importer::Importer(std::unique_ptr<Library> library) : library_(std::move(library)) {}
Importer::Importer(Importer&&) noexcept = default;
Importer& Importer::operator=(Importer&&) noexcept = default;
Importer::~Importer() = default;

Result<Importer> Importer::load(const std::string& path) {
  if (!std::filesystem::path(path).is_absolute()) {
    return Fault{"importer.folder", "", "\"" + path + "\" is no full path of an importer",
                 "give the whole path, from the root"};
  }
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) {
    return Fault{"importer.missing", "", "there is no importer " + path,
                 "build it, or remove its description"};
  }
  void* handle = dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
  if (handle == nullptr) {
    return Fault{"importer.unloadable", "", path + " can't be loaded: " + text_or(dlerror(), "?"),
                 "build it for this machine and this version of the program"};
  }
  auto library = std::make_unique<Library>(handle);
  void* symbol = dlsym(handle, RIDGEWARD_IMPORTER_SYMBOL);
  if (symbol == nullptr) {
    return Fault{"importer.symbol", "", path + " is no importer of this program",
                 "it must export the function " RIDGEWARD_IMPORTER_SYMBOL};
  }
  Entry entry = nullptr;
  std::memcpy(&entry, &symbol, sizeof(entry));  // the sanctioned way from data to function pointer
  library->table = entry(RIDGEWARD_IMPORTER_ABI);
  const ridgeward_importer_table* table = library->table;
  if (table == nullptr || table->abi != RIDGEWARD_IMPORTER_ABI || table->size < least_table) {
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
  return Importer(std::move(library));
}

std::string Importer::name() const { return library_->table->name; }
std::string Importer::what() const { return text_or(library_->table->what, ""); }

int Importer::sniff(std::string_view head, const std::string& file_name) const {
  return std::clamp(library_->table->sniff(head.data(), head.size(), file_name.c_str()), 0, 100);
}

Result<Imported> Importer::read(std::string_view bytes, const std::string& options,
                                const std::string& folder) const {
  Gathering all;
  all.folder = folder;
  ridgeward_host host{};
  host.size = sizeof(host);
  host.context = &all;
  host.emit = take_json;
  host.fault = take_fault;
  host.note = take_note;
  host.go_on = go_on;
  host.side_file = side_file;
  const int failed = library_->table->read(bytes.data(), bytes.size(), options.c_str(), &host);
  if (all.is_too_large) {
    return Fault{"too_large", "", "the importer made more than 64 MiB of model",
                 "import a part of the file"};
  }
  if (failed != 0 && all.faults.empty()) {
    all.faults.push_back({"import.failed", "", "the importer gives no reason",
                          "check that the file is of the kind that it reads"});
  }
  if (!all.faults.empty()) {
    return std::move(all.faults);
  }
  if (!all.has_emitted) {
    return Fault{"import.nothing", "", "the importer found no roof in the file",
                 "check that the file holds what it reads"};
  }
  return std::move(all.imported);
}

}  // namespace ridgeward::plugin
