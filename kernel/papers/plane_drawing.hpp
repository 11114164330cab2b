#pragma once
// One plane drawn flat, true to scale, as a crew sees it from outside: the eave below, the slope
// upwards.

#include "assess.hpp"
#include "papers/draft.hpp"
#include "papers/marks.hpp"

namespace ridgeward::papers {

/// How a plane, or a window of it, lies on the page: page = origin + mm_per_m * (u, -v).
struct PlaneView {
  PlaneId plane;
  glm::dvec2 low{0.0};  ///< of the window, plane coordinates
  glm::dvec2 high{0.0};
  double mm_per_m = 10.0;
  glm::dvec2 origin{0.0};
  std::string words;  ///< of the scale
  glm::dvec2 at(glm::dvec2 uv) const { return origin + mm_per_m * glm::dvec2{uv.x, -uv.y}; }
};

/// The whole plane at the largest usual scale, with room for dimensions below its eaves; it stands
/// at the top of the frame.
PlaneView whole_plane(const Assessment& assessment, PlaneId plane, const Frame& frame,
                      units::Style style);

/// Height of the page that draw_run() takes below the top of the view's frame.
double run_height_mm(const PlaneView& view);

/// The plane with its rafters, what stands on it, blind decks, the run's slots and the vent over
/// them, the rafter marks as running dimensions from the left end of the eave, slot ends and eave
/// as dimensions. Whether every rafter mark found room; if not, none is drawn.
bool draw_run(const Assessment& assessment, const PlaneView& view, const std::vector<SlotId>& slots,
              units::Style style, Page& page);

/// One end of a slot enlarged: border of the plane, rafters, chalk lines as a ladder of heights up
/// the slope from the drip edge, the distance of the slot's end from the hook. Fits the frame.
void draw_slot_end(const Assessment& assessment, SlotId slot, bool is_left, const Frame& frame,
                   units::Style style, Page& page);

/// A place on which the tape hooks for single vents, with those that are measured from it.
struct TapeHook {
  std::string letter;  ///< "A"
  std::string words;   ///< "LEFT (west) end of the ridge"
  LineId line;         ///< none at a corner
  glm::dvec2 uv{0.0};
  bool is_up = false;  ///< measured up the slope
  std::vector<ExhaustId> vents;
};
/// REQUIRES exhausts on one plane.
std::vector<TapeHook> tape_hooks(const Assessment& assessment, const std::vector<ExhaustId>& vents);

/// Height of the page that draw_places() takes below the top of the view's frame.
double places_height_mm(const PlaneView& view);

/// Places on a plane with crosses, numbered from 1 in the order of `vents`, and their hooks.
void draw_places(const Assessment& assessment, const PlaneView& view,
                 const std::vector<ExhaustId>& vents, units::Style style, Page& page);

}  // namespace ridgeward::papers
