#include "command/import_each.hpp"

#include "model/read.hpp"
#include "papers/file.hpp"

#include "command/complain.hpp"
#include "command/line_up.hpp"
#include "rebuild/stage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <exception>
#include <mutex>
#include <optional>
#include <utility>

namespace ridgeward::command {

namespace {

/// A city of ten thousand buildings may be read for longer than one house.
constexpr plugin::Limits city_limits{.wall_s = 120.0, .cpu_s = 3600.0};
constexpr std::size_t most_told = 20;

/// How it went, building by building.
struct Tally {
  std::size_t whole = 0;   ///< every plane is part of a roof with eaves and gables
  std::size_t partly = 0;  ///< some are kept as plain planes
  std::size_t left_out = 0;
  double distance_m = 0.0;
  double area_given_m2 = 0.0;
  double area_rebuilt_m2 = 0.0;
};

class Rebuilder {
 public:
  /// One building's model on a line of its own, or nothing; called by several threads.
  std::string line(const std::string& json) {
    try {
      const Result<rebuild::Modelled> made = rebuild::modelled(json);
      const std::lock_guard<std::mutex> lock(mutex_);
      if (!made) {
        tell(made.faults().front());
        return {};
      }
      count(made.value().fit);
      return model::write(made.value().read.model, -1);
    } catch (const std::exception& error) {
      const std::lock_guard<std::mutex> lock(mutex_);
      tell({"program.failed", "", error.what(), "report the file that did it"});
      return {};
    }
  }
  const Tally& tally() const { return tally_; }
  std::size_t done() {
    const std::lock_guard<std::mutex> lock(mutex_);
    return tally_.whole + tally_.partly + tally_.left_out;
  }

 private:
  void tell(const Fault& fault) {
    if (++tally_.left_out <= most_told) {
      fmt::print(stderr, "left out: {}\n", in_words(fault));
    }
  }

  void count(const std::optional<rebuild::Fit>& fit) {
    if (!fit) {
      ++tally_.whole;
      return;
    }
    ++(fit->plain == 0 ? tally_.whole : tally_.partly);
    tally_.distance_m = std::max(tally_.distance_m, fit->distance_m);
    tally_.area_given_m2 += fit->area_given_m2;
    tally_.area_rebuilt_m2 += fit->area_rebuilt_m2;
  }

  std::mutex mutex_;
  Tally tally_;
};

void sum_up(const Tally& tally) {
  const auto counted = [](std::size_t count, const char* noun) {
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
  };
  fmt::print(stderr, "{} written: {} whole, {} with plain planes; {} left out\n",
             counted(tally.whole + tally.partly, "model"), tally.whole, tally.partly,
             counted(tally.left_out, "building"));
  if (tally.area_given_m2 > 0.0) {
    fmt::print(stderr,
               "largest distance from a given plane to its rebuilt roof {:.3f} m; area {:.0f} m2 "
               "against {:.0f} m2\n",
               tally.distance_m, tally.area_rebuilt_m2, tally.area_given_m2);
  }
}

}  // namespace

Faults import_each(const plugin::Found& importer, const plugin::Job& job, const std::string& output,
                   unsigned jobs, Progress& progress) {
  const Result<std::unique_ptr<papers::WholeFile>> file = papers::WholeFile::open(output);
  if (!file) {
    return file.faults();
  }
  Rebuilder rebuilder;
  bool is_written = true;
  LineUp line_up(
      jobs, "", [&](const std::string& json) { return rebuilder.line(json); },
      [&](const std::string& line) { is_written = file.value()->add(line) && is_written; });
  plugin::Job told = job;
  told.go_on = [&](double share_done) {
    progress.tell(
        fmt::format("{:.0f} % read, {} buildings done", 100.0 * share_done, rebuilder.done()));
    return true;
  };
  const Result<std::vector<std::string>> notes =
      plugin::read_each_apart(importer.library, told, city_limits, [&](std::string json) {
        line_up.put(std::move(json));
        return true;
      });
  line_up.finish();
  progress.wipe();
  if (!notes) {
    return notes.faults();
  }
  const Tally& tally = rebuilder.tally();
  if (tally.whole + tally.partly == 0) {
    return {{"planes.nothing", "", "none of the buildings gave a model",
             "check that the file holds roofs in metres, z up; a wider tolerance may help"}};
  }
  const Result<bool> finished = file.value()->finish();
  if (!finished) {
    return finished.faults();
  }
  for (const std::string& note : notes.value()) {
    fmt::print(stderr, "note: {}\n", note);
  }
  sum_up(tally);
  return {};
}

}  // namespace ridgeward::command
