#include "attic/groups.hpp"

#include "attic/decks.hpp"
#include "attic/space.hpp"
#include "base/regions.hpp"

#include <algorithm>
#include <iterator>
#include <numeric>

namespace ridgeward::attic {

namespace {

constexpr double least_m2 = 1e-6;
constexpr double least_m = 1e-3;

polygon::Box box_of(const polygon::Loops& loops) {
  polygon::Box box;
  for (const polygon::Loop& loop : loops) {
    for (const glm::dvec2 p : loop) {
      box.add(p);
    }
  }
  return box;
}

class Grouping {
 public:
  Grouping(const model::RoofModel& model, const surface::Surface& surface)
      : model_(model), surface_(surface), walls_(surface.wall_outlines) {
    group_.resize(walls_.size());
    std::iota(group_.begin(), group_.end(), std::size_t{0});
    meets_.assign(walls_.size() * walls_.size(), 0);
    for (const surface::Line& line : surface.lines) {
      if (!line.left_plane().is_none() && !line.right_plane().is_none()) {
        const std::size_t a = surface.planes[line.left_plane()].part;
        const std::size_t b = surface.planes[line.right_plane()].part;
        meets_[a * walls_.size() + b] = meets_[b * walls_.size() + a] = 1;
      }
    }
    for (const polygon::Loops& walls : walls_) {
      boxes_.push_back(box_of(walls));
    }
  }

  std::vector<Group> run(std::vector<std::string>& assumptions);

 private:
  std::size_t root(std::size_t part) const {
    while (group_[part] != part) {
      part = group_[part];
    }
    return part;
  }
  bool touch(std::size_t a, std::size_t b) const {
    return regions::common_border(walls_[a], walls_[b]) > least_m ||
           polygon::area(regions::common(walls_[a], walls_[b])) > least_m2;
  }
  bool share_plane(std::size_t owner, std::size_t other) const;
  void join();
  polygon::Loops roof_of(const Group& group) const;
  void share_out(std::vector<Group>& groups) const;
  void keep_under_decks(std::vector<Group>& groups) const;
  void tell(const std::vector<Group>& groups, std::vector<std::string>& assumptions) const;

  const model::RoofModel& model_;
  const surface::Surface& surface_;
  const std::vector<polygon::Loops>& walls_;
  std::vector<polygon::Box> boxes_;
  std::vector<std::size_t> group_;   // union-find: the earliest part of each
  std::vector<std::uint8_t> meets_;  // planes of two parts share a line
};

/// Whether a plane of `owner` goes on over the walls of `other`, beyond what its own part covers.
bool Grouping::share_plane(std::size_t owner, std::size_t other) const {
  const polygon::Loops beyond = regions::without(walls_[other], surface_.drip_outlines[owner]);
  const polygon::Box box = box_of(beyond);
  return std::any_of(
      surface_.planes.begin(), surface_.planes.end(), [&](const surface::Plane& plane) {
        if (plane.part != owner) {
          return false;
        }
        const polygon::Loops plan = plan_of(surface_, plane);
        return box_of(plan).touches(box) && polygon::overlap_area(plan, beyond) > least_m2;
      });
}

void Grouping::join() {
  for (std::size_t later = 1; later < walls_.size(); ++later) {
    if (model_.parts[later].valleys == model::Valleys::overlaid) {
      continue;
    }
    for (std::size_t part = 0; part < later; ++part) {
      const std::size_t a = root(part);
      const std::size_t b = root(later);
      if (a != b && boxes_[part].touches(boxes_[later]) && touch(part, later) &&
          (meets_[part * walls_.size() + later] != 0 || share_plane(part, later))) {
        group_[std::max(a, b)] = std::min(a, b);
      }
    }
  }
}

polygon::Loops Grouping::roof_of(const Group& group) const {
  polygon::Loops roof;
  for (const surface::Plane& plane : surface_.planes) {
    if (std::binary_search(group.parts.begin(), group.parts.end(), plane.part)) {
      polygon::Loops plan = plan_of(surface_, plane);
      std::move(plan.begin(), plan.end(), std::back_inserter(roof));
    }
  }
  return roof;
}

/// Each place to the group whose roof is on top there, else to the first that has walls there.
void Grouping::share_out(std::vector<Group>& groups) const {
  std::vector<polygon::Loops> strong;
  strong.reserve(groups.size());
  for (const Group& group : groups) {
    strong.push_back(regions::common(group.outline, roof_of(group)));
  }
  polygon::Loops taken = regions::united(strong);
  for (std::size_t i = 0; i < groups.size(); ++i) {
    const polygon::Loops weak = regions::without(groups[i].outline, taken);
    taken = regions::united(std::vector<polygon::Loops>{taken, groups[i].outline});
    groups[i].outline = regions::united(std::vector<polygon::Loops>{strong[i], weak});
  }
}

/// What lies under a blind deck stays with the part whose deck it is; of several over each other,
/// the lowest, which is told first.
void Grouping::keep_under_decks(std::vector<Group>& groups) const {
  const auto group_of = [&](std::size_t part) {
    return std::find_if(groups.begin(), groups.end(), [&](const Group& group) {
      return std::binary_search(group.parts.begin(), group.parts.end(), part);
    });
  };
  std::vector<Deck> decks = decks_of(surface_);
  std::reverse(decks.begin(), decks.end());
  for (const Deck& deck : decks) {
    const auto below = group_of(deck.owner);
    if (group_of(deck.part) == below) {
      continue;
    }
    std::vector<polygon::Loops> walls;
    for (const std::size_t part : below->parts) {
      walls.push_back(walls_[part]);
    }
    const polygon::Loops kept = regions::common(deck.outline, regions::united(walls));
    for (auto group = groups.begin(); group != groups.end(); ++group) {
      if (group != below) {
        group->outline = regions::without(group->outline, kept);
      }
    }
    below->outline = regions::united(std::vector<polygon::Loops>{below->outline, kept});
  }
}

std::string names(const model::RoofModel& model, const Group& group) {
  std::string all;
  for (const std::size_t part : group.parts) {
    all += (all.empty() ? "" : ", ") + model.parts[part].id;
  }
  return all;
}

void Grouping::tell(const std::vector<Group>& groups, std::vector<std::string>& assumptions) const {
  for (const Group& group : groups) {
    const std::size_t first = group.parts.front();
    if (first == 0) {
      continue;
    }
    const bool is_overlaid = model_.parts[first].valleys == model::Valleys::overlaid;
    assumptions.push_back(
        "The space under " + names(model_, group) + " is a compartment of its own: " +
        (is_overlaid ? "its roof is laid over the earlier one, which keeps the rest."
                     : "its roof meets no earlier one along a framed valley."));
  }
}

std::vector<Group> Grouping::run(std::vector<std::string>& assumptions) {
  join();
  std::vector<Group> groups;
  for (std::size_t part = 0; part < walls_.size(); ++part) {
    if (root(part) != part) {
      continue;
    }
    Group group;
    std::vector<polygon::Loops> outlines;
    for (std::size_t one = part; one < walls_.size(); ++one) {
      if (root(one) == part) {
        group.parts.push_back(one);
        outlines.push_back(walls_[one]);
      }
    }
    group.outline = outlines.size() == 1 ? outlines.front() : regions::united(outlines);
    groups.push_back(std::move(group));
  }
  if (groups.size() > 1) {
    share_out(groups);
    keep_under_decks(groups);
    std::erase_if(groups,
                  [](const Group& group) { return polygon::area(group.outline) <= least_m2; });
    tell(groups, assumptions);
  }
  return groups;
}

}  // namespace

std::vector<Group> groups_of(const model::RoofModel& model, const surface::Surface& surface,
                             std::vector<std::string>& assumptions) {
  if (surface.wall_outlines.size() == 1) {
    return {{{0}, surface.wall_outlines.front()}};
  }
  return Grouping(model, surface).run(assumptions);
}

}  // namespace ridgeward::attic
