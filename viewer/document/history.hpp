#pragma once
// Steps of an open file, forward and back, without an end.

#include <cstddef>
#include <string>
#include <vector>

namespace ridgeward::document {

/// A text that changes step by step. Every step keeps only what it changed, so that thousands of
/// them take little memory.
class History {
 public:
  explicit History(std::string text = {}) : text_(std::move(text)) {}

  const std::string& text() const { return text_; }

  /// The text is `text` from now on; the step is called `name`. A text that is equal is no step.
  /// A step with the same `merge` as the one before, with no let_go() between, becomes one with it
  /// (a drag); empty: never. Steps that were undone are forgotten.
  void take(std::string text, std::string name, std::string merge);
  /// Ends a drag: the next step is one of its own.
  void let_go() { is_open_ = false; }

  bool can_undo() const { return done_ > 0; }
  bool can_redo() const { return done_ < steps_.size(); }
  /// Of the step that undo() or redo() would take. REQUIRES that there is one.
  const std::string& undo_name() const { return steps_[done_ - 1].name; }
  const std::string& redo_name() const { return steps_[done_].name; }
  /// REQUIRES can_undo(), can_redo().
  void undo();
  void redo();
  /// Steps done, and all of them.
  std::size_t done() const { return done_; }
  std::size_t size() const { return steps_.size(); }

 private:
  struct Step {
    std::string name;
    std::string merge;
    std::size_t at = 0;  ///< from where the texts differ
    std::string before;
    std::string after;
  };
  static Step between(const std::string& before, const std::string& after);

  std::string text_;
  std::vector<Step> steps_;
  std::size_t done_ = 0;
  bool is_open_ = false;
};

}  // namespace ridgeward::document
