#pragma once
// Small pieces that the schema of the assessment's JSON is made of. Private to the papers.

#include <nlohmann/json.hpp>

#include <algorithm>
#include <initializer_list>

namespace ridgeward::papers::json_schema {

using Json = nlohmann::ordered_json;

inline Json number(const char* text) { return {{"type", "number"}, {"description", text}}; }
inline Json number_or_none(const char* text) {
  return {{"type", Json::array({"number", "null"})}, {"description", text}};
}
inline Json word(const char* text) { return {{"type", "string"}, {"description", text}}; }
inline Json word_or_none(const char* text) {
  return {{"type", Json::array({"string", "null"})}, {"description", text}};
}
inline Json flag(const char* text) { return {{"type", "boolean"}, {"description", text}}; }
inline Json flag_or_none(const char* text) {
  return {{"type", Json::array({"boolean", "null"})}, {"description", text}};
}
inline Json list(const Json& item) { return {{"type", "array"}, {"items", item}}; }

/// Every field is always there but those in `optional`.
inline Json object(const Json& fields, std::initializer_list<const char*> optional = {}) {
  Json required = Json::array();
  for (const auto& [key, value] : fields.items()) {
    const bool is_optional = std::any_of(optional.begin(), optional.end(),
                                         [&key = key](const char* name) { return key == name; });
    if (!is_optional) {
      required.push_back(key);
    }
  }
  return {{"type", "object"},
          {"properties", fields},
          {"required", required},
          {"additionalProperties", false}};
}

/// That object, or null.
inline Json or_none(Json schema) {
  schema["type"] = Json::array({"object", "null"});
  return schema;
}

}  // namespace ridgeward::papers::json_schema
