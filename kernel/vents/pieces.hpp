#pragma once
// The stage's inner steps: intake runs, what slots open onto, exhaust vents, live bays.

#include "attic/attic.hpp"
#include "base/fault.hpp"
#include "framing/framing.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

namespace ridgeward::vents {

/// All that the steps look at.
struct Site {
  const model::RoofModel& model;
  const model::Catalogue& catalogue;
  const surface::Surface& surface;
  const framing::Framing& framing;
  const attic::Attic& attic;
};

/// How far a gable-end wall lies behind a point of `plane`, in plane coordinates, at one of its
/// ends: the overhang of the rake there, 0 where no gable-end wall stands.
double beyond_gable_wall_m(const Site& site, const surface::Plane& plane, glm::dvec2 uv);

/// Exhaust vents first: they make bays live.
void set_exhausts(const Site& site, Vents& vents, Faults& faults);
/// Shares those over rafter spaces out to the bays.
void share_exhausts(const Site& site, Vents& vents);
/// Where a step puts what it finds.
struct Into {
  Vents& vents;
  Faults& faults;
};
/// A louvre in a gable wall. Faults vent.wall_kind, vent.run_outside.
void set_louvre(const Site& site, const model::ExhaustVent& vent, const model::Product& product,
                const std::string& where, Into into);
/// Live bays, each with its reason.
void tell_bays(const Site& site, Vents& vents);
/// Slots of all intake runs.
void set_slots(const Site& site, Vents& vents, Faults& faults);
/// Net free area of a product per length along the eave; of soffit pieces, over their own length.
double free_area_per_length_m(const model::Product& product);
/// Fills in a slot's bays, crossings, free area and compartment.
void open_slot(const Site& site, const model::Product& product, const Vents& vents, Slot& slot);

/// The product, or none and a fault.
const model::Product* product_named(const Site& site, const std::string& name,
                                    const std::string& where, Faults& faults);

}  // namespace ridgeward::vents
