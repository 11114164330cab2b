// What is pointed at: filled where it is in sight, its border dashed where something stands before.
#include "draw/renderer_parts.hpp"
#include "scene/triangulate.hpp"

#include <glm/geometric.hpp>

#include <array>
#include <cmath>

namespace ridgeward::draw {
namespace {

constexpr float fill_alpha = 0.45F;
constexpr float border_px = 1.6F;
constexpr float line_px = 5.0F;
constexpr float hidden_px = 5.0F;
constexpr glm::vec2 hidden_dash_px{8.0F, 5.0F};
constexpr float over_all_lift = 4.0F;  // over vents and slots that lie on the deck

bool is_line(const scene::Mark& mark) { return mark.corners.size() == 2; }

/// Whether it is left out as a whole.
bool is_turned_away(const scene::Mark& mark, const View& view) {
  return !mark.shows_through && !is_line(mark) && !mark.corners.empty() &&
         glm::dot(mark.normal, view.lens.camera.eye() - mark.corners.front()) <= 0.0;
}

/// Corners in the plane across `normal`, areas as they are.
std::vector<glm::dvec2> flattened(const std::vector<glm::dvec3>& loop, const glm::dvec3& normal) {
  const glm::dvec3 aside =
      std::abs(normal.z) < 0.9 ? glm::dvec3(0.0, 0.0, 1.0) : glm::dvec3(1.0, 0.0, 0.0);
  const glm::dvec3 u = glm::normalize(glm::cross(aside, normal));
  const glm::dvec3 v = glm::cross(normal, u);
  std::vector<glm::dvec2> flat;
  flat.reserve(loop.size());
  for (const glm::dvec3& corner : loop) {
    flat.emplace_back(glm::dot(corner, u), glm::dot(corner, v));
  }
  return flat;
}

}  // namespace

void Renderer::Parts::fill_marks(const View& view) {
  use_faces(view);
  set(faces, "kept", glm::vec4(0.0F, 0.0F, 0.0F, 1.0F));  // the corners are cut already
  set(faces, "lit", 0);
  set(faces, "light_share", 1.0F);
  set(faces, "alpha", fill_alpha);
  set(faces, "hatch", 0);
  glEnable(GL_POLYGON_OFFSET_FILL);
  glPolygonOffset(-over_all_lift, -over_all_lift * 8.0F);
  glBindVertexArray(cap_array.id());
  glBindBuffer(GL_ARRAY_BUFFER, cap_buffer.id());
  for (const scene::Mark& mark : view.marks) {
    const std::vector<glm::dvec3> loop = scene::kept(mark.corners, view.lens.keeps);
    if (is_line(mark) || loop.size() < 3 || is_turned_away(mark, view)) {
      continue;
    }
    const std::vector<glm::dvec2> flat = flattened(loop, mark.normal);
    std::vector<FaceVertex> vertices;
    for (const auto& triangle : scene::triangulate({flat})) {
      for (const std::size_t corner : triangle) {
        vertices.push_back({glm::vec3(loop[corner] - scene->centre), glm::vec3(0.0F, 0.0F, 1.0F)});
      }
    }
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(vertices.size() * sizeof(FaceVertex)),
                 vertices.data(), GL_STREAM_DRAW);
    set(faces, "tint", mark.colour);
    set(faces, "under_tint", mark.colour);
    glDrawArrays(GL_TRIANGLES, 0, static_cast<GLsizei>(vertices.size()));
  }
  glDisable(GL_POLYGON_OFFSET_FILL);
}

std::vector<StrokeInstance> Renderer::Parts::mark_pens(const View& view, bool is_hidden) const {
  std::vector<StrokeInstance> instances;
  const auto scale = static_cast<float>(view.scale);
  const glm::vec2 dash = is_hidden ? hidden_dash_px : glm::vec2(0.0F);
  const auto add = [&](const std::vector<glm::dvec3>& loop, bool is_open, glm::vec3 colour,
                       float width) {
    for (std::size_t i = 0; i + (is_open ? 1 : 0) < loop.size(); ++i) {
      instances.push_back({glm::vec3(loop[i] - scene->centre),
                           glm::vec3(loop[(i + 1) % loop.size()] - scene->centre),
                           glm::vec4(colour, 1.0F), glm::vec3(width, dash) * scale});
    }
  };
  for (const scene::Mark& mark : view.marks) {
    if ((is_hidden && !mark.shows_through) || is_turned_away(mark, view)) {
      continue;
    }
    const std::vector<glm::dvec3> loop = scene::kept(mark.corners, view.lens.keeps);
    if (is_line(mark)) {
      add(loop, true, mark.colour, line_px);
      continue;
    }
    if (is_hidden) {
      add(loop, false, mark.colour, hidden_px);  // so that it stands out among rafters
    }
    add(loop, false, ink, border_px);
  }
  return instances;
}

void Renderer::Parts::draw_marks(const View& view) {
  if (view.marks.empty()) {
    return;
  }
  glEnable(GL_DEPTH_TEST);
  glDepthMask(GL_FALSE);
  glDepthFunc(GL_GREATER);
  draw_pens(mark_pens(view, true), view);
  glDepthFunc(GL_LEQUAL);
  glDepthMask(GL_FALSE);
  fill_marks(view);
  draw_pens(mark_pens(view, false), view);
  glDepthMask(GL_TRUE);
}

}  // namespace ridgeward::draw
