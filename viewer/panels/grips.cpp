// What can be taken hold of on the drawing.
#include "panels/hand.hpp"

#include <glm/geometric.hpp>

#include <algorithm>

namespace ridgeward::panels {
namespace {

constexpr double end_reach_px = 9.0;
constexpr double body_reach_px = 6.0;

void add_both_ends(std::vector<Grip>& all, Grip like, glm::dvec3 from, glm::dvec3 to) {
  like.end = Grip::End::from;
  like.at = like.until = from;
  all.push_back(like);
  like.end = Grip::End::to;
  like.at = like.until = to;
  all.push_back(like);
}

void add_whole(std::vector<Grip>& all, Grip like, glm::dvec3 from, glm::dvec3 to) {
  like.end = Grip::End::all;
  like.at = from;
  like.until = to;
  all.push_back(like);
}

/// First and last slot of each run, as the run's two ends.
void add_runs(const Assessment& a, bool wholes, std::vector<Grip>& all) {
  for (const model::IntakeRun& run : a.model.intake) {
    const vents::Slot* first = nullptr;
    const vents::Slot* last = nullptr;
    for (const vents::Slot& slot : a.vents.slots) {
      if (slot.run != run.id) {
        continue;
      }
      const Grip grip{Grip::What::intake, Grip::End::all, run.id, {}, {}};
      if (wholes) {
        add_whole(all, grip, slot.from, slot.to);
      }
      first = first == nullptr || slot.start_m < first->start_m ? &slot : first;
      last = last == nullptr || slot.end_m > last->end_m ? &slot : last;
    }
    if (!wholes && first != nullptr) {
      add_both_ends(all, {Grip::What::intake, Grip::End::all, run.id, {}, {}}, first->from,
                    last->to);
    }
  }
}

void add_exhausts(const Assessment& a, bool wholes, std::vector<Grip>& all) {
  for (const vents::Exhaust& exhaust : a.vents.exhausts) {
    const Grip grip{Grip::What::exhaust, Grip::End::all, exhaust.vent, {}, {}};
    if (wholes) {
      add_whole(all, grip, exhaust.from, exhaust.to);
    } else if (!exhaust.line.is_none()) {
      add_both_ends(all, grip, exhaust.from, exhaust.to);
    }
  }
}

double distance_px(const scene::Lens& lens, const Grip& grip, glm::dvec2 pixel) {
  const auto a = lens.pixel(grip.at);
  const auto b = lens.pixel(grip.until);
  if (!a || !b) {
    return 1e9;
  }
  const glm::dvec2 way = *b - *a;
  const double squared = glm::dot(way, way);
  const double share =
      squared > 0 ? std::clamp(glm::dot(pixel - *a, way) / squared, 0.0, 1.0) : 0.0;
  return glm::distance(*a + share * way, pixel);
}

}  // namespace

std::vector<Grip> grips(const Assessment& assessment) {
  std::vector<Grip> all;
  add_runs(assessment, false, all);
  add_exhausts(assessment, false, all);
  add_runs(assessment, true, all);
  add_exhausts(assessment, true, all);
  for (const model::Obstacle& obstacle : assessment.model.obstacles) {
    const PlaneId plane = assessment.surface.plane_named(obstacle.plane);
    if (!obstacle.plane.empty() && !plane.is_none()) {
      const glm::dvec3 middle =
          assessment.surface.planes[plane].frame.at(obstacle.at + obstacle.size / 2.0);
      add_whole(all, {Grip::What::obstacle, Grip::End::all, obstacle.id, {}, {}}, middle, middle);
    }
  }
  return all;
}

std::optional<Grip> grip_under(const Look& look, const scene::Lens& lens, glm::dvec2 pixel) {
  for (const Grip& grip : grips(look.assessment)) {
    const double reach = grip.end == Grip::End::all && grip.what != Grip::What::obstacle
                             ? body_reach_px
                             : end_reach_px;
    if (distance_px(lens, grip, pixel) <= reach &&
        (scene::is_in_sight(look.scene, lens, grip.at) ||
         scene::is_in_sight(look.scene, lens, (grip.at + grip.until) / 2.0))) {
      return grip;
    }
  }
  return std::nullopt;
}

}  // namespace ridgeward::panels
