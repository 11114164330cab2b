// From roof planes back to parts.
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "importers/bare_planes.hpp"
#include "rebuild/stage.hpp"
#include "support/seed.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <filesystem>
#include <map>
#include <random>
#include <set>
#include <string>

using namespace ridgeward;
using namespace ridgeward::tests;
namespace fs = std::filesystem;
using rebuild::RoofPolygon;

namespace {

/// x from the south-west corner, 8 m wide and 12 m long, 45 degrees, eaves at 3 m.
std::vector<RoofPolygon> gabled_planes() {
  return {{{{0, 0, 3}, {12, 0, 3}, {12, 4, 7}, {0, 4, 7}}},
          {{{12, 8, 3}, {0, 8, 3}, {0, 4, 7}, {12, 4, 7}}}};
}

model::RoofModel house_of(const std::string& parts) {
  const auto read = model::read(R"({"ridgeward": 1, "units": "m", "parts": [)" + parts + "]}");
  INFO(tests::words(read));
  REQUIRE(read.ok());
  return read.value().model;
}

std::string kinds_of(const model::Part& part) {
  std::map<model::EdgeKind, int> count;
  for (const model::Edge& edge : part.edges) {
    ++count[edge.kind];
  }
  std::string text;
  for (const auto& [kind, word] :
       {std::pair(model::EdgeKind::eave, "eave"), std::pair(model::EdgeKind::gable, "gable"),
        std::pair(model::EdgeKind::gablet, "gablet"),
        std::pair(model::EdgeKind::half_hip, "half_hip"),
        std::pair(model::EdgeKind::shed_top, "shed_top")}) {
    text +=
        count[kind] > 0 ? fmt::format("{}{} {}", text.empty() ? "" : ", ", count[kind], word) : "";
  }
  return text;
}

}  // namespace

TEST_CASE("two planes become a gable house with pitch, plate and outline") {
  const rebuild::Rebuilt house = rebuilt(planes_of(gabled_planes()));
  REQUIRE(house.model.parts.size() == 1);
  const model::Part& part = house.model.parts[0];
  CHECK(kinds_of(part) == "2 eave, 2 gable");
  CHECK(part.plate_m == Approx(3.0).margin(1e-6));
  CHECK(part.outline.size() == 4);
  for (const model::Edge& edge : part.edges) {
    CHECK((edge.kind == model::EdgeKind::gable || edge.pitch.degrees() == Approx(45.0)));
  }
  // 12 m of ridge; two planes of 12 by 4 times the root of 2.
  CHECK(lengths_of(raised(house.model))["ridge"] == Approx(12.0));
  CHECK(area_of(raised(house.model)) == Approx(2 * 12 * 4 * std::sqrt(2.0)));
  REQUIRE(house.fits.size() == 1);
  CHECK(house.fits[0].planes_given == 2);
  CHECK(house.fits[0].parts == 1);
  CHECK(house.fits[0].plain == 0);
  CHECK(house.fits[0].distance_m < 1e-6);
}

TEST_CASE("openings in the deck are filled, courtyards and the holes of dormers are not") {
  // A chimney of 1.2 by 0.9 m in the south plane, 45 degrees: its true area is root 2 of its plan.
  std::vector<RoofPolygon> planes = gabled_planes();
  planes[0].push_back({{5, 1.5, 4.5}, {5, 2.4, 5.4}, {6.2, 2.4, 5.4}, {6.2, 1.5, 4.5}});
  const rebuild::Rebuilt house = rebuilt(planes_of(planes));
  REQUIRE(house.model.parts.size() == 1);
  CHECK(house.model.parts[0].holes.empty());
  CHECK(area_of(raised(house.model)) == Approx(2 * 12 * 4 * std::sqrt(2.0)));
  CHECK(house.notes[0].find("filled: 1 opening, 1.53 m2") != std::string::npos);

  // A light well of 3 by 2 m in a single slope is open to the sky: 6 m2 are no chimney.
  const double rise = 0.25;
  const auto at = [&](double x, double y) { return glm::dvec3(x, y, 3.0 + rise * y); };
  const RoofPolygon shed{{at(0, 0), at(12, 0), at(12, 8), at(0, 8)},
                         {at(4, 3), at(4, 5), at(7, 5), at(7, 3)}};
  const rebuild::Rebuilt well = rebuilt(planes_of({shed}));
  CHECK(well.notes[0].find("filled") == std::string::npos);
  CHECK(area_of(raised(well.model)) == Approx((12 * 8 - 6) * std::hypot(1.0, rise)).epsilon(1e-3));

  // The hole of a small dormer is full of the dormer's own planes.
  std::vector<RoofPolygon> dormer = gabled_planes();
  dormer[0].push_back({{5, 1, 4}, {5, 2, 5}, {6, 2.5, 5.5}, {7, 2, 5}, {7, 1, 4}});
  dormer.push_back({{{5, 1, 5}, {6, 1, 5.5}, {6, 2.5, 5.5}, {5, 2, 5}}});
  dormer.push_back({{{7, 1, 5}, {7, 2, 5}, {6, 2.5, 5.5}, {6, 1, 5.5}}});
  CHECK(rebuilt(planes_of(dormer)).notes[0].find("filled") == std::string::npos);
}

TEST_CASE("each kind of edge is told by the plane beside it") {
  struct Case {
    const char* name;
    const char* part;
    const char* kinds;
  };
  const std::string outline = R"({"id": "a", "outline": [[0,0],[12,0],[12,8],[0,8]], "plate": 3, )";
  const std::vector<Case> cases{
      {"hip", R"("edges": [{"pitch":"8/12"},{"pitch":"8/12"},{"pitch":"8/12"},{"pitch":"8/12"}]})",
       "4 eave"},
      {"half hip",
       R"("edges": [{"pitch":"12/12"},{"kind":"half_hip","pitch":"10/12","from_height":2},
        {"pitch":"12/12"},{"kind":"gable"}]})",
       "2 eave, 1 gable, 1 half_hip"},
      {"gablet", R"("edges": [{"pitch":"9/12"},{"kind":"gablet","pitch":"9/12","wall_height":1},
        {"pitch":"9/12"},{"kind":"gable"}]})",
       "2 eave, 1 gable, 1 gablet"},
      {"shed",
       R"("edges": [{"pitch":"3/12"},{"kind":"gable"},{"kind":"shed_top"},{"kind":"gable"}]})",
       "1 eave, 2 gable, 1 shed_top"},
      {"saltbox", R"("fascia": "as_given", "edges": [{"pitch":"9/12", "overhang": 2},
        {"kind":"gable"},{"pitch":"9/12"},{"kind":"gable"}]})",
       "2 eave, 2 gable"},
      {"gambrel",
       R"("edges": [{"pitch":"20/12","breaks":[{"height":2,"pitch":"6/12"}]},{"kind":"gable"},
        {"pitch":"20/12","breaks":[{"height":2,"pitch":"6/12"}]},{"kind":"gable"}]})",
       "2 eave, 2 gable"},
      {"flat top",
       R"("flat_top": 2, "edges": [{"pitch":"18/12"},{"pitch":"18/12"},{"pitch":"18/12"},
        {"pitch":"18/12"}]})",
       "4 eave"},
  };
  for (const Case& one : cases) {
    INFO(one.name);
    const model::RoofModel drawn = house_of(outline + one.part);
    const surface::Surface before = raised(drawn);
    const rebuild::Rebuilt house = rebuilt(planes_of(polygons_of(before)));
    REQUIRE(house.model.parts.size() == 1);
    CHECK(kinds_of(house.model.parts[0]) == one.kinds);
    CHECK(house.fits[0].plain == 0);
    CHECK(house.fits[0].distance_m < 1e-4);
    const surface::Surface after = raised(house.model);
    CHECK(after.planes.size() == before.planes.size());
    CHECK(area_of(after) == Approx(area_of(before)).epsilon(1e-6));
    for (const auto& [kind, length] : lengths_of(before)) {
      INFO(kind);
      CHECK(lengths_of(after)[kind] == Approx(length).margin(1e-3));
    }
  }
}

TEST_CASE("an L with valleys is one part, a lower wing another") {
  const std::string ell =
      R"({"id": "a", "plate": 3, "outline": [[0,0],[14,0],[14,14],[7,14],[7,8],[0,8]],
    "edges": [{"pitch":"8/12"},{"pitch":"8/12"},{"kind":"gable"},{"pitch":"8/12"},{"pitch":"8/12"},{"kind":"gable"}]})";
  const rebuild::Rebuilt one = rebuilt(planes_of(polygons_of(raised(house_of(ell)))));
  REQUIRE(one.model.parts.size() == 1);
  CHECK(kinds_of(one.model.parts[0]) == "4 eave, 2 gable");
  CHECK(one.fits[0].distance_m < 1e-4);
  // A wing with lower eaves whose ridge dies in the main roof.
  const std::string two = R"({"id": "main", "plate": 3, "outline": [[0,0],[14,0],[14,9],[0,9]],
    "edges": [{"pitch":"9/12"},{"kind":"gable"},{"pitch":"9/12"},{"kind":"gable"}]},
    {"id": "wing", "plate": 2.5, "outline": [[5,-4],[10,-4],[10,4],[5,4]],
    "edges": [{"kind":"gable"},{"pitch":"9/12"},{"kind":"gable"},{"pitch":"9/12"}]})";
  const surface::Surface before = raised(house_of(two));
  const rebuild::Rebuilt house = rebuilt(planes_of(polygons_of(before)));
  CHECK(house.model.parts.size() == 2);
  CHECK(house.fits[0].plain == 0);
  const surface::Surface after = raised(house.model);
  CHECK(area_of(after) == Approx(area_of(before)).epsilon(1e-5));
  CHECK(lengths_of(after)["valley"] == Approx(lengths_of(before)["valley"]).margin(0.01));
  CHECK(lengths_of(after)["ridge"] == Approx(lengths_of(before)["ridge"]).margin(0.01));
}

TEST_CASE("every demo house comes back from its bare planes") {
  int houses = 0;
  for (const auto& entry :
       fs::directory_iterator(fs::path(RIDGEWARD_SOURCE_DIR) / "models/houses")) {
    INFO(entry.path().filename());
    const auto read = model::read_file(entry.path().string());
    REQUIRE(read.ok());
    model::RoofModel drawn = read.value().model;
    drawn.obstacles.clear();  // crickets are no drawn planes
    const surface::Surface before = raised(drawn);
    const rebuild::Rebuilt house = rebuilt(planes_of(polygons_of(before)));
    const rebuild::Fit& fit = house.fits.at(0);
    // docs/importers.md states these.
    CHECK(fit.plain == 0);
    CHECK(fit.distance_m < 1e-3);
    CHECK(fit.area_rebuilt_m2 == Approx(fit.area_given_m2).epsilon(1e-5));
    CHECK(fit.parts <= drawn.parts.size());
    const surface::Surface after = raised(house.model);
    CHECK(area_of(after) == Approx(area_of(before)).epsilon(1e-5));
    for (const auto& [kind, length] : lengths_of(before)) {
      INFO(kind);
      CHECK(lengths_of(after)[kind] == Approx(length).margin(0.002));
    }
    ++houses;
  }
  CHECK(houses >= 12);
}

TEST_CASE("walls that are given tell overhangs and plates, and no plane moves") {
  // As drawn: plates 3 m, overhangs by edge. What comes back is what was drawn, heels being none.
  struct Case {
    const char* name;
    const char* part;
    const char* note;
  };
  const std::string start = R"({"id": "a", "heel": 0, "fascia": "as_given", "plate": 3, )";
  const std::string outline = R"("outline": [[0,0],[12,0],[12,8],[0,8]], )";
  const std::string ends = R"({"kind":"gable","overhang":0.3})";
  const std::vector<Case> cases{
      {"gable",
       R"("edges": [{"pitch":"8/12","overhang":0.5},END,{"pitch":"8/12","overhang":0.5},END]})",
       "the overhangs of 4 edges and the plates of 1 part"},
      {"saltbox",
       R"("edges": [{"pitch":"9/12","overhang":1.5},END,{"pitch":"9/12","overhang":0.5},END]})",
       "the overhangs of 4 edges"},
      {"half hip", R"("edges": [{"pitch":"12/12","overhang":0.4},{"kind":"half_hip","pitch":"10/12",
        "from_height":2,"overhang":0.6},{"pitch":"12/12","overhang":0.4},END]})",
       "the overhangs of 4 edges"},
      {"gambrel",
       R"("edges": [{"pitch":"20/12","overhang":0.3,"breaks":[{"height":2,"pitch":"6/12"}]},
        END,{"pitch":"20/12","overhang":0.3,"breaks":[{"height":2,"pitch":"6/12"}]},END]})",
       "the overhangs of 4 edges"},
      {"flat top", R"("flat_top": 2, "edges": [{"pitch":"18/12","overhang":0.3},
        {"pitch":"18/12","overhang":0.3},{"pitch":"18/12","overhang":0.3},
        {"pitch":"18/12","overhang":0.3}]})",
       "the overhangs of 4 edges"},
      {"flush",
       R"("edges": [{"pitch":"8/12","overhang":0},END,{"pitch":"8/12","overhang":0},END]})",
       "the overhangs of 4 edges"}};
  const auto with_ends = [&](std::string part) {
    for (std::size_t at = part.find("END"); at != std::string::npos; at = part.find("END")) {
      part.replace(at, 3, ends);
    }
    return part;
  };
  for (const Case& one : cases) {
    INFO(one.name);
    const model::RoofModel drawn = house_of(start + outline + with_ends(one.part));
    const surface::Surface before = raised(drawn);
    rebuild::RoofPlanes planes = planes_of(polygons_of(before));
    planes.buildings[0].walls = before.wall_outlines[0];
    const rebuild::Rebuilt house = rebuilt(planes);
    INFO(house.notes[0]);
    CHECK(house.notes[0].find(one.note) != std::string::npos);
    CHECK(house.notes.back().find("overhangs") == std::string::npos);
    REQUIRE(house.model.parts.size() == 1);
    const model::Part& part = house.model.parts[0];
    CHECK(part.plate_m == Approx(3.0).margin(1e-6));
    CHECK(part.flat_top_m.value_or(0.0) == Approx(drawn.parts[0].flat_top_m.value_or(0.0)));
    // Edges may start at another corner: each has a fellow, and as often.
    const auto told = [](const model::Part& all) {
      std::multiset<std::string> edges;
      for (const model::Edge& edge : all.edges) {
        std::string text = fmt::format("{} {:.4f} {:.4f}", static_cast<int>(edge.kind),
                                       edge.overhang_m, edge.from_height_m);
        for (const model::Break& bend : edge.breaks) {
          text += fmt::format(" {:.4f} {:.4f}", bend.height_m, bend.pitch.in_12());
        }
        edges.insert(text);
      }
      return edges;
    };
    CHECK(told(part) == told(drawn.parts[0]));
    CHECK(area_of(raised(house.model)) == Approx(area_of(before)).epsilon(1e-6));
  }
  // A wall 3 m in is no wall of this eave; walls that disagree on the plate leave it to the longer.
  rebuild::RoofPlanes far = planes_of(gabled_planes());
  far.buildings[0].walls = {{{3, 3}, {9, 3}, {9, 5}, {3, 5}}};
  CHECK(rebuilt(far).notes[0].find("tell no overhangs") != std::string::npos);
  rebuild::RoofPlanes lean = planes_of(gabled_planes());
  lean.buildings[0].walls = {{{0.3, 0.5}, {11.7, 0.5}, {11.7, 7.0}, {0.3, 7.0}}};
  const rebuild::Rebuilt leaning = rebuilt(lean);
  INFO(leaning.notes[0]);
  CHECK(leaning.notes[0].find("at 1 eave the wall stands elsewhere") != std::string::npos);
  CHECK(area_of(raised(leaning.model)) == Approx(2 * 12 * 4 * std::sqrt(2.0)));
}

TEST_CASE("a cricket whose eaves the main roof hides becomes a part with two eaves") {
  for (const char* name : {"sorrel-lane", "bramble-end"}) {
    INFO(name);
    const auto read = model::read_file(
        (fs::path(RIDGEWARD_SOURCE_DIR) / "models/houses" / name).string() + ".roof.json");
    REQUIRE(read.ok());
    const surface::Surface before = raised(read.value().model);
    const rebuild::Rebuilt house = rebuilt(planes_of(polygons_of(before)));
    CHECK(house.fits[0].plain == 0);
    CHECK(house.fits[0].distance_m < 1e-3);
    CHECK(kinds_of(house.model.parts.back()) == "2 eave, 2 gable");
    CHECK(area_of(raised(house.model)) == Approx(area_of(before)).epsilon(1e-5));
  }
}

TEST_CASE("a shed dormer is no pitch break of the slope that it stands on") {
  // Whole millimetres, as city models are written. By hand: eaves all round 14 m by 8 m and along
  // the dormer's 4 m, each once.
  const surface::Surface before = raised(house_of(R"({"id": "main", "plate": 3, "drawn_to": "drip",
    "outline": [[0,0],[14,0],[14,8],[0,8]], "edges": [{"pitch":"35 deg"},{"pitch":"35 deg"},
    {"pitch":"35 deg"},{"pitch":"35 deg"}]}, {"id": "dormer", "plate": 4.2, "drawn_to": "drip",
    "outline": [[5,0.5],[9,0.5],[9,3.9],[5,3.9]], "edges": [{"pitch":"12 deg"},{"kind":"gable"},
    {"kind":"shed_top"},{"kind":"gable"}]})"));
  REQUIRE(lengths_of(before)["eave"] == Approx(2 * (14 + 8) + 4.0));
  for (const double turned_deg : {0.0, 17.0, 40.0, 76.0, 160.0, 203.4}) {
    CAPTURE(turned_deg);
    const double c = std::cos(turned_deg * M_PI / 180.0);
    const double s = std::sin(turned_deg * M_PI / 180.0);
    std::vector<RoofPolygon> polygons = polygons_of(before);
    for (RoofPolygon& polygon : polygons) {
      for (std::vector<glm::dvec3>& loop : polygon) {
        for (glm::dvec3& p : loop) {
          p = {100.123 + p.x * c - p.y * s, 50.456 + p.x * s + p.y * c, p.z};
          p = glm::dvec3(std::round(p.x * 1e3), std::round(p.y * 1e3), std::round(p.z * 1e3)) / 1e3;
        }
      }
    }
    const rebuild::Rebuilt house = rebuilt(planes_of(polygons, 0.05));
    CHECK(house.model.parts.size() == 2);
    CHECK(house.fits[0].plain == 0);
    for (const model::Part& part : house.model.parts) {
      for (const model::Edge& edge : part.edges) {
        CHECK(edge.breaks.empty());
      }
    }
    CHECK(lengths_of(raised(house.model))["eave"] == Approx(48.0).margin(0.02));
  }
}

TEST_CASE("turned, moved and measured with a few millimetres of error it is the same house") {
  std::mt19937_64 random(tests::seed());
  const surface::Surface before = raised(house_of(R"({"id": "a", "plate": 3,
    "outline": [[0,0],[14,0],[14,14],[7,14],[7,8],[0,8]], "edges": [{"pitch":"8/12"},{"pitch":"8/12"},
    {"kind":"gable"},{"pitch":"8/12"},{"pitch":"8/12"},{"kind":"gable"}]})"));
  std::uniform_real_distribution<double> turn(0.0, 6.28);
  std::uniform_real_distribution<double> error(-0.003, 0.003);
  for (int i = 0; i < 20; ++i) {
    const double angle = turn(random);
    std::map<std::pair<double, double>, double> height_error;
    std::vector<RoofPolygon> polygons = polygons_of(before);
    for (RoofPolygon& polygon : polygons) {
      for (glm::dvec3& p : polygon[0]) {
        // One error a corner: neighbours go on sharing it.
        const auto key = std::pair(p.x, p.y);
        if (!height_error.contains(key)) {
          height_error[key] = error(random);
        }
        p = {85000.0 + p.x * std::cos(angle) - p.y * std::sin(angle),
             446000.0 + p.x * std::sin(angle) + p.y * std::cos(angle), p.z + height_error[key]};
      }
    }
    const rebuild::Rebuilt house = rebuilt(planes_of(polygons, 0.02));
    INFO("turned by " << angle);
    CHECK(house.model.parts.size() == 1);
    CHECK(house.fits[0].plain == 0);
    CHECK(house.fits[0].distance_m < 0.03);
    CHECK(house.fits[0].area_rebuilt_m2 == Approx(area_of(before)).epsilon(0.003));
  }
}

TEST_CASE("what is no house is kept as planes, and said") {
  // A plane that leans toward a corner, as no eave would; and a level one.
  const rebuild::Rebuilt leaning =
      rebuilt(planes_of({{{{0, 0, 3}, {6, 0, 4}, {6, 6, 5}, {0, 6, 4}}}}, 0.02));
  CHECK(leaning.fits[0].plain == 1);
  CHECK(leaning.fits[0].area_rebuilt_m2 == Approx(36 * std::sqrt(1 + 2.0 / 36)).epsilon(1e-3));
  CHECK(leaning.notes[0].find("plain planes") != std::string::npos);
  const rebuild::Rebuilt level = rebuilt(
      planes_of({{{{0, 0, 3}, {6, 0, 3}, {6, 6, 3}, {3, 6, 3}, {3, 3, 3}, {0, 3, 3}}}}, 0.02));
  CHECK(level.fits[0].area_rebuilt_m2 == Approx(27.0).epsilon(1e-3));
  // Walls are passed over; nothing but walls is no roof.
  const auto none = rebuild::rebuild(planes_of({{{{0, 0, 0}, {5, 0, 0}, {5, 0, 3}, {0, 0, 3}}}}));
  REQUIRE_FALSE(none.ok());
  CHECK(none.faults()[0].code == "planes.nothing");
  CHECK(none.faults()[0].what.find("it has no roof planes") != std::string::npos);
  // What lies over one another hundreds of times is no roof, and would take hours to unite.
  std::vector<RoofPolygon> heap;
  for (int i = 0; i < 60; ++i) {
    const double z = 3 + 0.1 * i;
    heap.push_back({{{0, 0, z}, {6 + 0.01 * i, 0, z}, {6, 6 + 0.01 * i, z + 1}, {0, 6, z + 1}}});
  }
  const auto heaped = rebuild::rebuild(planes_of(heap));
  REQUIRE_FALSE(heaped.ok());
  CHECK(heaped.faults()[0].what.find("lie over one another") != std::string::npos);
}

TEST_CASE("files of planes are read or refused with the place") {
  const auto code = [](const std::string& json) {
    const auto read = rebuild::read_planes(json);
    REQUIRE_FALSE(read.ok());
    CHECK_FALSE(read.faults()[0].cure.empty());
    return read.faults()[0].code + " " + read.faults()[0].where;
  };
  CHECK(rebuild::holds_planes(R"({"ridgeward_planes": 1})"));
  CHECK_FALSE(rebuild::holds_planes(R"({"ridgeward": 1})"));
  const auto file = [](const std::string& roof) {
    return R"({"ridgeward_planes": 1, "buildings": [{"id": "a", "roof": )" + roof + "}]}";
  };
  CHECK(rebuild::read_planes(file("[[[[0,0,0],[1,0,0],[1,1,1]]]]")).ok());
  CHECK(code("{") == "json.syntax ");
  CHECK(code(R"({"ridgeward_planes": 1})") == "field.missing /buildings");
  CHECK(code(file("3")) == "field.type /buildings/0/roof");
  CHECK(code(file("[[[[0,0]]]]")) == "field.type /buildings/0/roof/0/0/0");
  CHECK(code(R"({"ridgeward_planes": 1, "units": "furlong", "buildings": []})") ==
        "field.unknown_word /units");
  CHECK(code(file(R"([], "walls": [[[0,0,0]]])")) == "field.type /buildings/0/walls/0/0");
  CHECK(code(file("[[[[0,0,1e300]]]]")) == "field.range /buildings/0/roof/0/0/0/2");
  std::string many = "[[[[0,0,0]";
  for (int i = 0; i < 200000; ++i) {
    many += ",[0,0,0]";
  }
  CHECK(code(file(many + "]]]")).starts_with("planes.too_many"));
}

TEST_CASE("polygons without sense give a model or a fault, never a crash") {
  std::mt19937_64 random(tests::seed());
  std::uniform_int_distribution<int> whole(0, 6);
  std::uniform_int_distribution<std::size_t> count(0, 7);
  int models = 0;
  for (int i = 0; i < 150; ++i) {
    std::vector<RoofPolygon> polygons(1 + count(random));
    for (RoofPolygon& polygon : polygons) {
      polygon.resize(count(random) > 6 ? 2 : 1);
      for (std::vector<glm::dvec3>& loop : polygon) {
        loop.resize(count(random));
        for (glm::dvec3& p : loop) {
          p = {whole(random), whole(random), whole(random)};
        }
      }
    }
    const auto result = rebuild::rebuild(planes_of(std::move(polygons)));
    if (result.ok()) {
      ++models;
      CHECK(model::read(model::write(result.value().model)).ok());
      CHECK(surface::raise(result.value().model).ok());
    } else {
      CHECK(result.faults()[0].code == "planes.nothing");
    }
  }
  CHECK(models > 20);
}
