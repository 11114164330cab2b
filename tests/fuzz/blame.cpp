#include "blame.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>
#include <link.h>
#include <string_view>
#include <ucontext.h>
#include <unwind.h>

namespace ridgeward::fuzz {

namespace {

struct Range {
  std::uintptr_t begin = 0;
  std::uintptr_t end = 0;
  bool is_foreign = false;
};

// Plain arrays: they are read in handlers of signals.
std::array<Range, 512> ranges;
std::size_t range_count = 0;

bool is_nobodys(std::string_view path) {
  const std::string_view file = path.substr(path.find_last_of('/') + 1);
  constexpr std::array<std::string_view, 7> names{
      "libc.so.", "libm.so.", "libstdc++.so.", "libgcc_s.so.", "ld-linux", "linux-vdso", ""};
  return std::any_of(names.begin(), names.end(), [&](std::string_view name) {
    return name.empty() ? file.empty() : file.starts_with(name);
  });
}

int learn(dl_phdr_info* module, std::size_t /*size*/, void* /*context*/) {
  for (std::size_t i = 0; i < module->dlpi_phnum && range_count < ranges.size(); ++i) {
    const ElfW(Phdr)& part = module->dlpi_phdr[i];
    if (part.p_type == PT_LOAD && (part.p_flags & PF_X) != 0) {
      const std::uintptr_t begin = module->dlpi_addr + part.p_vaddr;
      // This program itself has no name in the list.
      ranges.at(range_count++) = {begin, begin + part.p_memsz, !is_nobodys(module->dlpi_name)};
    }
  }
  return 0;
}

const Range* range_of(std::uintptr_t place) {
  for (std::size_t i = 0; i < range_count; ++i) {
    if (place >= ranges.at(i).begin && place < ranges.at(i).end) {
      return &ranges.at(i);
    }
  }
  return nullptr;
}

struct Walk {
  std::uintptr_t harness = 0;
  bool has_arrived = false;
  bool has_seen_foreign = false;
};

_Unwind_Reason_Code step(_Unwind_Context* frame, void* context) {
  Walk& walk = *static_cast<Walk*>(context);
  // A frame's lower end: beyond the harness when that has been passed.
  if (_Unwind_GetCFA(frame) > walk.harness) {
    walk.has_arrived = true;
    return _URC_NORMAL_STOP;
  }
  const Range* range = range_of(_Unwind_GetIP(frame));
  walk.has_seen_foreign = walk.has_seen_foreign || range == nullptr || range->is_foreign;
  return walk.has_seen_foreign ? _URC_NORMAL_STOP : _URC_NO_REASON;
}

}  // namespace

void learn_modules() { dl_iterate_phdr(learn, nullptr); }

Whose whose_frames(const void* harness) {
  Walk walk{reinterpret_cast<std::uintptr_t>(harness)};
  _Unwind_Backtrace(step, &walk);
  return walk.has_arrived && !walk.has_seen_foreign ? Whose::ours : Whose::library;
}

__attribute__((no_sanitize("address"))) void undo_wild_call(void* context, const void* harness) {
  constexpr std::uintptr_t largest_stack = std::uintptr_t{64} << 20U;
  auto& registers = static_cast<ucontext_t*>(context)->uc_mcontext.gregs;
  const auto top = reinterpret_cast<std::uintptr_t>(harness);
  const auto at = static_cast<std::uintptr_t>(registers[REG_RSP]);
  const bool is_on_stack = at < top && at > top - largest_stack;
  if (is_on_stack && range_of(static_cast<std::uintptr_t>(registers[REG_RIP])) == nullptr) {
    std::memcpy(&registers[REG_RIP], reinterpret_cast<const void*>(at), sizeof(greg_t));
    registers[REG_RSP] += static_cast<greg_t>(sizeof(greg_t));
  }
}

}  // namespace ridgeward::fuzz
