#pragma once
// Things of a model by their names.

#include <algorithm>
#include <string>

namespace ridgeward::panels {

/// The first of that name; the end where there is none.
template <class Things>
auto find(const Things& things, const std::string& id) {
  return std::find_if(things.begin(), things.end(), [&](const auto& one) { return one.id == id; });
}

}  // namespace ridgeward::panels
