#pragma once
// The faces of one building settled group by group: parts, and what stays plain. Private to this
// folder.

#include "model/roof_model.hpp"

#include "rebuild/faces.hpp"
#include "rebuild/fit.hpp"

#include <optional>
#include <vector>

namespace ridgeward::rebuild {

struct Built {
  std::vector<model::Part> parts;  ///< first those that are understood, then plain ones
  std::optional<Raised> raised;    ///< all of them as one roof; none where that fails
  std::size_t understood = 0;
  std::size_t plain = 0;
  std::size_t lost = 0;  ///< pieces of planes that gave no part at all
  double plain_area_m2 = 0.0;
  double lost_area_m2 = 0.0;
};

/// As `rebuild` of stage.hpp says. Where the parts do not raise together every plane stays plain.
Built build(const Faces& all, double tolerance_m);

}  // namespace ridgeward::rebuild
