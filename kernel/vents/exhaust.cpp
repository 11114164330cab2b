#include "base/polygon.hpp"
#include "vents/around.hpp"
#include "vents/pieces.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-6;

bool meets_hip_or_wall(const surface::Surface& surface, LineId own, NodeId node) {
  for (const LineId id : surface.lines.ids()) {
    const surface::Line& line = surface.lines[id];
    if (id == own || (line.from != node && line.to != node)) {
      continue;
    }
    switch (line.kind) {
      case surface::LineKind::hip:
      case surface::LineKind::valley:
      case surface::LineKind::headwall:
      case surface::LineKind::sidewall:
      case surface::LineKind::step_wall:
        return true;
      default:
        break;
    }
  }
  return false;
}

/// Whether another ridge carries on straight from `node`.
bool goes_on(const surface::Surface& surface, LineId own, NodeId node) {
  const auto plan = [&](const surface::Line& line) {
    const glm::dvec3 d = surface.nodes[line.to] - surface.nodes[line.from];
    return glm::dvec2{d.x, d.y} / line.plan_length_m;
  };
  const glm::dvec2 run = plan(surface.lines[own]);
  for (const LineId id : surface.lines.ids()) {
    const surface::Line& line = surface.lines[id];
    if (id == own || line.kind != surface::LineKind::ridge ||
        (line.from != node && line.to != node)) {
      continue;
    }
    const glm::dvec2 other = plan(line);
    if (std::abs(run.x * other.y - run.y * other.x) < near_m) {
      return true;
    }
  }
  return false;
}

/// A line with its ends in measuring order.
struct Measured {
  LineId line;
  NodeId first;
  NodeId last;
  double length_m = 0.0;
};

/// From the left end seen from outside the plane that `name` names first; hips from the foot.
Measured measured(const surface::Surface& surface, const std::string& name, LineId id) {
  const surface::Line& line = surface.lines[id];
  Measured way{id, line.from, line.to, line.length_m};
  const double rise = surface.nodes[line.to].z - surface.nodes[line.from].z;
  bool is_turned = rise < 0.0;
  if (std::abs(rise) <= near_m) {
    PlaneId plane = surface.plane_named(name.substr(0, name.find('|')));
    if (plane.is_none()) {
      plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    }
    if (!plane.is_none()) {
      const surface::Frame& frame = surface.planes[plane].frame;
      is_turned = frame.uv(surface.nodes[line.to]).x < frame.uv(surface.nodes[line.from]).x;
    }
  }
  if (is_turned) {
    std::swap(way.first, way.last);
  }
  return way;
}

/// Splits a stretch of a line where the compartment beneath it changes.
struct Stretch {
  double from_m = 0.0;
  double to_m = 0.0;
  CompartmentId compartment;
};

/// Where a line in plan crosses an outline, along it.
void add_crossings(const polygon::Loop& loop, glm::dvec2 start, glm::dvec2 direction,
                   std::vector<double>& cuts) {
  const glm::dvec2 across{-direction.y, direction.x};
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec2 a = loop[i] - start;
    const glm::dvec2 b = loop[(i + 1) % loop.size()] - start;
    const double side_a = glm::dot(across, a);
    const double side_b = glm::dot(across, b);
    if ((side_a > 0.0) != (side_b > 0.0)) {
      cuts.push_back(glm::dot(a + side_a / (side_a - side_b) * (b - a), direction));
    }
  }
}

std::vector<Stretch> by_compartment(const attic::Attic& attic, glm::dvec2 start,
                                    glm::dvec2 direction, double from_m, double to_m) {
  std::vector<double> cuts;
  for (const attic::Space& space : attic.spaces) {
    for (const polygon::Loop& loop : space.outline) {
      if (space.kind == attic::SpaceKind::attic) {
        add_crossings(loop, start, direction, cuts);
      }
    }
  }
  std::erase_if(cuts, [&](double at) { return at <= from_m + near_m || at >= to_m - near_m; });
  cuts.push_back(from_m);
  cuts.push_back(to_m);
  std::sort(cuts.begin(), cuts.end());
  std::vector<Stretch> stretches;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    if (cuts[i + 1] - cuts[i] <= near_m) {
      continue;
    }
    const CompartmentId here = attic.under(start + 0.5 * (cuts[i] + cuts[i + 1]) * direction);
    if (!stretches.empty() && stretches.back().compartment == here) {
      stretches.back().to_m = cuts[i + 1];
    } else {
      stretches.push_back({cuts[i], cuts[i + 1], here});
    }
  }
  return stretches;
}

/// Length of one side of a slot along a ridge or hip that is clear of the rafters of `plane`. Along
/// a hip a rafter takes as much as its thickness in the direction of the eave covers of the line.
double clear_of_rafters(const Site& site, PlaneId plane, LineId line, glm::dvec3 from,
                        glm::dvec3 to) {
  const surface::Frame& frame = site.surface.planes[plane].frame;
  const double a = frame.uv(from).x;
  const double b = frame.uv(to).x;
  const double along_eave = std::abs(b - a);
  if (along_eave <= near_m) {
    return glm::length(to - from);
  }
  double clear = along_eave;
  const framing::PlaneFraming& own = site.framing.planes[plane];
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    const framing::Member& member = site.framing.members[MemberId(i)];
    if (member.head_line == line) {
      const double low = std::max(std::min(a, b), member.at_m - 0.5 * member.thickness_m);
      const double high = std::min(std::max(a, b), member.at_m + 0.5 * member.thickness_m);
      clear -= std::max(0.0, high - low);
    }
  }
  return clear * glm::length(to - from) / along_eave;
}

class ExhaustSetter {
 public:
  ExhaustSetter(const Site& site, Vents& vents, Faults& faults)
      : site_(site), vents_(vents), faults_(faults) {}

  void set(const model::ExhaustVent& vent, const std::string& where);

 private:
  void set_on_line(const model::ExhaustVent& vent, const model::Product& product,
                   const std::string& where);
  void set_on_plane(const model::ExhaustVent& vent, const model::Product& product,
                    const std::string& where);
  double hold_back(const model::Product& product, LineId line, NodeId node) const;
  void add_stretch(const model::Product& product, const Measured& way, Exhaust exhaust);

  const Site& site_;
  Vents& vents_;
  Faults& faults_;
};

double ExhaustSetter::hold_back(const model::Product& product, LineId id, NodeId node) const {
  if (meets_hip_or_wall(site_.surface, id, node)) {
    return product.slot.hold_back_hip_m;
  }
  const surface::Line& line = site_.surface.lines[id];
  if (line.kind == surface::LineKind::ridge && goes_on(site_.surface, id, node)) {
    return 0.0;
  }
  double overhang = 0.0;
  for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
    if (!plane.is_none()) {
      const surface::Plane& side = site_.surface.planes[plane];
      overhang = std::max(
          overhang, beyond_gable_wall_m(site_, side, side.frame.uv(site_.surface.nodes[node])));
    }
  }
  return overhang + product.slot.hold_back_m;
}

void ExhaustSetter::add_stretch(const model::Product& product, const Measured& way,
                                Exhaust exhaust) {
  exhaust.free_area_m2 = product.free_area_per_length_m * exhaust.length_m;
  const surface::Line& line = site_.surface.lines[way.line];
  if (product.slot.width_m > 0.0) {
    exhaust.open_length_m = exhaust.length_m;
    for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
      if (!plane.is_none()) {
        const double clear = clear_of_rafters(site_, plane, way.line, exhaust.from, exhaust.to);
        exhaust.slot_area_m2 += product.slot.width_m * clear;
        exhaust.open_length_m = std::min(exhaust.open_length_m, clear);
      }
    }
    exhaust.free_area_m2 = std::min(exhaust.free_area_m2, exhaust.slot_area_m2);
  }
  vents_.exhausts.push_back(std::move(exhaust));
}

void ExhaustSetter::set_on_line(const model::ExhaustVent& vent, const model::Product& product,
                                const std::string& where) {
  const LineId id = site_.surface.line_named(vent.line);
  if (id.is_none()) {
    faults_.push_back({"vent.line_unknown", where + "/line",
                       "Vent " + vent.id + " runs along \"" + vent.line + "\", which is not there.",
                       "Name a line by its two planes, for example main/0|main/2."});
    return;
  }
  const surface::LineKind needed =
      product.kind == model::VentKind::hip_vent ? surface::LineKind::hip : surface::LineKind::ridge;
  if (site_.surface.lines[id].kind != needed) {
    faults_.push_back({"vent.line_kind", where + "/line",
                       "Vent " + vent.id + " needs a " + surface::word(needed) + "; " + vent.line +
                           " is a " + surface::word(site_.surface.lines[id].kind) + ".",
                       std::string("Name a ") + surface::word(needed) + "."});
    return;
  }
  const Measured way = measured(site_.surface, vent.line, id);
  const double from_asked = vent.whole ? 0.0 : vent.from_m;
  const double to_asked = vent.whole ? way.length_m : vent.to_m;
  if (to_asked - from_asked <= near_m || from_asked < -near_m || to_asked > way.length_m + near_m) {
    faults_.push_back({"vent.run_outside", where + "/from",
                       "Vent " + vent.id + " does not lie on " + vent.line + ".",
                       "Give from and to along the line from its left end, from less than to."});
    return;
  }
  const double from = std::max(from_asked, hold_back(product, id, way.first));
  const double to = std::min(to_asked, way.length_m - hold_back(product, id, way.last));
  const glm::dvec3 start = site_.surface.nodes[way.first];
  const glm::dvec3 along = (site_.surface.nodes[way.last] - start) / way.length_m;
  const double level = glm::length(glm::dvec2{along.x, along.y});
  if (to - from <= near_m || level <= 0.0) {
    return;  // told by the check for runs that give nothing
  }
  std::vector<Stretch> stretches;
  for (const Along& clear :
       along_clear_of_obstacles(site_, id, start, along, {from, to}, product.slot)) {
    const std::vector<Stretch> more =
        by_compartment(site_.attic, {start.x, start.y}, glm::dvec2{along.x, along.y} / level,
                       clear.from_m * level, clear.to_m * level);
    stretches.insert(stretches.end(), more.begin(), more.end());
  }
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    Exhaust exhaust;
    exhaust.id = stretches.size() == 1 ? vent.id : vent.id + "/" + std::to_string(i + 1);
    exhaust.vent = vent.id;
    exhaust.product = product.id;
    exhaust.kind = product.kind;
    exhaust.line = id;
    exhaust.length_m = (stretches[i].to_m - stretches[i].from_m) / level;
    exhaust.from_m = stretches[i].from_m / level;
    exhaust.to_m = stretches[i].to_m / level;
    exhaust.compartment = stretches[i].compartment;
    exhaust.from = start + stretches[i].from_m / level * along;
    exhaust.to = start + stretches[i].to_m / level * along;
    add_stretch(product, way, std::move(exhaust));
  }
}

void ExhaustSetter::set_on_plane(const model::ExhaustVent& vent, const model::Product& product,
                                 const std::string& where) {
  const PlaneId id = site_.surface.plane_named(vent.plane);
  if (id.is_none()) {
    faults_.push_back(
        {"vent.plane_unknown", where + "/plane",
         "Vent " + vent.id + " lies on plane \"" + vent.plane + "\", which is not there.",
         "Name a plane as part/edge, for example main/0."});
    return;
  }
  const surface::Plane& plane = site_.surface.planes[id];
  polygon::Loops border;
  for (const surface::Loop& loop : plane.loops) {
    border.push_back(surface::corners_uv(site_.surface, plane.frame, loop));
  }
  if (!polygon::contains(border, vent.at)) {
    faults_.push_back({"vent.run_outside", where + "/at",
                       "Vent " + vent.id + " lies outside plane " + vent.plane + ".",
                       "Give at as [along the eave, up the slope] within the plane."});
    return;
  }
  Exhaust exhaust;
  exhaust.id = exhaust.vent = vent.id;
  exhaust.product = product.id;
  exhaust.kind = product.kind;
  exhaust.plane = id;
  exhaust.free_area_m2 = product.free_area_each_m2;
  exhaust.from = exhaust.to = plane.frame.at(vent.at);
  exhaust.at_uv = vent.at;
  exhaust.hole_m = product.slot.width_m;
  const CompartmentId under = site_.attic.under({exhaust.from.x, exhaust.from.y});
  if (!under.is_none() && exhaust.from.z > site_.attic.compartments[under].ceiling_at(
                                               glm::dvec2{exhaust.from}, plane.part)) {
    exhaust.compartment = under;
  }
  vents_.exhausts.push_back(std::move(exhaust));
}

void ExhaustSetter::set(const model::ExhaustVent& vent, const std::string& where) {
  const model::Product* product = product_named(site_, vent.product, where + "/product", faults_);
  if (product == nullptr) {
    return;
  }
  if (model::is_intake(product->kind)) {
    faults_.push_back({"vent.wrong_kind", where + "/product",
                       "Product " + product->id + " of vent " + vent.id + " is no exhaust.",
                       "Choose an exhaust product, or list the vent under intake."});
    return;
  }
  const bool is_louvre = product->kind == model::VentKind::gable_louvre;
  const bool is_along = model::runs_along(product->kind);
  const std::string& place = is_louvre ? vent.wall : is_along ? vent.line : vent.plane;
  if (place.empty()) {
    const std::string needed = is_louvre  ? "a gable wall and a place in it"
                               : is_along ? "a line"
                                          : "a plane and a place on it";
    faults_.push_back({"vent.place", where,
                       "Vent " + vent.id + " (" + product->id + ") needs " + needed + ".",
                       is_louvre  ? "Give \"wall\": \"main/1\" and \"at\"."
                       : is_along ? "Give \"line\": \"main/0|main/2\"."
                                  : "Give \"plane\": \"main/0\" and \"at\"."});
  } else if (is_louvre) {
    set_louvre(site_, vent, *product, where, {vents_, faults_});
  } else if (is_along) {
    set_on_line(vent, *product, where);
  } else {
    set_on_plane(vent, *product, where);
  }
}

}  // namespace

void set_exhausts(const Site& site, Vents& vents, Faults& faults) {
  ExhaustSetter setter(site, vents, faults);
  for (std::size_t i = 0; i < site.model.exhaust.size(); ++i) {
    setter.set(site.model.exhaust[i], "/vents/exhaust/" + std::to_string(i));
  }
}

}  // namespace ridgeward::vents
