#pragma once
// The keys of every object in the input files. Readers warn of others, schemas list the same
// (tests/model compares both), writers write them.

#include <span>
#include <string_view>

namespace ridgeward::model {

struct ObjectKeys {
  std::string_view object;  ///< as in the schema's $defs; "model" for the whole file
  std::span<const std::string_view> keys;

  bool has(std::string_view key) const;
};

namespace keys {
extern const ObjectKeys model, site, roofing, part, hole, edge, pitch_break, framing, air_past,
    measured_edge, collar_ties, ceiling, divider, obstacle, vents, intake, exhaust;
extern const ObjectKeys air, air_case;
extern const ObjectKeys catalogue, product, slot;
}  // namespace keys

/// Of the model file and of the catalogue.
std::span<const ObjectKeys* const> model_keys();
std::span<const ObjectKeys* const> catalogue_keys();

}  // namespace ridgeward::model
