#pragma once
// Which importers there are, without loading any: each has a small JSON file beside its library.

#include "base/fault.hpp"

#include <string>
#include <vector>

namespace ridgeward::plugin {

/// Something that can be asked of an importer.
struct OptionWords {
  std::string key;    ///< "feature"
  std::string what;   ///< what it does, and what holds without it
  std::string value;  ///< what stands after "=": "N", "degrees or metres"
};

struct Found {
  std::string name;                  ///< "geojson"
  std::string what;                  ///< what it reads, in plain words
  std::vector<std::string> endings;  ///< ".geojson", lower case
  std::vector<OptionWords> options;
  bool gives_each = false;  ///< buildings one by one (emit_next), so that files may be of any size
  std::string library;      ///< path of the shared object
};

struct FoundAll {
  std::vector<Found> importers;  ///< by name; of two with one name the first folder's counts
  Faults
      faults;  ///< importer.description, importer.missing; `where` is the file and the place in it
};

/// Importers in `folders`, which are searched in order and not below; a folder that is not there
/// is passed over, and so are JSON files that don't speak of "ridgeward_importer" or are larger
/// than 64 KiB. An importer whose library is not there is told and not listed. Empty names and
/// relative paths are refused with importer.folder: what is run must not depend on where the
/// program was started.
FoundAll find(const std::vector<std::string>& folders);

/// The folder "importers" beside the executable at `executable`, and in an installed tree
/// "../lib/ridgeward/importers".
std::vector<std::string> folders_beside(const std::string& executable);

}  // namespace ridgeward::plugin
