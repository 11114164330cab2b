#pragma once
// Houses of several parts at random: wings, crossings, dormers, towers, parts that touch, coincide
// or lie within each other, on a grid so that coincidences are common.

#include "support/plans.hpp"

#include <cmath>
#include <random>

namespace ridgeward::support {

struct PartsChoice {
  double turn_step_deg = 90.0;
  double offset_m = 0.0;  ///< parts are moved by up to this
  int most_parts = 6;
  double overhang_m = 0.0;      ///< of eaves; half of it at rakes
  double overlaid_share = 0.0;  ///< of the parts after the first
};

inline model::RoofModel random_parts(std::mt19937_64& rng, const PartsChoice& choice) {
  const std::vector<double> rises{4, 6, 8, 12};
  const auto whole = [&](int low, int high) {
    return std::uniform_int_distribution<int>(low, high)(rng);
  };
  model::RoofModel m;
  const int count = whole(2, choice.most_parts);
  const double common_rise = rises[static_cast<std::size_t>(whole(0, 3))];
  const bool has_one_pitch = whole(0, 1) == 0;
  std::uniform_real_distribution<double> shift(-choice.offset_m, choice.offset_m);
  for (int i = 0; i < count; ++i) {
    const double w = whole(2, 8) * 1.2192;
    const double h = whole(2, 6) * 1.2192;
    const glm::dvec2 at{whole(0, 8) * 1.2192 + shift(rng), whole(0, 8) * 1.2192 + shift(rng)};
    const double a = whole(0, 7) * choice.turn_step_deg * M_PI / 180;
    const double rise = has_one_pitch ? common_rise : rises[static_cast<std::size_t>(whole(0, 3))];
    model::Part part;
    part.id = "p" + std::to_string(i);
    part.plate_m = 2.4384 + (whole(0, 2) == 0 ? whole(-1, 1) * 0.6096 : 0.0);
    part.fascia = whole(0, 3) == 0 ? model::Fascia::as_given : model::Fascia::level;
    part.framing.spacing_m = (whole(0, 1) == 0 ? 16 : 24) * inch;
    part.framing.origin_m = whole(0, 23) * inch;
    if (i > 0 && std::uniform_real_distribution<double>(0, 1)(rng) < choice.overlaid_share) {
      part.valleys = model::Valleys::overlaid;
    }
    for (const glm::dvec2 c : {glm::dvec2{0, 0}, {w, 0}, {w, h}, {0, h}}) {
      part.outline.push_back(at + glm::dvec2{std::cos(a) * c.x - std::sin(a) * c.y,
                                             std::sin(a) * c.x + std::cos(a) * c.y});
    }
    const int kind = whole(0, 4);
    const auto over = [&] { return whole(0, 3) == 0 ? 0.0 : choice.overhang_m; };
    const auto end = [&](bool stands) { return stands ? gable(0.5 * over()) : eave(rise, over()); };
    const model::Edge front = eave(rise, over());
    part.edges = {front, end(kind < 2), end(kind == 4), end(kind < 2 || kind == 4)};
    if (kind == 4) {
      part.edges[1] = gable(0.5 * over());  // a shed
    }
    m.parts.push_back(part);
  }
  return m;
}

}  // namespace ridgeward::support
