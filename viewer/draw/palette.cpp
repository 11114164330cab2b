#include "draw/palette.hpp"

#include <glm/common.hpp>

#include <array>

namespace ridgeward::draw {
namespace {

constexpr Inks light{{0.941F, 0.949F, 0.953F}, {0.360F, 0.410F, 0.470F}, {0.118F, 0.141F, 0.173F},
                     {0.372F, 0.407F, 0.450F}, {0.980F, 0.760F, 0.110F}, {0.055F, 0.400F, 0.690F},
                     {0.820F, 0.370F, 0.050F}, {0.050F, 0.450F, 0.400F}, {0.690F, 0.430F, 0.000F},
                     {0.690F, 0.110F, 0.180F}, {0.996F, 0.996F, 0.992F}, {0.890F, 0.900F, 0.910F},
                     {0.760F, 0.780F, 0.800F}, {0.100F, 0.110F, 0.130F}, 1.0F};
constexpr Inks dark{{0.102F, 0.114F, 0.133F}, {0.000F, 0.000F, 0.000F}, {0.910F, 0.922F, 0.937F},
                    {0.650F, 0.682F, 0.722F}, {1.000F, 0.800F, 0.200F}, {0.400F, 0.710F, 0.980F},
                    {0.990F, 0.600F, 0.270F}, {0.340F, 0.800F, 0.690F}, {0.960F, 0.730F, 0.270F},
                    {1.000F, 0.520F, 0.540F}, {0.145F, 0.160F, 0.184F}, {0.250F, 0.272F, 0.302F},
                    {0.310F, 0.335F, 0.370F}, {0.960F, 0.970F, 0.980F}, 0.72F};

Inks& held() {
  static Inks inks = light;
  return inks;
}

bool& held_dark() {
  static bool is_on = false;
  return is_on;
}

/// On a dark ground lines are lifted towards white.
StrokeLook for_theme(StrokeLook look) {
  if (is_dark()) {
    look.colour = glm::mix(look.colour, glm::vec3(1.0F), 0.48F);
  }
  return look;
}

StrokeLook plain_look(scene::StrokeRole role);

}  // namespace

void set_dark(bool on) {
  held() = on ? dark : light;
  held_dark() = on;
}
bool is_dark() { return held_dark(); }
const Inks& inks() { return held(); }
float light_share() { return held().light_share; }

StrokeLook look_of(scene::StrokeRole role) { return for_theme(plain_look(role)); }

FaceLook air_look(std::size_t compartment) {
  static constexpr std::array<FaceLook, 5> looks{{
      {{0.300F, 0.640F, 0.900F}, 0.26F, Hatch::rising, {0.060F, 0.360F, 0.620F}},
      {{0.920F, 0.600F, 0.250F}, 0.26F, Hatch::level, {0.620F, 0.330F, 0.040F}},
      {{0.330F, 0.720F, 0.600F}, 0.26F, Hatch::upright, {0.040F, 0.420F, 0.340F}},
      {{0.760F, 0.520F, 0.780F}, 0.26F, Hatch::dots, {0.460F, 0.160F, 0.480F}},
      {{0.820F, 0.780F, 0.320F}, 0.26F, Hatch::dense, {0.440F, 0.400F, 0.020F}},
  }};
  return looks[compartment % looks.size()];
}

CapLook cap_look(scene::FaceRole role, std::size_t compartment) {
  using scene::FaceRole;
  switch (role) {
    case FaceRole::deck:
      return {{0.780F, 0.610F, 0.380F}, Hatch::dense, {0.420F, 0.260F, 0.080F}};
    case FaceRole::timber:
      return {{0.930F, 0.800F, 0.600F}, Hatch::cross, {0.520F, 0.340F, 0.130F}};
    case FaceRole::wall_core:
      return {{0.860F, 0.860F, 0.850F}, Hatch::diagonal, {0.330F, 0.340F, 0.360F}};
    case FaceRole::obstacle:
      return {{0.880F, 0.690F, 0.620F}, Hatch::rising, {0.540F, 0.220F, 0.140F}};
    case FaceRole::insulation:
      return {{0.985F, 0.900F, 0.700F}, Hatch::wool, {0.700F, 0.500F, 0.130F}};
    case FaceRole::air: {
      const FaceLook air = air_look(compartment);
      return {glm::mix(glm::vec3(1.0F), air.colour, 0.45F), air.hatch, air.hatch_colour};
    }
    default:
      return {};
  }
}

FaceLook look_of(scene::FaceRole role) {
  using scene::FaceRole;
  switch (role) {
    case FaceRole::wall:
      return {{0.925F, 0.905F, 0.868F}, 1.0F, Hatch::none, {}};
    case FaceRole::wall_core:
      return {{0.860F, 0.860F, 0.850F}, 1.0F, Hatch::none, {}};
    case FaceRole::deck:
      return {{0.800F, 0.680F, 0.500F}, 1.0F, Hatch::none, {}};
    case FaceRole::floor:
      return {{0.800F, 0.790F, 0.770F}, 1.0F, Hatch::none, {}};
    case FaceRole::obstacle:
      return {{0.800F, 0.640F, 0.580F}, 1.0F, Hatch::none, {}};
    case FaceRole::insulation:
      return {{0.960F, 0.850F, 0.600F}, 1.0F, Hatch::wool, {0.760F, 0.580F, 0.250F}};
    case FaceRole::air:
      return air_look(0);
    case FaceRole::trim:
      return {{0.968F, 0.964F, 0.952F}, 1.0F, Hatch::none, {}};
    case FaceRole::ceiling:
      return {{0.830F, 0.800F, 0.880F}, 0.90F, Hatch::none, {}};
    case FaceRole::timber:
      return {{0.850F, 0.715F, 0.520F}, 1.0F, Hatch::none, {}};
    case FaceRole::roof:
      return {{0.735F, 0.752F, 0.772F}, 1.0F, Hatch::none, {}};
    case FaceRole::bay_fed:
      return {{0.300F, 0.640F, 0.900F}, 0.36F, Hatch::none, {}};
    case FaceRole::bay_idle:
      return {{0.980F, 0.980F, 0.960F}, 0.30F, Hatch::none, {}};
    case FaceRole::bay_dead:
      return {{0.430F, 0.440F, 0.460F}, 0.16F, Hatch::diagonal, {0.260F, 0.280F, 0.310F}};
    case FaceRole::bay_wasted:
      return {{0.860F, 0.300F, 0.240F}, 0.30F, Hatch::cross, {0.600F, 0.080F, 0.100F}};
    case FaceRole::intake_vent:
      return {{0.170F, 0.500F, 0.780F}, 0.80F, Hatch::none, {}};
    case FaceRole::slot:
      return {{0.040F, 0.070F, 0.120F}, 1.0F, Hatch::none, {}};
    case FaceRole::exhaust_vent:
      return {{0.930F, 0.480F, 0.130F}, 1.0F, Hatch::none, {}};
  }
  return {};
}

namespace {

StrokeLook plain_look(scene::StrokeRole role) {
  using scene::StrokeRole;
  switch (role) {
    case StrokeRole::eave:
      return {{0.020F, 0.290F, 0.570F}, 3.6F, {0.0F, 0.0F}, "eave"};
    case StrokeRole::rake:
      return {{0.500F, 0.330F, 0.080F}, 2.4F, {0.0F, 0.0F}, "rake"};
    case StrokeRole::ridge:
      return {{0.700F, 0.200F, 0.030F}, 3.6F, {0.0F, 0.0F}, "ridge"};
    case StrokeRole::hip:
      return {{0.520F, 0.180F, 0.480F}, 2.8F, {14.0F, 4.0F}, "hip"};
    case StrokeRole::valley:
      return {{0.000F, 0.420F, 0.360F}, 3.0F, {6.0F, 4.0F}, "valley"};
    case StrokeRole::pitch_break:
      return {{0.250F, 0.300F, 0.360F}, 2.2F, {2.5F, 4.0F}, "pitch break"};
    case StrokeRole::shed_top:
      return {{0.700F, 0.200F, 0.030F}, 2.4F, {10.0F, 3.0F}, "shed top"};
    case StrokeRole::wall_line:
      return {{0.150F, 0.170F, 0.200F}, 2.6F, {0.0F, 0.0F}, "wall line"};
    case StrokeRole::member:
      return {{0.420F, 0.400F, 0.390F}, 0.9F, {0.0F, 0.0F}, "framing"};
    case StrokeRole::slot:
      return {{0.040F, 0.070F, 0.120F}, 2.4F, {0.0F, 0.0F}, "slot in the deck"};
    case StrokeRole::outline:
      return {{0.560F, 0.540F, 0.500F}, 1.2F, {0.0F, 0.0F}, ""};
  }
  return {};
}

}  // namespace

}  // namespace ridgeward::draw
