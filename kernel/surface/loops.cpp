// Closed loops around a face, also where it touches itself in a node.
#include "base/fault.hpp"
#include "surface/assemble.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::surface {

namespace {

struct Tracer {
  const Surface& surface;
  glm::dvec3 along;
  glm::dvec3 up;
  std::vector<LoopStep> steps{};
  std::vector<std::uint8_t> used{};

  NodeId start(const LoopStep& s) const {
    return s.forward ? surface.lines[s.line].from : surface.lines[s.line].to;
  }
  NodeId end(const LoopStep& s) const {
    return s.forward ? surface.lines[s.line].to : surface.lines[s.line].from;
  }
  glm::dvec2 flat(NodeId node) const {
    const glm::dvec3& p = surface.nodes[node];
    return {glm::dot(p, along), glm::dot(p, up)};
  }
  double heading(NodeId from, NodeId to) const {
    const glm::dvec2 d = flat(to) - flat(from);
    return std::atan2(d.y, d.x);
  }

  /// The step that goes on from the end of `step`: where several do, the first one clockwise from
  /// the way back, so that loops touch but never cross.
  std::size_t next(std::size_t step) const {
    const NodeId node = end(steps[step]);
    const double back = heading(node, start(steps[step]));
    std::size_t best = steps.size();
    double best_turn = 0.0;
    const auto first =
        std::lower_bound(steps.begin(), steps.end(), node,
                         [this](const LoopStep& s, NodeId wanted) { return start(s) < wanted; });
    for (auto it = first; it != steps.end() && start(*it) == node; ++it) {
      const auto i = static_cast<std::size_t>(it - steps.begin());
      double turn = back - heading(node, end(*it));
      turn -= 2 * M_PI * std::floor(turn / (2 * M_PI));
      if (turn == 0.0) {
        turn = 2 * M_PI;
      }
      if (used[i] == 0 && (best == steps.size() || turn < best_turn)) {
        best = i;
        best_turn = turn;
      }
    }
    ensure(best < steps.size(), "the lines around a face close to loops");
    return best;
  }

  /// A loop that comes back to one of its nodes is two: each node once.
  std::vector<Loop> parted(const Loop& loop) const {
    std::vector<Loop> simple;
    Loop open;
    std::map<NodeId, std::size_t> at;  // where the open run starts from that node
    for (const LoopStep& step : loop) {
      at.emplace(start(step), open.size());
      open.push_back(step);
      const auto back = at.find(end(step));
      if (back == at.end()) {
        continue;
      }
      const auto first = open.begin() + static_cast<std::ptrdiff_t>(back->second);
      for (auto it = first; it != open.end(); ++it) {
        at.erase(start(*it));
      }
      simple.emplace_back(first, open.end());
      open.erase(first, open.end());
    }
    return simple;
  }

  double area(const Loop& loop) const {
    double twice = 0.0;
    for (const LoopStep& s : loop) {
      const glm::dvec2 a = flat(start(s)) - flat(start(loop.front()));
      const glm::dvec2 b = flat(end(s)) - flat(start(loop.front()));
      twice += a.x * b.y - a.y * b.x;
    }
    return twice / 2;
  }
};

}  // namespace

std::vector<Loop> trace_loops(const Surface& surface, const std::vector<LoopStep>& steps,
                              glm::dvec3 along, glm::dvec3 up) {
  Tracer tracer{surface, along, up};
  tracer.steps = steps;
  std::sort(tracer.steps.begin(), tracer.steps.end(), [&](const LoopStep& a, const LoopStep& b) {
    return tracer.start(a) != tracer.start(b) ? tracer.start(a) < tracer.start(b) : a.line < b.line;
  });
  tracer.used.assign(steps.size(), 0);
  std::vector<std::pair<double, Loop>> loops;
  for (std::size_t first = 0; first < steps.size(); ++first) {
    if (tracer.used[first] != 0) {
      continue;
    }
    Loop loop;
    const NodeId home = tracer.start(tracer.steps[first]);
    for (std::size_t i = first;; i = tracer.next(i)) {
      tracer.used[i] = 1;
      loop.push_back(tracer.steps[i]);
      if (tracer.end(tracer.steps[i]) == home) {
        break;
      }
    }
    for (Loop& simple : tracer.parted(loop)) {
      loops.emplace_back(tracer.area(simple), std::move(simple));
    }
  }
  std::stable_sort(loops.begin(), loops.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Loop> result;
  result.reserve(loops.size());
  for (auto& [area, loop] : loops) {
    result.push_back(std::move(loop));
  }
  return result;
}

}  // namespace ridgeward::surface
