#include "surface/skeleton.hpp"

#include "surface/wavefront.hpp"

namespace ridgeward::surface {

Skeleton raise_wavefront(const Plan& plan) {
  Wavefront<double> quick(plan);
  using Quick = Wavefront<double>::End;
  const Quick end = quick.run();
  if (end == Quick::closed || end == Quick::open) {
    return quick.take();
  }
  Wavefront<Quad> sure(plan);
  using Sure = Wavefront<Quad>::End;
  const Sure last = sure.run();
  Skeleton result;
  if (last == Sure::closed || last == Sure::open) {
    result = sure.take();
  } else {
    result.outcome = Skeleton::Outcome::failed;
  }
  result.used_quad = true;
  return result;
}

}  // namespace ridgeward::surface
