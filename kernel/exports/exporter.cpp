#include "exports/exporter.hpp"

#include <algorithm>
#include <cctype>

namespace ridgeward::exports {

extern const std::span<const Exporter* const> all_kinds;

std::span<const Exporter* const> exporters() { return all_kinds; }

const Exporter* exporter_for(const std::string& path) {
  std::string lower = path;
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  for (const Exporter* exporter : exporters()) {
    const std::string ending = exporter->ending;
    if (lower.size() > ending.size() &&
        lower.compare(lower.size() - ending.size(), ending.size(), ending) == 0) {
      return exporter;
    }
  }
  return nullptr;
}

}  // namespace ridgeward::exports
