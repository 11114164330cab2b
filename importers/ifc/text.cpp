#include "ifc/text.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace ridgeward::ifc {
namespace {

/// How far the next statement reaches: to its ";" outside strings, which may hold any mark.
std::size_t statement_size(std::string_view text) {
  bool in_string = false;
  std::size_t end = 0;
  for (; end < text.size() && (in_string || text[end] != ';'); ++end) {
    in_string = text[end] == '\'' ? !in_string : in_string;
  }
  return end;
}

/// The word between "=" and "("; empty where there is none. `open`: where "(" stands.
std::string_view kind_in(std::string_view statement, std::size_t& open) {
  const std::size_t equals = statement.find('=');
  open = statement.find('(');
  if (equals == std::string_view::npos || open == std::string_view::npos || open < equals) {
    return {};
  }
  std::string_view kind = statement.substr(equals + 1, open - equals - 1);
  kind.remove_prefix(std::min(kind.size(), kind.find_first_not_of(" \t\r\n")));
  return kind.substr(0, kind.find_first_of(" \t\r\n"));
}

/// The word before "=".
std::string_view name_in(std::string_view statement) {
  std::string_view name = statement.substr(0, statement.find('='));
  name.remove_prefix(std::min(name.size(), name.find_first_not_of(" \t\r\n")));
  return name.substr(0, name.find_first_of(" \t\r\n"));
}

/// The number of "IFCLENGTHMEASURE(0.5)" or of "0.5".
std::optional<double> measure_in(std::string_view text) {
  text.remove_prefix(text.find('(') == std::string_view::npos ? 0 : text.find('(') + 1);
  const std::vector<double> numbers = numbers_in(text);
  return numbers.empty() ? std::nullopt : std::optional(numbers.front());
}

/// Power of ten of a prefix (ISO 16739-1, IfcSIPrefix).
std::optional<int> power_of(std::string_view prefix) {
  static const std::map<std::string_view, int> powers{
      {"$", 0},         {".EXA.", 18},   {".PETA.", 15},  {".TERA.", 12}, {".GIGA.", 9},
      {".MEGA.", 6},    {".KILO.", 3},   {".HECTO.", 2},  {".DECA.", 1},  {".DECI.", -1},
      {".CENTI.", -2},  {".MILLI.", -3}, {".MICRO.", -6}, {".NANO.", -9}, {".PICO.", -12},
      {".FEMTO.", -15}, {".ATTO.", -18}};
  const auto at = powers.find(prefix);
  return at == powers.end() ? std::nullopt : std::optional(at->second);
}

/// What stands between points or quotes: ".METRE." gives "METRE".
std::string bare(const std::string& word) {
  return word.size() > 2 && word.front() == '.' ? word.substr(1, word.size() - 2) : "";
}

std::optional<LengthUnit> unit_of(const Statements& all, const std::string& name, int deepest) {
  const auto at = all.find(name);
  if (at == all.end() || deepest == 0) {
    return std::nullopt;
  }
  const std::vector<std::string> values = at->second.values();
  if (values.size() < 4 || values[1] != ".LENGTHUNIT.") {
    return std::nullopt;
  }
  if (at->second.kind == "IFCSIUNIT") {
    const std::optional<int> power = power_of(values[2]);
    return power ? std::optional(LengthUnit{std::pow(10.0, *power), bare(values[2]) + "METRE"})
                 : std::nullopt;
  }
  const auto factor = all.find(values[3]);
  if (factor == all.end() || factor->second.kind != "IFCMEASUREWITHUNIT") {
    return std::nullopt;
  }
  const std::vector<std::string> of = factor->second.values();
  const std::optional<double> count = measure_in(of.front());
  const auto base = of.size() > 1 ? unit_of(all, of[1], deepest - 1) : std::nullopt;
  const double metres = count && base ? *count * base->metres : 0.0;
  constexpr double least = 1e-9;
  constexpr double most = 1e9;
  return metres > least && metres < most
             ? std::optional(LengthUnit{metres, values[2].substr(0, 40), true})
             : std::nullopt;
}

}  // namespace

std::vector<std::string> Statement::values() const {
  std::vector<std::string> found{""};
  int depth = 0;
  bool in_string = false;
  for (const char c : list) {
    in_string = c == '\'' ? !in_string : in_string;
    depth += in_string ? 0 : (c == '(' ? 1 : 0) - (c == ')' ? 1 : 0);
    if (depth < 0) {
      break;
    }
    const bool is_blank = !in_string && (c == ' ' || c == '\n' || c == '\r');
    if (c == ',' && depth == 0 && !in_string) {
      found.emplace_back();
    } else if (c != '\'' && !is_blank) {
      found.back() += c;
    }
  }
  return found;
}

void each_statement(std::string_view text, const std::function<void(const Statement&)>& take) {
  while (!text.empty()) {
    const std::string_view line = text.substr(0, statement_size(text));
    text.remove_prefix(std::min(text.size(), line.size() + 1));
    std::size_t open = 0;
    const std::string_view kind = kind_in(line, open);
    if (!kind.empty()) {
      take(Statement{name_in(line), kind, line.substr(open + 1)});
    }
  }
}

Statements statements_of(std::string_view text, const std::set<std::string_view>& kinds) {
  Statements found;
  each_statement(text, [&](const Statement& it) {
    if (kinds.contains(it.kind)) {
      found.emplace(it.name, it);
    }
  });
  return found;
}

std::vector<double> numbers_in(std::string_view list) {
  std::vector<double> numbers;
  list.remove_prefix(list.starts_with('(') ? 1 : 0);
  while (!list.empty()) {
    const std::string_view word = list.substr(0, list.find_first_of(",)"));
    double value = 0.0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) {
      break;
    }
    numbers.push_back(value);
    list.remove_prefix(std::min(list.size(), word.size() + 1));
  }
  return numbers;
}

std::optional<double> north_deg_in(std::string_view text) {
  constexpr std::size_t true_north = 5;  // the sixth attribute
  std::string wanted;
  std::optional<double> north_deg;
  each_statement(text, [&](const Statement& it) {
    if (!wanted.empty() || it.kind != "IFCGEOMETRICREPRESENTATIONCONTEXT") {
      return;
    }
    const std::vector<std::string> values = it.values();
    if (values.size() > true_north && values[true_north].starts_with('#')) {
      wanted = values[true_north];
    }
  });
  if (wanted.empty()) {
    return north_deg;
  }
  each_statement(text, [&](const Statement& it) {
    if (it.kind != "IFCDIRECTION" || it.name != wanted) {
      return;
    }
    const std::vector<double> way = numbers_in(it.values().front());
    if (way.size() < 2 || !(std::hypot(way[0], way[1]) > 1e-9)) {
      return;
    }
    constexpr double step_deg = 1e-6;  // finer than directions are written
    const double turned_deg = std::atan2(way[0], way[1]) * 180.0 / M_PI;
    const double rounded = std::round(turned_deg / step_deg) * step_deg;
    north_deg = rounded < 0.0 ? rounded + 360.0 : std::abs(rounded);
  });
  return north_deg;
}

std::optional<LengthUnit> length_unit_in(std::string_view text) {
  const Statements all =
      statements_of(text, {"IFCPROJECT", "IFCUNITASSIGNMENT", "IFCSIUNIT", "IFCCONVERSIONBASEDUNIT",
                           "IFCCONVERSIONBASEDUNITWITHOFFSET", "IFCMEASUREWITHUNIT"});
  for (const auto& [name, project] : all) {
    if (project.kind != "IFCPROJECT") {
      continue;
    }
    const auto units = all.find(project.values().back());  // the last attribute, UnitsInContext
    if (units == all.end() || units->second.kind != "IFCUNITASSIGNMENT") {
      continue;
    }
    std::string listed = units->second.values().front();
    std::replace(listed.begin(), listed.end(), ')', ',');
    for (std::size_t at = listed.find('#'); at != std::string::npos; at = listed.find('#', at)) {
      const std::size_t end = std::min(listed.size(), listed.find(',', at));
      if (auto unit = unit_of(all, listed.substr(at, end - at), 4)) {
        return unit;
      }
      at = end;
    }
  }
  return std::nullopt;
}

}  // namespace ridgeward::ifc
