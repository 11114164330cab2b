#pragma once
// "What if" for the lesson: mistakes made on purpose on a copy of the model, which is assessed as
// any other, and what they change. The user's model is never touched.

#include "assess.hpp"
#include "units/length.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

enum class Mistake {
  bay,         ///< one bay under a slot is stopped up
  insulation,  ///< insulation pushed against the deck all over, baffles out
  blocking,    ///< solid blocking on every plate
  snow,        ///< snow over all intake
  exhaust,     ///< exhaust of half as much again as the intake, and more
  mixed        ///< a second kind of exhaust over the largest space
};
/// "bay", "insulation", ... for ids and files.
const char* word(Mistake mistake);

struct WhatIf {
  Mistake mistake = Mistake::bay;
  std::string title;
  std::string does;  ///< what is changed, with this house's names
};

/// A model with the products that it is assessed with.
struct Variant {
  model::RoofModel model;
  model::Catalogue catalogue;
};

/// Those that change something on this house, in the order of the enumeration.
std::vector<WhatIf> what_ifs_of(const Assessment& assessment, const model::Catalogue& catalogue);

/// The model with all of these mistakes; those that the house has nothing for change nothing.
/// Pure: equal input, equal output.
Variant varied(const Assessment& assessment, const model::Catalogue& catalogue,
               const std::vector<Mistake>& mistakes);

/// A figure before and after.
struct Change {
  std::string what;
  std::string before;
  std::string after;
  bool is_changed() const { return before != after; }
};
/// Something to say of it, and how bad it is.
struct Remark {
  std::string words;
  conflicts::Severity severity = conflicts::Severity::warning;
};
struct Outcome {
  std::vector<Change> changes;  ///< figures of the largest space and of the roof
  std::vector<Remark> says;     ///< what the air does, what is found now and was not before
};
/// REQUIRES assessments of one house with and without mistakes.
Outcome compared(const Assessment& before, const Assessment& after, units::Style style);

}  // namespace ridgeward::papers
