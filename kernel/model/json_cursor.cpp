#include "model/json_cursor.hpp"

#include "units/air.hpp"
#include "units/area.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::model {

namespace {

using nlohmann::json;

/// Lowest and highest slope of a plane, degrees. Below, a roof has no fall; above, it is a wall.
constexpr double least_slope_deg = 0.1;
constexpr double most_slope_deg = 89.5;

/// A value as it stands in the file, cut short.
std::string as_given(const json& value) {
  if (value.is_object()) {
    return "an object";
  }
  if (value.is_array()) {
    return "a list";
  }
  std::string text = value.dump(-1, ' ', true);
  if (text.size() > 60) {
    text = text.substr(0, 57) + "...";
  }
  return text;
}

}  // namespace

void Reading::fault(Fault fault) {
  if (faults.size() < most_faults) {
    faults.push_back(std::move(fault));
  } else if (faults.size() == most_faults) {
    faults.push_back({"faults.more", "", "there are more faults", "mend these first"});
  }
}

Cursor::Cursor(const Document& document, Reading& reading)
    : value_(&document.root()), reading_(&reading) {}

Cursor::Cursor(const json* value, std::string where, Reading* reading)
    : value_(value), where_(std::move(where)), reading_(reading) {}

void Cursor::fault(std::string code, std::string what, std::string cure) const {
  reading_->fault({std::move(code), where_, std::move(what), std::move(cure)});
}

void Cursor::warn(std::string code, std::string what, std::string cure) const {
  if (reading_->warnings.size() < Reading::most_faults) {
    reading_->warnings.push_back({std::move(code), where_, std::move(what), std::move(cure)});
  }
}

const Cursor& Cursor::required(std::string_view cure) const {
  if (!is_there()) {
    fault("field.missing", "this field is missing", std::string(cure));
  }
  return *this;
}

bool Cursor::open_object(const ObjectKeys& keys) {
  keys_ = &keys;
  if (!is_there()) {
    return false;
  }
  if (!value_->is_object()) {
    wrong_type("an object {...}");
    return false;
  }
  for (const auto& [name, value] : value_->items()) {
    if (keys.has(name)) {
      continue;
    }
    const std::vector<std::string_view> known(keys.keys.begin(), keys.keys.end());
    const std::string near = nearest(name, known);
    named(name).warn(
        "field.unknown", fmt::format("the key \"{}\" is not known here", name),
        near.empty() ? "known are " + listed(known) : fmt::format("did you mean \"{}\"?", near));
  }
  return true;
}

bool Cursor::open_mapping() const {
  if (!is_there()) {
    return false;
  }
  if (!value_->is_object()) {
    wrong_type("an object {...}");
    return false;
  }
  return true;
}

bool Cursor::open_list() const {
  if (!is_there()) {
    return false;
  }
  if (!value_->is_array()) {
    wrong_type("a list [...]");
    return false;
  }
  return true;
}

Cursor Cursor::key(std::string_view name) const {
  ensure(keys_ != nullptr && keys_->has(name), "a reader asks for listed keys only");
  return named(std::string(name));
}

Cursor Cursor::named(const std::string& name) const {
  const json* found = nullptr;
  if (is_there() && value_->is_object()) {
    const auto at = value_->find(name);
    found = at == value_->end() ? nullptr : &*at;
  }
  return {found, where_ + "/" + pointer_step(name), reading_};
}

std::size_t Cursor::size() const { return is_there() ? value_->size() : 0; }

Cursor Cursor::item(std::size_t index) const {
  const bool has = is_there() && value_->is_array() && index < value_->size();
  return {has ? &(*value_)[index] : nullptr, fmt::format("{}/{}", where_, index), reading_};
}

std::vector<std::string> Cursor::names() const {
  std::vector<std::string> all;
  if (is_there() && value_->is_object()) {
    for (const auto& [name, value] : value_->items()) {
      all.push_back(name);
    }
  }
  return all;
}

void Cursor::wrong_type(std::string_view wanted) const {
  fault("field.type", as_given(*value_) + " does not belong here", fmt::format("give {}", wanted));
}

void Cursor::unknown_word(const std::string& given,
                          const std::vector<std::string_view>& words) const {
  const std::string near = nearest(given, words);
  fault("field.unknown_word", as_given(*value_) + " is no word for this",
        near.empty() ? "give one of " + listed(words)
                     : fmt::format("did you mean \"{}\"? Known are {}", near, listed(words)));
}

std::optional<double> Cursor::within(double value, Range range) const {
  if (!std::isfinite(value)) {
    fault("number.not_finite", as_given(*value_) + " is no finite number", "give a plain number");
    return std::nullopt;
  }
  if (value < range.least || value > range.most || (range.open_below && value == range.least)) {
    fault("field.range", as_given(*value_) + " is out of range",
          fmt::format("give {} {:g}, at most {:g}", range.open_below ? "more than" : "at least",
                      range.least, range.most));
    return std::nullopt;
  }
  return value;
}

std::optional<std::string> Cursor::text(std::size_t longest) const {
  if (!is_there()) {
    return std::nullopt;
  }
  if (!value_->is_string()) {
    wrong_type("a text \"...\"");
    return std::nullopt;
  }
  const auto& given = value_->get_ref<const std::string&>();
  if (given.size() > longest) {
    fault("too_large", "this text is too long", fmt::format("give at most {} characters", longest));
    return std::nullopt;
  }
  return given;
}

std::optional<bool> Cursor::boolean() const {
  if (!is_there()) {
    return std::nullopt;
  }
  if (!value_->is_boolean()) {
    wrong_type("true or false");
    return std::nullopt;
  }
  return value_->get<bool>();
}

std::optional<double> Cursor::number(Range range) const {
  if (!is_there()) {
    return std::nullopt;
  }
  if (!value_->is_number()) {
    wrong_type("a number");
    return std::nullopt;
  }
  return within(value_->get<double>(), range);
}

std::optional<int> Cursor::whole(int least, int most) const {
  const std::optional<double> given =
      number({static_cast<double>(least), static_cast<double>(most)});
  if (given && *given != std::floor(*given)) {
    fault("field.range", as_given(*value_) + " is not a whole number", "give a whole number");
    return std::nullopt;
  }
  return given ? std::optional(static_cast<int>(*given)) : std::nullopt;
}

std::optional<double> Cursor::length(Range range) const {
  if (!is_there()) {
    return std::nullopt;
  }
  std::optional<double> length_m;
  if (value_->is_number()) {
    length_m = value_->get<double>() * units::metres_in(reading_->unit);
  } else if (value_->is_string()) {
    length_m = units::parse_length(value_->get_ref<const std::string&>(), reading_->unit);
    if (!length_m) {
      fault("length.unreadable", as_given(*value_) + " is not a length",
            R"(give a number, or a text such as "28' 6 1/2\"", "9 1/4 in" or "350 mm")");
      return std::nullopt;
    }
  } else {
    wrong_type("a length: a number, or a text with its unit");
    return std::nullopt;
  }
  if (std::abs(*length_m) > largest_length_m) {  // also for infinity
    fault("too_large", as_given(*value_) + " is longer than 10 km",
          "check the number and its unit");
    return std::nullopt;
  }
  *length_m = units::on_grid(*length_m);
  const auto show = [&](double bound_m) {
    return units::show(bound_m, units::style_of(reading_->unit));
  };
  if (*length_m < range.least || *length_m > range.most ||
      (range.open_below && *length_m == range.least)) {
    fault("field.range", as_given(*value_) + " is out of range",
          fmt::format("give {} {}{}", range.open_below ? "more than" : "at least",
                      range.least == 0.0 ? "0" : show(range.least),
                      range.most < largest_length_m ? ", at most " + show(range.most) : ""));
    return std::nullopt;
  }
  return length_m;
}

std::optional<units::Pitch> Cursor::pitch() const {
  if (!is_there()) {
    return std::nullopt;
  }
  const std::optional<units::Pitch> pitch =
      value_->is_string() ? units::parse_pitch(value_->get_ref<const std::string&>())
                          : std::nullopt;
  if (!pitch) {
    fault("pitch.unreadable", as_given(*value_) + " is not a pitch",
          "give a text such as \"8/12\", \"33.7 deg\" or \"66.7 %\": a bare number has all three "
          "meanings");
    return std::nullopt;
  }
  const double slope_deg = pitch->degrees();
  if (!(slope_deg >= least_slope_deg) || !(slope_deg < most_slope_deg)) {
    fault("pitch.range", as_given(*value_) + " is no pitch of a roof",
          "give a slope of at least 0.1 and less than 89.5 degrees");
    return std::nullopt;
  }
  return pitch;
}

std::optional<double> Cursor::string_or(
    std::string_view wanted,
    const std::function<std::optional<double>(std::string_view)>& parse) const {
  if (!is_there()) {
    return std::nullopt;
  }
  const std::optional<double> parsed =
      value_->is_string() ? parse(value_->get_ref<const std::string&>()) : std::nullopt;
  if (!parsed) {
    wrong_type(wanted);
    return std::nullopt;
  }
  return parsed;
}

std::optional<double> Cursor::area() const {
  const std::optional<double> area_m2 =
      string_or(R"(an area with its unit: "50 in2", "320 cm2")", units::parse_area);
  return area_m2 ? within(*area_m2, {0.0, 1.0e6}) : std::nullopt;
}

std::optional<double> Cursor::area_per_length() const {
  const std::optional<double> area_m = string_or(
      R"(a free area per length: "10 in2/ft", "200 cm2/m")", units::parse_area_per_length);
  return area_m ? within(*area_m, {0.0, 100.0}) : std::nullopt;
}

std::optional<double> Cursor::flow() const {
  const std::optional<double> flow_m3s =
      string_or(R"(a flow with its unit: "1000 cfm", "0.5 m3/s")", units::parse_flow);
  return flow_m3s ? within(*flow_m3s, {0.0, 1.0e3, true}) : std::nullopt;
}

std::optional<double> Cursor::pressure() const {
  const std::optional<double> pressure_pa =
      string_or(R"(a pressure with its unit: "60 Pa", "0.25 in wg")", units::parse_pressure);
  return pressure_pa ? within(*pressure_pa, {0.0, 1.0e5, true}) : std::nullopt;
}

std::optional<double> Cursor::share() const {
  if (is_there() && value_->is_string()) {
    const auto& given = value_->get_ref<const std::string&>();
    const std::optional<units::Pitch> percent =
        given.find('%') != std::string::npos ? units::parse_pitch(given) : std::nullopt;
    if (!percent) {
      wrong_type("a share: a number of 0 to 1, or a text such as \"50 %\"");
      return std::nullopt;
    }
    return within(percent->tangent(), {0.0, 1.0});
  }
  return number({0.0, 1.0});
}

std::optional<std::string> Cursor::id() const {
  std::optional<std::string> given = text(100);
  if (!given) {
    return std::nullopt;
  }
  const bool is_bad = std::any_of(given->begin(), given->end(), [](char c) {
    return std::string_view("/|#:").find(c) != std::string_view::npos ||
           static_cast<unsigned char>(c) < 0x20U || c == 0x7F;
  });
  if (given->empty() || is_bad || given->front() == ' ' || given->back() == ' ') {
    fault("id.characters", as_given(*value_) + " can't be an id",
          "give one or more characters without / | # : and without spaces at the ends: other ids "
          "are built with these");
    return std::nullopt;
  }
  return given;
}

}  // namespace ridgeward::model
