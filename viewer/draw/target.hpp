#pragma once
// What is drawn into: a framebuffer of our own with four samples a pixel, smoothed into a second
// one. Every picture is read from there, never from the window's buffers, which give jagged edges.

#include "draw/gl.hpp"
#include "draw/image.hpp"

namespace ridgeward::draw {

class Target {
 public:
  /// Makes it the size asked for; keeps what it has when that fits. REQUIRES a current context.
  void resize(int width, int height);
  /// All drawing goes here from now on; the whole of it is the viewport.
  void bind() const;
  /// Smooths what was drawn.
  void resolve() const;
  /// Shows the smoothed picture in the window's back buffer.
  void show_in_window() const;
  /// The smoothed picture.
  Image read() const;
  int width() const { return width_; }
  int height() const { return height_; }

 private:
  int width_ = 0;
  int height_ = 0;
  Name many_;
  Name many_colour_;
  Name many_depth_;
  Name one_;
  Name one_colour_;
};

}  // namespace ridgeward::draw
