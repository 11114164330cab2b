// Openings: which rafters are cut, headers, doubled rafters, bays; and the laws over random roofs.
#include "attic/stage.hpp"
#include "base/polygon.hpp"
#include "framing/stage.hpp"
#include "surface/stage.hpp"

#include "support/plans.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ridgeward;
using namespace small_roofs;
using framing::Bay;
using framing::Framing;
using framing::Member;
using framing::MemberKind;

namespace {

struct Framed {
  surface::Surface surface;
  Framing framing;

  std::vector<const Member*> of(MemberKind kind, const std::string& plane) const {
    std::vector<const Member*> all;
    for (const Member& member : framing.members) {
      if (member.kind == kind && !member.plane.is_none() &&
          surface.planes[member.plane].id == plane) {
        all.push_back(&member);
      }
    }
    return all;
  }
  std::vector<const Bay*> bays(const std::string& plane) const {
    std::vector<const Bay*> all;
    for (const Bay& bay : framing.bays) {
      if (surface.planes[bay.plane].id == plane) {
        all.push_back(&bay);
      }
    }
    return all;
  }
};

Framed framed(const model::RoofModel& model) {
  Framed all;
  all.surface = surface::raise(model).value();
  all.framing = framing::frame(model, all.surface);
  for (const std::string& broken : framing::verify(all.surface, all.framing)) {
    FAIL(broken);
  }
  return all;
}

/// A gable of 40 x 24 ft at 8/12 without overhangs, rafters 16 in on centre.
model::RoofModel gable_16() {
  model::RoofModel model = gable(40, 24, 8).model;
  model.parts[0].framing.spacing_m = 16 * in;
  return model;
}

/// Corners in inches in plan.
model::Obstacle chimney(const std::string& id, glm::dvec2 low_in, glm::dvec2 high_in,
                        double clearance_in) {
  model::Obstacle obstacle;
  obstacle.id = id;
  obstacle.outline = {low_in * in, glm::dvec2{high_in.x, low_in.y} * in, high_in * in,
                      glm::dvec2{low_in.x, high_in.y} * in};
  obstacle.clearance_m = clearance_in * in;
  return obstacle;
}

/// Corner and size in inches on a plane.
model::Obstacle on_plane(const std::string& id, model::ObstacleKind kind, glm::dvec2 at_in,
                         glm::dvec2 size_in) {
  model::Obstacle obstacle;
  obstacle.id = id;
  obstacle.kind = kind;
  obstacle.plane = "main/0";
  obstacle.at = at_in * in;
  obstacle.size = size_in * in;
  return obstacle;
}

Approx near(double value) { return Approx(value).epsilon(1e-9).margin(1e-9); }

const double slope = std::sqrt(208.0) / 12.0;  // length per run at 8/12

}  // namespace

TEST_CASE("a chimney of 30 x 24 in cuts two rafters at 16 in: headers, trimmers, pieces") {
  model::RoofModel model = gable_16();
  model.obstacles = {chimney("chimney", {120, 48}, {150, 72}, 2)};
  const Framed all = framed(model);
  // Worked by hand: clear from 118 to 152 in along the eave; the rafters at 128 and 144 in are in
  // the way, those at 112 and 160 in stand and are doubled inward.
  const double low = (48 * slope - 2) * in;
  const double high = (72 * slope + 2) * in;
  const auto trimmers = all.of(MemberKind::trimmer, "main/0");
  REQUIRE(trimmers.size() == 2);
  CHECK(trimmers[0]->at_m == near(113.5 * in));
  CHECK(trimmers[1]->at_m == near(158.5 * in));
  for (const Member* trimmer : trimmers) {
    CHECK(trimmer->line_length_m == near(144 * slope * in));
    CHECK(trimmer->length_m == near((144 - 0.75) * slope * in));
    CHECK(trimmer->opening == "chimney");
  }
  const auto headers = all.of(MemberKind::header, "main/0");
  REQUIRE(headers.size() == 2);
  for (const Member* header : headers) {
    CHECK(header->length_m == near(43.5 * in));  // 157 3/4 less 114 1/4
    CHECK(header->thickness_m == near(1.5 * in));
    CHECK(header->plies == 1);
    CHECK(header->opening == "chimney");
    CHECK(header->from.z == near(header->to.z));
  }
  CHECK(headers[0]->id == "main/0/h1");
  const auto commons = all.of(MemberKind::common, "main/0");
  REQUIRE(commons.size() == 33);  // 29 marks and 2 ends, two of them in two pieces
  std::size_t below = 0;
  std::size_t above = 0;
  for (const Member* rafter : commons) {
    const bool is_in_way =
        rafter->at_m > 120 * in && rafter->at_m < 150 * in;  // those at 128 and 144 in
    CHECK((!rafter->head_header.is_none() || !rafter->foot_header.is_none()) == is_in_way);
    if (!rafter->head_header.is_none()) {
      ++below;
      CHECK(rafter->length_m == near(low - 1.5 * in));
      CHECK(&all.framing.members[rafter->head_header] == headers[0]);
      CHECK(rafter->side_cut_rad == near(0.0));
    } else if (!rafter->foot_header.is_none()) {
      ++above;
      CHECK(rafter->length_m == near((144 - 0.75) * slope * in - high - 1.5 * in));
      CHECK(&all.framing.members[rafter->foot_header] == headers[1]);
    }
  }
  CHECK(below == 2);
  CHECK(above == 2);
  CHECK(all.of(MemberKind::header, "main/2").empty());
  REQUIRE(all.framing.openings.size() == 1);
  CHECK(polygon::area(all.framing.openings[0].outline) == near(34 * in * (high - low)));
  CHECK(std::any_of(all.framing.assumptions.begin(), all.framing.assumptions.end(),
                    [](const std::string& line) { return line.find("Around openings") == 0; }));
}

TEST_CASE("bays end at headers, and a strip beside the opening is a bay of its own") {
  model::RoofModel model = gable_16();
  model.obstacles = {chimney("chimney", {120, 48}, {150, 72}, 2)};
  const Framed all = framed(model);
  const auto bays = all.bays("main/0");
  REQUIRE(bays.size() == 35);  // 30, less 3, and 3 below, 3 above, 2 beside
  std::size_t below = 0;
  std::size_t above = 0;
  std::size_t beside = 0;
  for (const Bay* bay : bays) {
    CHECK(bay->kind == MemberKind::common);
    const bool has_foot = !bay->foot_header.is_none();
    const bool has_head = !bay->head_header.is_none();
    CHECK(has_foot == bay->foot.is_none());
    CHECK(has_head == bay->head.is_none());
    below += !has_foot && has_head ? 1 : 0;
    above += has_foot && !has_head ? 1 : 0;
    beside += has_foot && has_head ? 1 : 0;
    if (has_foot && has_head) {
      const bool is_left = bay->from_u_m < 118 * in;
      CHECK(bay->clear_width_m == near((is_left ? 118 - 114.25 : 157.75 - 152) * in));
      CHECK((is_left ? bay->right : bay->left).is_none());
    }
  }
  CHECK(below == 3);
  CHECK(above == 3);
  CHECK(beside == 2);
}

TEST_CASE("a header over more than 4 ft is doubled") {
  model::RoofModel model = gable_16();
  model.obstacles = {chimney("chimney", {116, 48}, {156, 72}, 2)};
  const Framed all = framed(model);
  // Clear from 114 to 158 in: the rafters at 112 and 160 in have no room for a ply inward.
  const auto trimmers = all.of(MemberKind::trimmer, "main/0");
  REQUIRE(trimmers.size() == 2);
  CHECK(trimmers[0]->at_m == near(110.5 * in));
  CHECK(trimmers[1]->at_m == near(161.5 * in));
  CHECK(all.of(MemberKind::header, "main/0")[0]->length_m == near(46.5 * in));
  CHECK(all.of(MemberKind::header, "main/0")[0]->plies == 1);
  model.obstacles = {chimney("chimney", {100, 48}, {156, 72}, 2)};
  const Framed wide = framed(model);
  const auto headers = wide.of(MemberKind::header, "main/0");
  REQUIRE(headers.size() == 2);
  CHECK(headers[0]->length_m == near((159.25 - 96.75) * in));
  CHECK(headers[0]->plies == 2);
  CHECK(headers[0]->thickness_m == near(3 * in));
}

TEST_CASE("a pipe between two rafters cuts nothing, one in the way of a rafter cuts it") {
  model::RoofModel model = gable_16();
  const Framed plain = framed(model);
  model.obstacles = {on_plane("pipe", model::ObstacleKind::pipe, {118, 60}, {4, 4})};
  const Framed between = framed(model);
  CHECK(between.framing.members.size() == plain.framing.members.size());
  CHECK(between.framing.bays.size() == plain.framing.bays.size());
  CHECK(between.framing.openings.empty());
  model.obstacles = {on_plane("pipe", model::ObstacleKind::pipe, {126, 60}, {4, 4})};
  const Framed across = framed(model);
  CHECK(across.of(MemberKind::header, "main/0").size() == 2);
  CHECK(across.of(MemberKind::trimmer, "main/0").size() == 2);
  model.obstacles = {on_plane("array", model::ObstacleKind::solar, {60, 30}, {120, 60})};
  const Framed solar = framed(model);
  CHECK(solar.framing.members.size() == plain.framing.members.size());
  CHECK(solar.framing.bays.size() == plain.framing.bays.size());
}

TEST_CASE("a narrow skylight between two rafters still gets headers") {
  model::RoofModel model = gable_16();
  // Face to face: 112 3/4 to 127 1/4 in.
  model.obstacles = {on_plane("light", model::ObstacleKind::skylight, {112.75, 60}, {14.5, 30})};
  const Framed all = framed(model);
  const auto headers = all.of(MemberKind::header, "main/0");
  REQUIRE(headers.size() == 2);
  CHECK(headers[0]->length_m == near(14.5 * in));
  CHECK(all.of(MemberKind::common, "main/0").size() == 31);
  CHECK(all.bays("main/0").size() == 31);
}

TEST_CASE("a chimney astride the ridge cuts both planes, with a header below on each") {
  model::RoofModel model = gable_16();
  model.obstacles = {chimney("chimney", {120, 132}, {150, 156}, 2)};
  const Framed all = framed(model);
  for (const char* plane : {"main/0", "main/2"}) {
    const auto headers = all.of(MemberKind::header, plane);
    REQUIRE(headers.size() == 1);
    CHECK(all.of(MemberKind::trimmer, plane).size() == 2);
    CHECK(all.of(MemberKind::common, plane).size() == 31);
  }
}

TEST_CASE("two openings side by side or above each other") {
  model::RoofModel model = gable_16();
  // The rafter at 160 in stands between them and is doubled on both sides.
  model.obstacles = {on_plane("a", model::ObstacleKind::skylight, {120, 60}, {30, 30}),
                     on_plane("b", model::ObstacleKind::skylight, {168, 60}, {30, 30})};
  const Framed beside = framed(model);
  CHECK(beside.of(MemberKind::header, "main/0").size() == 4);
  CHECK(beside.of(MemberKind::trimmer, "main/0").size() == 4);
  CHECK(beside.framing.openings.size() == 2);
  // No whole rafter is left between them: framed as one.
  model.obstacles[1].at = {152 * in, 70 * in};
  const Framed joined = framed(model);
  CHECK(joined.of(MemberKind::header, "main/0").size() == 2);
  REQUIRE(joined.framing.openings.size() == 1);
  CHECK(joined.framing.openings[0].id == "a, b");
  // Far enough above: a piece of rafter between two headers.
  model.obstacles[1].at = {120 * in, 110 * in};
  const Framed stacked = framed(model);
  CHECK(stacked.of(MemberKind::header, "main/0").size() == 4);
  CHECK(stacked.of(MemberKind::trimmer, "main/0").size() == 2);
  std::size_t between = 0;
  for (const Member* rafter : stacked.of(MemberKind::common, "main/0")) {
    if (!rafter->foot_header.is_none() && !rafter->head_header.is_none()) {
      ++between;
      CHECK(rafter->length_m == near((110 - 90 - 3) * in));
    }
  }
  CHECK(between == 2);
}

TEST_CASE("law: members, bays and openings cover every plane once") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = support::cases_or(300);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  std::size_t seen = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    const support::Loops loops =
        i % 2 == 0 ? support::random_rectilinear(rng, 3 + static_cast<int>(rng() % 6), 7, in, 180)
                   : support::Loops{support::random_polygon(rng, 4 + rng() % 7, 18.0)};
    model::RoofModel model = support::random_house(rng, loops, {0.2, {4.0, 8.0, 12.0}, 0.3});
    model.parts[0].framing.spacing_m = (rng() % 2 == 0 ? 16 : 24) * in;
    polygon::Box box;
    for (const glm::dvec2 p : model.parts[0].outline) {
      box.add(p);
    }
    for (std::size_t n = 1 + rng() % 4; n > 0; --n) {
      const glm::dvec2 at = box.low + glm::dvec2{share(rng), share(rng)} * (box.high - box.low);
      const double turn = rng() % 2 == 0 ? 0.0 : share(rng) * 6.0;
      const double size = 0.1 + share(rng);
      model::Obstacle obstacle;
      obstacle.id = "o" + std::to_string(n);
      obstacle.kind = static_cast<model::ObstacleKind>(rng() % 3);
      obstacle.clearance_m = 0.08 * share(rng);
      for (const glm::dvec2 c : {glm::dvec2{-0.6, -0.4}, {0.6, -0.4}, {0.6, 0.4}, {-0.6, 0.4}}) {
        obstacle.outline.push_back(at +
                                   size * glm::dvec2{c.x * std::cos(turn) - c.y * std::sin(turn),
                                                     c.x * std::sin(turn) + c.y * std::cos(turn)});
      }
      model.obstacles.push_back(obstacle);
    }
    const Result<surface::Surface> raised = surface::raise(model);
    if (!raised) {
      continue;  // off the roof, over one another, or no roof at all
    }
    ++seen;
    const surface::Surface& surface = raised.value();
    const Framing framing = framing::frame(model, surface);
    for (const std::string& broken : framing::verify(surface, framing)) {
      FAIL(broken);
    }
    std::vector<double> covered(surface.planes.size(), 0.0);
    for (const Member& member : framing.members) {
      if (!member.plane.is_none()) {
        covered[member.plane.value] += polygon::area(member.outline);
      }
    }
    for (const Bay& bay : framing.bays) {
      covered[bay.plane.value] += polygon::area(bay.outline);
    }
    for (const framing::Opening& opening : framing.openings) {
      covered[opening.plane.value] += polygon::area(opening.outline);
    }
    std::vector<double> decks(surface.planes.size(), 0.0);
    for (const surface::BlindDeck& deck : surface.blind_decks) {
      decks[deck.plane.value] += deck.area_m2;  // beneath crickets rafters go on
    }
    for (const PlaneId id : surface.planes.ids()) {
      const bool is_framed = surface.planes[id].cricket.empty();
      REQUIRE(covered[id.value] ==
              Approx(is_framed ? surface.planes[id].area_m2 + decks[id.value] : 0.0).margin(1e-5));
    }
    // No timber runs through what has to stay clear.
    for (const surface::Region& region : surface.regions) {
      for (const Member& member : framing.members) {
        if (member.plane == region.plane) {
          INFO(member.id << " through " << region.id);
          REQUIRE(polygon::overlap_area({member.outline}, {region.clear_uv}) <= 1e-6);
        }
      }
    }
    REQUIRE(attic::divide(model, surface, framing).ok());
  }
  CHECK(seen > cases / 4);
}
