#include "draw/renderer.hpp"

#include "draw/gl.hpp"
#include "draw/palette.hpp"
#include "draw/shaders.hpp"

#include <glm/ext/matrix_clip_space.hpp>
#include <glm/ext/matrix_transform.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

namespace ridgeward::draw {
namespace {

using scene::FaceRole;
using scene::Layer;

constexpr int shadow_size = 2048;
constexpr double pull_share = 0.005;  // of strokes towards the eye, of the scene's radius

struct FaceVertex {
  glm::vec3 at;
  glm::vec3 normal;
};

struct StrokeInstance {
  glm::vec3 from;
  glm::vec3 to;
  glm::vec4 tint;
  glm::vec3 pen;
};

/// Neighbouring triangles of one role, on one plane for roofs.
struct Batch {
  FaceRole role = FaceRole::wall;
  Layer layer = Layer::walls;
  PlaneId plane;
  GLint first = 0;
  GLsizei count = 0;
};

/// How near to the eye a role lies over the deck, in polygon-offset steps.
float lift_of(FaceRole role) {
  switch (role) {
    case FaceRole::bay_fed:
    case FaceRole::bay_idle:
    case FaceRole::bay_dead:
    case FaceRole::bay_wasted:
      return 1.0F;
    case FaceRole::intake_vent:
      return 2.0F;
    case FaceRole::slot:
    case FaceRole::exhaust_vent:
      return 3.0F;
    default:
      return 0.0F;
  }
}

bool casts_shadow(FaceRole role) { return role == FaceRole::roof || role == FaceRole::wall; }

bool is_shown(const Batch& batch, const scene::Layers& layers) {
  if (batch.role == FaceRole::trim) {
    return layers.has(Layer::planes) && layers.has(Layer::walls);
  }
  return layers.has(batch.layer);
}

/// A selected line, or a border of the selected plane.
bool is_selected(const scene::Stroke& stroke, const scene::Picked& selected) {
  if (stroke.line.is_none()) {
    return false;
  }
  return stroke.line == selected.line ||
         (!selected.plane.is_none() && std::find(stroke.beside.begin(), stroke.beside.end(),
                                                 selected.plane) != stroke.beside.end());
}

/// Over the left shoulder of whoever looks, well up: every view is lit alike.
glm::dvec3 lamp_direction(const scene::Camera& camera) {
  const double azimuth = camera.azimuth_rad + 0.85;
  const double elevation = 0.82;
  return {std::sin(azimuth) * std::cos(elevation), std::cos(azimuth) * std::cos(elevation),
          std::sin(elevation)};
}

}  // namespace

struct Renderer::Parts {
  Name shadow = make_program(shaders::shadow_vertex, shaders::shadow_fragment);
  Name ground = make_program(shaders::ground_vertex, shaders::ground_fragment);
  Name faces = make_program(shaders::face_vertex, shaders::face_fragment);
  Name strokes = make_program(shaders::stroke_vertex, shaders::stroke_fragment);
  Name face_array = make_vertex_array();
  Name face_buffer = make_buffer();
  Name stroke_array = make_vertex_array();
  Name stroke_buffer = make_buffer();
  Name shadow_map = make_texture();
  Name shadow_frame = make_framebuffer();
  const scene::Scene* scene = nullptr;
  std::vector<Batch> batches;
  glm::mat4 light{1.0F};
  glm::dvec2 frame{1.0};       ///< size of the whole picture, pixels
  double light_azimuth = 1e9;  ///< of the camera for which the shadow was drawn
  glm::dvec3 lamp{0.0, 0.0, 1.0};

  void draw_shadow(const scene::Camera& camera);
  void draw_ground(const View& view) const;
  void draw_faces(const View& view);
  void draw_batch(const Batch& batch, const View& view) const;
  void draw_strokes(const View& view);
  std::vector<StrokeInstance> pens(const View& view) const;
  glm::mat4 view_matrix(const View& view) const;
  glm::mat4 projection(const View& view) const;
  double near_m(const View& view) const;
};

Renderer::Renderer() : parts_(std::make_unique<Parts>()) {
  const Parts& p = *parts_;
  glBindTexture(GL_TEXTURE_2D, p.shadow_map.id());
  glTexImage2D(GL_TEXTURE_2D, 0, GL_DEPTH_COMPONENT24, shadow_size, shadow_size, 0,
               GL_DEPTH_COMPONENT, GL_FLOAT, nullptr);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_MODE, GL_COMPARE_REF_TO_TEXTURE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_FUNC, GL_LEQUAL);
  glBindFramebuffer(GL_FRAMEBUFFER, p.shadow_frame.id());
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, p.shadow_map.id(), 0);
  glDrawBuffer(GL_NONE);
  glReadBuffer(GL_NONE);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);

  glBindVertexArray(p.face_array.id());
  glBindBuffer(GL_ARRAY_BUFFER, p.face_buffer.id());
  describe_attribute(0, 3, sizeof(FaceVertex), offsetof(FaceVertex, at), 0);
  describe_attribute(1, 3, sizeof(FaceVertex), offsetof(FaceVertex, normal), 0);
  glBindVertexArray(p.stroke_array.id());
  glBindBuffer(GL_ARRAY_BUFFER, p.stroke_buffer.id());
  describe_attribute(0, 3, sizeof(StrokeInstance), offsetof(StrokeInstance, from), 1);
  describe_attribute(1, 3, sizeof(StrokeInstance), offsetof(StrokeInstance, to), 1);
  describe_attribute(2, 4, sizeof(StrokeInstance), offsetof(StrokeInstance, tint), 1);
  describe_attribute(3, 3, sizeof(StrokeInstance), offsetof(StrokeInstance, pen), 1);
  glBindVertexArray(0);
}

Renderer::~Renderer() = default;

void Renderer::load(const scene::Scene& scene) {
  Parts& p = *parts_;
  p.scene = &scene;
  p.batches.clear();
  p.light_azimuth = 1e9;
  // Opaque roles in the order of FaceRole, then what lies over them: the painter's order.
  std::vector<const scene::Face*> order;
  order.reserve(scene.faces.size());
  for (const scene::Face& face : scene.faces) {
    order.push_back(&face);
  }
  std::stable_sort(order.begin(), order.end(),
                   [](const scene::Face* a, const scene::Face* b) { return a->role < b->role; });
  std::vector<FaceVertex> vertices;
  for (const scene::Face* face : order) {
    const bool joins = !p.batches.empty() && p.batches.back().role == face->role &&
                       p.batches.back().layer == face->layer &&
                       (face->role != FaceRole::roof || p.batches.back().plane == face->plane);
    if (!joins) {
      p.batches.push_back(
          {face->role, face->layer, face->plane, static_cast<GLint>(vertices.size()), 0});
    }
    for (const scene::Triangle& triangle : face->triangles) {
      for (const glm::dvec3& point : triangle) {
        vertices.push_back({glm::vec3(point - scene.centre), glm::vec3(face->normal)});
      }
    }
    p.batches.back().count = static_cast<GLsizei>(vertices.size()) - p.batches.back().first;
  }
  glBindBuffer(GL_ARRAY_BUFFER, p.face_buffer.id());
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(vertices.size() * sizeof(FaceVertex)),
               vertices.data(), GL_STATIC_DRAW);
}

void Renderer::Parts::draw_shadow(const scene::Camera& camera) {
  if (scene == nullptr || scene->is_empty() || camera.azimuth_rad == light_azimuth) {
    return;
  }
  light_azimuth = camera.azimuth_rad;
  lamp = lamp_direction(camera);
  const auto reach = static_cast<float>(scene->radius_m * 1.05);
  const glm::vec3 towards(lamp);
  const glm::mat4 look =
      glm::lookAt(towards * reach * 3.0F, glm::vec3(0.0F), glm::vec3(0.0F, 0.0F, 1.0F));
  light = glm::ortho(-reach, reach, -reach, reach, reach, reach * 5.0F) * look;
  GLint bound = 0;
  std::array<GLint, 4> viewport{};
  glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &bound);
  glGetIntegerv(GL_VIEWPORT, viewport.data());
  glBindFramebuffer(GL_FRAMEBUFFER, shadow_frame.id());
  glViewport(0, 0, shadow_size, shadow_size);
  glEnable(GL_DEPTH_TEST);
  glDepthMask(GL_TRUE);
  glClear(GL_DEPTH_BUFFER_BIT);
  glUseProgram(shadow.id());
  set(shadow, "light", light);
  glBindVertexArray(face_array.id());
  for (const Batch& batch : batches) {
    if (casts_shadow(batch.role)) {
      glDrawArrays(GL_TRIANGLES, batch.first, batch.count);
    }
  }
  glBindFramebuffer(GL_FRAMEBUFFER, static_cast<GLuint>(bound));
  glViewport(viewport[0], viewport[1], viewport[2], viewport[3]);
}

double Renderer::Parts::near_m(const View& view) const {
  const double ahead = view.lens.depth(scene->centre);
  return std::max(ahead - 1.2 * scene->radius_m, 0.01 * std::max(1.0, scene->radius_m));
}

glm::mat4 Renderer::Parts::view_matrix(const View& view) const {
  // Relative to the scene's centre, where single precision is fine enough.
  return {view.lens.view() * glm::translate(glm::dmat4(1.0), scene->centre)};
}

glm::mat4 Renderer::Parts::projection(const View& view) const {
  // The house's part of the picture has the eye's axis in its middle; the ground runs on over the
  // rest.
  const scene::Viewport& port = view.lens.viewport;
  glm::dmat4 to_frame(1.0);
  to_frame[0][0] = port.width / frame.x;
  to_frame[1][1] = port.height / frame.y;
  to_frame[3][0] = (2 * port.x + port.width) / frame.x - 1;
  to_frame[3][1] = 1 - (2 * port.y + port.height) / frame.y;
  const double ahead = std::max(0.0, view.lens.depth(scene->centre));
  return {to_frame * view.lens.projection(near_m(view), ahead + 10 * scene->radius_m)};
}

void Renderer::Parts::draw_batch(const Batch& batch, const View& view) const {
  const FaceLook look = look_of(batch.role);
  glm::vec3 tint = look.colour;
  float alpha = look.alpha;
  if (batch.role == FaceRole::roof) {
    if (batch.plane == view.selected.plane && !batch.plane.is_none()) {
      tint = glm::mix(tint, selected, 0.55F);
    }
    alpha = view.layers.has(Layer::see_through) ? 0.30F : 1.0F;
  }
  set(faces, "tint", tint);
  set(faces, "alpha", alpha);
  set(faces, "hatch", static_cast<int>(look.hatch));
  set(faces, "hatch_tint", look.hatch_colour);
  const float lift = lift_of(batch.role);
  glPolygonOffset(-lift, -lift * 8.0F);
  glDepthMask(alpha < 1.0F ? GL_FALSE : GL_TRUE);
  glDrawArrays(GL_TRIANGLES, batch.first, batch.count);
}

/// Once a pixel, however many faces throw their shadow there.
void Renderer::Parts::draw_ground(const View& view) const {
  if (!view.layers.has(Layer::walls) || view.lens.camera.eye().z <= scene->ground_m) {
    return;
  }
  glEnable(GL_DEPTH_TEST);
  glDepthMask(GL_FALSE);
  glEnable(GL_STENCIL_TEST);
  glStencilFunc(GL_EQUAL, 0, 0xFF);
  glStencilOp(GL_KEEP, GL_KEEP, GL_INCR);
  glUseProgram(ground.id());
  set(ground, "clip", projection(view) * view_matrix(view));
  set(ground, "lamp", glm::vec3(lamp));
  set(ground, "ground", static_cast<float>(scene->ground_m - scene->centre.z));
  set(ground, "tint", glm::vec4(ground_shadow, ground_shadow_alpha));
  glBindVertexArray(face_array.id());
  for (const Batch& batch : batches) {
    if (casts_shadow(batch.role) && is_shown(batch, view.layers)) {
      glDrawArrays(GL_TRIANGLES, batch.first, batch.count);
    }
  }
  glDisable(GL_STENCIL_TEST);
  glDepthMask(GL_TRUE);
}

void Renderer::Parts::draw_faces(const View& view) {
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LEQUAL);
  glEnable(GL_POLYGON_OFFSET_FILL);
  glUseProgram(faces.id());
  set(faces, "clip", projection(view) * view_matrix(view));
  set(faces, "eye", glm::vec3(view.lens.camera.eye() - scene->centre));
  set(faces, "lamp", glm::vec3(lamp));
  set(faces, "light", light);
  set(faces, "scale", static_cast<float>(view.scale));
  set(faces, "shadow", 0);
  glActiveTexture(GL_TEXTURE0);
  glBindTexture(GL_TEXTURE_2D, shadow_map.id());
  glBindVertexArray(face_array.id());
  for (const Batch& batch : batches) {
    if (is_shown(batch, view.layers)) {
      draw_batch(batch, view);
    }
  }
  glDisable(GL_POLYGON_OFFSET_FILL);
  glDepthMask(GL_TRUE);
}

std::vector<StrokeInstance> Renderer::Parts::pens(const View& view) const {
  std::vector<StrokeInstance> instances;
  const auto width_scale = static_cast<float>(view.scale);
  const auto add = [&](const scene::Stroke& stroke, glm::vec3 tint, float width, glm::vec2 dash) {
    instances.push_back({glm::vec3(stroke.from - scene->centre),
                         glm::vec3(stroke.to - scene->centre), glm::vec4(tint, 1.0F),
                         glm::vec3(width, dash) * width_scale});
  };
  const auto is_drawn = [&](const scene::Stroke& stroke) {
    return view.layers.has(stroke.layer) &&
           !(stroke.role == scene::StrokeRole::member && !view.layers.has(Layer::planes));
  };
  // Thin ones first, so that the lines of the trade cross over them; the selection's halo first
  // of these.
  for (const bool thick : {false, true}) {
    for (const scene::Stroke& stroke : scene->strokes) {
      const StrokeLook look = look_of(stroke.role);
      if (thick && is_selected(stroke, view.selected)) {
        add(stroke, selected, look.width_px + 7.0F, {});
      }
      if (is_drawn(stroke) && (stroke.layer == Layer::lines) == thick) {
        add(stroke, look.colour, look.width_px, look.dash_px);
      }
    }
  }
  return instances;
}

void Renderer::Parts::draw_strokes(const View& view) {
  const std::vector<StrokeInstance> instances = pens(view);
  if (instances.empty()) {
    return;
  }
  glBindBuffer(GL_ARRAY_BUFFER, stroke_buffer.id());
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(instances.size() * sizeof(StrokeInstance)),
               instances.data(), GL_STREAM_DRAW);
  glUseProgram(strokes.id());
  set(strokes, "view", view_matrix(view));
  set(strokes, "projection", projection(view));
  set(strokes, "near_m", static_cast<float>(near_m(view)));
  const double away = std::max(view.lens.depth(scene->centre), 0.5 * scene->radius_m);
  set(strokes, "pull", static_cast<float>(1.0 - pull_share * scene->radius_m / away));
  set(strokes, "size", glm::vec2(frame));
  glDepthMask(GL_FALSE);
  glBindVertexArray(stroke_array.id());
  glDrawArraysInstanced(GL_TRIANGLE_STRIP, 0, 4, static_cast<GLsizei>(instances.size()));
  glDepthMask(GL_TRUE);
}

void Renderer::draw(const View& view, int width_px, int height_px) {
  Parts& p = *parts_;
  p.draw_shadow(view.lens.camera);
  glDisable(GL_CULL_FACE);
  glDisable(GL_SCISSOR_TEST);
  glEnable(GL_MULTISAMPLE);
  glEnable(GL_BLEND);
  glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
  glDepthMask(GL_TRUE);
  glViewport(0, 0, width_px, height_px);
  glClearColor(paper.r, paper.g, paper.b, 1.0F);
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT | GL_STENCIL_BUFFER_BIT);
  if (p.scene == nullptr || p.scene->is_empty()) {
    return;
  }
  p.frame = {width_px, height_px};
  p.draw_ground(view);
  p.draw_faces(view);
  p.draw_strokes(view);
}

}  // namespace ridgeward::draw
