#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <algorithm>
#include <set>
#include <string>

namespace ridgeward::conflicts {

namespace {

std::vector<Finding> find_broken_board(const Roof& roof) {
  std::vector<Finding> found;
  std::set<std::string> told;
  for (const MemberId id : roof.framing.members.ids()) {
    const framing::Member& member = roof.framing.members[id];
    if (member.line.is_none() || member.opening.empty()) {
      continue;
    }
    const surface::Line& line = roof.surface.lines[member.line];
    if (!told.insert(line.id + " " + member.opening).second) {
      continue;
    }
    Finding finding;
    finding.kind = "broken_board";
    finding.severity = Severity::warning;
    finding.at = member.to;
    finding.member = id;
    finding.measured = length_words(roof, member.length_m) + " up to the opening";
    finding.needed = "a board in one piece, or both ends carried";
    std::string kind = surface::word(line.kind);
    std::replace(kind.begin(), kind.end(), '_', ' ');
    finding.message = "The " + kind + " " + line.id + " is broken by " + member.opening + ".";
    finding.remedy =
        "Carry both ends on headers between doubled rafters or on posts to a wall below, and have "
        "them sized; or move the opening clear of the line.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check broken_board_kind;
const Check broken_board_kind{"broken_board", "hips, valleys and ridges that an opening breaks",
                              find_broken_board};

}  // namespace ridgeward::conflicts
