#include "scene/ribbon.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace ridgeward::scene {
namespace {

constexpr double hair_m = 1e-6;
constexpr double thickest_m = 0.13;  // of timber between two bays; wider: a stretch without a bay
constexpr double same_height_m = 0.01;
constexpr double least_run_m = 6 * units::inch_m;  // where the product says nothing

class Unroller {
 public:
  explicit Unroller(const Assessment& a) : a_(a) {}

  Ribbon run() {
    eaves();
    states();
    for (std::size_t i = 0; i < ribbon_.eaves.size(); ++i) {
      cells(i);
    }
    slots();
    pieces();
    obstacles();
    findings();
    return std::move(ribbon_);
  }

 private:
  void eaves();
  void states();
  void cells(std::size_t eave);
  void add_cell(std::size_t eave, double from_u, double to_u, BayId bay);
  void slots();
  void pieces();
  void obstacles();
  void findings();
  /// The eave that a stretch along a plane belongs to.
  std::optional<std::size_t> eave_under(PlaneId plane, double from_u, double to_u,
                                        std::optional<double> v) const;

  const Assessment& a_;
  Ribbon ribbon_;
  std::set<BayId> under_slot_;
};

void Unroller::eaves() {
  for (const surface::Line& line : a_.surface.lines) {
    if (line.kind != surface::LineKind::eave) {
      continue;
    }
    const PlaneId plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    if (plane.is_none()) {
      continue;
    }
    const surface::Frame& frame = a_.surface.planes[plane].frame;
    const glm::dvec2 p = frame.uv(a_.surface.nodes[line.from]);
    const glm::dvec2 q = frame.uv(a_.surface.nodes[line.to]);
    RibbonEave eave;
    eave.line = LineId(static_cast<std::size_t>(&line - &*a_.surface.lines.begin()));
    eave.plane = plane;
    eave.length_m = line.length_m;
    eave.u_m = std::min(p.x, q.x);
    eave.v_m = p.y;
    ribbon_.eaves.push_back(eave);
  }
  const auto key = [&](const RibbonEave& eave) {
    const surface::Plane& plane = a_.surface.planes[eave.plane];
    return std::tuple(plane.part, plane.edge, eave.plane.value, eave.u_m);
  };
  std::stable_sort(ribbon_.eaves.begin(), ribbon_.eaves.end(),
                   [&](const RibbonEave& x, const RibbonEave& y) { return key(x) < key(y); });
  double at = 0.0;
  for (std::size_t i = 0; i < ribbon_.eaves.size(); ++i) {
    RibbonEave& eave = ribbon_.eaves[i];
    if (i > 0) {
      const bool same_part =
          a_.surface.planes[ribbon_.eaves[i - 1].plane].part == a_.surface.planes[eave.plane].part;
      at += same_part ? eave_gap_m : part_gap_m;
    }
    eave.from_m = at;
    at += eave.length_m;
  }
  ribbon_.length_m = at;
}

void Unroller::states() {
  for (const vents::Slot& slot : a_.vents.slots) {
    for (const vents::SlotBay& bay : slot.bays) {
      under_slot_.insert(bay.bay);
    }
  }
}

void Unroller::add_cell(std::size_t i, double from_u, double to_u, BayId bay) {
  const RibbonEave& eave = ribbon_.eaves[i];
  RibbonCell cell;
  cell.eave = i;
  cell.bay = bay;
  cell.from_m = cell.clear_from_m = eave.at(from_u);
  cell.to_m = cell.clear_to_m = eave.at(to_u);
  if (bay.is_none()) {
    cell.why = "timber or overhang, no bay starts here";
  } else if (a_.vents.bays.has(bay)) {
    const vents::BayState& state = a_.vents.bays[bay];
    const bool has_slot = under_slot_.contains(bay);
    cell.state = state.live ? (has_slot ? CellState::fed : CellState::idle)
                            : (has_slot ? CellState::wasted : CellState::dead);
    cell.why = state.why;
  }
  ribbon_.cells.push_back(cell);
}

void Unroller::cells(std::size_t i) {
  const RibbonEave& eave = ribbon_.eaves[i];
  const double end = eave.u_m + eave.length_m;
  std::vector<std::pair<double, BayId>> bays;
  for (const BayId id : a_.framing.bays.ids()) {
    const framing::Bay& bay = a_.framing.bays[id];
    const bool is_here = bay.plane == eave.plane && bay.foot == eave.line &&
                         bay.to_u_m > eave.u_m + hair_m && bay.from_u_m < end - hair_m;
    if (is_here) {
      bays.emplace_back(bay.from_u_m, id);
    }
  }
  std::stable_sort(bays.begin(), bays.end());
  double done = eave.u_m;
  for (const auto& [start, id] : bays) {
    const framing::Bay& bay = a_.framing.bays[id];
    const double from = std::max(bay.from_u_m, done);
    const double to = std::min(bay.to_u_m, end);
    if (to <= from + hair_m) {
      continue;
    }
    const bool has_left = !ribbon_.cells.empty() && ribbon_.cells.back().eave == i &&
                          !ribbon_.cells.back().bay.is_none();
    if (has_left && from - done < thickest_m) {
      // A rafter between two bays: each has half of it.
      const double middle = (done + from) / 2;
      ribbon_.cells.back().to_m = eave.at(middle);
      add_cell(i, from, to, id);
      ribbon_.cells.back().from_m = eave.at(middle);
    } else {
      if (from - done > hair_m) {
        add_cell(i, done, from, BayId());
      }
      add_cell(i, from, to, id);
    }
    done = to;
  }
  if (end - done > hair_m) {
    add_cell(i, done, end, BayId());
  }
}

std::optional<std::size_t> Unroller::eave_under(PlaneId plane, double from_u, double to_u,
                                                std::optional<double> v) const {
  std::optional<std::size_t> best;
  double most = -1.0;
  for (std::size_t i = 0; i < ribbon_.eaves.size(); ++i) {
    const RibbonEave& eave = ribbon_.eaves[i];
    if (eave.plane != plane || (v && std::abs(eave.v_m - *v) > same_height_m)) {
      continue;
    }
    const double shared = std::min(to_u, eave.u_m + eave.length_m) - std::max(from_u, eave.u_m);
    if (shared > most) {
      most = shared;
      best = i;
    }
  }
  return best;
}

void Unroller::slots() {
  for (const SlotId id : a_.vents.slots.ids()) {
    const vents::Slot& slot = a_.vents.slots[id];
    if (const auto eave = eave_under(slot.plane, slot.start_m, slot.end_m, slot.drip_v_m)) {
      const RibbonEave& at = ribbon_.eaves[*eave];
      ribbon_.slots.push_back({id, *eave, at.at(slot.start_m), at.at(slot.end_m)});
    }
  }
}

void Unroller::pieces() {
  std::map<std::string, RibbonSlot> by_id;
  for (const RibbonSlot& slot : ribbon_.slots) {
    by_id.emplace(a_.vents.slots[slot.slot].id, slot);
  }
  for (std::size_t s = 0; s < a_.takeoff.sections.size(); ++s) {
    const takeoff::SectionRun& strip = a_.takeoff.sections[s];
    const auto slot = by_id.find(strip.over);
    if (strip.plane.is_none() || slot == by_id.end()) {
      continue;
    }
    const RibbonEave& eave = ribbon_.eaves[slot->second.eave];
    for (std::size_t p = 0; p < strip.pieces.size(); ++p) {
      const takeoff::Piece& piece = strip.pieces[p];
      ribbon_.pieces.push_back({slot->second.slot, s, p, slot->second.eave, eave.at(piece.from_m),
                                eave.at(piece.to_m), piece.left.kind, piece.right.kind});
    }
  }
}

void Unroller::obstacles() {
  for (const surface::Region& region : a_.surface.regions) {
    if (region.clear_uv.empty()) {
      continue;
    }
    glm::dvec2 low = region.clear_uv.front();
    glm::dvec2 high = low;
    for (const glm::dvec2 p : region.clear_uv) {
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    const auto eave = eave_under(region.plane, low.x, high.x, std::nullopt);
    if (!eave) {
      continue;
    }
    const RibbonEave& at = ribbon_.eaves[*eave];
    const double from = std::max(at.at(low.x), at.from_m);
    const double to = std::min(at.at(high.x), at.to_m());
    if (to > from) {
      RibbonMark mark{*eave, from, to, -1, 0, low.y - at.v_m, {}};
      mark.words = std::string(model::word(region.kind)) + " " + region.id;
      ribbon_.marks.push_back(std::move(mark));
    }
  }
}

void Unroller::findings() {
  for (std::size_t i = 0; i < a_.findings.size(); ++i) {
    const conflicts::Finding& finding = a_.findings[i];
    const PlaneId plane =
        a_.vents.slots.has(finding.slot) ? a_.vents.slots[finding.slot].plane : finding.plane;
    if (plane.is_none() || !a_.surface.planes.has(plane)) {
      continue;
    }
    const double u = a_.surface.planes[plane].frame.uv(finding.at).x;
    const auto eave = eave_under(plane, u, u, std::nullopt);
    if (eave) {
      const RibbonEave& at = ribbon_.eaves[*eave];
      const double place = std::clamp(at.at(u), at.from_m, at.to_m());
      ribbon_.marks.push_back(
          {*eave, place, place, static_cast<int>(finding.severity), i + 1, 0.0, finding.message});
    }
  }
}

/// The nearest of `things` to a place, at most `reach_m` off; of two that hold it the later one.
template <class Thing>
std::optional<std::size_t> nearest(const std::vector<Thing>& things, double at_m, double reach_m) {
  std::optional<std::size_t> best;
  double least = reach_m;
  for (std::size_t i = 0; i < things.size(); ++i) {
    const double off = std::max({things[i].from_m - at_m, at_m - things[i].to_m, 0.0});
    if (off <= least) {
      least = off;
      best = i;
    }
  }
  return best;
}

std::optional<double> stop_near(double u, const std::vector<double>& stops, double snap_m) {
  std::optional<double> best;
  for (const double stop : stops) {
    if (std::abs(stop - u) < (best ? std::abs(*best - u) : snap_m)) {
      best = stop;
    }
  }
  return best;
}

double in_steps(double u, double step_m) {
  return step_m > 0.0 ? std::round(u / step_m) * step_m : u;
}

/// The stops with those of whole sections from the other end.
std::vector<double> with_sections(const Pull& pull, double from_m, double way) {
  std::vector<double> stops = pull.stops;
  if (pull.section_m > 0.0) {
    const int most = static_cast<int>((pull.high_m - pull.low_m) / pull.section_m) + 1;
    for (int i = 1; i <= most; ++i) {
      stops.push_back(from_m + way * i * pull.section_m);
    }
  }
  return stops;
}

}  // namespace

Ribbon ribbon_of(const Assessment& assessment) { return Unroller(assessment).run(); }

RibbonHit hit(const Ribbon& ribbon, double at_m, double reach_m) {
  RibbonHit found;
  for (std::size_t i = 0; i < ribbon.eaves.size(); ++i) {
    if (at_m >= ribbon.eaves[i].from_m && at_m <= ribbon.eaves[i].to_m()) {
      found.eave = i;
    }
  }
  found.cell = nearest(ribbon.cells, at_m, 0.0);
  found.slot = nearest(ribbon.slots, at_m, reach_m);
  found.piece = nearest(ribbon.pieces, at_m, 0.0);
  found.mark = nearest(ribbon.marks, at_m, reach_m);
  return found;
}

std::optional<std::size_t> eave_of(const Ribbon& ribbon, PlaneId plane, double u_m) {
  std::optional<std::size_t> best;
  double least = 0.0;
  for (std::size_t i = 0; i < ribbon.eaves.size(); ++i) {
    const RibbonEave& eave = ribbon.eaves[i];
    const double off = std::max({eave.u_m - u_m, u_m - eave.u_m - eave.length_m, 0.0});
    if (eave.plane == plane && (!best || off < least)) {
      best = i;
      least = off;
    }
  }
  return best;
}

std::optional<Pull> pull_of(const Assessment& a, const Ribbon& ribbon, SlotId id, Grip grip) {
  const vents::Slot& slot = a.vents.slots[id];
  const auto run = std::find_if(a.model.intake.begin(), a.model.intake.end(),
                                [&](const model::IntakeRun& one) { return one.id == slot.run; });
  if (run == a.model.intake.end()) {
    return std::nullopt;
  }
  const surface::Plane& plane = a.surface.planes[slot.plane];
  const model::Product* product = a.product(slot.product);
  Pull pull;
  pull.run = run->id;
  pull.grip = grip;
  pull.plane = slot.plane;
  pull.from_m = run->whole ? slot.start_m : run->from_m;
  pull.to_m = run->whole ? slot.end_m : run->to_m;
  pull.low_m = pull.from_m;
  pull.high_m = pull.to_m;
  for (const vents::Slot& one : a.vents.slots) {
    if (run->whole && one.run == slot.run) {
      pull.from_m = std::min(pull.from_m, one.start_m);
      pull.to_m = std::max(pull.to_m, one.end_m);
    }
  }
  for (const RibbonEave& eave : ribbon.eaves) {
    if (eave.plane == slot.plane) {
      pull.low_m = std::min(pull.low_m, eave.u_m);
      pull.high_m = std::max(pull.high_m, eave.u_m + eave.length_m);
      pull.stops.push_back(eave.u_m);
      pull.stops.push_back(eave.u_m + eave.length_m);
      if (product != nullptr) {
        pull.stops.push_back(eave.u_m + product->slot.hold_back_hip_m);
        pull.stops.push_back(eave.u_m + eave.length_m - product->slot.hold_back_hip_m);
      }
    }
  }
  pull.least_m = least_run_m;
  if (product != nullptr) {
    pull.least_m = std::max(product->least_piece_m, least_run_m);
    pull.section_m = model::runs_along(product->kind) ? product->length_m : 0.0;
    pull.stops.push_back(plane.wall_start_u_m + product->slot.hold_back_m);
    pull.stops.push_back(plane.wall_end_u_m - product->slot.hold_back_m);
  }
  for (const RibbonCell& cell : ribbon.cells) {
    const RibbonEave& eave = ribbon.eaves[cell.eave];
    if (eave.plane == slot.plane && !cell.bay.is_none()) {
      pull.stops.push_back(eave.u_at(cell.clear_from_m));
      pull.stops.push_back(eave.u_at(cell.clear_to_m));
    }
  }
  return pull;
}

std::pair<double, double> pulled(const Pull& pull, double by_m, double snap_m, double step_m) {
  double from = pull.from_m;
  double to = pull.to_m;
  if (by_m == 0.0) {
    return {from, to};
  }
  if (pull.grip == Grip::left) {
    from += by_m;
    from = stop_near(from, with_sections(pull, to, -1.0), snap_m).value_or(in_steps(from, step_m));
    from = std::clamp(from, pull.low_m, std::max(pull.low_m, to - pull.least_m));
  } else if (pull.grip == Grip::right) {
    to += by_m;
    to = stop_near(to, with_sections(pull, from, 1.0), snap_m).value_or(in_steps(to, step_m));
    to = std::clamp(to, std::min(pull.high_m, from + pull.least_m), pull.high_m);
  } else {
    const double length = to - from;
    const double wanted = from + by_m;
    const auto left = stop_near(wanted, pull.stops, snap_m);
    const auto right = stop_near(wanted + length, pull.stops, snap_m);
    from = in_steps(wanted, step_m);
    if (left && (!right || std::abs(*left - wanted) <= std::abs(*right - wanted - length))) {
      from = *left;
    } else if (right) {
      from = *right - length;
    }
    from = std::clamp(from, pull.low_m, std::max(pull.low_m, pull.high_m - length));
    to = from + length;
  }
  return {from, to};
}

std::vector<BayId> bays_over(const Assessment& assessment, PlaneId plane, double from_m,
                             double to_m) {
  std::vector<BayId> over;
  for (const BayId id : assessment.framing.bays.ids()) {
    const framing::Bay& bay = assessment.framing.bays[id];
    const bool is_at_eave = assessment.surface.lines.has(bay.foot) &&
                            assessment.surface.lines[bay.foot].kind == surface::LineKind::eave;
    if (bay.plane == plane && is_at_eave && bay.from_u_m < to_m && bay.to_u_m > from_m) {
      over.push_back(id);
    }
  }
  return over;
}

}  // namespace ridgeward::scene
