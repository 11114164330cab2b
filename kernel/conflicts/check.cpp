#include "conflicts/check.hpp"

#include "attic/names.hpp"

#include <map>
#include <tuple>

namespace ridgeward::conflicts {

extern const std::span<const Check* const> all_kinds;

const char* word(Severity severity) {
  switch (severity) {
    case Severity::note:
      return "note";
    case Severity::warning:
      return "warning";
    case Severity::error:
      return "error";
  }
  return "error";
}

std::span<const Check* const> checks() { return all_kinds; }

namespace {

/// The message with another name in the place of the compartment's id.
std::string renamed(const std::string& message, const std::string& id, const std::string& name) {
  std::string text = message;
  if (const std::size_t at = text.find(id); at != std::string::npos) {
    text.replace(at, id.size(), name);
  }
  return text;
}

/// Tells alike findings about rafter spaces together, in the place of the first.
std::vector<Finding> told_together(const Roof& roof, std::vector<Finding> all) {
  using Key = std::tuple<std::string, std::string, std::string, std::string, std::string>;
  std::map<Key, std::size_t> seen;
  std::vector<Finding> together;
  std::vector<std::vector<CompartmentId>> about;
  for (Finding& finding : all) {
    const CompartmentId id = finding.compartment;
    if (!id.is_none() && roof.attic.compartments[id].is_rafter_space) {
      const Key key{renamed(finding.message, roof.attic.compartments[id].id, ""), finding.measured,
                    finding.needed, finding.remedy, attic::ceiling_of(roof.attic, id)};
      const auto [at, is_new] = seen.emplace(key, together.size());
      if (!is_new) {
        about[at->second].push_back(id);
        continue;
      }
    }
    about.push_back(id.is_none() ? std::vector<CompartmentId>{} : std::vector{id});
    together.push_back(std::move(finding));
  }
  for (std::size_t i = 0; i < together.size(); ++i) {
    if (about[i].size() > 1) {
      together[i].alike.assign(about[i].begin() + 1, about[i].end());
      together[i].message =
          renamed(together[i].message, roof.attic.compartments[about[i].front()].id,
                  attic::names_of(roof.framing, roof.attic, about[i]));
    }
  }
  return together;
}

}  // namespace

std::vector<Finding> find(const Roof& roof) {
  std::vector<Finding> all;
  for (const Check* check : checks()) {
    for (Finding& finding : told_together(roof, check->run(roof))) {
      all.push_back(std::move(finding));
    }
  }
  return all;
}

}  // namespace ridgeward::conflicts
