// Whole parts with sensible measures: wings, dormers, lean-tos, outlines drawn by hand.
#include "edit/pieces.hpp"
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

struct Sizes {
  double middle_m = 0.0;
  double width_m = 0.0;
  double depth_m = 0.0;
};

Sizes sizes_of(const model::RoofModel& model, const AddPart& edit, const Host& host,
               double usual_width_m, double usual_depth_m) {
  Sizes sizes;
  sizes.width_m = edit.width_m.value_or(stepped(model, usual_width_m));
  sizes.depth_m = edit.depth_m.value_or(stepped(model, usual_depth_m));
  sizes.middle_m = edit.middle_m.value_or(host.length_m() / 2);
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

void add_wing(model::RoofModel& model, const AddPart& edit, const Host& host, Faults& faults) {
  const Sizes sizes =
      sizes_of(model, edit, host,
               std::min({16 * foot_m, 0.6 * host.length_m(), 0.8 * host.depth_m()}), 12 * foot_m);
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
  wing.edges = {edit.kind == PartKind::wing ? gable(rake_m) : side, side, gable(0.0), side};
  add_ceiling(model, wing, host.box(sizes.middle_m, sizes.width_m, sizes.depth_m, 0.0));
  model.parts.push_back(std::move(wing));
}

/// Where a dormer's front wall stands, how high it is over the roof there, and how far back its
/// roof reaches.
struct DormerFit {
  double setback_m = 0.0;
  double wall_m = 0.0;
  double back_m = 0.0;
};

/// The tallest front wall, and of those the one furthest up the roof, with which a dormer that
/// `rises_m` over its own deck at the wall and slopes at `slope` towards the roof ends below half
/// the host's depth, where its ridge is. None fits: nothing.
std::optional<DormerFit> fit(const Host& host, double heel_m, double rises_m, double slope) {
  const double roof = host.pitch().tangent();
  const double ridge_m = host.depth_m() / 2 - into_roof_m;
  const double step_m = 0.5 * foot_m;
  for (int wall = 8; wall >= 3; --wall) {
    for (int setback = 6; setback >= 1; --setback) {
      const double wall_m = wall * step_m;
      const double setback_m = setback * step_m;
      const double back_m = setback_m + (wall_m + heel_m + rises_m) / (roof - slope) + into_roof_m;
      if (back_m <= ridge_m) {
        return DormerFit{setback_m, wall_m, back_m};
      }
    }
  }
  return std::nullopt;
}

void add_dormer(model::RoofModel& model, const AddPart& edit, const Host& host, Faults& faults) {
  const bool is_shed = edit.kind == PartKind::shed_dormer;
  const double roof = host.pitch().tangent();
  if (!host.bears_plane()) {
    faults.push_back(
        does_not_fit("no roof plane rises from this edge to set a dormer in", "choose an eave"));
    return;
  }
  if (roof <= low_slope + 1.0 / 12.0) {
    faults.push_back(does_not_fit("the roof is too low for a dormer",
                                  "make its pitch more than 4/12, or add a wing"));
    return;
  }
  const Sizes sizes = sizes_of(model, edit, host,
                               std::min((is_shed ? 16 : 6) * foot_m, 0.5 * host.length_m()), 1.0);
  const double heel_m = 4 * inch_m;
  const double slope = is_shed ? low_slope : std::min(dormer_slope, roof);
  const auto found =
      fit(host, heel_m, is_shed ? 0.0 : slope * sizes.width_m / 2, is_shed ? slope : 0.0);
  if (!found) {
    faults.push_back(does_not_fit("a dormer of this width would stand higher than the roof",
                                  "make it narrower, or the roof steeper"));
    return;
  }
  model::Part dormer = like(host.part(), free_id(model, is_shed ? "shed-dormer" : "dormer"));
  dormer.plate_m += host.part().heel_m + roof * found->setback_m + found->wall_m;
  dormer.heel_m = heel_m;
  dormer.outline = host.box(sizes.middle_m, sizes.width_m, -found->setback_m, found->back_m);
  const double overhang_m = 0.5 * foot_m;
  const model::Edge side = host.eave(units::Pitch::from_rise_run(slope * 12, 12), overhang_m);
  dormer.edges =
      is_shed ? std::vector<model::Edge>{side, gable(overhang_m), gable(0.0), gable(overhang_m)}
              : std::vector<model::Edge>{gable(overhang_m), side, gable(0.0), side};
  model.parts.push_back(std::move(dormer));
}

void add_lean_to(model::RoofModel& model, const AddPart& edit, const Host& host) {
  const Sizes sizes =
      sizes_of(model, edit, host, std::min(14 * foot_m, 0.6 * host.length_m()), 7 * foot_m);
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
  if (edit.width_m && *edit.width_m < least_width_m) {
    faults.push_back(does_not_fit("this is too narrow for a part of a roof",
                                  "give a width of 2 ft or 0.6 m at least"));
  } else if (edit.kind == PartKind::wing || edit.kind == PartKind::hipped_wing) {
    add_wing(model, edit, host, faults);
  } else if (edit.kind == PartKind::lean_to) {
    add_lean_to(model, edit, host);
  } else {
    add_dormer(model, edit, host, faults);
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
