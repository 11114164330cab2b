#pragma once
// The cutting plan's inner steps: a quick packing, the exact program.

#include "takeoff/cutting.hpp"

#include <optional>
#include <vector>

namespace ridgeward::takeoff {

/// Lengths closer than this are one.
inline constexpr double same_cut_m = 1e-7;

/// What a strip takes of a section that is cut. A strip that takes both ends takes `length_m` in
/// two pieces when it is shorter than the section and both have to be factory ends.
struct Taken {
  std::size_t strip = 0;
  double length_m = 0.0;
  bool is_left = false;  ///< it is the strip's leftmost piece
  bool is_right = false;
};

/// Whole sections of a strip, and whether they stand at its ends.
struct Wholes {
  int count = 0;
  bool is_left = false;
  bool is_right = false;
};

struct Packing {
  std::vector<Wholes> wholes;            ///< by strip
  std::vector<std::vector<Taken>> cuts;  ///< by section that is cut
  std::size_t bought() const;
};

/// Strips laid in whole sections and one rest each, the rests longest first into the fullest
/// section that takes them.
Packing pack_rests(const std::vector<Strip>& strips, const CuttingRules& rules);
/// The same with at most `most` sections: a rest that lies between whole sections may be laid in
/// several pieces. None where that is not enough.
std::optional<Packing> pack_in_parts(const std::vector<Strip>& strips, const CuttingRules& rules,
                                     std::size_t most);

enum class Proof { found, impossible, unknown };
struct Sought {
  Proof proof = Proof::unknown;
  Packing packing;
};
/// A packing with at most `most` sections and as few pieces as can be, of which every strip has all
/// its whole sections but `loose`.
Sought pack_exactly(const std::vector<Strip>& strips, const CuttingRules& rules, std::size_t most,
                    int loose);

/// Most whole sections of a strip.
int wholes_of(const Strip& strip, const CuttingRules& rules);
/// Shortest piece of a strip (the least piece, or less where the strip asks for it), and shortest
/// where it lies at an end.
double least_of(const Strip& strip, const CuttingRules& rules);
double least_at(const Strip& strip, const EndNeed& need, const CuttingRules& rules);

}  // namespace ridgeward::takeoff
