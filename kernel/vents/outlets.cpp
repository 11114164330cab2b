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

/// Where a bay opens along a vent, from the vent's start.
struct Open {
  const attic::Contact* contact = nullptr;
  double from_m = 0.0;
  double to_m = 0.0;
};

/// The bays of one plane along a vent, in order.
std::vector<Open> opened(const Site& site, const std::vector<const attic::Contact*>& contacts,
                         const Exhaust& exhaust, PlaneId plane) {
  const glm::dvec3 way = glm::normalize(exhaust.to - exhaust.from);
  std::vector<Open> all;
  for (const attic::Contact* contact : contacts) {
    if (site.framing.bays[contact->bay].plane == plane) {
      const double a = glm::dot(contact->from - exhaust.from, way);
      const double b = glm::dot(contact->to - exhaust.from, way);
      all.push_back({contact, std::min(a, b), std::max(a, b)});
    }
  }
  std::sort(all.begin(), all.end(),
            [](const Open& l, const Open& r) { return l.from_m < r.from_m; });
  return all;
}

/// How far beyond its opening a bay is served: to the middle of the rafter up to the next one.
/// REQUIRES that there is a rafter beside it, of which the line takes `across` of its thickness.
double beyond_m(const Site& site, const Open& one, double gap_m, double across) {
  const framing::Bay& bay = site.framing.bays[one.contact->bay];
  double half_m = 0.0;
  for (const MemberId member : {bay.left, bay.right}) {
    if (!member.is_none()) {
      half_m = std::max(half_m, 0.5 * site.framing.members[member].thickness_m / across);
    }
  }
  return std::clamp(0.5 * gap_m, 0.0, half_m);
}

/// Spaces of one bay that open onto the same stretch, under ceilings that meet across the bay: they
/// share it evenly, this one among them.
double sharing(const std::vector<Open>& all, const Open& one) {
  return static_cast<double>(std::count_if(all.begin(), all.end(), [&](const Open& other) {
    return other.contact->bay == one.contact->bay && other.from_m < one.to_m - near_m &&
           one.from_m < other.to_m - near_m;
  }));
}

/// What the bays of one plane get of a vent along their line.
void share_side(const Site& site, const model::Product& product, const std::vector<Open>& all,
                Exhaust& exhaust, PlaneId plane) {
  const glm::dvec3 along = exhaust.to - exhaust.from;
  const double length = glm::length(along);
  const double across =
      std::max(near_m, std::abs(glm::dot(site.surface.planes[plane].frame.along, along)) / length);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const double low = std::max(all[i].from_m, 0.0);
    const double high = std::min(all[i].to_m, length);
    if (high - low <= near_m) {
      continue;
    }
    const double before = i > 0 ? all[i].from_m - all[i - 1].to_m : 0.0;
    const double after = i + 1 < all.size() ? all[i + 1].from_m - all[i].to_m : 0.0;
    const double served = std::min(all[i].to_m + beyond_m(site, all[i], after, across), length) -
                          std::max(all[i].from_m - beyond_m(site, all[i], before, across), 0.0);
    ExhaustShare share;
    share.space = all[i].contact->space;
    share.bay = all[i].contact->bay;
    share.compartment = site.attic.spaces[share.space].compartment;
    const double sharers = sharing(all, all[i]);
    share.open_length_m = (high - low) / sharers;
    share.low_m =
        std::min((exhaust.from + low / length * along).z, (exhaust.from + high / length * along).z);
    share.free_area_m2 = 0.5 * product.free_area_per_length_m * served;
    if (product.slot.width_m > 0.0) {
      share.free_area_m2 = std::min(share.free_area_m2, product.slot.width_m * (high - low));
    }
    share.free_area_m2 /= sharers;
    exhaust.shares.push_back(share);
  }
}

void share_along(const Site& site, const model::Product& product, const ByLine& contacts,
                 Exhaust& exhaust) {
  const auto here = contacts.find(exhaust.line.value);
  if (here == contacts.end() || glm::length(exhaust.to - exhaust.from) <= near_m) {
    return;
  }
  const surface::Line& line = site.surface.lines[exhaust.line];
  bool is_over_attic = false;
  for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
    const std::size_t before = exhaust.shares.size();
    if (!plane.is_none()) {
      share_side(site, product, opened(site, here->second, exhaust, plane), exhaust, plane);
    }
    is_over_attic = is_over_attic || exhaust.shares.size() == before;
  }
  if (!exhaust.shares.empty() && is_over_attic && !exhaust.compartment.is_none()) {
    ExhaustShare side;
    const glm::dvec3 middle = 0.5 * (exhaust.from + exhaust.to);
    side.space = site.attic.attic_under({middle.x, middle.y});
    side.compartment = exhaust.compartment;
    side.open_length_m = exhaust.open_length_m;
    side.low_m = std::min(exhaust.from.z, exhaust.to.z);
    side.free_area_m2 = 0.5 * exhaust.free_area_m2;
    exhaust.shares.push_back(side);
  }
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
