#pragma once
// Work in a process of its own, whose answer comes back through a pipe. Private to this folder.
//
// The child is a fork of this process, shut in (shut_in.hpp): it changes no file and reaches no
// other process, its output goes nowhere, and it dies with its parent. Only a whole answer counts.
// The host is as before in every case; nothing is loaded into it. Memory: what the child alone
// holds is watched every few milliseconds, and its address space is bounded at half as much again
// (not under AddressSanitizer, whose shadow is larger than any).

#include "base/fault.hpp"
#include "plugin/limits.hpp"

#include <functional>
#include <string>
#include <string_view>

namespace ridgeward::plugin {

/// One piece of an answer: what it is, and its text.
struct Piece {
  std::string kind;
  std::string text;
};

/// The child's end of the pipe.
class Sender {
 public:
  explicit Sender(int pipe) : pipe_(pipe) {}
  void piece(std::string_view kind, std::string_view text) const;
  void faults(const Faults& faults) const;

 private:
  void text(std::string_view words) const;
  void bytes(const char* data, std::size_t size) const;
  int pipe_;
};

/// Whose work it is, for the faults.
struct Worker {
  std::string kind;         ///< "importer", "check": also the first word of the codes
  std::string library;      ///< path
  bool is_endless = false;  ///< the answer may be of any size; each piece of it may not
};

/// Takes a piece as soon as it has come; false ends the child, as it is of no use any more.
using Take = std::function<bool(Piece)>;

/// Does `work` in a child; its pieces go to `take` in their order, faults are gathered. What was
/// taken counts only if no fault comes back. Faults: those sent, and KIND.crashed, KIND.hung,
/// KIND.memory, KIND.garbled (ended without a whole answer), KIND.no_process, too_large.
Faults apart(const Worker& worker, const Limits& limits,
             const std::function<void(const Sender&)>& work, const Take& take);

}  // namespace ridgeward::plugin
