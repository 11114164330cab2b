#pragma once
// Reads a model file. Any text gives a model or faults, never a crash.

#include "base/fault.hpp"
#include "model/roof_model.hpp"

#include <string>
#include <string_view>

namespace ridgeward::model {

struct ReadModel {
  RoofModel model;
  Faults warnings;  ///< unknown keys with the nearest known one, and the like: the model serves
};

/// Reads and checks model JSON (format version 1, docs/model.md).
/// All faults are reported, not the first, and after them the unknown keys that are near to a known
/// one (field.unknown, else a warning). Faults by code: json.syntax, json.too_deep,
/// version.missing, version.unknown, field.missing, field.type, field.range, field.unknown_word,
/// length.unreadable, pitch.unreadable, pitch.range, outline.too_few, outline.crosses_itself,
/// outline.clockwise, outline.zero_edge, outline.spike, hole.counter_clockwise, hole.outside,
/// hole.overlaps, edges.count, edges.no_eave, id.twice, name.unknown, number.not_finite, too_large.
/// Laws: every coordinate of the result lies on units::grid_m and is finite; every outline is
/// simple and counter-clockwise (holes clockwise and strictly inside); edges.size() equals
/// outline.size(); at least one edge of a part bears a plane.
Result<ReadModel> read(std::string_view json);

/// Reads the file at `path`; also faults file.missing, file.folder, file.unreadable.
Result<ReadModel> read_file(const std::string& path);

/// Writes a model that read() takes back unchanged but for its assumptions, which the written file
/// states. Lengths are in the model's own unit, with as few digits as read back the same. `indent`
/// below 0: on one line.
std::string write(const RoofModel& model, int indent = 2);

/// The JSON Schema of the model file.
std::string schema();

}  // namespace ridgeward::model
