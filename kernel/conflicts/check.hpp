#pragma once
// Conflicts: what stands in the way, where, how far off, and what to do about it.
// Each kind is one file in kinds/, `deep_slot.cpp` defining `extern const Check deep_slot_kind`;
// CMake lists the folder into a generated table, so adding a file is the whole change.

#include "airflow/airflow.hpp"
#include "attic/attic.hpp"
#include "codes/stage.hpp"
#include "framing/framing.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <glm/vec3.hpp>

#include <span>
#include <string>
#include <vector>

namespace ridgeward::conflicts {

enum class Severity { note, warning, error };
const char* word(Severity severity);

struct Finding {
  std::string kind;  ///< stable word: "exhaust_above_intake"
  Severity severity = Severity::warning;
  glm::dvec3 at{0.0};
  PlaneId plane;                     ///< none where it does not apply
  SlotId slot;                       ///< likewise
  MemberId member;                   ///< likewise
  ExhaustId exhaust;                 ///< likewise
  CompartmentId compartment;         ///< that `message` names, by its id
  std::vector<CompartmentId> alike;  ///< more rafter spaces for which it is told, by `find`
  std::string measured;              ///< with unit, for people
  std::string needed;
  std::string message;
  std::string remedy;
};

/// A read-only look at everything a check may ask.
struct Roof {
  const model::RoofModel& model;
  const model::Catalogue& catalogue;
  const surface::Surface& surface;
  const framing::Framing& framing;
  const attic::Attic& attic;
  const vents::Vents& vents;
  const codes::Tests& tests;
  const airflow::Airflow& airflow;
  /// Vents to choose from, which never stand all together: they are not held against each other.
  bool are_choices = false;
  /// Whose sections are named; none: what no set asks for is told as common practice.
  const codes::CodeSet* code = nullptr;
};

/// A measure that misses its bound by less does not miss it: lengths, and ratios and pitches.
inline constexpr double tolerance_m = 1e-6;
inline constexpr double tolerance = 1e-9;

struct Check {
  const char* kind;
  const char* words;  ///< what it looks for
  std::vector<Finding> (*run)(const Roof& roof);
};

/// All checks, in the order of their file names.
std::span<const Check* const> checks();
/// Runs them all. Findings about rafter spaces under one ceiling that differ in nothing but the
/// space are told as one.
std::vector<Finding> find(const Roof& roof);

}  // namespace ridgeward::conflicts
