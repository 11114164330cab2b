#include "plugin/check.hpp"

#include "plugin/apart.hpp"
#include "plugin/check_abi.h"
#include "plugin/library.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <dlfcn.h>
#include <filesystem>
#include <system_error>
#include <utility>

namespace ridgeward::plugin {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_found = 10000;

/// What one run() gathers; the `context` of the host's function.
struct Gathering {
  std::vector<Found3D> found;
  std::string wrong;  ///< with the first finding that can't be used
};

void take(void* context, const ridgeward_finding* finding) {
  Gathering& all = *static_cast<Gathering*>(context);
  if (finding == nullptr || finding->size < sizeof(ridgeward_finding)) {
    all.wrong = "it reports a finding of another version";
    return;
  }
  Found3D found;
  found.severity = finding->severity;
  found.at = {finding->at[0], finding->at[1], finding->at[2]};
  found.plane = text_or(finding->plane, "");
  found.slot = text_or(finding->slot, "");
  found.member = text_or(finding->member, "");
  found.exhaust = text_or(finding->exhaust, "");
  found.measured = text_or(finding->measured, "");
  found.needed = text_or(finding->needed, "");
  found.message = text_or(finding->message, "");
  found.remedy = text_or(finding->remedy, "");
  const bool is_placed = std::all_of(found.at.begin(), found.at.end(),
                                     [](double value) { return std::isfinite(value); });
  if (found.message.empty() || !is_placed || found.severity < RIDGEWARD_NOTE ||
      found.severity > RIDGEWARD_ERROR) {
    all.wrong = "it reports a finding without message, severity or place";
  } else if (all.found.size() < most_found) {
    all.found.push_back(std::move(found));
  }
}

using Entry = const ridgeward_check_table* (*)(std::uint32_t);

}  // namespace

OwnCheck::OwnCheck(std::shared_ptr<const Library> library, const ridgeward_check_table* table)
    : library_(std::move(library)), table_(table) {}

Result<OwnCheck> OwnCheck::load(const std::string& path) {
  Result<std::shared_ptr<Library>> library = Library::open(path, "check", RIDGEWARD_CHECK_SYMBOL);
  if (!library) {
    return library.faults();
  }
  const ridgeward_check_table* table = library.value()->entry<Entry>()(RIDGEWARD_CHECK_ABI);
  if (table == nullptr || table->abi != RIDGEWARD_CHECK_ABI ||
      table->size < sizeof(ridgeward_check_table) || table->kind == nullptr ||
      table->run == nullptr) {
    return Fault{"check.version", "", path + " does not work with this version of the program",
                 fmt::format("build it against version {} of check_abi.h and fill in its table",
                             RIDGEWARD_CHECK_ABI)};
  }
  return OwnCheck(std::move(library).value(), table);
}

std::string OwnCheck::kind() const { return table_->kind; }
std::string OwnCheck::words() const { return text_or(table_->words, ""); }

Result<std::vector<Found3D>> OwnCheck::run(std::string_view assessment) const {
  Gathering all;
  ridgeward_check_host host{};
  host.size = sizeof(host);
  host.context = &all;
  host.find = take;
  const int failed = table_->run(assessment.data(), assessment.size(), &host);
  if (failed != 0 || !all.wrong.empty()) {
    return Fault{
        "check.failed", "",
        "the check " + kind() + " fails: " + (all.wrong.empty() ? "it gives no reason" : all.wrong),
        "mend the check, or leave it out"};
  }
  return std::move(all.found);
}

namespace {

/// The words of a finding, in the order in which they are sent.
constexpr std::array<std::string Found3D::*, 8> words_of_finding{
    &Found3D::plane,    &Found3D::slot,   &Found3D::member,  &Found3D::exhaust,
    &Found3D::measured, &Found3D::needed, &Found3D::message, &Found3D::remedy};

void send(const Sender& sender, const Found3D& found) {
  std::string numbers(sizeof(found.severity) + sizeof(found.at), '\0');
  std::memcpy(numbers.data(), &found.severity, sizeof(found.severity));
  std::memcpy(numbers.data() + sizeof(found.severity), found.at.data(), sizeof(found.at));
  sender.piece("found", numbers);
  for (const auto words : words_of_finding) {
    sender.piece("words", found.*words);
  }
}

/// Puts findings together again; false for pieces that make none.
class Taker {
 public:
  explicit Taker(FoundByCheck& all) : all_(all) {}

  bool take(Piece piece) {
    if (piece.kind == "kind") {
      all_.kind = std::move(piece.text);
      return true;
    }
    if (piece.kind == "found") {
      Found3D found;
      if (!is_whole() || piece.text.size() != sizeof(found.severity) + sizeof(found.at)) {
        return false;
      }
      std::memcpy(&found.severity, piece.text.data(), sizeof(found.severity));
      std::memcpy(found.at.data(), piece.text.data() + sizeof(found.severity), sizeof(found.at));
      all_.found.push_back(std::move(found));
      words_ = 0;
      return true;
    }
    if (all_.found.empty() || words_ >= words_of_finding.size()) {
      return false;
    }
    all_.found.back().*words_of_finding.at(words_++) = std::move(piece.text);
    return true;
  }

  bool is_whole() const { return all_.found.empty() || words_ == words_of_finding.size(); }

 private:
  FoundByCheck& all_;
  std::size_t words_ = 0;
};

}  // namespace

Result<FoundByCheck> run_apart(const std::string& library, std::string_view assessment,
                               const Limits& limits) {
  FoundByCheck all;
  Taker taker(all);
  bool is_garbled = false;
  const auto work = [&](const Sender& sender) {
    const Result<OwnCheck> check = OwnCheck::load(library);
    if (!check) {
      sender.faults(check.faults());
      return;
    }
    const Result<std::vector<Found3D>> found = check.value().run(assessment);
    if (!found) {
      sender.faults(found.faults());
      return;
    }
    sender.piece("kind", check.value().kind());
    for (const Found3D& one : found.value()) {
      send(sender, one);
    }
  };
  Faults faults = apart({"check", library}, limits, work, [&](Piece piece) {
    is_garbled = !taker.take(std::move(piece));
    return !is_garbled;
  });
  if (!faults.empty()) {
    return faults;
  }
  if (is_garbled || !taker.is_whole() || all.kind.empty()) {
    return Fault{"check.garbled", "", "the check " + library + ": it ended without a whole answer",
                 "tell whoever wrote the check"};
  }
  return all;
}

Result<std::vector<std::string>> checks_in(const std::string& folder) {
  std::error_code error;
  const fs::path whole = fs::absolute(folder, error);
  if (error || !fs::is_directory(whole, error)) {
    return Fault{"check.folder", folder, "there is no such folder", "name a folder with checks"};
  }
  std::vector<std::string> paths;
  Faults faults;
  for (fs::directory_iterator at(whole, error), end; !error && at != end; at.increment(error)) {
    if (at->path().extension() != ".so") {
      continue;
    }
    // Lazily: a library that lacks something else is still seen to be a check, and told when run.
    const auto look = [&](const Sender& sender) {
      void* handle = dlopen(at->path().c_str(), RTLD_LAZY | RTLD_LOCAL);
      if (handle != nullptr && dlsym(handle, RIDGEWARD_CHECK_SYMBOL) != nullptr) {
        sender.piece("check", "");
      }
    };
    const Faults dead = apart({"check", at->path().string()}, {.wall_s = 10.0, .cpu_s = 10.0}, look,
                              [&](const Piece&) {
                                paths.push_back(at->path().string());
                                return true;
                              });
    faults.insert(faults.end(), dead.begin(), dead.end());
  }
  if (!faults.empty()) {
    return faults;
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace ridgeward::plugin
