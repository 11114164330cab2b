// Every call but assess, as a user runs it.
#include "support/json_schema.hpp"
#include "support/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace ridgeward;
using namespace ridgeward::support;
using Json = nlohmann::json;

namespace {

/// One line, as batch takes it.
std::string in_one_line(const std::string& house) {
  return Json::parse(bytes_of(demo_house(house))).dump();
}

}  // namespace

TEST_CASE("help and version are given on standard output, status 0") {
  std::vector<std::string> calls{"assess", "place", "import", "importers", "batch", "schema"};
#ifdef RIDGEWARD_HAS_SOLID
  calls.emplace_back("export");
#endif
#ifdef RIDGEWARD_HAS_VIEWER
  calls.insert(calls.end(), {"view", "picture"});
#endif
  const Ran all = run_program({"--help"});
  CHECK(all.status == 0);
  CHECK(has(all.out, "Exit status"));
  for (const std::string& call : calls) {
    INFO(call);
    const Ran ran = run_program({call, "--help"});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    CHECK(has(ran.out, "Usage: ridgeward " + call));
    CHECK(has(all.out, "  " + call + " "));
  }
  const Ran version = run_program({"--version"});
  CHECK(version.status == 0);
  CHECK(version.out == "ridgeward " RIDGEWARD_VERSION "\n");
}

TEST_CASE("each schema is JSON and says which draft it follows") {
  for (const char* format : {"model", "catalogue", "code", "assessment"}) {
    INFO(format);
    const Ran ran = run_program({"schema", format});
    CHECK(ran.status == 0);
    const Json schema = Json::parse(ran.out);
    CHECK(schema.contains("$schema"));
    CHECK(schema["type"] == "object");
  }
  CHECK(run_program({"schema"}).out == run_program({"schema", "model"}).out);
}

#ifdef RIDGEWARD_HAS_SOLID
TEST_CASE("export writes the format that the ending names, whatever its case") {
  const Folder folder;
  const std::string house = demo_house("sorrel-lane");
  CHECK(run_program({"export", house, "-o", folder.file("a.step")}).status == 0);
  CHECK(run_program({"export", house, "-o", folder.file("b.STEP")}).status == 0);
  CHECK(run_program({"export", house, "-o", folder.file("c.brep")}).status == 0);
  CHECK(bytes_of(folder.file("a.step")).rfind("ISO-10303-21;", 0) == 0);
  CHECK(has(bytes_of(folder.file("a.step")), "MANIFOLD_SOLID_BREP"));
  CHECK(bytes_of(folder.file("b.STEP")).rfind("ISO-10303-21;", 0) == 0);
  CHECK(has(bytes_of(folder.file("c.brep")), "CASCADE Topology"));
  CHECK(has(bytes_of(folder.file("a.step")), "PRODUCT('deck/main/0'"));
  CHECK_FALSE(has(bytes_of(folder.file("a.step")), "PRODUCT('members"));
  CHECK(run_program({"export", house, "-o", folder.file("a.step"), "--show", "members"}).status ==
        0);
  CHECK(has(bytes_of(folder.file("a.step")), "PRODUCT('members/main/0/r1'"));
  const Ran unknown = run_program({"export", house, "-o", folder.file("b.step"), "--show", "cats"});
  CHECK(unknown.status == 2);
  CHECK(has(unknown.err, "deck, slots, attic, members"));
  for (const char* name : {"d.xyz", "d", "step", ".step.", "d.stepp"}) {
    CAPTURE(name);
    const Ran ran = run_program({"export", house, "-o", folder.file(name)});
    CHECK(ran.status == 2);
    CHECK(has(ran.err, ".brep, .dxf, .glb, .ifc, .obj, .step"));
  }
  CHECK(folder.names().size() == 3);
}
#endif

#ifdef RIDGEWARD_HAS_SOLID
TEST_CASE("the plan as SVG has the house's name and words that can be searched") {
  const Folder folder;
  Json model = Json::parse(bytes_of(demo_house("sorrel-lane")));
  model["name"] = "Mill & <Barn>";
  const std::string house = folder.write("house.roof.json", model.dump());
  const std::string file = folder.file("plan.svg");
  REQUIRE(run_program({"export", house, "-o", file}).status == 0);
  const std::string svg = bytes_of(file);
  CHECK(has(svg, "<title>Mill &amp; &lt;Barn&gt;: the roof in plan</title>"));
  CHECK(has(svg, "<desc>The roof in plan"));
  // The main ridge of 20 ft, turned along itself or not; unseen, for its letters are drawn.
  CHECK(has(svg, ">20' 0\"</text>"));
  CHECK(has(svg, "fill-opacity=\"0\""));
}
#endif

#ifdef RIDGEWARD_HAS_VIEWER
TEST_CASE("picture draws without a display, in the size asked for") {
  const Folder folder;
  const std::string file = folder.file("roof.png");
  const Ran ran = run_program({"picture", demo_house("sorrel-lane"), "-o", file, "--size",
                               "640x400", "--from", "south-east"});
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  const std::string png = bytes_of(file);
  REQUIRE(png.size() > 10000);
  CHECK(png.substr(1, 3) == "PNG");
  // Width and height stand in the first chunk, high byte first (RFC 2083, section 4.1.1).
  const auto number = [&](std::size_t at) {
    return (static_cast<unsigned char>(png[at + 2]) << 8) + static_cast<unsigned char>(png[at + 3]);
  };
  CHECK(number(16) == 640);
  CHECK(number(20) == 400);
}

TEST_CASE("picture refuses what it can't draw, with what it can") {
  const Folder folder;
  const std::string house = demo_house("plain-gable");
  struct Bad {
    std::vector<std::string> words;
    const char* cure;
  };
  for (const Bad& bad :
       {Bad{{"--size", "0x0"}, "1280x800"}, Bad{{"--size", "wide"}, "1280x800"},
        Bad{{"--size", "640"}, "1280x800"}, Bad{{"--size", "-5x600"}, "1280x800"},
        Bad{{"--size", "99999999999x600"}, "1280x800"}, Bad{{"--from", "upwind"}, "south-west"},
        Bad{{"--show", "cats"}, "legend"}, Bad{{"--scale", "900"}, "--scale"}}) {
    CAPTURE(bad.words);
    std::vector<std::string> words{"picture", house, "-o", folder.file("x.png")};
    words.insert(words.end(), bad.words.begin(), bad.words.end());
    const Ran ran = run_program(words);
    CAPTURE(ran.err);
    CHECK(ran.status == 2);
    CHECK(has(ran.err, bad.cure));
    CHECK(folder.names().empty());
  }
}

TEST_CASE("picture takes a weather by any name that is printed, and a sun that there is") {
  const Folder folder;
  const std::string house = demo_house("sorrel-lane");
  // The worst wind by the name that the summary's table gives it.
  const std::string summary = run_program({"assess", house}).out;
  const std::size_t end = summary.find(", the worst");
  REQUIRE(end != std::string::npos);
  const std::string wind =
      summary.substr(summary.rfind('\n', end) + 3, end - summary.rfind('\n', end) - 3);
  CHECK(wind.rfind("wind ", 0) == 0);
  CHECK(has(wind, " mph from "));
  const auto picture = [&](const std::string& name, std::vector<std::string> words) {
    words.insert(words.begin(), {"picture", house, "-o", folder.file(name), "--size", "400x320"});
    return run_program(words);
  };
  REQUIRE(picture("a.png", {"--show", "+air", "--weather", wind + ", the worst"}).status == 0);
  const Ran none = picture("b.png", {"--show", "+air", "--weather", "gale"});
  CHECK(none.status == 2);
  CHECK(has(none.err, wind));

  for (const std::vector<std::string>& sun :
       std::vector<std::vector<std::string>>{{"100", "100", "12", "latitude 100"},
                                             {"-91", "100", "12", "latitude -91"},
                                             {"45", "500", "12", "day of the year 500"},
                                             {"45", "0", "12", "day of the year 0"},
                                             {"45", "12.5", "12", "day of the year 12.5"},
                                             {"45", "172", "30", "solar hour 30"},
                                             {"nan", "172", "12", "latitude nan"}}) {
    CAPTURE(sun);
    const Ran ran = picture("c.png", {"--sun", sun[0], sun[1], sun[2]});
    CAPTURE(ran.err);
    CHECK(ran.status == 2);
    CHECK(has(ran.err, "ridgeward: --sun: there is no " + sun[3]));
    CHECK(has(ran.err, "cure: give a "));
  }
  CHECK(picture("d.png", {"--sun", "-33.5", "366", "24"}).status == 0);
  CHECK(folder.names() == std::vector<std::string>{"a.png", "d.png"});
}

TEST_CASE("view says what to do where there is no display") {
  const Ran ran = run_program({"view", demo_house("plain-gable")});
  CHECK(ran.status == 2);
  CHECK(has(ran.err, "ridgeward picture"));
}
#endif

TEST_CASE("what an import found is told to programs, with the planes where they lie in the model") {
  const Folder folder;
  const std::string told = folder.file("told.json");
  REQUIRE(run_program({"import",
                       RIDGEWARD_SOURCE_DIR "/importers/cityjson/samples/house-and-shed.city.json",
                       "-o", folder.file("city.roof.json"), "--found", told})
              .status == 0);
  const Json found = Json::parse(bytes_of(told));
  CHECK(found["ridgeward_found"] == 1);
  CHECK(found["notes"].size() >= 4);
  REQUIRE(found["fits"].size() == 2);
  // The house: two planes of 12 m by 5 m (rakes of 3, 4 and 5 m).
  const Json& house = found["fits"][0];
  CHECK(house["planes_given"] == 2);
  CHECK(house["parts"] == 1);
  CHECK(house["plain"] == 0);
  CHECK(house["area_given_m2"].get<double>() == Approx(120.0).epsilon(1e-3));
  CHECK(house["area_rebuilt_m2"].get<double>() == Approx(120.0).epsilon(1e-3));
  CHECK(house["distance_m"].get<double>() < 0.001);
  REQUIRE(found["planes"].size() == 3);
  double low = 1e9;
  for (const Json& corner : found["planes"][0]) {
    low = std::min(low, corner[0].get<double>());
  }
  CHECK(low == Approx(0.0).margin(1e-6));  // moved as the model is
}

TEST_CASE("a plan of another format becomes a model that can be assessed") {
  const Ran list = run_program({"importers"});
  CHECK(list.status == 0);
  CHECK(has(list.out, "geojson"));
  CHECK(has(list.out, ".geojson"));

  const Folder folder;
  const std::string plan = folder.write("plan.geojson", R"json({"type": "Feature", "id": "barn",
    "properties": {"pitch": "35 deg", "height": 3, "overhang": 0.4},
    "geometry": {"type": "Polygon", "coordinates":
      [[[100, 200], [118, 200], [118, 210], [100, 210], [100, 200]]]}})json");
  const std::string model = folder.file("barn.roof.json");
  const Ran made = run_program({"import", plan, "-o", model});
  CAPTURE(made.err);
  REQUIRE(made.status == 0);
  CHECK(folder.names() == std::vector<std::string>{"barn.roof.json", "plan.geojson"});
  const Ran found = run_program({"assess", model, "--json", "-"});
  CHECK(found.status == 1);  // it has no vents
  const Json answer = Json::parse(found.out);
  REQUIRE(answer["planes"].size() == 4);
  // Overhangs of 0.4 m around 18 m x 10 m.
  CHECK(answer["totals"]["plan_area_m2"].get<double>() == Approx(18.8 * 10.8).epsilon(1e-6));
  CHECK(answer["planes"][0]["slope_deg"].get<double>() == Approx(35));

  CHECK(run_program({"import", plan, "-o", "-"}).out == bytes_of(model));
  const Ran unknown = run_program({"import", plan, "-o", model, "--with", "napkin"});
  CHECK(unknown.status == 2);
  CHECK(has(unknown.err, "geojson"));
  const Ran none = run_program({"import", folder.write("x.txt", "words"), "-o", model});
  CHECK(none.status == 2);
  CHECK(has(none.err, "geojson"));
  const Ran half = run_program(
      {"import", folder.write("half.geojson", bytes_of(plan).substr(0, 120)), "-o", model});
  CHECK(half.status == 2);
  CHECK(has(half.err, "half.geojson"));
  CHECK(has(half.err, "\n  cure: "));

  // Only the plan was read: no planes to compare with, but what was assumed is told.
  const std::string told = folder.file("told.json");
  REQUIRE(run_program({"import", plan, "-o", model, "--found", told}).status == 0);
  const Json plain = Json::parse(bytes_of(told));
  CHECK(plain["importer"] == "geojson");
  CHECK(plain["fits"].empty());
  CHECK_FALSE(plain["assumed"].empty());
  CHECK(run_program({"import", plan, "-o", model, "--found", plan}).status == 2);
}

TEST_CASE("batch answers line by line, in order, whatever happens to one of them") {
  const std::vector<std::string> houses{"sorrel-lane", "plain-gable", "heron-court"};
  std::string input = "\n";
  std::vector<std::string> names;
  for (int i = 0; i < 20; ++i) {
    const std::string& house = houses[static_cast<std::size_t>(i) % houses.size()];
    Json model = Json::parse(bytes_of(demo_house(house)));
    const std::string name = house + " " + std::to_string(i);
    model["name"] = name;
    input += model.dump() + (i % 3 == 0 ? "\r\n\n  \t\n" : "\n");
    names.push_back(name);
    if (i == 7) {
      input += "{\"ridgeward\": 1, \"parts\": [\n";
      names.emplace_back("json.syntax");
    }
    if (i == 11) {
      model["parts"][0]["edges"].erase(0);
      input += model.dump() + "\n";
      names.emplace_back("edges.count");
    }
  }
  input += in_one_line("plain-gable");  // the last line needs no end
  names.emplace_back(Json::parse(bytes_of(demo_house("plain-gable")))["name"]);

  const Ran ran = run_program({"batch", "--jobs", "4"}, input);
  CHECK(ran.status == 0);
  CHECK(ran.err.empty());
  const std::vector<std::string> answers = lines_of(ran.out);
  REQUIRE(answers.size() == names.size());
  SchemaJudge judge(Json::parse(run_program({"schema", "assessment"}).out));
  for (std::size_t i = 0; i < names.size(); ++i) {
    const Json answer = Json::parse(answers[i]);
    CAPTURE(i, names[i]);
    if (answer.contains("faults")) {
      CHECK(answer["faults"][0]["code"] == names[i]);
      CHECK_FALSE(answer["faults"][0]["cure"].get<std::string>().empty());
    } else {
      CHECK(answer["model"]["name"] == names[i]);
      CHECK(judge.complaints(answer).empty());
    }
  }
  // One worker or many: equal bytes; and the same as assess gives.
  CHECK(run_program({"batch", "--jobs", "1"}, input).out == ran.out);
  CHECK(Json::parse(answers.back()) ==
        Json::parse(run_program({"assess", demo_house("plain-gable"), "--json", "-"}).out));
}

TEST_CASE("batch with nothing to do does nothing; with rules it can't use it stops at once") {
  CHECK(run_program({"batch"}, "").out.empty());
  CHECK(run_program({"batch"}, "\n\n").status == 0);
  for (const std::string option : {"--catalogue", "--code"}) {
    const Ran ran = run_program({"batch", option, "/nowhere/x.json"}, in_one_line("plain-gable"));
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(has(ran.err, "/nowhere/x.json"));
  }
}
