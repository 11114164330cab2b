#pragma once
// The assessment as text for a terminal.

#include "assess.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace ridgeward::papers {

/// Eaves by plane, slots with their bays, compartments with required and provided free area, the
/// balance, what is wrong, and the cautions. Lines are broken between words, what goes on stands
/// two further in; only a single word may be longer than `columns`. REQUIRES at least 60 of them.
std::string to_summary(const Assessment& assessment, units::Style style, std::size_t columns = 80);

/// Cautions that every document of the program shows.
const std::vector<std::string>& cautions();

}  // namespace ridgeward::papers
