#include "placement/borders.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <set>

namespace ridgeward::placement {

namespace {

constexpr double near_m = 1e-6;
/// Parts of which every range is tried.
constexpr std::size_t most_parts = 7;

/// What one side of a line opens onto.
struct Opening {
  Span span;
  CompartmentId compartment;
};

/// The bays of one plane along a vent, in order, each up to the middle of the rafter to the next.
std::vector<Opening> openings_of(const Ground& ground, const vents::Exhaust& exhaust,
                                 PlaneId plane) {
  std::vector<Opening> all;
  const glm::dvec3 way = glm::normalize(exhaust.to - exhaust.from);
  for (const attic::Contact& contact : ground.attic.contacts) {
    if (contact.line == exhaust.line && ground.framing.bays[contact.bay].plane == plane) {
      const double a = exhaust.from_m + glm::dot(contact.from - exhaust.from, way);
      const double b = exhaust.from_m + glm::dot(contact.to - exhaust.from, way);
      if (std::max(a, b) > exhaust.from_m + near_m && std::min(a, b) < exhaust.to_m - near_m) {
        all.push_back(
            {{std::min(a, b), std::max(a, b)}, ground.attic.spaces[contact.space].compartment});
      }
    }
  }
  std::sort(all.begin(), all.end(),
            [](const Opening& l, const Opening& r) { return l.span.from_m < r.span.from_m; });
  for (std::size_t i = 0; i + 1 < all.size(); ++i) {
    const double middle = 0.5 * (all[i].span.to_m + all[i + 1].span.from_m);
    all[i].span.to_m = middle;
    all[i + 1].span.from_m = middle;
  }
  if (!all.empty()) {
    all.front().span.from_m = std::min(all.front().span.from_m, exhaust.from_m);
    all.back().span.to_m = std::max(all.back().span.to_m, exhaust.to_m);
  }
  return all;
}

CompartmentId at(const std::vector<Opening>& side, double m) {
  for (const Opening& one : side) {
    if (m < one.span.to_m) {
      return one.compartment;
    }
  }
  return {};
}

}  // namespace

Borders::Borders(const Ground& ground) : attic_(ground.attic) {
  std::map<std::uint32_t, std::set<std::uint32_t>> lines;
  for (const attic::Contact& contact : attic_.contacts) {
    const surface::LineKind kind = ground.surface.lines[contact.line].kind;
    if (kind == surface::LineKind::ridge || kind == surface::LineKind::hip) {
      lines[attic_.spaces[contact.space].compartment.value].insert(contact.line.value);
    }
  }
  for (const auto& [compartment, own] : lines) {
    lines_[compartment].assign(own.begin(), own.end());
  }
}

bool Borders::is_of_several(CompartmentId id) const {
  if (id.is_none()) {
    return false;
  }
  const std::vector<SpaceId>& spaces = attic_.compartments[id].spaces;
  return std::count_if(spaces.begin(), spaces.end(), [&](SpaceId space) {
           return attic_.spaces[space].kind != attic::SpaceKind::gap;
         }) > 1;
}

bool Borders::parts(CompartmentId one, CompartmentId other) const {
  if (one == other) {
    return false;
  }
  if (one.is_none() || other.is_none() || is_of_several(one) || is_of_several(other)) {
    return true;
  }
  const auto a = lines_.find(one.value);
  const auto b = lines_.find(other.value);
  return (a == lines_.end() || b == lines_.end()) ? (a == lines_.end()) != (b == lines_.end())
                                                  : a->second != b->second;
}

/// Pieces between which no run is cut, put together.
std::vector<Borders::Part> Borders::parts_of(const std::vector<Piece>& pieces) const {
  std::vector<Part> all;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const Piece& own = pieces[i];
    const bool is_alike = own.other == own.one;
    const bool goes_on =
        i > 0 && !parts(pieces[i - 1].one, own.one) && !parts(pieces[i - 1].other, own.other);
    if (goes_on) {
      all.back().is_one = all.back().is_one && is_alike && all.back().one == own.one;
      all.back().last = own.span;
    } else {
      all.push_back({own.span, own.span, own.one, is_alike, false});
    }
  }
  for (Part& part : all) {
    part.is_free = part.is_one && is_of_several(part.one);
  }
  return all;
}

std::vector<Range> Borders::ranges(const std::vector<Piece>& pieces) const {
  const std::vector<Part> all = parts_of(pieces);
  const auto middle = [](const Span& span) { return 0.5 * (span.from_m + span.to_m); };
  std::vector<Range> ranges;
  const auto add = [&](const Part& first, const Part& last, bool is_alone) {
    Range range;
    range.span = {first.first.from_m, last.last.to_m};
    range.whole = range.span;
    range.is_one = is_alone && first.is_one;
    if (first.is_free) {
      range.whole.from_m = first.last.to_m;
    } else {
      range.first_middle_m = middle(first.first);
    }
    if (last.is_free) {
      range.whole.to_m = last.first.from_m;
    } else {
      range.last_middle_m = middle(last.last);
    }
    ranges.push_back(range);
  };
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t k = i; k < all.size(); ++k) {
      const bool is_whole = i == 0 && k + 1 == all.size();
      if (all.size() <= most_parts || i == k || is_whole) {
        add(all[i], all[k], i == k);
      }
    }
  }
  return ranges;
}

std::vector<Piece> pieces_along(const Ground& ground, const vents::Exhaust& exhaust) {
  const surface::Line& line = ground.surface.lines[exhaust.line];
  const std::vector<Opening> left = openings_of(ground, exhaust, line.left_plane());
  const std::vector<Opening> right = openings_of(ground, exhaust, line.right_plane());
  std::vector<double> ends{exhaust.from_m, exhaust.to_m};
  for (const auto* side : {&left, &right}) {
    for (const Opening& one : *side) {
      ends.push_back(std::clamp(one.span.to_m, exhaust.from_m, exhaust.to_m));
    }
  }
  std::sort(ends.begin(), ends.end());
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i + 1 < ends.size() && !(left.empty() && right.empty()); ++i) {
    const double middle = 0.5 * (ends[i] + ends[i + 1]);
    if (ends[i + 1] - ends[i] > near_m) {
      pieces.push_back({{ends[i], ends[i + 1]}, at(left, middle), at(right, middle)});
    }
  }
  return pieces;
}

namespace {

/// All of a range less half of its first bay, of its last, and of both.
void add_half_bays(const Range& range, const Span& all, double least_m, units::LengthUnit unit,
                   std::vector<Span>& runs) {
  const auto marked = [&](double m) { return on_mark(m, unit); };
  const std::optional<double> from =
      range.first_middle_m ? std::optional(marked(*range.first_middle_m)) : std::nullopt;
  const std::optional<double> to =
      range.last_middle_m ? std::optional(marked(*range.last_middle_m)) : std::nullopt;
  for (const Span& span :
       {Span{from.value_or(all.from_m), all.to_m}, Span{all.from_m, to.value_or(all.to_m)},
        Span{from.value_or(all.from_m), to.value_or(all.to_m)}}) {
    const bool is_new = std::none_of(runs.begin(), runs.end(), [&](const Span& run) {
      return std::abs(run.from_m - span.from_m) < near_m && std::abs(run.to_m - span.to_m) < near_m;
    });
    if (is_new && span.length_m() >= least_m) {
      runs.push_back(span);
    }
  }
}

}  // namespace

std::vector<Span> runs_in(const Range& range, const model::Product& product, Rest rest,
                          units::LengthUnit unit) {
  std::vector<Span> spans = spans_in(range.span, product, rest, unit);
  if (range.is_one || spans.empty()) {
    return spans;
  }
  const Span all = spans.back();
  std::vector<Span> runs;
  for (const Span& part : spans) {
    const double length_m = part.length_m();
    if (length_m >= all.length_m() - near_m) {
      continue;
    }
    if (all.from_m + length_m >= range.whole.to_m - near_m) {
      runs.push_back({all.from_m, all.from_m + length_m});
    }
    if (all.to_m - length_m <= range.whole.from_m + near_m) {
      runs.push_back({all.to_m - length_m, all.to_m});
    }
  }
  runs.push_back(all);
  if (model::is_intake(product.kind)) {
    add_half_bays(range, all, std::max(product.least_piece_m, near_m), unit, runs);
  }
  return runs;
}

}  // namespace ridgeward::placement
