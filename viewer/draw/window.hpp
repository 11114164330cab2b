#pragma once
// A window with OpenGL 3.3 and the panels' library.

#include "base/fault.hpp"

#include "panels/pointer.hpp"

#include <memory>
#include <optional>
#include <string>

namespace ridgeward::draw {

class Window {
 public:
  /// `scale` of the screen; 0: as the system says. The window's context is current from then on.
  /// Faults: window.no_display, window.no_graphics.
  static Result<std::unique_ptr<Window>> open(int width, int height, double scale);
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;
  ~Window();

  /// Of letters and strokes: the screen's, times what dress() asked for, as far as the window has
  /// room for it.
  double scale() const { return scale_ * type_scale_; }
  /// Larger letters, another theme; between frames.
  void dress(double larger, bool is_dark);
  /// Seconds that the frame begun last stands for.
  static double frame_s();
  int width_px() const;
  int height_px() const;
  bool is_closing() const;
  /// The person wants to go on after all.
  void stay_open();
  void set_title(const std::string& title);
  /// Waits for events while nothing is to be drawn, at most `at_most_s` (0: however long), else
  /// looks for them only. True when a frame is to be drawn: three follow every event, because
  /// panels settle over frames.
  bool wait(double at_most_s = 0.0);
  /// Asks for one more frame after so long, unless events come before; once.
  void soon(double within_s) { soon_s_ = within_s; }
  /// Ends a wait, from any thread.
  static void wake();
  /// Asks for more frames.
  void touch() { frames_left_ = 3; }
  /// Starts the panels' frame with the next of the events that wait.
  void begin_frame();
  /// Mouse and keys of the frame begun.
  panels::Input input();
  /// Draws the panels into the bound framebuffer.
  static void end_frame();
  void show();
  /// A file dropped on the window, once.
  std::optional<std::string> dropped();

 private:
  struct System;
  struct Events;
  Window() = default;
  std::unique_ptr<System> system_;
  double scale_ = 1.0;
  double type_scale_ = 1.0;
  bool is_dark_ = false;
  int frames_left_ = 3;
  double soon_s_ = 0.0;
};

}  // namespace ridgeward::draw
