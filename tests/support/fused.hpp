#pragma once
// The same house made by Boolean union in the modelling kernel: the cross-check of united parts.
// Plain types outside, so that only one file pays for its headers.

#include "model/roof_model.hpp"
#include "solid/shape.hpp"

#include <vector>

namespace ridgeward::support {

/// Every part alone as a solid down to `base_m`, ready to be united.
class Fusion {
 public:
  Fusion(const model::RoofModel& model, double base_m);
  ~Fusion();
  Fusion(const Fusion&) = delete;
  Fusion& operator=(const Fusion&) = delete;

  /// Unites all at once and returns the volume in m3.
  double volume_m3() const;
  /// Unites only (for timing).
  bool unite() const;

 private:
  struct Held;
  Held* held_;
};

/// Volume that two solids share.
double common_m3(const solid::Shape& one, const solid::Shape& other);

}  // namespace ridgeward::support
