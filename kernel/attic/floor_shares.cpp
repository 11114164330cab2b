#include "attic/floor_shares.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <map>

namespace ridgeward::attic {

namespace {

double overlap_m2(const polygon::Loop& convex, const Pieces& pieces) {
  const polygon::Box box = polygon::box_of(convex);
  double sum = 0.0;
  for (const Pieces::One& one : pieces.all) {
    sum += box.touches(one.box) ? polygon::area(polygon::overlap(convex, one.corners)) : 0.0;
  }
  return sum;
}

/// A rafter space beside a rafter and how far up the slope it stands there.
struct Beside {
  const RafterSpace* space = nullptr;
  double length_m = 0.0;
};

class Sharing {
 public:
  Sharing(const Plan& plan, PlaneId plane, const std::vector<RafterSpace>& spaces, Attic& attic)
      : plan_(plan),
        id_(plane),
        plane_(plan.surface.planes[plane]),
        spaces_(spaces),
        attic_(attic) {
    for (const RafterSpace& one : spaces) {
      const framing::Bay& bay = plan.framing.bays[one.bay];
      right_of_[bay.left.value].push_back(&one);
      left_of_[bay.right.value].push_back(&one);
    }
  }

  void run(const framing::PlaneFraming& own);

 private:
  using Neighbours = std::map<std::uint32_t, std::vector<const RafterSpace*>>;

  std::vector<Beside> beside(const Neighbours& all, MemberId member, std::size_t floor) const;
  bool give(const std::vector<Beside>& to, double area_m2);
  void share_member(MemberId id);
  double floor_m2(std::size_t floor) const;
  void share_rest(std::size_t floor);
  void share_strip(std::size_t floor);

  const Plan& plan_;
  PlaneId id_;
  const surface::Plane& plane_;
  const std::vector<RafterSpace>& spaces_;
  Attic& attic_;
  Neighbours left_of_;  ///< of a member
  Neighbours right_of_;
};

std::vector<Beside> Sharing::beside(const Neighbours& all, MemberId member,
                                    std::size_t floor) const {
  std::vector<Beside> found;
  const auto own = all.find(member.value);
  if (own == all.end()) {
    return found;
  }
  const polygon::Box box = polygon::box_of(plan_.framing.members[member].outline);
  for (const RafterSpace* one : own->second) {
    const double length = std::min(box.high.y, one->high_v_m) - std::max(box.low.y, one->low_v_m);
    if (one->floor == floor && length > 0.0) {
      found.push_back({one, length});
    }
  }
  return found;
}

bool Sharing::give(const std::vector<Beside>& to, double area_m2) {
  double whole = 0.0;
  for (const Beside& one : to) {
    whole += one.length_m;
  }
  for (const Beside& one : to) {
    attic_.spaces[one.space->space].floor_area_m2 += area_m2 * one.length_m / whole;
  }
  return whole > 0.0;
}

void Sharing::share_member(MemberId id) {
  const framing::Member& member = plan_.framing.members[id];
  const glm::dvec2 along{plane_.frame.along.x, plane_.frame.along.y};
  const double middle =
      glm::dot(along, glm::dvec2{plane_.frame.origin.x, plane_.frame.origin.y}) + member.at_m;
  const Pieces strip({plan_of(plane_, member.outline)});
  for (std::size_t floor = 0; floor < plan_.floors.size(); ++floor) {
    if (plan_.floors[floor].kind != model::CeilingKind::sloped ||
        !strip.box.touches(plan_.pieces[floor].box)) {
      continue;
    }
    double left_m2 = 0.0;
    double right_m2 = 0.0;
    for (const Pieces::One& one : strip.all) {
      const polygon::Loop left = polygon::clip(one.corners, {-along, -middle});
      const polygon::Loop right = polygon::clip(one.corners, {along, middle});
      left_m2 += left.empty() ? 0.0 : overlap_m2(left, plan_.pieces[floor]);
      right_m2 += right.empty() ? 0.0 : overlap_m2(right, plan_.pieces[floor]);
    }
    const std::vector<Beside> on_left = beside(left_of_, id, floor);
    const std::vector<Beside> on_right = beside(right_of_, id, floor);
    give(on_left.empty() ? on_right : on_left, left_m2);
    give(on_right.empty() ? on_left : on_right, right_m2);
  }
}

/// What the plane covers of a floor.
double Sharing::floor_m2(std::size_t floor) const {
  double sum = 0.0;
  for (const RoofPiece& roof : plan_.roof) {
    for (const Pieces::One& one : roof.pieces.all) {
      sum += roof.plane == id_ ? overlap_m2(one.corners, plan_.pieces[floor]) : 0.0;
    }
  }
  return sum;
}

/// What is left after all rafters: under headers, openings and rafters that stand alone.
void Sharing::share_rest(std::size_t floor) {
  const double rest_m2 = floor_m2(floor);
  double given_m2 = 0.0;
  for (const RafterSpace& one : spaces_) {
    given_m2 += one.floor == floor ? attic_.spaces[one.space].floor_area_m2 : 0.0;
  }
  for (const RafterSpace& one : spaces_) {
    if (one.floor == floor && given_m2 > 0.0) {
      attic_.spaces[one.space].floor_area_m2 *= rest_m2 / given_m2;
    }
  }
}

/// A strip that a divider cuts off a ceiling, with a rafter over it and no bay, goes to the spaces
/// on the other side: no part of a ceiling may be lost to the areas that the code asks for.
void Sharing::share_strip(std::size_t floor) {
  std::vector<Beside> other_side;
  for (const RafterSpace& one : spaces_) {
    if (one.floor == floor) {
      return;
    }
    if (plan_.floors[one.floor].where == plan_.floors[floor].where) {
      other_side.push_back({&one, one.high_v_m - one.low_v_m});
    }
  }
  give(other_side, floor_m2(floor));
}

void Sharing::run(const framing::PlaneFraming& own) {
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    const framing::Member& member = plan_.framing.members[MemberId(i)];
    if (!member.outline.empty() && member.kind != framing::MemberKind::header) {
      share_member(MemberId(i));
    }
  }
  for (std::size_t floor = 0; floor < plan_.floors.size(); ++floor) {
    if (plan_.floors[floor].kind == model::CeilingKind::sloped) {
      share_rest(floor);
    }
  }
  for (std::size_t floor = 0; floor < plan_.floors.size(); ++floor) {
    if (plan_.floors[floor].kind == model::CeilingKind::sloped) {
      share_strip(floor);
    }
  }
}

}  // namespace

void share_floor(const Plan& plan, PlaneId plane, const std::vector<RafterSpace>& spaces,
                 Attic& attic) {
  if (!spaces.empty()) {
    Sharing(plan, plane, spaces, attic).run(plan.framing.planes[plane]);
  }
}

}  // namespace ridgeward::attic
