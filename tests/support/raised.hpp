#pragma once
// A raised roof and its lines, checked and measured in feet.

#include "solid/shape.hpp"
#include "surface/stage.hpp"

#include "support/plans.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

namespace ridgeward::support {

/// REQUIREs that the roof rises, keeps its laws and has a valid solid.
inline surface::Surface raised(const model::RoofModel& m) {
  auto result = surface::raise(m);
  if (!result) {
    FAIL(result.faults()[0].code << ": " << result.faults()[0].what);
  }
  const std::vector<std::string> broken = surface::verify(result.value());
  CAPTURE(broken);
  REQUIRE(broken.empty());
  REQUIRE(solid::build(result.value()).ok());
  return std::move(result).value();
}

inline std::vector<double> lengths_ft(const surface::Surface& s, surface::LineKind kind) {
  std::vector<double> all;
  for (const surface::Line& line : s.lines) {
    if (line.kind == kind) {
      all.push_back(line.length_m / ft);
    }
  }
  std::sort(all.begin(), all.end());
  return all;
}

/// REQUIREs lines of just these lengths. United parts meet in vertices snapped to a micrometre:
/// `relative` is 1e-6 for them.
inline void require_lengths(const surface::Surface& s, surface::LineKind kind,
                            std::vector<double> expected, double relative = 1e-9) {
  std::sort(expected.begin(), expected.end());
  const std::vector<double> got = lengths_ft(s, kind);
  CAPTURE(surface::word(kind), got, expected);
  REQUIRE(got.size() == expected.size());
  for (std::size_t i = 0; i < got.size(); ++i) {
    REQUIRE(got[i] == Approx(expected[i]).epsilon(relative));
  }
}

inline double area_ft2(const surface::Surface& s) {
  double sum = 0.0;
  for (const surface::Plane& p : s.planes) {
    sum += p.area_m2;
  }
  return sum / (ft * ft);
}

}  // namespace ridgeward::support
