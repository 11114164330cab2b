// Wavefront OBJ as text: one object a body, corners with their normals.
#include "exports/exporter.hpp"
#include "exports/meshes.hpp"

#include <fmt/format.h>

#include <iterator>

namespace ridgeward::exports {

namespace {

/// A name in one word: spaces would end it.
std::string in_one_word(std::string name) {
  for (char& c : name) {
    c = static_cast<unsigned char>(c) <= ' ' ? '_' : c;
  }
  return name;
}

/// Corners count through the whole file, from 1.
void add_mesh(const solid::Mesh& mesh, std::size_t& before, std::string& text) {
  auto out = std::back_inserter(text);
  for (const glm::dvec3& p : mesh.points) {
    out = fmt::format_to(out, "v {:.7f} {:.7f} {:.7f}\n", p.x, p.z, -p.y);
  }
  for (const glm::dvec3& n : mesh.normals) {
    out = fmt::format_to(out, "vn {:.7f} {:.7f} {:.7f}\n", n.x, n.z, -n.y);
  }
  for (std::size_t i = 0; i + 2 < mesh.corners.size(); i += 3) {
    const std::size_t a = before + mesh.corners[i] + 1;
    const std::size_t b = before + mesh.corners[i + 1] + 1;
    const std::size_t c = before + mesh.corners[i + 2] + 1;
    out = fmt::format_to(out, "f {0}//{0} {1}//{1} {2}//{2}\n", a, b, c);
  }
  before += mesh.points.size();
}

Result<std::string> write_obj(const Assessment& assessment, const Content& content,
                              const Tell& tell) {
  const Result<std::vector<MeshGroup>> groups = meshes_of(assessment, content, tell);
  if (!groups) {
    return groups.faults();
  }
  std::string text = fmt::format("# {}\n# metres, y up\n", in_one_word(assessment.model.name));
  std::size_t before = 0;
  for (const MeshGroup& group : groups.value()) {
    for (const MeshGroup::Named& named : group.all) {
      text += fmt::format("o {}\ng {}\n", in_one_word(named.name), in_one_word(group.name));
      add_mesh(named.mesh, before, text);
    }
  }
  return text;
}

}  // namespace

extern const Exporter obj_kind;
const Exporter obj_kind{".obj", "the same bodies as triangles; OBJ (metres, y up)", write_obj};

}  // namespace ridgeward::exports
