#pragma once
// Many rafter spaces told as a crew would.

#include "attic/attic.hpp"
#include "framing/framing.hpp"
#include "surface/surface.hpp"
#include "units/length.hpp"

#include <string>
#include <vector>

namespace ridgeward::attic {

/// "main/0/b2-b12, main/2/b3": bays that follow each other are told together.
std::string names_of_bays(const framing::Framing& framing, const std::vector<BayId>& bays);

/// The one compartment by its id; several, which must be rafter spaces, as
/// "22 rafter spaces under vault (main/0/b2-b12, main/2/b2-b12)".
std::string names_of(const framing::Framing& framing, const Attic& attic,
                     const std::vector<CompartmentId>& compartments);

/// What to do about a rafter space at whose foot a ceiling's border lies between two rafters, so
/// that its bay counts with the space beside it and no intake can serve what is left: "The border
/// of vault lies 8\" inside bay main/2/b6, which counts with attic: put it on a rafter, ...". Empty
/// where that is not so.
std::string border_cure(const surface::Surface& surface, const framing::Framing& framing,
                        const Attic& attic, CompartmentId compartment, units::Style style);

/// The ceiling that a compartment's first space lies over.
const std::string& ceiling_of(const Attic& attic, CompartmentId compartment);

}  // namespace ridgeward::attic
