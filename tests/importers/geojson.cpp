// GeoJSON footprints to models, through the loaded importer.
#include "model/file_bytes.hpp"
#include "model/read.hpp"
#include "plugin/load.hpp"
#include "surface/stage.hpp"

#include "support/seed.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>
#include <string>

using namespace ridgeward;
namespace fs = std::filesystem;

namespace {

const plugin::Importer& importer() {
  static const auto loaded = plugin::Importer::load(RIDGEWARD_BUILD_DIR "/importers/geojson.so");
  REQUIRE(loaded.ok());
  return loaded.value();
}

const fs::path samples = fs::path(RIDGEWARD_SOURCE_DIR) / "importers" / "geojson" / "samples";

std::string sample(const std::string& name) {
  return model::file_bytes((samples / name).string()).value();
}

model::RoofModel imported(const std::string& text, const std::string& options = "") {
  const auto given = importer().read(text, options, "");
  INFO(tests::words(given));
  REQUIRE(given.ok());
  const auto read = model::read(given.value().json);
  INFO(tests::words(read));
  REQUIRE(read.ok());
  CHECK(read.value().warnings.empty());
  return read.value().model;
}

std::string polygon(const std::string& coordinates, const std::string& properties = "{}") {
  return R"({"type": "Feature", "properties": )" + properties +
         R"(, "geometry": {"type": "Polygon", "coordinates": )" + coordinates + "}}";
}

void refused(const std::string& text, const std::string& where, const std::string& options = "") {
  INFO(text.substr(0, 100));
  const auto given = importer().read(text, options, "");
  REQUIRE_FALSE(given.ok());
  CHECK(given.faults().front().where == where);
  CHECK_FALSE(given.faults().front().what.empty());
  CHECK_FALSE(given.faults().front().cure.empty());
}

}  // namespace

TEST_CASE("two houses in degrees") {
  const model::RoofModel roof = imported(sample("two-houses.geojson"));
  REQUIRE(roof.parts.size() == 2);
  const model::Part& house = roof.parts[0];
  CHECK(house.id == "house");
  CHECK(house.plate_m == 2.7);
  CHECK(house.edges.at(0).overhang_m == 0.5);
  CHECK(house.edges[0].pitch.degrees() == Approx(35.0));
  // A degree at latitude 48 is 111 201 m along the meridian and 74 629 m along the parallel by the
  // published series of the ellipsoid (111132.92 - 559.82 cos 2f + 1.175 cos 4f and 111412.84 cos f
  // - 93.5 cos 3f + 0.118 cos 5f; from memory), another road than the radii of curvature.
  const double f = 48.0 * 3.14159265358979323846 / 180.0;
  const double north_m = 111132.92 - 559.82 * std::cos(2 * f) + 1.175 * std::cos(4 * f);
  const double east_m = 111412.84 * std::cos(f) - 93.5 * std::cos(3 * f) + 0.118 * std::cos(5 * f);
  CHECK(house.outline[2].x == Approx(0.00016 * east_m).margin(0.0011));
  CHECK(house.outline[2].y == Approx(0.00009 * north_m).margin(0.0011));
  CHECK(roof.parts[1].id == "barn-east");  // "/" can't be in an id
  CHECK(roof.parts[1].edges[0].pitch.in_12() == Approx(8.0));
}

TEST_CASE("a courtyard in metres keeps its hole, turned the right way") {
  const model::RoofModel roof = imported(sample("courtyard-metres.geojson"));
  REQUIRE(roof.parts.size() == 1);
  const model::Part& part = roof.parts[0];
  CHECK(part.id == "7");
  CHECK(part.outline.size() == 4);
  CHECK(part.outline[2] == glm::dvec2(18.0, 16.0));
  REQUIRE(part.holes.size() == 1);
  CHECK(part.holes[0].outline.size() == 4);
}

TEST_CASE("what was assumed is told") {
  const auto given = importer().read(polygon("[[[0,0],[10,0],[10,8],[0,8]]]"), "", "");
  REQUIRE(given.ok());
  std::string notes;
  for (const std::string& note : given.value().notes) {
    notes += note + "\n";
  }
  for (const char* words : {"plain metres", "30 deg", "2.5 m", "overhang", "eave"}) {
    INFO(words << " in " << notes);
    CHECK(notes.find(words) != std::string::npos);
  }
}

TEST_CASE("options choose the polygon and the meaning of coordinates") {
  CHECK(imported(sample("two-houses.geojson"), "feature=1\n").parts.size() == 1);
  refused(sample("two-houses.geojson"), "", "feature=2");
  refused(sample("two-houses.geojson"), "", "feature=-1");
  refused(sample("two-houses.geojson"), "", "coordinates=furlongs");
  // A tenth of a degree, taken as metres, is a tenth of a metre.
  const std::string tiny = polygon("[[[0,0],[0.1,0],[0.1,0.1],[0,0.1]]]");
  CHECK(imported(tiny, "coordinates=metres").parts[0].outline[2].x == Approx(0.1));
}

TEST_CASE("degrees stay degrees however far apart houses are, and across the 180th meridian") {
  // Two houses 0.3 degrees of latitude apart: 33.4 km.
  const auto house = [](double east, double north) {
    return fmt::format("[[[{0},{1}],[{2},{1}],[{2},{3}],[{0},{3}]]]", east, north, east + 0.00016,
                       north + 0.00007);
  };
  const auto two = [&](double second) {
    return R"({"type": "MultiPolygon", "coordinates": [)" + house(16.37, 48.2) + "," +
           house(16.37, second) + "]}";
  };
  const auto apart = importer().read(two(48.5), "", "");
  REQUIRE_FALSE(apart.ok());
  CHECK(apart.faults().front().what.find("33 km apart") != std::string::npos);
  CHECK(apart.faults().front().cure.find("feature=N") != std::string::npos);
  const auto length_m = [](const model::RoofModel& roof) {
    return glm::distance(roof.parts.at(0).outline[0], roof.parts[0].outline[1]);
  };
  // The series of the ellipsoid, as above.
  const double f = 48.5 * 3.14159265358979323846 / 180.0;
  const double east_m = 111412.84 * std::cos(f) - 93.5 * std::cos(3 * f) + 0.118 * std::cos(5 * f);
  CHECK(length_m(imported(two(48.5), "feature=1")) == Approx(0.00016 * east_m).margin(0.0011));
  CHECK(imported(two(48.21)).parts.size() == 2);
  // A house on the meridian, written on beyond it or with a step of the globe, is as long.
  const double here = length_m(imported(polygon(house(10.0, 65.0))));
  CHECK(length_m(imported(polygon(house(179.99992, 65.0)))) == Approx(here).margin(0.0011));
  CHECK(length_m(imported(polygon("[[[179.99992,65],[-179.99992,65],[-179.99992,65.00007],"
                                  "[179.99992,65.00007]]]"))) == Approx(here).margin(0.0011));
}

TEST_CASE("the old member crs tells the unit, and so does an option") {
  const auto with_crs = [](const std::string& name, const std::string& ring) {
    return R"({"type": "FeatureCollection", "crs": {"type": "name", "properties": {"name": ")" +
           name + R"("}}, "features": [)" + polygon(ring, R"({"pitch": 30})") + "]}";
  };
  const std::string ring = "[[[980000,200000],[980040,200000],[980040,200025],[980000,200025]]]";
  const auto width_m = [](const model::RoofModel& roof) { return roof.parts.at(0).outline[1].x; };
  // EPSG dataset: 2263 is in US survey feet, 2222 in feet, 25832 in metres.
  CHECK(width_m(imported(with_crs("urn:ogc:def:crs:EPSG::2263", ring))) ==
        Approx(40 * 1200.0 / 3937.0).margin(0.0006));
  CHECK(width_m(imported(with_crs("EPSG:2222", ring))) == Approx(40 * 0.3048).margin(0.0006));
  CHECK(width_m(imported(with_crs("EPSG:25832", ring))) == Approx(40.0));
  CHECK(width_m(imported(with_crs("EPSG:2263", ring), "unit=m")) == Approx(40.0));
  CHECK(width_m(imported(with_crs("EPSG:25832", ring), "unit=ft")) ==
        Approx(40 * 0.3048).margin(0.0006));
  refused(with_crs("EPSG:25832", ring), "", "unit=chain");
  const auto notes = [&](const std::string& name) {
    const auto given = importer().read(with_crs(name, ring), "", "");
    REQUIRE(given.ok());
    return given.value().notes.front();
  };
  CHECK(notes("urn:ogc:def:crs:EPSG::2263").find("EPSG:2263") != std::string::npos);
  CHECK(notes("urn:ogc:def:crs:EPSG::2263").find("survey feet") != std::string::npos);
  CHECK(notes("EPSG:25832").find("taken as metres") != std::string::npos);
  // A system of degrees: 0.3 degrees long is no doll's house then.
  CHECK_FALSE(
      importer()
          .read(with_crs("urn:ogc:def:crs:OGC:1.3:CRS84", "[[[0,0],[0.3,0],[0.3,0.1],[0,0.1]]]"),
                "", "")
          .ok());
}

TEST_CASE("what can't be a house is told where it stands, or doubted") {
  const std::string house = "[[0,0],[12,0],[12,8],[0,8]]";
  // 2.9 m to the top, of which 8/12 over 4 m takes 2.67 m; 18 in of overhang hang 0.3 m lower.
  refused(polygon("[" + house + "]", R"({"roof:shape": "gabled", "pitch": "8/12", "height": "9'6\"",
                   "overhang": "18 in"})"),
          "/geometry/coordinates");
  const auto low = importer().read(
      polygon("[" + house + "]", R"({"roof:shape": "gabled", "pitch": "8/12", "height": 3.5})"), "",
      "");
  REQUIRE(low.ok());
  const auto& notes = low.value().notes;
  CHECK(std::any_of(notes.begin(), notes.end(), [](const std::string& note) {
    return note.find("doubtful") != std::string::npos && note.find("0.83 m") != std::string::npos;
  }));
  refused(polygon("[[[0,0],[12,0],[0,8],[12,8]]]"), "/geometry/coordinates/0");
  refused(polygon("[" + house + ",[[2,2],[6,2],[2,6],[6,6]]]"), "/geometry/coordinates/1");
}

TEST_CASE("multi-polygons and collections become parts of their own") {
  CHECK(imported(R"({"type": "MultiPolygon", "coordinates":
    [[[[0,0],[9,0],[9,9]]], [[[20,0],[29,0],[29,9]]]]})")
            .parts.size() == 2);
  CHECK(imported(R"({"type": "GeometryCollection", "geometries":
    [{"type": "Polygon", "coordinates": [[[0,0],[9,0],[9,9]]]}]})")
            .parts.size() == 1);
  // The outline of a building and the parts that it is of: the outline goes, where they cover it.
  const auto parts_of = [](const std::string& second) {
    return imported(R"({"type": "FeatureCollection", "features": [)" +
                    polygon("[[[0,0],[16,0],[16,8],[0,8]]]", R"({"building": "yes"})") + "," +
                    polygon("[[[0,0],[10,0],[10,8],[0,8]]]", R"({"building:part": "yes"})") + "," +
                    second + "]}")
        .parts.size();
  };
  const std::string rest = "[[[10,0],[16,0],[16,8],[10,8]]]";
  CHECK(parts_of(polygon(rest, R"({"building:part": "garage"})")) == 2);
  CHECK(parts_of(polygon(rest, R"({"building:part": "no"})")) == 3);
}

TEST_CASE("files that are no footprints are refused with the place") {
  refused("", "");
  refused("[]", "");
  refused("{", "");
  refused("{}", "/type");
  refused(std::string(100000, '['), "");
  refused("{\"type\": \"Feature\xFF\"}", "");
  refused(R"({"type": "FeatureCollection"})", "/features");
  refused(R"({"type": "FeatureCollection", "features": []})", "");
  refused(R"({"type": "Point", "coordinates": [1, 2]})", "");
  refused(R"({"type": "FeatureCollection", "features": [3]})", "/features/0/type");
  refused(polygon("[]"), "/geometry/coordinates");
  refused(polygon("[[[0,0],[1]]]"), "/geometry/coordinates/0/1");
  refused(polygon("[[[0,0],[1,1e300],[2,2]]]"), "/geometry/coordinates/0/1");
  refused(polygon("[[[0,0],[9,0],[9,9]]]", R"({"pitch": 90})"), "/properties/pitch");
}

TEST_CASE("properties that can't be used are told where they stand in the file") {
  const std::string square = "[[[0,0],[9,0],[9,9],[0,9]]]";
  for (const char* pitch : {"\"steep\"", "90", "0", "-30", "\"8/0\"", "[30]", "true", "1e300"}) {
    refused(polygon(square, std::string("{\"pitch\": ") + pitch + "}"), "/properties/pitch");
  }
  refused(polygon(square, R"({"height": "tall"})"), "/properties/height");
  refused(polygon(square, R"({"height": -3})"), "/properties/height");
  refused(polygon(square, R"({"overhang": "wide"})"), "/properties/overhang");
  refused(polygon(square, R"({"tags": {"roof:shape": "flat", "height": "~7"}})"),
          "/properties/tags/height");
  refused(R"({"type": "FeatureCollection", "features": [)" + polygon(square) + "," +
              polygon(square, R"({"eave/height": 2, "eave_height": "low"})") + "]}",
          "/features/1/properties/eave_height");
  // A roof of 30 m in a house of 8 m, or one of 1 km over 9 m.
  refused(polygon(square, R"({"roof:height": 30, "height": 8})"), "/geometry/coordinates");
  refused(polygon(square, R"({"roof:height": 1000})"), "/geometry/coordinates");
}

namespace {

const std::string rectangle = "[[[0,0],[12,0],[12,8],[0,8]]]";

/// A house that was raised, in sums.
struct Built {
  model::Part part;
  double area_m2 = 0.0;
  double top_m = 0.0;
  std::size_t planes = 0;
  std::map<std::string, double> lengths_m;
  std::string notes;
};

Built built(const std::string& properties, const std::string& rings = rectangle) {
  const std::string text = polygon(rings, "{" + properties + "}");
  const model::RoofModel roof = imported(text);
  const auto surface = surface::raise(roof);
  INFO(properties << tests::words(surface));
  REQUIRE(surface.ok());
  CHECK(surface::verify(surface.value()).empty());
  Built house;
  house.part = roof.parts.at(0);
  house.planes = surface.value().planes.size();
  for (const surface::Plane& plane : surface.value().planes) {
    house.area_m2 += plane.area_m2;
  }
  for (const surface::Line& line : surface.value().lines) {
    house.lengths_m[surface::word(line.kind)] += line.length_m;
  }
  for (const glm::dvec3& node : surface.value().nodes) {
    house.top_m = std::max(house.top_m, node.z);
  }
  const auto given = importer().read(text, "", "");
  for (const std::string& note : given.value().notes) {
    house.notes += note + "\n";
  }
  return house;
}

}  // namespace

// The tags and what they mean: OpenStreetMap wiki, "Simple 3D Buildings" (height up to the top of
// the roof, roof:height its roof alone, ridges along the longer side unless roof:orientation is
// across, roof:direction down the slope). Areas and lengths by hand, over walls of 12 m by 8 m.
TEST_CASE("roof shapes of open maps") {
  const std::string sizes = R"("height": 6, "roof:height": 3, "roof:shape": )";
  const Built gabled = built(sizes + "\"gabled\"");
  CHECK(gabled.part.plate_m == Approx(3.0));
  CHECK(gabled.top_m == Approx(6.0));
  CHECK(gabled.area_m2 == Approx(2 * 12 * 5.0));
  CHECK(gabled.lengths_m.at("ridge") == Approx(12.0));
  CHECK(gabled.lengths_m.at("rake") == Approx(4 * 5.0));
  const Built across = built(sizes + R"("gabled", "roof:orientation": "across")");
  CHECK(across.lengths_m.at("ridge") == Approx(8.0));
  CHECK(across.area_m2 == Approx(2 * 8 * std::hypot(6.0, 3.0)));
  const Built hipped = built(sizes + "\"hipped\"");
  CHECK(hipped.area_m2 == Approx(96 * 1.25));
  CHECK(hipped.lengths_m.at("ridge") == Approx(4.0));
  CHECK(hipped.top_m == Approx(6.0));
  const Built half = built(sizes + "\"half-hipped\"");
  CHECK(half.lengths_m.at("ridge") == Approx(8.0));  // hips from half the height, 2 m in
  CHECK(half.planes == 4);
  const Built flat = built(R"("height": 5, "roof:shape": "flat")");
  CHECK(flat.part.plate_m == Approx(5.0));
  CHECK(flat.area_m2 == Approx(96.0).epsilon(1e-5));
  CHECK(flat.planes == 1);
  const Built skillion = built(sizes + R"("skillion", "roof:direction": "S")");
  CHECK(skillion.area_m2 == Approx(12 * std::hypot(8.0, 3.0)));
  CHECK(skillion.part.edges[0].kind == model::EdgeKind::eave);
  CHECK(skillion.part.edges[2].kind == model::EdgeKind::shed_top);
  CHECK(built(sizes + R"("skillion", "roof:direction": 90)").area_m2 ==
        Approx(8 * std::hypot(12.0, 3.0)));
  const Built pyramid = built(sizes + "\"pyramidal\"");
  CHECK(pyramid.area_m2 == Approx(12 * 5.0 + 8 * std::hypot(6.0, 3.0)));
  CHECK(pyramid.top_m == Approx(6.0));
  CHECK(pyramid.lengths_m.count("ridge") == 0);
  // Broken: two thirds of 4 m over a third of 4 m, the rest over the rest.
  const double low_m = std::hypot(4.0 / 3, 8.0 / 3);
  const double high_m = std::hypot(8.0 / 3, 4.0 / 3);
  const Built gambrel = built(R"("height": 8, "roof:height": 4, "roof:shape": "gambrel")");
  CHECK(gambrel.area_m2 == Approx(2 * 12 * (low_m + high_m)));
  CHECK(gambrel.top_m == Approx(8.0));
  CHECK(gambrel.lengths_m.at("pitch_break") == Approx(24.0));
  const Built mansard = built(R"("height": 8, "roof:height": 4, "roof:shape": "mansard")");
  const double upper_m2 = (12 - 8.0 / 3) * (8 - 8.0 / 3);
  CHECK(mansard.area_m2 == Approx((96 - upper_m2) * std::sqrt(5.0) + upper_m2 * std::sqrt(1.25)));
}

TEST_CASE("gables stand at the ends of wings, not at steps in a wall") {
  const std::string given = R"("roof:shape": "gabled", "roof:angle": 45, "eave_height": 3)";
  const auto gables = [](const Built& house) {
    return std::count_if(house.part.edges.begin(), house.part.edges.end(),
                         [](const model::Edge& e) { return e.kind == model::EdgeKind::gable; });
  };
  const Built ell = built(given, "[[[0,0],[12,0],[12,6],[6,6],[6,10],[0,10]]]");
  CHECK(gables(ell) == 2);
  CHECK(ell.area_m2 == Approx((72 + 24) * std::sqrt(2.0)));
  CHECK(ell.lengths_m.at("valley") == Approx(3 * std::sqrt(3.0)));
  const Built tee = built(given, "[[[0,6],[4,6],[4,0],[8,0],[8,6],[12,6],[12,11],[0,11]]]");
  CHECK(gables(tee) == 3);
  // A step of 0.5 m in the long wall, and a corner within the end wall: still the two ends.
  const Built step = built(given, "[[[0,0],[12,0],[12,4],[12,8],[6,8],[6,7.5],[0,7.5]]]");
  CHECK(gables(step) == 3);
  CHECK(step.part.edges[1].kind == model::EdgeKind::gable);
  CHECK(step.part.edges[2].kind == model::EdgeKind::gable);
  CHECK(step.part.edges[6].kind == model::EdgeKind::gable);
  // The back of a U or an E is no end, and the height counts over the width of the wings.
  const std::string high =
      R"("building": "yes", "roof:shape": "gabled", "roof:height": 3, "height": 10)";
  const Built u = built(high, "[[[0,0],[24,0],[24,18],[17,18],[17,7],[7,7],[7,18],[0,18]]]");
  CHECK(gables(u) == 2);
  CHECK(u.top_m == Approx(10.0));
  CHECK(u.area_m2 == Approx((24 * 18 - 10 * 11) * std::hypot(1.0, 3 / 3.5)));
  const Built e = built(high,
                        "[[[0,0],[30,0],[30,16],[24,16],[24,6],[18,6],[18,16],[12,16],[12,6],"
                        "[6,6],[6,16],[0,16]]]");
  CHECK(gables(e) == 3);
  CHECK(e.top_m == Approx(10.0));
  // Round a courtyard the wings are 6 m wide.
  CHECK(built(R"("building": "yes", "roof:shape": "hipped", "roof:height": 3, "height": 10)",
              "[[[0,0],[24,0],[24,18],[0,18]],[[6,6],[6,12],[18,12],[18,6]]]")
            .top_m == Approx(10.0));
  // Turned by 30 degrees it is the same house.
  const Built turned = built(given, "[[[4,0],[14.392305,6],[10.392305,12.928203],[0,6.928203]]]");
  CHECK(turned.lengths_m.at("ridge") == Approx(12.0).epsilon(1e-3));
}

TEST_CASE("what maps say in other ways, and what is not understood, is told") {
  // As exports of maps write them: tags of their own, texts with units, "_" for ":".
  const Built tags = built(R"("tags": {"building": "yes", "height": "6 m", "roof:shape": "Gabled",
               "roof:height": "3"})");
  CHECK(tags.part.plate_m == Approx(3.0));
  CHECK(built(R"("roof_shape": "half_hipped", "roof_height": "10'", "eaves_height": "9'")")
            .part.plate_m == Approx(9 * 0.3048));
  const Built levels = built(R"("building:levels": 2, "roof:levels": "1", "roof:shape": "gabled")");
  CHECK(levels.part.plate_m == Approx(6.0));
  CHECK(levels.top_m == Approx(8.5));
  CHECK(levels.notes.find("2.5 m each") != std::string::npos);
  // Nothing but the height: half of it at most is roof.
  const Built low = built(R"("building": "yes", "height": 3)");
  CHECK(low.part.plate_m == Approx(1.5));
  CHECK(low.top_m == Approx(3.0));
  const Built dome = built(R"("roof:shape": "dome", "roof:material": "tin", "roof:angle": "no")");
  CHECK(dome.planes == 4);
  for (const char* words :
       {"roof shape \"dome\" is none", "roof:material", "roof:angle \"no\"", "hipped"}) {
    INFO(words << " in " << dome.notes);
    CHECK(dome.notes.find(words) != std::string::npos);
  }
  const Built bent = built(R"("roof:shape": "skillion", "pitch": 20)",
                           "[[[0,0],[12,0],[12,6],[6,6],[6,10],[0,10]]]");
  CHECK(bent.notes.find("allow no such roof") != std::string::npos);
  // Without tags of maps the height is that of the plate, as plans give it.
  CHECK(built(R"("height": 2.7, "pitch": "8/12")").part.plate_m == Approx(2.7));
}

TEST_CASE("damaged files give JSON that reads or faults, or faults of the importer") {
  std::mt19937_64 random(tests::seed());
  const std::string whole = sample("two-houses.geojson");
  const auto below = [&](std::size_t n) {
    return std::uniform_int_distribution<std::size_t>(0, n - 1)(random);
  };
  int read_well = 0;
  for (int i = 0; i < 3000; ++i) {
    std::string text = whole;
    const std::size_t times = 1 + below(5);
    for (std::size_t n = 0; n < times && !text.empty(); ++n) {
      const std::size_t at = below(text.size());
      switch (below(3)) {
        case 0:
          text[at] = static_cast<char>(below(256));
          break;
        case 1:
          text.erase(at, 1 + below(10));
          break;
        default:
          text.insert(at, 1, "[]{}\",:0159-.e"[below(14)]);
      }
    }
    const auto given = importer().read(text, "", "");
    if (given.ok()) {
      const auto read = model::read(given.value().json);
      if (read.ok()) {
        ++read_well;
      } else {
        REQUIRE(read.faults().front().code != "json.syntax");
      }
    } else {
      REQUIRE_FALSE(given.faults().front().what.empty());
    }
  }
  CHECK(read_well > 10);
}

TEST_CASE("the command imports, lists, and refuses") {
  std::string own = (fs::temp_directory_path() / "import-command-XXXXXX").string();
  REQUIRE(mkdtemp(own.data()) != nullptr);
  const fs::path folder = own;
  const auto run = [&](const std::string& words) {
    const std::string line = std::string(RIDGEWARD_EXECUTABLE) + " " + words + " >" +
                             (folder / "out").string() + " 2>" + (folder / "err").string();
    const int status = std::system(line.c_str());
    return WEXITSTATUS(status);
  };
  const auto text = [&](const char* name) {
    return model::file_bytes((folder / name).string()).value();
  };
  const std::string house = (samples / "two-houses.geojson").string();
  const std::string target = (folder / "made.roof.json").string();
  CHECK(run("importers") == 0);
  CHECK(text("out").find("geojson") != std::string::npos);
  CHECK(run("import " + house + " -o " + target) == 0);
  CHECK(text("err").find("longitude and latitude") != std::string::npos);
  REQUIRE(model::read_file(target).ok());
  CHECK(model::read_file(target).value().model.parts.size() == 2);
  CHECK(run("import " + house + " -o " + target + " --with geojson --option feature=0") == 0);
  CHECK(model::read_file(target).value().model.parts.size() == 1);
  CHECK(run("import " + house + " -o -") == 0);
  CHECK(model::read(text("out")).ok());
  // What can't be used leaves exit 2 and the target as it was.
  const std::string before = text("made.roof.json");
  CHECK(run("import " + house + " -o " + target + " --with nosuch") == 2);
  CHECK(text("err").find("nosuch") != std::string::npos);
  CHECK(run("import " + (folder / "none").string() + " -o " + target) == 2);
  CHECK(run("import " + folder.string() + " -o " + target) == 2);
  CHECK(run("import " + target + " -o " + (folder / "other").string()) == 2);
  CHECK(run("import " + target + " -o " + target) == 2);
  CHECK(run("import " + house + " -o " + (folder / "no" / "folder").string()) == 2);
  CHECK(run("import " + house + " -o " + folder.string()) == 2);
  CHECK(text("made.roof.json") == before);
  int files = 0;
  for (const auto& entry : fs::directory_iterator(folder)) {
    INFO(entry.path());
    ++files;
  }
  CHECK(files == 3);  // out, err, made.roof.json: nothing half written
  fs::remove_all(folder);
}
