#include "vents/intake_bands.hpp"

#include "base/polygon.hpp"
#include "base/rays.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-6;
constexpr double same_level_m = 1e-5;  // a united surface moves nodes by micrometres

/// A band without its stretch, and the reach along the eave over which it holds.
struct Wanted {
  IntakeBand band;
  double from_u_m = -HUGE_VAL;
  double to_u_m = HUGE_VAL;
};

/// From an eave up the slope to the wall that carries the plane.
double wall_over_eave_m(const Site& site, const surface::Plane& plane, const EaveLine& eave) {
  const glm::dvec2 middle{0.5 * (eave.from_u_m + eave.to_u_m), eave.v_m};
  return surface::wall_line_at(site.surface, plane, middle).v_m - eave.v_m;
}

/// The band of the eave position, or of a vent in the middle of the soffit.
std::optional<IntakeBand> eave_band(const Site& site, const surface::Plane& plane,
                                    const EaveLine& eave, const model::Product& product) {
  IntakeBand band;
  band.drip_v_m = eave.v_m;
  if (!model::is_in_soffit(product.kind)) {
    band.low_m = product.slot.lower_line_m;
    band.high_m = band.low_m + product.slot.width_m;
    return band;
  }
  const double wall_m = wall_over_eave_m(site, plane, eave);
  const double depth_m = product.depth_m * plane.pitch.slope_factor();
  if (wall_m < depth_m + near_m) {
    return std::nullopt;
  }
  band.low_m = 0.5 * (wall_m - depth_m);
  band.high_m = band.low_m + depth_m;
  return band;
}

std::vector<Wanted> at_eaves(const Site& site, const surface::Plane& plane,
                             const std::vector<EaveLine>& eaves, const model::Product& product) {
  std::vector<Wanted> all;
  double done = -HUGE_VAL;
  for (const EaveLine& eave : eaves) {
    if (eave.v_m <= done + near_m) {
      continue;  // the same height as the one before
    }
    done = eave.v_m + same_level_m;
    if (const std::optional<IntakeBand> band = eave_band(site, plane, eave, product)) {
      all.push_back({*band});
    }
  }
  return all;
}

/// Eaves at one height are counted together unless their walls stand at different distances.
std::vector<Wanted> up_the_slope(const Site& site, const surface::Plane& plane,
                                 const std::vector<EaveLine>& eaves,
                                 const model::Product& product) {
  std::vector<Wanted> all;
  std::vector<double> walls;
  for (const EaveLine& eave : eaves) {
    // Over a break all of the slope is inside the walls: the rows are counted from the break.
    const double wall_m = eave.is_break ? 0.0 : wall_over_eave_m(site, plane, eave);
    walls.push_back(wall_m);
    Wanted wanted;
    wanted.band.is_over_break = eave.is_break;
    wanted.band.drip_v_m = eave.v_m;
    wanted.band.courses = courses_at(site.model.roofing, wall_m);
    wanted.band.low_m = wanted.band.courses->faced_row_butt_m + product.slot.above_butt_m;
    wanted.band.high_m = wanted.band.low_m + product.slot.width_m;
    wanted.from_u_m = eave.from_u_m;
    wanted.to_u_m = eave.to_u_m;
    all.push_back(wanted);
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    bool is_alone = true;
    for (std::size_t k = 0; k < all.size(); ++k) {
      const bool is_level = std::abs(eaves[i].v_m - eaves[k].v_m) <= same_level_m;
      is_alone = is_alone && !(is_level && std::abs(walls[i] - walls[k]) > near_m);
    }
    if (is_alone) {
      all[i].from_u_m = -HUGE_VAL;
      all[i].to_u_m = HUGE_VAL;
    }
  }
  // Those that reach everywhere hold for all eaves of their height: the first is enough.
  std::vector<Wanted> kept;
  for (const Wanted& one : all) {
    const bool is_known = std::any_of(kept.begin(), kept.end(), [&](const Wanted& other) {
      return other.to_u_m == HUGE_VAL &&
             std::abs(other.band.drip_v_m - one.band.drip_v_m) <= same_level_m;
    });
    if (!is_known) {
      kept.push_back(one);
    }
  }
  return kept;
}

}  // namespace

std::vector<IntakeBand> intake_bands(const Site& site, const surface::Plane& plane,
                                     const std::vector<EaveLine>& eaves,
                                     const model::Product& product, model::Position position) {
  std::vector<IntakeBand> all;
  const std::vector<Wanted> wanted = position == model::Position::eave
                                         ? at_eaves(site, plane, eaves, product)
                                         : up_the_slope(site, plane, eaves, product);
  for (const Wanted& one : wanted) {
    for (BandStretch stretch :
         stretches(site.surface, plane, one.band.drip_v_m, one.band.low_m, one.band.high_m)) {
      if (stretch.left.u_m < one.from_u_m) {
        stretch.left = {one.from_u_m, {}, false};
      }
      if (stretch.right.u_m > one.to_u_m) {
        stretch.right = {one.to_u_m, {}, false};
      }
      if (stretch.right.u_m - stretch.left.u_m > near_m) {
        all.push_back(one.band);
        all.back().stretch = stretch;
      }
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const IntakeBand& l, const IntakeBand& r) {
    return l.stretch.left.u_m < r.stretch.left.u_m;
  });
  return all;
}

}  // namespace ridgeward::vents
