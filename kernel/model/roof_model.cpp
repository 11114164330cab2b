#include "model/roof_model.hpp"

#include "base/fault.hpp"

#include <array>

namespace ridgeward::model {

bool bears_plane(EdgeKind kind) {
  return kind == EdgeKind::eave || kind == EdgeKind::half_hip || kind == EdgeKind::gablet;
}

std::size_t Part::edge_count() const {
  std::size_t count = edges.size();
  for (const Hole& hole : holes) {
    count += hole.edges.size();
  }
  return count;
}

const char* word(ObstacleKind kind) {
  constexpr std::array<const char*, 4> words{"chimney", "skylight", "pipe", "solar"};
  return words.at(static_cast<std::size_t>(kind));
}

const char* word(Way way) {
  constexpr std::array<const char*, 3> words{"tight", "dropped", "drilled"};
  return words.at(static_cast<std::size_t>(way));
}

const Edge& Part::edge(std::size_t index) const {
  ensure(index < edge_count(), "an edge is asked for by its number in the part");
  if (index < edges.size()) {
    return edges[index];
  }
  index -= edges.size();
  std::size_t hole = 0;
  while (index >= holes[hole].edges.size()) {
    index -= holes[hole].edges.size();
    ++hole;
  }
  return holes[hole].edges[index];
}

}  // namespace ridgeward::model
