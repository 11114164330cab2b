#include "model/json_cursor.hpp"
#include "model/read_pieces.hpp"

#include "rebuild/planes.hpp"

#include <fmt/format.h>

#include <array>

namespace ridgeward::rebuild {

namespace {

using Words = std::string_view;
constexpr std::size_t most_corners = 200000;
constexpr std::size_t most_buildings = 5000;
constexpr double farthest_m = 1.0e8;  // grids of whole countries

constexpr std::array<Words, 6> file_names{"ridgeward_planes", "name",     "tolerance", "units",
                                          "north_deg",        "buildings"};
constinit const model::ObjectKeys file_keys{"file of planes", file_names};
constexpr std::array<Words, 4> building_names{"id", "ground", "roof", "walls"};
constinit const model::ObjectKeys building_keys{"building", building_names};

class Reader {
 public:
  RoofPolygon polygon(const model::Cursor& loops) {
    RoofPolygon polygon;
    for (std::size_t i = 0; loops.open_list() && i < loops.size() && !is_full_; ++i) {
      const model::Cursor corners = loops.item(i);
      std::vector<glm::dvec3> loop;
      for (std::size_t k = 0; corners.open_list() && k < corners.size() && !is_full_; ++k) {
        loop.push_back(corner<3>(corners.item(k)));
      }
      polygon.push_back(std::move(loop));
    }
    return polygon;
  }

  Building building(model::Cursor cursor) {
    Building building;
    if (!cursor.open_object(building_keys)) {
      return building;
    }
    model::take(building.id, cursor.key("id").required("give each building its id").text());
    model::take(building.ground_m, cursor.key("ground").number({-farthest_m, farthest_m}));
    const model::Cursor roof = cursor.key("roof").required("give its polygons");
    for (std::size_t i = 0; roof.open_list() && i < roof.size() && !is_full_; ++i) {
      building.roof.push_back(polygon(roof.item(i)));
    }
    const model::Cursor walls = cursor.key("walls");
    for (std::size_t i = 0; walls.is_there() && walls.open_list() && i < walls.size(); ++i) {
      const model::Cursor corners = walls.item(i);
      std::vector<glm::dvec2> loop;
      for (std::size_t k = 0; corners.open_list() && k < corners.size() && !is_full_; ++k) {
        loop.push_back(corner<2>(corners.item(k)));
      }
      building.walls.push_back(std::move(loop));
    }
    return building;
  }

 private:
  template <int n>
  glm::vec<n, double> corner(const model::Cursor& cursor) {
    glm::vec<n, double> p(0.0);
    if (++corners_ > most_corners) {
      cursor.fault("planes.too_many", fmt::format("there are more than {} corners", most_corners),
                   "import a part of the file");
      is_full_ = true;
      return p;
    }
    if (!cursor.open_list() || cursor.size() != n) {
      cursor.fault("field.type", n == 3 ? "a corner is three numbers" : "a corner is two numbers",
                   n == 3 ? "give [x, y, z] in metres" : "give [x, y] in metres");
      return p;
    }
    for (int i = 0; i < n; ++i) {
      model::take(p[i], cursor.item(static_cast<std::size_t>(i)).number({-farthest_m, farthest_m}));
    }
    return p;
  }

  std::size_t corners_ = 0;
  bool is_full_ = false;
};

}  // namespace

bool holds_planes(std::string_view json) {
  return json.substr(0, 200).find("\"ridgeward_planes\"") != std::string_view::npos;
}

Result<RoofPlanes> read_planes(std::string_view json) {
  model::Reading reading;
  Result<model::Document> document = model::parse_json(json, reading.warnings);
  if (!document) {
    return document.faults();
  }
  RoofPlanes planes;
  model::Cursor root(document.value(), reading);
  if (root.open_object(file_keys)) {
    root.key("ridgeward_planes").required("write \"ridgeward_planes\": 1").whole(1, 1);
    model::take(planes.name, root.key("name").text());
    model::take(planes.unit, model::read_unit(root.key("units")));
    if (const auto north_deg = root.key("north_deg").number({-360.0, 360.0})) {
      planes.north_deg = *north_deg;
    }
    model::take(planes.tolerance_m, root.key("tolerance").number({0.0005, 5.0}));
    const model::Cursor buildings = root.key("buildings").required("list the buildings");
    Reader reader;
    if (buildings.open_list() && buildings.size() > most_buildings) {
      buildings.fault("planes.too_many",
                      fmt::format("there are more than {} buildings", most_buildings),
                      "import a part of the file");
    } else {
      for (std::size_t i = 0; i < buildings.size(); ++i) {
        planes.buildings.push_back(reader.building(buildings.item(i)));
      }
    }
  }
  if (!reading.faults.empty()) {
    return std::move(reading.faults);
  }
  return planes;
}

}  // namespace ridgeward::rebuild
