#include "dxf/roof_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace ridgeward::dxf {

namespace {

using Place = std::array<double, 3>;

/// Along a side and outward from it.
class Frame {
 public:
  Frame(const Position& a, const Position& b)
      : a_(a), length_(std::hypot(b[0] - a[0], b[1] - a[1])) {
    u_ = {(b[0] - a[0]) / length_, (b[1] - a[1]) / length_};
  }
  double length() const { return length_; }
  double along(const Place& p) const { return (p[0] - a_[0]) * u_[0] + (p[1] - a_[1]) * u_[1]; }
  double outward(const Place& p) const { return (p[0] - a_[0]) * u_[1] - (p[1] - a_[1]) * u_[0]; }

 private:
  Position a_;
  double length_;
  Position u_{0.0, 0.0};
};

/// Lines of one kind beside a side, at one distance.
struct Beside {
  double distance = std::numeric_limits<double>::infinity();
  double covered = 0.0;
  std::vector<const RoofLine*> lines;
};

Beside nearest(const std::vector<RoofLine>& roof, RoofLine::Kind kind, const Frame& frame,
               double most_overhang) {
  const double reach = 0.005 * frame.length();
  Beside best;
  for (const RoofLine& line : roof) {
    const double out = frame.outward(line.from);
    const bool runs_along = line.kind == kind && std::abs(out - frame.outward(line.to)) <= reach &&
                            out >= -reach && out <= most_overhang;
    const double low = std::min(frame.along(line.from), frame.along(line.to));
    const double high = std::max(frame.along(line.from), frame.along(line.to));
    const double covered = std::min(high, frame.length()) - std::max(low, 0.0);
    if (!runs_along || covered <= reach || out > best.distance + reach) {
      continue;
    }
    if (out < best.distance - reach) {
      best = {};
      best.distance = out;
    }
    best.covered += covered;
    best.lines.push_back(&line);
  }
  return best;
}

double distance(const Place& a, const Place& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/// Of the plane that rises inward from an eave.
std::optional<double> slope_from(const std::vector<RoofLine>& roof, const RoofLine& eave,
                                 const Frame& frame) {
  const double near = 1e-3 * frame.length();
  for (const Place& end : {eave.from, eave.to}) {
    for (const RoofLine& line : roof) {
      const bool is_forward = distance(line.from, end) <= near;
      if (line.kind == RoofLine::Kind::eave || (!is_forward && distance(line.to, end) > near)) {
        continue;
      }
      const Place& other = is_forward ? line.to : line.from;
      const double run = frame.outward(end) - frame.outward(other);
      const double rise = other[2] - end[2];
      if (run > 10.0 * near && rise > 1e-3 * run) {
        return rise / run;
      }
    }
  }
  return std::nullopt;
}

}  // namespace

SideSaid side_said(const std::vector<RoofLine>& roof, const Position& a, const Position& b,
                   double most_overhang) {
  SideSaid said;
  const Frame frame(a, b);
  if (roof.empty() || !(frame.length() > 0.0)) {
    return said;
  }
  const Beside rakes = nearest(roof, RoofLine::Kind::rake, frame, most_overhang);
  const Beside eaves = nearest(roof, RoofLine::Kind::eave, frame, most_overhang);
  const Beside& more = rakes.covered > eaves.covered ? rakes : eaves;
  if (more.covered < 0.5 * frame.length()) {
    const Beside edges = nearest(roof, RoofLine::Kind::edge, frame, most_overhang);
    if (edges.covered >= 0.5 * frame.length()) {
      said.overhang = std::max(0.0, edges.distance);
      said.is_by_edge = true;
    }
    return said;
  }
  said.is_gable = &more == &rakes;
  said.overhang = std::max(0.0, more.distance);
  if (!said.is_gable) {
    for (const RoofLine* eave : eaves.lines) {
      said.slope = said.slope ? said.slope : slope_from(roof, *eave, frame);
    }
    said.drip_z = eaves.lines.front()->from[2];
  }
  return said;
}

}  // namespace ridgeward::dxf
