#include "draw/gl.hpp"

#include "base/fault.hpp"

#include <glm/gtc/type_ptr.hpp>

#include <string>

namespace ridgeward::draw {
namespace {

template <void (*make)(GLsizei, GLuint*)>
GLuint made() {
  GLuint id = 0;
  make(1, &id);
  return id;
}

Name compiled(GLenum kind, const char* source) {
  Name shader(glCreateShader(kind), [](GLuint id) { glDeleteShader(id); });
  glShaderSource(shader.id(), 1, &source, nullptr);
  glCompileShader(shader.id());
  GLint ok = GL_FALSE;
  glGetShaderiv(shader.id(), GL_COMPILE_STATUS, &ok);
  if (ok == GL_FALSE) {
    std::string words(2000, '\0');
    glGetShaderInfoLog(shader.id(), static_cast<GLsizei>(words.size()), nullptr, words.data());
    ensure(false, ("the shaders compile: " + std::string(words.c_str())).c_str());
  }
  return shader;
}

}  // namespace

Name make_buffer() {
  return {made<glGenBuffers>(), [](GLuint id) { glDeleteBuffers(1, &id); }};
}
Name make_vertex_array() {
  return {made<glGenVertexArrays>(), [](GLuint id) { glDeleteVertexArrays(1, &id); }};
}
Name make_texture() {
  return {made<glGenTextures>(), [](GLuint id) { glDeleteTextures(1, &id); }};
}
Name make_framebuffer() {
  return {made<glGenFramebuffers>(), [](GLuint id) { glDeleteFramebuffers(1, &id); }};
}
Name make_renderbuffer() {
  return {made<glGenRenderbuffers>(), [](GLuint id) { glDeleteRenderbuffers(1, &id); }};
}

Name make_program(const char* vertex, const char* fragment) {
  const Name vertex_shader = compiled(GL_VERTEX_SHADER, vertex);
  const Name fragment_shader = compiled(GL_FRAGMENT_SHADER, fragment);
  Name program(glCreateProgram(), [](GLuint id) { glDeleteProgram(id); });
  glAttachShader(program.id(), vertex_shader.id());
  glAttachShader(program.id(), fragment_shader.id());
  glLinkProgram(program.id());
  GLint ok = GL_FALSE;
  glGetProgramiv(program.id(), GL_LINK_STATUS, &ok);
  ensure(ok != GL_FALSE, "the shaders link");
  return program;
}

void describe_attribute(GLuint index, GLint size, std::size_t stride, std::size_t offset,
                        GLuint divisor) {
  glEnableVertexAttribArray(index);
  // OpenGL takes the offset as a pointer for reasons of its age.
  const void* at = reinterpret_cast<const void*>(offset);  // NOLINT(performance-no-int-to-ptr)
  glVertexAttribPointer(index, size, GL_FLOAT, GL_FALSE, static_cast<GLsizei>(stride), at);
  glVertexAttribDivisor(index, divisor);
}

void set(const Name& program, const char* name, const glm::mat4& value) {
  glUniformMatrix4fv(glGetUniformLocation(program.id(), name), 1, GL_FALSE, glm::value_ptr(value));
}
void set(const Name& program, const char* name, glm::vec3 value) {
  glUniform3fv(glGetUniformLocation(program.id(), name), 1, glm::value_ptr(value));
}
void set(const Name& program, const char* name, float value) {
  glUniform1f(glGetUniformLocation(program.id(), name), value);
}
void set(const Name& program, const char* name, int value) {
  glUniform1i(glGetUniformLocation(program.id(), name), value);
}

void set(const Name& program, const char* name, glm::vec2 value) {
  glUniform2fv(glGetUniformLocation(program.id(), name), 1, glm::value_ptr(value));
}
void set(const Name& program, const char* name, glm::vec4 value) {
  glUniform4fv(glGetUniformLocation(program.id(), name), 1, glm::value_ptr(value));
}

}  // namespace ridgeward::draw
