#include "framing/stage.hpp"
#include "units/length.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <string_view>

namespace ridgeward::framing {

namespace {

struct Dressed {
  int nominal;
  double actual_in;
};
// Softwood lumber as sold: common practice, no source.
constexpr std::array<Dressed, 4> thicknesses{{{1, 0.75}, {2, 1.5}, {3, 2.5}, {4, 3.5}}};
constexpr std::array<Dressed, 8> depths{
    {{2, 1.5}, {3, 2.5}, {4, 3.5}, {6, 5.5}, {8, 7.25}, {10, 9.25}, {12, 11.25}, {14, 13.25}}};

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') {
    text.remove_prefix(1);
  }
  while (!text.empty() && text.back() == ' ') {
    text.remove_suffix(1);
  }
  return text;
}

std::optional<double> number(std::string_view text) {
  text = trimmed(text);
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value) ||
      value <= 0.0 || value > 10000.0) {
    return std::nullopt;
  }
  return value;
}

template <std::size_t N>
std::optional<double> actual_m(const std::array<Dressed, N>& sizes, double nominal) {
  for (const Dressed& size : sizes) {
    if (nominal == size.nominal) {
      return size.actual_in * units::inch_m;
    }
  }
  return std::nullopt;
}

/// Takes a unit off the end of `text`; metres in it, none when there is none.
std::optional<double> unit_off(std::string_view& text) {
  for (const auto& [word, metres] : {std::pair{std::string_view("mm"), 0.001},
                                     std::pair{std::string_view("in"), units::inch_m}}) {
    if (text.size() > word.size() && text.substr(text.size() - word.size()) == word) {
      text = trimmed(text.substr(0, text.size() - word.size()));
      return metres;
    }
  }
  return std::nullopt;
}

}  // namespace

Stock stock_named(const std::string& name) {
  std::string_view text = trimmed(name);
  const std::optional<double> unit_m = unit_off(text);
  const std::size_t by = text.find('x');
  if (by == std::string_view::npos) {
    return {};
  }
  const std::optional<double> thick = number(text.substr(0, by));
  const std::optional<double> deep = number(text.substr(by + 1));
  if (!thick || !deep) {
    return {};
  }
  if (unit_m) {
    return {*thick * *unit_m, *deep * *unit_m};
  }
  const std::optional<double> thickness_m = actual_m(thicknesses, *thick);
  const std::optional<double> depth_m = actual_m(depths, *deep);
  return thickness_m && depth_m ? Stock{*thickness_m, *depth_m} : Stock{};
}

}  // namespace ridgeward::framing
