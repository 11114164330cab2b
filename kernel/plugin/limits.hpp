#pragma once
// What a library of somebody else may take while it works for us.

#include <cstddef>

namespace ridgeward::plugin {

struct Limits {
  double wall_s = 120.0;  ///< of waiting for it; what the host does meanwhile is not counted
  double cpu_s = 60.0;    ///< of the processor
  std::size_t memory_bytes = std::size_t{2} << 30U;
};

}  // namespace ridgeward::plugin
