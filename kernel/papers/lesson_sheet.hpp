#pragma once
// For apprentices: the way of the air through this house, the job step by step, the framing
// square's figures, questions with answers worked out from the model.

#include "assess.hpp"
#include "papers/drawing.hpp"
#include "papers/lesson.hpp"
#include "units/length.hpp"

namespace ridgeward::papers {

/// Answers stand on the last page. Law: no two texts overlap, none leaves the page.
Drawing lesson_sheet(const Assessment& assessment, units::Style style, Paper paper);

}  // namespace ridgeward::papers
