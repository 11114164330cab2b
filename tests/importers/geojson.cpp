// GeoJSON footprints to models, through the loaded importer.
#include "model/file_bytes.hpp"
#include "model/read.hpp"
#include "plugin/load.hpp"

#include "support/seed.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
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

TEST_CASE("multi-polygons and collections become parts of their own") {
  CHECK(imported(R"({"type": "MultiPolygon", "coordinates":
    [[[[0,0],[9,0],[9,9]]], [[[20,0],[29,0],[29,9]]]]})")
            .parts.size() == 2);
  CHECK(imported(R"({"type": "GeometryCollection", "geometries":
    [{"type": "Polygon", "coordinates": [[[0,0],[9,0],[9,9]]]}]})")
            .parts.size() == 1);
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
  refused(polygon("[[[0,0],[9,0],[9,9]]]", R"({"pitch": 90})"), "/geometry/coordinates");
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
  const fs::path folder = fs::temp_directory_path() / "ridgeward-import-command";
  fs::remove_all(folder);
  fs::create_directories(folder);
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
