#include "panels/remembered.hpp"

#include <algorithm>
#include <charconv>

namespace ridgeward::panels {
namespace {

// A window can be as small or as large as this.
constexpr int least_px = 320;
constexpr int most_px = 16384;

bool says(const Words& words, const char* name, const char* word) {
  const auto found = words.find(name);
  return found != words.end() && found->second == word;
}

}  // namespace

Words remembered(const State& state, std::pair<int, int> size_px) {
  const Sight& sight = state.sight;
  const scene::Layers& own = state.lesson.is_open ? state.lesson.layers_before : state.layers;
  Words words;
  words["theme"] = sight.is_dark ? "dark" : "light";
  words["type"] = sight.is_large ? "large" : "usual";
  words["motion"] = sight.is_still ? "little" : "usual";
  words["ribbon"] = state.ribbon.is_shown ? "shown" : "hidden";
  words["units"] = state.style == units::Style::metric ? "metric" : "ft-in";
  std::string& layers = words["layers"];
  for (const scene::LayerWords& layer : scene::layer_words()) {
    if (own.has(layer.layer)) {
      layers += (layers.empty() ? "" : ",") + std::string(layer.word);
    }
  }
  words["window"] = std::to_string(size_px.first) + "x" + std::to_string(size_px.second);
  return words;
}

void take_up(State& state, const Words& words) {
  if (const auto layers = words.find("layers"); layers != words.end()) {
    if (const auto parsed = scene::parse_layers(layers->second)) {
      state.layers = parsed.value();
    }
  }
  state.sight.is_dark = says(words, "theme", "dark");
  state.sight.is_large = says(words, "type", "large");
  state.sight.is_still = says(words, "motion", "little");
  state.air.plays = !state.sight.is_still;
  state.ribbon.is_shown = !says(words, "ribbon", "hidden");
  if (words.contains("units")) {
    state.style = says(words, "units", "metric") ? units::Style::metric : units::Style::feet_inches;
  }
}

std::pair<int, int> window_size(const Words& words, std::pair<int, int> usual) {
  const auto found = words.find("window");
  if (found == words.end()) {
    return usual;
  }
  const std::string& text = found->second;
  const char* const end = text.data() + text.size();
  std::pair<int, int> size;
  const auto width = std::from_chars(text.data(), end, size.first);
  if (width.ec != std::errc() || width.ptr == end || *width.ptr != 'x') {
    return usual;
  }
  const auto height = std::from_chars(width.ptr + 1, end, size.second);
  const auto fits = [](int px) { return px >= least_px && px <= most_px; };
  const bool is_read = height.ec == std::errc() && height.ptr == end;
  return is_read && fits(size.first) && fits(size.second) ? size : usual;
}

}  // namespace ridgeward::panels
