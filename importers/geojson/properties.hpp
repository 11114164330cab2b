#pragma once
// What the properties of a feature say of a building: names of this program's own, and the tags of
// open maps (OpenStreetMap wiki, "Simple 3D Buildings").

#include "geojson/footprint.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace ridgeward::geojson {

/// Fills `footprint` from the object `properties` at the JSON pointer `where`. Tags may stand in an
/// object "tags" of their own, and ":" in their names may be "_". Throws importing::Refused, with
/// the pointer of the value, for pitch, height, eave height and overhang that can't be used; other
/// values that are not understood are listed in `passed_over`.
void read_properties(const nlohmann::json& properties, const std::string& where,
                     Footprint& footprint);

/// Text or whole number under a name; empty when there is none.
std::string text_of(const nlohmann::json& object, const char* name);

}  // namespace ridgeward::geojson
