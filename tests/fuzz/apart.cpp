// Feeds bytes to one importer in a child process for each, for importers that hand them to a large
// library at once. A child that dies in the library is counted and let go: in the program the same
// happens apart (kernel/plugin/apart.hpp). One that dies in our code ends the fuzzer.
//
// What the child has run through comes back: its counters of coverage, copied through a page that
// both share, so that inputs with something new are kept. Those of a dead child do not: what kills
// a library is not worth growing from.
#include "blame.hpp"
#include "importer.hpp"

#include <array>
#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <sanitizer/allocator_interface.h>
#include <sanitizer/common_interface_defs.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

// Bounds of the section that the compiler puts the counters in.
extern "C" __attribute__((visibility("hidden"))) std::uint8_t __start___sancov_cntrs[];
extern "C" __attribute__((visibility("hidden"))) std::uint8_t __stop___sancov_cntrs[];

namespace ridgeward::fuzz {

namespace {

constexpr rlim_t most_cpu_s = 5;
constexpr unsigned most_wall_s = 60;
constexpr std::size_t most_memory = std::size_t{1} << 30U;
constexpr std::size_t glance_memory = std::size_t{8} << 20U;

enum Status : int { sound = 0, died_in_crash = 90, died_of_time, died_of_memory, broken = 99 };

constexpr std::array<int, 7> signals{SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT, SIGXCPU, SIGALRM};

std::size_t counters() {
  return static_cast<std::size_t>(__stop___sancov_cntrs - __start___sancov_cntrs);
}

// ---- The child. ----

bool is_child = false;
const void* harness = nullptr;
std::array<struct sigaction, 65> usual;
std::size_t allocated_since = 0;

/// Ends the child here and now where the library is to blame.
void end_if_library(Status status) {
  if (whose_frames(harness) == Whose::library) {
    _exit(status);
  }
}

void on_signal(int signal, siginfo_t* info, void* context) {
  undo_wild_call(context, harness);
  const bool is_time = signal == SIGXCPU || signal == SIGALRM;
  end_if_library(is_time ? died_of_time : died_in_crash);
  if (is_time) {
    std::fprintf(stderr, "broken: our code takes too long\n");
    __sanitizer_print_stack_trace();
    _exit(broken);
  }
  usual.at(static_cast<std::size_t>(signal)).sa_sigaction(signal, info, context);  // its report
  _exit(broken);
}

void on_death() {
  end_if_library(died_in_crash);
  _exit(broken);
}

void on_malloc(const volatile void* /*memory*/, std::size_t size) {
  allocated_since += size;
  if (allocated_since > glance_memory) {
    allocated_since = 0;
    if (__sanitizer_get_current_allocated_bytes() > most_memory) {
      end_if_library(died_of_memory);
      std::fprintf(stderr, "broken: our code takes too much memory\n");
      __sanitizer_print_stack_trace();
      _exit(broken);
    }
  }
}
void on_free(const volatile void* /*memory*/) {}

void shut_in() {
  is_child = true;
  const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
  dup2(nowhere, STDOUT_FILENO);
  struct sigaction action {};
  action.sa_sigaction = on_signal;
  action.sa_flags = SA_SIGINFO | SA_ONSTACK;
  for (const int signal : signals) {
    sigaction(signal, &action, &usual.at(static_cast<std::size_t>(signal)));
  }
  const rlimit cpu{most_cpu_s, most_cpu_s + 5};
  setrlimit(RLIMIT_CPU, &cpu);
  alarm(most_wall_s);
  __sanitizer_set_death_callback(on_death);
  __sanitizer_install_malloc_and_free_hooks(on_malloc, on_free);
  std::atexit(on_death);  // a library that ends the program is as bad as one that crashes
}

[[noreturn]] __attribute__((noinline)) void be_child(std::string_view bytes, std::uint8_t* shared) {
  harness = __builtin_frame_address(0);
  shut_in();
  hold_laws(bytes, bytes.size() % 8 == 0);  // twice takes twice as long
  std::memcpy(shared, __start___sancov_cntrs, counters());
  _exit(sound);
}

// ---- The parent. ----

struct Counts {
  std::size_t runs = 0;
  std::size_t crashes = 0;
  std::size_t times = 0;
  std::size_t memories = 0;
  std::size_t unclear = 0;  ///< the system ended it, or its stack was beyond reading
};
Counts counts;

void tell_counts() {
  std::fprintf(stderr,
               "apart: %zu children, in a library died of a crash %zu, time %zu, memory %zu, "
               "unclear %zu\n",
               counts.runs, counts.crashes, counts.times, counts.memories, counts.unclear);
}

std::uint8_t* shared_page() {
  void* page = mmap(nullptr, counters(), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (page == MAP_FAILED) {
    std::perror("mmap");
    std::abort();
  }
  return static_cast<std::uint8_t*>(page);
}

/// False when our code is broken.
bool count(int status) {
  ++counts.runs;
  if (WIFSIGNALED(status)) {
    ++counts.unclear;
    return true;
  }
  switch (WEXITSTATUS(status)) {
    case sound:
      return true;
    case died_in_crash:
      ++counts.crashes;
      return true;
    case died_of_time:
      ++counts.times;
      return true;
    case died_of_memory:
      ++counts.memories;
      return true;
    default:
      return false;
  }
}

}  // namespace

}  // namespace ridgeward::fuzz

using namespace ridgeward::fuzz;

// Every signal ends in a report, and what ends without our having judged it counts as broken. Where
// memory came from is not kept, which saves a quarter of the time.
extern "C" const char* __asan_default_options() {
  return "handle_abort=1:handle_sigill=1:detect_leaks=0:max_allocation_size_mb=1024:exitcode=99:"
         "malloc_context_size=1";
}
extern "C" const char* __ubsan_default_options() { return "print_stacktrace=1"; }

/// Before a report is written: most are of libraries, and naming their functions takes a second.
extern "C" void __asan_on_error() {
  if (is_child) {
    end_if_library(died_in_crash);
  }
}

/// What libraries set up once is set up here, not in every child.
extern "C" int LLVMFuzzerInitialize(int* /*count*/, char*** /*arguments*/) {
  learn_modules();
  hold_laws("", true);
  std::atexit(tell_counts);
  return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static std::uint8_t* const shared = shared_page();
  const pid_t child = fork();
  if (child == 0) {
    be_child({reinterpret_cast<const char*>(data), size}, shared);
  }
  int status = 0;
  while (child > 0 && waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  if (child < 0 || !count(status)) {
    std::fprintf(stderr, "apart: a child died in our code (status %d)\n", status);
    std::abort();
  }
  if (status != sound) {
    return -1;  // not for the corpus
  }
  std::memcpy(__start___sancov_cntrs, shared, counters());
  return 0;
}
