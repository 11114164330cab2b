// Feeds bytes to one importer in this process.
#include "importer.hpp"

#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  ridgeward::fuzz::hold_laws({reinterpret_cast<const char*>(data), size}, true);
  return 0;
}
