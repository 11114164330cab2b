#pragma once
// For apprentices: the way of the air through this house, the job step by step, the framing
// square's figures, questions with answers worked out from the model.

#include "assess.hpp"
#include "papers/drawing.hpp"
#include "papers/lesson.hpp"
#include "papers/what_if.hpp"
#include "units/length.hpp"

namespace ridgeward::papers {

/// Answers stand on the last page. Law: no two texts overlap, none leaves the page.
Drawing lesson_sheet(const Assessment& assessment, units::Style style, Paper paper);

/// What the lesson has beyond the sheet of the set.
struct LessonExtras {
  std::vector<std::string> pictures;  ///< PNG, one a step in the order of the steps; or none
  double aspect = 1.6;                ///< width over height of the pictures
  struct Told {
    WhatIf what_if;
    Outcome outcome;
  };
  std::vector<Told> what_ifs;
};
/// The same with pictures and with what mistakes would change, in a table each.
Drawing lesson_book(const Assessment& assessment, const LessonExtras& extras, units::Style style,
                    Paper paper);

}  // namespace ridgeward::papers
