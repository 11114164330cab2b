#pragma once
// Chooses where intake and exhaust go.

#include "base/fault.hpp"
#include "codes/code_set.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::placement {

/// One product of exhaust for all of a group of compartments.
struct Alternative {
  std::string exhaust;
  bool is_possible = false;
  bool is_proven = true;  ///< false: the search ended first
  double cost = 0.0;      ///< with all that weighs
};

/// What was placed over compartments that are served together, or why nothing can be.
struct Placed {
  std::vector<std::string> compartments;  ///< ids
  std::string what;  ///< the same in words: "attic", "8 rafter spaces under hall (main/0/b2-b9)"
  bool is_met = false;
  bool is_proven = true;  ///< no placement of these candidates is better; or none is possible
  double above = 0.0;   ///< where not proven: at most so much above the least; HUGE_VAL: not known
  std::string exhaust;  ///< product; several, with commas: one over each compartment
  std::vector<std::string> exhaust_over;  ///< where several: which of them over what
  /// In money where the model has prices for the products, each run by itself; else in effort.
  double cost = 0.0;
  double money = 0.0;   ///< of `cost`
  double beside = 0.0;  ///< what weighs beside cost: warnings, unevenness, effort beside money
  int runs = 0;
  int exhausts = 0;
  double intake_m2 = 0.0;
  double exhaust_m2 = 0.0;
  double uneven_m = 0.0;                  ///< summed over eaves, beyond one section each
  std::vector<Alternative> alternatives;  ///< by product
  std::vector<std::string> traded;        ///< what was given up for what, in plain words
  std::vector<std::string> in_the_way;  ///< where nothing can be placed: why, and how near it comes
};

/// What a priced placement costs when its vents are bought together, one run's left-over used for
/// another.
struct Bought {
  double counted = 0.0;   ///< each run by itself
  double together = 0.0;  ///< as takeoff::count orders
  double above = 0.0;  ///< at most this much above what the cheapest placement could be bought for
};

struct Placement {
  model::RoofModel model;  ///< with the chosen vents in the place of its own; whole only if is_met
  std::vector<Placed> groups;
  std::optional<Bought> bought;   ///< where the model has prices
  std::vector<std::string> said;  ///< of the whole: vents replaced, eaves that could not be used
  bool is_met = false;
};

/// For every compartment: the code is met, intake is 50 to 60 % of both, no slot opens onto a dead
/// bay, no conflict is an error, one product of exhaust. Among those: fewest conflicts that are
/// warnings, the eaves used evenly (each to one share of its length, give or take one section),
/// then least cost. Where advice of the trade and the code can't both be had the advice gives way,
/// and it is said. The vents of `model` are replaced.
/// With prices two placements are weighed: the cheapest run by run, and the cheapest by length; the
/// one that is bought together for less is taken.
/// Laws: where is_met, assessing `model` finds no error and no failed test; without prices `cost`
/// is the least of all choices of candidates (docs/place.md) where is_proven; with prices no choice
/// is bought together for less than `above` below what is. Faults: those of the stages before
/// vents.
Result<Placement> place(const model::RoofModel& model, const model::Catalogue& catalogue,
                        const codes::CodeSet& code);

}  // namespace ridgeward::placement
