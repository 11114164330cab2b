#include "attic/joins.hpp"

#include "attic/contacts.hpp"

#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::attic {

namespace {

constexpr double least_m = 1e-3;
constexpr double no_height_m = 1e-6;
/// At the upper end of a gap, the bays beside a rafter that stands at the very peak.
constexpr double peak_m = 0.06;
/// Rafter, second ply and a bit: as far apart are two bays beside a doubled rafter.
constexpr double doubled_m = 0.15;

class Joining {
 public:
  Joining(const Plan& plan, const std::vector<Border>& borders,
          const IndexedVector<SpaceId, std::size_t>& floor_of, Attic& attic)
      : plan_(plan), borders_(borders), floor_of_(floor_of), attic_(attic) {}

  void run();

 private:
  bool is_rafter_space(SpaceId id) const {
    return attic_.spaces[id].kind == SpaceKind::rafter_space;
  }
  double roof_m(glm::dvec2 p) const;
  double floor_height_m(std::size_t floor, glm::dvec2 p) const;
  void join_deck_opening(const Deck& deck, const polygon::Loops& opening);
  void join_attics(const Border& border);
  SpaceId space_of(BayId bay, std::size_t floor) const;
  void join_along(BayId bay);
  void join_at(BayId bay, const Border& border, const Pieces& pieces);
  model::Way way_past(LineId line) const;
  void open_gap(LineId line, const std::vector<const Contact*>& contacts);
  void join_gaps();
  void join_at_break(const std::vector<const Contact*>& contacts);
  void join_at_lines();
  void join_past_header(BayId bay);
  BayId neighbour(BayId bay, bool on_right) const;

  const Plan& plan_;
  const std::vector<Border>& borders_;
  const IndexedVector<SpaceId, std::size_t>& floor_of_;
  Attic& attic_;
  std::vector<Pieces> planes_;     ///< in plan, when attics border each other
  std::vector<Contact> contacts_;  ///< of all spaces
  std::vector<SpaceId> gaps_;
};

/// Height of the highest plane over a point; far below everything where there is none.
double Joining::roof_m(glm::dvec2 p) const {
  double top = -HUGE_VAL;
  for (const PlaneId id : plan_.surface.planes.ids()) {
    const Pieces& pieces = planes_[id.value];
    const bool is_over = p.x >= pieces.box.low.x && p.x <= pieces.box.high.x &&
                         p.y >= pieces.box.low.y && p.y <= pieces.box.high.y &&
                         std::any_of(pieces.all.begin(), pieces.all.end(), [&](const auto& one) {
                           return polygon::contains(one.corners, p);
                         });
    if (is_over) {
      top = std::max(top, rise_of(plan_.surface.planes[id]).at(p));
    }
  }
  return top;
}

/// Of a flat ceiling, or of the deck under a space over it.
double Joining::floor_height_m(std::size_t floor, glm::dvec2 p) const {
  const std::optional<std::size_t> part = plan_.floors[floor].over_deck_of;
  if (!part) {
    return attic_.spaces[plan_.attics[floor]].bottom_m;
  }
  double top = -HUGE_VAL;
  for (const Deck& deck : plan_.decks) {
    if (deck.part == *part && polygon::contains(deck.outline, p)) {
      top = std::max(top, deck.rise.at(p));
    }
  }
  return top > -HUGE_VAL ? top : attic_.spaces[plan_.attics[floor]].bottom_m;
}

/// An opening in a blind deck leads from what lies over it into the attic beneath.
void Joining::join_deck_opening(const Deck& deck, const polygon::Loops& opening) {
  const glm::dvec2 middle = polygon::centroid(opening.front());
  Join join;
  join.kind = JoinKind::deck_opening;
  join.area_m2 = polygon::area(opening) * plan_.surface.planes[deck.plane].pitch.slope_factor();
  join.at = {middle.x, middle.y, deck.rise.at(middle)};
  for (std::size_t floor = 0; floor < plan_.floors.size(); ++floor) {
    const std::optional<std::size_t> part = plan_.floors[floor].over_deck_of;
    if (plan_.attics[floor].is_none() || (part && *part != deck.part) ||
        !polygon::contains(plan_.floors[floor].space.outline, middle)) {
      continue;
    }
    (part ? join.one : join.other) = plan_.attics[floor];
  }
  if (!join.one.is_none() && !join.other.is_none()) {
    attic_.joins.push_back(join);
  }
}

/// Two flat ceilings side by side are open to each other where the roof stands above both.
void Joining::join_attics(const Border& border) {
  constexpr int steps = 8;
  const auto floor_m = [&](glm::dvec2 p) {
    return std::max(floor_height_m(border.one, p), floor_height_m(border.other, p));
  };
  double height_sum = 0.0;
  for (int i = 0; i < steps; ++i) {
    const glm::dvec2 p = glm::mix(border.from, border.to, (i + 0.5) / steps);
    height_sum += std::max(0.0, roof_m(p) - floor_m(p));
  }
  const double area_m2 = height_sum / steps * glm::length(border.to - border.from);
  if (area_m2 <= no_height_m) {
    return;
  }
  Join join;
  join.kind = JoinKind::side_by_side;
  join.one = plan_.attics[border.one];
  join.other = plan_.attics[border.other];
  join.area_m2 = area_m2;
  const glm::dvec2 middle = 0.5 * (border.from + border.to);
  join.at = {middle.x, middle.y, std::max(roof_m(middle), floor_m(middle))};
  attic_.joins.push_back(join);
}

SpaceId Joining::space_of(BayId bay, std::size_t floor) const {
  for (const Stretch& stretch : attic_.bays[bay].stretches) {
    if (floor_of_[stretch.space] == floor) {
      return stretch.space;
    }
  }
  return {};
}

/// Where the bay runs from one ceiling onto the next.
void Joining::join_at(BayId bay, const Border& border, const Pieces& pieces) {
  const SpaceId one = space_of(bay, border.one);
  const SpaceId other = space_of(bay, border.other);
  if (one.is_none() || other.is_none() || (!is_rafter_space(one) && !is_rafter_space(other))) {
    return;
  }
  const surface::Plane& plane = plan_.surface.planes[plan_.framing.bays[bay].plane];
  const glm::dvec2 along{plane.frame.along.x, plane.frame.along.y};
  for (const Reach& reach : within(pieces, border.from, border.to)) {
    const glm::dvec2 from = glm::mix(border.from, border.to, reach.from);
    const glm::dvec2 to = glm::mix(border.from, border.to, reach.to);
    const double width_m = std::abs(glm::dot(along, to - from));
    if (width_m <= least_m) {
      continue;
    }
    const bool is_first = is_rafter_space(one);
    const Space& rafter = attic_.spaces[is_first ? one : other];
    const Space& next = attic_.spaces[is_first ? other : one];
    const glm::dvec2 middle = 0.5 * (from + to);
    Join join;
    join.kind = next.kind == SpaceKind::attic ? JoinKind::bay_end : JoinKind::goes_on;
    join.one = is_first ? one : other;
    join.other = is_first ? other : one;
    join.bay = bay;
    join.at = {middle.x, middle.y, rise_of(plane).at(middle)};
    const double clear_m =
        next.kind == SpaceKind::attic ? rafter.clear_m : std::min(rafter.clear_m, next.clear_m);
    const bool has_height = next.kind != SpaceKind::attic || join.at.z > next.bottom_m;
    join.area_m2 = clear_m * width_m;
    join.is_open = clear_m > no_height_m && has_height;
    attic_.joins.push_back(join);
  }
}

void Joining::join_along(BayId bay) {
  const std::vector<Stretch>& stretches = attic_.bays[bay].stretches;
  if (stretches.size() < 2 || std::none_of(stretches.begin(), stretches.end(), [&](const auto& s) {
        return is_rafter_space(s.space);
      })) {
    return;
  }
  const framing::Bay& own = plan_.framing.bays[bay];
  const Pieces pieces({plan_of(plan_.surface.planes[own.plane], own.outline)});
  for (const Border& border : borders_) {
    join_at(bay, border, pieces);
  }
}

model::Way Joining::way_past(LineId id) const {
  const surface::Line& line = plan_.surface.lines[id];
  model::Way way = model::Way::tight;
  for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
    if (plane.is_none()) {
      continue;
    }
    const model::AirPast& past =
        plan_.model.parts[plan_.surface.planes[plane].part].framing.air_past;
    const model::Way own = line.kind == surface::LineKind::hip ? past.hips : past.valleys;
    way = own == model::Way::tight ? way : own;
  }
  return way;
}

void Joining::open_gap(LineId line, const std::vector<const Contact*>& contacts) {
  if (way_past(line) == model::Way::tight ||
      std::none_of(contacts.begin(), contacts.end(),
                   [&](const Contact* one) { return is_rafter_space(one->space); })) {
    return;
  }
  Space gap;
  gap.kind = SpaceKind::gap;
  gap.id = "gap " + plan_.surface.lines[line].id;
  gap.line = line;
  gap.bottom_m = HUGE_VAL;
  gap.top_m = -HUGE_VAL;
  for (const Contact* one : contacts) {
    gap.bottom_m = std::min({gap.bottom_m, one->from.z, one->to.z});
    gap.top_m = std::max({gap.top_m, one->from.z, one->to.z});
  }
  gaps_.push_back(attic_.spaces.push_back(std::move(gap)));
  for (const Contact* one : contacts) {
    Join join;
    join.kind = JoinKind::line_gap;
    join.one = one->space;
    join.other = gaps_.back();
    join.bay = one->bay;
    join.line = line;
    join.at = 0.5 * (one->from + one->to);
    attic_.joins.push_back(join);
  }
}

/// Gaps meet at a node; at its upper end a gap opens to the bays beside the rafter that stands at
/// the peak, which is dropped or drilled with it.
void Joining::join_gaps() {
  const auto nodes = [&](SpaceId gap) { return plan_.surface.lines[attic_.spaces[gap].line]; };
  for (std::size_t i = 0; i < gaps_.size(); ++i) {
    const surface::Line own = nodes(gaps_[i]);
    Join join;
    join.kind = JoinKind::line_gap;
    join.line = attic_.spaces[gaps_[i]].line;
    join.other = gaps_[i];
    for (std::size_t k = 0; k < i; ++k) {
      const surface::Line other = nodes(gaps_[k]);
      const bool is_from = own.from == other.from || own.from == other.to;
      if (is_from || own.to == other.from || own.to == other.to) {
        join.one = gaps_[k];
        join.at = plan_.surface.nodes[is_from ? own.from : own.to];
        attic_.joins.push_back(join);
      }
    }
    const glm::dvec3 a = plan_.surface.nodes[own.from];
    const glm::dvec3 b = plan_.surface.nodes[own.to];
    const glm::dvec3 peak = a.z > b.z ? a : b;
    for (const Contact& contact : contacts_) {
      const bool is_near =
          glm::length(contact.from - peak) < peak_m || glm::length(contact.to - peak) < peak_m;
      if (contact.line != join.line && is_near) {
        join.one = contact.space;
        join.bay = contact.bay;
        join.at = peak;
        attic_.joins.push_back(join);
        join.bay = {};
      }
    }
  }
}

/// Bays that meet at a pitch break carry on into each other.
void Joining::join_at_break(const std::vector<const Contact*>& contacts) {
  const surface::Line& line = plan_.surface.lines[contacts.front()->line];
  const glm::dvec3 start = plan_.surface.nodes[line.from];
  const glm::dvec3 way = (plan_.surface.nodes[line.to] - start) / line.length_m;
  struct On {
    const Contact* contact;
    double from_m;
    double to_m;
  };
  std::vector<On> below;
  std::vector<On> above;
  for (const Contact* one : contacts) {
    const double a = glm::dot(one->from - start, way);
    const double b = glm::dot(one->to - start, way);
    const bool is_left = plan_.framing.bays[one->bay].plane == line.left_plane();
    (is_left ? below : above).push_back({one, std::min(a, b), std::max(a, b)});
  }
  for (const On& one : below) {
    for (const On& other : above) {
      const double length_m = std::min(one.to_m, other.to_m) - std::max(one.from_m, other.from_m);
      const SpaceId a = one.contact->space;
      const SpaceId b = other.contact->space;
      if (length_m <= least_m || (!is_rafter_space(a) && !is_rafter_space(b))) {
        continue;
      }
      const auto clear = [&](SpaceId id) {
        return is_rafter_space(id) ? attic_.spaces[id].clear_m : HUGE_VAL;
      };
      const double clear_m = std::min(clear(a), clear(b));
      Join join;
      join.kind = JoinKind::pitch_break;
      join.one = a;
      join.other = b;
      join.bay = one.contact->bay;
      join.other_bay = other.contact->bay;
      join.line = one.contact->line;
      join.area_m2 = clear_m * length_m;
      join.at =
          start + 0.5 * (std::max(one.from_m, other.from_m) + std::min(one.to_m, other.to_m)) * way;
      join.is_open = clear_m > no_height_m;
      attic_.joins.push_back(join);
    }
  }
}

void Joining::join_at_lines() {
  std::vector<const Contact*> sorted;
  sorted.reserve(contacts_.size());
  for (const Contact& contact : contacts_) {
    sorted.push_back(&contact);
  }
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Contact* l, const Contact* r) { return l->line < r->line; });
  for (std::size_t first = 0; first < sorted.size();) {
    std::size_t end = first;
    while (end < sorted.size() && sorted[end]->line == sorted[first]->line) {
      ++end;
    }
    const std::vector<const Contact*> here(sorted.begin() + static_cast<std::ptrdiff_t>(first),
                                           sorted.begin() + static_cast<std::ptrdiff_t>(end));
    const surface::LineKind kind = plan_.surface.lines[here.front()->line].kind;
    if (kind == surface::LineKind::pitch_break) {
      join_at_break(here);
    } else if (kind == surface::LineKind::hip || kind == surface::LineKind::valley) {
      open_gap(here.front()->line, here);
    }
    first = end;
  }
  join_gaps();
}

/// The bay beyond the rafter on one side, doubled or not, that reaches as far up; none for none.
BayId Joining::neighbour(BayId id, bool on_right) const {
  const framing::Bay& bay = plan_.framing.bays[id];
  const framing::PlaneFraming& own = plan_.framing.planes[bay.plane];
  const polygon::Box box = polygon::box_of(bay.outline);
  BayId nearest;
  double least = doubled_m;
  for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
    const framing::Bay& other = plan_.framing.bays[BayId(i)];
    const double apart = on_right ? other.from_u_m - bay.to_u_m : bay.from_u_m - other.to_u_m;
    const polygon::Box reach = polygon::box_of(other.outline);
    const bool is_beside = reach.low.y < box.high.y && box.low.y < reach.high.y;
    if (BayId(i) != id && is_beside && apart > 0.0 && apart < least) {
      least = apart;
      nearest = BayId(i);
    }
  }
  return nearest;
}

void Joining::join_past_header(BayId id) {
  const framing::Bay& bay = plan_.framing.bays[id];
  const BayPlace& place = attic_.bays[id];
  const bool is_drilled =
      plan_.model.parts[plan_.surface.planes[bay.plane].part].framing.air_past.headers !=
      model::Way::tight;
  if (!is_drilled || place.stretches.empty() ||
      (bay.head_header.is_none() && bay.foot_header.is_none())) {
    return;
  }
  // Holes stand near the header: at the upper end of a bay that ends at one.
  const SpaceId own =
      bay.head_header.is_none() ? place.stretches.front().space : place.stretches.back().space;
  for (const bool on_right : {false, true}) {
    const BayId other = neighbour(id, on_right);
    if (other.is_none() || attic_.bays[other].stretches.empty()) {
      continue;
    }
    const polygon::Box box = polygon::box_of(bay.outline);
    const double at_v = bay.head_header.is_none() ? box.low.y : box.high.y;
    SpaceId into = attic_.space_at(other, at_v);
    into = into.is_none() ? attic_.bays[other].stretches.front().space : into;
    if (into == own || (!is_rafter_space(own) && !is_rafter_space(into))) {
      continue;
    }
    Join join;
    join.kind = JoinKind::header;
    join.one = own;
    join.other = into;
    join.bay = id;
    join.other_bay = other;
    join.at =
        plan_.surface.planes[bay.plane].frame.at({on_right ? bay.to_u_m : bay.from_u_m, at_v});
    attic_.joins.push_back(join);
  }
}

void Joining::run() {
  const auto is_flat = [&](std::size_t floor) { return !plan_.attics[floor].is_none(); };
  for (const Border& border : borders_) {
    if (!is_flat(border.one) || !is_flat(border.other)) {
      continue;
    }
    if (planes_.empty()) {
      for (const surface::Plane& plane : plan_.surface.planes) {
        planes_.emplace_back(plan_of(plan_.surface, plane));
      }
    }
    join_attics(border);
  }
  for (const Deck& deck : plan_.decks) {
    for (const polygon::Loops& opening : deck.openings) {
      join_deck_opening(deck, opening);
    }
  }
  if (attic_.spaces.size() == 0 ||
      std::none_of(attic_.spaces.begin(), attic_.spaces.end(),
                   [](const Space& space) { return space.kind == SpaceKind::rafter_space; })) {
    return;
  }
  for (const BayId bay : plan_.framing.bays.ids()) {
    join_along(bay);
  }
  contacts_ = contacts_of(plan_, floor_of_, attic_);
  for (const Contact& contact : contacts_) {
    if (is_rafter_space(contact.space)) {
      attic_.contacts.push_back(contact);
    }
  }
  join_at_lines();
  for (const BayId bay : plan_.framing.bays.ids()) {
    join_past_header(bay);
  }
}

}  // namespace

void join_spaces(const Plan& plan, const std::vector<Border>& borders,
                 const IndexedVector<SpaceId, std::size_t>& floor_of, Attic& attic) {
  Joining(plan, borders, floor_of, attic).run();
}

}  // namespace ridgeward::attic
