#pragma once
// Drawings in DXF, written by hand.

#include <fmt/format.h>

#include <array>
#include <string>
#include <vector>

namespace ridgeward::tests {

using Place = std::array<double, 2>;

/// A DXF file of entities; `unit` is its $INSUNITS.
inline std::string in_dxf(int unit, const std::string& entities) {
  return fmt::format(
      "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{}\n0\nENDSEC\n0\nSECTION\n2\n"
      "ENTITIES\n{}0\nENDSEC\n0\nEOF\n",
      unit, entities);
}

inline std::string closed(const std::string& layer, const std::vector<Place>& places) {
  std::string text = fmt::format("0\nLWPOLYLINE\n8\n{}\n90\n{}\n70\n1\n", layer, places.size());
  for (const Place& p : places) {
    text += fmt::format("10\n{}\n20\n{}\n", p[0], p[1]);
  }
  return text;
}

inline std::string line(const std::string& layer, double x1, double y1, double x2, double y2) {
  return fmt::format("0\nLINE\n8\n{}\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n", layer, x1, y1, x2, y2);
}

inline std::string line_in_space(const std::string& layer, const std::array<double, 3>& from,
                                 const std::array<double, 3>& to) {
  return fmt::format("0\nLINE\n8\n{}\n10\n{}\n20\n{}\n30\n{}\n11\n{}\n21\n{}\n31\n{}\n", layer,
                     from[0], from[1], from[2], to[0], to[1], to[2]);
}

/// Three corners or four.
inline std::string face(const std::string& layer,
                        const std::vector<std::array<double, 3>>& corners) {
  std::string text = "0\n3DFACE\n8\n" + layer + "\n";
  for (std::size_t i = 0; i < 4; ++i) {
    const std::array<double, 3>& p = i < corners.size() ? corners[i] : corners.back();
    text += fmt::format("{}\n{}\n{}\n{}\n{}\n{}\n", 10 + i, p[0], 20 + i, p[1], 30 + i, p[2]);
  }
  return text;
}

}  // namespace ridgeward::tests
