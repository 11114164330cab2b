#include "exports/exporter.hpp"
#include "solid/shape.hpp"

namespace ridgeward::exports {

namespace {

Result<std::string> write_step(const Assessment& assessment) {
  Result<solid::Shape> shape = solid::build(assessment.surface);
  if (!shape) {
    return shape.faults();
  }
  return solid::to_step(shape.value(), assessment.model.name);
}

}  // namespace

extern const Exporter step_kind;
const Exporter step_kind{".step", "the roof as a solid, STEP (AP214, millimetres)", write_step};

}  // namespace ridgeward::exports
