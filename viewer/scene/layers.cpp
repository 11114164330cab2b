#include "scene/layers.hpp"

#include <algorithm>

namespace ridgeward::scene {
namespace {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) {
    return {};
  }
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string good_words() {
  std::string list = "all";
  for (const LayerWords& entry : layer_words()) {
    list += std::string(", ") + entry.word;
  }
  return list;
}

std::vector<std::string_view> split(std::string_view list) {
  std::vector<std::string_view> words;
  while (true) {
    const auto comma = list.find(',');
    words.push_back(trimmed(list.substr(0, comma)));
    if (comma == std::string_view::npos) {
      return words;
    }
    list.remove_prefix(comma + 1);
  }
}

bool is_signed(std::string_view word) {
  return !word.empty() && (word.front() == '+' || word.front() == '-');
}

/// Switches what `word` names; false when it names nothing.
bool apply_word(std::string_view word, Layers& layers) {
  const bool on = word.empty() || word.front() != '-';
  if (is_signed(word)) {
    word.remove_prefix(1);
  }
  bool found = false;
  for (const LayerWords& entry : layer_words()) {
    const bool is_of_all = entry.layer != Layer::see_through && entry.layer != Layer::air &&
                           entry.layer != Layer::airflow;
    if (word == entry.word || (word == "all" && is_of_all)) {
      layers.set(entry.layer, on);
      found = true;
    }
  }
  return found;
}

}  // namespace

const std::vector<LayerWords>& layer_words() {
  static const std::vector<LayerWords> words{
      {Layer::planes, "planes", "Roof planes", "Planes"},
      {Layer::lines, "lines", "Lines by kind", "Lines"},
      {Layer::lengths, "lengths", "Length of each line", "Lengths"},
      {Layer::names, "names", "Plane names, pitch", "Names"},
      {Layer::members, "members", "Rafters", "Rafters"},
      {Layer::bays, "bays", "Bays between rafters", "Bays"},
      {Layer::slots, "slots", "Intake slots", "Slots"},
      {Layer::exhaust, "exhaust", "Exhaust vents", "Exhaust"},
      {Layer::walls, "walls", "Walls, ground", "Walls"},
      {Layer::obstacles, "obstacles", "Chimneys, skylights, pipes", "Obstacles"},
      {Layer::ceiling, "ceiling", "Ceilings", "Ceilings"},
      {Layer::insulation, "insulation", "Insulation", "Insulation"},
      {Layer::air, "compartments", "Compartments as volumes", "Air spaces"},
      {Layer::see_through, "see-through", "See-through roof", "See-through"},
      {Layer::airflow, "air", "Moving air", "Moving air"},
      {Layer::findings, "findings", "Findings", "Findings"},
      {Layer::totals, "totals", "Totals", "Totals"},
      {Layer::legend, "legend", "Legend", "Legend"},
  };
  return words;
}

Layers usual_layers() {
  Layers layers;
  for (const LayerWords& entry : layer_words()) {
    layers.set(entry.layer, true);
  }
  for (const Layer hidden :
       {Layer::ceiling, Layer::insulation, Layer::air, Layer::see_through, Layer::airflow}) {
    layers.set(hidden, false);
  }
  return layers;
}

Result<Layers> parse_layers(std::string_view list) {
  const std::vector<std::string_view> words = split(list);
  if (words.size() == 1 && words.front().empty()) {
    return Fault{"show.empty", "--show", "no layer is named",
                 "name one or more of: " + good_words()};
  }
  Layers layers;
  if (std::all_of(words.begin(), words.end(), is_signed)) {
    layers = usual_layers();
  }
  for (const std::string_view word : words) {
    if (!apply_word(word, layers)) {
      return Fault{"show.unknown_word", "--show", "there is no layer '" + std::string(word) + "'",
                   "layers, separated by commas: " + good_words()};
    }
  }
  return layers;
}

}  // namespace ridgeward::scene
