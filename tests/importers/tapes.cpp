// Tables of walls as spreadsheets leave them and people write them. Lengths by hand: 1 ft = 0.3048
// m exactly (international foot).
#include "model/read.hpp"
#include "plugin/guard.hpp"

#include "importers/bare_planes.hpp"
#include "importers/imported.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

struct FromTape {
  model::RoofModel model;
  std::string notes;

  bool says(const std::string& words) const { return notes.find(words) != std::string::npos; }
};

FromTape from_tape(const std::string& csv, const std::string& options = "") {
  const auto given = plugin::read_apart(library("tape"), {csv, options, ""});
  INFO(csv << tests::words(given));
  REQUIRE(given.ok());
  const auto read = model::read(given.value().json);
  INFO(tests::words(read));
  REQUIRE(read.ok());
  FromTape made{read.value().model, ""};
  for (const std::string& note : given.value().notes) {
    made.notes += note + "\n";
  }
  return made;
}

/// A table of a rectangle: the heads of its columns, and two walls that stand twice.
std::string walls_twice(const std::string& head, const std::string& a, const std::string& b) {
  return head + "\n" + a + "\n" + b + "\n" + a + "\n" + b + "\n";
}

void require_forty_by_28(const FromTape& made) {
  INFO(made.notes);
  REQUIRE(made.model.parts.size() == 1);
  REQUIRE(made.model.parts[0].outline.size() == 4);
  CHECK(made.model.parts[0].outline[2].x == Approx(40 * 0.3048));
  CHECK(made.model.parts[0].outline[2].y == Approx(28 * 0.3048));
  CHECK(edge_words(made.model.parts[0]) == "eave gable eave gable");
}

}  // namespace

TEST_CASE("a part that nobody placed may not vanish in another") {
  const std::string head = "part,length,turn,kind,pitch,x,y\n";
  const auto box = [](const std::string& id, const std::string& length, const std::string& place) {
    const std::string wall = id + "," + length + ",left,eave,6/12,";
    return wall + place + "\n" + wall + ",\n" + wall + ",\n" + wall + ",\n";
  };
  const Fault fault = refused("tape", head + box("house", "40", ",") + box("garage", "22", ","));
  CHECK(fault.where == "line 6");
  CHECK(fault.what.find("\"garage\" starts at the same corner as \"house\"") != std::string::npos);
  CHECK(fault.cure.find("columns x and y") != std::string::npos);
  CHECK(
      refused("tape", "part,length,pitch\na,40,6/12\na,40,6/12\na,40,6/12\na,40,6/12\nb,22,6/12\n")
          .where == "line 6");
  // Placed beside it; placed where the other starts, which is meant then; and the first elsewhere.
  CHECK(from_tape(head + box("house", "40", ",") + box("garage", "22", "40,")).model.parts.size() ==
        2);
  CHECK(from_tape(head + box("house", "40", ",") + box("tower", "22", "0,0")).model.parts.size() ==
        2);
  CHECK(from_tape(head + box("house", "40", "50,") + box("garage", "22", ",")).model.parts.size() ==
        2);
}

TEST_CASE("thousands, and lengths that no house has, are told with what to write") {
  const auto of = [](const std::string& a, const std::string& mark = ",") {
    return walls_twice("length" + mark + "pitch", a + mark + "30 deg", "6.5 m" + mark + "30 deg");
  };
  // What is told as the cure is what was meant.
  const std::vector<std::vector<std::string>> meant{
      {of("\"8,700 mm\""), "8700 mm"},     {of("8.700 mm"), "8700 mm"},
      {of("8,700 mm", ";"), "8700 mm"},    {of("\"1.234,5 cm\""), "1234.5 cm"},
      {of("\"1,234.5 cm\""), "1234.5 cm"}, {of("\"1,234,567 mm\""), "1234567 mm"}};
  for (const std::vector<std::string>& one : meant) {
    INFO(one[0]);
    const Fault fault = refused("tape", one[0]);
    CHECK(fault.where == "line 2, column length");
    CHECK(fault.cure == "write thousands without a mark (" + one[1] + ")");
  }
  CHECK(from_tape(of("8700 mm")).model.parts.at(0).outline[1].x == Approx(8.7));
  CHECK(refused("tape", of("\"12,19\"")).cure.find("decimals with a point (12.19)") !=
        std::string::npos);
  CHECK(refused("tape", of("40 mm")).what == "\"40 mm\" is 40 mm, too short for a wall");
  const FromTape jog = from_tape(of("250 mm"));
  CHECK(jog.says("in doubt: line 2, column length, \"250 mm\" is 250 mm, short for a wall"));
  CHECK(jog.says("in doubt: \"main\" covers 1.6 m2"));
  CHECK_FALSE(from_tape(of("8700 mm")).says("in doubt"));
}

TEST_CASE("overhangs and plates of another unit are faults or doubts") {
  const auto of = [](const std::string& overhang, const std::string& plate = "") {
    return walls_twice("length,pitch,overhang,plate", "28,8/12," + overhang + "," + plate,
                       "24,8/12,,");
  };
  // Inches taken for feet: 16 ft.
  const Fault wide = refused("tape", of("16"));
  CHECK(wide.where == "line 2, column overhang");
  CHECK(wide.what == "\"16\" is 16' 0\", no overhang of a roof");
  CHECK(from_tape(of("16 in")).model.parts.at(0).edges[0].overhang_m == Approx(16 * 0.0254));
  CHECK_FALSE(from_tape(of("16 in")).says("in doubt"));
  CHECK(from_tape(of("5", "9")).says("in doubt: line 2, column overhang is 5' 0\""));
  // 8 in 12 over 6 ft is 4 ft: an eave under a plate of 4 ft lies on the ground.
  CHECK(refused("tape", of("6", "4"))
            .what.find("brings the eave under the ground: the plate lies "
                       "4' 0\" high") != std::string::npos);
  CHECK(from_tape(of("6", "4.1")).model.parts.size() == 1);
  CHECK(refused("tape", of("-1")).where == "line 2, column overhang");
  for (const char* plate : {"-3 m", "3 mm", "9000"}) {
    CHECK(refused("tape", of("", plate)).where == "line 2, column plate");
  }
  CHECK(refused("tape", of("", "tall")).where == "line 2, column plate");
  CHECK(from_tape(of("", "108")).says("in doubt: line 2, column plate, the plate lies 108' 0\""));
}

TEST_CASE("a table is read as spreadsheets leave it") {
  const std::string head = "part,length,turn,kind,pitch";
  const std::string plain = walls_twice(head, "main,40,left,eave,8/12", "main,28,left,gable,");
  require_forty_by_28(from_tape(plain));
  // An empty column and rows of nothing but separators.
  require_forty_by_28(
      from_tape(walls_twice(head + ",,", "main,40,left,eave,8/12,,", "main,28,left,gable,,,") +
                ",,,,,,\n , ,,,,,\n"));
  CHECK(refused("tape", walls_twice(head + ",", "main,40,left,eave,8/12,7", "main,28,,gable,,"))
            .what.find("more cells than columns: \"7\"") != std::string::npos);
  // A column of one's own is a note; one that is nearly known, or twice there, a fault.
  const FromTape remarks = from_tape(
      walls_twice(head + ",Remark", "main,40,left,eave,8/12,street", "main,28,left,gable,,"));
  require_forty_by_28(remarks);
  CHECK(remarks.says("passed over, columns that are not known: \"remark\""));
  for (const char* name : {"overhangs", "overhang (in)", "ovrhang", "wall length", "plates"}) {
    const Fault fault = refused("tape", head + "," + name + "\n");
    CHECK(fault.where == "line 1");
    CHECK(fault.cure.find("call it ") == 0);
  }
  CHECK(refused("tape", head + ",pitch\n").what == "there are two columns \"pitch\"");
  // Words in capitals, and every end of line.
  require_forty_by_28(from_tape(walls_twice("Part,LENGTH,Turn,Kind,Pitch",
                                            "main,40 FT,Left,EAVE,8/12", "main,28 ft,L,Gable,")));
  std::string returns = plain;
  for (char& c : returns) {
    c = c == '\n' ? '\r' : c;
  }
  require_forty_by_28(from_tape(returns));
  CHECK(refused("tape", returns + "main,long,left,eave,8/12\r").where == "line 6, column length");
  std::string both;
  for (const char c : plain) {
    both += c == '\n' ? "\r\n" : std::string(1, c);
  }
  CHECK(refused("tape", both + "main,long,left,eave,8/12\r\n").where == "line 6, column length");
}
