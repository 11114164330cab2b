#include "command/line_up.hpp"

#include <iostream>
#include <unistd.h>

namespace ridgeward::command {

LineUp::LineUp(unsigned jobs, std::string noun, Answer answer, PutOut put_out)
    : noun_(std::move(noun)),
      answer_(std::move(answer)),
      put_out_(std::move(put_out)),
      jobs_(jobs),
      has_screen_(!noun_.empty() && ::isatty(STDERR_FILENO) != 0) {}

LineUp::~LineUp() { finish(); }

void LineUp::put(std::string line) {
  while (workers_.size() < jobs_) {
    workers_.emplace_back([this] { work(); });
  }
  std::unique_lock<std::mutex> lock(mutex_);
  changed_.wait(lock, [this] { return next_in_ - next_out_ < ahead; });
  waiting_.emplace_back(next_in_++, std::move(line));
  changed_.notify_all();
}

void LineUp::finish() {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    is_last_ = true;
  }
  changed_.notify_all();
  for (std::thread& worker : workers_) {
    worker.join();
  }
  workers_.clear();
}

void LineUp::show_progress() const {
  if (has_screen_ && next_out_ > 0) {
    std::cerr << '\r' << next_out_ << ' ' << noun_
              << (is_last_ && next_out_ == next_in_ ? "\n" : "");
  }
}

void LineUp::work() {
  for (;;) {
    std::unique_lock<std::mutex> lock(mutex_);
    changed_.wait(lock, [this] { return !waiting_.empty() || is_last_; });
    if (waiting_.empty()) {
      return;
    }
    auto [number, line] = std::move(waiting_.front());
    waiting_.pop_front();
    lock.unlock();
    std::string text = answer_(line);
    lock.lock();
    done_.emplace(number, std::move(text));
    while (!done_.empty() && done_.begin()->first == next_out_) {
      put_out_(done_.begin()->second);
      done_.erase(done_.begin());
      ++next_out_;
    }
    show_progress();
    changed_.notify_all();
  }
}

}  // namespace ridgeward::command
