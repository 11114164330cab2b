#pragma once
// The seed of the random tests: printed once, set by RIDGEWARD_SEED.

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

namespace ridgeward::tests {

inline std::uint64_t seed() {
  static const std::uint64_t chosen = [] {
    const char* given = std::getenv("RIDGEWARD_SEED");
    const std::uint64_t value = given != nullptr ? std::strtoull(given, nullptr, 10) : 1789U;
    std::printf("RIDGEWARD_SEED=%llu\n", static_cast<unsigned long long>(value));
    return value;
  }();
  return chosen;
}

}  // namespace ridgeward::tests
