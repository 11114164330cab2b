#pragma once
// A code set is data (models/codes): required areas, the conditions of the reduced area, geometry
// tests, each with its section and a line of plain words. No rule of a code stands in the program.

#include "base/fault.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::codes {

/// Bounds on a measure; either may be missing.
struct Bounds {
  std::optional<double> least;
  std::optional<double> most;
};

enum class Measure {
  high_share_of_required,   ///< exhaust free area over the required area (reduced ratio)
  low_share_of_required,    ///< intake free area over the required area (reduced ratio)
  exhaust_below_top_m,      ///< plumb, from the highest point of the space to the lowest exhaust
  intake_height_share,      ///< height of the highest intake over the height of the space, 0..1
  exhaust_above_intake_m,   ///< plumb, highest intake to lowest exhaust
  space_over_insulation_m,  ///< between insulation and deck at the slot
  intake_share_of_total,    ///< intake over intake plus exhaust
  lowest_slope,             ///< rise per run of the flattest plane over the space
  intake_per_eave_m,      ///< m2 a metre: free area at the eave of a plane over its eave, the least
  exhaust_per_ridge_m,    ///< m2 a metre: exhaust free area over ridges, or a single slope's top
  intake_share_of_slope,  ///< free area at the eave of a plane over the plane's area, the least
  exhaust_share_of_roof,  ///< exhaust free area over the roof area of the space
  span_m,                 ///< level, across the walls beneath, up the slope of the longest eave
  rafter_length_m,        ///< of the longest bay, up the slope
  slope_directions        ///< number of ways in which the planes with eaves face: 1 for a lean-to
};

/// A rule holds only where `measure` lies within `bounds`.
struct When {
  Measure measure = Measure::lowest_slope;
  Bounds bounds;
};

/// One test: `measure` must lie within `bounds`.
struct Rule {
  std::string id;       ///< stable word, "high_share"
  std::string section;  ///< "R806.2"
  std::string words;    ///< plain words
  Measure measure = Measure::high_share_of_required;
  Bounds bounds;
  std::vector<When> when;    ///< all of them; where one fails the rule asks for nothing
  bool from_memory = false;  ///< the figure has not been read in the document itself
  bool is_advice = false;    ///< common practice: a failure is a warning, not a failed code test
};

struct CodeSet {
  std::string id;        ///< "us-irc-2021"
  std::string name;      ///< "International Residential Code 2021, section R806"
  std::string edition;   ///< "2021"
  double ratio = 150.0;  ///< floor area over required area; 0: the code asks for no such area
  std::string ratio_section;
  std::string ratio_words;
  double reduced_ratio = 300.0;  ///< 0: none
  std::string reduced_section;
  std::string reduced_words;
  bool reduced_needs_all = true;  ///< all of `conditions`, or one or more of them
  std::vector<Rule> conditions;   ///< of the reduced ratio
  /// Climate zones, by their first figures, in which the reduced ratio also asks for what no model
  /// tells, and that in words; empty: nowhere.
  std::string proviso_zones;
  std::string proviso_words;
  std::vector<Rule> rules;  ///< that always apply
  /// Where the set speaks of the roofing, by subject; what is left out it does not name.
  struct Sections {
    std::string slope;           ///< least slopes under shingles
    std::string ice_barrier;     ///< how far up it reaches
    std::string cricket;         ///< behind wide chimneys
    std::string beside_opening;  ///< metal beside chimneys and skylights
    std::string nails;           ///< of shingles: how far into the deck
  };
  Sections sections;
  std::vector<std::string> notes;  ///< switches and doubts a user must know
  Faults warnings;                 ///< unknown keys and the like: the set serves
};

/// The section, or "common practice" where the set names none.
std::string or_practice(const std::string& section);
/// The section that asks for this room over insulation, to a millimetre; else "common practice".
std::string section_of_room(const CodeSet& code, double room_m);

/// Reads a code set (docs/codes.md); faults as model::read.
Result<CodeSet> read_code_set(std::string_view json);
Result<CodeSet> read_code_set_file(const std::string& path);
std::string code_set_schema();

}  // namespace ridgeward::codes
