#pragma once
// Runs importers in a process of their own, so that a hostile file or a careless importer can't
// take the program down: what crashes, hangs or eats memory there becomes a fault here.

#include "base/fault.hpp"
#include "plugin/limits.hpp"
#include "plugin/load.hpp"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::plugin {

/// What is asked of an importer.
struct Job {
  std::string_view bytes;  ///< the file
  std::string options;     ///< lines "key=value"
  std::string folder;      ///< where side files may lie; empty: none are given
  GoOn go_on{};            ///< called here, not in the child; false ends the child at once
};

/// The child loads the library, does the work and sends the answer through a pipe; only a whole
/// answer counts. Faults: those of Importer::load and Importer::read, and importer.crashed,
/// importer.hung, importer.memory, importer.garbled (ended without a whole answer),
/// importer.no_process, importer.stopped (`go_on` said so).
Result<Imported> read_apart(const std::string& library, const Job& job, const Limits& limits = {});

/// Takes one model, or the planes of one building, as JSON that nothing has checked yet; false
/// stops the reading.
using TakeEach = std::function<bool(std::string json)>;

/// Reads a file of many buildings one by one; an importer that does not part them gives one model
/// of all. Each is handed on as it comes, so that memory stays that of one building; what was taken
/// counts only if no fault comes back. Returns the notes. Faults as those of read_apart.
Result<std::vector<std::string>> read_each_apart(const std::string& library, const Job& job,
                                                 const Limits& limits, const TakeEach& take);

/// How sure the importer is of a file, 0 to 100, likewise.
Result<int> sniff_apart(const std::string& library, std::string_view head,
                        const std::string& file_name, const Limits& limits = {});

}  // namespace ridgeward::plugin
