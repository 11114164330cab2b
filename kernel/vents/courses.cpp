#include "vents/courses.hpp"

#include "vents/practice.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::vents {

namespace {

/// A wall line this close under a butt counts as on it.
constexpr double near_m = 1e-9;
constexpr char first_cold_zone = '6';
constexpr char last_cold_zone = '8';
constexpr double steep_from_in_12 = 8.0;

}  // namespace

Courses courses_at(const model::Roofing& roofing, double wall_line_m) {
  const double exposure = roofing.exposure_m;
  Courses courses;
  courses.exposure_m = exposure;
  courses.wall_row = 1 + static_cast<int>(std::floor(
                             std::max(0.0, wall_line_m + roofing.starter_m + near_m) / exposure));
  courses.wall_row_butt_m = (courses.wall_row - 1) * exposure - roofing.starter_m;
  courses.whole_row_butt_m = courses.wall_row_butt_m + exposure;
  courses.faced_row_butt_m = courses.whole_row_butt_m + exposure;
  courses.face_nails_m = courses.faced_row_butt_m + practice::face_nails_m;
  courses.top_nails_below_m = practice::top_nails_below_m;
  return courses;
}

bool has_ice_barrier(const model::RoofModel& model) {
  switch (model.roofing.ice_barrier) {
    case model::IceBarrier::required:
      return true;
    case model::IceBarrier::none:
      return false;
    case model::IceBarrier::by_climate:
      break;
  }
  const std::string& zone = model.site.climate_zone;
  return model.site.snow ||
         (!zone.empty() && zone.front() >= first_cold_zone && zone.front() <= last_cold_zone);
}

double ice_barrier_reach_m(const model::RoofModel& model, const model::Part& part,
                           units::Pitch pitch, double overhang_m) {
  const double wall_m =
      model.roofing.ice_barrier_from == model::WallFace::inner ? part.wall_thickness_m : 0.0;
  const double inside_m =
      (overhang_m + wall_m + practice::ice_barrier_inside_m) * pitch.slope_factor();
  return pitch.in_12() < steep_from_in_12 - near_m
             ? inside_m
             : std::max(inside_m, practice::ice_barrier_slope_m);
}

}  // namespace ridgeward::vents
