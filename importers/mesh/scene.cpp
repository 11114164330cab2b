// Places of the nodes of a glTF scene (glTF 2.0, 3.5: matrices by columns, or translation, rotation
// as a quaternion x, y, z, w, and scale).
#include "mesh/near.hpp"
#include "support/json.hpp"
#include "support/vectors.hpp"

#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

namespace ridgeward::mesh {
namespace {

using importing::plus;
using importing::Point;
using importing::scaled;
using Json = nlohmann::json;

constexpr std::size_t head_size = 12;       // of a binary file: mark, version, length
constexpr std::size_t chunk_head_size = 8;  // length and kind
constexpr int deepest = 64;

/// Where a node's axes and its origin come to lie.
struct Frame {
  std::array<Point, 3> axes{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  Point origin{0.0, 0.0, 0.0};
};

Point turned(const Frame& frame, const Point& p) {
  return plus(plus(scaled(frame.axes[0], p[0]), scaled(frame.axes[1], p[1])),
              scaled(frame.axes[2], p[2]));
}

Frame below(const Frame& above, const Frame& own) {
  return {{turned(above, own.axes[0]), turned(above, own.axes[1]), turned(above, own.axes[2])},
          plus(above.origin, turned(above, own.origin))};
}

/// Numbers of a member; as given where it is not there, none where it is no list of so many.
template <std::size_t count>
std::optional<std::array<double, count>> numbers(const Json& node, const char* key,
                                                 std::array<double, count> otherwise) {
  const auto at = node.find(key);
  if (at == node.end()) {
    return otherwise;
  }
  if (!at->is_array() || at->size() != count) {
    return std::nullopt;
  }
  for (std::size_t i = 0; i < count; ++i) {
    if (!(*at)[i].is_number() || !std::isfinite((*at)[i].get<double>())) {
      return std::nullopt;
    }
    otherwise.at(i) = (*at)[i].get<double>();
  }
  return otherwise;
}

std::optional<Frame> frame_of(const Json& node) {
  if (node.contains("matrix")) {
    const auto m = numbers<16>(node, "matrix", {});
    return m ? std::optional(Frame{{{{(*m)[0], (*m)[1], (*m)[2]},
                                     {(*m)[4], (*m)[5], (*m)[6]},
                                     {(*m)[8], (*m)[9], (*m)[10]}}},
                                   {(*m)[12], (*m)[13], (*m)[14]}})
             : std::nullopt;
  }
  const auto place = numbers<3>(node, "translation", {0, 0, 0});
  const auto size = numbers<3>(node, "scale", {1, 1, 1});
  const auto turn = numbers<4>(node, "rotation", {0, 0, 0, 1});
  if (!place || !size || !turn) {
    return std::nullopt;
  }
  const auto [x, y, z, w] = *turn;
  return Frame{
      {scaled({1 - 2 * (y * y + z * z), 2 * (x * y + z * w), 2 * (x * z - y * w)}, (*size)[0]),
       scaled({2 * (x * y - z * w), 1 - 2 * (x * x + z * z), 2 * (y * z + x * w)}, (*size)[1]),
       scaled({2 * (x * z + y * w), 2 * (y * z - x * w), 1 - 2 * (x * x + y * y)}, (*size)[2])},
      *place};
}

/// Reckons where the nodes of a scene stand.
class Nodes {
 public:
  explicit Nodes(Json& nodes) : nodes_(&nodes), frames_(nodes.size()) {}

  /// Whether all could be reckoned: no node below two others, or below itself, none with a skin.
  bool place() {
    std::vector<bool> is_below(nodes_->size(), false);
    for (const Json& node : *nodes_) {
      if (!node.is_object() || node.contains("skin") ||
          (node.contains("children") && !node["children"].is_array())) {
        return false;
      }
      for (const std::size_t child : children(node)) {
        if (child >= is_below.size() || is_below[child]) {
          return false;
        }
        is_below[child] = true;
      }
    }
    for (std::size_t i = 0; i < is_below.size(); ++i) {
      if (!is_below[i] && !place_from(i, Frame{}, deepest)) {
        return false;
      }
    }
    return true;
  }
  Middle middle() const {
    Middle middle;
    each_mesh([&](std::size_t i) { middle.add(frames_[i].origin); });
    return middle;
  }
  /// Gives each mesh a node of its own, less `by`; those that had them keep names and children.
  void spread(const Point& by) {
    std::vector<std::size_t> with_mesh;
    each_mesh([&](std::size_t i) { with_mesh.push_back(i); });
    for (Json& node : *nodes_) {
      for (const char* key : {"matrix", "translation", "rotation", "scale"}) {
        node.erase(key);
      }
    }
    for (const std::size_t i : with_mesh) {
      const Frame& at = frames_[i];
      Json own = {{"matrix", Json::array()}};
      for (const Point& axis : at.axes) {
        for (const double value : {axis[0], axis[1], axis[2], 0.0}) {
          own["matrix"].push_back(value);
        }
      }
      const Point origin = importing::minus(at.origin, by);
      for (const double value : {origin[0], origin[1], origin[2], 1.0}) {
        own["matrix"].push_back(value);
      }
      Json& node = (*nodes_)[i];
      for (const char* key : {"mesh", "weights"}) {
        if (node.contains(key)) {
          own[key] = node[key];
          node.erase(key);
        }
      }
      node["children"].push_back(nodes_->size());
      nodes_->push_back(std::move(own));
    }
  }

 private:
  static std::vector<std::size_t> children(const Json& node) {
    std::vector<std::size_t> found;
    const auto at = node.find("children");
    if (at != node.end()) {
      for (const Json& child : *at) {
        found.push_back(child.is_number_unsigned() ? child.get<std::size_t>()
                                                   : static_cast<std::size_t>(-1));
      }
    }
    return found;
  }
  template <class Take>
  void each_mesh(Take take) const {
    for (std::size_t i = 0; i < frames_.size(); ++i) {
      if ((*nodes_)[i].contains("mesh")) {
        take(i);
      }
    }
  }
  bool place_from(std::size_t i, const Frame& above, int levels) {
    const std::optional<Frame> own = frame_of((*nodes_)[i]);
    if (!own || levels == 0) {
      return false;
    }
    frames_[i] = below(above, *own);
    for (const std::size_t child : children((*nodes_)[i])) {
      if (!place_from(child, frames_[i], levels - 1)) {
        return false;
      }
    }
    return true;
  }

  Json* nodes_;
  std::vector<Frame> frames_;
};

std::size_t word_at(std::string_view bytes, std::size_t at) {
  std::size_t word = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    word |= std::size_t{static_cast<unsigned char>(bytes[at + i])} << (8 * i);
  }
  return word;
}

std::string as_word(std::size_t value) {
  std::string bytes;
  for (std::size_t i = 0; i < 4; ++i) {
    bytes += static_cast<char>(static_cast<unsigned char>(value >> (8 * i)));
  }
  return bytes;
}

/// The first chunk of a binary file holds the scene (glTF 2.0, 4.4.3); empty where there is none.
std::string_view scene_text(std::string_view bytes, bool is_binary) {
  if (!is_binary) {
    return bytes;
  }
  constexpr std::size_t before = head_size + chunk_head_size;
  if (bytes.size() < before || bytes.substr(head_size + 4, 4) != "JSON") {
    return {};
  }
  return bytes.substr(before, word_at(bytes, head_size));
}

}  // namespace

Near scene_brought_near(std::string_view bytes, bool is_binary, double far) {
  const std::string_view text = scene_text(bytes, is_binary);
  if (text.empty() || importing::is_too_deep(text, deepest)) {
    return {};
  }
  Json root = Json::parse(text.begin(), text.end(), nullptr, false);
  if (!root.is_object() || !root.contains("nodes") || !root["nodes"].is_array()) {
    return {};
  }
  Nodes nodes(root["nodes"]);
  if (!nodes.place() || !nodes.middle().is_beyond(far)) {
    return {};
  }
  Near near{{}, nodes.middle().at()};
  nodes.spread(near.moved);
  root.erase("animations");  // they would move the nodes
  std::string scene = root.dump(-1, ' ', false, Json::error_handler_t::replace);
  if (!is_binary) {
    near.bytes = std::move(scene);
    return near;
  }
  scene.append((4 - scene.size() % 4) % 4, ' ');
  const std::string_view others = bytes.substr(head_size + chunk_head_size + text.size());
  const std::size_t length = head_size + chunk_head_size + scene.size() + others.size();
  near.bytes = std::string(bytes.substr(0, 8)) + as_word(length) + as_word(scene.size()) + "JSON" +
               scene + std::string(others);
  return near;
}

}  // namespace ridgeward::mesh
