#pragma once
// A model raised and framed, its laws checked, with its members and bays by name.

#include "framing/stage.hpp"
#include "surface/stage.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

namespace ridgeward::tests {

struct FramedHouse {
  model::RoofModel model;
  surface::Surface surface;
  framing::Framing framing;

  const std::string& plane_name(PlaneId id) const { return surface.planes[id].id; }
  /// Of a kind, on a plane ("" for those that lie on none), in the order of the framing.
  std::vector<const framing::Member*> of(framing::MemberKind kind, const std::string& plane) const {
    std::vector<const framing::Member*> all;
    for (const framing::Member& member : framing.members) {
      if (member.kind == kind &&
          (member.plane.is_none() ? plane.empty() : plane_name(member.plane) == plane)) {
        all.push_back(&member);
      }
    }
    return all;
  }
  std::size_t count(framing::MemberKind kind) const {
    return static_cast<std::size_t>(
        std::count_if(framing.members.begin(), framing.members.end(),
                      [&](const framing::Member& member) { return member.kind == kind; }));
  }
  std::vector<const framing::Bay*> bays(const std::string& plane) const {
    std::vector<const framing::Bay*> all;
    for (const framing::Bay& bay : framing.bays) {
      if (plane_name(bay.plane) == plane) {
        all.push_back(&bay);
      }
    }
    return all;
  }
  const framing::Member& member(const std::string& id) const {
    for (const framing::Member& one : framing.members) {
      if (one.id == id) {
        return one;
      }
    }
    FAIL("no member " << id);
    return framing.members[MemberId(0U)];
  }
  bool assumes(const std::string& words) const {
    return std::any_of(
        framing.assumptions.begin(), framing.assumptions.end(),
        [&](const std::string& line) { return line.find(words) != std::string::npos; });
  }
};

inline FramedHouse framed_house(const model::RoofModel& model) {
  FramedHouse house;
  house.model = model;
  auto raised = surface::raise(model);
  if (!raised) {
    FAIL(raised.faults()[0].code << ": " << raised.faults()[0].what);
  }
  house.surface = std::move(raised).value();
  house.framing = framing::frame(model, house.surface);
  for (const std::string& broken : framing::verify(house.surface, house.framing)) {
    FAIL(broken);
  }
  return house;
}

}  // namespace ridgeward::tests
