#pragma once
// Everything that could be placed, found by setting it out on the roof and judging it as any vent
// is judged: no geometry of slots is worked out here.

#include "airflow/airflow.hpp"
#include "attic/attic.hpp"
#include "codes/stage.hpp"
#include "conflicts/check.hpp"
#include "framing/framing.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"
#include "placement/cost.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::placement {

/// A roof before its vents.
struct Ground {
  const model::RoofModel& model;
  const model::Catalogue& catalogue;
  const codes::CodeSet& code;
  const surface::Surface& surface;
  const framing::Framing& framing;
  const attic::Attic& attic;
};

/// Vents set out on the ground and judged.
struct Trial {
  model::RoofModel model;
  vents::Vents vents;
  codes::Tests tests;
  airflow::Airflow airflow;
  std::vector<conflicts::Finding> findings;
};
/// Whether a trial is judged by its air too. Candidates are not: they never stand all together.
enum class Air { left_out, solved };
/// REQUIRES vents that can be set out.
Trial tried(const Ground& ground, std::vector<model::IntakeRun> intake,
            std::vector<model::ExhaustVent> exhaust, Air air = Air::left_out);

/// A finding's words about a vent of a trial, whose id says nothing to anyone, by its product.
std::string by_product(std::string words, const std::string& id, const std::string& product);

/// Free area over one compartment.
struct Share {
  CompartmentId compartment;
  double area_m2 = 0.0;
  double low_m = 0.0;  ///< exhaust: height of its lowest point over it
  std::optional<double> over_insulation_m = std::nullopt;  ///< intake: the least of its bays
};

/// One thing that can be placed, or several alike of which up to `places()` can be.
struct Candidate {
  std::string product;
  model::VentKind kind = model::VentKind::over_deck_intake;
  std::optional<model::IntakeRun> run;    ///< intake
  std::vector<model::ExhaustVent> vents;  ///< exhaust: one along a line; or places in a row
  std::vector<Share> shares;              ///< of each
  Cost cost;                              ///< of each
  int warnings = 0;                       ///< conflicts that it would draw, errors excluded
  std::string warning;                    ///< the first of them
  PlaneId plane;                          ///< intake
  double length_m = 0.0;                  ///< of the vent
  std::size_t stretch = 0;                ///< index into Candidates::stretches; not for pieces
  double high_m = 0.0;                    ///< intake: height of its upper line
  double low_m = 0.0;                     ///< exhaust: of its lowest point

  bool is_intake() const { return run.has_value(); }
  int places() const { return is_intake() ? 1 : static_cast<int>(vents.size()); }
};

/// Where one run of one product in one position can lie, or one line vent of one product.
struct Stretch {
  bool is_intake = true;
  PlaneId plane;
  LineId line;
  double from_m = 0.0;
  double to_m = 0.0;
  std::size_t eave = 0;  ///< intake: index into Candidates::eaves
};

/// A piece of an eave over which intake can lie, whatever the product and position.
struct Eave {
  PlaneId plane;
  double from_m = 0.0;
  double to_m = 0.0;
  double length_m() const { return to_m - from_m; }
};

struct Candidates {
  std::vector<Candidate> all;
  std::vector<Stretch> stretches;
  std::vector<Eave> eaves;
  std::vector<std::string> left_out;  ///< eaves where nothing can lie, and why
};

/// Laws: each, set out alone with an exhaust over its compartment, draws no error of its own, opens
/// onto live bays only, and has the free area that its shares say. Runs are whole sections, and the
/// whole of their stretch; line vents likewise. Over rafter spaces there is a stretch for each
/// range from border to border (borders.hpp). Upslope runs lie only where no eave run can.
Candidates candidates_on(const Ground& ground);

/// Steps of the above, each adding to `all`.
void add_exhausts(const Ground& ground, Candidates& all);
/// `exhausts` make the bays live. REQUIRES add_exhausts() before.
void add_intakes(const Ground& ground, Candidates& all);

}  // namespace ridgeward::placement
