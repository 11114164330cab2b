#include "base/slabs.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::slabs {

namespace {

constexpr double same_u = 1e-9;
constexpr double thinnest = 1e-12;

double along(double u, double u0, double v0, double u1, double v1) {
  if (u <= u0) {
    return v0;
  }
  if (u >= u1) {
    return v1;
  }
  return v0 + (u - u0) / (u1 - u0) * (v1 - v0);
}

/// Exactly the corner's v at a corner, so that neighbouring slabs agree.
double v_on(const Edge& edge, double u) { return along(u, edge.a.x, edge.a.y, edge.b.x, edge.b.y); }

struct Active {
  const Edge* edge = nullptr;
  double v0 = 0.0;
  double v1 = 0.0;
};

/// Rising values, those within same_u of a run's first made one.
std::vector<double> merged(std::vector<double> all) {
  std::sort(all.begin(), all.end());
  std::vector<double> kept;
  for (const double u : all) {
    if (kept.empty() || u - kept.back() > same_u) {
      kept.push_back(u);
    }
  }
  return kept;
}

double snapped(const std::vector<double>& cuts, double u) {
  const auto beyond = std::upper_bound(cuts.begin(), cuts.end(), u);
  return beyond == cuts.begin() ? cuts.front() : *(beyond - 1);
}

/// Edges from left to right with snapped ends; upright ones bound no piece.
std::vector<Edge> rightward(std::span<const Edge> edges, const std::vector<double>& cuts) {
  std::vector<Edge> turned;
  turned.reserve(edges.size());
  for (Edge edge : edges) {
    edge.a.x = snapped(cuts, edge.a.x);
    edge.b.x = snapped(cuts, edge.b.x);
    if (edge.a.x > edge.b.x) {
      std::swap(edge.a, edge.b);
    }
    if (edge.a.x < edge.b.x) {
      turned.push_back(edge);
    }
  }
  std::stable_sort(turned.begin(), turned.end(),
                   [](const Edge& l, const Edge& r) { return l.a.x < r.a.x; });
  return turned;
}

void stack_pieces(std::vector<Active>& active, double u0, double u1, std::vector<Piece>& pieces) {
  for (Active& one : active) {
    one.v0 = v_on(*one.edge, u0);
    one.v1 = v_on(*one.edge, u1);
  }
  std::stable_sort(active.begin(), active.end(),
                   [](const Active& l, const Active& r) { return l.v0 + l.v1 < r.v0 + r.v1; });
  for (std::size_t i = 0; i + 1 < active.size(); i += 2) {
    const Active& low = active[i];
    const Active& high = active[i + 1];
    if (high.v0 + high.v1 - low.v0 - low.v1 > thinnest) {
      pieces.push_back({u0, u1, low.v0, low.v1, high.v0, high.v1, low.edge->tag, high.edge->tag});
    }
  }
}

}  // namespace

double Piece::low_at(double u) const { return along(u, u0, low0, u1, low1); }
double Piece::high_at(double u) const { return along(u, u0, high0, u1, high1); }

std::size_t Slabs::cut_at(double u) const {
  const auto beyond = std::upper_bound(cuts.begin(), cuts.end(), u + same_u);
  return beyond == cuts.begin() ? 0 : static_cast<std::size_t>(beyond - cuts.begin()) - 1;
}

bool Slabs::has_cut(double u) const {
  return !cuts.empty() && std::abs(cuts[cut_at(u)] - u) <= same_u;
}

Slabs cut(std::span<const Edge> edges, std::span<const double> more) {
  Slabs slabs;
  if (edges.empty()) {
    return slabs;
  }
  std::vector<double> all;
  all.reserve(2 * edges.size() + more.size());
  for (const Edge& edge : edges) {
    all.push_back(edge.a.x);
    all.push_back(edge.b.x);
  }
  const auto [least, most] = std::minmax_element(all.begin(), all.end());
  const double low = *least;
  const double high = *most;
  for (const double u : more) {
    if (u > low && u < high) {
      all.push_back(u);
    }
  }
  slabs.cuts = merged(std::move(all));
  const std::vector<Edge> turned = rightward(edges, slabs.cuts);
  std::vector<Active> active;
  std::size_t next = 0;
  for (std::size_t k = 0; k + 1 < slabs.cuts.size(); ++k) {
    const double u0 = slabs.cuts[k];
    std::erase_if(active, [u0](const Active& one) { return one.edge->b.x <= u0; });
    for (; next < turned.size() && turned[next].a.x <= u0; ++next) {
      active.push_back({&turned[next], 0.0, 0.0});
    }
    slabs.first.push_back(slabs.pieces.size());
    stack_pieces(active, u0, slabs.cuts[k + 1], slabs.pieces);
  }
  slabs.first.push_back(slabs.pieces.size());
  return slabs;
}

}  // namespace ridgeward::slabs
