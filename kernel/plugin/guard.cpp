#include "plugin/guard.hpp"

#include "model/json_cursor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <chrono>
#include <cmath>
#include <csignal>
#include <cstdint>
#include <cstring>
#include <fcntl.h>
#include <fstream>
#include <functional>
#include <optional>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

namespace ridgeward::plugin {

namespace {

using Clock = std::chrono::steady_clock;

constexpr int glance_ms = 5;
constexpr std::size_t most_answer = model::largest_text + (std::size_t{4} << 20U);

#if defined(__SANITIZE_ADDRESS__)
constexpr bool has_address_sanitizer = true;
#elif defined(__has_feature)
constexpr bool has_address_sanitizer = __has_feature(address_sanitizer);
#else
constexpr bool has_address_sanitizer = false;
#endif

// ---- The answer on its way: texts, each after its size. ----

class Sender {
 public:
  explicit Sender(int pipe) : pipe_(pipe) {}
  void text(std::string_view words) const {
    const std::uint64_t size = words.size();
    bytes(reinterpret_cast<const char*>(&size), sizeof(size));
    bytes(words.data(), words.size());
  }
  void fault(const Fault& fault) const {
    for (const std::string_view words :
         {std::string_view("fault"), std::string_view(fault.code), std::string_view(fault.where),
          std::string_view(fault.what), std::string_view(fault.cure)}) {
      text(words);
    }
  }

 private:
  void bytes(const char* data, std::size_t size) const {
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
  int pipe_;
};

class Receiver {
 public:
  explicit Receiver(std::string_view answer) : left_(answer) {}
  std::optional<std::string> text() {
    std::uint64_t size = 0;
    if (left_.size() < sizeof(size)) {
      return std::nullopt;
    }
    std::memcpy(&size, left_.data(), sizeof(size));
    left_.remove_prefix(sizeof(size));
    if (size > left_.size()) {
      return std::nullopt;
    }
    std::string words(left_.substr(0, size));
    left_.remove_prefix(size);
    return words;
  }

 private:
  std::string_view left_;
};

struct Answer {
  Imported imported;
  int sure = 0;
  Faults faults;
};

/// The next `count` texts; fewer where the bytes end before.
std::vector<std::string> texts(Receiver& receiver, std::size_t count) {
  std::vector<std::string> all;
  while (all.size() < count) {
    std::optional<std::string> next = receiver.text();
    if (!next) {
      break;
    }
    all.push_back(std::move(*next));
  }
  return all;
}

/// A whole answer, or none.
std::optional<Answer> answer_in(std::string_view bytes) {
  Receiver receiver(bytes);
  Answer answer;
  while (true) {
    const std::string kind = receiver.text().value_or("");
    if (kind == "end") {
      return answer;
    }
    const std::size_t count = kind == "fault" ? 4 : 1;
    const std::vector<std::string> words = texts(receiver, count);
    if (words.size() < count) {
      return std::nullopt;
    }
    if (kind == "fault") {
      answer.faults.push_back({words[0], words[1], words[2], words[3]});
    } else if (kind == "json") {
      answer.imported.json = words[0];
    } else if (kind == "note") {
      answer.imported.notes.push_back(words[0]);
    } else if (kind == "sure") {
      std::from_chars(words[0].data(), words[0].data() + words[0].size(), answer.sure);
    } else {
      return std::nullopt;
    }
  }
}

// ---- The child. ----

/// The harder limit stands a little higher, so that the signal says which limit it was.
void limit(int resource, std::uint64_t most) {
  const rlimit both{most, resource == RLIMIT_CPU ? most + 2 : most};
  setrlimit(static_cast<__rlimit_resource>(resource), &both);
}

/// Pages of a process: all that it has mapped, or those that it holds. 0 when it is gone.
std::uint64_t pages_of(pid_t process, bool held) {
  std::ifstream file(fmt::format("/proc/{}/statm", process));
  std::uint64_t mapped = 0;
  std::uint64_t resident = 0;
  file >> mapped >> resident;
  return file ? (held ? resident : mapped) : 0;
}

std::uint64_t page_bytes() { return static_cast<std::uint64_t>(sysconf(_SC_PAGESIZE)); }

/// Shuts the child in: its own group, no output, no files to write, limits.
void shut_in(int pipe, const Limits& limits) {
  prctl(PR_SET_PDEATHSIG, SIGKILL);
  setpgid(0, 0);
  for (const int crash : {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT, SIGXCPU, SIGXFSZ, SIGTERM}) {
    std::signal(crash, SIG_DFL);
  }
  const int nowhere = open("/dev/null", O_RDWR | O_CLOEXEC);
  for (int stream = 0; stream < 3 && nowhere >= 0; ++stream) {
    dup2(nowhere, stream);
  }
  dup2(pipe, 3);
  close_range(4, ~0U, 0);
  limit(RLIMIT_CORE, 0);
  limit(RLIMIT_FSIZE, 0);
  limit(RLIMIT_CPU, static_cast<std::uint64_t>(std::ceil(limits.cpu_s)));
  if (!has_address_sanitizer) {
    limit(RLIMIT_AS, pages_of(getpid(), false) * page_bytes() + limits.memory_bytes / 2 * 3);
  }
}

using Work = std::function<void(const Sender&)>;

[[noreturn]] void be_child(int pipe, const Limits& limits, const Work& work) {
  shut_in(pipe, limits);
  const Sender sender(3);
  try {
    work(sender);
    sender.text("end");
  } catch (...) {  // thrown through the C contract, or no memory left to answer
    _exit(1);
  }
  _exit(0);  // no destructors: what the library left behind must not harm a good answer
}

// ---- The parent. ----

enum class End { by_itself, hung, memory, too_large };

struct Run {
  std::string answer;
  End end = End::by_itself;
  int status = 0;
  std::uint64_t most_memory = 0;
};

/// Reads what has come. False at the end of the answer.
bool take_some(int pipe, std::string& answer) {
  std::array<char, 65536> piece;  // NOLINT(cppcoreguidelines-pro-type-member-init): read() fills it
  const ssize_t size = read(pipe, piece.data(), piece.size());
  if (size > 0) {
    answer.append(piece.data(), static_cast<std::size_t>(size));
  }
  return size > 0 || (size < 0 && errno == EINTR);
}

/// Why the child must be ended now.
End judge(const Run& run, const Limits& limits, Clock::time_point started) {
  if (std::chrono::duration<double>(Clock::now() - started).count() > limits.wall_s) {
    return End::hung;
  }
  if (run.most_memory > limits.memory_bytes) {
    return End::memory;
  }
  return run.answer.size() > most_answer ? End::too_large : End::by_itself;
}

/// Follows the child to its end. Its memory counts from what it shared with us at the start.
Run follow(pid_t child, int pipe, const Limits& limits) {
  Run run;
  const Clock::time_point started = Clock::now();
  const std::uint64_t at_start = pages_of(getpid(), true);
  bool goes_on = true;
  while (goes_on && run.end == End::by_itself) {
    pollfd waiting{pipe, POLLIN, 0};
    const int ready = poll(&waiting, 1, glance_ms);
    if (ready > 0) {
      goes_on = take_some(pipe, run.answer);
    }
    const std::uint64_t pages = pages_of(child, true);
    const std::uint64_t own = pages > at_start ? pages - at_start : 0;
    run.most_memory = std::max(run.most_memory, own * page_bytes());
    run.end = judge(run, limits, started);
  }
  // A child that closes the pipe and goes on is ended too: its answer is whole or never will be.
  for (int tries = 0; run.end == End::by_itself && tries < 200; ++tries) {
    if (waitpid(child, &run.status, WNOHANG) == child) {
      kill(-child, SIGKILL);  // what it may have started itself
      return run;
    }
    usleep(tries < 20 ? 200U : 5000U);
  }
  kill(-child, SIGKILL);
  kill(child, SIGKILL);
  while (waitpid(child, &run.status, 0) < 0 && errno == EINTR) {
  }
  return run;
}

std::string told(int status) {
  if (WIFSIGNALED(status)) {
    return fmt::format("it crashed ({})", strsignal(WTERMSIG(status)));
  }
  return fmt::format("it ended by itself (status {})", WEXITSTATUS(status));
}

Fault fault_of(const Run& run, const std::string& library, const Limits& limits) {
  const std::string who = "the importer " + library + ": ";
  const bool is_out_of_time = WIFSIGNALED(run.status) && WTERMSIG(run.status) == SIGXCPU;
  if (run.end == End::hung || is_out_of_time) {
    return {"importer.hung", "",
            who + fmt::format("it gave no answer within {:g} s",
                              is_out_of_time ? limits.cpu_s : limits.wall_s),
            "import a part of the file, or another importer with --with"};
  }
  if (run.end == End::memory) {
    return {"importer.memory", "",
            who + fmt::format("it took more than {} MiB of memory", limits.memory_bytes >> 20U),
            "import a part of the file, or another importer with --with"};
  }
  if (run.end == End::too_large) {
    return {"too_large", "", who + "it made more than 64 MiB of model",
            "import a part of the file"};
  }
  if (WIFSIGNALED(run.status) && WTERMSIG(run.status) == SIGXFSZ) {
    return {"importer.crashed", "", who + "it tried to write a file, which importers may not",
            "use another importer, or tell whoever wrote this one"};
  }
  if (run.status != 0) {
    return {"importer.crashed", "", who + told(run.status),
            "check that the file is whole; tell whoever wrote the importer"};
  }
  return {"importer.garbled", "", who + "it ended without a whole answer",
          "tell whoever wrote the importer"};
}

/// Does `work` in a child.
Result<Answer> apart(const std::string& library, const Limits& limits, const Work& work) {
  std::array<int, 2> ends{-1, -1};
  if (pipe2(ends.data(), O_CLOEXEC) != 0) {
    return Fault{"importer.no_process", "", fmt::format("no pipe: {}", std::strerror(errno)),
                 "close other programs and try again"};
  }
  const pid_t child = fork();
  if (child == 0) {
    close(ends[0]);
    be_child(ends[1], limits, work);
  }
  close(ends[1]);
  if (child < 0) {
    close(ends[0]);
    return Fault{"importer.no_process", "", fmt::format("no process: {}", std::strerror(errno)),
                 "close other programs and try again"};
  }
  const Run run = follow(child, ends[0], limits);
  close(ends[0]);
  std::optional<Answer> answer = answer_in(run.answer);
  if (run.end != End::by_itself || run.status != 0 || !answer) {
    return fault_of(run, library, limits);
  }
  if (!answer->faults.empty()) {
    return answer->faults;
  }
  return std::move(*answer);
}

}  // namespace

Result<Imported> read_apart(const std::string& library, const Job& job, const Limits& limits) {
  Result<Answer> answer = apart(library, limits, [&](const Sender& sender) {
    const Result<Importer> importer = Importer::load(library);
    const Result<Imported> imported =
        importer ? importer.value().read(job.bytes, job.options, job.folder)
                 : Result<Imported>(importer.faults());
    if (!imported) {
      for (const Fault& fault : imported.faults()) {
        sender.fault(fault);
      }
      return;
    }
    sender.text("json");
    sender.text(imported.value().json);
    for (const std::string& note : imported.value().notes) {
      sender.text("note");
      sender.text(note);
    }
  });
  if (!answer) {
    return answer.faults();
  }
  return std::move(answer.value().imported);
}

Result<int> sniff_apart(const std::string& library, std::string_view head,
                        const std::string& file_name, const Limits& limits) {
  const Result<Answer> answer = apart(library, limits, [&](const Sender& sender) {
    const Result<Importer> importer = Importer::load(library);
    if (!importer) {
      sender.fault(importer.faults().front());
      return;
    }
    sender.text("sure");
    sender.text(std::to_string(importer.value().sniff(head, file_name)));
  });
  if (!answer) {
    return answer.faults();
  }
  return answer.value().sure;
}

}  // namespace ridgeward::plugin
