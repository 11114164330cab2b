#include "draw/renderer.hpp"

#include "draw/renderer_parts.hpp"
#include "panels/state.hpp"

#include <glm/ext/matrix_transform.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

namespace ridgeward::draw {

using scene::FaceRole;

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
  glBindVertexArray(p.cap_array.id());
  glBindBuffer(GL_ARRAY_BUFFER, p.cap_buffer.id());
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
  p.has_shadow = false;
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
                       p.batches.back().plane == face->plane &&
                       p.batches.back().compartment == face->compartment;
    if (!joins) {
      p.batches.push_back({face->role, face->layer, face->plane, face->compartment,
                           static_cast<GLint>(vertices.size()), 0});
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

View view_of(const panels::State& state, const scene::Scene& scene, const scene::Viewport& viewport,
             double scale) {
  View view{panels::lens_of(state, scene, viewport),
            state.layers,
            state.selected,
            scale,
            state.sight.cut,
            state.sight.sun,
            state.sight.peeled};
  if (view.layers.has(scene::Layer::air)) {
    view.layers.set(scene::Layer::see_through, true);  // they lie under the roof
    view.layers.set(scene::Layer::bays, false);        // whose hatches would cross theirs
  }
  return view;
}

bool is_peeled(PlaneId plane, const View& view) {
  return !plane.is_none() &&
         std::find(view.peeled.begin(), view.peeled.end(), plane) != view.peeled.end();
}

bool casts_shadow(FaceRole role) {
  return role == FaceRole::roof || role == FaceRole::wall || role == FaceRole::obstacle ||
         role == FaceRole::slot;
}

bool is_shown(const Batch& batch, const View& view) {
  const bool is_laid_on = batch.role == FaceRole::roof || batch.role == FaceRole::deck ||
                          batch.role == FaceRole::intake_vent || batch.role == FaceRole::slot ||
                          batch.role == FaceRole::exhaust_vent;
  if (is_laid_on && is_peeled(batch.plane, view)) {
    return false;
  }
  if (batch.role == FaceRole::trim) {
    return view.layers.has(scene::Layer::planes) && view.layers.has(scene::Layer::walls);
  }
  return view.layers.has(batch.layer);
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

glm::vec4 Renderer::Parts::kept(const View& view) const {
  if (!view.lens.keeps) {
    return {0.0F, 0.0F, 0.0F, 1.0F};
  }
  const scene::HalfSpace& half = *view.lens.keeps;
  return {glm::vec3(half.normal), static_cast<float>(-half.beyond_m(scene->centre))};
}

void Renderer::draw(const View& view, int width_px, int height_px) {
  Parts& p = *parts_;
  p.draw_shadow(view);
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
  glEnable(GL_CLIP_DISTANCE0);
  p.draw_ground(view);
  if (view.lens.keeps) {
    p.draw_caps(view);
  }
  p.draw_faces(view);
  p.draw_strokes(view);
  p.draw_marks(view);
  glDisable(GL_CLIP_DISTANCE0);
}

}  // namespace ridgeward::draw
