#pragma once
// Where the air goes in a roof, and whether it goes the right way.

#include "airflow/airflow.hpp"
#include "attic/attic.hpp"
#include "framing/framing.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

namespace ridgeward::airflow {

/// All that the stage looks at.
struct Site {
  const model::RoofModel& model;
  const model::Catalogue& catalogue;
  const surface::Surface& surface;
  const framing::Framing& framing;
  const attic::Attic& attic;
  const vents::Vents& vents;
};

/// Runs the standard cases and the model's own: a calm winter night, a calm summer noon, weather
/// for ice dams where the site has snow, wind from eight directions at the stated speed and at half
/// of it. Stack, wind and fans together; attic temperatures from the heat unless a case gives them.
/// No compartments: no cases.
/// Laws: those of solve() in every case; the air that comes into a space is what leaves it.
Airflow breathe(const Site& site);

/// One case on its own, as breathe() runs those of the model. Nothing flows where no air space is.
CaseAir breathe_in(const Site& site, const model::AirCase& conditions);

/// Broken laws, in words; empty when sound.
std::vector<std::string> verify(const Airflow& airflow);

}  // namespace ridgeward::airflow
