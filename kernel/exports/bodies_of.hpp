#pragma once
// The solids that an export carries.

#include "assess.hpp"
#include "base/tell.hpp"
#include "exports/content.hpp"
#include "solid/bodies.hpp"

#include <vector>

namespace ridgeward::exports {

/// In the order of content_words(). Faults: those of the bodies. `tell` counts what bodies are made
/// of: planes, spaces, members.
Result<std::vector<solid::Body>> bodies_of(const Assessment& assessment, const Content& content,
                                           const Tell& tell = {});

}  // namespace ridgeward::exports
