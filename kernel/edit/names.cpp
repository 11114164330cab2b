// Names of planes, lines and walls that follow their edges.
#include "edit/pieces.hpp"

#include <algorithm>
#include <charconv>

namespace ridgeward::edit {

namespace {

/// "main/3:b" with edge 3 of part main told anew; none when the edge is gone. Names of other parts
/// and words such as "eave" stay.
std::optional<std::string> renamed_plane(const std::string& name, const Renumbering& change) {
  const std::size_t slash = name.find('/');
  if (slash == std::string::npos || name.substr(0, slash) != change.part) {
    return name;
  }
  std::size_t edge = 0;
  const char* const begin = name.data() + slash + 1;
  const auto [end, error] = std::from_chars(begin, name.data() + name.size(), edge);
  if (error != std::errc() || edge >= change.edges.size()) {
    return std::nullopt;
  }
  const std::optional<std::size_t>& to = change.edges[edge];
  if (!to) {
    return std::nullopt;
  }
  const std::string rest(end, static_cast<std::size_t>(name.data() + name.size() - end));
  return change.new_part + "/" + std::to_string(*to) + rest;
}

std::optional<std::string> renamed_line(const std::string& name, const Renumbering& change) {
  const std::size_t mark = std::min(name.find('#'), name.size());
  const std::size_t bar = std::min(name.find('|'), mark);
  const auto first = renamed_plane(name.substr(0, bar), change);
  const auto second =
      bar < mark ? renamed_plane(name.substr(bar + 1, mark - bar - 1), change) : std::nullopt;
  if (!first || !second) {
    return std::nullopt;
  }
  return *first + "|" + *second + name.substr(mark);
}

/// Renames in place; true when the name is gone.
bool is_lost(std::string& name, std::optional<std::string> renamed) {
  if (name.empty()) {
    return false;
  }
  if (!renamed) {
    return true;
  }
  name = std::move(*renamed);
  return false;
}

template <class Things, class Lost>
void keep(Things& things, const char* what, Said& said, Lost lost) {
  std::erase_if(things, [&](auto& thing) {
    if (!lost(thing)) {
      return false;
    }
    said.push_back(std::string(what) + " " + thing.id +
                   " is taken out: the place it named is gone.");
    return true;
  });
}

void renumber_measured(model::Part& part, const Renumbering& change) {
  std::vector<model::MeasuredEdge> kept;
  for (model::MeasuredEdge& measured : part.framing.measured) {
    const auto edge = static_cast<std::size_t>(measured.edge);
    const std::optional<std::size_t> to =
        edge < change.edges.size() ? change.edges[edge] : std::nullopt;
    if (to) {
      measured.edge = static_cast<int>(*to);
      kept.push_back(std::move(measured));
    }
  }
  part.framing.measured = std::move(kept);
}

}  // namespace

void renumber(model::RoofModel& model, const Renumbering& change, Said& said) {
  for (model::Part& part : model.parts) {
    if (part.id == change.part) {
      renumber_measured(part, change);
      part.id = change.new_part;
    }
  }
  const auto lost = [&](std::string& name) { return is_lost(name, renamed_plane(name, change)); };
  keep(model.intake, "Intake run", said, [&](model::IntakeRun& run) { return lost(run.plane); });
  keep(model.exhaust, "Exhaust vent", said, [&](model::ExhaustVent& vent) {
    return lost(vent.plane) || lost(vent.wall) ||
           is_lost(vent.line, renamed_line(vent.line, change));
  });
  keep(model.obstacles, "Obstacle", said,
       [&](model::Obstacle& obstacle) { return lost(obstacle.plane); });
}

}  // namespace ridgeward::edit
