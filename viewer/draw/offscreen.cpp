#include "draw/offscreen.hpp"

#include <EGL/egl.h>
#include <EGL/eglext.h>

#include <array>

namespace ridgeward::draw {

Result<std::unique_ptr<Offscreen>> Offscreen::make() {
  const Fault fault{"graphics.none", "", "no OpenGL 3.3 can be had without a display",
                    "install Mesa's EGL driver (Debian: libegl1 libgl1-mesa-dri)"};
  std::unique_ptr<Offscreen> made(new Offscreen);  // NOLINT: the constructor is private
  made->display_ =
      eglGetPlatformDisplay(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
  if (made->display_ == EGL_NO_DISPLAY ||
      eglInitialize(made->display_, nullptr, nullptr) == EGL_FALSE) {
    return fault;
  }
  const std::array<EGLint, 5> wanted{EGL_SURFACE_TYPE, EGL_DONT_CARE, EGL_RENDERABLE_TYPE,
                                     EGL_OPENGL_BIT, EGL_NONE};
  EGLConfig config = nullptr;
  EGLint count = 0;
  eglChooseConfig(made->display_, wanted.data(), &config, 1, &count);
  eglBindAPI(EGL_OPENGL_API);
  const std::array<EGLint, 7> version{EGL_CONTEXT_MAJOR_VERSION,
                                      3,
                                      EGL_CONTEXT_MINOR_VERSION,
                                      3,
                                      EGL_CONTEXT_OPENGL_PROFILE_MASK,
                                      EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                                      EGL_NONE};
  made->context_ = eglCreateContext(made->display_, count > 0 ? config : nullptr, EGL_NO_CONTEXT,
                                    version.data());
  if (made->context_ == EGL_NO_CONTEXT ||
      eglMakeCurrent(made->display_, EGL_NO_SURFACE, EGL_NO_SURFACE, made->context_) == EGL_FALSE) {
    return fault;
  }
  return made;
}

Offscreen::~Offscreen() {
  if (display_ != nullptr) {
    eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    if (context_ != nullptr) {
      eglDestroyContext(display_, context_);
    }
    eglTerminate(display_);
  }
}

}  // namespace ridgeward::draw
