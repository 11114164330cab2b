#pragma once
// OpenGL 3.3 core, straight from the system's library; private to the folder.

#define GL_GLEXT_PROTOTYPES
#include <GL/gl.h>
#include <GL/glext.h>

#include <utility>

namespace ridgeward::draw {

/// Owns one OpenGL name. REQUIRES a current context while it is dropped.
class Name {
 public:
  using Drop = void (*)(GLuint);
  Name() = default;
  Name(GLuint id, Drop drop) : id_(id), drop_(drop) {}
  Name(const Name&) = delete;
  Name& operator=(const Name&) = delete;
  Name(Name&& other) noexcept
      : id_(std::exchange(other.id_, 0)), drop_(std::exchange(other.drop_, nullptr)) {}
  Name& operator=(Name&& other) noexcept {
    std::swap(id_, other.id_);
    std::swap(drop_, other.drop_);
    return *this;
  }
  ~Name() {
    if (drop_ != nullptr) {
      drop_(id_);
    }
  }
  GLuint id() const { return id_; }

 private:
  GLuint id_ = 0;
  Drop drop_ = nullptr;
};

Name make_buffer();
Name make_vertex_array();
Name make_texture();
Name make_framebuffer();
Name make_renderbuffer();
/// Throws Broken with the compiler's words when the program's own shaders don't build.
Name make_program(const char* vertex, const char* fragment);

}  // namespace ridgeward::draw
