#pragma once
// How the window looks, remembered between runs as words by name.

#include "panels/state.hpp"

#include <map>
#include <string>
#include <utility>

namespace ridgeward::panels {

using Words = std::map<std::string, std::string>;

/// "theme", "type", "motion", "ribbon", "units", "layers"; a lesson's own layers are not the
/// person's. "window": its size.
Words remembered(const State& state, std::pair<int, int> size_px);
/// Takes up what was remembered; what is not there or no word stays as it is.
void take_up(State& state, const Words& words);
/// The window's size; `usual` where none was remembered.
std::pair<int, int> window_size(const Words& words, std::pair<int, int> usual);

}  // namespace ridgeward::panels
