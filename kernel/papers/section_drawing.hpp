#pragma once
// A plumb section through one bay, from the eave over the house: what a trainer draws to show the
// way of the air.

#include "assess.hpp"
#include "papers/draft.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::papers {

/// Where the house is cut: plumb, up the slope of a bay through its middle.
struct SectionPlace {
  BayId bay;
  SlotId slot;              ///< over the bay; none where the bay has no intake
  glm::dvec2 at{0.0};       ///< in plan, on the drip edge
  glm::dvec2 up{0.0, 1.0};  ///< in plan, unit, up the slope
};

/// A live bay under a slot of the largest attic, the middle one of its slot; else any live bay with
/// a slot; none where no slot opens onto a live bay.
std::optional<SectionPlace> place_of_section(const Assessment& assessment);

/// What is open in the section's bay between insulation and deck, where air comes in; none where
/// neither insulation nor heel is given. REQUIRES a place with a slot.
std::optional<double> open_in_section_m(const Assessment& assessment, const SectionPlace& place);

/// One straight piece of the roof in the section: level distance from the place, height.
struct RoofPiece {
  PlaneId plane;
  glm::dvec2 from{0.0};
  glm::dvec2 to{0.0};
};
/// What the cut meets of the roof, from the eave on. Law: each piece has its plane's slope along
/// the cut.
std::vector<RoofPiece> roof_in_section(const Assessment& assessment, const SectionPlace& place);

/// Depth of the rafter beside the section's bay; 0 without one.
double rafter_in_section_m(const Assessment& assessment, const SectionPlace& place);

/// A sloped ceiling under one piece of the roof: along the lower edge of the rafters, and the upper
/// face of its insulation between them.
struct SlopedPiece {
  glm::dvec2 from{0.0};
  glm::dvec2 to{0.0};
  glm::dvec2 top_from{0.0};
  glm::dvec2 top_to{0.0};
};
/// Law: square to the slope they lie the insulation apart, as far as rafters, and an inch under
/// baffles, leave room for it.
std::vector<SlopedPiece> sloped_ceilings_in_section(const Assessment& assessment,
                                                    const SectionPlace& place);

/// Plan points as distance along the cut and beside it.
std::vector<std::vector<glm::dvec2>> beside_cut(const SectionPlace& place,
                                                const std::vector<std::vector<glm::dvec2>>& plan);

/// The whole house, true to scale: deck, walls, ceilings, insulation, slot, exhaust, arrows of the
/// air. Returns the scale in words.
std::string draw_section(const Assessment& assessment, const SectionPlace& place,
                         const Frame& frame, units::Style style, Page& page);

/// The eave of it enlarged, with numbers: 1 vent, 2 slot, 3 the gap over the insulation, 4 plate,
/// 5 insulation. REQUIRES a place with a slot.
std::string draw_eave_section(const Assessment& assessment, const SectionPlace& place,
                              const Frame& frame, units::Style style, Page& page);

}  // namespace ridgeward::papers
