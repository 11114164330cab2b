// The stage's laws over random roofs: RIDGEWARD_SEED and RIDGEWARD_CASES choose them.
#include "attic/stage.hpp"
#include "base/polygon.hpp"
#include "framing/cells.hpp"
#include "framing/member_laws.hpp"
#include "framing/stage.hpp"
#include "surface/stage.hpp"

#include "support/plans.hpp"
#include "support/seed.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <map>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

struct Kind {
  const char* name;
  bool is_rectilinear;
  EdgeChoice choice;
};

model::RoofModel random_model(std::mt19937_64& rng, const Kind& kind) {
  const Loops loops = kind.is_rectilinear
                          ? random_rectilinear(rng, 3 + static_cast<int>(rng() % 8), 7, inch, 180)
                          : Loops{random_polygon(rng, 4 + rng() % 9, 18.0)};
  model::RoofModel model = random_house(rng, loops, kind.choice);
  model::Framing& framing = model.parts[0].framing;
  framing.spacing_m = (rng() % 2 == 0 ? 16 : 24) * inch;
  framing.origin_m = static_cast<double>(rng() % 24) * inch;
  return model;
}

/// Areas of members and bays against the plane's, and widths at random heights.
void check_cover(const surface::Surface& surface, const framing::Framing& framing,
                 std::mt19937_64& rng) {
  std::map<std::uint32_t, double> covered;
  for (const framing::Member& member : framing.members) {
    if (!member.plane.is_none()) {
      covered[member.plane.value] += polygon::area(member.outline);
    }
  }
  for (const framing::Bay& bay : framing.bays) {
    covered[bay.plane.value] += polygon::area(bay.outline);
    REQUIRE(bay.clear_width_m > 0.0);
    REQUIRE(bay.length_m >= 0.0);
  }
  for (const PlaneId id : surface.planes.ids()) {
    const surface::Plane& plane = surface.planes[id];
    REQUIRE(covered[id.value] == Approx(plane.area_m2).epsilon(1e-7).margin(1e-7));
    polygon::Loops whole;
    polygon::Box box;
    for (const surface::Loop& loop : plane.loops) {
      whole.push_back(surface::corners_uv(surface, plane.frame, loop));
      for (const glm::dvec2 p : whole.back()) {
        box.add(p);
      }
    }
    for (int i = 0; i < 5; ++i) {
      const double v = std::uniform_real_distribution<double>(box.low.y, box.high.y)(rng);
      double sum = 0.0;
      for (const framing::Member& member : framing.members) {
        if (member.plane == id) {
          sum += polygon::width_at({member.outline}, v);
        }
      }
      for (const framing::Bay& bay : framing.bays) {
        if (bay.plane == id) {
          sum += polygon::width_at({bay.outline}, v);
        }
      }
      REQUIRE(sum == Approx(polygon::width_at(whole, v)).epsilon(1e-7).margin(1e-6));
    }
  }
}

/// Rafters on their spacing that run from one eave to one hip differ by the same length.
void check_jack_differences(const surface::Surface& surface, const framing::Framing& framing,
                            double spacing_m) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::vector<const framing::Member*>> by_hip;
  for (const framing::Member& member : framing.members) {
    if (member.kind == framing::MemberKind::hip_jack &&
        surface.lines[member.foot_line].kind == surface::LineKind::eave) {
      by_hip[{member.plane.value, member.head_line.value}].push_back(&member);
    }
  }
  for (const auto& [where, jacks] : by_hip) {
    double first = -1.0;
    for (std::size_t i = 1; i < jacks.size(); ++i) {
      if (std::abs(jacks[i]->at_m - jacks[i - 1]->at_m - spacing_m) > 1e-9) {
        continue;
      }
      const double difference = std::abs(jacks[i]->line_length_m - jacks[i - 1]->line_length_m);
      if (first < 0.0) {
        first = difference;
      }
      REQUIRE(difference == Approx(first).epsilon(1e-7).margin(1e-8));
    }
  }
}

}  // namespace

TEST_CASE("law: members and bays cover every plane once, jacks differ evenly") {
  const std::vector<Kind> kinds{
      {"rectilinear, one pitch", true, {0.0, {6.0}, 0.0}},
      {"rectilinear, gables, overhangs", true, {0.25, {6.0}, 0.4}},
      {"rectilinear, pitches, gables", true, {0.2, {4.0, 6.0, 8.0, 12.0}, 0.0}},
      {"rectilinear, pitches, overhangs", true, {0.0, {4.0, 6.0, 8.0, 12.0}, 0.3}},
      {"general, pitches", false, {0.0, {3.0, 5.0, 7.5, 11.0}, 0.0}},
      {"general, gables", false, {0.2, {6.0}, 0.2}},
  };
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = cases_or(120);
  std::size_t framed = 0;
  for (const Kind& kind : kinds) {
    for (std::size_t i = 0; i < cases; ++i) {
      INFO(kind.name << ", case " << i << ", seed " << tests::seed());
      const model::RoofModel model = random_model(rng, kind);
      const Result<surface::Surface> raised = surface::raise(model);
      if (!raised) {
        continue;  // open roofs and colliding overhangs are told by raise()
      }
      const surface::Surface& surface = raised.value();
      const framing::Framing framing = framing::frame(model, surface);
      for (const std::string& broken : framing::verify(surface, framing)) {
        FAIL(broken);
      }
      check_cover(surface, framing, rng);
      tests::check_laws(surface, framing);
      check_jack_differences(surface, framing, model.parts[0].framing.spacing_m);
      const Result<attic::Attic> attic = attic::divide(model, surface, framing);
      REQUIRE(attic.ok());
      const attic::Compartment& space = attic.value().compartments[CompartmentId(0U)];
      REQUIRE(space.volume_m3 > 0.0);
      REQUIRE(space.top_m <= space.bottom_m + 100.0);
      ++framed;
    }
  }
  CHECK(framed > cases * kinds.size() / 2);
}

TEST_CASE("a space in any number of pieces has an outline") {
  // Teeth of half a metre along the foot, 20 m up to the head; nothing stands in between.
  constexpr std::size_t teeth = 100000;
  polygon::Loop loop{{static_cast<double>(teeth), 20.0}, {0.0, 20.0}};
  for (std::size_t i = 0; i < teeth; ++i) {
    loop.emplace_back(static_cast<double>(i), 0.0);
    loop.emplace_back(static_cast<double>(i) + 0.5, 0.5);
  }
  loop.emplace_back(static_cast<double>(teeth), 0.0);
  std::vector<framing::BorderEdge> border;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    border.push_back({loop[i], loop[(i + 1) % loop.size()], LineId(i)});
  }
  framing::Cells cells(border, {}, 0.038);
  cells.take_bays();
  REQUIRE(cells.owners() == 1);
  REQUIRE(cells.piece_count() == 2 * teeth);
  const polygon::Loop outline = cells.outline(0);
  CHECK(outline.size() == loop.size());
  CHECK(std::abs(polygon::area(outline) - 19.75 * static_cast<double>(teeth)) < 1e-3);
}
