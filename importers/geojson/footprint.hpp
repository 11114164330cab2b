#pragma once
// From rings of a GeoJSON polygon to outlines of a part.

#include <array>
#include <string>
#include <vector>

namespace ridgeward::geojson {

using Position = std::array<double, 2>;  ///< longitude, latitude in degrees; or x, y in metres
using Ring = std::vector<Position>;

/// One polygon of the file. The first ring is the outer one.
struct Footprint {
  std::string where;  ///< JSON pointer of its rings
  std::string name;
  std::vector<Ring> rings;
  std::string pitch;  ///< as a model file wants it; empty when not given
  double plate_m = 0.0;
  bool has_plate = false;
  double overhang_m = 0.0;
  bool has_overhang = false;
};

/// Whether the positions are degrees: all of them possible ones, and all within a fifth of a
/// degree, which in metres would be a doll's house.
bool are_degrees(const std::vector<Footprint>& all);

/// Turns degrees into metres east and north of the middle of all positions, on the WGS 84
/// ellipsoid: radii of curvature at that latitude (meridian and prime vertical). Within 1 km of the
/// middle lengths are right to 1 part in 3500 at latitudes below 60 degrees.
void project(std::vector<Footprint>& all);

/// Moves everything so that the lower left corner of all outer rings is 0, 0 and rounds to 1 mm.
void move_to_origin(std::vector<Footprint>& all);

/// Drops the closing position and neighbours that are the same point, and turns outer rings
/// counter-clockwise, others clockwise.
void tidy(Footprint& footprint);

}  // namespace ridgeward::geojson
