#pragma once
// The wavefront itself, for one floating-point type. Private to this folder.

#include "surface/skeleton.hpp"

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

namespace ridgeward::surface {

/// 113 bits: IEEE quad where the compiler has it as an extra type, long double where that is quad.
#if defined(__SIZEOF_FLOAT128__)
using Quad = __float128;
#else
using Quad = long double;
#endif

/// Tolerances relative to the plan's size. `same`: closer things are one. `unsure`: things farther
/// apart than `same` but closer than this can't be told apart safely in this type.
template <class Real>
struct Precision;
template <>
struct Precision<double> {
  static constexpr double same = 2e-11;
  static constexpr double unsure = 1e-8;
  static constexpr double parallel = 1e-13;
  static constexpr double unsure_parallel = 1e-6;
};
template <>
struct Precision<Quad> {
  static constexpr double same = 1e-21;
  static constexpr double unsure = 1e-21;
  static constexpr double parallel = 1e-28;
  static constexpr double unsure_parallel = 1e-28;
};

template <class Real>
class Wavefront {
 public:
  enum class End { closed, open, failed, unsure };

  explicit Wavefront(const Plan& plan);
  End run();
  /// REQUIRES run() gave closed or open.
  Skeleton take();

 private:
  static constexpr int none = -1;

  struct Point {
    Real x = 0;
    Real y = 0;
  };
  /// The line of a piece of front: n.x = c + w t. Apart from Front because the search for splits
  /// reads nothing else for nearly all of them.
  struct Moving {
    Point n;
    Real c = 0;
    Real w = 0;
  };
  /// A straight piece of front with the junction at its start, p + v t.
  struct Front {
    Point p;
    Point v;
    Real collapse = 0;  ///< height at which its length is nothing
    Real split = 0;     ///< height at which its start junction runs into `split_front`
    int split_front = none;
    int prev = none;
    int next = none;
    int face = none;
    int origin = none;  ///< node in which its start junction was born
    int start_group = none;
    int end_group = none;
    bool alive = true;
    bool reflex = false;
    bool is_fresh = false;     ///< start junction born in this batch
    bool is_changed = false;   ///< moves differently since this batch
    bool is_touched = false;   ///< in touched_
    bool is_cut_here = false;  ///< made in this batch by cutting the front before it
  };
  /// Junctions that come together in one point in this batch.
  struct Group {
    Point at;
    Real best_turn = 0;
    int node = none;
    bool alive = true;
    std::vector<int> ins;   ///< fronts that end here
    std::vector<int> outs;  ///< fronts that start here
  };
  struct Turn {
    Real t = 0;
    std::size_t edge = 0;
    std::size_t phase = 0;
    Real w = 0;  ///< speed from then on
  };

  // wavefront.cpp: set-up and the loop
  void lay_lines(const Plan& plan);
  void lay_corners(const Plan& plan);
  void put_steps();
  void put_step(int before, int after);
  int add_front(const Moving& moving, int face);
  void kill(int front);
  Real next_height() const;
  void turn_phases();
  void turn_front(int front, int new_face, const Turn& turn);
  void end_front_at(int front, int new_face);
  void close_level();

  // wavefront_batch.cpp: what comes together at one height
  void take_batch();
  void gather();
  void cut_and_join(int junction);
  void touch(int junction);
  void join(int a, int b);
  int root(int a);
  void form_groups();
  void check_recent();

  // wavefront_groups.cpp: what happens in one point
  int add_group(const Point& at);
  void add_to_group(int group, int junction);
  int group_at_start(int front);
  void merge_near_groups();
  void absorb(int into, int from);
  void drop_points(int group);
  void zip_all();
  bool zip_one(int group);
  bool close_on_each_other(int out, int in);
  void zip_pair(int group, int out, int in);
  void pair_all();
  void pair_by_angle(Group& group);
  void link(int in, int out, int node);
  void settle(int out);
  void let_govern(Real least);
  void renew_start(int front);
  void join_same_faces();

  // wavefront_events.cpp: when does what happen next
  void place_junction(int front);
  void time_collapse(int front);
  void time_split(int front);
  void try_split(int junction, int target);
  void mark_changed(int front);
  void set_when(int front);
  void refresh();
  void drop_dead();

  Point at(const Front& f, Real t) const { return {f.p.x + f.v.x * t, f.p.y + f.v.y * t}; }
  static Point direction(const Moving& m) { return {m.n.y, -m.n.x}; }
  static Real cross(const Point& a, const Point& b) { return a.x * b.y - a.y * b.x; }
  static Real dot(const Point& a, const Point& b) { return a.x * b.x + a.y * b.y; }
  static Real size(Real a) { return a < 0 ? -a : a; }
  /// Larger of the coordinate differences.
  static Real apart(const Point& a, const Point& b) {
    const Real dx = size(a.x - b.x);
    const Real dy = size(a.y - b.y);
    return dx > dy ? dx : dy;
  }
  /// True when `distance` (not negative) is nothing; flags the run when that can't be told.
  bool is_nothing(Real distance) {
    if (distance <= same_) {
      return true;
    }
    if (distance < unsure_) {
      end_ = End::unsure;
    }
    return false;
  }
  bool continues(int a, int b) const {
    return size(cross(line(a).n, line(b).n)) <= Precision<Real>::parallel &&
           dot(line(a).n, line(b).n) > 0;
  }
  int add_node(const Point& at, Real t);
  void add_arc(int from, int to, int left, int right);
  int add_face(std::size_t edge, std::size_t phase, bool is_step, const Point& n, Real w);
  void end_junction(int front, int node);
  Front& front(int i) { return fronts_[static_cast<std::size_t>(i)]; }
  const Front& front(int i) const { return fronts_[static_cast<std::size_t>(i)]; }
  Moving& line(int i) { return lines_[static_cast<std::size_t>(i)]; }
  const Moving& line(int i) const { return lines_[static_cast<std::size_t>(i)]; }
  Real& when(int i) { return when_[static_cast<std::size_t>(i)]; }
  Group& group(int i) { return groups_[static_cast<std::size_t>(i)]; }
  bool in_trouble() const { return end_ != End::closed; }

  static constexpr double never = std::numeric_limits<double>::infinity();

  Point centre_;  ///< of the plan: coordinates are kept small
  Real same_ = 0;
  Real unsure_ = 0;
  Real now_ = 0;
  End end_ = End::closed;
  int alive_ = 0;
  Real stop_ = static_cast<Real>(never);  ///< Plan::stops_at_t

  std::vector<Front> fronts_;
  std::vector<Moving> lines_;  ///< beside fronts_
  std::vector<Real> when_;     ///< beside fronts_: earlier of collapse and split
  std::vector<int> live_;      ///< fronts alive, and some that died lately
  std::vector<Turn> turns_;    ///< descending height
  std::vector<int> fresh_;
  std::vector<int> changed_;
  std::vector<int> run_;  ///< fronts that continue each other, in settle()

  std::vector<int> touched_;   ///< junctions of this batch
  std::vector<int> parent_;    ///< union-find over fronts_, identity outside a batch
  std::vector<int> grouped_;   ///< group of a root junction
  std::vector<Group> groups_;  ///< pool; the first group_count_ are in use
  std::size_t group_count_ = 0;

  struct Recent {
    Point at;
    Real t = 0;
  };
  std::vector<Recent> recent_;

  struct Node {
    Point at;
    Real t = 0;
  };
  std::vector<Node> nodes_;
  std::vector<int> node_alias_;
  Skeleton result_;
};

extern template class Wavefront<double>;
extern template class Wavefront<Quad>;

}  // namespace ridgeward::surface
