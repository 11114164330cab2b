#include "surface/wavefront.hpp"

#include <algorithm>

namespace ridgeward::surface {

namespace {

/// Square root good to the last bits of Real: doubles' own, then Newton.
double root_of(double x) { return std::sqrt(x); }
Quad root_of(Quad x) {
  Quad r = static_cast<Quad>(std::sqrt(static_cast<double>(x)));
  for (int i = 0; i < 3; ++i) {
    r = (r + x / r) / 2;
  }
  return r;
}

}  // namespace

template <class Real>
Wavefront<Real>::Wavefront(const Plan& plan) {
  glm::dvec2 low(never);
  glm::dvec2 high(-never);
  for (const PlanEdge& edge : plan.edges) {
    low = {std::min(low.x, edge.start.x), std::min(low.y, edge.start.y)};
    high = {std::max(high.x, edge.start.x), std::max(high.y, edge.start.y)};
  }
  const double extent = std::max(high.x - low.x, high.y - low.y);
  // Whole numbers of metres keep grid coordinates exact when the plan is brought to the origin.
  centre_ = {static_cast<Real>(std::round((low.x + high.x) / 2)),
             static_cast<Real>(std::round((low.y + high.y) / 2))};
  same_ = static_cast<Real>(Precision<Real>::same) * static_cast<Real>(extent);
  unsure_ = static_cast<Real>(Precision<Real>::unsure) * static_cast<Real>(extent);
  const std::size_t n = plan.edges.size();
  fronts_.reserve(3 * n);
  lines_.reserve(3 * n);
  when_.reserve(3 * n);
  live_.reserve(3 * n);
  parent_.reserve(3 * n);
  grouped_.reserve(3 * n);
  nodes_.reserve(4 * n);
  result_.arcs.reserve(6 * n);
  result_.faces.reserve(2 * n);
  groups_.resize(8);
  stop_ = static_cast<Real>(plan.stops_at_t.value_or(never));
  lay_lines(plan);
  lay_corners(plan);
  put_steps();
  for (int i = 0; i < static_cast<int>(fronts_.size()); ++i) {
    front(i).is_fresh = true;
    fresh_.push_back(i);
  }
  refresh();
}

template <class Real>
int Wavefront<Real>::add_front(const Moving& moving, int face) {
  const int index = static_cast<int>(fronts_.size());
  Front f;
  f.face = face;
  fronts_.push_back(f);
  lines_.push_back(moving);
  when_.push_back(static_cast<Real>(never));
  live_.push_back(index);
  parent_.push_back(index);
  grouped_.push_back(none);
  ++alive_;
  return index;
}

template <class Real>
void Wavefront<Real>::kill(int f) {
  if (front(f).alive) {
    front(f).alive = false;
    when(f) = static_cast<Real>(never);
    --alive_;
  }
}

template <class Real>
void Wavefront<Real>::lay_lines(const Plan& plan) {
  std::size_t first = 0;
  for (const std::size_t end : plan.loop_ends) {
    for (std::size_t i = first; i < end; ++i) {
      const PlanEdge& edge = plan.edges[i];
      const Real dx = static_cast<Real>(edge.direction.x);
      const Real dy = static_cast<Real>(edge.direction.y);
      const Real length = root_of(dx * dx + dy * dy);
      Moving m;
      m.n = {-dy / length, dx / length};
      m.c = m.n.x * (static_cast<Real>(edge.anchor.x) - centre_.x) +
            m.n.y * (static_cast<Real>(edge.anchor.y) - centre_.y);
      m.w = static_cast<Real>(edge.run_per_rise);
      const int f = add_front(m, add_face(i, 0, false, m.n, m.w));
      front(f).next = static_cast<int>(i + 1 < end ? i + 1 : first);
      front(f).prev = static_cast<int>(i > first ? i - 1 : end - 1);
      for (std::size_t k = 0; k < edge.later.size(); ++k) {
        turns_.push_back({static_cast<Real>(edge.later[k].from_t), i, k + 1,
                          static_cast<Real>(edge.later[k].run_per_rise)});
      }
    }
    first = end;
  }
  std::stable_sort(turns_.begin(), turns_.end(),
                   [](const Turn& a, const Turn& b) { return a.t > b.t; });
}

/// Corners where neighbours meet, and the edges of the underside between them.
template <class Real>
void Wavefront<Real>::lay_corners(const Plan& plan) {
  for (std::size_t i = 0; i < plan.edges.size(); ++i) {
    const int b = static_cast<int>(i);
    const int a = front(b).prev;
    const Point start{static_cast<Real>(plan.edges[i].start.x) - centre_.x,
                      static_cast<Real>(plan.edges[i].start.y) - centre_.y};
    const Real turn = cross(line(a).n, line(b).n);
    Point p;
    if (size(turn) > static_cast<Real>(Precision<Real>::parallel)) {
      p = {(line(a).c * line(b).n.y - line(b).c * line(a).n.y) / turn,
           (line(a).n.x * line(b).c - line(b).n.x * line(a).c) / turn};
    } else {
      const Real off = line(b).c - dot(line(b).n, start);
      p = {start.x + off * line(b).n.x, start.y + off * line(b).n.y};
    }
    front(b).origin = add_node(p, 0);
  }
  for (int f = 0; f < static_cast<int>(plan.edges.size()); ++f) {
    add_arc(front(f).origin, front(front(f).next).origin, front(f).face, SkeletonArc::underside);
  }
}

template <class Real>
void Wavefront<Real>::put_steps() {
  const int n = static_cast<int>(fronts_.size());
  for (int b = 0; b < n; ++b) {
    const int a = front(b).prev;
    if (continues(a, b) && size(line(a).w - line(b).w) > static_cast<Real>(1e-12)) {
      put_step(a, b);
    }
  }
}

/// A standing front of no length, square to two that continue each other at different speeds: the
/// faster one leaves a wall beside the other.
template <class Real>
void Wavefront<Real>::put_step(int a, int b) {
  const Point n = line(b).n;
  const Point p = nodes_[static_cast<std::size_t>(front(b).origin)].at;
  Moving m;
  // Its direction is +n where the front after it is ahead, -n where it lags.
  const bool after_leads = line(b).w > line(a).w;
  m.n = after_leads ? Point{-n.y, n.x} : Point{n.y, -n.x};
  m.c = dot(m.n, p);
  const SkeletonFace& beside = result_.faces[static_cast<std::size_t>(front(a).face)];
  const int s = add_front(m, add_face(beside.edge, 0, true, m.n, 0));
  front(s).origin = front(b).origin;
  front(s).prev = a;
  front(s).next = b;
  front(a).next = s;
  front(b).prev = s;
  fresh_.push_back(s);
  fresh_.push_back(b);
  front(s).is_fresh = true;
  front(b).is_fresh = true;
}

template <class Real>
Real Wavefront<Real>::next_height() const {
  Real t = static_cast<Real>(never);
  for (const int f : live_) {
    const Real w = when_[static_cast<std::size_t>(f)];
    t = w < t ? w : t;
  }
  return t;
}

template <class Real>
typename Wavefront<Real>::End Wavefront<Real>::run() {
  const std::size_t most_batches = 40 * fronts_.size() + 400;
  for (std::size_t batch = 0; alive_ > 0 && !in_trouble(); ++batch) {
    const Real t = next_height();
    const bool turn_first = !turns_.empty() && turns_.back().t < t - same_;
    const bool stops = stop_ < t - same_ && (!turn_first || stop_ < turns_.back().t + same_);
    if (stops) {
      now_ = stop_;
      close_level();
    } else if (batch > most_batches) {
      end_ = End::failed;
    } else if (turn_first) {
      now_ = turns_.back().t;
      turn_phases();
    } else if (!(t < static_cast<Real>(never))) {
      end_ = End::open;
    } else {
      now_ = t > now_ ? t : now_;
      take_batch();
    }
  }
  if (end_ == End::open) {
    for (const int f : live_) {
      if (front(f).alive && line(f).w > 0) {
        end_ = End::failed;
      }
    }
  }
  return end_;
}

/// Every front whose speed changes at this height leaves its face and starts a new one.
template <class Real>
void Wavefront<Real>::turn_phases() {
  while (!turns_.empty() && turns_.back().t <= now_ + same_) {
    const Turn turn = turns_.back();
    turns_.pop_back();
    int new_face = none;
    const std::vector<int> live = live_;
    for (const int f : live) {
      const SkeletonFace face = result_.faces[static_cast<std::size_t>(front(f).face)];
      if (!front(f).alive || face.is_step || face.edge != turn.edge) {
        continue;
      }
      if (new_face == none) {
        new_face = add_face(turn.edge, turn.phase, false, line(f).n, turn.w);
      }
      turn_front(f, new_face, turn);
    }
  }
  const std::vector<int> live = live_;
  for (const int b : live) {
    const int a = front(b).prev;
    if (front(b).alive && front(b).is_fresh && continues(a, b) &&
        size(line(a).w - line(b).w) > static_cast<Real>(1e-12)) {
      put_step(a, b);
    }
  }
  refresh();
}

/// The face of `f` ends at this height; its upper line borders on `new_face`.
template <class Real>
void Wavefront<Real>::end_front_at(int f, int new_face) {
  const int next = front(f).next;
  for (const int junction : {f, next}) {
    if (!front(junction).is_fresh) {
      const int node = add_node(at(front(junction), now_), now_);
      end_junction(junction, node);
      front(junction).origin = node;
      front(junction).is_fresh = true;
      fresh_.push_back(junction);
    }
  }
  add_arc(front(f).origin, front(next).origin, new_face, front(f).face);
}

/// One level face over all that is still open.
template <class Real>
void Wavefront<Real>::close_level() {
  std::size_t edge = std::numeric_limits<std::size_t>::max();
  Point n{1, 0};
  for (const int f : live_) {
    const SkeletonFace& face = result_.faces[static_cast<std::size_t>(front(f).face)];
    if (front(f).alive && line(f).w > 0 && face.edge < edge) {
      edge = face.edge;
      n = line(f).n;
    }
  }
  if (edge == std::numeric_limits<std::size_t>::max()) {
    end_ = End::open;
    return;
  }
  const int flat = add_face(edge, SkeletonFace::flat_phase, false, n, static_cast<Real>(never));
  const std::vector<int> live = live_;
  for (const int f : live) {
    if (front(f).alive) {
      end_front_at(f, flat);
    }
  }
  for (const int f : live) {
    kill(f);
  }
}

template <class Real>
void Wavefront<Real>::turn_front(int f, int new_face, const Turn& turn) {
  end_front_at(f, new_face);
  front(f).face = new_face;
  line(f).c += (line(f).w - turn.w) * turn.t;
  line(f).w = turn.w;
  mark_changed(f);
}

template <class Real>
int Wavefront<Real>::add_node(const Point& p, Real t) {
  nodes_.push_back({p, t});
  node_alias_.push_back(static_cast<int>(nodes_.size()) - 1);
  return static_cast<int>(nodes_.size()) - 1;
}

template <class Real>
int Wavefront<Real>::add_face(std::size_t edge, std::size_t phase, bool is_step, const Point& n,
                              Real w) {
  result_.faces.push_back({edge,
                           phase,
                           is_step,
                           {static_cast<double>(n.x), static_cast<double>(n.y)},
                           static_cast<double>(w)});
  return static_cast<int>(result_.faces.size()) - 1;
}

template <class Real>
void Wavefront<Real>::add_arc(int from, int to, int left, int right) {
  if (from != to) {
    result_.arcs.push_back(
        {static_cast<std::uint32_t>(from), static_cast<std::uint32_t>(to), left, right});
  }
}

/// The start junction of `f` ends in `node`: its way since birth is a line of the roof.
template <class Real>
void Wavefront<Real>::end_junction(int f, int node) {
  add_arc(front(f).origin, node, front(front(f).prev).face, front(f).face);
}

template <class Real>
Skeleton Wavefront<Real>::take() {
  if (end_ == End::open) {
    result_.outcome = Skeleton::Outcome::open;
    for (const int f : live_) {
      if (front(f).alive) {
        result_.open_edges.push_back(result_.faces[static_cast<std::size_t>(front(f).face)].edge);
      }
    }
    return std::move(result_);
  }
  const auto resolve = [this](std::uint32_t node) {
    auto i = static_cast<std::size_t>(node);
    while (node_alias_[i] != static_cast<int>(i)) {
      i = static_cast<std::size_t>(node_alias_[i]);
    }
    return static_cast<std::uint32_t>(i);
  };
  for (SkeletonArc& arc : result_.arcs) {
    arc.from = resolve(arc.from);
    arc.to = resolve(arc.to);
  }
  std::erase_if(result_.arcs, [](const SkeletonArc& arc) { return arc.from == arc.to; });
  result_.nodes.reserve(nodes_.size());
  for (const Node& node : nodes_) {
    result_.nodes.push_back(
        {{static_cast<double>(node.at.x + centre_.x), static_cast<double>(node.at.y + centre_.y)},
         static_cast<double>(node.t)});
  }
  return std::move(result_);
}

template class Wavefront<double>;
template class Wavefront<Quad>;

}  // namespace ridgeward::surface
