#pragma once
// The main job: a model, a catalogue and a code set in, an assessment out.

#include "airflow/airflow.hpp"
#include "airflow/paths.hpp"
#include "attic/attic.hpp"
#include "base/fault.hpp"
#include "codes/stage.hpp"
#include "conflicts/check.hpp"
#include "framing/framing.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"
#include "takeoff/takeoff.hpp"
#include "vents/vents.hpp"

#include <string>
#include <vector>

namespace ridgeward {

/// Everything the program knows about one roof, stage by stage.
struct Assessment {
  model::RoofModel model;
  codes::CodeSet code;
  surface::Surface surface;
  framing::Framing framing;
  attic::Attic attic;
  vents::Vents vents;
  codes::Tests tests;
  airflow::Airflow airflow;
  std::vector<conflicts::Finding> findings;
  takeoff::Takeoff takeoff;
  /// Of the vents that the model uses, by id, in the order of their names.
  std::vector<model::Product> products;
  std::vector<std::string> assumptions;

  /// None if the model uses no such product.
  const model::Product* product(const std::string& id) const;
  /// A failed code test (advice left out) or a finding of severity error: exit status 1.
  bool is_at_fault() const;
};

/// How much of an assessment is worked out.
enum class Depth {
  whole,
  live  ///< without airflow and takeoff, whose findings are missing then: what fits into a frame
};

/// The composition of all stages. Faults of any stage end it. Pure: equal input, equal output.
Result<Assessment> assess(const model::RoofModel& model, const model::Catalogue& catalogue,
                          const codes::CodeSet& code, Depth depth = Depth::whole);

/// The same for a model that differs from `before`'s in its vents only: surface, framing and attic
/// are taken over.
Result<Assessment> reassess(const Assessment& before, const model::RoofModel& model,
                            const model::Catalogue& catalogue, Depth depth);

/// The findings of an assessed roof as they read in feet and inches or in metric, whatever the
/// model is drawn in.
std::vector<conflicts::Finding> findings_in(const Assessment& assessment, units::Style style);

/// The air of an assessed roof in weather of one's own; its openings are those of `airflow`.
airflow::CaseAir air_in(const Assessment& assessment, const model::AirCase& conditions);
/// The ways of the air in a case of it, as lines.
std::vector<airflow::Path> air_paths(const Assessment& assessment, const airflow::CaseAir& one);

}  // namespace ridgeward
