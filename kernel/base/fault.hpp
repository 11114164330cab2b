#pragma once
// Faults of the input, results that may be faults, and laws that must hold.
//
// Three kinds of trouble are kept apart:
//  (a) the input can't be used: a function returns Result<T> holding Faults;
//  (b) the roof is at fault: a Finding, ordinary data in the assessment;
//  (c) the program is at fault: ensure() throws Broken, caught at the top (exit 3).

#include <stdexcept>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace ridgeward {

/// One thing wrong with the input.
/// `code` is a stable dotted word ("outline.crosses_itself"), `where` a JSON pointer into the
/// model file ("/parts/0/outline/3"), `what` the fault, `cure` what would be right.
struct Fault {
  std::string code;
  std::string where;
  std::string what;
  std::string cure;
};
using Faults = std::vector<Fault>;

/// Either a value or at least one fault.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}         // NOLINT: implicit
  Result(Faults faults) : held_(std::in_place_index<1>, std::move(faults)) {}  // NOLINT: implicit
  Result(Fault fault) : held_(std::in_place_index<1>, Faults{std::move(fault)}) {}  // NOLINT

  bool ok() const { return held_.index() == 0; }
  explicit operator bool() const { return ok(); }
  /// REQUIRES ok().
  T& value() & { return std::get<0>(held_); }
  const T& value() const& { return std::get<0>(held_); }
  T&& value() && { return std::get<0>(std::move(held_)); }
  /// REQUIRES !ok().
  const Faults& faults() const { return std::get<1>(held_); }

 private:
  std::variant<T, Faults> held_;
};

/// A law of the program does not hold: our mistake, never the user's.
class Broken : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

/// Throws Broken naming `law` unless `holds`; on in release builds too.
inline void ensure(bool holds, const char* law) {
  if (!holds) {
    throw Broken(law);
  }
}

}  // namespace ridgeward
