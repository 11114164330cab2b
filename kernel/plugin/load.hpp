#pragma once
// Loads one importer and runs it.

#include "base/fault.hpp"

#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

struct ridgeward_importer_table;

namespace ridgeward::plugin {

class Library;

/// Told what share of the file is read, 0 to 1, in whole hundredths that only grow; false: stop.
using GoOn = std::function<bool(double share_done)>;

/// What an importer gave: model JSON that nothing has checked yet, and what it assumed.
struct Imported {
  std::string json;
  std::vector<std::string> notes;
};

/// A loaded importer; the library stays loaded as long as this lives.
class Importer {
 public:
  /// Loads the shared object at `path`, which must be a full path.
  /// Faults: importer.folder (path not full), importer.missing, importer.unloadable,
  /// importer.symbol (it exports no ridgeward_importer), importer.version.
  static Result<Importer> load(const std::string& path);

  std::string name() const;
  std::string what() const;
  /// How sure it is, 0 to 100, that it can read a file of this name that starts with `head`.
  int sniff(std::string_view head, const std::string& file_name) const;
  /// Model JSON for `bytes`. `options`: lines "key=value". Side files are looked for in `folder`
  /// only; empty: none are given. `go_on` may be empty; an importer that is told to stop ends with
  /// what it has.
  /// Faults: import.failed with the importer's own where, what and cure; import.nothing when it
  /// claims success and emitted nothing; too_large over 64 MiB of JSON.
  Result<Imported> read(std::string_view bytes, const std::string& options,
                        const std::string& folder, const GoOn& go_on = {}) const;
  /// Likewise, building by building where the importer parts them; `take` is called with the JSON
  /// of each. Returns the notes. Faults as above; too_large for one building of more.
  Result<std::vector<std::string>> read_each(std::string_view bytes, const std::string& options,
                                             const std::string& folder,
                                             const std::function<void(std::string_view json)>& take,
                                             const GoOn& go_on = {}) const;

 private:
  Importer(std::shared_ptr<const Library> library, const ridgeward_importer_table* table);
  std::shared_ptr<const Library> library_;
  const ridgeward_importer_table* table_;
};

}  // namespace ridgeward::plugin
