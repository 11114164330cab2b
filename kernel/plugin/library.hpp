#pragma once
// A shared object that is loaded as long as this lives. Private to this folder.

#include "base/fault.hpp"

#include <cstring>
#include <dlfcn.h>
#include <filesystem>
#include <memory>
#include <string>
#include <system_error>

namespace ridgeward::plugin {

class Library {
 public:
  explicit Library(void* opened) : handle_(opened) {}
  Library(const Library&) = delete;
  Library(Library&&) = delete;
  Library& operator=(const Library&) = delete;
  Library& operator=(Library&&) = delete;
  ~Library() { dlclose(handle_); }

  /// Opens the shared object at `path` and finds the function `symbol` in it. `kind` is "importer"
  /// or "check" and opens the codes. Faults: KIND.folder (path not full), KIND.missing,
  /// KIND.unloadable, KIND.symbol.
  static Result<std::shared_ptr<Library>> open(const std::string& path, const std::string& kind,
                                               const char* symbol) {
    if (!std::filesystem::path(path).is_absolute()) {
      return Fault{kind + ".folder", "", "\"" + path + "\" is no full path of a plugin",
                   "give the whole path, from the root"};
    }
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) {
      return Fault{kind + ".missing", "", "there is no " + kind + " " + path,
                   "build it, or remove what names it"};
    }
    void* handle = dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
    if (handle == nullptr) {
      const char* why = dlerror();
      return Fault{kind + ".unloadable", "",
                   path + " can't be loaded: " + (why != nullptr ? why : "?"),
                   "build it for this machine and this version of the program"};
    }
    auto library = std::make_shared<Library>(handle);
    library->entry_ = dlsym(handle, symbol);
    if (library->entry_ == nullptr) {
      return Fault{kind + ".symbol", "", path + " is no " + kind + " of this program",
                   "it must export the function " + std::string(symbol)};
    }
    return library;
  }

  /// The function that open() found. REQUIRES that it is of type Entry.
  template <class Entry>
  Entry entry() const {
    Entry found = nullptr;
    std::memcpy(&found, &entry_, sizeof(found));  // the sanctioned way from data to function
    return found;
  }

 private:
  void* handle_;
  void* entry_ = nullptr;
};

inline std::string text_or(const char* text, const char* otherwise) {
  return text != nullptr ? text : otherwise;
}

}  // namespace ridgeward::plugin
