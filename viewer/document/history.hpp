#pragma once
// Steps of an open file, forward and back, without an end.

#include <cstddef>
#include <deque>
#include <memory>
#include <string>
#include <vector>

namespace ridgeward::document {

/// One change of a text.
struct Step {
  std::string name;
  std::string merge;
  std::size_t at = 0;  ///< from where the texts differ
  std::string before;
  std::string after;
};

/// A pile of steps of any height in little memory: what lies deep goes to a file that no other
/// program sees and that is gone with this one in whatever way it ends. Where no file can be
/// written all of it stays in memory.
class StepPile {
 public:
  /// The file is made in `folder` when it is needed; empty: in the system's folder for such files.
  explicit StepPile(std::string folder = {}) : folder_(std::move(folder)) {}

  std::size_t size() const { return near_.size() + deep_.size(); }
  bool empty() const { return size() == 0; }
  /// REQUIRES that it is not empty.
  const Step& top() const { return near_.back(); }
  void put(Step step);
  /// REQUIRES that it is not empty.
  Step take();
  void clear();
  /// Of the steps in memory, in bytes.
  std::size_t held_bytes() const { return held_; }

  /// Steps in memory beyond this go to the file, down to half of it.
  static constexpr std::size_t most_held = std::size_t{1} << 20U;

 private:
  struct File;
  void lay_down();
  void lift_up();

  std::string folder_;
  std::deque<Step> near_;          ///< the top; empty only when the pile is
  std::vector<std::size_t> deep_;  ///< where each step below lies in the file
  std::size_t end_ = 0;            ///< of what the file holds
  std::size_t held_ = 0;
  std::shared_ptr<File> file_;
  bool has_file_ = true;  ///< false when none could be written
};

/// A text that changes step by step. Every step keeps only what it changed; memory stays bounded
/// however many there are, but for a number each.
class History {
 public:
  /// `folder`: as of StepPile.
  explicit History(std::string text = {}, const std::string& folder = {})
      : text_(std::move(text)), done_(folder), undone_(folder) {}
  History(const History&) = delete;
  History& operator=(const History&) = delete;
  History(History&&) = default;
  History& operator=(History&&) = default;
  ~History() = default;

  const std::string& text() const { return text_; }

  /// The text is `text` from now on; the step is called `name`. A text that is equal is no step.
  /// A step with the same `merge` as the one before, with no let_go() between, becomes one with it
  /// (a drag); empty: never. Steps that were undone are forgotten.
  void take(std::string text, std::string name, std::string merge);
  /// Ends a drag: the next step is one of its own.
  void let_go() { is_open_ = false; }

  bool can_undo() const { return !done_.empty(); }
  bool can_redo() const { return !undone_.empty(); }
  /// Of the step that undo() or redo() would take. REQUIRES that there is one.
  const std::string& undo_name() const { return done_.top().name; }
  const std::string& redo_name() const { return undone_.top().name; }
  /// REQUIRES can_undo(), can_redo().
  void undo();
  void redo();
  /// Steps done, and all of them.
  std::size_t done() const { return done_.size(); }
  std::size_t size() const { return done_.size() + undone_.size(); }
  /// Of the steps in memory.
  std::size_t held_bytes() const { return done_.held_bytes() + undone_.held_bytes(); }

 private:
  static Step between(const std::string& before, const std::string& after);

  std::string text_;
  StepPile done_;
  StepPile undone_;
  bool is_open_ = false;
};

}  // namespace ridgeward::document
