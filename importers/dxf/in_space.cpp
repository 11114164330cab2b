#include "dxf/in_space.hpp"

#include "units/length.hpp"

#include "dxf/planes_between.hpp"
#include "mesh/regions.hpp"
#include "support/planes.hpp"
#include "support/vectors.hpp"

#include <algorithm>
#include <utility>

namespace ridgeward::dxf {

namespace {

using importing::Host;
using importing::Refused;

constexpr double planes_tolerance_m = 0.005;

/// Outlines on layers for walls, in metres.
std::vector<std::vector<Position>> walls_of(const Drawing& drawing, double scale) {
  std::vector<std::vector<Position>> walls;
  for (const Outline& outline : drawing.outlines) {
    if (has(outline.layer, "wall") && !roof_kind(outline.layer)) {
      walls.push_back(outline.corners);
      for (Position& p : walls.back()) {
        p = {p[0] * scale, p[1] * scale};
      }
    }
  }
  return walls;
}

void give(std::vector<importing::Polygon> roof, const Drawing& drawing, const Unit& unit,
          const Host& host) {
  host.emit(importing::planes_json(
      "", {{"drawing", 0.0, std::move(roof), walls_of(drawing, metres_in(unit))}},
      planes_tolerance_m, unit.name));
}

/// Faces as planes: those on layers for roofs, or all.
void give_faces(const Drawing& drawing, const Unit& unit, const Host& host) {
  const bool has_roof_layer = std::any_of(drawing.faces.begin(), drawing.faces.end(),
                                          [](const Face& face) { return has(face.layer, "roof"); });
  const double scale = metres_in(unit);
  mesh::Triangles mesh;
  for (const Face& face : drawing.faces) {
    if (has_roof_layer && !has(face.layer, "roof")) {
      continue;
    }
    importing::Ring ring;
    for (const auto& corner : face.corners) {
      ring.push_back(importing::scaled(corner, scale));
    }
    if (importing::newell(ring)[2] < 0.0) {
      std::reverse(ring.begin(), ring.end());  // either side may have been drawn as the front
    }
    const auto first = static_cast<std::uint32_t>(mesh.points.size());
    mesh.points.insert(mesh.points.end(), ring.begin(), ring.end());
    for (std::uint32_t k = 1; k + 1 < ring.size(); ++k) {
      mesh.corners.push_back({first, first + k, first + k + 1});
    }
  }
  const std::size_t count = mesh.corners.size();
  mesh::weld(mesh, planes_tolerance_m / 10.0);
  mesh::Flat flat = mesh::flat_regions(std::move(mesh), planes_tolerance_m);
  if (flat.up.empty()) {
    throw Refused("", "none of its faces in space is a roof", "give the option from=outlines");
  }
  host.note(importing::counted(count, "triangle") + " of faces (3DFACE" +
            (has_roof_layer ? ", on layers with \"roof\" in their name" : "") + ") " +
            (count == 1 ? "makes " : "make ") + importing::counted(flat.up.size(), "plane") +
            "; hidden and left out: " + std::to_string(flat.hidden));
  give(std::move(flat.up), drawing, unit, host);
}

/// The planes between the roof's lines in space. Whether they were given: unless they have to be,
/// only where every line bears those it should.
bool give_lines(const Drawing& drawing, const Unit& unit, bool has_to, const Host& host) {
  const double scale = metres_in(unit);
  std::vector<RoofLine> lines = drawing.roof;
  for (RoofLine& line : lines) {
    line.from = importing::scaled(line.from, scale);
    line.to = importing::scaled(line.to, scale);
  }
  Between between = planes_between(lines);
  const std::string count = importing::counted(lines.size(), "roof line");
  if (between.planes.empty() || (between.open > 0 && !has_to)) {
    if (has_to) {
      throw Refused(
          "",
          "its " + count + " in space " + (lines.size() == 1 ? "bounds" : "bound") + " no planes",
          "draw eaves, rakes, ridges, hips and valleys end to end in space, on layers "
          "of those names, 4000 at most");
    }
    if (!between.planes.empty()) {
      host.note("of the planes beside its " + count + " in space " + std::to_string(between.open) +
                " of " + std::to_string(between.sides) +
                " were not found; give the option from=lines to take those that were");
    }
    return false;
  }
  host.note("its " + count + " in space bound " +
            importing::counted(between.planes.size(), "plane") +
            (between.open == 0 ? ""
                               : "; of the planes beside them " + std::to_string(between.open) +
                                     " of " + std::to_string(between.sides) + " were not found"));
  give(std::move(between.planes), drawing, unit, host);
  return true;
}

}  // namespace

double metres_in(const Unit& unit) {
  return units::metres_in(*units::unit_named(unit.name)) * unit.factor;
}

bool has(const std::string& layer, const std::string& word) {
  return importing::small(layer).find(word) != std::string::npos;
}

std::string option(const Options& options, const char* key, const std::string& otherwise) {
  const auto at = options.find(key);
  return at == options.end() ? otherwise : at->second;
}

bool give_roof(const Drawing& drawing, const Unit& unit, const Options& options, const Host& host) {
  const std::string from = option(options, "from", "");
  if (!from.empty() && from != "faces" && from != "lines" && from != "outlines") {
    throw Refused("", "from=" + from + " is not known", "give from=faces, lines or outlines");
  }
  const bool is_about_outlines = std::any_of(options.begin(), options.end(), [](const auto& one) {
    return one.first != "from" && one.first != "unit";
  });
  if (from == "outlines" || (from.empty() && is_about_outlines)) {
    return false;
  }
  if (from == "faces" || (from.empty() && !drawing.faces.empty())) {
    give_faces(drawing, unit, host);
    return true;
  }
  return give_lines(drawing, unit, from == "lines", host);
}

}  // namespace ridgeward::dxf
