#pragma once
// Reading JSON by typed steps: a cursor knows its JSON pointer, and every fault goes to one list.
// Private to the readers of input files (model, catalogue, code sets): the only kernel header that
// names the JSON library, and only its forward declarations.

#include "base/fault.hpp"
#include "model/keys.hpp"
#include "model/nearest.hpp"
#include "units/length.hpp"
#include "units/pitch.hpp"

#include <nlohmann/json_fwd.hpp>

#include <functional>
#include <initializer_list>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ridgeward::model {

inline constexpr std::size_t largest_text = std::size_t{64} << 20U;  ///< bytes
inline constexpr int deepest_nest = 64;
inline constexpr double largest_length_m = 10000.0;

/// Parsed JSON text.
class Document {
 public:
  explicit Document(nlohmann::json root);
  Document(Document&&) noexcept;
  Document& operator=(Document&&) noexcept;
  Document(const Document&) = delete;
  Document& operator=(const Document&) = delete;
  ~Document();
  const nlohmann::json& root() const { return *root_; }

 private:
  std::unique_ptr<nlohmann::json> root_;
};

/// Parses `text`. Depth and encoding are judged before the parser sees it. Keys given twice in one
/// object go to `warnings`.
/// Faults: json.empty, json.not_utf8, json.too_deep, json.syntax, number.not_finite, too_large.
Result<Document> parse_json(std::string_view text, Faults& warnings);

/// What all cursors of one reading share.
struct Reading {
  Faults faults;
  Faults warnings;
  units::LengthUnit unit = units::LengthUnit::ft;  ///< of bare numbers
  /// At most this many faults are kept; a file that is wrong all through needs no more.
  static constexpr std::size_t most_faults = 200;

  void fault(Fault fault);
};

/// Bounds of a number or a length.
struct Range {
  double least = 0.0;
  double most = 0.0;
  bool open_below = false;  ///< `least` itself is refused
};
inline constexpr Range any_length{-largest_length_m, largest_length_m};
inline constexpr Range no_less_than_zero{0.0, largest_length_m};
inline constexpr Range more_than_zero{0.0, largest_length_m, true};

/// A place in the document: a value, or the place where a value is missing.
/// The typed readings return none and record a fault when the value has the wrong form; when the
/// value is missing they return none without a fault: required() records that.
class Cursor {
 public:
  Cursor(const Document& document, Reading& reading);

  bool is_there() const { return value_ != nullptr; }
  const std::string& where() const { return where_; }
  Reading& reading() const { return *reading_; }
  void fault(std::string code, std::string what, std::string cure) const;
  void warn(std::string code, std::string what, std::string cure) const;

  /// Records field.missing unless there is a value; `cure` says what belongs here.
  const Cursor& required(std::string_view cure) const;
  /// Records field.type unless this is an object, field.unknown warnings for keys not in `keys`.
  /// REQUIRES before key() on an object.
  bool open_object(const ObjectKeys& keys);
  /// Records field.type unless this is an object, whose keys are anyone's: names(), named().
  bool open_mapping() const;
  /// Records field.type unless this is a list.
  bool open_list() const;

  /// The value of `name`, possibly missing. REQUIRES a key listed in open_object().
  Cursor key(std::string_view name) const;
  std::size_t size() const;
  Cursor item(std::size_t index) const;
  /// Of an object, in order of the alphabet.
  std::vector<std::string> names() const;
  Cursor named(const std::string& name) const;  ///< any key, known or not

  std::optional<std::string> text(std::size_t longest = 400) const;
  std::optional<bool> boolean() const;
  std::optional<double> number(Range range) const;
  std::optional<int> whole(int least, int most) const;
  /// Metres, on the grid.
  std::optional<double> length(Range range) const;
  /// A pitch that a roof can have: from 0.1 to below 89.5 degrees.
  std::optional<units::Pitch> pitch() const;
  /// Square metres; square metres per metre.
  std::optional<double> area() const;
  std::optional<double> area_per_length() const;
  /// Cubic metres a second; pascals.
  std::optional<double> flow() const;
  std::optional<double> pressure() const;
  /// A share of 0 to 1: a number, or "50 %".
  std::optional<double> share() const;
  /// A word for an id: no "/", "|", "#", ":" (they build derived ids), no control characters.
  std::optional<std::string> id() const;

  /// One of `words`; field.unknown_word names the nearest otherwise.
  template <class T>
  std::optional<T> one_of(std::initializer_list<std::pair<std::string_view, T>> words) const {
    const std::optional<std::string> given = text();
    if (!given) {
      return std::nullopt;
    }
    std::vector<std::string_view> names;
    for (const auto& [name, value] : words) {
      if (name == *given) {
        return value;
      }
      names.push_back(name);
    }
    unknown_word(*given, names);
    return std::nullopt;
  }

 private:
  Cursor(const nlohmann::json* value, std::string where, Reading* reading);
  void wrong_type(std::string_view wanted) const;
  void unknown_word(const std::string& given, const std::vector<std::string_view>& words) const;
  std::optional<double> within(double value, Range range) const;
  std::optional<double> string_or(
      std::string_view wanted,
      const std::function<std::optional<double>(std::string_view)>& parse) const;

  const nlohmann::json* value_;
  std::string where_;
  Reading* reading_;
  const ObjectKeys* keys_ = nullptr;
};

}  // namespace ridgeward::model
