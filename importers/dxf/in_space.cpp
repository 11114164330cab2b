#include "dxf/in_space.hpp"

#include "dxf/outlines.hpp"
#include "dxf/planes_between.hpp"
#include "mesh/regions.hpp"
#include "support/planes.hpp"
#include "support/vectors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace ridgeward::dxf {

namespace {

using importing::Host;
using importing::Refused;

constexpr double planes_tolerance_m = 0.005;
/// The cosine of 87 degrees: what is steeper is a wall.
constexpr double steepest_upward = 0.0523;

bool is_of_roof(const std::string& layer) { return !words_of_roofs(layer).empty(); }

/// A closed polyline in metres, counter-clockwise seen from above.
importing::Ring ring_of(const Outline& outline, double scale) {
  importing::Ring ring;
  for (std::size_t i = 0; i < outline.corners.size(); ++i) {
    const Position& p = outline.corners[i];
    ring.push_back(importing::scaled({p[0], p[1], outline.heights.at(i)}, scale));
  }
  if (importing::newell(ring)[2] < 0.0) {
    std::reverse(ring.begin(), ring.end());
  }
  return ring;
}

/// Closed polylines in space, each of which is a plane of the roof.
struct Drawn {
  std::vector<importing::Polygon> planes;
  std::string bent;  ///< of one that is not flat, where it lies and by how much
  std::size_t bent_count = 0;
};

/// How far the corners lie from one plane, the middle one; none where it is a wall or has no area.
std::optional<double> bend_of(const importing::Ring& ring) {
  const importing::Point up = importing::newell(ring);
  const double size = importing::length(up);
  if (!(size > 0.0) || up[2] < steepest_upward * size) {
    return std::nullopt;
  }
  double low = HUGE_VAL;
  double high = -HUGE_VAL;
  for (const importing::Point& p : ring) {
    const double off = importing::dot(importing::minus(p, ring[0]), up) / size;
    low = std::min(low, off);
    high = std::max(high, off);
  }
  return 0.5 * (high - low);
}

/// The planes among the closed polylines: those on layers for roofs, where there are any. Level
/// ones are planes where they lie over the lowest corner of sloped ones on their layer.
Drawn polylines_in_space(const Drawing& drawing, double scale, bool has_roof_layer) {
  Drawn drawn;
  std::map<std::string, double> lowest_m;
  const auto add = [&](const Outline& outline, bool is_sloped) {
    if (outline.heights.empty() || outline.is_in_space() != is_sloped || roof_kind(outline.layer) ||
        (has_roof_layer && !is_of_roof(outline.layer))) {
      return;
    }
    const importing::Ring ring = ring_of(outline, scale);
    const std::optional<double> bend_m = bend_of(ring);
    const auto low = lowest_m.find(outline.layer);
    if (!bend_m || (!is_sloped && (low == lowest_m.end() || ring[0][2] <= low->second))) {
      return;
    }
    if (*bend_m > planes_tolerance_m) {
      ++drawn.bent_count;
      drawn.bent = fmt::format("on layer {} at {}, by {:.3f} m", outline.layer,
                               place_words(outline.corners[0]), *bend_m);
      return;
    }
    double& lowest = lowest_m.try_emplace(outline.layer, HUGE_VAL).first->second;
    for (const importing::Point& p : ring) {
      lowest = std::min(lowest, p[2] + planes_tolerance_m);
    }
    drawn.planes.push_back({ring});
  };
  for (const bool is_sloped : {true, false}) {
    for (const Outline& outline : drawing.outlines) {
      add(outline, is_sloped);
    }
  }
  return drawn;
}

/// Whether something on a layer for roofs is drawn as planes in space.
bool has_roof_planes(const Drawing& drawing) {
  return std::any_of(drawing.faces.begin(), drawing.faces.end(),
                     [](const Face& face) { return is_of_roof(face.layer); }) ||
         std::any_of(drawing.outlines.begin(), drawing.outlines.end(), [](const Outline& one) {
           return one.is_in_space() && is_of_roof(one.layer) && !roof_kind(one.layer);
         });
}

/// Outlines on layers for walls, in metres.
std::vector<std::vector<Position>> walls_of(const Drawing& drawing, double scale) {
  std::vector<std::vector<Position>> walls;
  for (const Outline& outline : drawing.outlines) {
    if (!words_of_walls(outline.layer).empty() && !roof_kind(outline.layer) &&
        !outline.is_in_space()) {
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

/// The triangles of faces: those on layers for roofs, or all.
mesh::Triangles triangles_of(const Drawing& drawing, double scale, bool has_roof_layer) {
  mesh::Triangles mesh;
  for (const Face& face : drawing.faces) {
    if (has_roof_layer && !is_of_roof(face.layer)) {
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
  return mesh;
}

/// Faces and closed polylines in space as planes. Whether there were any; refused where there have
/// to be.
bool give_faces(const Drawing& drawing, const Unit& unit, const Options& options,
                const Host& host) {
  const bool has_roof_layer = has_roof_planes(drawing);
  const std::string where = has_roof_layer ? ", on layers named after roofs" : "";
  Drawn drawn = polylines_in_space(drawing, metres_in(unit), has_roof_layer);
  if (drawn.bent_count > 0) {
    host.note(importing::counted(drawn.bent_count, "closed polyline") +
              " in space not flat to 5 mm, no plane: one " + drawn.bent);
  }
  mesh::Triangles mesh = triangles_of(drawing, metres_in(unit), has_roof_layer);
  if (mesh.corners.empty() && drawn.planes.empty() && option(options, "from", "") != "faces") {
    return false;
  }
  check_size(width_in_space(drawing), unit, options, true, host);
  const std::size_t count = mesh.corners.size();
  mesh::weld(mesh, planes_tolerance_m / 10.0);
  mesh::Flat flat = mesh::flat_regions(std::move(mesh), planes_tolerance_m);
  if (flat.up.empty() && drawn.planes.empty()) {
    throw Refused("", "none of its faces in space is a roof", "give the option from=outlines");
  }
  if (count > 0) {
    host.note(importing::counted(count, "triangle") + " of faces (3DFACE and meshes" + where +
              ") " + (count == 1 ? "makes " : "make ") +
              importing::counted(flat.up.size(), "plane") +
              "; hidden and left out: " + std::to_string(flat.hidden));
  }
  if (!drawn.planes.empty()) {
    host.note(importing::counted(drawn.planes.size(), "closed polyline") + " in space" + where +
              (drawn.planes.size() == 1 ? " is a plane" : " are planes") + " of the roof");
  }
  flat.up.insert(flat.up.end(), drawn.planes.begin(), drawn.planes.end());
  give(std::move(flat.up), drawing, unit, host);
  return true;
}

/// The planes between the roof's lines in space. Whether they were given: unless they have to be,
/// only where every line bears those it should.
bool give_lines(const Drawing& drawing, const Unit& unit, const Options& options,
                const Host& host) {
  const bool has_to = option(options, "from", "") == "lines";
  const double scale = metres_in(unit);
  if (has_to && drawing.roof.empty()) {
    throw Refused(
        "", "there are no lines of a roof in space",
        "draw eaves, rakes, ridges, hips and valleys in space, on layers of those names, or "
        "leave out the option from");
  }
  if (has_to || (drawing.outlines.empty() && !drawing.roof.empty())) {
    check_size(width_in_space(drawing), unit, options, true, host);
  }
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
  if (from != "lines" && give_faces(drawing, unit, options, host)) {
    return true;
  }
  return give_lines(drawing, unit, options, host);
}

}  // namespace ridgeward::dxf
