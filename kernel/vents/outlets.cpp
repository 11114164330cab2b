// Which rafter spaces an exhaust opens: a vent along a ridge or hip bay by bay, one on a plane the
// bay that it stands over.
#include "base/polygon.hpp"
#include "vents/pieces.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-6;

using ByLine = std::map<std::uint32_t, std::vector<const attic::Contact*>>;

/// What the bay at `contact` gets of a vent along its line, on one side; none without overlap.
ExhaustShare share_at(const Site& site, const model::Product& product, const Exhaust& exhaust,
                      const attic::Contact& contact) {
  const double length = glm::length(exhaust.to - exhaust.from);
  const glm::dvec3 way = (exhaust.to - exhaust.from) / length;
  const double a = glm::dot(contact.from - exhaust.from, way);
  const double b = glm::dot(contact.to - exhaust.from, way);
  const double low = std::min(a, b);
  const double high = std::max(a, b);
  ExhaustShare share;
  share.open_length_m = std::min(high, length) - std::max(low, 0.0);
  if (share.open_length_m <= near_m) {
    return {};
  }
  // To the middle of the rafters beside it; measured along the line, which a hip runs askew.
  const framing::Bay& bay = site.framing.bays[contact.bay];
  const surface::Frame& frame = site.surface.planes[bay.plane].frame;
  const double across = std::abs(glm::dot(frame.along, way));
  const auto half = [&](MemberId member) {
    return member.is_none() || across <= near_m
               ? 0.0
               : 0.5 * site.framing.members[member].thickness_m / across;
  };
  const bool is_turned = glm::dot(frame.along, way) < 0.0;
  const double before = half(is_turned ? bay.right : bay.left);
  const double after = half(is_turned ? bay.left : bay.right);
  const double served = std::min(high + after, length) - std::max(low - before, 0.0);
  const auto height = [&](double at) { return (exhaust.from + at * way).z; };
  share.low_m = std::min(height(std::max(low, 0.0)), height(std::min(high, length)));
  share.space = contact.space;
  share.bay = contact.bay;
  share.compartment = site.attic.spaces[contact.space].compartment;
  share.free_area_m2 = 0.5 * product.free_area_per_length_m * served;
  if (product.slot.width_m > 0.0) {
    share.free_area_m2 = std::min(share.free_area_m2, product.slot.width_m * share.open_length_m);
  }
  return share;
}

void share_along(const Site& site, const model::Product& product, const ByLine& contacts,
                 Exhaust& exhaust) {
  const auto here = contacts.find(exhaust.line.value);
  if (here == contacts.end() || glm::length(exhaust.to - exhaust.from) <= near_m) {
    return;
  }
  const surface::Line& line = site.surface.lines[exhaust.line];
  std::vector<ExhaustShare> shares;
  bool is_over_attic = false;
  for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
    const std::size_t before = shares.size();
    for (const attic::Contact* contact : here->second) {
      if (site.framing.bays[contact->bay].plane == plane) {
        shares.push_back(share_at(site, product, exhaust, *contact));
      }
    }
    std::erase_if(shares, [](const ExhaustShare& share) { return share.space.is_none(); });
    is_over_attic = is_over_attic || shares.size() == before;
  }
  if (shares.empty()) {
    return;
  }
  if (is_over_attic && !exhaust.compartment.is_none()) {
    ExhaustShare side;
    const glm::dvec3 middle = 0.5 * (exhaust.from + exhaust.to);
    side.space = site.attic.attic_under({middle.x, middle.y});
    side.compartment = exhaust.compartment;
    side.open_length_m = exhaust.open_length_m;
    side.free_area_m2 = 0.5 * exhaust.free_area_m2;
    side.low_m = std::min(exhaust.from.z, exhaust.to.z);
    shares.push_back(side);
  }
  exhaust.shares = std::move(shares);
}

void share_on_plane(const Site& site, Exhaust& exhaust) {
  const framing::PlaneFraming& own = site.framing.planes[exhaust.plane];
  const glm::dvec2 uv = site.surface.planes[exhaust.plane].frame.uv(exhaust.from);
  for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
    const framing::Bay& bay = site.framing.bays[BayId(i)];
    const SpaceId space =
        uv.x >= bay.from_u_m && uv.x <= bay.to_u_m && polygon::contains(bay.outline, uv)
            ? site.attic.space_at(BayId(i), uv.y)
            : SpaceId();
    if (!space.is_none()) {
      exhaust.shares = {{space, BayId(i), site.attic.spaces[space].compartment, 0.0,
                         exhaust.free_area_m2, exhaust.from.z}};
      return;
    }
  }
}

/// Of all its shares when they agree; none otherwise.
CompartmentId common_compartment(const Exhaust& exhaust) {
  const CompartmentId first = exhaust.shares.front().compartment;
  const bool is_one =
      std::all_of(exhaust.shares.begin(), exhaust.shares.end(),
                  [&](const ExhaustShare& share) { return share.compartment == first; });
  return is_one ? first : CompartmentId();
}

}  // namespace

bool serves(const Exhaust& exhaust, CompartmentId compartment) {
  return free_area_over_m2(exhaust, compartment) > 0.0;
}

bool serves_any(const Exhaust& exhaust) {
  return !exhaust.compartment.is_none() || !exhaust.shares.empty();
}

double free_area_over_m2(const Exhaust& exhaust, CompartmentId compartment) {
  if (exhaust.shares.empty()) {
    return exhaust.compartment == compartment ? exhaust.free_area_m2 : 0.0;
  }
  double sum = 0.0;
  for (const ExhaustShare& share : exhaust.shares) {
    sum += share.compartment == compartment ? share.free_area_m2 : 0.0;
  }
  return sum;
}

void share_exhausts(const Site& site, Vents& vents) {
  ByLine contacts;
  for (const attic::Contact& contact : site.attic.contacts) {
    contacts[contact.line.value].push_back(&contact);
  }
  if (contacts.empty()) {
    return;  // no rafter spaces
  }
  for (Exhaust& exhaust : vents.exhausts) {
    if (!exhaust.line.is_none()) {
      share_along(site, site.catalogue.products.at(exhaust.product), contacts, exhaust);
    } else if (exhaust.compartment.is_none() && !exhaust.plane.is_none()) {
      share_on_plane(site, exhaust);
    }
    if (exhaust.shares.empty()) {
      continue;
    }
    exhaust.free_area_m2 = 0.0;
    for (const ExhaustShare& share : exhaust.shares) {
      exhaust.free_area_m2 += share.free_area_m2;
    }
    exhaust.compartment = common_compartment(exhaust);
  }
}

}  // namespace ridgeward::vents
