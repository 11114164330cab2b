#pragma once
// Solids read back from STEP and BREP text by the readers of Open CASCADE.

#include <string>
#include <vector>

namespace ridgeward::support {

struct ReadSolid {
  std::string path;  ///< names from the top of the tree: "Larch Hall > deck > deck/main/0"
  double volume_m3 = 0.0;
  double area_m2 = 0.0;
  bool is_valid = false;
};

/// Leaves of the assembly tree, in order; millimetres are turned into metres.
std::vector<ReadSolid> read_step(const std::string& text);
/// Solids in order, without names.
std::vector<ReadSolid> read_brep(const std::string& text);

}  // namespace ridgeward::support
