#pragma once
// Whole files or none.

#include "base/fault.hpp"

#include <memory>
#include <string>
#include <string_view>

namespace ridgeward::papers {

/// Writes `bytes` beside `path` and renames, so that no half file is ever seen there; "-" is the
/// standard output. A pipe or a device is written to directly; where `path` is a link, the file it
/// points to is replaced. Faults: file.unwritable, its `where` being `path`.
Result<bool> write_whole(const std::string& path, const std::string& bytes);

/// The same for a file that comes piece by piece: what was added is seen at `path` after finish()
/// and not at all without it; the standard output, a pipe or a device get each piece at once.
class WholeFile {
 public:
  /// Faults: file.unwritable.
  static Result<std::unique_ptr<WholeFile>> open(const std::string& path);
  WholeFile(const WholeFile&) = delete;
  WholeFile(WholeFile&&) = delete;
  WholeFile& operator=(const WholeFile&) = delete;
  WholeFile& operator=(WholeFile&&) = delete;
  ~WholeFile();

  /// False when it could not be written; finish() says why.
  bool add(std::string_view bytes);
  Result<bool> finish();

 private:
  struct Held;
  explicit WholeFile(std::unique_ptr<Held> held);
  std::unique_ptr<Held> held_;
};

}  // namespace ridgeward::papers
