#include "ifc/clipping.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <string>
#include <utility>

namespace ridgeward::ifc {
namespace {

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;
using importing::Point;
using importing::scaled;

constexpr std::size_t most_pieces = 500;
constexpr int most_cuts = 100;

/// What lies on the side of `origin` that `normal` points to.
struct Half {
  Point origin;
  Point normal;
  double over(const Point& p) const { return dot(minus(p, origin), normal); }
};

struct Flank {
  Loop ring;
  bool is_between = false;  ///< two pieces of the body
};
using Convex = std::vector<Flank>;

Point newell_of(const Loop& ring) {
  Point sum{0.0, 0.0, 0.0};
  for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
    sum = plus(sum, cross(minus(ring[i], ring[0]), minus(ring[i + 1], ring[0])));
  }
  return sum;
}

/// What the plane leaves of a ring on its inner side.
Loop cut_ring(const Loop& ring, const Half& keep, double hair) {
  Loop left;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point& a = ring[i];
    const Point& b = ring[(i + 1) % ring.size()];
    const double at_a = keep.over(a);
    const double at_b = keep.over(b);
    if (at_a >= -hair) {
      left.push_back(a);
    }
    if ((at_a > hair && at_b < -hair) || (at_a < -hair && at_b > hair)) {
      // From the same end for both faces of a side, so that their corners are the same.
      const bool is_turned = b < a;
      const Point& from = is_turned ? b : a;
      const double at_from = is_turned ? at_b : at_a;
      const double at_to = is_turned ? at_a : at_b;
      left.push_back(
          plus(from, scaled(minus(is_turned ? a : b, from), at_from / (at_from - at_to))));
    }
  }
  return left;
}

/// Corners on the plane, in turn around their middle; the normal points out of the body.
Loop cap_of(const Convex& body, const Half& keep, double hair) {
  Loop on;
  Point middle{0.0, 0.0, 0.0};
  for (const Flank& flank : body) {
    for (const Point& p : flank.ring) {
      const bool is_new = std::none_of(on.begin(), on.end(),
                                       [&](const Point& q) { return length(minus(p, q)) <= hair; });
      if (std::abs(keep.over(p)) <= 2.0 * hair && is_new) {
        on.push_back(p);
        middle = plus(middle, p);
      }
    }
  }
  if (on.size() < 3) {
    return {};
  }
  middle = scaled(middle, 1.0 / static_cast<double>(on.size()));
  const Point out = scaled(keep.normal, -1.0);
  const Point x = minus(on.front(), middle);
  const Point y = cross(out, x);
  std::sort(on.begin(), on.end(), [&](const Point& p, const Point& q) {
    const Point a = minus(p, middle);
    const Point b = minus(q, middle);
    return std::atan2(dot(a, y), dot(a, x)) < std::atan2(dot(b, y), dot(b, x));
  });
  return on;
}

/// The piece on the inner side; empty where nothing is left.
Convex cut_convex(const Convex& body, const Half& keep, bool is_between, double hair) {
  double lowest = 0.0;
  double highest = 0.0;
  for (const Flank& flank : body) {
    for (const Point& p : flank.ring) {
      lowest = std::min(lowest, keep.over(p));
      highest = std::max(highest, keep.over(p));
    }
  }
  if (highest <= hair) {
    return {};
  }
  if (lowest >= -hair) {
    return body;
  }
  Convex left;
  for (const Flank& flank : body) {
    Loop ring = cut_ring(flank.ring, keep, hair);
    if (ring.size() > 2 && length(newell_of(ring)) > hair * hair) {
      left.push_back({std::move(ring), flank.is_between});
    }
  }
  if (Loop cap = cap_of(left, keep, hair); !cap.empty()) {
    left.push_back({std::move(cap), is_between});
  }
  return left;
}

double turn_of(const Point& a, const Point& b, const Point& c) {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/// Triangles of a ring in its plane that turns left; each with the ring's corners' numbers.
std::vector<std::array<std::size_t, 3>> ears_of(const Loop& ring) {
  std::vector<std::size_t> left(ring.size());
  std::iota(left.begin(), left.end(), std::size_t{0});
  std::vector<std::array<std::size_t, 3>> ears;
  while (left.size() > 3) {
    std::size_t found = left.size();
    for (std::size_t i = 0; i < left.size() && found == left.size(); ++i) {
      const std::array<std::size_t, 3> ear{left[(i + left.size() - 1) % left.size()], left[i],
                                           left[(i + 1) % left.size()]};
      const Point& a = ring[ear[0]];
      const Point& b = ring[ear[1]];
      const Point& c = ring[ear[2]];
      const bool is_free = std::none_of(left.begin(), left.end(), [&](std::size_t k) {
        const Point& p = ring[k];
        return p != a && p != b && p != c && turn_of(a, b, p) >= 0.0 && turn_of(b, c, p) >= 0.0 &&
               turn_of(c, a, p) >= 0.0;
      });
      found = turn_of(a, b, c) > 0.0 && is_free ? i : found;
    }
    if (found == left.size()) {
      return {};
    }
    ears.push_back({left[(found + left.size() - 1) % left.size()], left[found],
                    left[(found + 1) % left.size()]});
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(found));
  }
  ears.push_back({left[0], left[1], left[2]});
  return ears;
}

/// Convex rings that are the ring together, turning left; of each side whether it is of the ring.
/// Empty where it meets itself.
std::vector<std::vector<std::pair<Point, bool>>> convex_rings(Loop ring) {
  if (newell_of(ring)[2] < 0.0) {
    std::reverse(ring.begin(), ring.end());
  }
  const double hair = 1e-9 * std::abs(newell_of(ring)[2]);
  for (std::size_t i = ring.size(); i-- > 0 && ring.size() > 2;) {
    const Point& before = ring[(i + ring.size() - 1) % ring.size()];
    if (std::abs(turn_of(before, ring[i], ring[(i + 1) % ring.size()])) <= hair) {
      ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(i));
    }
  }
  if (ring.size() < 3) {
    return {};
  }
  bool is_convex = true;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    is_convex = is_convex &&
                turn_of(ring[i], ring[(i + 1) % ring.size()], ring[(i + 2) % ring.size()]) >= 0.0;
  }
  std::vector<std::vector<std::pair<Point, bool>>> rings;
  if (is_convex) {
    rings.emplace_back();
    for (const Point& p : ring) {
      rings.back().emplace_back(p, true);
    }
    return rings;
  }
  for (const auto& ear : ears_of(ring)) {
    rings.emplace_back();
    for (std::size_t k = 0; k < 3; ++k) {
      rings.back().emplace_back(ring[ear.at(k)],
                                ear.at((k + 1) % 3) == (ear.at(k) + 1) % ring.size());
    }
  }
  return rings;
}

/// A solid in pieces, and what it is cut by.
class Cutter {
 public:
  explicit Cutter(const Table& table) : table_(&table) {}

  Clipped run(const Statement& last) {
    std::vector<std::pair<const Statement*, bool>> cuts;
    const Statement* at = &last;
    for (int n = 0; at != nullptr && is_cut(at->kind); ++n) {
      const std::vector<std::string> values = at->values();
      if (n == most_cuts || values.size() < 3 ||
          (values[0] != ".DIFFERENCE." && values[0] != ".INTERSECTION.")) {
        return {};
      }
      const std::vector<Name> by = names_in(values[2]);
      cuts.emplace_back(by.size() == 1 ? table_->at(by.front()) : nullptr,
                        values[0] == ".INTERSECTION.");
      const std::vector<Name> body = names_in(values[1]);
      at = body.size() == 1 ? table_->at(body.front()) : nullptr;
    }
    made_.is_done = at != nullptr && extrude(*at);
    std::reverse(cuts.begin(), cuts.end());
    for (const auto& [by, keeps] : cuts) {
      made_.is_done = by != nullptr && cut_by(*by, keeps) && made_.is_done;
    }
    made_.is_sloped = made_.is_sloped && is_upright_;
    for (const Convex& piece : made_.is_done ? pieces_ : std::vector<Convex>{}) {
      for (const Flank& flank : piece) {
        if (!flank.is_between) {
          made_.faces.push_back(flank.ring);
        }
      }
    }
    return std::move(made_);
  }

 private:
  /// IfcExtrudedAreaSolid: SweptArea, Position, ExtrudedDirection, Depth. Others count as upright.
  bool extrude(const Statement& it) {
    const std::vector<std::string> values = it.values();
    is_upright_ = true;
    if (it.kind != "IFCEXTRUDEDAREASOLID" || values.size() < 4) {
      return false;
    }
    const Loop ring = outline_in(*table_, values[0]);
    const std::optional<Place> place = table_->place(values[1]);
    const std::optional<Point> way = table_->triple(values[2], "IFCDIRECTION");
    const std::vector<double> depth = numbers_in(values[3]);
    if (!place || !way || !(length(*way) > 1e-9) || depth.empty()) {
      return false;
    }
    const Point up = place->turned(scaled(*way, depth.front() / length(*way)));
    constexpr double upright = 0.999;  // within 2.5 degrees
    is_upright_ = std::abs(up[2]) > upright * length(up);
    if (ring.size() < 3 || !(std::abs(dot(up, place->z)) > 1e-9)) {
      return false;
    }
    double size = length(up);
    for (const Point& p : ring) {
      size = std::max(size, length(minus(p, ring.front())));
    }
    hair_ = 1e-7 * size;
    for (const auto& outline : convex_rings(ring)) {
      pieces_.push_back(prism(outline, *place, up));
    }
    return !pieces_.empty();
  }
  static Convex prism(const std::vector<std::pair<Point, bool>>& outline, const Place& place,
                      const Point& up) {
    Convex body;
    Loop low;
    Loop high;
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const Point a = place.at(outline[i].first);
      const Point b = place.at(outline[(i + 1) % outline.size()].first);
      body.push_back({{a, b, plus(b, up), plus(a, up)}, !outline[i].second});
      low.insert(low.begin(), a);
      high.push_back(plus(a, up));
    }
    body.push_back({std::move(low), false});
    body.push_back({std::move(high), false});
    return body;
  }
  /// IfcHalfSpaceSolid: BaseSurface, AgreementFlag; the bounded one also Position and Boundary.
  bool cut_by(const Statement& it, bool keeps) {
    const std::vector<std::string> values = it.values();
    const bool is_bounded = it.kind == "IFCPOLYGONALBOUNDEDHALFSPACE";
    const Statement* plane =
        values.size() < (is_bounded ? 4U : 2U) ? nullptr : table_->at(values[0], "IFCPLANE");
    const auto place = plane == nullptr ? std::nullopt : table_->place(plane->values().front());
    if (it.kind != "IFCHALFSPACESOLID" && !is_bounded) {
      return false;
    }
    if (!place) {
      made_.is_sloped = true;
      return false;
    }
    // The flag is true where the normal points out of the half space.
    const Half half{place->origin, scaled(place->z, values[1] == ".T." ? -1.0 : 1.0)};
    constexpr double plumb = 0.1;     // within 6 degrees
    constexpr double level = 0.9998;  // within 1 degree
    made_.is_sloped =
        made_.is_sloped || (std::abs(half.normal[2]) > plumb && std::abs(half.normal[2]) < level);
    if (!is_bounded) {
      take_out({}, half, keeps);
      return true;
    }
    const std::optional<Place> bounds = table_->place(values[2]);
    const auto rings = bounds ? convex_rings(corners_of_curve(*table_, values[3]))
                              : std::vector<std::vector<std::pair<Point, bool>>>{};
    if (rings.empty() || (keeps && rings.size() > 1)) {
      return false;
    }
    for (const auto& ring : rings) {
      std::vector<Half> sides;
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point a = bounds->at(ring[i].first);
        const Point along = minus(bounds->at(ring[(i + 1) % ring.size()].first), a);
        const Point inward = cross(bounds->z, along);
        if (length(inward) > 1e-12) {
          sides.push_back({a, scaled(inward, 1.0 / length(inward))});
        }
      }
      take_out(sides, half, keeps);
    }
    return pieces_.size() < most_pieces;
  }
  /// What lies within the sides and the half space goes, or only that stays.
  void take_out(const std::vector<Half>& sides, const Half& half, bool keeps) {
    std::vector<Convex> left;
    for (Convex piece : std::exchange(pieces_, {})) {
      for (const Half& side : sides) {
        const Half beyond{side.origin, scaled(side.normal, -1.0)};
        if (Convex outside = cut_convex(piece, beyond, true, hair_); !outside.empty() && !keeps) {
          left.push_back(std::move(outside));
        }
        piece = cut_convex(piece, side, !keeps, hair_);
      }
      const Half stays{half.origin, scaled(half.normal, keeps ? 1.0 : -1.0)};
      if (Convex rest = cut_convex(piece, stays, false, hair_); !rest.empty()) {
        left.push_back(std::move(rest));
      }
    }
    pieces_ = std::move(left);
  }

  const Table* table_;
  std::vector<Convex> pieces_;
  double hair_ = 1e-9;
  bool is_upright_ = false;
  Clipped made_;
};

}  // namespace

bool is_cut(std::string_view kind) {
  return kind == "IFCBOOLEANCLIPPINGRESULT" || kind == "IFCBOOLEANRESULT";
}

Clipped clipped(const Table& table, const Statement& cut) { return Cutter(table).run(cut); }

}  // namespace ridgeward::ifc
