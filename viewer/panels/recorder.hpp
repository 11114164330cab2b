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

class Recorder {
 public:
  void add(UiItem item) { items_.push_back(std::move(item)); }
  const std::vector<UiItem>& items() const { return items_; }

 private:
  std::vector<UiItem> items_;
};

/// One JSON object a line: {"id","kind","state","x","y","width","height"}.
std::string to_json_lines(const std::vector<UiItem>& items);

}  // namespace ridgeward::panels
