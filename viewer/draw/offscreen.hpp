#pragma once
// OpenGL without a window and without a display.

#include "base/fault.hpp"

#include <memory>

namespace ridgeward::draw {

/// An OpenGL 3.3 context that belongs to no display; current from make() until it is dropped.
class Offscreen {
 public:
  /// Faults: graphics.none.
  static Result<std::unique_ptr<Offscreen>> make();
  Offscreen(const Offscreen&) = delete;
  Offscreen& operator=(const Offscreen&) = delete;
  ~Offscreen();

 private:
  Offscreen() = default;
  void* display_ = nullptr;
  void* context_ = nullptr;
};

}  // namespace ridgeward::draw
