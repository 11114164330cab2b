// From bytes to a Document: encoding, depth and syntax, in that order.
#include "base/utf8.hpp"
#include "model/json_cursor.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>
#include <utility>

namespace ridgeward::model {

namespace {

using nlohmann::json;

/// "line 3, column 14" of the byte at `at`.
std::string place(std::string_view text, std::size_t at) {
  const std::string_view before = text.substr(0, std::min(at, text.size()));
  const auto line = std::count(before.begin(), before.end(), '\n') + 1;
  const std::size_t start = before.rfind('\n');
  const std::size_t column =
      start == std::string_view::npos ? before.size() + 1 : before.size() - start;
  return fmt::format("line {}, column {}", line, column);
}

/// Position of the bracket that nests deeper than `deepest_nest`; npos if none does.
std::size_t first_too_deep(std::string_view text) {
  int depth = 0;
  bool in_string = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (in_string) {
      if (c == '\\') {
        ++i;
      } else if (c == '"') {
        in_string = false;
      }
    } else if (c == '"') {
      in_string = true;
    } else if (c == '[' || c == '{') {
      if (++depth > deepest_nest) {
        return i;
      }
    } else if (c == ']' || c == '}') {
      --depth;
    }
  }
  return std::string_view::npos;
}

/// Watches the parser for keys that one object has twice.
class TwiceWatch {
 public:
  explicit TwiceWatch(Faults& warnings) : warnings_(&warnings) {}

  bool see(json::parse_event_t event, const json& parsed) {
    if (event == json::parse_event_t::object_start) {
      open_.emplace_back();
    } else if (event == json::parse_event_t::object_end) {
      open_.pop_back();
    } else if (event == json::parse_event_t::key && !open_.empty()) {
      const auto& key = parsed.get_ref<const std::string&>();
      if (!open_.back().insert(key).second && warnings_->size() < Reading::most_faults) {
        warnings_->push_back({"key.twice", "", "the key \"" + key + "\" stands twice in one object",
                              "keep one of them: the last one was read"});
      }
    }
    return true;
  }

 private:
  Faults* warnings_;
  std::vector<std::set<std::string>> open_;
};

Fault syntax_fault(std::string_view text, std::size_t byte) {
  const std::size_t at = byte > 0 ? byte - 1 : 0;
  if (at >= text.size()) {
    return {"json.syntax", "", "the text ends before its last bracket is closed",
            "the file seems to be cut off: take a whole copy"};
  }
  const std::string_view rest = text.substr(at);
  if (rest.starts_with("NaN") || rest.starts_with("Infinity") || rest.starts_with("nan") ||
      rest.starts_with("inf")) {
    return {"number.not_finite", "", "no number at " + place(text, at), "give a plain number"};
  }
  const std::size_t length = std::max<std::size_t>(1, utf8_length(rest));
  const std::string found = rest.front() < ' ' ? "a control character"
                                               : "\"" + std::string(rest.substr(0, length)) + "\"";
  return {"json.syntax", "", found + " is not expected at " + place(text, at),
          "look there for a missing or surplus comma, quote or bracket"};
}

}  // namespace

Document::Document(json root) : root_(std::make_unique<json>(std::move(root))) {}
Document::Document(Document&&) noexcept = default;
Document& Document::operator=(Document&&) noexcept = default;
Document::~Document() = default;

Result<Document> parse_json(std::string_view text, Faults& warnings) {
  if (text.starts_with("\xEF\xBB\xBF")) {
    text.remove_prefix(3);
  }
  if (text.size() > largest_text) {
    return Fault{"too_large", "", "the text is larger than 64 MiB", "give one building a file"};
  }
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    return Fault{"json.empty", "", "the file is empty", "name a file that holds a JSON object"};
  }
  if (const std::size_t at = first_not_utf8(text); at != std::string_view::npos) {
    return Fault{"json.not_utf8", "", "the text is not UTF-8 at " + place(text, at),
                 "save the file as UTF-8"};
  }
  if (const std::size_t at = first_too_deep(text); at != std::string_view::npos) {
    return Fault{"json.too_deep", "",
                 fmt::format("brackets nest deeper than {} at {}", deepest_nest, place(text, at)),
                 "no input file needs that: check where the file comes from"};
  }
  TwiceWatch watch(warnings);
  try {
    return Document(json::parse(
        text.begin(), text.end(),
        [&](int, json::parse_event_t event, json& parsed) { return watch.see(event, parsed); }));
  } catch (const json::parse_error& error) {
    return syntax_fault(text, error.byte);
  } catch (const json::out_of_range&) {
    return Fault{"number.not_finite", "", "a number is too large to be read",
                 "give a plain number of a sensible size"};
  } catch (const json::exception&) {
    return Fault{"json.syntax", "", "the text can't be read as JSON", "check its syntax"};
  }
}

}  // namespace ridgeward::model
