#pragma once
// What a model takes for granted because whoever made it said nothing.

#include "rebuild/stage.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::rebuild {

/// Everything that the model `made` of an importer's `json` takes for granted: what a reader
/// assumes of parts, those that lack the same in one line, then timber, ceilings and site, where
/// the JSON does not give them. Planes give no more than outlines, pitches and heights. In plain
/// words, in an order that does not change.
std::vector<std::string> assumed(std::string_view json, const Modelled& made);

}  // namespace ridgeward::rebuild
