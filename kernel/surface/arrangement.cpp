#include "surface/arrangement.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ridgeward::surface {

namespace {

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

/// Vertices by place: a hash grid with cells of a few snap distances.
class Places {
 public:
  explicit Places(std::size_t expected) {
    std::size_t size = 64;
    while (size < 4 * expected) {
      size *= 2;
    }
    heads_.assign(size, none);
  }

  /// The vertex within snap_m of `p`, a new one if there is none.
  std::uint32_t at(glm::dvec2 p) {
    const std::int64_t cx = cell(p.x);
    const std::int64_t cy = cell(p.y);
    // A vertex within reach can lie across the nearer border only.
    const std::int64_t dx = p.x / width - static_cast<double>(cx) > 0.5 ? 1 : -1;
    const std::int64_t dy = p.y / width - static_cast<double>(cy) > 0.5 ? 1 : -1;
    for (const std::int64_t x : {cx, cx + dx}) {
      for (const std::int64_t y : {cy, cy + dy}) {
        const std::uint32_t v = find(x, y, p);
        if (v != none) {
          return v;
        }
      }
    }
    const auto v = static_cast<std::uint32_t>(points.size());
    points.push_back(p);
    chain_.push_back(heads_[slot(cx, cy)]);
    heads_[slot(cx, cy)] = v;
    return v;
  }

  std::vector<glm::dvec2> points;

 private:
  static constexpr std::uint32_t none = ~0U;
  static constexpr double width = 4 * snap_m;
  static std::int64_t cell(double x) { return static_cast<std::int64_t>(std::floor(x / width)); }
  std::uint32_t find(std::int64_t x, std::int64_t y, glm::dvec2 p) const {
    std::uint32_t v = heads_[slot(x, y)];
    while (v != none &&
           (std::abs(points[v].x - p.x) > snap_m || std::abs(points[v].y - p.y) > snap_m)) {
      v = chain_[v];
    }
    return v;
  }
  std::size_t slot(std::int64_t x, std::int64_t y) const {
    const auto h = static_cast<std::uint64_t>(x) * 0x9E3779B97F4A7C15ULL ^
                   static_cast<std::uint64_t>(y) * 0xC2B2AE3D27D4EB4FULL;
    return static_cast<std::size_t>(h ^ (h >> 29U)) & (heads_.size() - 1);
  }
  std::vector<std::uint32_t> heads_;
  std::vector<std::uint32_t> chain_;
};

struct Piece {
  std::uint32_t from = 0;
  std::uint32_t to = 0;
  std::uint32_t source = 0;
};

/// Cuts pieces where they cross or pass through each other's ends.
class Cutter {
 public:
  Cutter(std::vector<Piece> pieces, Places& places) : pieces_(std::move(pieces)), places_(places) {}

  /// One pass; true when anything had to be cut.
  bool pass() {
    cuts_.clear();
    sweep();
    std::sort(cuts_.begin(), cuts_.end(), [](const Cut& a, const Cut& b) {
      return std::tie(a.piece, a.along, a.vertex) < std::tie(b.piece, b.along, b.vertex);
    });
    std::vector<Piece> all;
    all.reserve(pieces_.size() + cuts_.size());
    auto cut = cuts_.begin();
    for (std::uint32_t i = 0; i < pieces_.size(); ++i) {
      std::uint32_t from = pieces_[i].from;
      for (; cut != cuts_.end() && cut->piece == i; ++cut) {
        if (cut->vertex != from && cut->vertex != pieces_[i].to) {
          all.push_back({from, cut->vertex, pieces_[i].source});
          from = cut->vertex;
        }
      }
      if (from != pieces_[i].to) {
        all.push_back({from, pieces_[i].to, pieces_[i].source});
      }
    }
    const bool any = all.size() != pieces_.size();
    pieces_ = std::move(all);
    return any;
  }

  std::vector<Piece>& pieces() { return pieces_; }

 private:
  struct Cut {
    std::uint32_t piece = 0;
    double along = 0.0;
    std::uint32_t vertex = 0;
  };
  struct Box {
    glm::dvec2 low{0.0};
    glm::dvec2 high{0.0};
    std::uint32_t piece = 0;
  };

  glm::dvec2 start(std::uint32_t i) const { return places_.points[pieces_[i].from]; }
  glm::dvec2 end(std::uint32_t i) const { return places_.points[pieces_[i].to]; }

  /// Pairs whose boxes meet, by a sweep along x.
  void sweep() {
    std::vector<Box> boxes(pieces_.size());
    for (std::uint32_t i = 0; i < pieces_.size(); ++i) {
      const glm::dvec2 a = start(i);
      const glm::dvec2 b = end(i);
      boxes[i] = {{std::min(a.x, b.x) - snap_m, std::min(a.y, b.y) - snap_m},
                  {std::max(a.x, b.x) + snap_m, std::max(a.y, b.y) + snap_m},
                  i};
    }
    std::sort(boxes.begin(), boxes.end(),
              [](const Box& a, const Box& b) { return a.low.x < b.low.x; });
    std::vector<Box> open;
    for (const Box& box : boxes) {
      std::size_t kept = 0;
      for (const Box& other : open) {
        if (other.high.x < box.low.x) {
          continue;
        }
        open[kept++] = other;
        if (other.high.y >= box.low.y && box.high.y >= other.low.y) {
          meet(other.piece, box.piece);
        }
      }
      open.resize(kept);
      open.push_back(box);
    }
  }

  void cut(std::uint32_t piece, std::uint32_t vertex) {
    const glm::dvec2 d = end(piece) - start(piece);
    cuts_.push_back({piece, glm::dot(places_.points[vertex] - start(piece), d), vertex});
  }

  /// Cuts `piece` at `vertex` if it lies on it, between its ends.
  bool touch(std::uint32_t piece, std::uint32_t vertex) {
    if (vertex == pieces_[piece].from || vertex == pieces_[piece].to) {
      return true;
    }
    const glm::dvec2 a = start(piece);
    const glm::dvec2 d = end(piece) - a;
    const glm::dvec2 p = places_.points[vertex] - a;
    const double size = glm::length(d);
    const double along = glm::dot(p, d) / size;
    if (std::abs(cross(d, p)) > snap_m * size || along <= 0 || along >= size) {
      return false;
    }
    cut(piece, vertex);
    return true;
  }

  void meet(std::uint32_t i, std::uint32_t k) {
    bool touches = false;
    for (const std::uint32_t v : {pieces_[k].from, pieces_[k].to}) {
      touches = touch(i, v) || touches;
    }
    for (const std::uint32_t v : {pieces_[i].from, pieces_[i].to}) {
      touches = touch(k, v) || touches;
    }
    if (touches) {
      return;
    }
    const glm::dvec2 a = start(i);
    const glm::dvec2 c = start(k);
    const glm::dvec2 d = end(i) - a;
    const glm::dvec2 e = end(k) - c;
    const double turn = cross(d, e);
    if (turn == 0.0) {
      return;
    }
    const double s = cross(c - a, e) / turn;
    const double t = cross(c - a, d) / turn;
    if (s > 0 && s < 1 && t > 0 && t < 1) {
      const std::uint32_t v = places_.at(a + s * d);
      cut(i, v);
      cut(k, v);
    }
  }

  std::vector<Piece> pieces_;
  Places& places_;
  std::vector<Cut> cuts_;
};

/// Pieces that coincide become one edge with all their sources.
void collect_edges(std::vector<Piece>& pieces, Arrangement& result) {
  const auto low = [](const Piece& p) { return std::min(p.from, p.to); };
  const auto high = [](const Piece& p) { return std::max(p.from, p.to); };
  std::sort(pieces.begin(), pieces.end(), [&](const Piece& a, const Piece& b) {
    return std::make_tuple(low(a), high(a), a.source, a.from) <
           std::make_tuple(low(b), high(b), b.source, b.from);
  });
  result.sources.reserve(pieces.size());
  for (const Piece& p : pieces) {
    if (result.edges.empty() || result.edges.back().from != low(p) ||
        result.edges.back().to != high(p)) {
      result.edges.push_back({low(p), high(p), static_cast<std::uint32_t>(result.sources.size())});
    }
    result.sources.push_back({p.source, p.from == low(p)});
  }
}

/// Around every vertex, the half-edge that goes on around the face: the first clockwise from the
/// way back.
void link(Arrangement& result) {
  const auto half_edges = static_cast<std::uint32_t>(2 * result.edges.size());
  struct Spoke {
    std::uint32_t vertex;
    double angle;
    std::uint32_t half_edge;
  };
  std::vector<Spoke> spokes;
  spokes.reserve(half_edges);
  for (std::uint32_t h = 0; h < half_edges; ++h) {
    const glm::dvec2 d = result.vertices[result.origin(h ^ 1U)] - result.vertices[result.origin(h)];
    spokes.push_back({result.origin(h), std::atan2(d.y, d.x), h});
  }
  std::sort(spokes.begin(), spokes.end(), [](const Spoke& a, const Spoke& b) {
    return std::tie(a.vertex, a.angle, a.half_edge) < std::tie(b.vertex, b.angle, b.half_edge);
  });
  result.next.resize(half_edges);
  for (std::size_t first = 0; first < spokes.size();) {
    std::size_t last = first;
    while (last < spokes.size() && spokes[last].vertex == spokes[first].vertex) {
      ++last;
    }
    for (std::size_t i = first; i < last; ++i) {
      const std::size_t before = i == first ? last - 1 : i - 1;
      result.next[spokes[i].half_edge ^ 1U] = spokes[before].half_edge;
    }
    first = last;
  }
  result.cycle.assign(half_edges, ~0U);
  for (std::uint32_t h = 0; h < half_edges; ++h) {
    if (result.cycle[h] != ~0U) {
      continue;
    }
    for (std::uint32_t k = h; result.cycle[k] == ~0U; k = result.next[k]) {
      result.cycle[k] = result.cycle_count;
    }
    ++result.cycle_count;
  }
}

}  // namespace

Arrangement arrange(const std::vector<PlanSegment>& segments) {
  Places places(2 * segments.size());
  std::vector<Piece> pieces;
  pieces.reserve(segments.size());
  for (const PlanSegment& s : segments) {
    const Piece piece{places.at(s.a), places.at(s.b), s.source};
    if (piece.from != piece.to) {
      pieces.push_back(piece);
    }
  }
  Cutter cutter(std::move(pieces), places);
  // Cutting bends pieces by up to snap_m, which may make them touch others: look again.
  for (int pass = 0; pass < 6 && cutter.pass(); ++pass) {
  }
  Arrangement result;
  result.vertices = places.points;
  collect_edges(cutter.pieces(), result);
  link(result);
  return result;
}

}  // namespace ridgeward::surface
