#pragma once
// The layers a person switches on and off, by the words used in the window and on the command line.

#include "base/fault.hpp"

#include <bitset>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::scene {

enum class Layer {
  planes,       ///< roof faces
  lines,        ///< eaves, rakes, ridges, hips, valleys ...
  lengths,      ///< length labels on the lines
  names,        ///< id and pitch on the planes
  members,      ///< rafters, hips, valleys, ridge boards
  bays,         ///< the spaces between the rafters, by what air can do in them
  slots,        ///< intake: slots in the deck and the vent over them
  exhaust,      ///< exhaust vents
  walls,        ///< walls and ground
  obstacles,    ///< chimneys, pipes, skylights
  ceiling,      ///< floor of each compartment
  insulation,   ///< on the ceilings, as thick as it is
  air,          ///< compartments as volumes
  see_through,  ///< roof faces drawn as glass
  findings,     ///< where something stands in the way
  totals,       ///< panel: required, intake, exhaust, balance
  legend        ///< panel: what the lines and marks mean
};
inline constexpr std::size_t layer_count = 17;

/// A set of layers.
class Layers {
 public:
  Layers() = default;
  bool has(Layer layer) const { return bits_[static_cast<std::size_t>(layer)]; }
  void set(Layer layer, bool on) { bits_[static_cast<std::size_t>(layer)] = on; }
  bool operator==(const Layers&) const = default;

 private:
  std::bitset<layer_count> bits_;
};

struct LayerWords {
  Layer layer;
  const char* word;   ///< "see-through": on the command line
  const char* words;  ///< what it shows, for people
  const char* brief;  ///< the same in a word
};

/// All layers in the order in which they are listed.
const std::vector<LayerWords>& layer_words();
/// What a new window or a picture shows when nothing is asked for.
Layers usual_layers();
/// "planes,lines,totals" or "all"; spaces around the commas are allowed. A leading "+" or "-"
/// before a word adds it to, or takes it from, the usual layers.
/// Faults: show.unknown_word (the cure lists the good words), show.empty.
Result<Layers> parse_layers(std::string_view list);

}  // namespace ridgeward::scene
