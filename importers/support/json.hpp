#pragma once
// Parsing JSON that may be hostile: its depth is judged before the parser sees it.

#include "support/importing.hpp"

#include <nlohmann/json.hpp>

#include <string>
#include <string_view>

namespace ridgeward::importing {

inline bool is_too_deep(std::string_view text, int deepest) {
  int depth = 0;
  bool in_string = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (in_string) {
      i += c == '\\' ? 1U : 0U;
      in_string = c != '"';
    } else if (c == '"') {
      in_string = true;
    } else if (c == '[' || c == '{') {
      if (++depth > deepest) {
        return true;
      }
    } else if (c == ']' || c == '}') {
      --depth;
    }
  }
  return false;
}

/// A string as it stands in a text, without its quotes, with its escapes undone.
inline std::string unescaped(std::string_view written) {
  if (written.find('\\') == std::string_view::npos) {
    return std::string(written);
  }
  const nlohmann::json text =
      nlohmann::json::parse("\"" + std::string(written) + "\"", nullptr, false);
  return text.is_string() ? text.get<std::string>() : std::string(written);
}

/// A JSON object, or Refused with `where` and the cure "give a <kind> file".
inline nlohmann::json parse_object(std::string_view text, const std::string& where,
                                   const std::string& kind, int deepest = 32) {
  if (text.starts_with("\xEF\xBB\xBF")) {
    text.remove_prefix(3);
  }
  if (is_too_deep(text, deepest)) {
    throw Refused(where, "brackets nest too deep for " + kind, "check where the file comes from");
  }
  nlohmann::json root = nlohmann::json::parse(text.begin(), text.end(), nullptr, false);
  if (root.is_discarded() || !root.is_object()) {
    throw Refused(where, "the file is not a JSON object", "give a " + kind + " file");
  }
  return root;
}

}  // namespace ridgeward::importing
