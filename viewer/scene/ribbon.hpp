#pragma once
// The eaves unrolled: all of them end to end on one straight line, part by part and around each
// part, with the bays that start at them and what lies along them. Plain data, metres; no graphics.

#include "assess.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::scene {

/// Left between two eaves, and between two parts.
inline constexpr double eave_gap_m = 0.5;
inline constexpr double part_gap_m = 1.5;

/// One eave, from its left end seen from outside.
struct RibbonEave {
  LineId line;
  PlaneId plane;
  double from_m = 0.0;    ///< where it starts on the ribbon
  double length_m = 0.0;  ///< of the eave
  double u_m = 0.0;       ///< of its left end, along the plane
  double v_m = 0.0;       ///< height of the drip edge up the plane: 0 but where a plane has two
  double to_m() const { return from_m + length_m; }
  /// From along the plane to along the ribbon, and back.
  double at(double u) const { return from_m + u - u_m; }
  double u_at(double at_m) const { return u_m + at_m - from_m; }
};

enum class CellState {
  fed,     ///< live, a slot opens onto it
  idle,    ///< live, no slot
  dead,    ///< leads nowhere
  wasted,  ///< leads nowhere and has a slot over it
  none     ///< timber or rake overhang: no bay starts there
};

/// From rafter centre to rafter centre.
struct RibbonCell {
  BayId bay;  ///< none where no bay starts
  std::size_t eave = 0;
  double from_m = 0.0;
  double to_m = 0.0;
  double clear_from_m = 0.0;  ///< between the rafters
  double clear_to_m = 0.0;
  CellState state = CellState::none;
  std::string why;  ///< the way out, or why there is none
};

struct RibbonSlot {
  SlotId slot;
  std::size_t eave = 0;
  double from_m = 0.0;
  double to_m = 0.0;
};

/// A piece of the cutting plan.
struct RibbonPiece {
  SlotId slot;
  std::size_t strip = 0;  ///< index into Takeoff::sections
  std::size_t piece = 0;  ///< in that strip
  std::size_t eave = 0;
  double from_m = 0.0;
  double to_m = 0.0;
  takeoff::CutKind left = takeoff::CutKind::factory;
  takeoff::CutKind right = takeoff::CutKind::factory;
};

/// Something in the way: an obstacle over the eave, or a finding.
struct RibbonMark {
  std::size_t eave = 0;
  double from_m = 0.0;
  double to_m = 0.0;
  int severity = -1;       ///< of a finding, as in Marker; -1: an obstacle
  std::size_t number = 0;  ///< 1 for the first finding
  double up_m = 0.0;       ///< obstacles: how far up the slope it starts
  std::string words;
};

struct Ribbon {
  std::vector<RibbonEave> eaves;
  std::vector<RibbonCell> cells;  ///< eave by eave, from left to right
  std::vector<RibbonSlot> slots;
  std::vector<RibbonPiece> pieces;
  std::vector<RibbonMark> marks;
  double length_m = 0.0;  ///< gaps included
};

/// Laws: the cells of an eave tile it; every eave of the surface is there once; slots, pieces and
/// marks lie within their eaves but for pieces that reach past a hip or rake.
Ribbon ribbon_of(const Assessment& assessment);

/// What lies at a place. Indices into the ribbon's lists.
struct RibbonHit {
  std::optional<std::size_t> eave;
  std::optional<std::size_t> cell;
  std::optional<std::size_t> slot;
  std::optional<std::size_t> piece;
  std::optional<std::size_t> mark;
};
/// Slots, pieces and marks within `reach_m` count too, the nearest first.
RibbonHit hit(const Ribbon& ribbon, double at_m, double reach_m);
/// The eave of a plane nearest to a place along it; none where the plane has none.
std::optional<std::size_t> eave_of(const Ribbon& ribbon, PlaneId plane, double u_m);

/// Which part of a run is pulled.
enum class Grip { left, right, whole };

/// A run of intake that is pulled along its eave. All along the plane, as in the model.
struct Pull {
  std::string run;
  Grip grip = Grip::whole;
  PlaneId plane;
  double from_m = 0.0;  ///< as it was
  double to_m = 0.0;
  double low_m = 0.0;  ///< how far it may go
  double high_m = 0.0;
  double least_m = 0.0;       ///< shortest length
  double section_m = 0.0;     ///< length of one section; 0: none
  std::vector<double> stops;  ///< places that ends snap to: faces of rafters, hold-backs, ends
};
/// The pull of the run that a slot belongs to; none for a slot whose run the model does not hold.
std::optional<Pull> pull_of(const Assessment& assessment, const Ribbon& ribbon, SlotId slot,
                            Grip grip);
/// Its new ends when the hand has moved by `by_m`. Ends snap to stops, and to whole sections from
/// the other end, within `snap_m`; else to steps of `step_m`. Laws: within low and high; never
/// shorter than `least_m`; a whole run keeps its length; moved by 0 it stays.
std::pair<double, double> pulled(const Pull& pull, double by_m, double snap_m, double step_m);

/// Bays of a plane that a slot from one place to another lies over.
std::vector<BayId> bays_over(const Assessment& assessment, PlaneId plane, double from_m,
                             double to_m);

}  // namespace ridgeward::scene
