// Whole parts with sensible measures: wings, dormers, lean-tos, outlines drawn by hand.
#include "surface/stage.hpp"

#include "edit/pieces.hpp"
#include "edit/room.hpp"
#include "edit/stage.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::edit {

namespace {

using units::foot_m;
using units::inch_m;

// Measures that nobody gave (common practice, no source).
constexpr double least_width_m = 2 * foot_m;
constexpr double least_wing_m = 4 * foot_m;    // that nobody gave
constexpr double least_dormer_m = 3 * foot_m;  // likewise
constexpr double dormer_heel_m = 4 * inch_m;
constexpr double dormer_overhang_m = 0.5 * foot_m;
constexpr double into_roof_m = 0.5 * foot_m;  // past where the ridge meets the roof
constexpr double low_slope = 3.0 / 12.0;
constexpr double dormer_slope = 8.0 / 12.0;

/// A wall of the part that something is attached to, with places measured from it.
class Host {
 public:
  Host(const model::Part& part, std::size_t edge)
      : part_(part),
        edge_(part.edges[edge]),
        corner_(part.outline[edge]),
        way_(part.outline[(edge + 1) % part.outline.size()] - corner_),
        length_m_(glm::length(way_)) {
    way_ /= length_m_;
    for (const glm::dvec2 corner : part.outline) {
      depth_m_ = std::max(depth_m_, -glm::dot(corner - corner_, out()));
    }
    // Where the wall bears no plane, the roof behind it is told by the first edge that does.
    const auto bears = std::find_if(part.edges.begin(), part.edges.end(),
                                    [](const auto& one) { return model::bears_plane(one.kind); });
    slope_ = model::bears_plane(edge_.kind) ? edge_.pitch
             : bears != part.edges.end()    ? bears->pitch
                                            : units::Pitch::from_rise_run(6, 12);
    like_ = bears != part.edges.end() ? *bears : edge_;
  }

  const model::Part& part() const { return part_; }
  double length_m() const { return length_m_; }
  double depth_m() const { return depth_m_; }
  units::Pitch pitch() const { return slope_; }
  bool is_eave() const { return edge_.kind == model::EdgeKind::eave; }
  bool bears_plane() const { return model::bears_plane(edge_.kind); }
  /// Overhang and soffit as on the host, for eaves.
  model::Edge eave(units::Pitch pitch, double overhang_m) const {
    model::Edge edge;
    edge.pitch = pitch;
    edge.overhang_m = overhang_m;
    edge.soffit = like_.soffit;
    return edge;
  }
  double overhang_m() const { return like_.overhang_m; }
  /// Counter-clockwise, its first side the outer one; `out_m` and `in_m` from the wall.
  std::vector<glm::dvec2> box(double middle_m, double width_m, double out_m, double in_m) const {
    const auto at = [&](double u, double o) { return corner_ + u * way_ + o * out(); };
    const double from = middle_m - width_m / 2;
    const double to = middle_m + width_m / 2;
    return {at(from, out_m), at(to, out_m), at(to, -in_m), at(from, -in_m)};
  }

 private:
  glm::dvec2 out() const { return {way_.y, -way_.x}; }

  const model::Part& part_;
  const model::Edge& edge_;
  glm::dvec2 corner_;
  glm::dvec2 way_;
  double length_m_ = 0.0;
  double depth_m_ = 0.0;
  units::Pitch slope_;
  model::Edge like_;
};

model::Edge gable(double overhang_m) {
  model::Edge edge;
  edge.kind = model::EdgeKind::gable;
  edge.overhang_m = overhang_m;
  return edge;
}

/// Measures of the host but for its outline.
model::Part like(const model::Part& host, std::string id) {
  model::Part part;
  part.id = std::move(id);
  part.wall_thickness_m = host.wall_thickness_m;
  part.plate_m = host.plate_m;
  part.heel_m = host.heel_m;
  part.deck_m = host.deck_m;
  part.framing = host.framing;
  part.framing.measured.clear();
  part.framing.collar_ties.reset();
  return part;
}

Fault does_not_fit(const std::string& what, const std::string& cure) {
  return {"edit.part_does_not_fit", "", what, cure};
}

/// Whole half feet or tenths of a metre, rounded down.
double stepped(const model::RoofModel& model, double length_m) {
  const bool is_metric = model.unit == units::LengthUnit::m || model.unit == units::LengthUnit::mm;
  const double step = is_metric ? 0.1 : 0.5 * foot_m;
  return std::max(step, std::floor(length_m / step + 1e-9) * step);
}

/// What is to be added where, with the roof as it is; null where that can't be raised.
struct Site {
  const model::RoofModel& model;
  const AddPart& edit;
  const Host& host;
  EdgePlace place;
  const surface::Surface* surface = nullptr;
};

struct Sizes {
  double middle_m = 0.0;
  double width_m = 0.0;
  double depth_m = 0.0;
};

Fault no_room(const Site& site, const std::vector<Stretch>& free) {
  const double widest_m = widest(free).length_m();
  const bool is_metric =
      site.model.unit == units::LengthUnit::m || site.model.unit == units::LengthUnit::mm;
  const std::string name = site.edit.part + "/" + std::to_string(site.edit.edge);
  return does_not_fit(widest_m < inch_m
                          ? "hips, valleys and other parts leave no room along edge " + name
                          : "hips, valleys and other parts leave only " +
                                units::show(widest_m, is_metric ? units::Style::metric
                                                                : units::Style::feet_inches) +
                                " along edge " + name,
                      "choose another edge, or move what stands there");
}

/// Where and how wide: as given, or as usual where there is room for that, or narrower. None: a
/// fault.
std::optional<Sizes> sizes_of(const Site& site, Sizes usual, double least_m, Faults& faults) {
  Sizes sizes{site.edit.middle_m.value_or(0.0),
              site.edit.width_m.value_or(stepped(site.model, usual.width_m)),
              site.edit.depth_m.value_or(stepped(site.model, usual.depth_m))};
  if (site.edit.middle_m) {
    return sizes;
  }
  std::vector<Stretch> free = free_outside(site.model, site.place, sizes.depth_m);
  if (site.surface != nullptr && site.host.is_eave()) {
    // Just behind the wall, where hips and valleys begin.
    free = common(free, free_on_roof(site.model, *site.surface, site.place, 0.01, 0.03));
  }
  const double beside_m = site.host.overhang_m();
  auto middle_m = place_in(free, site.host.length_m(), sizes.width_m, beside_m);
  const double room_m = widest(free).length_m() - 2 * beside_m;
  if (!middle_m && !site.edit.width_m && room_m >= least_m) {
    sizes.width_m = stepped(site.model, room_m);
    middle_m = place_in(free, site.host.length_m(), sizes.width_m, beside_m);
  }
  if (!middle_m) {
    faults.push_back(no_room(site, free));
    return std::nullopt;
  }
  sizes.middle_m = *middle_m;
  return sizes;
}

/// A flat ceiling over what a wing adds, where the model says what its ceilings are.
void add_ceiling(model::RoofModel& model, const model::Part& part,
                 std::vector<glm::dvec2> outline) {
  const auto flat =
      std::find_if(model.ceilings.begin(), model.ceilings.end(),
                   [](const model::Ceiling& one) { return one.kind == model::CeilingKind::flat; });
  if (flat == model.ceilings.end()) {
    return;
  }
  model::Ceiling ceiling = *flat;
  ceiling.id = part.id;
  const auto is_taken = [&] {
    return std::any_of(model.ceilings.begin(), model.ceilings.end(),
                       [&](const model::Ceiling& one) { return one.id == ceiling.id; });
  };
  while (is_taken()) {
    ceiling.id += "-ceiling";
  }
  ceiling.height_m = part.plate_m;
  ceiling.outline = std::move(outline);
  model.ceilings.push_back(std::move(ceiling));
}

void add_wing(model::RoofModel& model, const Site& site, Faults& faults) {
  const Host& host = site.host;
  const double usual_m = std::min({16 * foot_m, 0.6 * host.length_m(), 0.8 * host.depth_m()});
  const auto found = sizes_of(site, {0.0, usual_m, 12 * foot_m}, least_wing_m, faults);
  if (!found) {
    return;
  }
  const Sizes sizes = *found;
  if (sizes.width_m > host.depth_m()) {
    faults.push_back(
        does_not_fit("a wing as wide as this has its ridge above the roof that it runs into",
                     "make it no wider than the part is deep behind that wall"));
    return;
  }
  model::Part wing = like(host.part(), free_id(model, "wing"));
  const double in_m = std::min(sizes.width_m / 2 + into_roof_m, host.depth_m());
  wing.outline = host.box(sizes.middle_m, sizes.width_m, sizes.depth_m, in_m);
  const model::Edge side = host.eave(host.pitch(), host.overhang_m());
  const double rake_m = std::min(host.overhang_m(), 1 * foot_m);
  wing.edges = {site.edit.kind == PartKind::wing ? gable(rake_m) : side, side, gable(0.0), side};
  add_ceiling(model, wing, host.box(sizes.middle_m, sizes.width_m, sizes.depth_m, 0.0));
  model.parts.push_back(std::move(wing));
}

/// Where a dormer's front wall stands, how high it is over the roof there, and how far back its
/// roof reaches.
struct DormerShape {
  double setback_m = 0.0;
  double wall_m = 0.0;
  double back_m = 0.0;
};

/// The shapes with which a dormer that `rises_m` over its own deck at the wall and slopes at
/// `slope` towards the roof ends below half the host's depth, where its ridge is: the tallest front
/// wall first, and of those the one furthest up the roof.
std::vector<DormerShape> shapes(const Host& host, double heel_m, double rises_m, double slope) {
  const double roof = host.pitch().tangent();
  const double ridge_m = host.depth_m() / 2 - into_roof_m;
  const double step_m = 0.5 * foot_m;
  std::vector<DormerShape> all;
  for (int wall = 8; wall >= 3; --wall) {
    for (int setback = 6; setback >= 1; --setback) {
      const double wall_m = wall * step_m;
      const double setback_m = setback * step_m;
      const double back_m = setback_m + (wall_m + heel_m + rises_m) / (roof - slope) + into_roof_m;
      if (back_m <= ridge_m) {
        all.push_back({setback_m, wall_m, back_m});
      }
    }
  }
  return all;
}

struct DormerFit {
  DormerShape shape;
  Sizes sizes;
};

/// The first shape with room on the roof; the usual width first, then narrower ones.
std::optional<DormerFit> fit(const Site& site, bool is_shed, double slope, Faults& faults) {
  const double usual_m = std::min((is_shed ? 16 : 6) * foot_m, 0.5 * site.host.length_m());
  const double widest_m = site.edit.width_m.value_or(stepped(site.model, usual_m));
  const double least_m = site.edit.width_m ? widest_m : std::min(widest_m, least_dormer_m);
  bool is_low = true;
  std::vector<Stretch> most;
  const double step_m = 0.5 * foot_m;
  const auto steps = static_cast<int>((widest_m - least_m) / step_m + 1e-6);
  for (int step = 0; step <= steps; ++step) {
    const double width_m = widest_m - step * step_m;
    const double rises_m = is_shed ? 0.0 : slope * width_m / 2;
    for (const DormerShape& shape :
         shapes(site.host, dormer_heel_m, rises_m, is_shed ? slope : 0.0)) {
      is_low = false;
      if (site.edit.middle_m || site.surface == nullptr) {
        return DormerFit{shape,
                         {site.edit.middle_m.value_or(site.host.length_m() / 2), width_m, 0.0}};
      }
      const auto free =
          free_on_roof(site.model, *site.surface, site.place, shape.setback_m, shape.back_m);
      if (const auto middle_m = place_in(free, site.host.length_m(),
                                         width_m + 2 * dormer_overhang_m, dormer_overhang_m)) {
        return DormerFit{shape, {*middle_m, width_m, 0.0}};
      }
      most = widest(free).length_m() > widest(most).length_m() ? free : most;
    }
  }
  faults.push_back(is_low ? does_not_fit("a dormer of this width would stand higher than the roof",
                                         "make it narrower, or the roof steeper")
                          : no_room(site, most));
  return std::nullopt;
}

void add_dormer(model::RoofModel& model, const Site& site, Faults& faults) {
  const Host& host = site.host;
  const bool is_shed = site.edit.kind == PartKind::shed_dormer;
  const double roof = host.pitch().tangent();
  if (!host.bears_plane()) {
    faults.push_back(
        does_not_fit("no roof plane rises from this edge to set a dormer in", "choose an eave"));
    return;
  }
  if (roof <= low_slope + 1.0 / 12.0) {
    faults.push_back(
        does_not_fit("the roof is too low for a dormer",
                     "make its pitch more than " +
                         units::show_pitch(units::Pitch::from_tangent(low_slope + 1.0 / 12.0),
                                           units::style_of(model.unit)) +
                         ", or add a wing"));
    return;
  }
  const double slope = is_shed ? low_slope : std::min(dormer_slope, roof);
  const auto found = fit(site, is_shed, slope, faults);
  if (!found) {
    return;
  }
  model::Part dormer = like(host.part(), free_id(model, is_shed ? "shed-dormer" : "dormer"));
  dormer.plate_m += host.part().heel_m + roof * found->shape.setback_m + found->shape.wall_m;
  dormer.heel_m = dormer_heel_m;
  dormer.outline = host.box(found->sizes.middle_m, found->sizes.width_m, -found->shape.setback_m,
                            found->shape.back_m);
  const model::Edge side =
      host.eave(units::Pitch::from_rise_run(slope * 12, 12), dormer_overhang_m);
  dormer.edges = is_shed
                     ? std::vector<model::Edge>{side, gable(dormer_overhang_m), gable(0.0),
                                                gable(dormer_overhang_m)}
                     : std::vector<model::Edge>{gable(dormer_overhang_m), side, gable(0.0), side};
  model.parts.push_back(std::move(dormer));
}

void add_lean_to(model::RoofModel& model, const Site& site, Faults& faults) {
  const Host& host = site.host;
  const double usual_m = std::min(14 * foot_m, 0.6 * host.length_m());
  const auto found = sizes_of(site, {0.0, usual_m, 7 * foot_m}, least_wing_m, faults);
  if (!found) {
    return;
  }
  const Sizes sizes = *found;
  model::Part lean_to = like(host.part(), free_id(model, "lean-to"));
  lean_to.heel_m = 4 * inch_m;
  lean_to.plate_m = host.part().plate_m - 1.5 * foot_m;
  lean_to.outline = host.box(sizes.middle_m, sizes.width_m, sizes.depth_m, 0.0);
  const double rake_m = 0.5 * foot_m;
  lean_to.edges = {host.eave(units::Pitch::from_rise_run(3, 12), 1 * foot_m), gable(rake_m),
                   gable(0.0), gable(rake_m)};
  model.parts.push_back(std::move(lean_to));
}

}  // namespace

const std::vector<PartKindWords>& part_kinds() {
  static const std::vector<PartKindWords> kinds{
      {PartKind::wing, "wing", "Wing with a gable"},
      {PartKind::hipped_wing, "hipped-wing", "Wing with a hip"},
      {PartKind::dormer, "dormer", "Gable dormer"},
      {PartKind::shed_dormer, "shed-dormer", "Shed dormer"},
      {PartKind::lean_to, "lean-to", "Lean-to"}};
  return kinds;
}

void apply(model::RoofModel& model, const AddPart& edit, Faults& faults) {
  const model::Part* found = part_named(model, edit.part, faults);
  if (found == nullptr) {
    return;
  }
  if (edit.edge >= found->outline.size()) {
    faults.push_back(
        {"edit.edge_unknown", "",
         "part " + edit.part + " has no edge " + std::to_string(edit.edge) + " in its outline",
         "choose one of its outer edges"});
    return;
  }
  const model::Part part = *found;  // the list of parts grows
  const Host host(part, edit.edge);
  const auto index = static_cast<std::size_t>(found - model.parts.data());
  std::optional<surface::Surface> roof;
  if (auto raised = surface::raise(model); raised && !edit.middle_m) {
    roof = std::move(raised).value();
  }
  const Site site{model, edit, host, {index, edit.edge}, roof ? &*roof : nullptr};
  if (edit.width_m && *edit.width_m < least_width_m) {
    faults.push_back(does_not_fit("this is too narrow for a part of a roof",
                                  "give a width of 2 ft or 0.6 m at least"));
  } else if (edit.kind == PartKind::wing || edit.kind == PartKind::hipped_wing) {
    add_wing(model, site, faults);
  } else if (edit.kind == PartKind::lean_to) {
    add_lean_to(model, site, faults);
  } else {
    add_dormer(model, site, faults);
  }
}

void apply(model::RoofModel& model, const DrawPart& edit) {
  model::Edge edge;
  edge.pitch = units::Pitch::from_rise_run(6, 12);
  edge.overhang_m = 1 * foot_m;
  model::Part part;
  part.heel_m = 6 * inch_m;
  part.id = "main";
  if (!model.parts.empty()) {
    const model::Part& first = model.parts.front();
    part = like(first, free_id(model, "part-" + std::to_string(model.parts.size() + 1)));
    const Host host(first, 0);
    edge = host.eave(host.pitch(), host.overhang_m());
  }
  part.outline = edit.outline;
  double twice_area = 0.0;
  for (std::size_t i = 0; i < part.outline.size(); ++i) {
    const glm::dvec2 a = part.outline[i];
    const glm::dvec2 b = part.outline[(i + 1) % part.outline.size()];
    twice_area += a.x * b.y - a.y * b.x;
  }
  if (twice_area < 0.0) {
    std::reverse(part.outline.begin(), part.outline.end());
  }
  part.edges.assign(part.outline.size(), edge);
  model.parts.push_back(std::move(part));
}

}  // namespace ridgeward::edit
