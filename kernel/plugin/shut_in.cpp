#include "plugin/shut_in.hpp"

#include "base/sanitized.hpp"

#include <array>
#include <cerrno>
#include <cmath>
#include <csignal>
#include <cstdint>
#include <fcntl.h>
#include <fstream>
#include <sched.h>
#include <seccomp.h>
#include <sys/ioctl.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

namespace ridgeward::plugin {

namespace {

/// The harder limit stands a little higher, so that the signal says which limit it was.
void limit(int resource, std::uint64_t most) {
  const rlimit both{most, resource == RLIMIT_CPU ? most + 2 : most};
  setrlimit(static_cast<__rlimit_resource>(resource), &both);
}

std::uint64_t mapped_bytes() {
  std::ifstream file("/proc/self/statm");
  std::uint64_t pages = 0;
  file >> pages;
  return pages * static_cast<std::uint64_t>(sysconf(_SC_PAGESIZE));
}

/// A call that is refused where `argument` is so; always where there is no condition.
struct Refused {
  int call = 0;
  int why = EPERM;
  std::uint32_t conditions = 0;
  scmp_arg_cmp argument{};
};

Refused always(int call, int why = EPERM) { return {call, why}; }
Refused where(int call, unsigned argument, scmp_compare how, std::uint64_t a, std::uint64_t b = 0) {
  return {call, EPERM, 1, {argument, how, a, b}};
}

/// Opening is refused where it would write or make a file; `flags`: the argument that says so.
std::array<Refused, 4> opening(int call, unsigned flags) {
  return {where(call, flags, SCMP_CMP_MASKED_EQ, O_ACCMODE, O_WRONLY),
          where(call, flags, SCMP_CMP_MASKED_EQ, O_ACCMODE, O_RDWR),
          where(call, flags, SCMP_CMP_MASKED_EQ, O_CREAT, O_CREAT),
          where(call, flags, SCMP_CMP_MASKED_EQ, O_TRUNC, O_TRUNC)};
}

class Filter {
 public:
  Filter() : filter_(seccomp_init(SCMP_ACT_ALLOW)) {}
  Filter(const Filter&) = delete;
  Filter(Filter&&) = delete;
  Filter& operator=(const Filter&) = delete;
  Filter& operator=(Filter&&) = delete;
  ~Filter() { seccomp_release(filter_); }

  /// A call that this machine does not have need not be refused.
  template <class All>
  void refuse(const All& all) const {
    for (const Refused& one : all) {
      seccomp_rule_add_array(filter_, SCMP_ACT_ERRNO(static_cast<std::uint16_t>(one.why)), one.call,
                             one.conditions, &one.argument);
    }
  }
  void load() const { seccomp_load(filter_); }

 private:
  scmp_filter_ctx filter_;
};

void refuse_files(const Filter& filter) {
  filter.refuse(opening(SCMP_SYS(open), 1));
  filter.refuse(opening(SCMP_SYS(openat), 2));
  filter.refuse(std::array{always(SCMP_SYS(openat2), ENOSYS)});  // its flags lie in memory
  for (const int call :
       {SCMP_SYS(creat),        SCMP_SYS(truncate),      SCMP_SYS(ftruncate), SCMP_SYS(rename),
        SCMP_SYS(renameat),     SCMP_SYS(renameat2),     SCMP_SYS(unlink),    SCMP_SYS(unlinkat),
        SCMP_SYS(rmdir),        SCMP_SYS(mkdir),         SCMP_SYS(mkdirat),   SCMP_SYS(mknod),
        SCMP_SYS(mknodat),      SCMP_SYS(link),          SCMP_SYS(linkat),    SCMP_SYS(symlink),
        SCMP_SYS(symlinkat),    SCMP_SYS(chmod),         SCMP_SYS(fchmod),    SCMP_SYS(fchmodat),
        SCMP_SYS(chown),        SCMP_SYS(fchown),        SCMP_SYS(lchown),    SCMP_SYS(fchownat),
        SCMP_SYS(utime),        SCMP_SYS(utimes),        SCMP_SYS(utimensat), SCMP_SYS(futimesat),
        SCMP_SYS(setxattr),     SCMP_SYS(lsetxattr),     SCMP_SYS(fsetxattr), SCMP_SYS(removexattr),
        SCMP_SYS(lremovexattr), SCMP_SYS(fremovexattr),  SCMP_SYS(mq_open),   SCMP_SYS(mq_unlink),
        SCMP_SYS(shmget),       SCMP_SYS(shmctl),        SCMP_SYS(semget),    SCMP_SYS(msgget),
        SCMP_SYS(io_setup),     SCMP_SYS(io_uring_setup)}) {
    filter.refuse(std::array{always(call)});
  }
}

/// Signals to itself stay, abort() needs them; so do threads.
void refuse_processes(const Filter& filter) {
  const auto self = static_cast<std::uint64_t>(getpid());
  filter.refuse(std::array{
      where(SCMP_SYS(clone), 0, SCMP_CMP_MASKED_EQ, CLONE_THREAD, 0),
      always(SCMP_SYS(clone3), ENOSYS),  // its flags lie in memory; clone() is taken then
      where(SCMP_SYS(kill), 0, SCMP_CMP_NE, self), where(SCMP_SYS(tgkill), 0, SCMP_CMP_NE, self),
      where(SCMP_SYS(prlimit64), 2, SCMP_CMP_NE, 0),
      where(SCMP_SYS(prctl), 0, SCMP_CMP_EQ, PR_SET_PDEATHSIG),
      where(SCMP_SYS(fcntl), 1, SCMP_CMP_EQ, F_SETOWN),  // signals by way of a file's owner
      where(SCMP_SYS(fcntl), 1, SCMP_CMP_EQ, F_SETOWN_EX),
      where(SCMP_SYS(ioctl), 1, SCMP_CMP_EQ, TIOCSTI)});
  for (const int call :
       {SCMP_SYS(fork), SCMP_SYS(vfork), SCMP_SYS(execve), SCMP_SYS(execveat), SCMP_SYS(tkill),
        SCMP_SYS(rt_sigqueueinfo), SCMP_SYS(rt_tgsigqueueinfo), SCMP_SYS(pidfd_open),
        SCMP_SYS(pidfd_send_signal), SCMP_SYS(ptrace), SCMP_SYS(process_vm_readv),
        SCMP_SYS(process_vm_writev), SCMP_SYS(process_madvise), SCMP_SYS(setrlimit),
        SCMP_SYS(setpriority), SCMP_SYS(setpgid), SCMP_SYS(setsid)}) {
    filter.refuse(std::array{always(call)});
  }
}

void refuse_the_rest(const Filter& filter) {
  for (const int call :
       {SCMP_SYS(socket),        SCMP_SYS(socketpair),    SCMP_SYS(unshare),
        SCMP_SYS(setns),         SCMP_SYS(mount),         SCMP_SYS(umount2),
        SCMP_SYS(pivot_root),    SCMP_SYS(chroot),        SCMP_SYS(swapon),
        SCMP_SYS(swapoff),       SCMP_SYS(reboot),        SCMP_SYS(kexec_load),
        SCMP_SYS(init_module),   SCMP_SYS(finit_module),  SCMP_SYS(delete_module),
        SCMP_SYS(acct),          SCMP_SYS(settimeofday),  SCMP_SYS(clock_settime),
        SCMP_SYS(adjtimex),      SCMP_SYS(clock_adjtime), SCMP_SYS(sethostname),
        SCMP_SYS(setdomainname), SCMP_SYS(bpf),           SCMP_SYS(perf_event_open),
        SCMP_SYS(userfaultfd),   SCMP_SYS(keyctl),        SCMP_SYS(add_key),
        SCMP_SYS(request_key),   SCMP_SYS(quotactl),      SCMP_SYS(syslog)}) {
    filter.refuse(std::array{always(call)});
  }
}

}  // namespace

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
    limit(RLIMIT_AS, mapped_bytes() + limits.memory_bytes / 2 * 3);
  }
  const Filter filter;
  refuse_files(filter);
  refuse_processes(filter);
  refuse_the_rest(filter);
  filter.load();
}

}  // namespace ridgeward::plugin
