#include "draw/image.hpp"

#include "papers/file.hpp"

#include "draw/palette.hpp"
#include "draw/picture.hpp"

#include <catch2/catch.hpp>

#include <csignal>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>
#include <string>
#include <sys/wait.h>
#include <unistd.h>
#include <utility>
#include <vector>

using namespace ridgeward;
using draw::Image;

namespace {

Image plain(int width, int height, std::uint8_t shade) {
  return {width, height,
          std::vector<std::uint8_t>(
              static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3, shade)};
}

void paint(Image& image, int x, int y, std::uint8_t shade) {
  for (std::size_t c = 0; c < 3; ++c) {
    image.rgb[3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) +
                   static_cast<std::size_t>(x)) +
              c] = shade;
  }
}

std::filesystem::path scratch(const char* name) {
  return std::filesystem::temp_directory_path() / (std::to_string(getpid()) + name);
}

}  // namespace

TEST_CASE("a picture survives its file") {
  Image image = plain(7, 5, 200);
  paint(image, 3, 2, 10);
  const auto path = scratch("-picture.png");
  REQUIRE(papers::write_whole(path.string(), draw::to_png(image)));
  const auto read = draw::read_png(path.string());
  std::filesystem::remove(path);
  REQUIRE(read);
  CHECK(read.value().width == 7);
  CHECK(read.value().rgb == image.rgb);
}

TEST_CASE("equal pictures give equal bytes") {
  CHECK(draw::to_png(plain(64, 64, 9)) == draw::to_png(plain(64, 64, 9)));
}

TEST_CASE("writing leaves no half file behind") {
  const auto folder = scratch("-folder");
  std::filesystem::create_directory(folder);
  const auto path = folder / "out.txt";
  REQUIRE(papers::write_whole(path.string(), "first"));
  REQUIRE(papers::write_whole(path.string(), "second"));
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  CHECK(text.str() == "second");
  CHECK(std::distance(std::filesystem::directory_iterator(folder),
                      std::filesystem::directory_iterator()) == 1);
  const auto missing = papers::write_whole((folder / "none" / "out.txt").string(), "x");
  REQUIRE_FALSE(missing);
  CHECK(missing.faults().front().code == "file.unwritable");
  const auto on_folder = papers::write_whole(folder.string(), "x");
  CHECK_FALSE(on_folder);
  CHECK(std::filesystem::is_directory(folder));
  std::filesystem::remove_all(folder);
}

TEST_CASE("a program that is killed while it writes leaves the older file and nothing else") {
  const auto folder = scratch("-killed");
  std::filesystem::create_directory(folder);
  const std::string path = (folder / "out.txt").string();
  REQUIRE(papers::write_whole(path, "older"));
  const int nameless = ::open(folder.c_str(), O_TMPFILE | O_RDWR | O_CLOEXEC, 0600);
  const pid_t child = ::fork();
  if (child == 0) {
    const auto file = papers::WholeFile::open(path);
    if (file && file.value()->add(std::string(1U << 20U, 'x'))) {
      ::raise(SIGKILL);
    }
    ::_exit(1);
  }
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  REQUIRE(WIFSIGNALED(status));
  std::ifstream file(path);
  CHECK(std::string(std::istreambuf_iterator<char>(file), {}) == "older");
  if (nameless >= 0) {  // file systems without nameless files keep a part beside it
    ::close(nameless);
    CHECK(std::distance(std::filesystem::directory_iterator(folder),
                        std::filesystem::directory_iterator()) == 1);
  }
  std::filesystem::remove_all(folder);
}

TEST_CASE("what is no picture is refused") {
  const auto read = draw::read_png("/nowhere.png");
  REQUIRE_FALSE(read);
  CHECK(read.faults().front().code == "picture.unreadable");
}

TEST_CASE("pictures are compared by what the eye sees") {
  const Image white = plain(100, 100, 255);
  CHECK(draw::compare(white, white, 0).share == 0.0);
  CHECK(draw::compare(white, plain(100, 100, 250), 8).share == 0.0);
  CHECK(draw::compare(white, plain(100, 100, 200), 8).share == 1.0);
  CHECK(draw::compare(white, plain(100, 99, 255), 8).share == 1.0);
  // A line moved by one pixel is the same line, moved by five it is not.
  Image line = white;
  Image beside = white;
  Image far = white;
  for (int y = 0; y < 100; ++y) {
    paint(line, 50, y, 0);
    paint(beside, 51, y, 0);
    paint(far, 55, y, 0);
  }
  CHECK(draw::compare(line, beside, 8).share == 0.0);
  CHECK(draw::compare(line, far, 8).share == Approx(0.02));
  // A line that is missing, or one too many, is seen.
  CHECK(draw::compare(line, white, 8).share == Approx(0.01));
  CHECK(draw::compare(white, line, 8).share == Approx(0.01));
}

TEST_CASE("sizes are read") {
  const auto size = draw::parse_size("1280x800");
  REQUIRE(size);
  CHECK(size.value().width_px == 1280);
  CHECK(size.value().height_px == 800);
  for (const char* bad : {"", "1280", "1280x", "x800", "1280x800x3", "12 80x800", "0x0",
                          "1280x-800", "99999x800", "1e3x800", "99999999999x800"}) {
    INFO(bad);
    const auto refused = draw::parse_size(bad);
    REQUIRE_FALSE(refused);
    CHECK(refused.faults().front().code == "picture.size");
  }
}

TEST_CASE("the report in a browser has the window's colours, weights and dashes") {
  std::ifstream in(RIDGEWARD_SOURCE_DIR "/viewer/report/report.js");
  const std::string script{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  const auto numbers = [](const std::string& text) {
    std::vector<float> all;
    static const std::regex number("[0-9]+(\\.[0-9]+)?");
    for (std::sregex_iterator at(text.begin(), text.end(), number), end; at != end; ++at) {
      all.push_back(std::stof(at->str()));
    }
    return all;
  };
  const auto entry = [&](const std::string& name) {
    std::smatch found;
    INFO(name);
    REQUIRE(std::regex_search(script, found, std::regex("\n    " + name + ": \\{(.*)\\},")));
    return numbers(found[1]);
  };
  const auto colour = [](const glm::vec3& c) { return std::vector<float>{c.x, c.y, c.z}; };
  using scene::FaceRole;
  const std::vector<std::pair<const char*, FaceRole>> faces{
      {"deck", FaceRole::roof},
      {"members", FaceRole::timber},
      {"slots", FaceRole::slot},
      {"attic", FaceRole::ceiling},
      {"walls", FaceRole::wall},
      {"trim", FaceRole::trim},
      {"bay_fed", FaceRole::bay_fed},
      {"bay_idle", FaceRole::bay_idle},
      {"bay_dead", FaceRole::bay_dead},
      {"bay_wasted", FaceRole::bay_wasted},
      {"intake_vent", FaceRole::intake_vent},
      {"exhaust_vent", FaceRole::exhaust_vent}};
  for (const auto& [name, role] : faces) {
    const draw::FaceLook look = draw::look_of(role);
    std::vector<float> of = entry(name);
    of.resize(3);
    INFO(name);
    // The hatch alone is drawn there, so it carries the colour.
    CHECK(of == colour(look.hatch == draw::Hatch::none ? look.colour : look.hatch_colour));
  }
  using scene::StrokeRole;
  const std::vector<std::pair<const char*, StrokeRole>> lines{
      {"eave", StrokeRole::eave},          {"rake", StrokeRole::rake},
      {"ridge", StrokeRole::ridge},        {"hip", StrokeRole::hip},
      {"valley", StrokeRole::valley},      {"pitch_break", StrokeRole::pitch_break},
      {"shed_top", StrokeRole::shed_top},  {"headwall", StrokeRole::wall_line},
      {"sidewall", StrokeRole::wall_line}, {"step_wall", StrokeRole::wall_line}};
  for (const auto& [name, role] : lines) {
    const draw::StrokeLook look = draw::look_of(role);
    std::vector<float> expected = colour(look.colour);
    expected.push_back(look.width_px);
    if (look.dash_px.x > 0.0F) {
      expected.insert(expected.end(), {look.dash_px.x, look.dash_px.y});
    }
    INFO(name);
    CHECK(entry(name) == expected);
  }
}
