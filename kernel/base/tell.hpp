#pragma once
// How far long work is.

#include <cstddef>
#include <functional>

namespace ridgeward {

/// Told after each step of long work: steps done, and all. Called on the thread that does the work;
/// `done` only grows, `all` stays. Empty: nobody wants to know. Whoever wants the work to end ends
/// the process that does it.
using Tell = std::function<void(std::size_t done, std::size_t all)>;

}  // namespace ridgeward
