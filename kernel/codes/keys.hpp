#pragma once
// The keys of every object in a code set; see model/keys.hpp.

#include "model/keys.hpp"

namespace ridgeward::codes {

std::span<const model::ObjectKeys* const> code_set_keys();

namespace keys {
extern const model::ObjectKeys code_set, required, reduced, proviso, rule, when, sections;
}  // namespace keys

}  // namespace ridgeward::codes
