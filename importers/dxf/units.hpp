#pragma once
// The unit of a drawing, and whether a house can be of that size.

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

/// By the option unit, by $INSUNITS (all lengths of the DXF reference, from memory), or by the size
/// of the drawing; says which. Refused where the option is none that is known.
Unit unit_of(const Drawing& drawing, const Options& options, const importing::Host& host);

/// The larger side of all that is drawn in space.
double width_in_space(const Drawing& drawing);

/// ": unit=m makes it 12 m": the units by which a house of that width, in the drawing's unit, would
/// be one.
std::string offered(double width);

/// Judges the larger side of a house, in the drawing's unit: under 1.5 m or over 1 km it is
/// refused, with the options `unit` that would make a house of it; a doubt is told instead where
/// the option was given, or of a site (`may_be_site`) over 1 km.
void check_size(double width, const Unit& unit, const Options& options, bool may_be_site,
                const importing::Host& host);

/// Judges outlines in plan that are too small for houses, of those that lie in no other. Pieces of
/// walls, posts and the like (under 0.7 m wide or 1 m2) beside a house are left out unless the
/// option `layer` named them; others under 1.5 m wide or 4 m2 are doubted. Where there is no house,
/// it is refused: as walls drawn piece by piece, or, unless the option `unit` was given, for the
/// unit.
void judge_sizes(Drawing& drawing, const Unit& unit, const Options& options,
                 const importing::Host& host);

}  // namespace ridgeward::dxf
