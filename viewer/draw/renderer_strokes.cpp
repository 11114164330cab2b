// Lines as ribbons of constant width.
#include "draw/renderer_parts.hpp"

#include <algorithm>

namespace ridgeward::draw {
namespace {

using scene::FaceRole;
using scene::Layer;

constexpr double pull_share = 0.005;  // of strokes towards the eye, of the scene's radius
constexpr float section_px = 1.7F;

/// A selected line, or a border of the selected plane.
bool is_selected(const scene::Stroke& stroke, const scene::Picked& selected) {
  if (stroke.line.is_none()) {
    return false;
  }
  return stroke.line == selected.line ||
         (!selected.plane.is_none() && std::find(stroke.beside.begin(), stroke.beside.end(),
                                                 selected.plane) != stroke.beside.end());
}

}  // namespace

std::vector<StrokeInstance> Renderer::Parts::pens(const View& view) const {
  std::vector<StrokeInstance> instances;
  const auto width_scale = static_cast<float>(view.scale);
  const auto add = [&](const scene::Stroke& stroke, glm::vec3 tint, float width, glm::vec2 dash) {
    instances.push_back({glm::vec3(stroke.from - scene->centre),
                         glm::vec3(stroke.to - scene->centre), glm::vec4(tint, 1.0F),
                         glm::vec3(width, dash) * width_scale});
  };
  const auto is_drawn = [&](const scene::Stroke& stroke) {
    const bool is_bare = !view.layers.has(Layer::planes) || is_peeled(stroke.beside[0], view);
    if (stroke.role == scene::StrokeRole::slot && is_peeled(stroke.beside[0], view)) {
      return false;
    }
    return view.layers.has(stroke.layer) && !(stroke.role == scene::StrokeRole::member && is_bare);
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
  if (view.lens.keeps) {
    add_section(view, *view.lens.keeps, instances);
  }
  return instances;
}

/// The borders of the cut faces.
void Renderer::Parts::add_section(const View& view, scene::HalfSpace half,
                                  std::vector<StrokeInstance>& instances) const {
  const glm::vec4 tint(cut_line, 1.0F);
  half.reach_m -= 1e-4;  // so that the plane itself does not clip them
  for (const scene::Face& face : scene->faces) {
    const Batch like{face.role, face.layer, face.plane, face.compartment, 0, 0};
    if (!scene::is_body(face.role) || !is_shown(like, view)) {
      continue;
    }
    const float width = face.role == FaceRole::timber ? section_px / 2 : section_px;
    const glm::vec3 pen(width * static_cast<float>(view.scale), 0.0F, 0.0F);
    for (const scene::Segment& segment : scene::section(face.triangles, half)) {
      instances.push_back({glm::vec3(segment.first - scene->centre),
                           glm::vec3(segment.second - scene->centre), tint, pen});
    }
  }
}

void Renderer::Parts::draw_strokes(const View& view) { draw_pens(pens(view), view); }

void Renderer::Parts::draw_pens(const std::vector<StrokeInstance>& instances,
                                const View& view) const {
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
  const bool is_flat = view.lens.camera.is_flat;
  set(strokes, "flat_pull", static_cast<float>(is_flat ? pull_share * scene->radius_m : 0.0));
  set(strokes, "kept", kept(view));
  set(strokes, "size", glm::vec2(frame));
  glDepthMask(GL_FALSE);
  glBindVertexArray(stroke_array.id());
  glDrawArraysInstanced(GL_TRIANGLE_STRIP, 0, 4, static_cast<GLsizei>(instances.size()));
  glDepthMask(GL_TRUE);
}

}  // namespace ridgeward::draw
