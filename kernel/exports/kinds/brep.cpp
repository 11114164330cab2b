#include "exports/bodies_of.hpp"
#include "exports/exporter.hpp"

namespace ridgeward::exports {

namespace {

Result<std::string> write_brep(const Assessment& assessment, const Content& content,
                               const Tell& tell) {
  const Result<std::vector<solid::Body>> bodies = bodies_of(assessment, content, tell);
  if (!bodies) {
    return bodies.faults();
  }
  return solid::to_brep(bodies.value());
}

}  // namespace

extern const Exporter brep_kind;
const Exporter brep_kind{".brep", "the same solids without names, BREP (metres)", write_brep};

}  // namespace ridgeward::exports
