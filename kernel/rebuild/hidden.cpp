#include "rebuild/hidden.hpp"

#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <numbers>
#include <optional>

namespace ridgeward::rebuild {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double beyond_m = 0.1;
constexpr std::size_t most_planes = 16;
constexpr std::size_t most_mirrors = 6;
constexpr double most_sides = 16.0;
/// Pitches that differ by less are one.
constexpr double same_rise = 0.02;
/// Directions that differ by less are one.
constexpr double same_angle = pi / 180.0 * 2.0;
constexpr double least_side_m = 0.01;

/// A plane that bears an eave.
struct Bearer {
  Slope slope;
  std::size_t plane = 0;  ///< itself, or the one it is like
  double eave_m = 0.0;    ///< height of its eave
  bool is_seen = false;   ///< its eave
};

glm::dvec2 downhill(const Slope& slope) { return -slope.gradient / slope.rise_per_run(); }

double angle_of(const Slope& slope) {
  const glm::dvec2 down = downhill(slope);
  return std::atan2(down.y, down.x);
}

/// Between two angles, 0 to pi.
double between(double a, double b) { return std::abs(std::remainder(a - b, 2.0 * pi)); }

bool have_one_pitch(const Slope& a, const Slope& b) {
  return std::abs(a.rise_per_run() - b.rise_per_run()) <= same_rise * a.rise_per_run();
}

// ---- The planes that bear eaves. ----

/// What is seen of a plane.
struct Seen {
  double lowest_m = std::numeric_limits<double>::infinity();
  double eave_m = 0.0;
  double eave_length_m = 0.0;  ///< the longest eave
};

bool is_real(const Border& border) { return !border.is_joint && !border.is_covered; }

std::map<std::size_t, Seen> seen_of(const Faces& all, const Group& group,
                                    const std::vector<BorderLoop>& borders) {
  std::map<std::size_t, Seen> seen;
  for (const std::size_t face : group) {
    const Slope& slope = all.slope_of(face);
    if (slope.is_level()) {
      continue;
    }
    Seen& one = seen[all.faces[face].plane];
    for (const glm::dvec2 p : all.faces[face].plan.front()) {
      one.lowest_m = std::min(one.lowest_m, slope.z(p));
    }
  }
  for (const BorderLoop& loop : borders) {
    for (const Border& border : loop) {
      const Slope& slope = all.slope_of(border.face);
      const double length = glm::distance(border.a, border.b);
      if (!is_real(border) || fall_of(slope, border.a, border.b) != Fall::toward) {
        continue;
      }
      Seen& one = seen[all.faces[border.face].plane];
      if (length > one.eave_length_m) {
        one.eave_length_m = length;
        one.eave_m = slope.z((border.a + border.b) / 2.0);
      }
    }
  }
  return seen;
}

/// Height of the eaves that are hidden.
double hidden_eave_m(const Faces& all, const std::map<std::size_t, Seen>& seen) {
  double longest = 0.0;
  double height = std::numeric_limits<double>::infinity();
  for (const auto& [plane, one] : seen) {
    if (one.eave_length_m > longest) {
      longest = one.eave_length_m;
      height = one.eave_m;
    }
  }
  if (longest > 0.0) {
    return height;
  }
  for (const auto& [plane, one] : seen) {
    height = std::min(height, one.lowest_m - beyond_m * all.planes[plane].rise_per_run());
  }
  return height;
}

/// Planes above a break bear no eave: one of their direction beneath them does.
std::vector<Bearer> bearers_of(const Faces& all, const std::map<std::size_t, Seen>& seen,
                               double tolerance_m) {
  const double hidden_m = hidden_eave_m(all, seen);
  std::vector<Bearer> bearers;
  for (const auto& [plane, one] : seen) {
    const Slope& slope = all.planes[plane];
    const bool is_seen = one.eave_length_m > 0.0;
    const bool is_above = !is_seen && std::any_of(seen.begin(), seen.end(), [&](const auto& other) {
      return other.second.eave_length_m > 0.0 &&
             between(angle_of(all.planes[other.first]), angle_of(slope)) < same_angle;
    });
    if (is_above) {
      continue;
    }
    double eave_m = is_seen ? one.eave_m : hidden_m;
    if (!is_seen && one.lowest_m < eave_m - 2.0 * tolerance_m) {
      eave_m = one.lowest_m - beyond_m * slope.rise_per_run();
    }
    bearers.push_back({slope, plane, eave_m, is_seen});
  }
  return bearers;
}

// ---- Planes that are not seen at all. ----

/// The point nearest to all planes, in plan and height; none where they do not fix one.
std::optional<glm::dvec3> apex_of(const std::vector<Bearer>& bearers) {
  glm::dmat3 normal(0.0);
  glm::dvec3 right(0.0);
  for (const Bearer& one : bearers) {
    const glm::dvec3 row(-one.slope.gradient, 1.0);
    normal += glm::outerProduct(row, row);
    right += row * one.slope.height_m;
  }
  if (bearers.size() < 3 || std::abs(glm::determinant(normal)) < 1e-6) {
    return std::nullopt;
  }
  return glm::inverse(normal) * right;
}

/// The angle between neighbours around a point, a whole part of the full turn; none where the
/// planes do not stand at multiples of one.
std::optional<double> turn_of(const std::vector<Bearer>& bearers) {
  double least = 2.0 * pi;
  for (const Bearer& a : bearers) {
    for (const Bearer& b : bearers) {
      const double angle = between(angle_of(a.slope), angle_of(b.slope));
      least = angle > same_angle ? std::min(least, angle) : least;
    }
  }
  const double sides = std::round(2.0 * pi / least);
  if (sides < 3.0 || sides > most_sides) {
    return std::nullopt;
  }
  const double turn = 2.0 * pi / sides;
  const double first = angle_of(bearers.front().slope);
  const bool is_regular = std::all_of(bearers.begin(), bearers.end(), [&](const Bearer& one) {
    return std::abs(std::remainder(angle_of(one.slope) - first, turn)) <= same_angle;
  });
  return is_regular ? std::optional(turn) : std::nullopt;
}

/// With all fellows around the point in which the planes meet; empty where there is no such point.
std::vector<Bearer> turned(const std::vector<Bearer>& bearers, double tolerance_m) {
  const std::optional<glm::dvec3> apex = apex_of(bearers);
  const std::optional<double> turn = turn_of(bearers);
  if (!apex || !turn) {
    return {};
  }
  const Bearer& first = bearers.front();
  const bool is_turret = std::all_of(bearers.begin(), bearers.end(), [&](const Bearer& one) {
    const double off = std::abs(one.slope.z(glm::dvec2(*apex)) - apex->z) * one.slope.cosine();
    return have_one_pitch(first.slope, one.slope) && off <= 2.0 * tolerance_m;
  });
  if (!is_turret) {
    return {};
  }
  std::vector<Bearer> whole = bearers;
  const auto sides = static_cast<int>(std::lround(2.0 * pi / *turn));
  for (int side = 1; side < sides; ++side) {
    const double way = angle_of(first.slope) + side * *turn;
    const bool is_there = std::any_of(bearers.begin(), bearers.end(), [&](const Bearer& one) {
      return between(angle_of(one.slope), way) <= same_angle;
    });
    if (!is_there) {
      Bearer fellow = first;
      fellow.slope.gradient =
          -first.slope.rise_per_run() * glm::dvec2(std::cos(way), std::sin(way));
      fellow.slope.height_m = apex->z - glm::dot(fellow.slope.gradient, glm::dvec2(*apex));
      fellow.is_seen = false;
      whole.push_back(fellow);
    }
  }
  return whole.size() > bearers.size() ? whole : std::vector<Bearer>{};
}

/// An upright plane in the plan: dot(normal, p) = offset.
struct Mirror {
  glm::dvec2 normal{0.0};
  double offset_m = 0.0;

  Slope image(const Slope& slope) const {
    Slope other;
    other.gradient = slope.gradient - 2.0 * glm::dot(slope.gradient, normal) * normal;
    const glm::dvec2 at = offset_m * normal;
    other.height_m = slope.z(at) - glm::dot(other.gradient, at);
    return other;
  }
};

/// With the images that are not seen; empty where there are none or a plane contradicts.
std::vector<Bearer> mirrored(const std::vector<Bearer>& bearers, const Mirror& mirror,
                             double tolerance_m) {
  std::vector<Bearer> whole = bearers;
  for (const Bearer& one : bearers) {
    Bearer image = one;
    image.slope = mirror.image(one.slope);
    image.is_seen = false;
    const glm::dvec2 at = mirror.offset_m * mirror.normal;
    const auto same = std::find_if(bearers.begin(), bearers.end(), [&](const Bearer& other) {
      return between(angle_of(other.slope), angle_of(image.slope)) <= same_angle;
    });
    if (same == bearers.end()) {
      whole.push_back(image);
    } else if (std::abs(same->slope.z(at) - image.slope.z(at)) > 10.0 * tolerance_m) {
      return {};
    }
  }
  return whole.size() > bearers.size() ? whole : std::vector<Bearer>{};
}

/// Those about which the most planes have an image first.
std::vector<std::vector<Bearer>> all_mirrored(const std::vector<Bearer>& bearers,
                                              double tolerance_m) {
  std::vector<std::vector<Bearer>> found;
  for (std::size_t i = 0; i < bearers.size(); ++i) {
    for (std::size_t j = i + 1; j < bearers.size(); ++j) {
      const Slope& a = bearers[i].slope;
      const Slope& b = bearers[j].slope;
      const glm::dvec2 across = a.gradient - b.gradient;
      const double length = glm::length(across);
      if (!have_one_pitch(a, b) || length < same_rise) {
        continue;
      }
      const Mirror mirror{across / length, (b.height_m - a.height_m) / length};
      std::vector<Bearer> whole = mirrored(bearers, mirror, tolerance_m);
      if (!whole.empty()) {
        found.push_back(std::move(whole));
      }
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.size() < b.size(); });
  found.resize(std::min(found.size(), most_mirrors));
  return found;
}

// ---- From planes to an outline. ----

/// The roof lies where dot(out, p) <= offset.
struct Limit {
  glm::dvec2 out{0.0};
  double offset_m = 0.0;
  Side side;  ///< what stands there; its ends are open
};

Limit limit_of(const Bearer& one) {
  Limit limit;
  limit.out = downhill(one.slope);
  // Down from where the plane is at height 0 over the origin of the plan.
  limit.offset_m = (one.slope.height_m - one.eave_m) / one.slope.rise_per_run();
  limit.side.fall = Fall::toward;
  limit.side.plane = one.plane;
  limit.side.height_m = one.eave_m;
  return limit;
}

/// Rakes and tops that are seen.
std::vector<Limit> standing_limits(const Faces& all, const std::vector<BorderLoop>& borders) {
  std::vector<Limit> limits;
  for (const BorderLoop& loop : borders) {
    for (const Border& border : loop) {
      const Fall fall = fall_of(all.slope_of(border.face), border.a, border.b);
      if (is_real(border) && fall != Fall::toward) {
        Limit limit;
        limit.out = glm::normalize(glm::dvec2(border.b.y - border.a.y, border.a.x - border.b.x));
        limit.offset_m = glm::dot(limit.out, border.a);
        limit.side.fall = fall;
        limit.side.plane = all.faces[border.face].plane;
        limits.push_back(limit);
      }
    }
  }
  return limits;
}

/// Standing edges where the limits leave the outline open for half a turn or more.
void close(std::vector<Limit>& limits, const std::vector<glm::dvec2>& corners) {
  std::vector<double> angles;
  angles.reserve(limits.size());
  for (const Limit& limit : limits) {
    angles.push_back(std::atan2(limit.out.y, limit.out.x));
  }
  std::sort(angles.begin(), angles.end());
  const auto stand = [&](double angle) {
    Limit limit;
    limit.out = {std::cos(angle), std::sin(angle)};
    limit.offset_m = -std::numeric_limits<double>::infinity();
    for (const glm::dvec2 p : corners) {
      limit.offset_m = std::max(limit.offset_m, glm::dot(limit.out, p) + beyond_m);
    }
    limits.push_back(limit);
  };
  for (std::size_t i = 0; i < angles.size(); ++i) {
    const double next = i + 1 < angles.size() ? angles[i + 1] : angles[0] + 2.0 * pi;
    const double gap = next - angles[i];
    if (gap < pi - same_angle) {
      continue;
    }
    const double middle = angles[i] + gap / 2.0;
    stand(middle);
    if (gap > 1.3 * pi) {
      stand(middle - pi / 2.0);
      stand(middle + pi / 2.0);
    }
  }
}

/// A corner, and the limit along which the outline goes on from it; -1 for none.
struct Corner {
  glm::dvec2 at{0.0};
  std::ptrdiff_t limit = -1;
};

void cut(std::vector<Corner>& outline, const Limit& limit, std::ptrdiff_t number) {
  std::vector<Corner> rest;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Corner& a = outline[i];
    const Corner& b = outline[(i + 1) % outline.size()];
    const double off_a = glm::dot(limit.out, a.at) - limit.offset_m;
    const double off_b = glm::dot(limit.out, b.at) - limit.offset_m;
    if (off_a <= 0.0) {
      rest.push_back(a);
    }
    if ((off_a <= 0.0) != (off_b <= 0.0)) {
      const glm::dvec2 at = a.at + (b.at - a.at) * (off_a / (off_a - off_b));
      rest.push_back({at, off_a <= 0.0 ? number : a.limit});
    }
  }
  outline = std::move(rest);
}

/// What lies within all limits; empty where that is nothing or without end.
SideLoop within(const std::vector<Limit>& limits, const std::vector<glm::dvec2>& corners) {
  polygon::Box box;
  for (const glm::dvec2 p : corners) {
    box.add(p);
  }
  const glm::dvec2 size = box.high - box.low + glm::dvec2(10.0);
  const glm::dvec2 low = box.low - size;
  const glm::dvec2 high = box.high + size;
  std::vector<Corner> outline{{low}, {{high.x, low.y}}, {high}, {{low.x, high.y}}};
  for (std::size_t i = 0; i < limits.size(); ++i) {
    cut(outline, limits[i], static_cast<std::ptrdiff_t>(i));
  }
  SideLoop sides;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    if (outline[i].limit < 0) {
      return {};
    }
    Side side = limits[static_cast<std::size_t>(outline[i].limit)].side;
    side.a = outline[i].at;
    side.b = outline[(i + 1) % outline.size()].at;
    if (length_of(side) > least_side_m) {
      sides.push_back(side);
    }
  }
  for (std::size_t i = 0; i < sides.size(); ++i) {
    sides[i].b = sides[(i + 1) % sides.size()].a;
  }
  return sides.size() < 3 ? SideLoop{} : sides;
}

}  // namespace

std::vector<SideLoop> completions_of(const Faces& all, const Group& group, double tolerance_m) {
  const std::vector<BorderLoop> borders = borders_of(all, group, tolerance_m);
  const std::map<std::size_t, Seen> seen = seen_of(all, group, borders);
  if (seen.size() < 2 || seen.size() > most_planes) {
    return {};
  }
  const std::vector<Bearer> bearers = bearers_of(all, seen, tolerance_m);
  std::vector<std::vector<Bearer>> choices{bearers, turned(bearers, tolerance_m)};
  std::vector<std::vector<Bearer>> mirrors = all_mirrored(bearers, tolerance_m);
  std::move(mirrors.begin(), mirrors.end(), std::back_inserter(choices));
  std::vector<glm::dvec2> corners;
  for (const std::size_t face : group) {
    const polygon::Loop& loop = all.faces[face].plan.front();
    corners.insert(corners.end(), loop.begin(), loop.end());
  }
  std::vector<SideLoop> outlines;
  for (const std::vector<Bearer>& choice : choices) {
    std::vector<Limit> limits = standing_limits(all, borders);
    for (const Bearer& one : choice) {
      limits.push_back(limit_of(one));
    }
    close(limits, corners);
    SideLoop outline = choice.empty() ? SideLoop{} : within(limits, corners);
    if (!outline.empty()) {
      outlines.push_back(std::move(outline));
    }
  }
  return outlines;
}

}  // namespace ridgeward::rebuild
