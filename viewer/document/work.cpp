#include "document/work.hpp"

#include "base/fault.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <csignal>
#include <exception>
#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <string_view>
#include <sys/wait.h>
#include <unistd.h>
#include <utility>

extern char** environ;  // NOLINT: POSIX gives it no header of its own

namespace ridgeward::document {

namespace {

constexpr int look_again_ms = 50;
constexpr std::string_view progress_mark = "progress ";
constexpr std::size_t most_output = std::size_t{1} << 20U;  // of each stream is kept

/// One end of a pipe to read from.
class Stream {
 public:
  explicit Stream(int handle) : handle_(handle) {}
  Stream(const Stream&) = delete;
  Stream& operator=(const Stream&) = delete;
  ~Stream() { end(); }
  bool is_open() const { return handle_ >= 0; }
  int handle() const { return handle_; }
  void take(std::string& text) {
    std::array<char, 4096> bytes{};
    const ssize_t count = read(handle_, bytes.data(), bytes.size());
    if (count <= 0) {
      end();
    } else if (text.size() < most_output) {
      text.append(bytes.data(), static_cast<std::size_t>(count));
    }
  }

 private:
  void end() {
    if (handle_ >= 0) {
      close(handle_);
      handle_ = -1;
    }
  }
  int handle_;
};

/// Reads both streams until they end; tells what one has said so far after each piece of it.
void read_all(Stream& output, Stream& errors, Ended& ended,
              const std::function<void(const std::string&)>& tell) {
  while (output.is_open() || errors.is_open()) {
    std::array<pollfd, 2> ready{pollfd{output.handle(), POLLIN, 0},
                                pollfd{errors.handle(), POLLIN, 0}};
    if (poll(ready.data(), ready.size(), look_again_ms) < 0) {
      continue;
    }
    if (output.is_open() && ready[0].revents != 0) {
      output.take(ended.output);
      tell(ended.output);
    }
    if (errors.is_open() && ready[1].revents != 0) {
      errors.take(ended.errors);
      tell(ended.errors);
    }
  }
}

/// Without the lines that only tell how far it is.
std::string without_progress(const std::string& text) {
  std::string rest;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size() - 1) + 1;
    if (text.compare(at, progress_mark.size(), progress_mark) != 0) {
      rest.append(text, at, end - at);
    }
    at = end;
  }
  return rest;
}

/// The number that opens `text`, and what comes after it.
std::optional<std::pair<double, std::string_view>> number_of(std::string_view text) {
  double number = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc()) {
    return std::nullopt;
  }
  return std::pair(number, text.substr(static_cast<std::size_t>(end - text.data())));
}

}  // namespace

std::string last_progress(const std::string& output) {
  std::size_t end = output.rfind('\n');
  while (end != output.npos) {
    const std::size_t before = end == 0 ? output.npos : output.rfind('\n', end - 1);
    const std::size_t start = before == output.npos ? 0 : before + 1;
    if (output.compare(start, progress_mark.size(), progress_mark) == 0) {
      const std::size_t words = start + progress_mark.size();
      return output.substr(words, end - words);
    }
    end = before;
  }
  return {};
}

std::optional<double> share_of(const std::string& progress) {
  const auto done = number_of(progress);
  if (!done) {
    return std::nullopt;
  }
  const std::string_view rest = done->second;
  double all = 0.0;
  if (rest.starts_with(" %")) {
    all = 100.0;
  } else if (rest.starts_with(" of ")) {
    all = number_of(rest.substr(4)).value_or(std::pair(0.0, std::string_view())).first;
  }
  return all > 0.0 ? std::optional(std::clamp(done->first / all, 0.0, 1.0)) : std::nullopt;
}

std::string Work::progress() const {
  if (task_ == nullptr) {
    return {};
  }
  const std::lock_guard<std::mutex> lock(task_->mutex_);
  return task_->progress_;
}

Ended Task::run(const std::vector<std::string>& words) {
  Ended ended;
  std::array<int, 2> out{};
  std::array<int, 2> err{};
  if (is_cancelled_ || pipe2(out.data(), O_CLOEXEC) != 0) {
    return ended;
  }
  if (pipe2(err.data(), O_CLOEXEC) != 0) {
    close(out[0]);
    close(out[1]);
    return ended;
  }
  Stream output(out[0]);
  Stream errors(err[0]);
  std::vector<std::string> copies = words;
  std::vector<char*> arguments;
  arguments.reserve(copies.size() + 1);
  for (std::string& word : copies) {
    arguments.push_back(word.data());
  }
  arguments.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_adddup2(&actions, out[1], 1);
  posix_spawn_file_actions_adddup2(&actions, err[1], 2);
  pid_t child = 0;
  const int failed =
      posix_spawnp(&child, arguments.front(), &actions, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  close(out[1]);
  close(err[1]);
  if (failed != 0) {
    return ended;
  }
  child_ = child;
  if (is_cancelled_) {
    kill(child, SIGTERM);
  }
  read_all(output, errors, ended, [this](const std::string& so_far) {
    std::string last = last_progress(so_far);
    const std::lock_guard<std::mutex> lock(mutex_);
    progress_ = last.empty() ? progress_ : std::move(last);
  });
  ended.errors = without_progress(ended.errors);
  // Its number is not given to another as long as it is not waited for; until then cancel() may
  // use it.
  siginfo_t info{};
  while (waitid(P_PID, static_cast<id_t>(child), &info, WEXITED | WNOWAIT) != 0 && errno == EINTR) {
  }
  child_ = 0;
  int status = 0;
  while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  ended.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return ended;
}

Work::~Work() {
  cancel();
  if (thread_.joinable()) {
    thread_.join();
  }
}

void Work::start(std::string name, Job job) {
  ensure(!is_busy(), "one thing is worked at at a time");
  name_ = std::move(name);
  task_ = std::make_shared<Task>();
  after_ = std::make_shared<After>();
  thread_ = std::thread([task = task_, after = after_, wake = wake_, job = std::move(job)] {
    try {
      *after = job(*task);
    } catch (...) {
      // The drawing thread is where such things are told.
      *after = [failure = std::current_exception()] { std::rethrow_exception(failure); };
    }
    task->is_over_ = true;
    wake();
  });
}

void Work::cancel() {
  if (task_ != nullptr) {
    task_->is_cancelled_ = true;
    if (const int child = task_->child_; child > 0) {
      kill(child, SIGTERM);
    }
  }
}

bool Work::take() {
  if (task_ == nullptr || !task_->is_over_) {
    return false;
  }
  thread_.join();
  const bool is_wanted = !task_->is_cancelled_ || task_->is_kept_;
  const After after = std::move(*after_);
  task_.reset();
  after_.reset();
  if (is_wanted && after) {
    after();
  }
  return true;
}

}  // namespace ridgeward::document
