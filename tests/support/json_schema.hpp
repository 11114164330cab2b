#pragma once
// A judge for the part of JSON Schema that the program's own schemas use. It is strict about the
// schema too: a word of the schema that it does not know is a complaint, so that none is passed by.

#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

namespace ridgeward::support {

class SchemaJudge {
 public:
  explicit SchemaJudge(nlohmann::json schema) : schema_(std::move(schema)) {}

  /// What is wrong with `value`, each with its JSON pointer; empty when it holds.
  std::vector<std::string> complaints(const nlohmann::json& value) {
    complaints_.clear();
    judge(schema_, value, "");
    return complaints_;
  }

 private:
  using Json = nlohmann::json;

  void say(const std::string& where, const std::string& what) {
    complaints_.push_back(where + ": " + what);
  }

  static bool is_of(const Json& value, const std::string& type) {
    return (type == "object" && value.is_object()) || (type == "array" && value.is_array()) ||
           (type == "string" && value.is_string()) || (type == "boolean" && value.is_boolean()) ||
           (type == "null" && value.is_null()) || (type == "number" && value.is_number()) ||
           (type == "integer" && value.is_number_integer());
  }

  void judge(const Json& schema, const Json& value, const std::string& where) {
    static const std::set<std::string> known{
        "$schema",    "title", "description", "type",
        "properties", "items", "required",    "additionalProperties",
        "enum",       "const", "default",     "minItems",
        "maxItems"};
    for (const auto& [key, ignored] : schema.items()) {
      if (known.count(key) == 0) {
        say(where, "the schema uses \"" + key + "\", which this judge does not know");
      }
    }
    judge_value(schema, value, where);
    if (value.is_object()) {
      judge_object(schema, value, where);
    }
    if (value.is_array()) {
      judge_array(schema, value, where);
    }
  }

  void judge_value(const Json& schema, const Json& value, const std::string& where) {
    if (schema.contains("type")) {
      const Json& type = schema["type"];
      const Json types = type.is_array() ? type : Json::array({type});
      if (std::none_of(types.begin(), types.end(),
                       [&](const Json& t) { return is_of(value, t.get<std::string>()); })) {
        say(where, value.dump().substr(0, 60) + " is not " + types.dump());
      }
    }
    if (schema.contains("const") && schema["const"] != value) {
      say(where, value.dump() + " is not " + schema["const"].dump());
    }
    if (schema.contains("enum") &&
        std::find(schema["enum"].begin(), schema["enum"].end(), value) == schema["enum"].end()) {
      say(where, value.dump() + " is not one of " + schema["enum"].dump());
    }
  }

  void judge_object(const Json& schema, const Json& value, const std::string& where) {
    const Json fields = schema.value("properties", Json::object());
    for (const Json& name : schema.value("required", Json::array())) {
      if (!value.contains(name.get<std::string>())) {
        say(where, "lacks " + name.get<std::string>());
      }
    }
    for (const auto& [key, field] : value.items()) {
      if (fields.contains(key)) {
        judge(fields[key], field, where + "/" + key);
      } else if (schema.value("additionalProperties", Json(true)) == Json(false)) {
        say(where, "has the undeclared key " + key);
      }
    }
  }

  void judge_array(const Json& schema, const Json& value, const std::string& where) {
    if (value.size() < schema.value("minItems", std::size_t{0}) ||
        value.size() > schema.value("maxItems", value.size())) {
      say(where, "has " + std::to_string(value.size()) + " items");
    }
    for (std::size_t i = 0; schema.contains("items") && i < value.size(); ++i) {
      judge(schema["items"], value[i], where + "/" + std::to_string(i));
    }
  }

  Json schema_;
  std::vector<std::string> complaints_;
};

}  // namespace ridgeward::support
