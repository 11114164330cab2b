#pragma once
// Exporters: one file a kind in kinds/, listed into a generated table by CMake.

#include "assess.hpp"
#include "base/fault.hpp"
#include "base/tell.hpp"
#include "exports/content.hpp"

#include <span>
#include <string>

namespace ridgeward::exports {

struct Exporter {
  const char* ending;  ///< ".step"
  const char* words;   ///< what it writes
  Result<std::string> (*make)(const Assessment& assessment, const Content& content,
                              const Tell& tell);
  /// The whole file's bytes, or why there are none. `tell`: as bodies_of(), not at all where no
  /// bodies are made.
  Result<std::string> write(const Assessment& assessment, const Content& content,
                            const Tell& tell = {}) const {
    return make(assessment, content, tell);
  }
};

std::span<const Exporter* const> exporters();
/// By the ending of `path`, whatever its case; null when no exporter writes it.
const Exporter* exporter_for(const std::string& path);

}  // namespace ridgeward::exports
