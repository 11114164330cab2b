#include "draw/target.hpp"

#include "base/fault.hpp"

namespace ridgeward::draw {
namespace {

constexpr GLsizei samples = 4;

void ensure_complete() {
  ensure(glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE,
         "the framebuffer is complete");
}

}  // namespace

void Target::resize(int width, int height) {
  if (width == width_ && height == height_) {
    return;
  }
  width_ = width;
  height_ = height;
  many_ = make_framebuffer();
  many_colour_ = make_renderbuffer();
  many_depth_ = make_renderbuffer();
  one_ = make_framebuffer();
  one_colour_ = make_renderbuffer();
  glBindRenderbuffer(GL_RENDERBUFFER, many_colour_.id());
  glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_RGBA8, width, height);
  glBindRenderbuffer(GL_RENDERBUFFER, many_depth_.id());
  glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_DEPTH24_STENCIL8, width, height);
  glBindFramebuffer(GL_FRAMEBUFFER, many_.id());
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER,
                            many_colour_.id());
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER,
                            many_depth_.id());
  ensure_complete();
  glBindRenderbuffer(GL_RENDERBUFFER, one_colour_.id());
  glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, width, height);
  glBindFramebuffer(GL_FRAMEBUFFER, one_.id());
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER,
                            one_colour_.id());
  ensure_complete();
}

void Target::bind() const {
  glBindFramebuffer(GL_FRAMEBUFFER, many_.id());
  glViewport(0, 0, width_, height_);
}

void Target::resolve() const {
  glBindFramebuffer(GL_READ_FRAMEBUFFER, many_.id());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, one_.id());
  glBlitFramebuffer(0, 0, width_, height_, 0, 0, width_, height_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
}

void Target::show_in_window() const {
  glBindFramebuffer(GL_READ_FRAMEBUFFER, one_.id());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, 0);
  glBlitFramebuffer(0, 0, width_, height_, 0, 0, width_, height_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
}

Image Target::read() const {
  Image image;
  image.width = width_;
  image.height = height_;
  const auto row = static_cast<std::size_t>(width_) * 3;
  std::vector<std::uint8_t> upside_down(row * static_cast<std::size_t>(height_));
  glBindFramebuffer(GL_READ_FRAMEBUFFER, one_.id());
  glPixelStorei(GL_PACK_ALIGNMENT, 1);
  glReadPixels(0, 0, width_, height_, GL_RGB, GL_UNSIGNED_BYTE, upside_down.data());
  image.rgb.reserve(upside_down.size());
  for (int y = height_ - 1; y >= 0; --y) {
    const auto start =
        upside_down.begin() + static_cast<std::ptrdiff_t>(row * static_cast<std::size_t>(y));
    image.rgb.insert(image.rgb.end(), start, start + static_cast<std::ptrdiff_t>(row));
  }
  return image;
}

}  // namespace ridgeward::draw
