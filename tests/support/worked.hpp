#pragma once
// A model worked through all stages, for tests that look at one of them.

#include "airflow/stage.hpp"
#include "attic/stage.hpp"
#include "codes/stage.hpp"
#include "conflicts/check.hpp"
#include "framing/stage.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"
#include "surface/stage.hpp"
#include "takeoff/takeoff.hpp"
#include "vents/stage.hpp"

#include "support/words.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <utility>
#include <vector>

namespace ridgeward::tests {

struct Worked {
  model::RoofModel model;
  model::Catalogue catalogue;
  codes::CodeSet code;
  surface::Surface surface;
  framing::Framing framing;
  attic::Attic attic;
  vents::Vents vents;
  codes::Tests tests;
  airflow::Airflow airflow;
  std::vector<conflicts::Finding> findings;
  takeoff::Takeoff takeoff;

  PlaneId plane(const std::string& id) const {
    const PlaneId found = surface.plane_named(id);
    INFO("plane " << id);
    REQUIRE_FALSE(found.is_none());
    return found;
  }
  /// Finding of a kind, or null.
  const conflicts::Finding* finding(const std::string& kind) const {
    for (const conflicts::Finding& one : findings) {
      if (one.kind == kind) {
        return &one;
      }
    }
    return nullptr;
  }
  /// The test of a name in the first compartment.
  const codes::Test& test(const std::string& name) const {
    for (const codes::Test& one : tests.tests) {
      if (one.test == name) {
        return one;
      }
    }
    FAIL("no test " << name);
    return tests.tests.front();
  }
};

template <class T>
T value_of(Result<T> result) {
  INFO(words(result));
  REQUIRE(result.ok());
  return std::move(result).value();
}

/// As far as the vents. REQUIRES a model that every stage takes.
inline Worked vented(const model::RoofModel& model, const model::Catalogue& catalogue,
                     const codes::CodeSet& code = {}) {
  Worked w;
  w.model = model;
  w.catalogue = catalogue;
  w.code = code;
  w.surface = value_of(surface::raise(w.model));
  w.framing = framing::frame(w.model, w.surface);
  w.attic = value_of(attic::divide(w.model, w.surface, w.framing));
  w.vents = value_of(vents::set_out(w.model, w.catalogue, w.surface, w.framing, w.attic));
  for (const std::string& broken : vents::verify(w.framing, w.vents)) {
    FAIL(broken);
  }
  return w;
}

/// REQUIRES a model that every stage takes.
inline Worked worked(const model::RoofModel& model, const model::Catalogue& catalogue,
                     const codes::CodeSet& code = {}) {
  Worked w = vented(model, catalogue, code);
  w.tests = codes::test(w.code, w.surface, w.framing, w.attic, w.vents);
  w.airflow = airflow::breathe({w.model, w.catalogue, w.surface, w.framing, w.attic, w.vents});
  for (const std::string& broken : airflow::verify(w.airflow)) {
    FAIL(broken);
  }
  w.findings = conflicts::find({w.model, w.catalogue, w.surface, w.framing, w.attic, w.vents,
                                w.tests, w.airflow, false, &w.code});
  w.takeoff = takeoff::count(w.model, w.catalogue, w.surface, w.vents);
  return w;
}

/// The code sets that ship with the program.
inline codes::CodeSet code_set(const std::string& id) {
  return value_of(codes::read_code_set_file(std::string(RIDGEWARD_SOURCE_DIR) + "/models/codes/" +
                                            id + ".json"));
}

inline model::Catalogue default_catalogue() {
  return value_of(model::read_catalogue_file(std::string(RIDGEWARD_SOURCE_DIR) +
                                             "/models/catalogues/default.json"));
}

}  // namespace ridgeward::tests
