#include "framing/cut_list.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

namespace ridgeward::framing {

namespace {

constexpr double same_rad = 1.7e-4;

/// What a piece is cut to, lengths first.
std::array<double, 5> lengths_of(const Member& m) {
  return {m.length_m, m.long_point_m, m.tail_m, m.heel_cut_m, m.seat_cut_m};
}

std::array<double, 6> angles_of(const Member& m) {
  return {m.plumb_cut_rad, m.side_cut_rad,     m.foot_side_cut_rad,
          m.backing_rad,   m.backing_left_rad, m.backing_right_rad};
}

template <std::size_t N>
bool agree(const std::array<double, N>& one, const std::array<double, N>& other, double within) {
  for (std::size_t i = 0; i < N; ++i) {
    if (std::abs(one.at(i) - other.at(i)) > within) {
      return false;
    }
  }
  return true;
}

bool are_equal(const Member& one, const Member& other) {
  return one.plies == other.plies && agree(lengths_of(one), lengths_of(other), same_cut_m) &&
         agree(angles_of(one), angles_of(other), same_rad);
}

bool are_equal(const Truss& one, const Truss& other) {
  return std::abs(one.span_m - other.span_m) <= same_cut_m &&
         std::abs(one.height_m - other.height_m) <= same_cut_m &&
         std::abs(one.flat_m - other.flat_m) <= same_cut_m;
}

/// Lines of the same place, kind and stock, of which the last few may be as long as the next piece.
class Lines {
 public:
  void add(const Member& member) {
    const std::size_t first = start_of(member.part, member.plane, member.kind, member.stock);
    for (std::size_t i = all_.size(); i > first; --i) {
      CutLine& line = all_[i - 1];
      if (line.like.long_point_m - member.long_point_m > same_cut_m) {
        break;
      }
      if (are_equal(line.like, member)) {
        ++line.count;
        line.marks.push_back(member.id);
        return;
      }
    }
    all_.push_back(
        {member.part, member.plane, member.kind, member.stock, 1, {member.id}, member, {}});
  }

  void add(const Truss& truss) {
    const std::size_t first = start_of(truss.part, PlaneId(), truss.kind, {});
    for (std::size_t i = all_.size(); i > first; --i) {
      CutLine& line = all_[i - 1];
      if (are_equal(line.truss, truss)) {
        ++line.count;
        line.marks.push_back(truss.id);
        return;
      }
    }
    all_.push_back({truss.part, PlaneId(), truss.kind, {}, 1, {truss.id}, {}, truss});
  }

  std::vector<CutLine> take() { return std::move(all_); }

 private:
  std::size_t start_of(std::size_t part, PlaneId plane, MemberKind kind, const std::string& stock) {
    const auto is_same = [&](const CutLine& line) {
      return line.part == part && line.plane == plane && line.kind == kind && line.stock == stock;
    };
    if (all_.empty() || !is_same(all_.back())) {
      start_ = all_.size();
    }
    return start_;
  }

  std::vector<CutLine> all_;
  std::size_t start_ = 0;
};

auto place_of(const Member& m) {
  return std::tuple(m.part, m.plane.value, static_cast<int>(m.kind), std::string_view(m.stock));
}

}  // namespace

std::vector<CutLine> cut_list(const Framing& framing) {
  std::vector<const Member*> pieces;
  std::size_t parts = 0;
  for (const Member& member : framing.members) {
    parts = std::max(parts, member.part + 1);
    if (!is_truss(member.kind) && member.part_of.is_none()) {
      pieces.push_back(&member);
    }
  }
  std::stable_sort(pieces.begin(), pieces.end(), [](const Member* l, const Member* r) {
    const auto left = place_of(*l);
    const auto right = place_of(*r);
    return left != right ? left < right : l->long_point_m > r->long_point_m;
  });
  std::vector<const Truss*> trusses;
  for (const Truss& truss : framing.trusses) {
    parts = std::max(parts, truss.part + 1);
    trusses.push_back(&truss);
  }
  std::stable_sort(trusses.begin(), trusses.end(), [](const Truss* l, const Truss* r) {
    return l->part != r->part   ? l->part < r->part
           : l->kind != r->kind ? static_cast<int>(l->kind) < static_cast<int>(r->kind)
                                : l->span_m > r->span_m;
  });
  Lines lines;
  std::size_t piece = 0;
  std::size_t truss = 0;
  for (std::size_t part = 0; part < parts; ++part) {
    for (; piece < pieces.size() && pieces[piece]->part == part; ++piece) {
      lines.add(*pieces[piece]);
    }
    for (; truss < trusses.size() && trusses[truss]->part == part; ++truss) {
      lines.add(*trusses[truss]);
    }
  }
  return lines.take();
}

}  // namespace ridgeward::framing
