#include "rebuild/stage.hpp"

#include "rebuild/builder.hpp"
#include "rebuild/open.hpp"
#include "rebuild/openings.hpp"
#include "rebuild/overhangs.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <set>
#include <span>
#include <utility>

namespace ridgeward::rebuild {

namespace {

constexpr std::size_t most_polygons = 1500;
/// More than one for each polygon: uniting what is hidden many times over takes hours.
constexpr std::size_t most_overlaps = 1000;

struct OneBuilding {
  std::vector<model::Part> parts;
  Fit fit;
  std::vector<std::string> notes;
};

double area_of(const Raised& raised) {
  return std::accumulate(raised.begin(), raised.end(), 0.0,
                         [](double sum, const RaisedPlane& one) { return sum + one.area_m2; });
}

std::string counted(std::size_t count, const char* noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

/// How the raised roof fits; adds the faces' area to the given one.
void measure(Fit& fit, const Faces& given, const Raised& raised) {
  Group everything(given.faces.size());
  std::iota(everything.begin(), everything.end(), std::size_t{0});
  fit.distance_m = distance_m(given, everything, raised);
  for (const Face& face : given.faces) {
    fit.area_given_m2 += face.area_m2;
  }
  fit.area_rebuilt_m2 = area_of(raised);
}

/// Overhangs by the walls, where the whole roof stays as near to what was given.
std::string hang_over_walls(OneBuilding& one, const Building& given, const Faces& seen,
                            glm::dvec2 origin, double tolerance_m) {
  std::vector<std::vector<glm::dvec2>> walls = given.walls;
  for (std::vector<glm::dvec2>& wall : walls) {
    for (glm::dvec2& corner : wall) {
      corner -= origin;
    }
  }
  std::vector<model::Part> parts = one.parts;
  const Overhangs taken = take_overhangs(std::span(parts).first(one.fit.parts), walls);
  const std::optional<Raised> raised = taken.parts > 0 ? raise_parts(parts) : std::nullopt;
  Group everything(seen.faces.size());
  std::iota(everything.begin(), everything.end(), std::size_t{0});
  if (!raised || distance_m(seen, everything, *raised) > one.fit.distance_m + tolerance_m / 10.0) {
    return "; its walls tell no overhangs";
  }
  one.parts = std::move(parts);
  one.fit.has_overhangs = taken.parts == one.fit.parts;
  return fmt::format("; walls tell the overhangs of {} and the plates of {}",
                     counted(taken.edges, "edge"), counted(taken.parts, "part")) +
         (taken.uneven == 0
              ? ""
              : fmt::format("; at {} the wall stands elsewhere than drawn, as a part has one plate",
                            counted(taken.uneven, "eave")));
}

/// Empty where parts may be looked for.
std::string why_no_roof(const Faces& all) {
  if (all.faces.empty()) {
    return "it has no roof planes";
  }
  const std::size_t bearable = most_overlaps + all.faces.size();
  return overlaps(all, bearable) > bearable
             ? fmt::format(
                   "more than {} pairs of its polygons lie over one another, as no roof's do",
                   bearable)
             : std::string();
}

/// How it fits, what is plain, what is lost and what was filled.
std::string fit_words(const Fit& fit, const Built& built, const Filled& filled) {
  std::string text = fmt::format(
      "{} became {}; the rebuilt roof lies within {:.3f} m of what was given, its area is {:.2f} "
      "m2 "
      "against {:.2f} m2",
      counted(fit.planes_given, "plane"), counted(fit.parts + fit.plain, "part"), fit.distance_m,
      fit.area_rebuilt_m2, fit.area_given_m2);
  if (built.plain > 0) {
    text += fmt::format(
        "; plain planes, of which no eaves and gables could be made: {} of the parts, "
        "{:.1f} m2",
        built.plain, built.plain_area_m2);
  }
  if (built.lost > 0) {
    text += fmt::format("; left out, too small or too ragged: {}, {:.1f} m2",
                        counted(built.lost, "plane"), built.lost_area_m2);
  }
  if (filled.openings > 0) {
    text += fmt::format(
        "; filled: {}, {:.2f} m2: give chimneys, skylights and pipes in the model as obstacles",
        counted(filled.openings, "opening"), filled.area_m2);
  }
  return text;
}

/// Where solids run into each other and that leaves planes over, what is seen of them may do
/// better.
Built build_open(const Faces& all, const Building& given, glm::dvec2 origin, double tolerance_m) {
  Built built = build(all, tolerance_m);
  const auto left_m2 = [](const Built& one) { return one.plain_area_m2 + one.lost_area_m2; };
  if (built.raised && !(left_m2(built) > 0.0)) {
    return built;
  }
  double hidden_m2 = 0.0;
  const Faces open = open_to_sky(all, tolerance_m, hidden_m2);
  if (!(hidden_m2 > 0.0)) {
    return built;
  }
  const Faces cut = faces_of(building_of(open, given, origin), origin, tolerance_m);
  if (cut.faces.empty()) {
    return built;
  }
  const Built other = build(cut, tolerance_m);
  return other.raised && (!built.raised || left_m2(other) < left_m2(built)) ? other : built;
}

OneBuilding rebuild_one(const Building& given, glm::dvec2 origin, double tolerance_m) {
  OneBuilding one;
  one.fit.building = given.id;
  const std::string who = "building \"" + given.id + "\": ";
  if (given.roof.size() > most_polygons) {
    one.notes.push_back(who + fmt::format("left out: {} polygons are more than {}",
                                          given.roof.size(), most_polygons));
    return one;
  }
  const Filled filled = without_openings(given);
  const Faces all = faces_of(filled.building, origin, tolerance_m);
  if (const std::string unfit = why_no_roof(all); !unfit.empty()) {
    one.notes.push_back(who + "left out: " + unfit);
    return one;
  }
  Built built = build_open(all, filled.building, origin, tolerance_m);
  if (!built.raised) {
    one.notes.push_back(who + "left out: no roof could be raised from its planes");
    return one;
  }
  one.parts = std::move(built.parts);
  one.fit.planes_given = all.planes.size();
  one.fit.parts = built.understood;
  one.fit.plain = built.plain;
  // Measured on what was given: a filled plane may run on beneath others.
  const auto holed =
      filled.openings > 0 ? std::optional(faces_of(given, origin, tolerance_m)) : std::nullopt;
  double hidden_m2 = 0.0;
  const Faces seen = open_to_sky(holed ? *holed : all, tolerance_m, hidden_m2);
  one.fit.area_given_m2 = filled.area_m2;
  measure(one.fit, seen, *built.raised);
  std::string text = fit_words(one.fit, built, filled);
  if (!given.walls.empty()) {
    text += hang_over_walls(one, given, seen, origin, tolerance_m);
  }
  if (hidden_m2 >= 0.01) {
    text += fmt::format(
        "; {:.2f} m2 of what was given lies inside or under other roofs and is not "
        "counted",
        hidden_m2);
  }
  if (all.unevenness_m > tolerance_m) {
    text += fmt::format("; its polygons are flat to {:.3f} m only", all.unevenness_m);
  }
  one.notes.push_back(who + text);
  return one;
}

/// A round place near the lower left corner of everything.
glm::dvec2 origin_of(const RoofPlanes& given) {
  glm::dvec2 low(std::numeric_limits<double>::infinity());
  for (const Building& building : given.buildings) {
    for (const RoofPolygon& polygon : building.roof) {
      for (const glm::dvec3& corner : polygon.empty() ? std::vector<glm::dvec3>{} : polygon[0]) {
        low = glm::min(low, glm::dvec2(corner));
      }
    }
  }
  return std::isfinite(low.x) ? low : glm::dvec2(0.0);
}

/// An id of a part: the marks that build derived ids become dashes.
std::string part_id(const std::string& building, std::size_t number, bool is_only_building) {
  if (is_only_building) {
    return fmt::format("part-{}", number + 1);
  }
  std::size_t size = std::min<std::size_t>(building.size(), 60);
  while (size > 0 && size < building.size() &&
         (static_cast<unsigned char>(building[size]) & 0xC0U) == 0x80U) {
    --size;  // not within a character of several bytes
  }
  std::string id = building.substr(0, size);
  for (char& c : id) {
    const bool is_plain = static_cast<unsigned char>(c) > 0x20U && c != 0x7F &&
                          std::string_view("/|#:").find(c) == std::string_view::npos;
    c = is_plain ? c : '-';
  }
  return fmt::format("{}-{}", id, number + 1);
}

std::vector<glm::dvec3> moved(std::vector<glm::dvec3> loop, glm::dvec3 by) {
  for (glm::dvec3& corner : loop) {
    corner += by;
  }
  return loop;
}

std::vector<std::vector<glm::dvec3>> loops_of(const RoofPlanes& planes, glm::dvec2 origin) {
  std::vector<std::vector<glm::dvec3>> loops;
  for (const Building& building : planes.buildings) {
    for (const RoofPolygon& polygon : building.roof) {
      for (const std::vector<glm::dvec3>& loop : polygon) {
        loops.push_back(moved(loop, -glm::dvec3(origin, building.ground_m)));
      }
    }
  }
  return loops;
}

/// Faults that point into a list of parts name the part: nobody has seen the list.
Faults with_parts(Faults faults, std::string_view json) {
  const nlohmann::json model = nlohmann::json::parse(json, nullptr, false);
  for (Fault& fault : faults) {
    constexpr std::string_view parts = "/parts/";
    if (!fault.where.starts_with(parts) || !model.is_object()) {
      continue;
    }
    const std::size_t end = fault.where.find('/', parts.size());
    const nlohmann::json::json_pointer id(fault.where.substr(0, end) + "/id");
    if (model.contains(id) && model[id].is_string()) {
      fault.what = "part \"" + model[id].get<std::string>() + "\": " + fault.what;
    }
  }
  return faults;
}

}  // namespace

Result<Rebuilt> rebuild(const RoofPlanes& given, const Tell& tell) {
  Rebuilt rebuilt;
  rebuilt.model.name = given.name;
  rebuilt.model.unit = given.unit;
  rebuilt.model.site.north_deg = given.north_deg.value_or(0.0);
  const glm::dvec2 origin = origin_of(given);
  rebuilt.origin = origin;
  std::set<std::string> ids;
  std::size_t done = 0;
  for (const Building& building : given.buildings) {
    OneBuilding one = rebuild_one(building, origin, given.tolerance_m);
    std::move(one.notes.begin(), one.notes.end(), std::back_inserter(rebuilt.notes));
    for (std::size_t i = 0; i < one.parts.size(); ++i) {
      one.parts[i].id = part_id(building.id, i, given.buildings.size() == 1);
      while (!ids.insert(one.parts[i].id).second) {
        one.parts[i].id += "'";
      }
      rebuilt.model.parts.push_back(std::move(one.parts[i]));
    }
    if (!one.parts.empty()) {
      rebuilt.fits.push_back(one.fit);
    }
    if (tell) {
      tell(++done, given.buildings.size());
    }
  }
  if (rebuilt.model.parts.empty()) {
    return Fault{"planes.nothing", "",
                 "no roof could be rebuilt from the planes of the file" +
                     (rebuilt.notes.empty() ? "" : ": " + rebuilt.notes.front()),
                 "check that it holds roofs in metres, z up; a wider tolerance may help"};
  }
  rebuilt.notes.push_back(
      fmt::format("the plan is moved by {:.3f}, {:.3f} m so that its lower left corner is 0, 0",
                  0.0 - origin.x, 0.0 - origin.y));
  const bool has_overhangs = std::all_of(rebuilt.fits.begin(), rebuilt.fits.end(),
                                         [](const Fit& fit) { return fit.has_overhangs; });
  rebuilt.notes.emplace_back(std::string("the edges of the planes are taken as drip lines; ") +
                             (has_overhangs ? "" : "overhangs, ") +
                             "heels and thicknesses are not in the file: give them in the model");
  return rebuilt;
}

Result<Modelled> modelled(std::string_view json, const Tell& tell) {
  if (!holds_planes(json)) {
    Result<model::ReadModel> read = model::read(json);
    if (!read) {
      return with_parts(read.faults(), json);
    }
    return Modelled{std::move(read).value(), {}, std::nullopt, {}, {}};
  }
  const Result<RoofPlanes> planes = read_planes(json);
  if (!planes) {
    return planes.faults();
  }
  Result<Rebuilt> rebuilt = rebuild(planes.value(), tell);
  if (!rebuilt) {
    Faults faults = rebuilt.faults();
    faults.front().what += planes.value().name.empty() ? "" : ": " + planes.value().name;
    return faults;
  }
  Result<model::ReadModel> read = model::read(model::write(rebuilt.value().model));
  if (!read) {
    return read.faults();
  }
  return Modelled{std::move(read).value(), std::move(rebuilt.value().notes),
                  rebuilt.value().fits.front(), rebuilt.value().fits,
                  loops_of(planes.value(), rebuilt.value().origin)};
}

}  // namespace ridgeward::rebuild
