#include "solid/net.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace ridgeward::solid {

namespace {

/// One run of a face along an edge.
struct Use {
  std::size_t face = 0;
  std::size_t loop = 0;
  std::size_t step = 0;
  bool forward = true;
};

using Key = std::pair<std::uint32_t, std::uint32_t>;

/// Angle around the edge at which each face leaves it, counted from the first use.
std::vector<double> angles_about(const Facets& facets, Key key, const std::vector<Use>& uses) {
  const glm::dvec3 axis = glm::normalize(facets.points[key.second] - facets.points[key.first]);
  std::vector<glm::dvec3> inward;
  inward.reserve(uses.size());
  for (const Use& use : uses) {
    inward.push_back(glm::cross(facets.faces[use.face].normal, use.forward ? axis : -axis));
  }
  const glm::dvec3 x = glm::normalize(inward.front() - glm::dot(inward.front(), axis) * axis);
  const glm::dvec3 y = glm::cross(axis, x);
  std::vector<double> angles;
  angles.reserve(uses.size());
  for (const glm::dvec3& way : inward) {
    angles.push_back(std::atan2(glm::dot(way, y), glm::dot(way, x)));
  }
  return angles;
}

/// The solid lies behind a face: anticlockwise of a face that runs backward, clockwise of one that
/// runs forward. So each sector of it reaches from a backward use to the next forward one.
std::vector<std::pair<std::size_t, std::size_t>> sectors(const Facets& facets, Key key,
                                                         const std::vector<Use>& uses) {
  const std::vector<double> angles = angles_about(facets, key, uses);
  std::vector<std::uint8_t> taken(uses.size(), 0);
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for (std::size_t i = 0; i < uses.size(); ++i) {
    if (uses[i].forward) {
      continue;
    }
    std::size_t best = uses.size();
    double least = HUGE_VAL;
    for (std::size_t k = 0; k < uses.size(); ++k) {
      double turn = angles[k] - angles[i];
      turn += turn <= 0.0 ? 2.0 * M_PI : 0.0;
      if (uses[k].forward && taken[k] == 0 && turn < least) {
        least = turn;
        best = k;
      }
    }
    if (best < uses.size()) {
      taken[best] = 1;
      pairs.emplace_back(i, best);
    }
  }
  return pairs;
}

}  // namespace

void Facets::add(std::vector<std::uint32_t> loop, const glm::dvec3& normal) {
  loop.erase(std::unique(loop.begin(), loop.end()), loop.end());
  while (loop.size() > 1 && loop.front() == loop.back()) {
    loop.pop_back();
  }
  if (loop.size() >= 3) {
    faces.push_back({{std::move(loop)}, normal});
  }
}

Net net_of(const Facets& facets) {
  Net net;
  net.points = facets.points;
  std::map<Key, std::vector<Use>> uses_of;
  for (std::size_t f = 0; f < facets.faces.size(); ++f) {
    const Facets::Face& face = facets.faces[f];
    Net::Face& own = net.faces.emplace_back();
    own.normal = face.normal;
    for (std::size_t l = 0; l < face.loops.size(); ++l) {
      const std::vector<std::uint32_t>& loop = face.loops[l];
      own.loops.emplace_back(loop.size());
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const std::uint32_t a = loop[i];
        const std::uint32_t b = loop[(i + 1) % loop.size()];
        uses_of[{std::min(a, b), std::max(a, b)}].push_back({f, l, i, a < b});
      }
    }
  }
  const auto share = [&](Key key, const std::vector<Use>& uses) {
    const auto edge = static_cast<std::uint32_t>(net.edges.size());
    net.edges.push_back({key.first, key.second});
    for (const Use& use : uses) {
      net.faces[use.face].loops[use.loop][use.step] = {edge, use.forward};
    }
  };
  for (const auto& [key, uses] : uses_of) {
    const auto pairs =
        uses.size() > 2 ? sectors(facets, key, uses) : decltype(sectors(facets, key, uses)){};
    if (pairs.empty() || pairs.size() * 2 != uses.size()) {
      share(key, uses);  // two, or not closed: the check will say so
      continue;
    }
    for (const auto& [one, other] : pairs) {
      share(key, {uses[one], uses[other]});
    }
  }
  return net;
}

}  // namespace ridgeward::solid
