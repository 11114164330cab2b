#include "exports/exporter.hpp"
#include "solid/shape.hpp"

namespace ridgeward::exports {

namespace {

Result<std::string> write_brep(const Assessment& assessment) {
  Result<solid::Shape> shape = solid::build(assessment.surface);
  if (!shape) {
    return shape.faults();
  }
  return solid::to_brep(shape.value());
}

}  // namespace

extern const Exporter brep_kind;
const Exporter brep_kind{".brep", "the roof as a solid, BREP (metres)", write_brep};

}  // namespace ridgeward::exports
