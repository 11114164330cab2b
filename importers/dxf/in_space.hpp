#pragma once
// Roofs that are drawn in space, as faces or as lines.

#include "dxf/drawing.hpp"
#include "support/importing.hpp"

#include <map>
#include <string>

namespace ridgeward::dxf {

using Options = std::map<std::string, std::string>;

/// A unit of the model file, and how many of it one unit of the drawing is.
struct Unit {
  std::string name;
  double factor = 1.0;
};

/// Metres of one unit of the drawing.
double metres_in(const Unit& unit);

/// Whether the layer has `word` in its name, in capitals or not.
bool has(const std::string& layer, const std::string& word);
std::string option(const Options& options, const char* key, const std::string& otherwise);

/// Gives the host the planes of a roof that is drawn in space, with the walls of the drawing; says
/// whether it did. Refused where `from` asks for what is not there.
bool give_roof(const Drawing& drawing, const Unit& unit, const Options& options,
               const importing::Host& host);

}  // namespace ridgeward::dxf
