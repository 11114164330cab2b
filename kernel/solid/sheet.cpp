#include "solid/sheet.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::solid {

namespace {

/// Sides that turn by less than this count as in line.
constexpr double least_turn = 1e-4;
/// Sides in line whose bottoms lie closer than this go on in each other.
constexpr double near_m = 1e-7;

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

/// One side on its way down.
struct Side {
  glm::dvec2 along{0.0};
  double lean = 0.0;
  glm::dvec2 inward() const { return {-along.y, along.x}; }
  std::vector<std::uint32_t> left;  ///< points of its left border, from the top
  std::vector<std::uint32_t> right;
};

/// The corner at the left end of a side.
struct Corner {
  glm::dvec2 at{0.0};
  double depth_m = 0.0;     ///< at which it was there
  glm::dvec2 speed{0.0};    ///< of it for each unit of depth
  std::uint32_t point = 0;  ///< the last point that it passed
  glm::dvec2 at_depth(double depth) const { return at + (depth - depth_m) * speed; }
};

/// Follows one loop down: an event a side that dies out.
class Descent {
 public:
  Descent(const surface::Frame& frame, double thickness_m, Facets& facets)
      : frame_(frame), thickness_m_(thickness_m), facets_(facets) {}

  /// False when the loop closes on itself.
  bool run(const SheetLoop& loop, std::vector<std::uint32_t>& top,
           std::vector<std::uint32_t>& bottom);

 private:
  std::uint32_t add_point(glm::dvec2 uv, double depth_m) {
    facets_.points.push_back(frame_.at(uv) - depth_m * frame_.normal);
    return static_cast<std::uint32_t>(facets_.points.size() - 1);
  }
  std::size_t before(std::size_t i) const { return (i + sides_.size() - 1) % sides_.size(); }
  std::size_t after(std::size_t i) const { return (i + 1) % sides_.size(); }
  bool in_line(const Side& one, const Side& other) const {
    return std::abs(cross(one.along, other.along)) < least_turn &&
           glm::dot(one.along, other.along) > 0.0;
  }
  bool is_step(const Side& one, const Side& other) const {
    return in_line(one, other) && std::abs(one.lean - other.lean) * thickness_m_ > near_m;
  }
  glm::dvec2 speed_between(const Side& one, const Side& other) const;
  void start(const SheetLoop& loop, std::vector<std::uint32_t>& top);
  bool step_down();
  void close(std::size_t side);
  void remove(std::size_t side, double depth_m);

  const surface::Frame& frame_;
  double thickness_m_;
  Facets& facets_;
  std::vector<Side> sides_;
  std::vector<Corner> corners_;  ///< at the left end of each side
};

/// Moves along both sides' borders at once.
glm::dvec2 Descent::speed_between(const Side& one, const Side& other) const {
  if (in_line(one, other)) {
    return 0.5 * (one.lean * one.inward() + other.lean * other.inward());
  }
  const glm::dvec2 a = one.inward();
  const glm::dvec2 b = other.inward();
  return (one.lean * glm::dvec2{b.y, -b.x} - other.lean * glm::dvec2{a.y, -a.x}) / cross(a, b);
}

/// Sides in line that lean differently get a square one between them that starts with no length.
void Descent::start(const SheetLoop& loop, std::vector<std::uint32_t>& top) {
  std::vector<Side> given;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec2 way = loop[(i + 1) % loop.size()].at - loop[i].at;
    given.push_back({way / glm::length(way), loop[i].lean, {}, {}});
  }
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Side& last = given[(i + given.size() - 1) % given.size()];
    const std::uint32_t point = add_point(loop[i].at, 0.0);
    top.push_back(point);
    if (is_step(last, given[i])) {
      const glm::dvec2 across = last.lean < given[i].lean ? last.inward() : -last.inward();
      sides_.push_back({across, 0.0, {point}, {}});
      corners_.push_back({loop[i].at, 0.0, {}, point});
    }
    sides_.push_back(given[i]);
    sides_.back().left = {point};
    corners_.push_back({loop[i].at, 0.0, {}, point});
  }
  for (std::size_t i = 0; i < sides_.size(); ++i) {
    sides_[i].right = {corners_[after(i)].point};
    corners_[i].speed = speed_between(sides_[before(i)], sides_[i]);
  }
}

/// The border of a side from its top: right to left along the top, down, back along the bottom, up.
void Descent::close(std::size_t side) {
  const Side& own = sides_[side];
  std::vector<std::uint32_t> loop = own.left;
  loop.insert(loop.end(), own.right.rbegin(), own.right.rend());
  const glm::dvec2 inward = own.inward();
  const glm::dvec3 flat = inward.x * frame_.along + inward.y * frame_.up;
  facets_.add(std::move(loop), -glm::normalize(flat + own.lean * frame_.normal));
}

void Descent::remove(std::size_t side, double depth_m) {
  const glm::dvec2 at =
      0.5 * (corners_[side].at_depth(depth_m) + corners_[after(side)].at_depth(depth_m));
  const std::uint32_t point = add_point(at, depth_m);
  sides_[side].left.push_back(point);
  close(side);
  const std::size_t last = before(side);
  const std::size_t next = after(side);
  sides_[last].right.push_back(point);
  sides_[next].left.push_back(point);
  corners_[next] = {at, depth_m, speed_between(sides_[last], sides_[next]), point};
  sides_.erase(sides_.begin() + static_cast<std::ptrdiff_t>(side));
  corners_.erase(corners_.begin() + static_cast<std::ptrdiff_t>(side));
}

/// Takes out the side that dies out first; false when none does above the bottom.
bool Descent::step_down() {
  std::size_t first = sides_.size();
  double least = thickness_m_ * (1.0 - 1e-9);
  for (std::size_t i = 0; i < sides_.size(); ++i) {
    const Corner& left = corners_[i];
    const Corner& right = corners_[after(i)];
    const double depth = std::max(left.depth_m, right.depth_m);
    const double length = glm::dot(right.at_depth(depth) - left.at_depth(depth), sides_[i].along);
    const double rate = glm::dot(right.speed - left.speed, sides_[i].along);
    const double dies_at = rate < 0.0 ? depth + std::max(0.0, length) / -rate : HUGE_VAL;
    if (dies_at < least) {
      least = dies_at;
      first = i;
    }
  }
  if (first == sides_.size()) {
    return false;
  }
  remove(first, least);
  return true;
}

bool Descent::run(const SheetLoop& loop, std::vector<std::uint32_t>& top,
                  std::vector<std::uint32_t>& bottom) {
  start(loop, top);
  while (step_down()) {
    for (std::size_t i = 0; i < sides_.size(); ++i) {
      if (is_step(sides_[before(i)], sides_[i]) && corners_[i].depth_m > 0.0) {
        return false;
      }
    }
    if (sides_.size() < 3) {
      return false;
    }
  }
  for (std::size_t i = 0; i < sides_.size(); ++i) {
    bottom.push_back(add_point(corners_[i].at_depth(thickness_m_), thickness_m_));
  }
  for (std::size_t i = 0; i < sides_.size(); ++i) {
    sides_[i].left.push_back(bottom[i]);
    sides_[i].right.push_back(bottom[after(i)]);
    close(i);
  }
  return true;
}

/// Corners at one place are one point: loops that touch share it.
void join_points(Facets& facets) {
  std::vector<std::uint32_t> same;
  for (std::uint32_t i = 0; i < facets.points.size(); ++i) {
    same.push_back(i);
    for (std::uint32_t k = 0; k < i && same[i] == i; ++k) {
      if (glm::length(facets.points[k] - facets.points[i]) < near_m) {
        same[i] = same[k];
      }
    }
  }
  Facets joined;
  joined.points = std::move(facets.points);
  for (Facets::Face& face : facets.faces) {
    for (std::vector<std::uint32_t>& loop : face.loops) {
      std::transform(loop.begin(), loop.end(), loop.begin(),
                     [&](std::uint32_t point) { return same[point]; });
    }
    if (face.loops.size() == 1) {
      joined.add(std::move(face.loops.front()), face.normal);
    } else {
      joined.faces.push_back(std::move(face));
    }
  }
  facets = std::move(joined);
}

}  // namespace

std::optional<Facets> sheet(const surface::Frame& frame, const std::vector<SheetLoop>& loops,
                            double thickness_m) {
  Facets facets;
  std::vector<std::vector<std::uint32_t>> tops;
  Facets::Face bottom;
  bottom.normal = -frame.normal;
  for (const SheetLoop& loop : loops) {
    std::vector<std::uint32_t> low;
    if (!Descent(frame, thickness_m, facets).run(loop, tops.emplace_back(), low)) {
      return std::nullopt;
    }
    bottom.loops.emplace_back(low.rbegin(), low.rend());
  }
  facets.faces.push_back({tops, frame.normal});
  facets.faces.push_back(std::move(bottom));
  join_points(facets);
  return facets;
}

}  // namespace ridgeward::solid
