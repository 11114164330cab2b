#include "framing/cells.hpp"

#include "base/fault.hpp"
#include "base/polygon.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace ridgeward::framing {

namespace {

constexpr double near_m = 1e-9;
constexpr std::uint32_t kept_tag = 0x80000000U;  // no surface has that many lines

/// Where the border passes the level sides of what is kept: there a trapezoid has to end.
void add_crossings(const std::vector<BorderEdge>& border, const Kept& kept,
                   std::vector<double>& cuts) {
  for (const double v : {kept.low_v_m, kept.high_v_m}) {
    for (const BorderEdge& edge : border) {
      if ((edge.a.y > v) == (edge.b.y > v)) {
        continue;
      }
      const double u = edge.a.x + (v - edge.a.y) / (edge.b.y - edge.a.y) * (edge.b.x - edge.a.x);
      if (u > kept.from_u_m && u < kept.to_u_m) {
        cuts.push_back(u);
      }
    }
  }
}

/// The part of a trapezoid below a level; REQUIRES that the level passes no side in between.
slabs::Piece below(slabs::Piece piece, double v, std::uint32_t tag) {
  if (2.0 * v < piece.high0 + piece.high1) {
    piece.high0 = std::min(piece.high0, std::max(v, piece.low0));
    piece.high1 = std::min(piece.high1, std::max(v, piece.low1));
    piece.high_tag = tag;
  }
  return piece;
}

slabs::Piece above(slabs::Piece piece, double v, std::uint32_t tag) {
  if (2.0 * v > piece.low0 + piece.low1) {
    piece.low0 = std::max(piece.low0, std::min(v, piece.high0));
    piece.low1 = std::max(piece.low1, std::min(v, piece.high1));
    piece.low_tag = tag;
  }
  return piece;
}

bool has_height(const slabs::Piece& piece) {
  return piece.high0 + piece.high1 - piece.low0 - piece.low1 > 2.0 * near_m;
}

}  // namespace

LineId kept_as_line(std::size_t index) { return LineId(kept_tag + index); }
bool is_kept(LineId line) { return !line.is_none() && line.value >= kept_tag; }
std::size_t index_of_kept(LineId line) { return line.value - kept_tag; }

Cells::Cells(const std::vector<BorderEdge>& border, const std::vector<double>& centres,
             double thickness_m, const std::vector<Kept>& kept) {
  std::vector<slabs::Edge> edges;
  edges.reserve(border.size());
  for (const BorderEdge& edge : border) {
    edges.push_back({edge.a, edge.b, edge.line.value});
  }
  std::vector<double> cuts;
  cuts.reserve(3 * centres.size());
  for (const double at : centres) {
    cuts.insert(cuts.end(), {at - 0.5 * thickness_m, at, at + 0.5 * thickness_m});
  }
  for (const Kept& one : kept) {
    cuts.insert(cuts.end(), {one.from_u_m, one.to_u_m});
    add_crossings(border, one, cuts);
  }
  slabs_ = slabs::cut(edges, cuts);
  owner_.assign(slabs_.pieces.size(), nobody);
  if (!kept.empty()) {
    split_at(kept);
  }
  doors_.resize(slabs_.pieces.size());
  find_portals();
}

/// Splits every trapezoid at the level sides of what is kept, and marks what lies within.
void Cells::split_at(const std::vector<Kept>& kept) {
  std::vector<slabs::Piece> pieces;
  std::vector<std::size_t> owner;
  std::vector<std::size_t> first;
  const auto add = [&](const slabs::Piece& piece, std::size_t who) {
    if (has_height(piece)) {
      pieces.push_back(piece);
      owner.push_back(who);
    }
  };
  for (std::size_t k = 0; k < slabs_.count(); ++k) {
    first.push_back(pieces.size());
    const double middle = 0.5 * (slabs_.cuts[k] + slabs_.cuts[k + 1]);
    std::vector<std::size_t> here;
    for (std::size_t i = 0; i < kept.size(); ++i) {
      if (kept[i].from_u_m < middle && middle < kept[i].to_u_m) {
        here.push_back(i);
      }
    }
    std::stable_sort(here.begin(), here.end(), [&](std::size_t l, std::size_t r) {
      return kept[l].low_v_m < kept[r].low_v_m;
    });
    for (std::size_t p = slabs_.first[k]; p < slabs_.first[k + 1]; ++p) {
      slabs::Piece rest = slabs_.pieces[p];
      for (const std::size_t i : here) {
        const std::uint32_t tag = kept_as_line(i).value;
        add(below(rest, kept[i].low_v_m, tag), nobody);
        add(below(above(rest, kept[i].low_v_m, tag), kept[i].high_v_m, tag), first_kept + i);
        rest = above(rest, kept[i].high_v_m, tag);
      }
      add(rest, nobody);
    }
  }
  first.push_back(pieces.size());
  slabs_.pieces = std::move(pieces);
  slabs_.first = std::move(first);
  owner_ = std::move(owner);
}

void Cells::find_portals() {
  for (std::size_t k = 1; k < slabs_.count(); ++k) {
    std::size_t left = slabs_.first[k - 1];
    std::size_t right = slabs_.first[k];
    while (left < slabs_.first[k] && right < slabs_.first[k + 1]) {
      const slabs::Piece& l = slabs_.pieces[left];
      const slabs::Piece& r = slabs_.pieces[right];
      const double low = std::max(l.low1, r.low0);
      const double high = std::min(l.high1, r.high0);
      if (high - low > near_m) {
        doors_[left].right.push_back(portals_.size());
        doors_[right].left.push_back(portals_.size());
        portals_.push_back({left, right, low, high});
      }
      if (l.high1 < r.high0) {
        ++left;
      } else {
        ++right;
      }
    }
  }
}

CentreLine Cells::centre_line(const Portal& portal, double at) const {
  const slabs::Piece& l = slabs_.pieces[portal.left];
  const slabs::Piece& r = slabs_.pieces[portal.right];
  CentreLine line{at, portal.low, portal.high, {}, {}, portal.left, portal.right};
  // The line met is the one that stops the rafter first; both where a corner is met.
  line.feet = {LineId(l.low1 >= portal.low - near_m ? l.low_tag : r.low_tag),
               LineId(r.low0 >= portal.low - near_m ? r.low_tag : l.low_tag)};
  line.heads = {LineId(l.high1 <= portal.high + near_m ? l.high_tag : r.high_tag),
                LineId(r.high0 <= portal.high + near_m ? r.high_tag : l.high_tag)};
  return line;
}

std::vector<CentreLine> Cells::centre_lines(double at_m) const {
  std::vector<CentreLine> lines;
  const std::size_t k = slabs_.has_cut(at_m) ? slabs_.cut_at(at_m) : 0;
  if (k == 0 || k >= slabs_.count()) {
    return lines;
  }
  for (std::size_t right = slabs_.first[k]; right < slabs_.first[k + 1]; ++right) {
    for (const std::size_t door : doors_[right].left) {
      lines.push_back(centre_line(portals_[door], at_m));
    }
  }
  return lines;
}

void Cells::spread(std::size_t piece, bool to_right, double limit_u,
                   std::vector<std::size_t>& found) const {
  const slabs::Piece& one = slabs_.pieces[piece];
  const bool is_within = to_right ? one.u1 <= limit_u + near_m : one.u0 >= limit_u - near_m;
  if (!is_within || owner_[piece] != nobody ||
      std::find(found.begin(), found.end(), piece) != found.end()) {
    return;
  }
  found.push_back(piece);
  for (const std::size_t door : to_right ? doors_[piece].right : doors_[piece].left) {
    spread(to_right ? portals_[door].right : portals_[door].left, to_right, limit_u, found);
  }
}

std::vector<std::size_t> Cells::strip(const CentreLine& line, double thickness_m) const {
  std::vector<std::size_t> found;
  spread(line.left_piece, false, line.at_m - 0.5 * thickness_m, found);
  spread(line.right_piece, true, line.at_m + 0.5 * thickness_m, found);
  std::sort(found.begin(), found.end());
  return found;
}

std::size_t Cells::take(std::vector<std::size_t> pieces) {
  for (const std::size_t piece : pieces) {
    owner_[piece] = owner_count_;
  }
  owned_.push_back(std::move(pieces));
  return owner_count_++;
}

void Cells::flood(std::size_t seed) {
  std::vector<std::size_t> open{seed};
  const std::size_t before = owner_[seed];
  const auto visit = [&](std::size_t piece) {
    if (owner_[piece] == before) {
      owner_[piece] = owner_count_;
      open.push_back(piece);
    }
  };
  owner_[seed] = owner_count_;
  while (!open.empty()) {
    const std::size_t piece = open.back();
    open.pop_back();
    owned_.back().push_back(piece);
    for (const std::size_t door : doors_[piece].left) {
      visit(portals_[door].left);
    }
    for (const std::size_t door : doors_[piece].right) {
      visit(portals_[door].right);
    }
  }
}

std::vector<std::size_t> Cells::take_kept() {
  std::vector<std::size_t> taken;
  for (std::size_t seed = 0; seed < owner_.size(); ++seed) {
    if (owner_[seed] != nobody && owner_[seed] >= first_kept) {
      taken.push_back(owner_[seed] - first_kept);
      owned_.emplace_back();
      flood(seed);
      std::sort(owned_.back().begin(), owned_.back().end());
      ++owner_count_;
    }
  }
  return taken;
}

void Cells::take_bays() {
  first_bay_ = owner_count_;
  for (std::size_t seed = 0; seed < owner_.size(); ++seed) {
    if (owner_[seed] == nobody) {
      owned_.emplace_back();
      flood(seed);
      std::sort(owned_.back().begin(), owned_.back().end());
      ++owner_count_;
    }
  }
}

std::vector<std::size_t> Cells::pieces_of(std::size_t owner) const { return owned_[owner]; }

std::size_t Cells::sides(std::size_t piece) const {
  return doors_[piece].left.size() + doors_[piece].right.size() + 2;
}

Cells::Visit Cells::visit(std::size_t piece) const {
  const std::size_t top = doors_[piece].right.size();
  return {piece, top, sides(piece), {}};
}

Cells::Visit Cells::visit(std::size_t door, bool to_right) const {
  const Portal& portal = portals_[door];
  const std::size_t piece = to_right ? portal.right : portal.left;
  const std::vector<std::size_t>& left = doors_[piece].left;
  const std::vector<std::size_t>& right = doors_[piece].right;
  const std::vector<std::size_t>& way_in = to_right ? left : right;
  const auto place =
      static_cast<std::size_t>(std::find(way_in.begin(), way_in.end(), door) - way_in.begin());
  const double u = to_right ? slabs_.pieces[piece].u0 : slabs_.pieces[piece].u1;
  return {piece,
          to_right ? right.size() + left.size() - place : place,
          sides(piece) - 1,
          {u, to_right ? portal.high : portal.low}};
}

std::vector<glm::dvec2> Cells::outline(std::size_t owner) const {
  const std::vector<std::size_t>& own = owned_[owner];
  ensure(!own.empty(), "an owner has pieces");
  std::vector<bool> seen(own.size(), false);
  const auto enters = [&](std::size_t piece) {
    const auto at = std::lower_bound(own.begin(), own.end(), piece) - own.begin();
    const bool is_new = owner_[piece] == owner && !seen[static_cast<std::size_t>(at)];
    if (is_new) {
      seen[static_cast<std::size_t>(at)] = true;
    }
    return is_new;
  };
  std::vector<glm::dvec2> out;
  // A stack of its own: a plane may have tens of thousands of pieces.
  std::vector<Visit> open{visit(own.front())};
  enters(own.front());
  while (!open.empty()) {
    Visit& here = open.back();
    if (here.left_to_do == 0) {
      if (open.size() > 1) {
        out.push_back(here.way_out);
      }
      open.pop_back();
      continue;
    }
    --here.left_to_do;
    here.side = (here.side + 1) % sides(here.piece);
    const slabs::Piece& one = slabs_.pieces[here.piece];
    const Doors& doors = doors_[here.piece];
    const std::size_t top = doors.right.size();
    const std::size_t bottom = sides(here.piece) - 1;
    if (here.side == top) {
      out.emplace_back(one.u1, one.high1);
      out.emplace_back(one.u0, one.high0);
      continue;
    }
    if (here.side == bottom) {
      out.emplace_back(one.u0, one.low0);
      out.emplace_back(one.u1, one.low1);
      continue;
    }
    const bool to_right = here.side < top;
    const std::size_t door = to_right ? doors.right[here.side] : doors.left[bottom - 1 - here.side];
    const Portal& portal = portals_[door];
    if (enters(to_right ? portal.right : portal.left)) {
      out.emplace_back(to_right ? one.u1 : one.u0, to_right ? portal.low : portal.high);
      open.push_back(visit(door, to_right));
    }
  }
  return polygon::without_idle_points(std::move(out));
}

std::size_t Cells::neighbour(std::size_t owner, bool on_right) const {
  std::map<std::size_t, double> shared;
  for (const std::size_t piece : owned_[owner]) {
    for (const std::size_t door : on_right ? doors_[piece].right : doors_[piece].left) {
      const Portal& portal = portals_[door];
      const std::size_t other = owner_[on_right ? portal.right : portal.left];
      if (other != owner) {
        shared[other] += portal.high - portal.low;
      }
    }
  }
  const auto most =
      std::max_element(shared.begin(), shared.end(),
                       [](const auto& l, const auto& r) { return l.second < r.second; });
  return most == shared.end() ? nobody : most->first;
}

}  // namespace ridgeward::framing
