#include "exports/bodies_of.hpp"

#include <iterator>

namespace ridgeward::exports {

Result<std::vector<solid::Body>> bodies_of(const Assessment& assessment, const Content& content) {
  std::vector<solid::Body> all;
  Faults faults;
  const auto gather = [&](Result<solid::Bodies> made) {
    if (!made) {
      faults.insert(faults.end(), made.faults().begin(), made.faults().end());
      return;
    }
    std::vector<solid::Body>& bodies = made.value().all;
    all.insert(all.end(), std::make_move_iterator(bodies.begin()),
               std::make_move_iterator(bodies.end()));
  };
  if (content.roof) {
    gather(solid::roof_body(assessment.surface));
  }
  if (content.deck || content.slots) {
    gather(solid::deck_bodies(assessment.model, assessment.surface,
                              content.slots ? &assessment.vents : nullptr));
  }
  if (content.attic) {
    gather(solid::compartment_bodies(assessment.surface, assessment.attic));
  }
  if (content.members) {
    gather(solid::member_bodies(assessment.model, assessment.surface, assessment.framing));
  }
  if (!faults.empty()) {
    return faults;
  }
  return all;
}

}  // namespace ridgeward::exports
