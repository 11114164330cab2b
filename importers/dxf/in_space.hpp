#pragma once
// Roofs that are drawn in space, as faces or as lines.

#include "dxf/drawing.hpp"
#include "dxf/units.hpp"
#include "support/importing.hpp"

#include <string>

namespace ridgeward::dxf {

std::string option(const Options& options, const char* key, const std::string& otherwise);

/// Gives the host the planes of a roof that is drawn in space, with the walls of the drawing; says
/// whether it did. Refused where `from` asks for what is not there.
bool give_roof(const Drawing& drawing, const Unit& unit, const Options& options,
               const importing::Host& host);

}  // namespace ridgeward::dxf
