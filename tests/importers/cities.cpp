// City models to models: one of all, or one of each building.
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "importers/imported.hpp"
#include "support/program.hpp"
#include "support/words.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

const std::string city = sample("cityjson/samples/house-and-shed.city.json");
const std::string gml = sample("citygml/samples/house-and-shed.gml");
/// 4 m wide, 3 m deep, rising 0.75 m.
const double shed_area_m2 = 4 * std::hypot(3.0, 0.75);

/// The planes of each building by itself.
std::vector<std::string> each(const std::string& importer, const std::string& bytes) {
  std::vector<std::string> all;
  const auto notes =
      plugin::read_each_apart(library(importer), {bytes, "", ""}, {}, [&](std::string json) {
        all.push_back(std::move(json));
        return true;
      });
  INFO(tests::words(notes));
  REQUIRE(notes.ok());
  CHECK_FALSE(notes.value().empty());
  return all;
}

std::string replaced(std::string text, const std::string& old, const std::string& by) {
  const std::size_t at = text.find(old);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old.size(), by);
}

/// `count` gables on lines of their own, 40 m apart.
std::string sequence(int count) {
  const nlohmann::json file = nlohmann::json::parse(city);
  nlohmann::json first = file;
  first["CityObjects"] = nlohmann::json::object();
  first["vertices"] = nlohmann::json::array();
  std::string lines = first.dump() + "\n";
  for (int i = 0; i < count; ++i) {
    nlohmann::json feature{{"type", "CityJSONFeature"}, {"vertices", file["vertices"]}};
    feature["CityObjects"][fmt::format("house-{}", i)] = file["CityObjects"]["house"];
    for (nlohmann::json& corner : feature["vertices"]) {
      corner[0] = corner[0].get<int>() + 40000 * i;
    }
    lines += feature.dump() + "\n";
  }
  return lines;
}

}  // namespace

TEST_CASE("a city model gives each building its parts") {
  const rebuild::Rebuilt all = rebuilt("cityjson", city);
  REQUIRE(all.fits.size() == 2);
  CHECK(all.fits[0].area_rebuilt_m2 == Approx(gable_area_m2));
  // 4 m wide, 3 m deep, rising 0.75 m.
  CHECK(all.fits[1].area_rebuilt_m2 == Approx(4 * std::hypot(3.0, 0.75)));
  CHECK(all.fits[1].plain == 0);
  require_gable(rebuilt("cityjson", city, "building=house"));
  CHECK(rebuilt("cityjson", city, "building=yard").fits[0].building == "shed");
  // The house stands on the ground: its plate is 3 m over it, though the file says 13.
  CHECK(rebuilt("cityjson", city, "building=house").model.parts[0].plate_m == Approx(3.0));
}

TEST_CASE("a sequence of features reads like the whole file") {
  nlohmann::json file = nlohmann::json::parse(city);
  nlohmann::json first = file;
  first["CityObjects"] = nlohmann::json::object();
  first["vertices"] = nlohmann::json::array();
  std::string lines = first.dump() + "\n";
  for (const char* id : {"house", "shed"}) {
    const nlohmann::json feature{{"type", "CityJSONFeature"},
                                 {"id", id},
                                 {"CityObjects", {{id, file["CityObjects"][id]}}},
                                 {"vertices", file["vertices"]}};
    lines += feature.dump() + "\n";
  }
  const rebuild::Rebuilt all = rebuilt("cityjson", lines);
  REQUIRE(all.fits.size() == 2);
  CHECK(all.fits[0].area_rebuilt_m2 == Approx(gable_area_m2));
  CHECK(refused("cityjson", lines + "{\"type\": \"Feature\"}\n").where == "line 4");
}

TEST_CASE("an importer of a city tells how much of the file is read") {
  std::vector<double> told;
  const std::string lines = sequence(200);
  const plugin::Job job{lines, "", "", [&](double share) {
                          told.push_back(share);
                          return true;
                        }};
  REQUIRE(plugin::read_apart(library("cityjson"), job).ok());
  CHECK(std::is_sorted(told.begin(), told.end()));
  CHECK(told.size() > 8);
  CHECK(told.front() < 0.15);
  CHECK(told.back() > 0.9);
  std::size_t stopped_after = 0;
  const plugin::Job some{lines, "", "", [&](double) { return ++stopped_after < 3; }};
  CHECK(plugin::read_apart(library("cityjson"), some).faults().front().code == "importer.stopped");
  CHECK(stopped_after == 3);
}

TEST_CASE("city files that hold no roof are refused with the place") {
  refused("cityjson", "");
  refused("cityjson", "{");
  refused("cityjson", std::string(1000, '['));
  CHECK(refused("cityjson", "{}").where == "/type");
  CHECK(refused("cityjson", R"({"type": "CityJSON"})").where == "/CityObjects");
  CHECK(refused("cityjson", city, "building=none").where == "/CityObjects");
  CHECK(refused("cityjson", city, "tolerance=none").what.find("tolerance") != std::string::npos);
  nlohmann::json file = nlohmann::json::parse(city);
  file["vertices"].erase(9);
  file["vertices"].erase(9);
  file["vertices"].erase(9);
  file["vertices"].erase(9);
  file["vertices"].erase(9);
  CHECK(refused("cityjson", file.dump()).where == "/vertices");
}

TEST_CASE("CityGML gives the same houses as CityJSON") {
  const rebuild::Rebuilt all = rebuilt("citygml", gml);
  REQUIRE(all.fits.size() == 2);
  CHECK(all.fits[0].area_rebuilt_m2 == Approx(gable_area_m2));
  CHECK(all.fits[1].area_rebuilt_m2 == Approx(shed_area_m2));
  require_gable(rebuilt("citygml", gml, "building=house"));
  CHECK(rebuilt("citygml", gml, "building=yard").fits[0].building == "shed");
  CHECK(rebuilt("citygml", gml, "building=house").model.parts[0].plate_m == Approx(3.0));
  // Names without a prefix, as other writers put them, are the same names.
  std::string plain = gml;
  for (const char* prefix : {"core:", "bldg:"}) {
    for (std::size_t at = plain.find(prefix); at != std::string::npos;
         at = plain.find(prefix, at)) {
      plain.erase(at, plain.compare(at - 6, 6, "xmlns:") == 0 ? 0 : 5);
      at += 1;
    }
  }
  require_gable(rebuilt("citygml", plain, "building=house"));
  // Of two levels of detail the higher one counts.
  const std::string coarse = replaced(
      gml, "<bldg:RoofSurface><bldg:lod2MultiSurface>",
      "<bldg:RoofSurface><bldg:lod1MultiSurface><gml:MultiSurface><gml:surfaceMember>"
      "<gml:Polygon><gml:exterior><gml:LinearRing><gml:posList>100000 400000 13 100012 400000 13 "
      "100012 400008 13 100000 400008 13</gml:posList></gml:LinearRing></gml:exterior>"
      "</gml:Polygon></gml:surfaceMember></gml:MultiSurface></bldg:lod1MultiSurface>"
      "<bldg:lod2MultiSurface>");
  require_gable(rebuilt("citygml", coarse, "building=house"));
}

TEST_CASE("a roof that has no name of its own in the list, or by a link only, is taken") {
  const auto notes_of = [](const std::string& importer, const std::string& bytes) {
    const auto given = plugin::read_apart(library(importer), {bytes, "building=house", ""});
    REQUIRE(given.ok());
    std::string all;
    for (const std::string& note : given.value().notes) {
      all += note + "\n";
    }
    return all;
  };
  // CityJSON 2.0, semantics of geometric primitives: null where a surface has none. The ground has
  // none either, but faces down.
  const std::string bare =
      replaced(city, "[[0, 1, 1, 1, 1, 2, 2]]", "[[null, 1, 1, 1, 1, 2, null]]");
  require_gable(rebuilt("cityjson", bare, "building=house"));
  CHECK(
      support::has(notes_of("cityjson", bare),
                   "surfaces without a name beside named ones, taken as roof as they face up: 1"));
  CHECK_FALSE(support::has(notes_of("cityjson", city), "without a name"));
  // ISO 19136 (GML 3.2), 7.2.3: a property may name its value by xlink:href. The terrace beside the
  // house faces up too and is named by nobody.
  std::string linked = replaced(
      gml, "<bldg:RoofSurface><bldg:lod2MultiSurface><gml:MultiSurface>",
      "<bldg:RoofSurface><bldg:lod2MultiSurface><gml:MultiSurface>"
      "<gml:surfaceMember xlink:href=\"#north\"/><gml:surfaceMember xlink:href=\"#south\"/>"
      "</gml:MultiSurface></bldg:lod2MultiSurface></bldg:RoofSurface>"
      "<bldg:Shell><bldg:lod2MultiSurface><gml:MultiSurface>"
      "<gml:surfaceMember><gml:Polygon gml:id=\"terrace\"><gml:exterior><gml:LinearRing>"
      "<gml:posList>100000 400008 11 100012 400008 11 100012 400010 11 100000 400010 11 "
      "100000 400008 11</gml:posList></gml:LinearRing></gml:exterior></gml:Polygon>"
      "</gml:surfaceMember>");
  linked = replaced(linked, "</gml:MultiSurface></bldg:lod2MultiSurface></bldg:RoofSurface>\n",
                    "</gml:MultiSurface></bldg:lod2MultiSurface></bldg:Shell>\n");
  require_gable(rebuilt("citygml", linked, "building=house"));
  CHECK_FALSE(support::has(notes_of("citygml", linked), "without named surfaces"));
}

TEST_CASE("CityGML that can't be used is refused with the place") {
  CHECK(refused("citygml", "").where == "line 1");
  CHECK(refused("citygml", "<a/>").where == "/a");
  CHECK(refused("citygml", gml.substr(0, 2000)).where.starts_with("line "));
  CHECK(refused("citygml", replaced(gml, "100012 400004 16", "100012 4ooo04 16")).where == "house");
  CHECK(refused("citygml", replaced(gml, "100012 400004 16", "100012 16")).where == "house");
  CHECK(refused("citygml", replaced(gml, "srsDimension=\"3\"", "srsDimension=\"2\"")).where ==
        "house");
  CHECK(refused("citygml", replaced(gml, "<gml:Solid>", "<gml:Solid srsName=\"EPSG:4326\">"))
            .what.find("degrees") != std::string::npos);
  CHECK(refused("citygml", gml, "building=none").what.find("no building") != std::string::npos);
  const std::string laughs =
      replaced(gml, "<core:CityModel",
               "<!DOCTYPE a [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;\">]><core:CityModel");
  CHECK(refused("citygml", laughs).what.find("entities") != std::string::npos);
  std::string deep = "<CityModel>";
  for (int i = 0; i < 100000; ++i) {
    deep += "<a>";
  }
  CHECK(refused("citygml", deep).what.find("deep") != std::string::npos);
}

TEST_CASE("buildings come one by one, and each by itself is what it is among the others") {
  for (const auto& [importer, bytes] : {std::pair("cityjson", city), std::pair("citygml", gml)}) {
    const std::vector<std::string> all = each(importer, bytes);
    REQUIRE(all.size() == 2);
    const auto house = rebuild::read_planes(all[0]);
    REQUIRE(house.ok());
    CHECK(house.value().name == "house");
    require_gable(rebuild::rebuild(house.value()).value());
    CHECK(rebuild::read_planes(all[1]).value().buildings.at(0).id == "shed");
  }
  CHECK(each("cityjson", sequence(3)).size() == 3);
  // An importer that knows no single buildings gives its one model.
  CHECK(each("tape", sample("tape/samples/ell.csv")).size() == 1);
}

TEST_CASE("the unit of a city is told by its reference system, by the file or by an option") {
  const auto area_m2 = [](const std::string& importer, const std::string& bytes,
                          const std::string& options = "building=house") {
    return rebuilt(importer, bytes, options).fits.at(0).area_rebuilt_m2;
  };
  const auto noted = [](const std::string& importer, const std::string& bytes,
                        const std::string& words) {
    const auto given = plugin::read_apart(library(importer), {bytes, "", ""});
    INFO(tests::words(given));
    REQUIRE(given.ok());
    return std::any_of(
        given.value().notes.begin(), given.value().notes.end(),
        [&](const std::string& note) { return note.find(words) != std::string::npos; });
  };
  // EPSG dataset: 2263 in US survey feet (1200/3937 m, NIST SP 811), 25832 in metres, 4979 and 6697
  // in degrees.
  const double us_foot_m = 1200.0 / 3937.0;
  nlohmann::json file = nlohmann::json::parse(city);
  const auto json_in = [&](const std::string& system) {
    file["metadata"]["referenceSystem"] = system;
    return file.dump();
  };
  const std::string feet = json_in("https://www.opengis.net/def/crs/EPSG/0/2263");
  CHECK(area_m2("cityjson", feet) == Approx(gable_area_m2 * us_foot_m * us_foot_m));
  CHECK(area_m2("cityjson", feet, "building=house\nunit=m") == Approx(gable_area_m2));
  CHECK(noted("cityjson", feet, "EPSG:2263"));
  CHECK(noted("cityjson", json_in("urn:ogc:def:crs:EPSG::25832"), "taken as metres"));
  CHECK(area_m2("cityjson", json_in("EPSG:25832"), "building=house\nunit=ft") ==
        Approx(gable_area_m2 * 0.3048 * 0.3048));
  for (const char* system : {"https://www.opengis.net/def/crs/EPSG/0/4979",
                             "urn:ogc:def:crs:EPSG::6697", "urn:ogc:def:crs:OGC:1.3:CRS84"}) {
    CHECK(refused("cityjson", json_in(system)).what.find("degrees") != std::string::npos);
  }
  refused("cityjson", city, "unit=furlong");
  const auto gml_in = [](const std::string& attributes) {
    return replaced(gml, "gml:id=\"house\"", "gml:id=\"house\" " + attributes);
  };
  CHECK(area_m2("citygml", gml_in("srsName=\"urn:ogc:def:crs,crs:EPSG::2263,crs:EPSG::6360\"")) ==
        Approx(gable_area_m2 * us_foot_m * us_foot_m));
  CHECK(area_m2("citygml", gml_in("srsName=\"somewhere\" uomLabels=\"ft ft ft\"")) ==
        Approx(gable_area_m2 * 0.3048 * 0.3048));
  CHECK(noted("citygml", gml_in("srsName=\"somewhere\""), "somewhere"));
  refused("citygml", gml_in("srsName=\"EPSG:4269\""));
  refused("citygml", gml_in("uomLabels=\"deg deg m\""));
  file["metadata"].erase("referenceSystem");
  file["version"] = "3.7";
  CHECK(noted("cityjson", file.dump(), "CityJSON 3.7"));
}

TEST_CASE(
    "names keep their letters, and a building that is not there is told with those that are") {
  const std::string name =
      "Gr\xC3\xB6\xC3\x9F"
      "e";
  const std::string other =
      "Gr\xC3\xBC\xC3\x9F"
      "e";
  const std::string json = replaced(replaced(replaced(city, "\"house\":", "\"" + name + "\":"),
                                             "\"shed\":", "\"" + other + "\":"),
                                    "\"shed\"", "\"" + other + "\"");
  const std::string xml =
      replaced(replaced(gml, "\"house\"", "\"" + name + "\""), "\"shed\"", "\"" + other + "\"");
  for (const auto& [importer, bytes] : {std::pair("cityjson", json), std::pair("citygml", xml)}) {
    const rebuild::Rebuilt all = rebuilt(importer, bytes);
    REQUIRE(all.fits.size() == 2);
    CHECK(all.fits[0].building == name);
    CHECK(all.fits[1].building == other);
    CHECK(all.model.parts.at(0).id == name + "-1");
    CHECK(all.model.parts.at(1).id == other + "-1");
    CHECK(model::read(model::write(all.model)).ok());
    require_gable(rebuilt(importer, bytes, "building=" + name));
    const Fault fault = refused(importer, bytes, "building=Gro\xC3\x9F");
    CHECK(fault.what.find("Gro\xC3\x9F") != std::string::npos);
    CHECK(fault.cure.find(name) != std::string::npos);
    CHECK(fault.cure.find(other) != std::string::npos);
  }
  // Names are cut between letters: 60 bytes of an id go into those of parts.
  std::string longest = "a";
  for (int i = 0; i < 45; ++i) {
    longest += "\xC3\xA4";
  }
  const rebuild::Rebuilt cut =
      rebuilt("citygml", replaced(gml, "\"house\"", "\"" + longest + "\""));
  CHECK(cut.model.parts.at(0).id == longest.substr(0, 59) + "-1");
}

TEST_CASE("a city becomes models, one a line, that batch assesses") {
  const support::Folder folder;
  folder.write("town.city.jsonl", sequence(12));
  const std::string made = folder.file("town.jsonl");
  const support::Ran ran =
      support::run_program({"import", folder.file("town.city.jsonl"), "--each", "-o", made});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.err.find("12 models written: 12 whole") != std::string::npos);
  std::istringstream lines(model::file_bytes(made).value());
  int count = 0;
  for (std::string line; std::getline(lines, line); ++count) {
    const auto read = model::read(line);
    REQUIRE(read.ok());
    CHECK(read.value().model.name == fmt::format("house-{}", count));
    double area_m2 = 0.0;
    const auto roof = surface::raise(read.value().model);
    REQUIRE(roof.ok());
    for (const surface::Plane& plane : roof.value().planes) {
      area_m2 += plane.area_m2;
    }
    CHECK(area_m2 == Approx(gable_area_m2));
  }
  CHECK(count == 12);
  // A damaged line late in the file: it is named, and nothing half-made is left.
  folder.write("torn.city.jsonl", sequence(5) + "{\"type\": \"CityJSONFeature\", ");
  const support::Ran torn = support::run_program(
      {"import", folder.file("torn.city.jsonl"), "--each", "-o", folder.file("torn.jsonl")});
  CHECK(torn.status == 2);
  CHECK(torn.err.find("line 7") != std::string::npos);
  CHECK_FALSE(model::file_bytes(folder.file("torn.jsonl")).ok());
}
