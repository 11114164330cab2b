#pragma once
// Loads checks of the user's own and runs them on an assessment.

#include "base/fault.hpp"
#include "plugin/limits.hpp"

#include <array>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

struct ridgeward_check_table;

namespace ridgeward::plugin {

class Library;

/// What a check found: ids as they stand in the assessment, empty where it named none.
struct Found3D {
  int severity = 1;  ///< 0 note, 1 warning, 2 error
  std::array<double, 3> at{0.0, 0.0, 0.0};
  std::string plane;
  std::string slot;
  std::string member;
  std::string exhaust;
  std::string measured;
  std::string needed;
  std::string message;
  std::string remedy;
};

/// A loaded check; the library stays loaded as long as this lives.
class OwnCheck {
 public:
  /// Loads the shared object at `path`, which must be a full path.
  /// Faults: check.folder (path not full), check.missing, check.unloadable, check.symbol (it
  /// exports no ridgeward_check), check.version.
  static Result<OwnCheck> load(const std::string& path);

  std::string kind() const;
  std::string words() const;
  /// Runs it on an assessment as JSON (docs/assessment.md). Faults: check.failed when it says so,
  /// or when a finding has no message, a severity of its own or a place that is no number.
  Result<std::vector<Found3D>> run(std::string_view assessment) const;

 private:
  OwnCheck(std::shared_ptr<const Library> library, const ridgeward_check_table* table);
  std::shared_ptr<const Library> library_;
  const ridgeward_check_table* table_;
};

/// What the check of one library found, and its kind.
struct FoundByCheck {
  std::string kind;
  std::vector<Found3D> found;
};

/// Loads the check at `library` and runs it, both in a process of its own (plugin/guard.hpp), so
/// that one that crashes, hangs or eats memory can't take the program down. Faults: those of
/// OwnCheck, and check.crashed, check.hung, check.memory, check.garbled, check.no_process.
Result<FoundByCheck> run_apart(const std::string& library, std::string_view assessment,
                               const Limits& limits = {});

/// Full paths of the checks in a folder, by name: shared objects (".so") that export the symbol of
/// a check. Nothing is loaded into the host for it. Others are passed over; importers may lie
/// beside them. Faults: check.folder where there is no such folder; those of run_apart for a
/// library that dies while it is looked into.
Result<std::vector<std::string>> checks_in(const std::string& folder);

}  // namespace ridgeward::plugin
