// Faces, their shadows and the faces of cuts.
#include "draw/renderer_parts.hpp"

#include <glm/ext/matrix_clip_space.hpp>
#include <glm/ext/matrix_transform.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::draw {
namespace {

using scene::FaceRole;
using scene::Layer;

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

}  // namespace

void Renderer::Parts::draw_shadow(const View& view) {
  if (scene == nullptr || scene->is_empty()) {
    return;
  }
  const glm::dvec3 towards_lamp =
      scene::light_direction(view.sun, view.lens.camera, scene->north_deg);
  const bool obstacles = view.layers.has(Layer::obstacles);
  if (has_shadow && lamp == towards_lamp && shadow_cut == view.cut &&
      shadow_obstacles == obstacles) {
    return;
  }
  has_shadow = true;
  lamp = towards_lamp;
  shadow_cut = view.cut;
  shadow_obstacles = obstacles;
  const auto reach = static_cast<float>(scene->radius_m * 1.05);
  const glm::vec3 towards(lamp);
  const glm::vec3 up =
      towards.z > 0.999F ? glm::vec3(0.0F, 1.0F, 0.0F) : glm::vec3(0.0F, 0.0F, 1.0F);
  const glm::mat4 look = glm::lookAt(towards * reach * 3.0F, glm::vec3(0.0F), up);
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
  set(shadow, "kept", kept(view));
  glEnable(GL_CLIP_DISTANCE0);
  glBindVertexArray(face_array.id());
  for (const Batch& batch : batches) {
    if (casts_shadow(batch.role) && (batch.role != FaceRole::obstacle || obstacles)) {
      glDrawArrays(GL_TRIANGLES, batch.first, batch.count);
    }
  }
  glDisable(GL_CLIP_DISTANCE0);
  glBindFramebuffer(GL_FRAMEBUFFER, static_cast<GLuint>(bound));
  glViewport(viewport[0], viewport[1], viewport[2], viewport[3]);
}

void Renderer::Parts::draw_batch(const Batch& batch, const View& view) const {
  const FaceLook look =
      batch.role == FaceRole::air ? air_look(batch.compartment) : look_of(batch.role);
  glm::vec3 tint = look.colour;
  float alpha = look.alpha;
  if (batch.role == FaceRole::roof) {
    if (batch.plane == view.selected.plane && !batch.plane.is_none()) {
      tint = glm::mix(tint, selected, 0.55F);
    }
    alpha = view.layers.has(Layer::see_through) ? 0.30F : 1.0F;
  }
  set(faces, "tint", tint);
  set(faces, "under_tint", batch.role == FaceRole::roof ? look_of(FaceRole::deck).colour : tint);
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
  set(ground, "kept", kept(view));
  set(ground, "lamp", glm::vec3(lamp));
  set(ground, "ground", static_cast<float>(scene->ground_m - scene->centre.z));
  set(ground, "tint", glm::vec4(ground_shadow, ground_shadow_alpha));
  glBindVertexArray(face_array.id());
  for (const Batch& batch : batches) {
    if (casts_shadow(batch.role) && is_shown(batch, view)) {
      glDrawArrays(GL_TRIANGLES, batch.first, batch.count);
    }
  }
  glDisable(GL_STENCIL_TEST);
  glDepthMask(GL_TRUE);
}

void Renderer::Parts::use_faces(const View& view) const {
  glUseProgram(faces.id());
  set(faces, "kept", kept(view));
  set(faces, "clip", projection(view) * view_matrix(view));
  set(faces, "eye", glm::vec3(view.lens.camera.eye() - scene->centre));
  set(faces, "lamp", glm::vec3(lamp));
  set(faces, "light", light);
  set(faces, "scale", static_cast<float>(view.scale));
  set(faces, "shadow", 0);
  glActiveTexture(GL_TEXTURE0);
  glBindTexture(GL_TEXTURE_2D, shadow_map.id());
  set(faces, "light_share", light_share());
  set(faces, "lit", 1);
}

void Renderer::Parts::draw_faces(const View& view) {
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LEQUAL);
  glEnable(GL_POLYGON_OFFSET_FILL);
  use_faces(view);
  glBindVertexArray(face_array.id());
  for (const Batch& batch : batches) {
    // Bodies without a skin of their own show only their caps.
    const bool is_core = batch.role == FaceRole::deck || batch.role == FaceRole::wall_core;
    if (is_shown(batch, view) && !is_core) {
      draw_batch(batch, view);
    }
  }
  glDisable(GL_POLYGON_OFFSET_FILL);
  glDepthMask(GL_TRUE);
}

/// How often the line of sight goes into bodies more than out of them, sample by sample: where that
/// is not nought, the cutting plane lies within one.
void Renderer::Parts::count_bodies(const Batch& like, const View& view) const {
  glClear(GL_STENCIL_BUFFER_BIT);
  glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
  glDepthMask(GL_FALSE);
  glDisable(GL_DEPTH_TEST);
  glStencilFunc(GL_ALWAYS, 0, 0xFF);
  glStencilOpSeparate(GL_FRONT, GL_KEEP, GL_KEEP, GL_INCR_WRAP);
  glStencilOpSeparate(GL_BACK, GL_KEEP, GL_KEEP, GL_DECR_WRAP);
  glBindVertexArray(face_array.id());
  for (const Batch& batch : batches) {
    if (batch.role == like.role && batch.compartment == like.compartment && is_shown(batch, view)) {
      glDrawArrays(GL_TRIANGLES, batch.first, batch.count);
    }
  }
  glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
  glDepthMask(GL_TRUE);
  glEnable(GL_DEPTH_TEST);
}

void Renderer::Parts::fill_cap(const Batch& like) const {
  const CapLook look = cap_look(like.role, like.compartment);
  set(faces, "tint", look.colour);
  set(faces, "under_tint", look.colour);
  set(faces, "alpha", 1.0F);
  set(faces, "hatch", static_cast<int>(look.hatch));
  set(faces, "hatch_tint", look.hatch_colour);
  glStencilFunc(GL_NOTEQUAL, 0, 0xFF);
  glStencilOp(GL_KEEP, GL_KEEP, GL_KEEP);
  glBindVertexArray(cap_array.id());
  glDrawArrays(GL_TRIANGLES, 0, 6);
}

void Renderer::Parts::draw_caps(const View& view) {
  const std::array<glm::dvec3, 4> corners = scene::sheet(view.cut, *scene);
  const glm::vec3 normal(view.lens.keeps->normal);
  std::vector<FaceVertex> vertices;
  for (const std::size_t corner : {0U, 1U, 2U, 0U, 2U, 3U}) {
    vertices.push_back({glm::vec3(corners[corner] - scene->centre), normal});
  }
  glBindBuffer(GL_ARRAY_BUFFER, cap_buffer.id());
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(vertices.size() * sizeof(FaceVertex)),
               vertices.data(), GL_STREAM_DRAW);
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LEQUAL);
  glEnable(GL_STENCIL_TEST);
  use_faces(view);
  set(faces, "lit", 0);
  // The rarer and smaller lie on top: air, insulation, walls, timber, deck.
  for (const FaceRole role : {FaceRole::air, FaceRole::insulation, FaceRole::obstacle,
                              FaceRole::wall_core, FaceRole::timber, FaceRole::deck}) {
    const Batch* last = nullptr;
    for (const Batch& batch : batches) {
      const bool is_new = last == nullptr || last->compartment != batch.compartment;
      if (batch.role == role && is_new && is_shown(batch, view)) {
        last = &batch;
        set(faces, "kept", kept(view));
        count_bodies(batch, view);
        set(faces, "kept", glm::vec4(0.0F, 0.0F, 0.0F, 1.0F));
        fill_cap(batch);
      }
    }
  }
  glDisable(GL_STENCIL_TEST);
}

}  // namespace ridgeward::draw
