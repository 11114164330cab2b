#include "exports/bodies_of.hpp"

#include <functional>
#include <iterator>
#include <utility>

namespace ridgeward::exports {

namespace {

/// Bodies of one kind, and the steps that they take.
struct Kind {
  std::size_t steps = 0;
  std::function<Result<solid::Bodies>(const Tell& tell)> make;
};

std::vector<Kind> kinds_of(const Assessment& a, const Content& content) {
  std::vector<Kind> kinds;
  if (content.roof) {
    kinds.push_back({1, [&a](const Tell&) { return solid::roof_body(a.surface); }});
  }
  if (content.deck || content.slots) {
    const vents::Vents* slots = content.slots ? &a.vents : nullptr;
    kinds.push_back(
        {a.surface.planes.size() + a.surface.blind_decks.size(),
         [&a, slots](const Tell&) { return solid::deck_bodies(a.model, a.surface, slots); }});
  }
  if (content.attic) {
    kinds.push_back({a.attic.spaces.size(),
                     [&a](const Tell&) { return solid::compartment_bodies(a.surface, a.attic); }});
  }
  if (content.members) {
    kinds.push_back({a.framing.members.size(), [&a](const Tell& tell) {
                       return solid::member_bodies(a.model, a.surface, a.framing, tell);
                     }});
  }
  return kinds;
}

}  // namespace

Result<std::vector<solid::Body>> bodies_of(const Assessment& assessment, const Content& content,
                                           const Tell& tell) {
  const std::vector<Kind> kinds = kinds_of(assessment, content);
  std::size_t steps = 0;
  for (const Kind& kind : kinds) {
    steps += kind.steps;
  }
  std::vector<solid::Body> all;
  Faults faults;
  std::size_t before = 0;
  const auto tell_on = [&](std::size_t done, std::size_t /*of_kind*/) {
    if (tell) {
      tell(before + done, steps);
    }
  };
  for (const Kind& kind : kinds) {
    Result<solid::Bodies> made = kind.make(tell_on);
    if (!made) {
      faults.insert(faults.end(), made.faults().begin(), made.faults().end());
    } else {
      std::vector<solid::Body>& bodies = made.value().all;
      all.insert(all.end(), std::make_move_iterator(bodies.begin()),
                 std::make_move_iterator(bodies.end()));
    }
    tell_on(kind.steps, kind.steps);
    before += kind.steps;
  }
  if (!faults.empty()) {
    return faults;
  }
  return all;
}

}  // namespace ridgeward::exports
