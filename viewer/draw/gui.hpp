#pragma once
// The panels' library bound to OpenGL.

namespace ridgeward::draw {

/// Owns the panels' context. REQUIRES a current OpenGL context throughout.
class Gui {
 public:
  explicit Gui(double scale);
  Gui(const Gui&) = delete;
  Gui& operator=(const Gui&) = delete;
  ~Gui();
  /// Starts a frame of a fixed time step, so that equal input gives equal pictures.
  static void begin(int width, int height);
  /// Draws the frame's panels into the bound framebuffer.
  static void end();
};

}  // namespace ridgeward::draw
