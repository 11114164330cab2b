#pragma once
// Small pieces that all of the assessment's JSON is made of. Private to the papers.

#include <glm/vec3.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <optional>

namespace ridgeward::papers {

inline double degrees(double rad) { return rad * 180.0 / M_PI; }

inline nlohmann::ordered_json point(const glm::dvec3& p) {
  return nlohmann::ordered_json::array({p.x, p.y, p.z});
}

/// Null where there is none.
inline nlohmann::ordered_json or_none(const std::optional<double>& value) {
  return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json();
}

/// Ids where there is something, null where there is nothing.
template <class I, class Items>
nlohmann::ordered_json id_of(const Items& items, I index) {
  return index.is_none() ? nlohmann::ordered_json() : nlohmann::ordered_json(items[index].id);
}

}  // namespace ridgeward::papers
