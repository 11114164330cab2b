#pragma once
// The statements of an IFC file by their names, and the few of them that say places and corners.

#include "ifc/text.hpp"
#include "support/vectors.hpp"

#include <charconv>
#include <cstdint>
#include <optional>
#include <unordered_map>
#include <vector>

namespace ridgeward::ifc {

using Name = std::uint64_t;

/// The names "#17" in a list, outside of strings.
inline std::vector<Name> names_in(std::string_view list) {
  std::vector<Name> names;
  bool in_string = false;
  for (std::size_t i = 0; i < list.size(); ++i) {
    in_string = list[i] == '\'' ? !in_string : in_string;
    Name name = 0;
    if (!in_string && list[i] == '#' &&
        std::from_chars(list.data() + i + 1, list.data() + list.size(), name).ec == std::errc{}) {
      names.push_back(name);
    }
  }
  return names;
}

/// The innermost lists of numbers of "((0.,1.),(2.,3.))".
inline std::vector<std::vector<double>> tuples_in(std::string_view list) {
  std::vector<std::vector<double>> tuples;
  while (!list.empty()) {
    list.remove_prefix(std::min(list.size(), list.find_first_not_of("(), \t\r\n")));
    const std::size_t end = std::min(list.size(), list.find(')'));
    if (end > 0) {
      tuples.push_back(numbers_in(list.substr(0, end)));
    }
    list.remove_prefix(end);
  }
  return tuples;
}

/// Axes and origin of a place.
struct Place {
  importing::Point x{1.0, 0.0, 0.0};
  importing::Point y{0.0, 1.0, 0.0};
  importing::Point z{0.0, 0.0, 1.0};
  importing::Point origin{0.0, 0.0, 0.0};

  /// A direction of its own as one of what it stands in.
  importing::Point turned(const importing::Point& p) const {
    using importing::plus;
    using importing::scaled;
    return plus(plus(scaled(x, p[0]), scaled(y, p[1])), scaled(z, p[2]));
  }
  importing::Point at(const importing::Point& p) const {
    return importing::plus(turned(p), origin);
  }
};

/// The place at an origin whose third axis is z and whose first, made square to it, points toward
/// `toward`; both are units. None where these lie in one line.
inline std::optional<Place> place_by(const importing::Point& origin, const importing::Point& z,
                                     const importing::Point& toward) {
  const importing::Point x =
      importing::minus(toward, importing::scaled(z, importing::dot(toward, z)));
  const double size = importing::length(x);
  if (!(size > 1e-6)) {
    return std::nullopt;
  }
  const importing::Point square = importing::scaled(x, 1.0 / size);
  return Place{square, importing::cross(z, square), z, origin};
}

class Table {
 public:
  explicit Table(std::string_view text) {
    each_statement(text, [&](const Statement& it) {
      const std::vector<Name> name = names_in(it.name);
      if (name.size() == 1) {
        all_.emplace(name.front(), it);
        last_ = std::max(last_, name.front());
      }
    });
  }
  const std::unordered_map<Name, Statement>& all() const { return all_; }
  Name last() const { return last_; }

  const Statement* at(Name name) const {
    const auto found = all_.find(name);
    return found == all_.end() ? nullptr : &found->second;
  }
  /// That a value "#17" names, where it is of the kind.
  const Statement* at(const std::string& value, std::string_view kind) const {
    const std::vector<Name> names = names_in(value);
    const Statement* found = names.size() == 1 ? at(names.front()) : nullptr;
    return found != nullptr && found->kind == kind ? found : nullptr;
  }
  /// Of an IfcCartesianPoint or IfcDirection; of two numbers the third is 0.
  std::optional<importing::Point> triple(const std::string& value, std::string_view kind) const {
    const Statement* found = at(value, kind);
    if (found == nullptr) {
      return std::nullopt;
    }
    std::vector<double> numbers = numbers_in(found->values().front());
    if (numbers.size() < 2) {
      return std::nullopt;
    }
    numbers.resize(3, 0.0);
    return importing::Point{numbers[0], numbers[1], numbers[2]};
  }
  /// ISO 16739-1, IfcAxis2Placement3D; "$" is no move.
  std::optional<Place> place(const std::string& value) const {
    if (value == "$") {
      return Place{};
    }
    const Statement* found = at(value, "IFCAXIS2PLACEMENT3D");
    if (found == nullptr) {
      return std::nullopt;
    }
    const std::vector<std::string> values = found->values();
    const auto origin = triple(values.front(), "IFCCARTESIANPOINT");
    const auto z = way(values, 1, {0.0, 0.0, 1.0});
    const auto toward = way(values, 2, {1.0, 0.0, 0.0});
    return origin && z && toward ? place_by(*origin, *z, *toward) : std::nullopt;
  }

 private:
  std::optional<importing::Point> way(const std::vector<std::string>& values, std::size_t number,
                                      const importing::Point& otherwise) const {
    if (values.size() <= number || values[number] == "$") {
      return otherwise;
    }
    const auto found = triple(values[number], "IFCDIRECTION");
    const double size = found ? importing::length(*found) : 0.0;
    return size > 1e-12 ? std::optional(importing::scaled(*found, 1.0 / size)) : std::nullopt;
  }

  std::unordered_map<Name, Statement> all_;
  Name last_ = 0;
};

}  // namespace ridgeward::ifc
