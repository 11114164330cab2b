#pragma once
// IFC4 read by another project's reader (IFC++), as the tree that a building program shows.

#include <map>
#include <string>
#include <vector>

namespace ridgeward::support {

/// One element as it hangs in the tree.
struct IfcElement {
  std::string kind;  ///< "IfcSlab", "IfcMember"
  std::string name;
  std::string type;                   ///< ObjectType; of slabs ROOF where that is their kind
  std::vector<std::string> openings;  ///< names of the opening elements that void it
};

struct IfcTree {
  std::size_t entities = 0;  ///< read, of all kinds
  std::string schema;
  std::vector<std::string> place;  ///< names from the project down to the storey
  int roofs = 0;
  std::vector<IfcElement> elements;   ///< slabs of the roof, members of the storey
  std::vector<std::string> messages;  ///< warnings and errors of the reader
};

IfcTree read_ifc4(std::string bytes);

}  // namespace ridgeward::support
