#include "plugin/apart.hpp"

#include "base/utf8.hpp"
#include "model/json_cursor.hpp"
#include "plugin/shut_in.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <fstream>
#include <limits>
#include <optional>
#include <poll.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

namespace ridgeward::plugin {

namespace {

using Clock = std::chrono::steady_clock;

constexpr int glance_ms = 5;
constexpr std::size_t most_answer = model::largest_text + (std::size_t{4} << 20U);

/// Cuts what comes through the pipe into texts, each after its size.
class Receiver {
 public:
  void add(const char* data, std::size_t size) { waiting_.append(data, size); }
  std::size_t waiting() const { return waiting_.size() - used_; }

  /// The next `count` texts; none while they are not whole.
  template <std::size_t count>
  std::optional<std::array<std::string, count>> texts() {
    std::array<std::string, count> all;
    std::size_t at = used_;
    for (std::string& text : all) {
      std::uint64_t size = 0;
      if (waiting_.size() - at < sizeof(size)) {
        return std::nullopt;
      }
      std::memcpy(&size, waiting_.data() + at, sizeof(size));
      at += sizeof(size);
      if (waiting_.size() - at < size) {
        return std::nullopt;
      }
      text = waiting_.substr(at, size);
      at += size;
    }
    used_ = at;
    if (used_ > waiting_.size() / 2) {
      waiting_.erase(0, used_);
      used_ = 0;
    }
    return all;
  }

 private:
  std::string waiting_;
  std::size_t used_ = 0;
};

// ---- The child. ----

[[noreturn]] void be_child(int pipe, const Limits& limits,
                           const std::function<void(const Sender&)>& work) {
  shut_in(pipe, limits);
  // Where a library ends the process, what the host would do at its own end is not done here.
  on_exit([](int status, void* /*nothing*/) { _exit(status); }, nullptr);
  const Sender sender(3);
  try {
    work(sender);
    sender.piece("end", "");
  } catch (...) {  // thrown through the C contract, or no memory left to answer
    _exit(1);
  }
  _exit(0);  // no destructors: what the library left behind must not harm a good answer
}

// ---- The parent. ----

std::uint64_t page_bytes() { return static_cast<std::uint64_t>(sysconf(_SC_PAGESIZE)); }

/// Pages that the process holds in memory and are no file's; 0 when it is gone.
std::uint64_t pages_of(pid_t process) {
  std::ifstream file(fmt::format("/proc/{}/statm", process));
  std::uint64_t mapped = 0;
  std::uint64_t resident = 0;
  std::uint64_t of_files = 0;
  file >> mapped >> resident >> of_files;
  return file && resident > of_files ? resident - of_files : 0;
}

enum class End { by_itself, hung, memory, too_large, unwanted };

/// How far the child has come.
struct Run {
  Faults faults;
  bool is_whole = false;
  bool is_garbled = false;
  End end = End::by_itself;
  int status = 0;
  double cpu_s = 0.0;  ///< that it took, once it ended by itself
  std::uint64_t most_memory = 0;
  std::uint64_t received = 0;
  double waited_s = 0.0;
};

class Parent {
 public:
  Parent(const Worker& worker, const Limits& limits, const Take& take)
      : worker_(worker), limits_(limits), take_(take) {}

  /// Follows the child to its end. Its memory counts from what it shared with us at the start.
  Run follow(pid_t child, int pipe) {
    const std::uint64_t at_start = pages_of(getpid());
    bool goes_on = true;
    while (goes_on && run_.end == End::by_itself) {
      goes_on = wait_and_read(pipe);
      const std::uint64_t pages = pages_of(child);
      const std::uint64_t own = pages > at_start ? pages - at_start : 0;
      run_.most_memory = std::max(run_.most_memory, own * page_bytes());
      run_.end = judge();
      hand_on();
    }
    end(child);
    return std::move(run_);
  }

 private:
  /// False at the end of the answer.
  bool wait_and_read(int pipe) {
    const Clock::time_point started = Clock::now();
    pollfd waiting{pipe, POLLIN, 0};
    bool goes_on = true;
    if (poll(&waiting, 1, glance_ms) > 0) {
      std::array<char, 65536> piece{};
      const ssize_t size = read(pipe, piece.data(), piece.size());
      if (size > 0) {
        receiver_.add(piece.data(), static_cast<std::size_t>(size));
        run_.received += static_cast<std::uint64_t>(size);
      }
      goes_on = size > 0 || (size < 0 && errno == EINTR);
    }
    run_.waited_s += std::chrono::duration<double>(Clock::now() - started).count();
    return goes_on;
  }

  /// Why the child must be ended now.
  End judge() const {
    if (run_.waited_s > limits_.wall_s) {
      return End::hung;
    }
    if (run_.most_memory > limits_.memory_bytes) {
      return End::memory;
    }
    const std::uint64_t size = worker_.is_endless ? receiver_.waiting() : run_.received;
    return size > most_answer ? End::too_large : End::by_itself;
  }

  void hand_on() {
    while (run_.end == End::by_itself && !run_.is_garbled) {
      if (const auto fault = is_fault_ ? receiver_.texts<4>() : std::nullopt) {
        const auto& [code, where, what, cure] = *fault;
        run_.faults.push_back({as_line(code), as_line(where), as_line(what), as_line(cure)});
        is_fault_ = false;
        continue;
      }
      auto piece = is_fault_ ? std::nullopt : receiver_.texts<2>();
      if (!piece) {
        return;
      }
      is_fault_ = piece->front() == "fault";
      run_.is_garbled = run_.is_whole;  // nothing comes after the end
      run_.is_whole = piece->front() == "end";
      if (!is_fault_ && !run_.is_whole &&
          !take_({std::move((*piece)[0]), std::move((*piece)[1])})) {
        run_.end = End::unwanted;
      }
    }
  }

  /// A child that closes the pipe and goes on is ended too: its answer is whole or never will be.
  void end(pid_t child) {
    for (int tries = 0; run_.end == End::by_itself && tries < 200; ++tries) {
      rusage used{};
      if (wait4(child, &run_.status, WNOHANG, &used) == child) {
        run_.cpu_s = static_cast<double>(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
                     1e-6 * static_cast<double>(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
        kill(-child, SIGKILL);  // what it may have started itself
        return;
      }
      usleep(tries < 20 ? 200U : 5000U);
    }
    kill(-child, SIGKILL);
    kill(child, SIGKILL);
    while (waitpid(child, &run_.status, 0) < 0 && errno == EINTR) {
    }
  }

  const Worker& worker_;
  const Limits& limits_;
  const Take& take_;
  Receiver receiver_;
  bool is_fault_ = false;
  Run run_;
};

std::string told(int status) {
  if (WIFSIGNALED(status)) {
    return fmt::format("it crashed ({})", strsignal(WTERMSIG(status)));
  }
  return fmt::format("it ended by itself (status {})", WEXITSTATUS(status));
}

Fault fault_of(const Run& run, const Worker& worker, const Limits& limits) {
  const std::string who = "the " + worker.kind + " " + worker.library + ": ";
  const std::string less = worker.kind == "importer"
                               ? "import a part of the file, or another importer with --with"
                               : "leave it out, or tell whoever wrote it";
  // One that ignores the first signal is killed a little later.
  const bool is_out_of_time =
      WIFSIGNALED(run.status) && (WTERMSIG(run.status) == SIGXCPU ||
                                  (WTERMSIG(run.status) == SIGKILL && run.cpu_s > limits.cpu_s));
  if (run.end == End::hung || is_out_of_time) {
    return {worker.kind + ".hung", "",
            who + fmt::format("it gave no answer within {:g} s",
                              is_out_of_time ? limits.cpu_s : limits.wall_s),
            less};
  }
  if (run.end == End::memory) {
    return {worker.kind + ".memory", "",
            who + fmt::format("it took more than {} MiB of memory", limits.memory_bytes >> 20U),
            less};
  }
  if (run.end == End::too_large) {
    return {"too_large", "", who + "its answer is larger than 64 MiB", less};
  }
  if (WIFSIGNALED(run.status) && WTERMSIG(run.status) == SIGXFSZ) {
    return {worker.kind + ".crashed", "", who + "it tried to write a file, which it may not",
            "leave it out, or tell whoever wrote it"};
  }
  if (run.status != 0 && worker.kind == "importer") {
    return {"importer.crashed", "",
            who + told(run.status) + ": most likely the file is damaged or cut short",
            "fetch or export it again; if it is whole, tell whoever wrote the importer"};
  }
  if (run.status != 0) {
    return {worker.kind + ".crashed", "", who + told(run.status),
            "check that the input is whole; tell whoever wrote the " + worker.kind};
  }
  return {worker.kind + ".garbled", "", who + "it ended without a whole answer",
          "tell whoever wrote the " + worker.kind};
}

Fault no_process(const Worker& worker, const char* what) {
  return {worker.kind + ".no_process", "", fmt::format("no {}: {}", what, std::strerror(errno)),
          "close other programs and try again"};
}

}  // namespace

void Sender::bytes(const char* data, std::size_t size) const {
  while (size > 0) {
    const ssize_t written = write(pipe_, data, size);
    if (written < 0 && errno != EINTR) {
      _exit(1);  // nobody listens any more
    }
    if (written > 0) {
      data += written;
      size -= static_cast<std::size_t>(written);
    }
  }
}

void Sender::text(std::string_view words) const {
  const std::uint64_t size = words.size();
  bytes(reinterpret_cast<const char*>(&size), sizeof(size));
  bytes(words.data(), words.size());
}

void Sender::piece(std::string_view kind, std::string_view words) const {
  text(kind);
  text(words);
}

void Sender::faults(const Faults& faults) const {
  for (const Fault& fault : faults) {
    piece("fault", "");
    for (const std::string* words : {&fault.code, &fault.where, &fault.what, &fault.cure}) {
      text(*words);
    }
  }
}

Faults apart(const Worker& worker, const Limits& limits,
             const std::function<void(const Sender&)>& work, const Take& take) {
  std::array<int, 2> ends{-1, -1};
  if (pipe2(ends.data(), O_CLOEXEC) != 0) {
    return {no_process(worker, "pipe")};
  }
  const pid_t child = fork();
  if (child == 0) {
    close(ends[0]);
    be_child(ends[1], limits, work);
  }
  close(ends[1]);
  if (child < 0) {
    const Fault fault = no_process(worker, "process");
    close(ends[0]);
    return {fault};
  }
  Run run = Parent(worker, limits, take).follow(child, ends[0]);
  close(ends[0]);
  if (run.end == End::unwanted) {
    return {};
  }
  const bool is_sound = run.end == End::by_itself && run.status == 0 && !run.is_garbled;
  if (!is_sound || !run.is_whole) {
    return {fault_of(run, worker, limits)};
  }
  return std::move(run.faults);
}

}  // namespace ridgeward::plugin
