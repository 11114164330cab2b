#include "codes/keys.hpp"

#include <array>

namespace ridgeward::codes {

namespace {

using Words = std::string_view;

constexpr std::array<Words, 10> code_set_names{"$schema",  "ridgeward", "id",      "name",
                                               "edition",  "required",  "reduced", "rules",
                                               "sections", "notes"};
constexpr std::array<Words, 3> required_names{"ratio", "section", "words"};
constexpr std::array<Words, 6> reduced_names{"ratio", "section",    "words",
                                             "needs", "conditions", "proviso"};
constexpr std::array<Words, 2> proviso_names{"zones", "words"};
constexpr std::array<Words, 9> rule_names{"id",   "section", "words",       "measure",  "least",
                                          "most", "when",    "from_memory", "is_advice"};
constexpr std::array<Words, 3> when_names{"measure", "least", "most"};
constexpr std::array<Words, 5> sections_names{"slope", "ice_barrier", "cricket", "beside_opening",
                                              "nails"};

}  // namespace

namespace keys {
constinit const model::ObjectKeys code_set{"code_set", code_set_names};
constinit const model::ObjectKeys required{"required", required_names};
constinit const model::ObjectKeys reduced{"reduced", reduced_names};
constinit const model::ObjectKeys proviso{"proviso", proviso_names};
constinit const model::ObjectKeys rule{"rule", rule_names};
constinit const model::ObjectKeys when{"when", when_names};
constinit const model::ObjectKeys sections{"sections", sections_names};
}  // namespace keys

std::span<const model::ObjectKeys* const> code_set_keys() {
  static constexpr std::array<const model::ObjectKeys*, 7> all{
      &keys::code_set, &keys::required, &keys::reduced, &keys::proviso,
      &keys::rule,     &keys::when,     &keys::sections};
  return all;
}

}  // namespace ridgeward::codes
