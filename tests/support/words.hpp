#pragma once
// Faults in words, for the messages of failing tests.

#include "base/fault.hpp"

#include <string>

namespace ridgeward::tests {

inline std::string words(const Faults& faults) {
  std::string text;
  for (const Fault& fault : faults) {
    text += "\n" + fault.code + " at " + fault.where + ": " + fault.what + "; " + fault.cure;
  }
  return text;
}

template <class T>
std::string words(const Result<T>& result) {
  return result.ok() ? "" : words(result.faults());
}

}  // namespace ridgeward::tests
