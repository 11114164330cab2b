#include "assess.hpp"

#include "airflow/stage.hpp"
#include "attic/stage.hpp"
#include "framing/stage.hpp"
#include "surface/stage.hpp"
#include "vents/stage.hpp"

#include <algorithm>
#include <set>

namespace ridgeward {

namespace {

template <class Stage>
void gather(std::vector<std::string>& all, const Stage& stage) {
  all.insert(all.end(), stage.assumptions.begin(), stage.assumptions.end());
}

std::vector<model::Product> products_of(const model::RoofModel& model,
                                        const model::Catalogue& catalogue) {
  std::set<std::string> used;
  for (const model::IntakeRun& run : model.intake) {
    used.insert(run.product);
  }
  for (const model::ExhaustVent& vent : model.exhaust) {
    used.insert(vent.product);
  }
  std::vector<model::Product> products;
  products.reserve(used.size());
  for (const std::string& id : used) {
    products.push_back(catalogue.products.at(id));
  }
  return products;
}

/// Everything from the vents on, over a surface, framing and attic that stand.
Result<Assessment> with_vents(Assessment a, const model::Catalogue& catalogue, Depth depth) {
  auto vents = vents::set_out(a.model, catalogue, a.surface, a.framing, a.attic);
  if (!vents) {
    return vents.faults();
  }
  a.vents = std::move(vents).value();
  a.tests = codes::test(a.code, a.surface, a.framing, a.attic, a.vents);
  if (depth == Depth::whole) {
    a.airflow = airflow::breathe({a.model, catalogue, a.surface, a.framing, a.attic, a.vents});
  }
  a.findings = conflicts::find({a.model, catalogue, a.surface, a.framing, a.attic, a.vents, a.tests,
                                a.airflow, false, &a.code});
  if (depth == Depth::whole) {
    a.takeoff = takeoff::count(a.model, catalogue, a.surface, a.vents);
  }
  a.products = products_of(a.model, catalogue);
  gather(a.assumptions, a.model);
  gather(a.assumptions, a.surface);
  gather(a.assumptions, a.framing);
  gather(a.assumptions, a.attic);
  gather(a.assumptions, a.vents);
  gather(a.assumptions, a.airflow);
  if (std::string words = codes::proviso(a.code, a.model.site.climate_zone, a.tests);
      !words.empty()) {
    a.assumptions.push_back(std::move(words));
  }
  for (const std::string& note : a.code.notes) {
    a.assumptions.push_back("Code set " + a.code.id + ": " + note);
  }
  return a;
}

}  // namespace

const model::Product* Assessment::product(const std::string& id) const {
  const auto found = std::find_if(products.begin(), products.end(),
                                  [&](const model::Product& product) { return product.id == id; });
  return found == products.end() ? nullptr : &*found;
}

bool Assessment::is_at_fault() const {
  const bool fails_test = std::any_of(tests.tests.begin(), tests.tests.end(),
                                      [](const auto& test) { return test.fails(); });
  return fails_test || std::any_of(findings.begin(), findings.end(), [](const auto& finding) {
           return finding.severity == conflicts::Severity::error;
         });
}

Result<Assessment> assess(const model::RoofModel& model, const model::Catalogue& catalogue,
                          const codes::CodeSet& code, Depth depth) {
  Assessment a;
  a.model = model;
  a.code = code;
  auto surface = surface::raise(model);
  if (!surface) {
    return surface.faults();
  }
  a.surface = std::move(surface).value();
  a.framing = framing::frame(model, a.surface);
  auto attic = attic::divide(model, a.surface, a.framing);
  if (!attic) {
    return attic.faults();
  }
  a.attic = std::move(attic).value();
  return with_vents(std::move(a), catalogue, depth);
}

Result<Assessment> reassess(const Assessment& before, const model::RoofModel& model,
                            const model::Catalogue& catalogue, Depth depth) {
  Assessment a;
  a.model = model;
  a.code = before.code;
  a.surface = before.surface;
  a.framing = before.framing;
  a.attic = before.attic;
  return with_vents(std::move(a), catalogue, depth);
}

namespace {

/// The entries that the airflow and the checks ask for: those of the model's own vents.
model::Catalogue catalogue_of(const Assessment& a) {
  model::Catalogue catalogue;
  for (const model::Product& product : a.products) {
    catalogue.products[product.id] = product;
  }
  return catalogue;
}

}  // namespace

std::vector<conflicts::Finding> findings_in(const Assessment& a, units::Style style) {
  model::RoofModel model = a.model;
  model.unit = style == units::Style::metric ? units::LengthUnit::m : units::LengthUnit::ft;
  const model::Catalogue catalogue = catalogue_of(a);
  return conflicts::find({model, catalogue, a.surface, a.framing, a.attic, a.vents, a.tests,
                          a.airflow, false, &a.code});
}

airflow::CaseAir air_in(const Assessment& a, const model::AirCase& conditions) {
  const model::Catalogue catalogue = catalogue_of(a);
  return airflow::breathe_in({a.model, catalogue, a.surface, a.framing, a.attic, a.vents},
                             conditions);
}

std::vector<airflow::Path> air_paths(const Assessment& a, const airflow::CaseAir& one) {
  const model::Catalogue catalogue = catalogue_of(a);
  return airflow::paths({a.model, catalogue, a.surface, a.framing, a.attic, a.vents}, a.airflow,
                        one);
}

}  // namespace ridgeward
