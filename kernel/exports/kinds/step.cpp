#include "exports/bodies_of.hpp"
#include "exports/exporter.hpp"

namespace ridgeward::exports {

namespace {

Result<std::string> write_step(const Assessment& assessment, const Content& content,
                               const Tell& tell) {
  const Result<std::vector<solid::Body>> bodies = bodies_of(assessment, content, tell);
  if (!bodies) {
    return bodies.faults();
  }
  return solid::to_step(bodies.value(), assessment.model.name);
}

}  // namespace

extern const Exporter step_kind;
const Exporter step_kind{
    ".step", "solids by name: roof, deck, air spaces, timber; STEP (AP214, millimetres)",
    write_step};

}  // namespace ridgeward::exports
