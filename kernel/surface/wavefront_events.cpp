// When does what happen next: motion of junctions, collapses, splits.
#include "surface/wavefront.hpp"

namespace ridgeward::surface {

template <class Real>
void Wavefront<Real>::mark_changed(int f) {
  if (!front(f).is_changed) {
    front(f).is_changed = true;
    changed_.push_back(f);
  }
}

/// Motion of the start junction of `b`: where the lines of both fronts cross.
template <class Real>
void Wavefront<Real>::place_junction(int b) {
  const Moving& u = line(front(b).prev);
  const Moving& m = line(b);
  Front& f = front(b);
  const Real turn = cross(u.n, m.n);
  if (size(turn) > static_cast<Real>(Precision<Real>::parallel)) {
    if (size(turn) < static_cast<Real>(Precision<Real>::unsure_parallel)) {
      end_ = End::unsure;
    }
    f.p = {(u.c * m.n.y - m.c * u.n.y) / turn, (u.n.x * m.c - m.n.x * u.c) / turn};
    f.v = {(u.w * m.n.y - m.w * u.n.y) / turn, (u.n.x * m.w - m.n.x * u.w) / turn};
    f.reflex = turn < 0;
    return;
  }
  // Fronts in one line at one speed: their junction goes straight ahead. Fronts folded back on
  // each other would have been closed as a ridge.
  if (dot(u.n, m.n) < 0) {
    end_ = End::failed;
  }
  const Point born = nodes_[static_cast<std::size_t>(f.origin)].at;
  f.v = {m.n.x * m.w, m.n.y * m.w};
  f.p = {born.x - f.v.x * now_, born.y - f.v.y * now_};
  f.reflex = false;
}

template <class Real>
void Wavefront<Real>::time_collapse(int i) {
  Front& f = front(i);
  const Front& g = front(f.next);
  const Point d = direction(line(i));
  const Real length = d.x * (g.p.x - f.p.x) + d.y * (g.p.y - f.p.y);
  const Real growth = d.x * (g.v.x - f.v.x) + d.y * (g.v.y - f.v.y);
  f.collapse = static_cast<Real>(never);
  if (growth < -static_cast<Real>(Precision<Real>::parallel)) {
    const Real t = -length / growth;
    f.collapse = t > now_ ? t : now_;
  }
}

/// Looks whether the junction at the start of `j` runs into front `target` before anything known.
template <class Real>
void Wavefront<Real>::try_split(int j, int target) {
  Front& f = front(j);
  const Moving& m = line(target);
  const Real rate = m.n.x * f.v.x + m.n.y * f.v.y - m.w;
  if (rate >= 0) {
    return;
  }
  const Real gap = m.n.x * f.p.x + m.n.y * f.p.y - m.c;  // at t = 0 of its present motion
  const Real t = -gap / rate;
  if (t >= f.split || t < now_ - same_ || target == j || target == f.prev) {
    return;
  }
  const Front& s = front(target);
  const Front& e = front(s.next);
  if (t <= now_ + same_ && (s.origin == f.origin || e.origin == f.origin)) {
    return;  // they part from one node: paired so that they don't run into each other
  }
  const Point d = direction(m);
  const Point hit = at(f, t);
  const Point start = at(s, t);
  const Point end = at(e, t);
  const Real past_start = d.x * (hit.x - start.x) + d.y * (hit.y - start.y);
  const Real before_end = d.x * (end.x - hit.x) + d.y * (end.y - hit.y);
  if (past_start < -same_ || before_end < -same_) {
    return;
  }
  f.split = t > now_ ? t : now_;
  f.split_front = target;
}

template <class Real>
void Wavefront<Real>::time_split(int j) {
  front(j).split = static_cast<Real>(never);
  front(j).split_front = none;
  if (!front(j).reflex) {
    return;
  }
  for (const int target : live_) {
    try_split(j, target);
  }
}

template <class Real>
void Wavefront<Real>::set_when(int i) {
  const Front& f = front(i);
  when(i) = f.collapse < f.split ? f.collapse : f.split;
}

template <class Real>
void Wavefront<Real>::drop_dead() {
  std::size_t kept = 0;
  for (const int f : live_) {
    if (front(f).alive) {
      live_[kept++] = f;
    }
  }
  live_.resize(kept);
}

/// Brings every cached time up to date after a batch.
template <class Real>
void Wavefront<Real>::refresh() {
  drop_dead();
  for (const int f : fresh_) {
    if (front(f).alive) {
      place_junction(f);
      mark_changed(f);
      mark_changed(front(f).prev);
    }
  }
  std::size_t kept = 0;
  for (const int f : changed_) {
    if (front(f).alive) {
      time_collapse(f);
      changed_[kept++] = f;
    }
  }
  changed_.resize(kept);
  for (const int j : live_) {
    const Front& f = front(j);
    if (f.is_fresh || (f.split_front != none &&
                       (!front(f.split_front).alive || front(f.split_front).is_changed))) {
      time_split(j);
      set_when(j);
    } else if (f.reflex) {
      for (const int target : changed_) {
        try_split(j, target);
      }
      set_when(j);
    } else if (f.is_changed) {
      set_when(j);
    }
  }
  for (const int f : changed_) {
    front(f).is_changed = false;
  }
  for (const int f : fresh_) {
    front(f).is_fresh = false;
  }
  changed_.clear();
  fresh_.clear();
}

template class Wavefront<double>;
template class Wavefront<Quad>;

}  // namespace ridgeward::surface
