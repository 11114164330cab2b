#pragma once
// Finds the highest plane over every face of the plan. Private to unite.
//
// envelope.cpp cuts the plan up and chooses; labels.cpp finds out which plane of each part lies
// over each face.

#include "surface/unite.hpp"

#include <glm/common.hpp>

#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

namespace ridgeward::surface {

inline constexpr std::uint32_t no_source = ~0U;
inline constexpr std::uint32_t no_face = ~0U;

struct Box {
  glm::dvec3 low{HUGE_VAL};
  glm::dvec3 high{-HUGE_VAL};
  void add(const glm::dvec3& p) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
  bool meets(const Box& other) const {
    return low.x <= other.high.x && other.low.x <= high.x && low.y <= other.high.y &&
           other.low.y <= high.y && low.z <= other.high.z && other.low.z <= high.z;
  }
};

/// A part's faces with the arcs around each.
struct PartView {
  const Mesh* mesh = nullptr;
  std::uint32_t first_face = 0;  // of the part among all faces
  Box box;
  std::vector<Box> boxes;                        // by face
  std::vector<std::vector<std::uint32_t>> arcs;  // by face
};

struct Finder {
  std::vector<PartView> parts{};
  Envelope result{};
  struct Source {
    std::uint32_t part = 0;
    std::uint32_t arc = 0;
  };
  std::vector<Source> sources{};
  std::vector<PlanSegment> segments{};
  struct Label {
    std::uint32_t cycle = 0;
    std::uint32_t face = 0;  // a plane over it, among all faces
  };
  std::vector<Label> labels{};
  /// What an edge with lines of a part says of the face beside it; `face` may be no_face.
  struct Vote {
    std::uint32_t part = 0;
    std::uint32_t cycle = 0;
    std::uint32_t face = 0;
    double length_m = 0.0;
  };
  std::vector<Vote> votes{};
  /// Of one edge and part: face, times on the left less times on the right.
  std::vector<std::pair<std::uint32_t, int>> balance{};
  std::vector<std::uint32_t> borders_of{};  // parts with a border on an edge, by edge
  std::vector<std::size_t> first_border{};
  std::vector<std::uint32_t> seen{};  // by cycle: the part that reached it last, plus one

  explicit Finder(const std::vector<Mesh>& meshes);
  void add_arcs();
  void add_crossings();
  void cross(const PartView& a, std::uint32_t f, const PartView& b, std::uint32_t g);
  void ask_edges();
  void vote(std::uint32_t edge, std::size_t first, std::size_t last);
  void count_votes(std::size_t first, std::size_t last, std::vector<Label>& open);
  bool carries(std::uint32_t edge, std::uint32_t part) const;
  void spread();
  void locate_islands();
  void choose_tops();
  bool is_higher(std::int32_t candidate, std::int32_t best,
                 const std::vector<std::uint32_t>& around) const;
  std::int32_t locate(const PartView& part, glm::dvec2 p) const;
};

}  // namespace ridgeward::surface
