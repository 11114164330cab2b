// The deck, plane by plane, as mitred sheets.
#include "base/polygon.hpp"
#include "base/regions.hpp"
#include "solid/bodies.hpp"
#include "solid/laid_over.hpp"
#include "solid/sheet.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

namespace ridgeward::solid {

namespace {

/// Corners found by cutting agree with the border's own within this.
constexpr double near_m = 1e-6;
/// A mitre that leans further over is cut square.
constexpr double most_lean = 10.0;
/// A rest that is smaller than a square millimetre is none.
constexpr double least_m2 = 1e-6;

/// Where `p` lies along a side, if on it at all.
std::optional<double> place_on(glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) {
  const double length = glm::length(b - a);
  const glm::dvec2 along = (b - a) / length;
  const glm::dvec2 d = p - a;
  const double at = glm::dot(d, along);
  const bool is_on =
      std::abs(along.x * d.y - along.y * d.x) < near_m && at > -near_m && at < length + near_m;
  return is_on ? std::optional(at) : std::nullopt;
}

bool has_on_border(const surface::BlindDeck& blind, const glm::dvec3& p) {
  if (std::abs(glm::dot(p - blind.frame.origin, blind.frame.normal)) > near_m) {
    return false;
  }
  const glm::dvec2 uv = blind.frame.uv(p);
  return std::any_of(blind.outline_uv.begin(), blind.outline_uv.end(), [&](const auto& loop) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      if (place_on(loop[i], loop[(i + 1) % loop.size()], uv)) {
        return true;
      }
    }
    return false;
  });
}

class DeckMaker {
 public:
  DeckMaker(const model::RoofModel& model, const surface::Surface& surface,
            const vents::Vents* slots)
      : model_(model), surface_(surface), slots_(slots) {}

  Result<Bodies> run();

 private:
  double deck_m(PlaneId id) const { return model_.parts[surface_.planes[id].part].deck_m; }
  double lean_to(PlaneId own, PlaneId other, const glm::dvec3& along, bool is_valley) const;
  double lean(PlaneId own, const surface::LoopStep& step) const;
  std::vector<SheetLoop> border_of(PlaneId id) const;
  polygon::Loops cuts_in(PlaneId id) const;
  std::vector<SheetLoop> border_of(const surface::BlindDeck& blind) const;
  double blind_m(const surface::BlindDeck& blind) const {
    return blind.plane.is_none() ? model_.parts[blind.part].deck_m : deck_m(blind.plane);
  }
  double lean_under(const surface::BlindDeck& blind, glm::dvec2 from, glm::dvec2 to) const;
  Faults add(PlaneId id, Bodies& bodies) const;
  Faults add(const surface::BlindDeck& blind, Bodies& bodies) const;

  const model::RoofModel& model_;
  const surface::Surface& surface_;
  const vents::Vents* slots_;
};

/// One of two sheets that meet.
struct Face {
  glm::dvec3 normal{0.0};
  double thickness_m = 0.0;
};

/// How far the line in which both undersides meet lies inward of that of the tops, for each unit
/// of the own thickness.
double mitre(const Face& own, const Face& other, const glm::dvec3& inward) {
  const double cosine = glm::dot(own.normal, other.normal);
  const double sine2 = 1.0 - cosine * cosine;
  if (sine2 < 1e-12) {
    return HUGE_VAL;
  }
  // The point a n + b m that lies both thicknesses in: n.(a n + b m) = -t, m.(a n + b m) = -s.
  const double b = (cosine * own.thickness_m - other.thickness_m) / sine2;
  return b * glm::dot(inward, other.normal) / own.thickness_m;
}

/// Both sides of a line, mitred or both cut square; `along` with the own face on the left hand.
double lean_between(const Face& own, const Face& other, const glm::dvec3& along) {
  const double lean = mitre(own, other, glm::cross(own.normal, along));
  const double theirs = mitre(other, own, -glm::cross(other.normal, along));
  return std::abs(lean) > most_lean || std::abs(theirs) > most_lean ? 0.0 : lean;
}

double DeckMaker::lean_to(PlaneId own, PlaneId other, const glm::dvec3& along,
                          bool is_valley) const {
  const Face face{surface_.planes[own].frame.normal, deck_m(own)};
  Face beside{surface_.planes[other].frame.normal, deck_m(other)};
  if (is_valley && is_laid_on(model_, surface_, other, own)) {
    return 0.0;  // the deck goes on beneath
  }
  if (is_valley && is_laid_on(model_, surface_, own, other)) {
    beside.thickness_m = 0.0;  // it stands on the deck: down to a feather edge
    const double lean = mitre(face, beside, glm::cross(face.normal, along));
    return std::abs(lean) > most_lean ? 0.0 : lean;
  }
  return lean_between(face, beside, along);
}

double DeckMaker::lean(PlaneId own, const surface::LoopStep& step) const {
  const surface::Line& line = surface_.lines[step.line];
  const glm::dvec3 way = surface_.nodes[line.to] - surface_.nodes[line.from];
  const glm::dvec3 along = (step.forward ? way : -way) / glm::length(way);
  const glm::dvec3 normal = surface_.planes[own].frame.normal;
  const glm::dvec3 inward = glm::cross(normal, along);
  const PlaneId other = step.forward ? line.right_plane() : line.left_plane();
  if (!other.is_none()) {
    return lean_to(own, other, along, line.kind == surface::LineKind::valley);
  }
  const bool is_at_wall = line.kind == surface::LineKind::headwall ||
                          line.kind == surface::LineKind::sidewall ||
                          line.kind == surface::LineKind::step_wall;
  return is_at_wall ? -inward.z / normal.z : 0.0;
}

std::vector<SheetLoop> DeckMaker::border_of(PlaneId id) const {
  const surface::Plane& plane = surface_.planes[id];
  std::vector<SheetLoop> loops;
  for (const surface::Loop& loop : plane.loops) {
    const std::vector<glm::dvec2> corners = surface::corners_uv(surface_, plane.frame, loop);
    SheetLoop& own = loops.emplace_back();
    for (std::size_t i = 0; i < corners.size(); ++i) {
      own.push_back({corners[i], lean(id, loop[i])});
    }
  }
  return loops;
}

/// Beneath a part two blind decks meet in a hidden ridge, hip or valley; elsewhere they are cut
/// square.
double DeckMaker::lean_under(const surface::BlindDeck& blind, glm::dvec2 from,
                             glm::dvec2 to) const {
  const glm::dvec3 middle = blind.frame.at(0.5 * (from + to));
  const auto other = std::find_if(
      surface_.blind_decks.begin(), surface_.blind_decks.end(),
      [&](const surface::BlindDeck& one) { return &one != &blind && has_on_border(one, middle); });
  if (other == surface_.blind_decks.end()) {
    return 0.0;
  }
  const glm::dvec3 along = glm::normalize(blind.frame.at(to) - blind.frame.at(from));
  return lean_between({blind.frame.normal, blind_m(blind)}, {other->frame.normal, blind_m(*other)},
                      along);
}

std::vector<SheetLoop> DeckMaker::border_of(const surface::BlindDeck& blind) const {
  std::vector<SheetLoop> loops;
  for (const polygon::Loop& given : blind.outline_uv) {
    const polygon::Loop loop = polygon::without_idle_points(given);
    SheetLoop& own = loops.emplace_back();
    for (std::size_t i = 0; i < loop.size(); ++i) {
      own.push_back({loop[i], lean_under(blind, loop[i], loop[(i + 1) % loop.size()])});
    }
  }
  return loops;
}

/// Openings and slots of a plane, united.
polygon::Loops DeckMaker::cuts_in(PlaneId id) const {
  std::vector<polygon::Loops> cuts;
  for (const surface::Region& region : surface_.regions) {
    if (region.plane == id && region.is_opening) {
      cuts.push_back({region.clear_uv.size() >= 3 ? region.clear_uv : region.outline_uv});
    }
  }
  if (slots_ != nullptr) {
    for (const vents::Slot& slot : slots_->slots) {
      if (slot.plane == id && slot.end_m - slot.start_m > near_m && slot.width_m > near_m) {
        const double low = slot.lower_v_m();
        const double high = low + slot.width_m;
        cuts.push_back(
            {{{slot.start_m, low}, {slot.end_m, low}, {slot.end_m, high}, {slot.start_m, high}}});
      }
    }
  }
  return cuts.empty() ? polygon::Loops{} : regions::united(cuts);
}

/// The lean of the border's side on which the middle of a side lies; cut square elsewhere.
double lean_at(const std::vector<SheetLoop>& border, glm::dvec2 middle) {
  for (const SheetLoop& loop : border) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      if (place_on(loop[i].at, loop[(i + 1) % loop.size()].at, middle)) {
        return loop[i].lean;
      }
    }
  }
  return 0.0;
}

/// The side from `a` to `b` cut up at the border's corners on it, and each piece with its lean.
void add_side(const std::vector<SheetLoop>& border, glm::dvec2 a, glm::dvec2 b, SheetLoop& loop) {
  const double length = glm::length(b - a);
  if (length < near_m) {
    return;
  }
  std::vector<double> places{0.0};
  for (const SheetLoop& other : border) {
    for (const SheetCorner& corner : other) {
      const std::optional<double> at = place_on(a, b, corner.at);
      if (at && *at > near_m && *at < length - near_m) {
        places.push_back(*at);
      }
    }
  }
  std::sort(places.begin(), places.end());
  places.push_back(length);
  for (std::size_t i = 0; i + 1 < places.size(); ++i) {
    const glm::dvec2 along = (b - a) / length;
    loop.push_back(
        {a + places[i] * along, lean_at(border, a + 0.5 * (places[i] + places[i + 1]) * along)});
  }
}

std::vector<SheetLoop> without(const std::vector<SheetLoop>& border, const polygon::Loops& cuts) {
  polygon::Loops flat;
  for (const SheetLoop& loop : border) {
    polygon::Loop& own = flat.emplace_back();
    for (const SheetCorner& corner : loop) {
      own.push_back(corner.at);
    }
  }
  polygon::Loops rest = regions::without(flat, cuts);
  std::stable_partition(rest.begin(), rest.end(),
                        [](const polygon::Loop& loop) { return polygon::area(loop) > 0.0; });
  std::vector<SheetLoop> loops;
  for (const polygon::Loop& loop : rest) {
    SheetLoop own;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      add_side(border, loop[i], loop[(i + 1) % loop.size()], own);
    }
    loops.push_back(std::move(own));
  }
  return loops;
}

/// Without sides that have no length and loops that have no area.
std::vector<SheetLoop> tidied(const std::vector<SheetLoop>& given) {
  std::vector<SheetLoop> loops;
  for (const SheetLoop& loop : given) {
    SheetLoop own;
    polygon::Loop flat;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      if (glm::length(loop[(i + 1) % loop.size()].at - loop[i].at) > near_m) {
        own.push_back(loop[i]);
        flat.push_back(loop[i].at);
      }
    }
    if (own.size() >= 3 && std::abs(polygon::area(flat)) > least_m2) {
      loops.push_back(std::move(own));
    }
  }
  return loops;
}

struct Sheet {
  std::string name;
  surface::Frame frame;
  std::vector<SheetLoop> border;
  double thickness_m = 0.0;
};

Result<Shape> built_sheet(const Sheet& given, const std::vector<SheetLoop>& loops) {
  const std::optional<Facets> facets = sheet(given.frame, loops, given.thickness_m);
  if (!facets) {
    return Fault{"solid.invalid", "", "the mitres of " + given.name + " meet above its underside",
                 "report the model"};
  }
  return built(*facets, given.name);
}

/// Adds a sheet; nothing where nothing is left of it.
Faults add_sheet(const Sheet& sheet, const polygon::Loops& cuts, Bodies& bodies) {
  std::vector<SheetLoop> loops = tidied(cuts.empty() ? sheet.border : without(sheet.border, cuts));
  if (loops.empty()) {
    return {};
  }
  Result<Shape> shape = built_sheet(sheet, loops);
  if (!shape) {
    for (SheetLoop& loop : loops) {
      for (SheetCorner& corner : loop) {
        corner.lean = 0.0;
      }
    }
    shape = built_sheet(sheet, loops);
    bodies.notes.push_back("The sheet " + sheet.name +
                           " is cut square all around: its mitres run into each other.");
  }
  if (!shape) {
    return shape.faults();
  }
  bodies.all.push_back({sheet.name, std::move(shape).value()});
  return {};
}

Faults DeckMaker::add(PlaneId id, Bodies& bodies) const {
  const surface::Plane& plane = surface_.planes[id];
  return add_sheet({"deck/" + plane.id, plane.frame, border_of(id), deck_m(id)}, cuts_in(id),
                   bodies);
}

Faults DeckMaker::add(const surface::BlindDeck& blind, Bodies& bodies) const {
  const std::string above = blind.cricket.empty() ? model_.parts[blind.part].id : blind.cricket;
  const std::string own = blind.plane.is_none() ? "" : surface_.planes[blind.plane].id + "/";
  const std::string first = fmt::format("deck/{}under/{}", own, above);
  std::string name = first;
  const auto is_taken = [&] {
    return std::any_of(bodies.all.begin(), bodies.all.end(),
                       [&](const Body& body) { return body.name == name; });
  };
  for (int count = 2; is_taken(); ++count) {
    name = fmt::format("{}#{}", first, count);
  }
  return add_sheet({name, blind.frame, border_of(blind), blind_m(blind)}, blind.openings_uv,
                   bodies);
}

Result<Bodies> DeckMaker::run() {
  Bodies bodies;
  for (const PlaneId id : surface_.planes.ids()) {
    if (deck_m(id) <= near_m || surface_.planes[id].loops.empty()) {
      continue;
    }
    if (Faults faults = add(id, bodies); !faults.empty()) {
      return faults;
    }
  }
  for (const surface::BlindDeck& blind : surface_.blind_decks) {
    if (blind_m(blind) <= near_m || blind.outline_uv.empty()) {
      continue;
    }
    if (Faults faults = add(blind, bodies); !faults.empty()) {
      return faults;
    }
  }
  return bodies;
}

}  // namespace

Result<Bodies> deck_bodies(const model::RoofModel& model, const surface::Surface& surface,
                           const vents::Vents* slots) {
  return DeckMaker(model, surface, slots).run();
}

}  // namespace ridgeward::solid
