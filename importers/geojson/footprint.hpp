#pragma once
// From rings of a GeoJSON polygon to outlines of a part.

#include "units/pitch.hpp"

#include "support/importing.hpp"
#include "support/reference_system.hpp"

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace ridgeward::geojson {

using Position = std::array<double, 2>;  ///< longitude, latitude in degrees; or x, y in metres
using Ring = std::vector<Position>;

enum class Shape { hipped, flat, skillion, gabled, half_hipped, pyramidal, gambrel, mansard };

/// What a file says of a roof; what it leaves out is assumed later, aloud.
struct RoofSaid {
  std::optional<Shape> shape;
  std::string other_shape;              ///< as written, where it is none of these
  std::optional<bool> is_across;        ///< the ridge runs across the longer sides
  std::optional<double> direction_deg;  ///< down the slope of a skillion, clockwise from north
  std::optional<units::Pitch> pitch;
  std::optional<double> rise_m;  ///< from the wall plate to the top
  std::optional<double> levels;  ///< storeys within the roof
};

/// One polygon of the file. The first ring is the outer one.
struct Footprint {
  std::string where;  ///< JSON pointer of its rings
  std::string name;
  bool is_part = false;  ///< of a building, whose outline is another footprint
  std::vector<Ring> rings;
  RoofSaid roof;
  std::optional<double> plate_m;
  std::optional<double> top_m;    ///< of the roof, over the ground
  std::optional<double> storeys;  ///< beneath the roof
  std::optional<double> overhang_m;
  std::vector<std::string>
      passed_over;  ///< what its properties say of the roof that serves nothing
};

using Options = std::map<std::string, std::string>;

/// Turns all positions into metres, moved so that the lower left corner of all rings is 0, 0, and
/// rounded to 1 mm; says how. They are degrees when the options or the reference system say so;
/// where neither says anything, when all of them are possible ones and each footprint lies within a
/// fifth of a degree, which in metres would be a doll's house. What lies on both sides of the 180th
/// meridian is brought together.
///
/// Degrees become metres east and north of the middle of all positions, on the WGS 84 ellipsoid:
/// radii of curvature at that latitude (meridian and prime vertical). Within 1 km of the middle
/// lengths are right to 1 part in 3500 at latitudes below 60 degrees.
///
/// Refused: options that can't be used; footprints more than 10 km apart.
void to_metres(std::vector<Footprint>& all, const Options& options,
               const std::optional<importing::ReferenceSystem>& system,
               const importing::Host& host);

/// Twice the area, positive when counter-clockwise.
double twice_area(const Ring& ring);

/// Takes out outlines of buildings that are covered by parts of theirs for the most part, as maps
/// draw them; gives their number. REQUIRES metres.
std::size_t leave_out_outlines(std::vector<Footprint>& all);

/// Drops the closing position and neighbours that are the same point, and turns outer rings
/// counter-clockwise, others clockwise.
void tidy(Footprint& footprint);

}  // namespace ridgeward::geojson
