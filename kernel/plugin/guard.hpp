#pragma once
// Runs importers in a process of their own, so that a hostile file or a careless importer can't
// take the program down: what crashes, hangs or eats memory there becomes a fault here.

#include "base/fault.hpp"
#include "plugin/load.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace ridgeward::plugin {

/// What one run may take.
struct Limits {
  double wall_s = 120.0;  ///< from start to answer
  double cpu_s = 60.0;    ///< of the processor
  std::size_t memory_bytes = std::size_t{2} << 30U;
};

/// What is asked of an importer.
struct Job {
  std::string_view bytes;  ///< the file
  std::string options;     ///< lines "key=value"
  std::string folder;      ///< where side files may lie; empty: none are given
};

/// The child is a fork of this process: it loads the library, does the work and sends the answer
/// through a pipe. It may write no file, its output goes nowhere, and it dies with its parent. Only
/// a whole answer counts. The host is as before in every case; nothing is loaded into it.
/// Memory: the child's own pages are watched every few milliseconds, and its address space is
/// bounded at half as much again (not under AddressSanitizer, whose shadow is larger than any).
/// Faults: those of Importer::load and Importer::read, and importer.crashed, importer.hung,
/// importer.memory, importer.garbled (ended without a whole answer), importer.no_process.
Result<Imported> read_apart(const std::string& library, const Job& job, const Limits& limits = {});

/// How sure the importer is of a file, 0 to 100, likewise.
Result<int> sniff_apart(const std::string& library, std::string_view head,
                        const std::string& file_name, const Limits& limits = {});

}  // namespace ridgeward::plugin
