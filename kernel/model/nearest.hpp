#pragma once
// Words of a file in what is said of them: what someone who mistyped one most likely meant.

#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::model {

/// The word of `words` that takes the fewest letter changes to become `word`; empty when none is
/// near (more than a third of its letters, or 2, would change).
std::string nearest(std::string_view word, const std::vector<std::string_view>& words);
/// `name` as a step of a JSON pointer (RFC 6901): "~" and "/" escaped.
std::string pointer_step(std::string_view name);
/// "a, b or c".
std::string listed(const std::vector<std::string_view>& words);

}  // namespace ridgeward::model
