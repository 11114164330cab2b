#pragma once
// For apprentices: the way of the air through this house, the framing square's figures for it,
// questions with answers worked out from the model.

#include "assess.hpp"
#include "papers/drawing.hpp"
#include "units/length.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

/// A question about this house and what is right.
struct Question {
  std::string asks;
  std::string answer;
  std::string how;  ///< the way to it
};
/// Those that the house has something to say to.
std::vector<Question> questions_of(const Assessment& assessment, units::Style style);

/// Answers stand on the last page. Law: no two texts overlap, none leaves the page.
Drawing lesson_sheet(const Assessment& assessment, units::Style style, Paper paper);

}  // namespace ridgeward::papers
