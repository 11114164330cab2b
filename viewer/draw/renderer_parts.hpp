#pragma once
// What the renderer holds; private to the folder.

#include "draw/gl.hpp"
#include "draw/palette.hpp"
#include "draw/renderer.hpp"
#include "draw/shaders.hpp"

#include <vector>

namespace ridgeward::draw {

struct FaceVertex {
  glm::vec3 at;
  glm::vec3 normal;
};

struct StrokeInstance {
  glm::vec3 from;
  glm::vec3 to;
  glm::vec4 tint;
  glm::vec3 pen;  ///< width, drawn, left out
};

/// Neighbouring triangles of one role, on one plane, of one compartment.
struct Batch {
  scene::FaceRole role = scene::FaceRole::wall;
  scene::Layer layer = scene::Layer::walls;
  PlaneId plane;
  std::size_t compartment = 0;
  GLint first = 0;
  GLsizei count = 0;
};

inline constexpr int shadow_size = 2048;

bool is_shown(const Batch& batch, const View& view);
/// Whether faces of the role hide what is behind them and throw shadows.
bool casts_shadow(scene::FaceRole role);
bool is_peeled(PlaneId plane, const View& view);

struct Renderer::Parts {
  Name shadow = make_program(shaders::shadow_vertex, shaders::shadow_fragment);
  Name ground = make_program(shaders::ground_vertex, shaders::ground_fragment);
  Name faces = make_program(shaders::face_vertex, shaders::face_fragment);
  Name strokes = make_program(shaders::stroke_vertex, shaders::stroke_fragment);
  Name face_array = make_vertex_array();
  Name face_buffer = make_buffer();
  Name stroke_array = make_vertex_array();
  Name stroke_buffer = make_buffer();
  Name cap_array = make_vertex_array();
  Name cap_buffer = make_buffer();
  Name shadow_map = make_texture();
  Name shadow_frame = make_framebuffer();
  const scene::Scene* scene = nullptr;
  std::vector<Batch> batches;
  glm::mat4 light{1.0F};
  glm::dvec2 frame{1.0};  ///< size of the whole picture, pixels
  glm::dvec3 lamp{0.0, 0.0, 1.0};
  bool has_shadow = false;  ///< drawn for the lamp and what was shown
  scene::Cut shadow_cut;
  bool shadow_obstacles = true;

  void draw_shadow(const View& view);
  void draw_ground(const View& view) const;
  /// The faces of what the cutting plane cuts, hatched.
  void draw_caps(const View& view);
  void draw_faces(const View& view);
  void draw_strokes(const View& view);
  void draw_marks(const View& view);

  glm::mat4 view_matrix(const View& view) const;
  glm::mat4 projection(const View& view) const;
  double near_m(const View& view) const;
  /// What stays of a cut house, for a program: normal and reach, from the scene's centre.
  glm::vec4 kept(const View& view) const;

 private:
  void use_faces(const View& view) const;
  void draw_batch(const Batch& batch, const View& view) const;
  void count_bodies(const Batch& like, const View& view) const;
  void fill_cap(const Batch& like) const;
  std::vector<StrokeInstance> pens(const View& view) const;
  void draw_pens(const std::vector<StrokeInstance>& instances, const View& view) const;
  void fill_marks(const View& view);
  /// Borders and lines; of what hides, or of what is in sight.
  std::vector<StrokeInstance> mark_pens(const View& view, bool is_hidden) const;
  void add_section(const View& view, scene::HalfSpace half,
                   std::vector<StrokeInstance>& instances) const;
};

}  // namespace ridgeward::draw
