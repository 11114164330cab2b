#pragma once
// Sliders for mouse and keys. Tab goes from one to the next; the arrow keys move the one that has
// the keys, and a value typed on it is taken with Enter.

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ridgeward::panels {

struct Input;
class Recorder;

/// Which slider has the keys.
struct SliderView {
  std::string id;     ///< none: they are the view's
  std::string typed;  ///< on it, not yet taken
};
struct FocusSlider {
  std::string id;
};
struct TypeOnSlider {
  std::string text;
};
using SliderIntent = std::variant<FocusSlider, TypeOnSlider>;
void apply(SliderView& view, const SliderIntent& intent);

/// What a slider is about; its value in the unit that is shown.
struct SliderAbout {
  std::string id;     ///< in the dump
  std::string words;  ///< with the value
  std::array<double, 2> reach{0.0, 1.0};
  double step = 1.0;  ///< of an arrow key; ten of them with Shift
  float width = 0.0F;
  bool has_words = true;  ///< they stand on it; else whoever draws it puts them beside
  /// A typed text as a value; left out: a plain number.
  std::function<std::optional<double>(const std::string&)> read{};
};

/// The value `steps` further, on a whole step, within reach.
double stepped(double value, double step, int steps, std::array<double, 2> reach);
/// The one after (before) `now`; none after the last one, the first after none.
std::string next_of(const std::vector<std::string>& ids, const std::string& now, bool is_back);
/// What Tab, Esc and Enter ask of the sliders drawn in this frame; takes their keys from `input`.
std::vector<SliderIntent> follow_sliders(const Recorder& recorder, const SliderView& view,
                                         Input& input);

}  // namespace ridgeward::panels
