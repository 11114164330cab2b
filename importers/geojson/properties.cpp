#include "geojson/properties.hpp"

#include "units/length.hpp"
#include "units/pitch.hpp"

#include "support/importing.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <string_view>

namespace ridgeward::geojson {

namespace {

using importing::Refused;
using nlohmann::json;

constexpr double least_slope_deg = 0.1;
constexpr double most_slope_deg = 89.5;
constexpr double highest_m = 1000.0;
constexpr double most_levels = 200.0;
constexpr std::size_t longest_told = 60;
/// Properties that only maps have.
constexpr std::array<const char*, 7> map_marks{"building",    "building_levels", "roof_shape",
                                               "roof_height", "roof_levels",     "roof_orientation",
                                               "roof_angle"};

/// A name that can be an id: the marks that build derived ids become dashes.
std::string plain_id(std::string name) {
  for (char& c : name) {
    if (std::string_view("/|#:").find(c) != std::string_view::npos ||
        static_cast<unsigned char>(c) < 0x20U || c == 0x7F) {
      c = '-';
    }
  }
  const std::size_t first = name.find_first_not_of(' ');
  const std::size_t last = name.find_last_not_of(' ');
  return first == std::string::npos || name.size() > 80 ? "" : name.substr(first, last - first + 1);
}

/// In small letters, with "_" for every ":", "-" and blank.
std::string plain(std::string word) {
  word = importing::small(std::move(word));
  std::replace_if(
      word.begin(), word.end(), [](char c) { return c == ':' || c == '-' || c == ' '; }, '_');
  return word;
}

struct Value {
  std::string where;
  std::string key;  ///< as written
  const json* at = nullptr;
};

std::string as_text(const json& value) { return value.is_string() ? value.get<std::string>() : ""; }

std::optional<double> as_number(const json& value) {
  double number = 0.0;
  if (value.is_number()) {
    number = value.get<double>();
  } else {
    const std::string text = as_text(value);
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (text.empty() || error != std::errc{} || end != text.data() + text.size()) {
      return std::nullopt;
    }
  }
  return std::isfinite(number) ? std::optional(number) : std::nullopt;
}

/// Metres: of a number, or of a text with its unit ("7.5", "7.5 m", "24'").
std::optional<double> as_length(const json& value) {
  const std::optional<double> bare = as_number(value);
  return bare ? bare : units::parse_length(as_text(value), units::LengthUnit::m);
}

/// A number of degrees, or a text with its unit.
std::optional<units::Pitch> as_pitch(const json& value) {
  const std::optional<double> bare_deg = as_number(value);
  const std::optional<units::Pitch> pitch = bare_deg && std::abs(*bare_deg) < 90.0
                                                ? units::Pitch::from_degrees(*bare_deg)
                                            : bare_deg ? std::nullopt
                                                       : units::parse_pitch(as_text(value));
  const bool is_slope =
      pitch && pitch->degrees() >= least_slope_deg && pitch->degrees() < most_slope_deg;
  return is_slope ? pitch : std::nullopt;
}

std::optional<Shape> as_shape(const json& value) {
  static const std::map<std::string, Shape> words{{"hipped", Shape::hipped},
                                                  {"hip", Shape::hipped},
                                                  {"flat", Shape::flat},
                                                  {"skillion", Shape::skillion},
                                                  {"shed", Shape::skillion},
                                                  {"lean_to", Shape::skillion},
                                                  {"gabled", Shape::gabled},
                                                  {"gable", Shape::gabled},
                                                  {"half_hipped", Shape::half_hipped},
                                                  {"half_hip", Shape::half_hipped},
                                                  {"pyramidal", Shape::pyramidal},
                                                  {"gambrel", Shape::gambrel},
                                                  {"mansard", Shape::mansard}};
  const auto at = words.find(plain(as_text(value)));
  return at == words.end() ? std::nullopt : std::optional(at->second);
}

std::optional<bool> as_across(const json& value) {
  const std::string word = plain(as_text(value));
  return word == "across"  ? std::optional(true)
         : word == "along" ? std::optional(false)
                           : std::nullopt;
}

/// Degrees clockwise from north, or a point of the compass.
std::optional<double> as_direction(const json& value) {
  static constexpr std::array<std::string_view, 16> points{"n",  "nne", "ne", "ene", "e",  "ese",
                                                           "se", "sse", "s",  "ssw", "sw", "wsw",
                                                           "w",  "wnw", "nw", "nnw"};
  const auto* const point = std::find(points.begin(), points.end(), plain(as_text(value)));
  if (point != points.end()) {
    return 22.5 * static_cast<double>(point - points.begin());
  }
  const std::optional<double> number = as_number(value);
  return number && std::abs(*number) <= 360.0 ? number : std::nullopt;
}

/// The properties of one feature by their plain names.
class Properties {
 public:
  Properties(const json& object, const std::string& where, Footprint& footprint)
      : footprint_(footprint) {
    add(object, where);
    const auto tags = object.find("tags");
    if (tags != object.end() && tags->is_object()) {
      add(*tags, where + "/tags");
    }
  }

  bool has(const char* name) const { return values_.contains(name); }

  /// What `read` makes of a value within bounds. Refused where it makes nothing of it.
  template <class T, class Read>
  void take(std::optional<T>& into, const char* name, Read read, const std::string& cure) {
    const Value* value = find(name);
    if (value == nullptr || into) {
      return;
    }
    into = read(*value->at);
    if (!into) {
      throw Refused(value->where, "the property " + value->key + " can't be used: " + told(*value),
                    cure);
    }
  }
  /// Likewise; what can't be read is passed over, or kept in `otherwise` where it is a text.
  template <class T, class Read>
  void take_or_pass(std::optional<T>& into, const char* name, Read read,
                    std::string* otherwise = nullptr) {
    const Value* value = find(name);
    if (value == nullptr || into) {
      return;
    }
    into = read(*value->at);
    if (!into && otherwise != nullptr && value->at->is_string()) {
      *otherwise = importing::shortened(as_text(*value->at), longest_told);
    } else if (!into) {
      footprint_.passed_over.push_back(value->key + " " + told(*value));
    }
  }
  /// What was said of the roof and asked by nobody.
  void pass_over_rest() {
    for (const auto& [name, value] : values_) {
      if (name.starts_with("roof_")) {
        footprint_.passed_over.push_back(value.key);
      }
    }
  }

 private:
  void add(const json& object, const std::string& where) {
    for (const auto& [key, value] : object.items()) {
      if (!value.is_null()) {
        std::string pointer = where + "/";
        for (const char c : key) {
          pointer += c == '~' ? "~0" : c == '/' ? "~1" : std::string(1, c);
        }
        values_.emplace(plain(key), Value{pointer, key, &value});
      }
    }
  }
  const Value* find(const char* name) {
    const auto at = values_.find(name);
    if (at == values_.end()) {
      return nullptr;
    }
    last_ = at->second;
    values_.erase(at);
    return &last_;
  }
  static std::string told(const Value& value) {
    return importing::shortened(value.at->dump(-1, ' ', false, json::error_handler_t::replace),
                                longest_told);
  }

  Footprint& footprint_;
  std::map<std::string, Value> values_;
  Value last_;
};

template <class Read>
auto within(double least, double most, Read read) {
  return [=](const json& value) -> std::optional<double> {
    const std::optional<double> number = read(value);
    return number && *number >= least && *number <= most ? number : std::nullopt;
  };
}

}  // namespace

std::string text_of(const json& object, const char* name) {
  const auto at = object.find(name);
  if (at == object.end()) {
    return "";
  }
  if (at->is_string()) {
    return at->get<std::string>();
  }
  return at->is_number_integer() ? at->dump() : "";
}

void read_properties(const json& properties, const std::string& where, Footprint& footprint) {
  if (!properties.is_object()) {
    return;
  }
  Properties all(properties, where, footprint);
  const auto length = within(0.0, highest_m, as_length);
  const auto levels = within(0.0, most_levels, as_number);
  const std::string metres = "give metres from 0 to 1000, as 2.7, or a text such as \"9 ft\"";
  // Maps give the height of the whole building, plans that of the walls.
  const bool is_map = std::any_of(map_marks.begin(), map_marks.end(),
                                  [&](const char* name) { return all.has(name); });
  all.take(is_map ? footprint.top_m : footprint.plate_m, "height", length, metres);
  for (const char* name : {"eave_height", "eaves_height"}) {
    all.take(footprint.plate_m, name, length, metres);
  }
  all.take(footprint.overhang_m, "overhang", within(0.0, 50.0, as_length),
           "give metres from 0 to 50, or a text such as \"18 in\"");
  all.take(footprint.roof.pitch, "pitch", as_pitch,
           "give degrees of at least 0.1 and less than 89.5, or a text such as \"8/12\"");
  all.take_or_pass(footprint.roof.pitch, "roof_angle", as_pitch);
  all.take_or_pass(footprint.roof.shape, "roof_shape", as_shape, &footprint.roof.other_shape);
  all.take_or_pass(footprint.roof.is_across, "roof_orientation", as_across);
  all.take_or_pass(footprint.roof.direction_deg, "roof_direction", as_direction);
  all.take_or_pass(footprint.roof.rise_m, "roof_height", length);
  all.take_or_pass(footprint.roof.levels, "roof_levels", levels);
  all.take_or_pass(footprint.storeys, "building_levels", levels);
  for (const char* key : {"building:part", "building_part"}) {
    const std::string part = text_of(properties, key);
    footprint.is_part = footprint.is_part || (!part.empty() && part != "no");
  }
  all.pass_over_rest();
  for (const char* name : {"id", "name"}) {
    if (footprint.name.empty()) {
      footprint.name = plain_id(text_of(properties, name));
    }
  }
}

}  // namespace ridgeward::geojson
