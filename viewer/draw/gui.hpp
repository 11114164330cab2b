#pragma once
// The panels' library bound to OpenGL.

namespace ridgeward::draw {

/// Owns the panels' context. REQUIRES a current OpenGL context throughout.
class Gui {
 public:
  explicit Gui(double scale, bool is_dark = false);
  Gui(const Gui&) = delete;
  Gui& operator=(const Gui&) = delete;
  ~Gui();
  /// Other letters and colours; between frames.
  static void dress(double scale, bool is_dark);
  /// Starts a frame of a given size and a fixed time step, so that equal input gives equal
  /// pictures.
  static void begin(int width, int height);
  /// Starts a frame whose size and time were set by the window.
  static void begin_frame();
  /// Draws the frame's panels into the bound framebuffer.
  static void end();
};

}  // namespace ridgeward::draw
