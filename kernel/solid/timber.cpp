#include "solid/timber.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace ridgeward::solid {

namespace {

/// Nearer to a cut than this lies on it.
constexpr double near_m = 1e-9;
constexpr double same_m = 1e-6;

/// The part of a face that is kept; where the cut runs is gathered in `rim`.
std::vector<glm::dvec3> kept(const std::vector<glm::dvec3>& loop, const Cut& cut,
                             std::vector<glm::dvec3>& rim) {
  std::vector<glm::dvec3> result;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec3& a = loop[i];
    const glm::dvec3& b = loop[(i + 1) % loop.size()];
    const double over_a = glm::dot(cut.normal, a) - cut.offset;
    const double over_b = glm::dot(cut.normal, b) - cut.offset;
    if (over_a <= near_m) {
      result.push_back(a);
    }
    if (std::abs(over_a) <= near_m) {
      rim.push_back(a);
    } else if ((over_a < -near_m && over_b > near_m) || (over_a > near_m && over_b < -near_m)) {
      result.push_back(a + over_a / (over_a - over_b) * (b - a));
      rim.push_back(result.back());
    }
  }
  return result;
}

/// Points in one plane around their middle, anticlockwise seen against `normal`.
void order_around(std::vector<glm::dvec3>& rim, const glm::dvec3& normal) {
  glm::dvec3 middle{0.0};
  for (const glm::dvec3& p : rim) {
    middle += p / static_cast<double>(rim.size());
  }
  const glm::dvec3 other = std::abs(normal.z) < 0.9 ? glm::dvec3{0, 0, 1} : glm::dvec3{1, 0, 0};
  const glm::dvec3 x = glm::normalize(glm::cross(other, normal));
  const glm::dvec3 y = glm::cross(normal, x);
  std::sort(rim.begin(), rim.end(), [&](const glm::dvec3& l, const glm::dvec3& r) {
    return std::atan2(glm::dot(l - middle, y), glm::dot(l - middle, x)) <
           std::atan2(glm::dot(r - middle, y), glm::dot(r - middle, x));
  });
}

/// Each point once.
void drop_repeats(std::vector<glm::dvec3>& points) {
  std::vector<glm::dvec3> once;
  for (const glm::dvec3& p : points) {
    if (std::none_of(once.begin(), once.end(),
                     [&](const glm::dvec3& q) { return glm::length(p - q) < same_m; })) {
      once.push_back(p);
    }
  }
  points = std::move(once);
}

}  // namespace

Cut cut_at(const glm::dvec3& point, const glm::dvec3& normal) {
  return {normal, glm::dot(normal, point)};
}

Timber::Timber(const glm::dvec3& origin, const std::array<glm::dvec3, 3>& edges)
    : Timber({origin, origin + edges[0], origin + edges[0] + edges[1], origin + edges[1]},
             edges[2]) {}

Timber::Timber(const std::vector<glm::dvec3>& base, const glm::dvec3& way) {
  std::vector<glm::dvec3> top;
  top.reserve(base.size());
  for (const glm::dvec3& p : base) {
    top.push_back(p + way);
  }
  glm::dvec3 normal{0.0};
  for (std::size_t i = 1; i + 1 < base.size(); ++i) {
    normal += glm::cross(base[i] - base[0], base[i + 1] - base[0]);
  }
  normal = glm::normalize(normal);
  faces_.push_back({-normal, {base.rbegin(), base.rend()}});
  for (std::size_t i = 0; i < base.size(); ++i) {
    const std::size_t k = (i + 1) % base.size();
    faces_.push_back(
        {glm::normalize(glm::cross(base[k] - base[i], way)), {base[i], base[k], top[k], top[i]}});
  }
  faces_.push_back({normal, std::move(top)});
}

void Timber::keep(const Cut& cut) {
  std::vector<glm::dvec3> rim;
  std::vector<Face> left;
  bool is_cut = false;
  for (const Face& face : faces_) {
    std::vector<glm::dvec3> loop = kept(face.loop, cut, rim);
    is_cut = is_cut || std::any_of(face.loop.begin(), face.loop.end(), [&](const glm::dvec3& p) {
               return glm::dot(cut.normal, p) - cut.offset > near_m;
             });
    if (loop.size() >= 3) {
      left.push_back({face.normal, std::move(loop)});
    }
  }
  if (!is_cut) {
    return;
  }
  faces_ = std::move(left);
  drop_repeats(rim);
  if (rim.size() >= 3) {
    order_around(rim, cut.normal);
    faces_.push_back({cut.normal, std::move(rim)});
  }
}

Facets Timber::facets() const {
  Facets facets;
  for (const Face& face : faces_) {
    std::vector<std::uint32_t> loop;
    for (const glm::dvec3& p : face.loop) {
      const auto same =
          std::find_if(facets.points.begin(), facets.points.end(),
                       [&](const glm::dvec3& q) { return glm::length(p - q) < same_m; });
      loop.push_back(static_cast<std::uint32_t>(same - facets.points.begin()));
      if (same == facets.points.end()) {
        facets.points.push_back(p);
      }
    }
    facets.add(std::move(loop), face.normal);
  }
  return facets;
}

}  // namespace ridgeward::solid
