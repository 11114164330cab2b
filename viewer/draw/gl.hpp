#pragma once
// OpenGL 3.3 core, straight from the system's library; private to the folder.

#define GL_GLEXT_PROTOTYPES
#include <GL/gl.h>
#include <GL/glext.h>
#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>
#include <glm/vec4.hpp>

#include <cstddef>
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

/// Describes one attribute of the bound array and buffer; `divisor` 1: one value an instance.
void describe_attribute(GLuint index, GLint size, std::size_t stride, std::size_t offset,
                        GLuint divisor);

/// Uniforms of the program in use.
void set(const Name& program, const char* name, const glm::mat4& value);
void set(const Name& program, const char* name, glm::vec2 value);
void set(const Name& program, const char* name, glm::vec3 value);
void set(const Name& program, const char* name, glm::vec4 value);
void set(const Name& program, const char* name, float value);
void set(const Name& program, const char* name, int value);

}  // namespace ridgeward::draw
