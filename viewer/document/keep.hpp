#pragma once
// What outlives the window: a copy of unsaved work in the user's state folder, recent files and
// the layout in the user's configuration folder (XDG base directories).

#include "base/fault.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace ridgeward::document {

/// `$XDG_STATE_HOME/ridgeward` or `~/.local/state/ridgeward`; empty where neither is known.
std::string state_folder();
/// `$XDG_CONFIG_HOME/ridgeward` or `~/.config/ridgeward`, likewise.
std::string config_folder();

/// Unsaved work of a program that is no more.
struct Recovered {
  std::string file;   ///< the copy
  std::string path;   ///< of the file it was; empty where it had none
  std::string model;  ///< text of a model file
};

/// Keeps a copy of one window's work. Only the program that made a copy may throw it away while it
/// runs: a lock beside it tells, which the system opens when the program ends in whatever way.
class Recovery {
 public:
  /// In `folder`, which is made where it is not there; empty: keeps nothing.
  explicit Recovery(std::string folder);
  Recovery(const Recovery&) = delete;
  Recovery& operator=(const Recovery&) = delete;
  ~Recovery();

  /// Writes the copy, whole or not at all. Faults: file.unwritable.
  Faults keep(const std::string& path, const std::string& model);
  /// Nothing needs to be recovered any more.
  void drop();
  /// The newest copy in the folder whose program is no more.
  std::optional<Recovered> found() const;
  /// Throws a copy away.
  static void discard(const Recovered& recovered);

 private:
  std::string folder_;
  std::string file_;
  int lock_ = -1;
};

/// Remembered between runs.
struct Settings {
  std::vector<std::string> recent;           ///< full paths, the newest first
  std::map<std::string, std::string> words;  ///< by name: "units", "layers", ...
};
/// How many recent files are remembered.
inline constexpr std::size_t most_recent = 12;

/// What is remembered in `folder`; empty where nothing can be read.
Settings read_settings(const std::string& folder);
/// Faults: file.unwritable. Nothing for an empty folder.
Faults write_settings(const std::string& folder, const Settings& settings);
/// Puts `path` first.
void remember(Settings& settings, const std::string& path);

}  // namespace ridgeward::document
