#pragma once
// What of a roof an export carries.

#include "base/fault.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::exports {

struct Content {
  bool roof = true;      ///< the body between roof surface and eaves
  bool deck = true;      ///< the sheathing, a sheet a plane, with its openings
  bool slots = false;    ///< the intake slots cut through the deck
  bool attic = false;    ///< the air space of each compartment
  bool members = false;  ///< rafters, hips, valleys, ridge boards, headers, ...
  bool operator==(const Content&) const = default;
};

struct ContentWords {
  bool Content::*field;
  const char* word;   ///< "deck": on the command line
  const char* words;  ///< what it is, for people
};
/// All that can be asked for, in the order in which exports carry it.
const std::vector<ContentWords>& content_words();

/// "deck,members" or "all"; spaces around the commas are allowed. Words that all open with "+" or
/// "-" add to, or take from, what is usual.
/// Faults: show.unknown_word (the cure lists the good words), show.empty.
Result<Content> parse_content(std::string_view list);

}  // namespace ridgeward::exports
