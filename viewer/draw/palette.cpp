#include "draw/palette.hpp"

namespace ridgeward::draw {

FaceLook look_of(scene::FaceRole role) {
  using scene::FaceRole;
  switch (role) {
    case FaceRole::wall:
      return {{0.925F, 0.905F, 0.868F}, 1.0F, Hatch::none, {}};
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

StrokeLook look_of(scene::StrokeRole role) {
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

}  // namespace ridgeward::draw
