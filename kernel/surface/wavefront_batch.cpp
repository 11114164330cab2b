// What comes together at one height.
#include "surface/wavefront.hpp"

namespace ridgeward::surface {

template <class Real>
void Wavefront<Real>::take_batch() {
  group_count_ = 0;
  gather();
  form_groups();
  check_recent();
  if (in_trouble()) {
    return;
  }
  merge_near_groups();
  for (int g = 0; g < static_cast<int>(group_count_); ++g) {
    drop_points(g);
  }
  zip_all();
  if (in_trouble()) {
    return;
  }
  pair_all();
  if (in_trouble()) {
    return;
  }
  for (std::size_t i = 0; i < fresh_.size(); ++i) {  // NOLINT(modernize-loop-convert): it grows
    settle(fresh_[i]);
  }
  refresh();
}

template <class Real>
int Wavefront<Real>::root(int a) {
  while (parent_[static_cast<std::size_t>(a)] != a) {
    a = parent_[static_cast<std::size_t>(a)];
  }
  return a;
}

template <class Real>
void Wavefront<Real>::touch(int junction) {
  if (!front(junction).is_touched) {
    front(junction).is_touched = true;
    touched_.push_back(junction);
  }
}

template <class Real>
void Wavefront<Real>::join(int a, int b) {
  touch(a);
  touch(b);
  const int ra = root(a);
  const int rb = root(b);
  parent_[static_cast<std::size_t>(rb)] = ra;
}

/// All collapses and splits of this height: which junctions come together.
template <class Real>
void Wavefront<Real>::gather() {
  const Real limit = now_ + same_;
  const std::size_t before = live_.size();
  for (std::size_t k = 0; k < before; ++k) {
    const int f = live_[k];
    if (when(f) > limit) {
      continue;
    }
    if (front(f).collapse <= limit) {
      join(f, front(f).next);
    }
    if (front(f).split <= limit) {
      cut_and_join(f);
    }
  }
}

/// Junction `j` runs into a front: cuts it there, unless it comes in at one of its ends.
template <class Real>
void Wavefront<Real>::cut_and_join(int j) {
  int s = front(j).split_front;
  const Point d = direction(line(s));
  const Point hit = at(front(j), now_);
  const auto along = [&](int junction) {
    const Point p = at(front(junction), now_);
    return d.x * (p.x - hit.x) + d.y * (p.y - hit.y);
  };
  // Other junctions may have cut it in this batch already: find the piece that is hit.
  while (front(front(s).next).is_cut_here && along(front(s).next) < -same_) {
    s = front(s).next;
  }
  const Real from_start = -along(s);
  const Real to_end = along(front(s).next);
  if (is_nothing(size(from_start))) {
    join(s, j);
  } else if (is_nothing(size(to_end))) {
    join(front(s).next, j);
  } else {
    const int piece = add_front(line(s), front(s).face);
    Front& f = front(piece);
    f.p = hit;
    f.is_cut_here = true;
    f.prev = s;
    f.next = front(s).next;
    f.collapse = static_cast<Real>(never);
    f.split = static_cast<Real>(never);
    front(f.next).prev = piece;
    front(s).next = piece;
    join(piece, j);
  }
}

template <class Real>
void Wavefront<Real>::form_groups() {
  for (const int j : touched_) {
    int& g = grouped_[static_cast<std::size_t>(root(j))];
    if (g == none) {
      g = add_group(at(front(j), now_));
    }
    // The crossing of the most different directions gives the best position.
    const Real turn =
        front(j).is_cut_here ? Real(0) : size(cross(line(front(j).prev).n, line(j).n));
    Group& own = group(g);
    if (turn > own.best_turn) {
      own.best_turn = turn;
      own.at = at(front(j), now_);
    }
  }
  for (std::size_t g = 0; g < group_count_; ++g) {
    groups_[g].node = add_node(groups_[g].at, now_);
  }
  for (const int j : touched_) {
    add_to_group(grouped_[static_cast<std::size_t>(root(j))], j);
  }
  for (const int j : touched_) {
    grouped_[static_cast<std::size_t>(root(j))] = none;
  }
  for (const int j : touched_) {
    parent_[static_cast<std::size_t>(j)] = j;
    front(j).is_touched = false;
    front(j).is_cut_here = false;
  }
  touched_.clear();
}

/// Two batches close in height and in place: doubles can't be trusted with their order.
template <class Real>
void Wavefront<Real>::check_recent() {
  if (unsure_ <= same_) {
    return;
  }
  std::size_t kept = 0;
  for (const Recent& old : recent_) {
    if (now_ - old.t < unsure_) {
      recent_[kept++] = old;
    }
  }
  recent_.resize(kept);
  for (std::size_t g = 0; g < group_count_; ++g) {
    for (std::size_t k = 0; k < kept; ++k) {
      if (apart(recent_[k].at, groups_[g].at) < unsure_) {
        end_ = End::unsure;
      }
    }
  }
  for (std::size_t g = 0; g < group_count_; ++g) {
    recent_.push_back({groups_[g].at, now_});
  }
}

template class Wavefront<double>;
template class Wavefront<Quad>;

}  // namespace ridgeward::surface
