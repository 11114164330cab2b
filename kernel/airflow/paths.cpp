#include "airflow/paths.hpp"

#include "units/length.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double least_flow_m3s = 1e-9;
constexpr double apart_m = 4 * units::foot_m;  ///< of paths along a ridge
constexpr std::size_t most_along = 16;
constexpr double over_deck_m = 0.03;
constexpr double under_deck_m = 0.08;
constexpr double into_attic_m = 0.9;
constexpr double reach_m = 0.35;  ///< how far a line goes outside the roof

class Drawer {
 public:
  Drawer(const Site& site, const Airflow& air, const CaseAir& one)
      : site_(site), air_(air), one_(one) {}
  std::vector<Path> draw();

 private:
  void through_slot(std::size_t opening);
  void through_exhaust(std::size_t opening);
  void through_ceiling(std::size_t opening);
  void along_bays();
  double away_m(const vents::Slot& slot, BayId bay) const;
  std::vector<BayShare> nearest_bays(std::size_t opening) const;
  void add(std::size_t opening, BayId bay, double share, std::vector<glm::dvec3> inward);

  const Site& site_;
  const Airflow& air_;
  const CaseAir& one_;
  std::vector<Path> all_;
};

/// `inward` from outside in; turned where the air goes out.
void Drawer::add(std::size_t opening, BayId bay, double share, std::vector<glm::dvec3> inward) {
  const OpeningFlow& flow = one_.openings[opening];
  const Way& way = air_.openings[opening];
  Path path;
  path.flow_m3s = std::abs(flow.flow_m3s) * share;
  if (path.flow_m3s < least_flow_m3s) {
    return;
  }
  path.kind = flow.flow_m3s > 0.0 ? Path::Kind::comes_in : Path::Kind::goes_out;
  path.opening = opening;
  path.bay = bay;
  path.speed_ms = flow.speed_ms;
  const bool is_from_attic = path.kind == Path::Kind::goes_out;
  const double before =
      way.role == Role::leak ? one_.conditions.inside_c : one_.conditions.outside_c;
  path.temperature_c = is_from_attic ? one_.spaces[way.compartment].air_c : before;
  if (is_from_attic) {
    std::reverse(inward.begin(), inward.end());
  }
  path.points = std::move(inward);
  all_.push_back(std::move(path));
}

/// How far a bay's middle lies from a slot along the eave; 0 under it.
double Drawer::away_m(const vents::Slot& slot, BayId id) const {
  const framing::Bay& bay = site_.framing.bays[id];
  const double u = 0.5 * (bay.from_u_m + bay.to_u_m);
  return std::max({slot.start_m - u, u - slot.end_m, 0.0});
}

/// Several slots may feed one soffit: each is drawn to the bays that lie nearest to it, so that not
/// every slot is drawn to every bay.
std::vector<BayShare> Drawer::nearest_bays(std::size_t opening) const {
  const Way& way = air_.openings[opening];
  if (way.overhang.is_none()) {
    return way.bays;
  }
  std::vector<BayShare> own;
  double sum = 0.0;
  const BayShare* closest = nullptr;
  const vents::Slot& slot = site_.vents.slots[way.slot];
  for (const BayShare& bay : way.bays) {
    const double away = away_m(slot, bay.bay);
    closest = closest == nullptr || away < away_m(slot, closest->bay) ? &bay : closest;
    const bool is_nearest =
        std::none_of(air_.openings.begin(), air_.openings.end(), [&](const Way& other) {
          if (other.overhang != way.overhang || other.compartment != way.compartment) {
            return false;
          }
          const double others = away_m(site_.vents.slots[other.slot], bay.bay);
          return others < away || (others == away && other.slot < way.slot);
        });
    if (is_nearest) {
      own.push_back(bay);
      sum += bay.share;
    }
  }
  if (own.empty() && closest != nullptr) {
    return {{closest->bay, 1.0}};
  }
  for (BayShare& bay : own) {
    bay.share /= sum;
  }
  return own;
}

void Drawer::through_slot(std::size_t opening) {
  const Way& way = air_.openings[opening];
  const vents::Slot& slot = site_.vents.slots[way.slot];
  const surface::Plane& plane = site_.surface.planes[slot.plane];
  const surface::Frame& frame = plane.frame;
  const double slot_v = slot.lower_v_m() + 0.5 * slot.width_m;
  const double wall_v = slot.drip_v_m + slot.wall_line_m +
                        site_.model.parts[plane.part].wall_thickness_m * plane.pitch.slope_factor();
  const double inner_v = std::max(slot_v, wall_v) + 0.1;
  glm::dvec3 out{frame.normal.x, frame.normal.y, 0.0};
  out = glm::length(out) > 0.0 ? glm::normalize(out) : out;
  const bool is_low = slot.position == model::Position::eave;
  for (const BayShare& passed : nearest_bays(opening)) {
    const framing::Bay& bay = site_.framing.bays[passed.bay];
    const double low = std::max(bay.from_u_m, slot.start_m);
    const double high = std::min(bay.to_u_m, slot.end_m);
    const double bay_u = low < high ? 0.5 * (low + high) : 0.5 * (bay.from_u_m + bay.to_u_m);
    double u = std::clamp(bay_u, slot.start_m, slot.end_m);
    const auto at = [&u, &frame](double v, double over) {
      return frame.at({u, v}) + over * frame.normal;
    };
    std::vector<glm::dvec3> points;
    if (is_low) {
      points.push_back(at(slot.drip_v_m, 0.0) + 0.5 * reach_m * out - glm::dvec3{0, 0, reach_m});
      points.push_back(at(slot.drip_v_m, over_deck_m) + 0.1 * out);
    } else {
      points.push_back(at(slot_v + 2.0 * reach_m, reach_m));
      points.push_back(at(slot_v + reach_m, over_deck_m));
    }
    points.push_back(at(slot_v, over_deck_m));
    points.push_back(at(slot_v, -under_deck_m));
    if (u != bay_u) {  // along the soffit to a bay beyond the slot
      u = bay_u;
      points.push_back(at(slot_v, -under_deck_m));
    }
    points.push_back(at(inner_v, -under_deck_m));
    points.push_back(at(inner_v + into_attic_m, -2.0 * under_deck_m));
    add(opening, passed.bay, passed.share, std::move(points));
  }
}

void Drawer::through_exhaust(std::size_t opening) {
  const Way& way = air_.openings[opening];
  const vents::Exhaust& exhaust = site_.vents.exhausts[way.exhaust];
  const double length = glm::length(exhaust.to - exhaust.from);
  const std::size_t count =
      std::clamp<std::size_t>(static_cast<std::size_t>(length / apart_m), 1, most_along);
  const glm::dvec3 up{0.0, 0.0, 1.0};
  const glm::dvec3 away =
      exhaust.plane.is_none() ? up : site_.surface.planes[exhaust.plane].frame.normal;
  for (std::size_t i = 0; i < count; ++i) {
    const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(count);
    const glm::dvec3 at = exhaust.from + share * (exhaust.to - exhaust.from);
    add(opening, BayId(), 1.0 / static_cast<double>(count),
        {at + reach_m * away, at, at - 0.2 * up, at - into_attic_m * up});
  }
}

void Drawer::through_ceiling(std::size_t opening) {
  const glm::dvec3 at = air_.openings[opening].at;
  add(opening, BayId(), 1.0,
      {at - glm::dvec3{0, 0, reach_m}, at, at + glm::dvec3{0, 0, 2.0 * reach_m}});
}

/// Under the deck of each rafter space, foot to head or the other way.
void Drawer::along_bays() {
  for (const BayFlow& flow : one_.bays) {
    const framing::Bay& bay = site_.framing.bays[flow.bay];
    const attic::BayPlace& place = site_.attic.bays[flow.bay];
    if (std::abs(flow.flow_m3s) < least_flow_m3s) {
      continue;
    }
    for (const attic::Stretch& stretch : place.stretches) {
      if (site_.attic.spaces[stretch.space].kind != attic::SpaceKind::rafter_space) {
        continue;
      }
      const surface::Frame& frame = site_.surface.planes[bay.plane].frame;
      const double u = 0.5 * (bay.from_u_m + bay.to_u_m);
      Path path;
      path.kind = Path::Kind::along_bay;
      path.bay = flow.bay;
      path.flow_m3s = std::abs(flow.flow_m3s);
      path.speed_ms = flow.speed_ms;
      path.temperature_c = flow.temperature_c;
      path.points = {frame.at({u, stretch.low_v_m}) - under_deck_m * frame.normal,
                     frame.at({u, stretch.high_v_m}) - under_deck_m * frame.normal};
      if (flow.flow_m3s < 0.0) {
        std::reverse(path.points.begin(), path.points.end());
      }
      all_.push_back(std::move(path));
    }
  }
}

std::vector<Path> Drawer::draw() {
  for (std::size_t i = 0; i < air_.openings.size(); ++i) {
    if (!air_.openings[i].slot.is_none()) {
      through_slot(i);
    } else if (!air_.openings[i].exhaust.is_none()) {
      through_exhaust(i);
    } else {
      through_ceiling(i);
    }
  }
  along_bays();
  return std::move(all_);
}

}  // namespace

std::vector<Path> paths(const Site& site, const Airflow& air, const CaseAir& one) {
  return Drawer(site, air, one).draw();
}

}  // namespace ridgeward::airflow
