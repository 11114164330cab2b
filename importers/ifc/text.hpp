#pragma once
// What the text of an IFC file (STEP physical file, ISO 10303-21) says that the library does not
// tell, and what it has to be told otherwise for the library.

#include "support/planes.hpp"

#include <array>
#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::ifc {

/// One statement of the file: "#17= IFCSLAB('2RGl...',#13,'Dach-1',...,.ROOF.);".
struct Statement {
  std::string_view name;  ///< "#17"
  std::string_view kind;
  std::string_view list;  ///< after its opening bracket
  /// Of the outermost list, strings without their quotes; at least one.
  std::vector<std::string> values() const;
};

/// Calls `take` with each statement.
void each_statement(std::string_view text, const std::function<void(const Statement&)>& take);

/// The statements of some kinds by their names; they point into the text.
using Statements = std::map<std::string_view, Statement>;
Statements statements_of(std::string_view text, const std::set<std::string_view>& kinds);

/// The numbers of "(0.34,0.93)", as many as there are before what is none.
std::vector<double> numbers_in(std::string_view list);

/// Where north lies, clockwise from the plan's y: the direction that is attribute TrueNorth of the
/// first geometric context that has one (ISO 16739-1, IfcGeometricRepresentationContext); none
/// where no context has.
std::optional<double> north_deg_in(std::string_view text);

/// The unit in which lengths are given.
struct LengthUnit {
  double metres = 1.0;
  std::string name;           ///< "FOOT", "METRE", "MILLIMETRE"
  bool is_converted = false;  ///< given by a factor on another unit
};

/// The length unit of the project's IfcUnitAssignment (ISO 16739-1: IfcSIUnit with its prefix,
/// IfcConversionBasedUnit with the factor of its IfcMeasureWithUnit); none where there is none
/// that can be used.
std::optional<LengthUnit> length_unit_in(std::string_view text);

/// The file as the library takes it.
struct Fitted {
  std::string bytes;  ///< empty: as it was
  /// What was taken from all places in plan, in the file's unit.
  std::array<double, 2> moved{0.0, 0.0};
};

/// 1. IFC4 may leave the owner history of an object out; the library wants one (IFC 2x3), so it
///    is given one.
/// 2. The library reckons places in single precision. Where an object's place lies farther than
///    `far` from the origin in plan, every IfcLocalPlacement is reckoned here and written as one
///    that hangs on no other, less a common distance.
Fitted fitted(std::string_view text, double far);

}  // namespace ridgeward::ifc
