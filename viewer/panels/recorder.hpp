#pragma once
// Where every widget is and what it says: for tests that use the window as a person would.

#include <string>
#include <vector>

namespace ridgeward::panels {

struct UiItem {
  std::string id;     ///< "layers/planes", "plane/main/0"
  std::string kind;   ///< "checkbox", "button", "text", "field", "mark", "panel"
  std::string state;  ///< "on", "off", or the text shown
  double x = 0.0;     ///< of its rectangle, in pixels of the window, from the top left
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
};

/// Something that can have the keys.
struct Control {
  std::string id;
  std::string kind;
  std::string state;
  std::string panel;        ///< "panel/bar"
  unsigned int of_gui = 0;  ///< the panels' library knows it by that
  bool is_in_list = false;  ///< of a choice that is open
  bool is_whole = true;     ///< nothing of it is scrolled out of sight
};

class Recorder {
 public:
  void add(UiItem item) { items_.push_back(std::move(item)); }
  const std::vector<UiItem>& items() const { return items_; }

  void add_control(Control control) { controls_.push_back(std::move(control)); }
  /// The controls since the last panel's end belong to this one.
  void end_panel(const std::string& id) {
    for (Control& control : controls_) {
      control.panel = control.panel.empty() ? id : control.panel;
    }
  }
  const std::vector<Control>& controls() const { return controls_; }

  std::string focus;  ///< id of the control that has the keys, for the ring around it

 private:
  std::vector<UiItem> items_;
  std::vector<Control> controls_;
};

/// One JSON object a line: {"id","kind","state","x","y","width","height"}.
std::string to_json_lines(const std::vector<UiItem>& items);

}  // namespace ridgeward::panels
