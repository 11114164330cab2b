#pragma once
// The open file: its model and assessment as they are now, how they came to be, and whether they
// are saved. No window, no clock.

#include "assess.hpp"
#include "base/fault.hpp"

#include "document/history.hpp"
#include "edit/stage.hpp"

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace ridgeward::document {

/// What models are assessed with.
struct Library {
  model::Catalogue catalogue;
  std::function<Result<codes::CodeSet>(const std::string& id)> code;
};

/// Snapshots never change: who holds one may read it on another thread.
using Snapshot = std::shared_ptr<const Assessment>;

class Document {
 public:
  /// `folder`: where steps go that are too many for memory (StepPile).
  explicit Document(Library library, std::string folder = {})
      : library_(std::move(library)), folder_(std::move(folder)) {}

  bool is_open() const { return now_ != nullptr; }
  /// The model and what is known about it. REQUIRES is_open().
  const Snapshot& now() const { return now_; }
  /// False while airflow and takeoff of now() are still missing (Depth::live).
  bool is_whole() const { return is_whole_; }
  /// Another number after every change.
  std::uint64_t revision() const { return revision_; }

  const std::string& path() const { return path_; }  ///< empty where it has no file yet
  bool is_dirty() const;
  const Library& library() const { return library_; }

  /// Takes a model as read from the file at `path`. Faults of assess(); the document is as before
  /// then.
  Faults open(const model::RoofModel& model, std::string path);
  /// Takes a model that is in no file, or differs from the one at `path`: it is not saved.
  Faults begin(const model::RoofModel& model, std::string path);

  /// Takes what is assessed already, as begin(); `whole` with airflow and takeoff.
  void begin(Snapshot whole, std::string path);

  /// One edit as one step called `name`; with equal `merge` it becomes one with the step before
  /// (History::take). Faults of edit::edited and assess(); the document is as before then. Gives
  /// what the edit did beside what was asked for.
  Result<std::vector<std::string>> apply(const edit::Edit& edit, std::string name,
                                         std::string merge = {});
  /// Another model as one step. Faults of assess().
  Faults replace(const model::RoofModel& model, std::string name);
  void let_go() { history_.let_go(); }

  const History& history() const { return history_; }
  /// REQUIRES that there is a step.
  void undo();
  void redo();

  /// The bytes of the file as it would be saved now.
  const std::string& text() const { return history_.text(); }
  /// Writes the file whole or not at all; it is saved from then on, and lies at `path`.
  /// Faults: file.unwritable.
  Faults save(const std::string& path);

  /// Takes airflow and takeoff that were worked out for `revision`; nothing where the model has
  /// changed since.
  void complete(Snapshot whole, std::uint64_t revision);
  /// All of the assessment of now(), to be worked out on any thread.
  std::function<Snapshot()> whole_work() const;

 private:
  Faults start(const model::RoofModel& model, std::string path, bool is_saved);
  Result<Assessment> assessed(const model::RoofModel& model, bool vents_only) const;
  void show(Assessment assessment);
  void go_to_text();

  Library library_;
  std::string folder_;
  Snapshot now_;
  bool is_whole_ = false;
  std::uint64_t revision_ = 0;
  std::string path_;
  History history_;
  std::string saved_;  ///< text of the file
  bool has_saved_ = false;
  model::RoofModel base_;  ///< as it was before the first step, with what its reader assumed
};

}  // namespace ridgeward::document
