#include "command/report.hpp"

#include "papers/html.hpp"

#include "command/places.hpp"

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>
#include <utility>

#ifdef RIDGEWARD_HAS_SOLID
#include "exports/meshes.hpp"
#endif
#ifdef RIDGEWARD_HAS_VIEWER
#include "scene/from_assessment.hpp"
#endif

namespace ridgeward::command {

#ifndef RIDGEWARD_HAS_SOLID

Faults missing_for_report() {
  return {{"report.no_solids", "--html",
           "the report shows the roof's solids in 3D, and this build was made without them",
           "build with -DRIDGEWARD_SOLID=ON"}};
}

Result<std::string> report_of(const Assessment& assessment, units::Style style, const Tell& tell) {
  static_cast<void>(tell);
  static_cast<void>(assessment);
  static_cast<void>(style);
  return missing_for_report();
}

#else

namespace {

constexpr std::array<const char*, 3> library_files{"three.min.js", "OrbitControls.js",
                                                   "GLTFLoader.js"};

std::string file_of(const std::string& name) {
  std::ifstream in(report_folder() + "/" + name, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// Nothing in a script may look like the end of its element; "<\/" is the same to JavaScript.
std::string in_script(std::string text) {
  for (auto at = text.find("</script"); at != std::string::npos; at = text.find("</script", at)) {
    text.insert(at + 1, "\\");
  }
  return text;
}

#ifdef RIDGEWARD_HAS_VIEWER

constexpr double bays_over_deck_m = 0.012;
constexpr double vents_over_deck_m = 0.03;

/// What the solids do not hold: walls, boards, vents, bays by what air can do in them.
const char* group_of(scene::FaceRole role) {
  switch (role) {
    case scene::FaceRole::wall:
      return "walls";
    case scene::FaceRole::trim:
      return "trim";
    case scene::FaceRole::bay_fed:
      return "bay_fed";
    case scene::FaceRole::bay_idle:
      return "bay_idle";
    case scene::FaceRole::bay_dead:
      return "bay_dead";
    case scene::FaceRole::bay_wasted:
      return "bay_wasted";
    case scene::FaceRole::intake_vent:
      return "intake_vent";
    case scene::FaceRole::exhaust_vent:
      return "exhaust_vent";
    default:
      return "";
  }
}

double lift_of(scene::FaceRole role) {
  switch (role) {
    case scene::FaceRole::intake_vent:
    case scene::FaceRole::exhaust_vent:
      return vents_over_deck_m;
    case scene::FaceRole::wall:
    case scene::FaceRole::trim:
      return 0.0;
    default:
      return bays_over_deck_m;
  }
}

void add_scene(const Assessment& assessment, std::vector<exports::MeshGroup>& groups) {
  std::vector<exports::MeshGroup> found;
  for (const scene::Face& face : scene::from_assessment(assessment).faces) {
    const std::string name = group_of(face.role);
    if (name.empty() || face.triangles.empty()) {
      continue;
    }
    auto group = std::find_if(found.begin(), found.end(),
                              [&](const exports::MeshGroup& one) { return one.name == name; });
    if (group == found.end()) {
      group = found.insert(found.end(), {name, {{name, {}}}});
    }
    solid::Mesh& mesh = group->all.front().mesh;
    const glm::dvec3 lift = lift_of(face.role) * face.normal;
    for (const scene::Triangle& triangle : face.triangles) {
      for (const glm::dvec3& corner : triangle) {
        mesh.corners.push_back(static_cast<std::uint32_t>(mesh.points.size()));
        mesh.points.push_back(corner + lift);
        mesh.normals.push_back(face.normal);
      }
    }
  }
  groups.insert(groups.end(), std::make_move_iterator(found.begin()),
                std::make_move_iterator(found.end()));
}

#else

void add_scene(const Assessment& assessment, std::vector<exports::MeshGroup>& groups) {
  static_cast<void>(assessment);
  static_cast<void>(groups);
}

#endif

}  // namespace

Faults missing_for_report() {
  for (const char* name : library_files) {
    if (!exists(report_folder() + "/" + name)) {
      return {{"report.no_library", "--html",
               std::string("the 3D view of the report needs three.js, and this build was made "
                           "without it: ") +
                   name + " is not in " + report_folder(),
               "install Debian's package libjs-three and build again"}};
    }
  }
  return {};
}

Result<std::string> report_of(const Assessment& assessment, units::Style style, const Tell& tell) {
  exports::Content content;
  content.roof = false;
  content.slots = content.attic = content.members = true;
  Result<std::vector<exports::MeshGroup> > solids = exports::meshes_of(assessment, content, tell);
  if (!solids) {
    return solids.faults();
  }
  std::vector<exports::MeshGroup> groups = std::move(solids).value();
  add_scene(assessment, groups);
  papers::ReportParts parts;
  for (const char* name : library_files) {
    parts.library += in_script(file_of(name)) + "\n";
  }
  parts.licence = file_of("three-licence.txt");
  parts.script = in_script(file_of("report.js"));
  parts.look = file_of("report.css");
  parts.roof_glb = exports::to_gltf(
      assessment.model.name.empty() ? std::string("roof") : assessment.model.name, groups);
  return papers::to_html(assessment, style, parts);
}

#endif

}  // namespace ridgeward::command
