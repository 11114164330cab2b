#pragma once
// What the text of an IFC file (STEP physical file, ISO 10303-21) says that the library does not
// tell.

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

}  // namespace ridgeward::ifc
