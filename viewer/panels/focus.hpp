#pragma once
// Who has the keys: none (they are the view's), or one control of a panel. Tab goes from one to the
// next, F6 from panel to panel; the one that has them wears a ring. Enter or Space press it, a
// field takes letters at once, the arrow keys move a slider, and a value typed on that is taken
// with Enter.

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ridgeward::panels {

struct Input;
struct Control;
class Recorder;

/// To the next control, or panel, when they are drawn next.
struct MoveFocus {
  bool by_panel = false;
  bool is_back = false;
};
/// Which control has the keys.
struct FocusView {
  std::string id;           ///< none: they are the view's; see `fields_focus`
  std::string typed;        ///< on a slider, not yet taken
  std::string back;         ///< the choice whose list is open: it gets the keys back
  bool is_pressed = false;  ///< to be pressed as soon as it is in sight
  std::optional<MoveFocus> move = std::nullopt;  ///< asked for by name
};
/// As an id: the first field of what is selected, as soon as it is there.
inline constexpr const char* fields_focus = "@fields";
struct FocusOn {
  std::string id;
  std::string back = {};
  bool is_pressed = false;
};
struct TypeOnFocus {
  std::string text;
};
using FocusIntent = std::variant<FocusOn, TypeOnFocus, MoveFocus>;
void apply(FocusView& view, const FocusIntent& intent);

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
/// The controls that Tab goes through, in its order: of an open list or question only its own.
std::vector<Control> stops(const Recorder& recorder);
/// What Tab, F6, Esc, Enter and the arrow keys ask of the controls drawn in this frame; takes their
/// keys from `input`.
std::vector<FocusIntent> follow_focus(const Recorder& recorder, const FocusView& view,
                                      Input& input);

}  // namespace ridgeward::panels
