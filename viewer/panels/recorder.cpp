#include "panels/recorder.hpp"

#include <nlohmann/json.hpp>

namespace ridgeward::panels {

std::string to_json_lines(const std::vector<UiItem>& items) {
  std::string text;
  for (const UiItem& item : items) {
    const nlohmann::ordered_json line{
        {"id", item.id}, {"kind", item.kind},   {"state", item.state},  {"x", item.x},
        {"y", item.y},   {"width", item.width}, {"height", item.height}};
    text += line.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
  }
  return text;
}

}  // namespace ridgeward::panels
