// What happens in one point: fronts close to ridges, the rest pair up anew.
#include "surface/wavefront.hpp"

#include <algorithm>

namespace ridgeward::surface {

namespace {

void erase_one(std::vector<int>& list, int value) {
  const auto found = std::find(list.begin(), list.end(), value);
  if (found != list.end()) {
    *found = list.back();
    list.pop_back();
  }
}

}  // namespace

template <class Real>
int Wavefront<Real>::add_group(const Point& p) {
  if (group_count_ == groups_.size()) {
    groups_.emplace_back();
  }
  Group& g = groups_[group_count_];
  g.at = p;
  g.best_turn = 0;
  g.node = none;
  g.alive = true;
  g.ins.clear();
  g.outs.clear();
  return static_cast<int>(group_count_++);
}

template <class Real>
void Wavefront<Real>::add_to_group(int g, int j) {
  const int before = front(j).prev;
  if (!front(j).is_cut_here) {
    end_junction(j, group(g).node);
  }
  front(j).start_group = g;
  front(before).end_group = g;
  group(g).outs.push_back(j);
  group(g).ins.push_back(before);
}

/// The group of the start junction of `f`, a new one when the batch has not touched it yet.
template <class Real>
int Wavefront<Real>::group_at_start(int f) {
  if (front(f).start_group != none) {
    return front(f).start_group;
  }
  const int g = add_group(at(front(f), now_));
  group(g).node = add_node(group(g).at, now_);
  add_to_group(g, f);
  for (std::size_t other = 0; other + 1 < group_count_; ++other) {
    if (groups_[other].alive && is_nothing(apart(groups_[other].at, group(g).at))) {
      absorb(static_cast<int>(other), g);
      return static_cast<int>(other);
    }
  }
  return g;
}

template <class Real>
void Wavefront<Real>::merge_near_groups() {
  for (std::size_t a = 0; a < group_count_; ++a) {
    for (std::size_t b = a + 1; b < group_count_ && groups_[a].alive; ++b) {
      if (groups_[b].alive && is_nothing(apart(groups_[a].at, groups_[b].at))) {
        absorb(static_cast<int>(a), static_cast<int>(b));
      }
    }
  }
}

template <class Real>
void Wavefront<Real>::absorb(int into, int from) {
  Group& a = group(into);
  Group& b = group(from);
  node_alias_[static_cast<std::size_t>(b.node)] = a.node;
  for (const int f : b.ins) {
    front(f).end_group = into;
    a.ins.push_back(f);
  }
  for (const int f : b.outs) {
    front(f).start_group = into;
    a.outs.push_back(f);
  }
  b.alive = false;
  b.ins.clear();
  b.outs.clear();
  drop_points(into);
}

/// Fronts that start and end in this group have no length any more.
template <class Real>
void Wavefront<Real>::drop_points(int g) {
  Group& own = group(g);
  for (std::size_t i = own.outs.size(); i-- > 0;) {
    const int f = own.outs[i];
    if (front(f).end_group == g) {
      kill(f);
      erase_one(own.outs, f);
      erase_one(own.ins, f);
    }
  }
}

template <class Real>
void Wavefront<Real>::zip_all() {
  for (bool any = true; any && !in_trouble();) {
    any = false;
    for (std::size_t g = 0; g < group_count_; ++g) {
      while (groups_[g].alive && !in_trouble() && zip_one(static_cast<int>(g))) {
        any = true;
      }
    }
  }
}

/// Whether `out` leaves along the ray on which `in` comes: no width is left between them.
template <class Real>
bool Wavefront<Real>::close_on_each_other(int out, int in) {
  const Real turn = size(cross(line(out).n, line(in).n));
  if (dot(line(out).n, line(in).n) >= 0 ||
      turn > static_cast<Real>(Precision<Real>::unsure_parallel)) {
    return false;
  }
  if (turn > static_cast<Real>(Precision<Real>::parallel)) {
    end_ = End::unsure;
    return false;
  }
  return true;
}

/// Closes the first pair of fronts that face each other over no width; false when there is none.
template <class Real>
bool Wavefront<Real>::zip_one(int g) {
  for (const int out : group(g).outs) {
    for (const int in : group(g).ins) {
      if (close_on_each_other(out, in)) {
        zip_pair(g, out, in);
        return true;
      }
    }
  }
  return false;
}

/// Closes `out` and `in` up to the nearer of their far ends; the line between them is a ridge.
template <class Real>
void Wavefront<Real>::zip_pair(int g, int out, int in) {
  const Point d = direction(line(out));
  const Point here = group(g).at;
  const auto reach = [&](const Point& p) { return dot(d, {p.x - here.x, p.y - here.y}); };
  const int beyond = front(out).next;
  const Real out_reach = reach(front(out).end_group != none ? group(front(out).end_group).at
                                                            : at(front(beyond), now_));
  const Real in_reach =
      reach(front(in).start_group != none ? group(front(in).start_group).at : at(front(in), now_));
  const int node = group(g).node;
  const bool are_level = is_nothing(size(out_reach - in_reach));
  const bool out_ends = are_level || out_reach < in_reach;
  const bool in_ends = are_level || !out_ends;
  if (out_ends && front(out).end_group == none) {
    group_at_start(beyond);
  }
  if (in_ends && front(in).start_group == none) {
    group_at_start(in);
  }
  if (are_level && front(out).end_group != front(in).start_group && front(out).alive &&
      front(in).alive) {
    absorb(front(out).end_group, front(in).start_group);
  }
  if (!front(out).alive || !front(in).alive) {
    end_ = End::failed;  // a front with length was taken for a point
    return;
  }
  const int far = out_ends ? front(out).end_group : front(in).start_group;
  add_arc(node, group(far).node, front(in).face, front(out).face);
  erase_one(group(g).outs, out);
  erase_one(group(g).ins, in);
  if (out_ends) {
    erase_one(group(far).ins, out);
    kill(out);
  } else {
    group(far).outs.push_back(out);
    front(out).start_group = far;
  }
  if (in_ends) {
    erase_one(group(far).outs, in);
    kill(in);
  } else {
    group(far).ins.push_back(in);
    front(in).end_group = far;
  }
  drop_points(far);
}

template <class Real>
void Wavefront<Real>::pair_all() {
  for (std::size_t g = 0; g < group_count_; ++g) {
    Group& own = groups_[g];
    if (!own.alive) {
      continue;
    }
    if (own.ins.size() != own.outs.size()) {
      end_ = End::failed;
      return;
    }
    if (own.ins.size() == 1) {
      link(own.ins[0], own.outs[0], own.node);
    } else if (own.ins.size() > 1) {
      pair_by_angle(own);
    }
  }
  for (std::size_t g = 0; g < group_count_; ++g) {
    groups_[g].ins.clear();
    groups_[g].outs.clear();
  }
}

/// Around the point, a front that leaves is followed counter-clockwise by one that comes in: the
/// space between is what the roof has yet to cover. Only directions of the plan are compared.
template <class Real>
void Wavefront<Real>::pair_by_angle(Group& own) {
  struct Ray {
    Point d;
    int front = none;
    bool leaves = false;
  };
  std::vector<Ray> rays;
  rays.reserve(own.outs.size() + own.ins.size());
  for (const int f : own.outs) {
    rays.push_back({direction(line(f)), f, true});
  }
  for (const int f : own.ins) {
    const Point d = direction(line(f));
    rays.push_back({{-d.x, -d.y}, f, false});
  }
  const auto half = [](const Point& d) { return d.y > 0 || (d.y == 0 && d.x > 0) ? 0 : 1; };
  std::sort(rays.begin(), rays.end(), [&](const Ray& a, const Ray& b) {
    const int ha = half(a.d);
    const int hb = half(b.d);
    return ha != hb ? ha < hb : cross(a.d, b.d) > 0;
  });
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const Ray& a = rays[i];
    const Ray& b = rays[(i + 1) % rays.size()];
    if (a.leaves == b.leaves) {
      end_ = End::failed;
      return;
    }
    if (a.leaves) {
      link(b.front, a.front, own.node);
    }
  }
}

template <class Real>
void Wavefront<Real>::link(int in, int out, int node) {
  front(in).next = out;
  front(in).end_group = none;
  front(out).prev = in;
  front(out).start_group = none;
  front(out).origin = node;
  front(out).is_fresh = true;
  fresh_.push_back(out);
}

/// Where a front continues the one before it: one front if of one face, else the steepest of the
/// whole run governs.
template <class Real>
void Wavefront<Real>::settle(int out) {
  if (!front(out).alive || !continues(front(out).prev, out)) {
    return;
  }
  int first = front(out).prev;
  while (front(first).prev != out && continues(front(first).prev, first)) {
    first = front(first).prev;
  }
  run_.clear();
  int f = first;
  do {
    run_.push_back(f);
    f = front(f).next;
  } while (f != first && continues(run_.back(), f));
  if (f == first) {
    end_ = End::failed;  // a loop can't be one straight line
    return;
  }
  Real least = line(first).w;
  Real most = least;
  for (const int piece : run_) {
    least = line(piece).w < least ? line(piece).w : least;
    most = line(piece).w > most ? line(piece).w : most;
  }
  if (most - least > static_cast<Real>(1e-12)) {
    let_govern(least);
  }
  join_same_faces();
}

/// The fronts of the run with speed `least` go on along those of the others, which end here.
template <class Real>
void Wavefront<Real>::let_govern(Real least) {
  const auto governs = [&](int f) { return line(f).w - least <= static_cast<Real>(1e-12); };
  const int before = front(run_.front()).prev;
  const int after = front(run_.back()).next;
  for (const int f : run_) {
    renew_start(f);
  }
  renew_start(after);
  const int winner = *std::find_if(run_.begin(), run_.end(), governs);
  const int start_node = front(run_.front()).origin;
  int governor = winner;
  int last = before;
  for (const int f : run_) {
    if (governs(f)) {
      governor = f;
      front(last).next = f;
      front(f).prev = last;
      last = f;
      mark_changed(f);
    } else {
      add_arc(front(f).origin, front(front(f).next).origin, front(governor).face, front(f).face);
      kill(f);
    }
  }
  front(winner).origin = start_node;
  front(last).next = after;
  front(after).prev = last;
  std::erase_if(run_, [&](int f) { return !front(f).alive; });
}

/// The start junction of `f` ends here and starts anew, unless it just did.
template <class Real>
void Wavefront<Real>::renew_start(int f) {
  if (!front(f).is_fresh) {
    const int node = add_node(at(front(f), now_), now_);
    end_junction(f, node);
    front(f).origin = node;
    front(f).is_fresh = true;
    fresh_.push_back(f);
  }
}

template <class Real>
void Wavefront<Real>::join_same_faces() {
  int kept = run_.front();
  for (std::size_t k = 1; k < run_.size(); ++k) {
    const int f = run_[k];
    if (front(f).face == front(kept).face) {
      front(kept).next = front(f).next;
      front(front(f).next).prev = kept;
      kill(f);
      mark_changed(kept);
    } else {
      kept = f;
    }
  }
}

template class Wavefront<double>;
template class Wavefront<Quad>;

}  // namespace ridgeward::surface
