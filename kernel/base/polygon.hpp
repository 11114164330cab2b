#pragma once
// Plane polygons as loops of points: area, centroid, inside, clipping, overlap.
//
// A polygon is one or more loops, the outer one counter-clockwise, holes clockwise; loops may touch
// themselves or each other at points. Lengths in the caller's unit; a distance under 1e-9 of it
// counts as none.

#include <glm/vec2.hpp>

#include <span>
#include <vector>

namespace ridgeward::polygon {

using Loop = std::vector<glm::dvec2>;
using Loops = std::vector<Loop>;

inline constexpr double tolerance = 1e-9;

/// The keeping side of a line: points with dot(normal, p) >= offset.
struct HalfPlane {
  glm::dvec2 normal{0.0};
  double offset = 0.0;
};

/// A rectangle along the axes; empty until something was added.
struct Box {
  glm::dvec2 low{1.0};
  glm::dvec2 high{-1.0};
  bool is_empty() const { return low.x > high.x; }
  void add(glm::dvec2 p);
  /// False for empty boxes.
  bool touches(const Box& other) const;
};
Box box_of(std::span<const glm::dvec2> loop);

/// Signed, positive for a counter-clockwise loop.
double area(std::span<const glm::dvec2> loop);
/// Sum of the signed areas of all loops.
double area(const Loops& loops);
/// Of the enclosed area; of the points when there is none. REQUIRES a point.
glm::dvec2 centroid(std::span<const glm::dvec2> loop);
/// Even-odd; a point within the tolerance of the border counts as inside.
bool contains(const Loops& loops, glm::dvec2 p);
bool contains(std::span<const glm::dvec2> loop, glm::dvec2 p);

/// The part of a convex loop within the half-plane; empty when less than an edge is left. Each
/// corner is told once as inside, on or outside, so a corner on the line stays.
Loop clip(const Loop& convex, const HalfPlane& keep);
/// The overlap of two convex counter-clockwise loops; empty when they only touch.
Loop overlap(const Loop& convex, const Loop& other);

/// Convex counter-clockwise pieces (trapezoids and triangles) that cover the polygon once.
Loops convex_pieces(const Loops& loops);
/// Area common to two polygons.
double overlap_area(const Loops& one, const Loops& other);

/// A stretch inside the polygon at one height.
struct Chord {
  double from = 0.0;
  double to = 0.0;
};
/// All of them at height `y`, from the left.
std::vector<Chord> chords_at(const Loops& loops, double y);
/// Their total length.
double width_at(const Loops& loops, double y);

/// Takes out points that repeat or lie on the straight line between their neighbours.
Loop without_idle_points(Loop loop);

}  // namespace ridgeward::polygon
