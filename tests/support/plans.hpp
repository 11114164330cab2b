#pragma once
// Models made in code, and random plans. Header-only, for tests and benchmarks.

#include "model/roof_model.hpp"

#include <glm/vec2.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <random>
#include <string>
#include <vector>

namespace ridgeward::support {

inline constexpr double ft = 0.3048;
inline constexpr double inch = 0.0254;

/// RIDGEWARD_SEED, or `otherwise`.
inline std::uint64_t seed_or(std::uint64_t otherwise) {
  const char* text = std::getenv("RIDGEWARD_SEED");
  return text != nullptr ? std::strtoull(text, nullptr, 10) : otherwise;
}
/// RIDGEWARD_CASES, or `otherwise`: the same tests run for a night. RIDGEWARD_CASES_AT_MOST cuts
/// either down, where code runs slowly.
inline std::size_t cases_or(std::size_t otherwise) {
  const char* text = std::getenv("RIDGEWARD_CASES");
  const std::size_t asked = text != nullptr ? std::strtoull(text, nullptr, 10) : otherwise;
  const char* limit = std::getenv("RIDGEWARD_CASES_AT_MOST");
  return limit != nullptr ? std::min<std::size_t>(asked, std::strtoull(limit, nullptr, 10)) : asked;
}

/// Whether `count` of `cases` drawn ones can come from a share of at least `least`: by three
/// standard deviations of the binomial law, so that few cases say no more than few cases can.
inline bool is_share_at_least(double least, std::size_t count, std::size_t cases) {
  const double expected = least * static_cast<double>(cases);
  return static_cast<double>(count) >= expected - 3.0 * std::sqrt(expected * (1.0 - least));
}

inline model::Edge eave(double rise_in_12, double overhang_m = 0.0) {
  model::Edge edge;
  edge.pitch = units::Pitch::from_rise_run(rise_in_12, 12.0);
  edge.overhang_m = overhang_m;
  return edge;
}
inline model::Edge gable(double overhang_m = 0.0) {
  model::Edge edge;
  edge.kind = model::EdgeKind::gable;
  edge.overhang_m = overhang_m;
  return edge;
}

/// One part named "main", corners in `unit_m`, plates at 0.
inline model::RoofModel house(const std::vector<glm::dvec2>& corners,
                              const std::vector<model::Edge>& edges, double unit_m = ft) {
  model::RoofModel m;
  model::Part part;
  part.id = "main";
  part.plate_m = 0.0;
  for (const glm::dvec2& c : corners) {
    part.outline.push_back(c * unit_m);
  }
  part.edges = edges;
  m.parts.push_back(part);
  return m;
}

using Loops = std::vector<std::vector<glm::dvec2>>;

/// Whether cells touch only across sides, so that the outline has no pinched corner.
inline bool is_unpinched(const std::vector<std::vector<int>>& grid) {
  for (std::size_t y = 0; y + 1 < grid.size(); ++y) {
    for (std::size_t x = 0; x + 1 < grid[y].size(); ++x) {
      const int a = grid[y][x];
      const int b = grid[y][x + 1];
      const int c = grid[y + 1][x];
      const int d = grid[y + 1][x + 1];
      if (a == d && b == c && a != b) {
        return false;
      }
    }
  }
  return true;
}

/// Outlines of the cells that are 1: outer ones counter-clockwise, holes clockwise.
inline Loops trace_cells(const std::vector<std::vector<int>>& grid) {
  const int h = static_cast<int>(grid.size());
  const int w = static_cast<int>(grid[0].size());
  const auto cell = [&](int x, int y) {
    return x >= 0 && y >= 0 && x < w && y < h
               ? grid[static_cast<std::size_t>(y)][static_cast<std::size_t>(x)]
               : 0;
  };
  // Right-hand side of a border walked with the cells on its left.
  const int dx[4] = {1, 0, -1, 0};
  const int dy[4] = {0, 1, 0, -1};
  const auto is_border = [&](int x, int y, int d) {
    // left and right cells of the unit step from (x, y) in direction d
    const int left = d == 0   ? cell(x, y)
                     : d == 1 ? cell(x - 1, y)
                     : d == 2 ? cell(x - 1, y - 1)
                              : cell(x, y - 1);
    const int right = d == 0   ? cell(x, y - 1)
                      : d == 1 ? cell(x, y)
                      : d == 2 ? cell(x - 1, y)
                               : cell(x - 1, y - 1);
    return left == 1 && right == 0;
  };
  std::vector<char> seen(static_cast<std::size_t>((w + 1) * (h + 1) * 4), 0);
  const auto key = [&](int x, int y, int d) {
    return static_cast<std::size_t>(((y * (w + 1)) + x) * 4 + d);
  };
  Loops loops;
  for (int y = 0; y <= h; ++y) {
    for (int x = 0; x <= w; ++x) {
      for (int d = 0; d < 4; ++d) {
        if (seen[key(x, y, d)] != 0 || !is_border(x, y, d)) {
          continue;
        }
        std::vector<glm::dvec2> loop;
        int cx = x;
        int cy = y;
        int cd = d;
        do {
          seen[key(cx, cy, cd)] = 1;
          cx += dx[cd];
          cy += dy[cd];
          for (const int turn : {1, 0, 3}) {
            const int nd = (cd + turn) % 4;
            if (is_border(cx, cy, nd)) {
              if (turn != 0) {
                loop.emplace_back(cx, cy);
              }
              cd = nd;
              break;
            }
          }
        } while (cx != x || cy != y || cd != d);
        loops.push_back(loop);
      }
    }
  }
  return loops;
}

/// A house plan of `cells` grown cells on a grid of random widths, whole steps of `step_m`.
inline Loops random_rectilinear(std::mt19937_64& rng, int cells, int size, double step_m,
                                int most_steps) {
  for (;;) {
    std::vector<std::vector<int>> grid(static_cast<std::size_t>(size),
                                       std::vector<int>(static_cast<std::size_t>(size), 0));
    const auto at = [&](int x, int y) -> int& {
      return grid[static_cast<std::size_t>(y)][static_cast<std::size_t>(x)];
    };
    std::uniform_int_distribution<int> any(1, size - 2);
    at(size / 2, size / 2) = 1;
    for (int made = 1, tries = 0; made < cells && tries < 4000; ++tries) {
      const int x = any(rng);
      const int y = any(rng);
      if (at(x, y) == 0 && (at(x - 1, y) + at(x + 1, y) + at(x, y - 1) + at(x, y + 1)) > 0) {
        at(x, y) = 1;
        if (is_unpinched(grid)) {
          ++made;
        } else {
          at(x, y) = 0;
        }
      }
    }
    std::uniform_int_distribution<int> steps(1, most_steps);
    std::vector<double> xs(1, 0.0);
    std::vector<double> ys(1, 0.0);
    for (int i = 0; i < size; ++i) {
      xs.push_back(xs.back() + steps(rng) * step_m);
      ys.push_back(ys.back() + steps(rng) * step_m);
    }
    Loops loops = trace_cells(grid);
    for (auto& loop : loops) {
      for (glm::dvec2& p : loop) {
        p = {xs[static_cast<std::size_t>(p.x)], ys[static_cast<std::size_t>(p.y)]};
      }
    }
    // The outer loop first.
    for (std::size_t i = 0; i < loops.size(); ++i) {
      double twice = 0.0;
      for (std::size_t k = 0; k < loops[i].size(); ++k) {
        const glm::dvec2& a = loops[i][k];
        const glm::dvec2& b = loops[i][(k + 1) % loops[i].size()];
        twice += a.x * b.y - a.y * b.x;
      }
      if (twice > 0) {
        std::swap(loops[0], loops[i]);
        break;
      }
    }
    return loops;
  }
}

inline double cross_of(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

inline bool cross_each_other(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c, glm::dvec2 d) {
  const double o1 = cross_of(b - a, c - a);
  const double o2 = cross_of(b - a, d - a);
  const double o3 = cross_of(d - c, a - c);
  const double o4 = cross_of(d - c, b - c);
  return o1 * o2 <= 0 && o3 * o4 <= 0;
}

/// A simple polygon of `n` corners grown by pulling points out of random sides.
inline std::vector<glm::dvec2> random_polygon(std::mt19937_64& rng, std::size_t n, double size_m) {
  std::uniform_real_distribution<double> any(0.0, size_m);
  for (;;) {
    std::vector<glm::dvec2> p{{any(rng), any(rng)}, {any(rng), any(rng)}, {any(rng), any(rng)}};
    if (cross_of(p[1] - p[0], p[2] - p[0]) < 0) {
      std::swap(p[1], p[2]);
    }
    if (cross_of(p[1] - p[0], p[2] - p[0]) < 0.02 * size_m * size_m) {
      continue;
    }
    for (std::size_t tries = 0; p.size() < n && tries < 400 * n; ++tries) {
      const std::size_t i = std::uniform_int_distribution<std::size_t>(0, p.size() - 1)(rng);
      const glm::dvec2 a = p[i];
      const glm::dvec2 b = p[(i + 1) % p.size()];
      const glm::dvec2 q{any(rng), any(rng)};
      bool is_free = std::abs(cross_of(b - a, q - a)) > 1e-3 * size_m * size_m / double(n);
      for (std::size_t k = 0; k < p.size() && is_free; ++k) {
        const glm::dvec2 c = p[k];
        const glm::dvec2 d = p[(k + 1) % p.size()];
        if (k == i) {
          continue;
        }
        const bool shares_a = (k + 1) % p.size() == i;
        const bool shares_b = k == (i + 1) % p.size();
        is_free = !(!shares_a && cross_each_other(a, q, c, d)) &&
                  !(!shares_b && cross_each_other(q, b, c, d));
        if (shares_a) {
          is_free = is_free && !cross_each_other(q, b, c, d) &&
                    std::abs(cross_of(q - a, c - a)) > 1e-5 * size_m * size_m;
        }
        if (shares_b) {
          is_free = is_free && !cross_each_other(a, q, c, d) &&
                    std::abs(cross_of(q - b, d - b)) > 1e-5 * size_m * size_m;
        }
      }
      // No corner sharper than a few degrees.
      if (is_free) {
        const double la = std::hypot(q.x - a.x, q.y - a.y);
        const double lb = std::hypot(q.x - b.x, q.y - b.y);
        is_free = std::abs(cross_of(a - q, b - q)) > 0.05 * la * lb && la > 1e-3 && lb > 1e-3;
      }
      if (is_free) {
        p.insert(p.begin() + static_cast<std::ptrdiff_t>(i) + 1, q);
      }
    }
    // A point pulled past a corner can turn the polygon over.
    double twice = 0.0;
    for (std::size_t k = 0; k < p.size(); ++k) {
      twice += cross_of(p[k], p[(k + 1) % p.size()]);
    }
    if (p.size() == n && twice > 0) {
      return p;
    }
  }
}

struct EdgeChoice {
  double gable_share = 0.0;
  std::vector<double> rises{6.0};
  double overhang_m = 0.0;
};

/// A model over `loops` with random pitches and gables.
inline model::RoofModel random_house(std::mt19937_64& rng, const Loops& loops,
                                     const EdgeChoice& choice) {
  model::RoofModel m;
  model::Part part;
  part.id = "main";
  part.plate_m = 0.0;
  const auto edges = [&](std::size_t n) {
    std::vector<model::Edge> result;
    for (std::size_t i = 0; i < n; ++i) {
      const bool stands = std::uniform_real_distribution<double>(0, 1)(rng) < choice.gable_share;
      const double rise =
          choice.rises[std::uniform_int_distribution<std::size_t>(0, choice.rises.size() - 1)(rng)];
      result.push_back(stands ? gable(choice.overhang_m) : eave(rise, choice.overhang_m));
    }
    return result;
  };
  part.outline = loops[0];
  part.edges = edges(loops[0].size());
  for (std::size_t i = 1; i < loops.size(); ++i) {
    part.holes.push_back({loops[i], edges(loops[i].size())});
  }
  m.parts.push_back(part);
  return m;
}

}  // namespace ridgeward::support
