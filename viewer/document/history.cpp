#include "document/history.hpp"

#include "base/fault.hpp"

#include <algorithm>

namespace ridgeward::document {

History::Step History::between(const std::string& before, const std::string& after) {
  const std::size_t most = std::min(before.size(), after.size());
  std::size_t head = 0;
  while (head < most && before[head] == after[head]) {
    ++head;
  }
  std::size_t tail = 0;
  while (tail < most - head && before[before.size() - 1 - tail] == after[after.size() - 1 - tail]) {
    ++tail;
  }
  Step step;
  step.at = head;
  step.before = before.substr(head, before.size() - head - tail);
  step.after = after.substr(head, after.size() - head - tail);
  return step;
}

void History::take(std::string text, std::string name, std::string merge) {
  if (text == text_) {
    return;
  }
  const bool goes_on = is_open_ && done_ > 0 && done_ == steps_.size() && !merge.empty() &&
                       steps_.back().merge == merge;
  if (goes_on) {
    undo();
  }
  steps_.resize(done_);
  is_open_ = true;
  if (text == text_) {
    return;  // a drag that came back to where it began
  }
  Step step = between(text_, text);
  step.name = std::move(name);
  step.merge = std::move(merge);
  steps_.push_back(std::move(step));
  ++done_;
  text_ = std::move(text);
}

void History::undo() {
  ensure(can_undo(), "there is a step to undo");
  const Step& step = steps_[--done_];
  text_.replace(step.at, step.after.size(), step.before);
  is_open_ = false;
}

void History::redo() {
  ensure(can_redo(), "there is a step to do again");
  const Step& step = steps_[done_++];
  text_.replace(step.at, step.before.size(), step.after);
  is_open_ = false;
}

}  // namespace ridgeward::document
