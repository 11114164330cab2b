#include "dxf/units.hpp"

#include "units/length.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::dxf {

namespace {

using importing::Host;
using importing::Refused;

constexpr double least_house_m = 1.5;
constexpr double most_house_m = 1000.0;
/// What is offered as the unit gives a house between these.
constexpr double small_house_m = 3.0;
constexpr double large_house_m = 200.0;

Unit unit_named(const std::string& name) {
  if (name == "cm") {
    return {"mm", 10.0};
  }
  if (name != "in" && name != "ft" && name != "mm" && name != "m") {
    throw Refused("", "unit=" + name + " is not known", "give unit=in, ft, mm, cm or m");
  }
  return {name, 1.0};
}

struct Known {
  const char* words;
  const char* name;  ///< of the unit of the model file
  double factor;
};

/// The foot of American surveyors is 1200/3937 m (from memory).
constexpr double survey_inch_m = 100.0 / 3937.0;
constexpr double survey_foot_m = 1200.0 / 3937.0;
constexpr double parsec_m = 3.0856775814913673e16;
constexpr double light_year_m = 9460730472580800.0;
constexpr double astronomical_m = 149597870700.0;

/// The values of $INSUNITS but 0, that none is said; of DXF references of release 2018 (from
/// memory).
const std::map<int, Known>& known_units() {
  static const std::map<int, Known> known{{1, {"in", "in", 1.0}},
                                          {2, {"ft", "ft", 1.0}},
                                          {3, {"mile", "ft", 5280.0}},
                                          {4, {"mm", "mm", 1.0}},
                                          {5, {"cm", "mm", 10.0}},
                                          {6, {"m", "m", 1.0}},
                                          {7, {"km", "m", 1000.0}},
                                          {8, {"microinch", "in", 1e-6}},
                                          {9, {"mil", "in", 1e-3}},
                                          {10, {"yard", "ft", 3.0}},
                                          {11, {"angstrom", "mm", 1e-7}},
                                          {12, {"nanometre", "mm", 1e-6}},
                                          {13, {"micrometre", "mm", 1e-3}},
                                          {14, {"decimetre", "mm", 100.0}},
                                          {15, {"decametre", "m", 10.0}},
                                          {16, {"hectometre", "m", 100.0}},
                                          {17, {"gigametre", "m", 1e9}},
                                          {18, {"astronomical unit", "m", astronomical_m}},
                                          {19, {"light year", "m", light_year_m}},
                                          {20, {"parsec", "m", parsec_m}},
                                          {21, {"US survey foot", "m", survey_foot_m}},
                                          {22, {"US survey inch", "m", survey_inch_m}},
                                          {23, {"US survey yard", "m", survey_foot_m * 3.0}},
                                          {24, {"US survey mile", "m", survey_foot_m * 5280.0}}};
  return known;
}

/// The larger side of a rectangle around things.
class Extent {
 public:
  void add(double x, double y) {
    least_ = {std::min(least_[0], x), std::min(least_[1], y)};
    most_ = {std::max(most_[0], x), std::max(most_[1], y)};
  }
  void add(const Outline& outline) {
    for (const Position& p : outline.corners) {
      add(p[0], p[1]);
    }
  }
  double width() const { return std::max({most_[0] - least_[0], most_[1] - least_[1], 0.0}); }

 private:
  Position least_{HUGE_VAL, HUGE_VAL};
  Position most_{-HUGE_VAL, -HUGE_VAL};
};

Extent in_space(const Drawing& drawing) {
  Extent extent;
  for (const RoofLine& line : drawing.roof) {
    extent.add(line.from[0], line.from[1]);
    extent.add(line.to[0], line.to[1]);
  }
  for (const Face& face : drawing.faces) {
    for (const auto& corner : face.corners) {
      extent.add(corner[0], corner[1]);
    }
  }
  for (const Outline& outline : drawing.outlines) {
    if (outline.is_in_space()) {
      extent.add(outline);
    }
  }
  return extent;
}

double widest(const Drawing& drawing) {
  Extent extent = in_space(drawing);
  for (const Outline& outline : drawing.outlines) {
    extent.add(outline);
  }
  return extent.width();
}

/// How long and how wide a rectangle of the outline's area and border would be: of a crooked piece
/// of wall its length and thickness.
struct Measures {
  double area_m2 = 0.0;
  double length_m = 0.0;
  double width_m = 0.0;

  Measures(const std::vector<Position>& loop, double metres) {
    double border = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Position& next = loop[(i + 1) % loop.size()];
      border += std::hypot(next[0] - loop[i][0], next[1] - loop[i][1]);
    }
    area_m2 = 0.5 * std::abs(twice_area(loop)) * metres * metres;
    const double half = 0.5 * border * metres;
    const double root = half * half - 4.0 * area_m2;
    width_m = root > 0.0 ? 0.5 * (half - std::sqrt(root)) : std::sqrt(area_m2);
    length_m = root > 0.0 ? half - width_m : width_m;
  }
  bool is_under_a_house() const {
    return width_m < least_house_width_m || area_m2 < least_house_m2;
  }
  bool is_of_wall() const {
    return width_m < most_piece_width_m && length_m > 4.0 * width_m && length_m > 1.0;
  }
  bool bears_nothing() const { return width_m < most_piece_width_m || area_m2 < 1.0; }

 private:
  static constexpr double least_house_width_m = 1.5;
  static constexpr double least_house_m2 = 4.0;
  static constexpr double most_piece_width_m = 0.7;
};

/// Which outlines are too small for houses, of those that lie in no other.
struct Small {
  std::vector<bool> is_small;
  std::vector<bool> is_left;                ///< bears no roof at all
  std::map<std::string, std::size_t> left;  ///< these by layer
  std::size_t pieces = 0;                   ///< of walls
  std::size_t houses = 0;                   ///< that are not too small
  std::size_t largest = 0;

  Small(const std::vector<Outline>& all, double metres) {
    for (std::size_t i = 0; i < all.size(); ++i) {
      const bool is_outer = std::none_of(all.begin(), all.end(), [&](const Outline& other) {
        return &other != &all[i] && contains(other.corners, all[i].corners[0]);
      });
      const Measures one(all[i].corners, metres);
      is_small.push_back(is_outer && one.is_under_a_house());
      is_left.push_back(is_outer && one.bears_nothing());
      if (is_left[i]) {
        ++left[all[i].layer];
      }
      pieces += is_small[i] && one.is_of_wall() ? 1U : 0U;
      houses += is_outer && !is_small[i] ? 1U : 0U;
      largest = one.area_m2 > Measures(all[largest].corners, metres).area_m2 ? i : largest;
    }
  }
  std::size_t count() const {
    return static_cast<std::size_t>(std::count(is_small.begin(), is_small.end(), true));
  }
};

}  // namespace

std::string offered(double width) {
  std::string text;
  for (const char* name : {"m", "ft", "cm", "in", "mm"}) {
    const double as_m = width * metres_in(unit_named(name));
    if (as_m >= small_house_m && as_m <= large_house_m) {
      text += fmt::format("{}unit={} makes it {:.3g} m", text.empty() ? ": " : ", ", name, as_m);
    }
  }
  return text;
}

double metres_in(const Unit& unit) {
  return units::metres_in(*units::unit_named(unit.name)) * unit.factor;
}

double width_in_space(const Drawing& drawing) { return in_space(drawing).width(); }

Unit unit_of(const Drawing& drawing, const Options& options, const Host& host) {
  if (const auto given = options.find("unit"); given != options.end()) {
    return unit_named(given->second);
  }
  const int code = drawing.unit_code;
  if (const auto at = known_units().find(code); at != known_units().end()) {
    const Known& known = at->second;
    host.note(std::string("the drawing says that its unit is ") + known.words);
    return {known.name, known.factor};
  }
  const double width = widest(drawing);
  const std::string guess = width < 100.0 ? "m" : (width < 2000.0 ? "in" : "mm");
  host.note((code == 0 ? "the drawing does not say its unit"
                       : fmt::format("the drawing says that its unit is number {} of $INSUNITS, "
                                     "which is not known",
                                     code)) +
            ": by its size it is taken as " + guess + "; give the option unit if that is wrong");
  return unit_named(guess);
}

void check_size(double width, const Unit& unit, const Options& options, bool may_be_site,
                const Host& host) {
  const double width_m = width * metres_in(unit);
  const bool is_large = width_m > most_house_m;
  if (width_m >= least_house_m && !is_large) {
    return;
  }
  const bool is_plain = width_m >= 100.0 && width_m < 1e7;
  const std::string size =
      is_plain ? fmt::format("{:.0f} m", width_m) : fmt::format("{:.3g} m", width_m);
  if (options.contains("unit") || (is_large && may_be_site)) {
    host.note(fmt::format("in doubt: all of it is {} wide: is its unit right?", size));
    return;
  }
  throw Refused("",
                fmt::format("by its unit it is {} wide, too {} for a house", size,
                            is_large ? "large" : "small"),
                "give the unit that it is drawn in with the option unit" + offered(width));
}

void judge_sizes(Drawing& drawing, const Unit& unit, const Options& options, const Host& host) {
  const double metres = metres_in(unit);
  const std::vector<Outline>& all = drawing.outlines;
  Small sizes(all, metres);
  if (sizes.count() == 0) {
    return;
  }
  const Measures most(all[sizes.largest].corners, metres);
  if (sizes.houses == 0 && sizes.pieces == sizes.count()) {
    throw Refused(
        "",
        fmt::format("the closed outlines are too narrow for houses, {:.2f} m the largest: they "
                    "seem to be walls drawn piece by piece, on {}",
                    most.width_m, named(sizes.left)),
        "draw the outer face of the walls as one closed polyline, or name another layer with the "
        "option layer");
  }
  if (sizes.houses == 0 && !options.contains("unit")) {
    Extent extent;
    extent.add(all[sizes.largest]);
    throw Refused(
        "",
        fmt::format("by its unit the largest outline covers {:.3g} m2, too small for a "
                    "house",
                    most.area_m2),
        "give the unit that it is drawn in with the option unit" + offered(extent.width()));
  }
  if (sizes.houses > 0 && !options.contains("layer") && !sizes.left.empty()) {
    host.note(
        "left out, too small to bear a roof (pieces of walls, posts, chimneys): closed "
        "outlines on " +
        named(sizes.left) + "; name their layer with the option layer to take them");
    std::size_t i = 0;
    std::erase_if(drawing.outlines, [&](const Outline&) {
      const bool is_out = sizes.is_left[i];
      sizes.is_small[i] = sizes.is_small[i] && !is_out;
      ++i;
      return is_out;
    });
  }
  if (const std::size_t kept = sizes.count(); kept > 0) {
    host.note("in doubt: " + importing::counted(kept, "closed outline") +
              " under 4 m2 or 1.5 m wide taken as houses");
  }
}

}  // namespace ridgeward::dxf
