#pragma once
// The lesson: this house's job step by step, and questions about it. One source for the paper, the
// window and the pictures. Every figure is one of the assessment.

#include "assess.hpp"
#include "units/length.hpp"

#include <glm/vec3.hpp>

#include <string>
#include <vector>

namespace ridgeward::papers {

/// What a step is about, in the order of the lesson.
enum class Topic { why, code, balance, place, lines, cut, sections, shingles, trouble };
inline constexpr std::size_t topic_count = 9;
/// "why", "code", ... as in the names of files.
const char* word(Topic topic);

/// A box along a plane, plane coordinates, with a word beside it.
struct Band {
  PlaneId plane;
  glm::dvec2 low{0.0};
  glm::dvec2 high{0.0};
  glm::dvec2 words_at{0.0};
  std::string words;
};

/// What a step speaks of, for the eye that shows it.
struct Sight {
  /// All of it should be in the picture; empty: the whole house.
  std::vector<glm::dvec3> points;
  /// Seen from there, level and of unit length; zero: from wherever most is seen.
  glm::dvec3 from{0.0};
  std::vector<BayId> bays;
  std::vector<SlotId> slots;
  std::vector<ExhaustId> exhausts;
  std::vector<Band> bands;  ///< chalk lines, pieces, where no nail goes
};

struct LessonStep {
  Topic topic = Topic::why;
  std::string title;
  std::vector<std::string> says;
  std::vector<std::string> cautions;
  Sight sight;
};

/// All topics, once each and in their order, whatever the house. The work is told at the run that
/// the section goes through, else at the first run; it is the crew's (crew_steps.hpp). Laws: no
/// step is without words; places lie on the roof.
std::vector<LessonStep> lesson_of(const Assessment& assessment, units::Style style);

/// The compartment with the largest floor; none where there is none.
CompartmentId largest_compartment(const Assessment& assessment);

/// An answer to choose and what is said to whoever chose it.
struct Choice {
  std::string text;
  std::string says;
};

/// A question about this house and what is right.
struct Question {
  std::string asks;
  std::string answer;
  std::string how;  ///< the way to it
  /// Two or more, no two alike; the others come from the mistakes that are usual.
  std::vector<Choice> choices;
  std::size_t right = 0;  ///< index into `choices`; Law: its text is `answer`
  Sight sight{};          ///< the place that it asks about; of the whole house nothing
};
/// Those that the house has something to say to. Equal input, equal order of the choices.
std::vector<Question> questions_of(const Assessment& assessment, units::Style style);

}  // namespace ridgeward::papers
