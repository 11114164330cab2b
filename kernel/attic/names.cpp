#include "attic/names.hpp"

#include <algorithm>

namespace ridgeward::attic {

std::string names_of_bays(const framing::Framing& framing, const std::vector<BayId>& bays) {
  std::vector<BayId> sorted = bays;
  std::sort(sorted.begin(), sorted.end());
  sorted.erase(std::unique(sorted.begin(), sorted.end()), sorted.end());
  std::string text;
  for (std::size_t first = 0; first < sorted.size();) {
    std::size_t last = first;
    while (last + 1 < sorted.size() && sorted[last + 1].value == sorted[last].value + 1 &&
           framing.bays[sorted[last + 1]].plane == framing.bays[sorted[first]].plane) {
      ++last;
    }
    const std::string& end = framing.bays[sorted[last]].id;
    text += (text.empty() ? "" : ", ") + framing.bays[sorted[first]].id +
            (last > first ? "-" + end.substr(end.rfind('/') + 1) : "");
    first = last + 1;
  }
  return text;
}

const std::string& ceiling_of(const Attic& attic, CompartmentId compartment) {
  return attic.spaces[attic.compartments[compartment].spaces.front()].ceiling;
}

std::string names_of(const framing::Framing& framing, const Attic& attic,
                     const std::vector<CompartmentId>& compartments) {
  if (compartments.size() == 1) {
    return attic.compartments[compartments.front()].id;
  }
  std::vector<BayId> bays;
  for (const CompartmentId id : compartments) {
    for (const SpaceId space : attic.compartments[id].spaces) {
      if (!attic.spaces[space].bay.is_none()) {
        bays.push_back(attic.spaces[space].bay);
      }
    }
  }
  return std::to_string(compartments.size()) + " rafter spaces under " +
         ceiling_of(attic, compartments.front()) + " (" + names_of_bays(framing, bays) + ")";
}

}  // namespace ridgeward::attic
