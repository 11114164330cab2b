#pragma once
// Where the objects of an IFC file stand, and which of their shapes lie far away in themselves.
// Private to this folder.

#include "ifc/table.hpp"
#include "ifc/text.hpp"
#include "support/vectors.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::ifc {

/// Of each IfcLocalPlacement, by name; none where one can't be reckoned.
std::optional<std::map<std::string_view, Place>> placements_in(std::string_view text);

/// What stands at an attribute of a statement, counted from 0, within its list; empty where the
/// list is shorter.
std::string_view attribute(const Statement& it, std::size_t index);

/// An object whose shape lies far from its own place.
struct FarShape {
  std::string_view placement;       ///< the attribute ObjectPlacement, within the text
  std::string_view representation;  ///< the attribute Representation
};

/// Shapes whose own corners (or the places, or outlines, of their solids) lie farther out than a
/// distance in plan, and one distance for all by which they come near.
class FarShapes {
 public:
  FarShapes(std::string_view text, double far);

  const std::vector<FarShape>& all() const { return found_; }
  const importing::Point& by() const { return by_; }
  /// Adds the statements of a representation that lies `by()` nearer, numbered on from `last`;
  /// returns its name. What several name is written once.
  std::string nearer(std::string_view name, std::uint64_t& last, std::string& added);

 private:
  void reach(std::string_view shape, std::vector<importing::Point>& corners) const;
  void reach_outline(const Statement& solid, std::vector<importing::Point>& corners) const;

  Statements lines_;
  std::vector<FarShape> found_;
  importing::Point by_{0.0, 0.0, 0.0};
  std::map<std::string_view, std::string> made_;
  int depth_ = 0;
};

}  // namespace ridgeward::ifc
