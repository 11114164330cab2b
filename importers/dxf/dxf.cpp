// Reads DXF through dxflib: roofs drawn as faces or as lines in space become planes; of plans
// closed outlines become parts with an eave all round, but gables where a line on a layer for
// gables lies along the edge.
#include "plugin/importer_abi.h"
#include "units/length.hpp"
#include "units/pitch.hpp"

#include "dxf/chains.hpp"
#include "dxf/drawing.hpp"
#include "dxf/in_space.hpp"
#include "dxf/outlines.hpp"
#include "dxf/roof_lines.hpp"
#include "support/importing.hpp"
#include "support/planes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>

namespace ridgeward::dxf {
namespace {

using importing::Host;
using importing::Refused;

constexpr std::size_t most_lines = 4000;
constexpr double most_edge_overhang_m = 2.0;  ///< that a drawing tells
constexpr double most_given_overhang_m = 3.0;
constexpr double least_plate_m = 0.3;
constexpr double most_plate_m = 100.0;

/// Whether a line for gables runs along a -> b and covers its middle.
bool is_gable(const Drawing& drawing, const Position& a, const Position& b) {
  const double length = std::hypot(b[0] - a[0], b[1] - a[1]);
  const Position u{(b[0] - a[0]) / length, (b[1] - a[1]) / length};
  const double reach = 0.02 * length;
  return std::any_of(drawing.strokes.begin(), drawing.strokes.end(), [&](const Stroke& stroke) {
    const auto along = [&](const Position& p) {
      return (p[0] - a[0]) * u[0] + (p[1] - a[1]) * u[1];
    };
    const auto aside = [&](const Position& p) {
      return std::abs((p[0] - a[0]) * u[1] - (p[1] - a[1]) * u[0]);
    };
    const double low = std::min(along(stroke.from), along(stroke.to));
    const double high = std::max(along(stroke.from), along(stroke.to));
    return is_for_gables(stroke.layer) && aside(stroke.from) <= reach &&
           aside(stroke.to) <= reach && low < 0.5 * length && high > 0.5 * length;
  });
}

/// Writes the model.
class Writer {
 public:
  Writer(const Drawing& drawing, const Options& options, Unit unit, std::string drawn_to)
      : drawing_(drawing),
        options_(options),
        unit_(std::move(unit)),
        drawn_to_(std::move(drawn_to)),
        most_overhang_(most_edge_overhang_m / metres_in(unit_)) {}

  std::string model() {
    low_ = drawing_.outlines[0].corners[0];
    for (const Outline& outline : drawing_.outlines) {
      for (const Position& p : outline.corners) {
        low_ = {std::min(low_[0], p[0]), std::min(low_[1], p[1])};
      }
    }
    std::string parts;
    for (std::size_t i = 0; i < drawing_.outlines.size(); ++i) {
      if (depth(i) % 2 == 0) {
        parts += (parts.empty() ? "" : ",\n") + part(i);
      }
    }
    return "{\"ridgeward\": 1, \"units\": " + importing::quoted(unit_.name) + ", \"parts\": [" +
           parts + "]}";
  }
  std::size_t gables() const { return gables_; }
  /// Sides of which lines of a roof told the overhang, and those of which they told the pitch.
  std::size_t overhangs() const { return overhangs_; }
  std::size_t pitches() const { return pitches_; }
  /// Sides of which the outline of a roof told the overhang.
  std::size_t by_edges() const { return by_edges_; }

 private:
  /// In how many other outlines this one lies: in an odd number it is a courtyard.
  std::size_t depth(std::size_t number) const {
    const Position& p = drawing_.outlines[number].corners[0];
    std::size_t count = 0;
    for (std::size_t i = 0; i < drawing_.outlines.size(); ++i) {
      count += i != number && is_inside(number, i) && contains(drawing_.outlines[i].corners, p)
                   ? 1U
                   : 0U;
    }
    return count;
  }
  bool is_inside(std::size_t one, std::size_t other) const {
    const std::vector<Position>& corners = drawing_.outlines[one].corners;
    return std::all_of(corners.begin(), corners.end(), [&](const Position& p) {
      return contains(drawing_.outlines[other].corners, p);
    });
  }
  std::string part(std::size_t number) {
    plate_.reset();
    is_edge_drawn_ = false;
    const std::string sides = loop(number, true);
    const std::string plate = options_.contains("plate") || !plate_
                                  ? importing::quoted(option(options_, "plate", "2.5 m"))
                                  : importing::number(*plate_ * unit_.factor);
    const std::string text = "{\"id\": \"part-" + std::to_string(++parts_) + "\", " + sides +
                             ", \"drawn_to\": " + importing::quoted(drawn_to_) +
                             (plate_ || is_edge_drawn_ ? ", \"fascia\": \"as_given\"" : "") +
                             ", \"plate\": " + plate;
    std::string holes;
    for (std::size_t i = 0; i < drawing_.outlines.size(); ++i) {
      if (depth(i) == depth(number) + 1 && is_inside(i, number)) {
        holes += (holes.empty() ? "{" : ", {") + loop(i, false) + "}";
      }
    }
    return text + (holes.empty() ? "" : ", \"holes\": [" + holes + "]") + "}";
  }
  std::string loop(std::size_t number, bool is_outer) {
    std::vector<Position> corners = drawing_.outlines[number].corners;
    corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
    if ((twice_area(corners) > 0.0) != is_outer) {
      std::reverse(corners.begin(), corners.end());
    }
    std::string outline;
    std::string edges;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const Position& a = corners[i];
      const char* comma = i == 0 ? "" : ", ";
      outline += comma + ("[" + importing::number((a[0] - low_[0]) * unit_.factor) + ", " +
                          importing::number((a[1] - low_[1]) * unit_.factor) + "]");
      edges += comma + edge(a, corners[(i + 1) % corners.size()]);
    }
    return "\"outline\": [" + outline + "], \"edges\": [" + edges + "]";
  }
  std::string edge(const Position& a, const Position& b) {
    const SideSaid said = side_said(drawing_.roof, a, b, most_overhang_);
    const bool is_end = said.is_gable || is_gable(drawing_, a, b);
    gables_ += is_end ? 1U : 0U;
    std::string overhang = importing::quoted(option(options_, "overhang", "0 m"));
    if (said.overhang && drawn_to_ == "wall" && !options_.contains("overhang")) {
      overhang = importing::number(*said.overhang * unit_.factor);
      ++(said.is_by_edge ? by_edges_ : overhangs_);
      is_edge_drawn_ = is_edge_drawn_ || said.is_by_edge;
    }
    if (is_end) {
      return "{\"kind\": \"gable\", \"overhang\": " + overhang + "}";
    }
    std::string pitch = option(options_, "pitch", "30 deg");
    if (said.slope && !options_.contains("pitch")) {
      pitch = importing::number(*said.slope * 100.0) + " %";
      const double plate = said.drip_z + said.overhang.value_or(0.0) * *said.slope;
      plate_ = std::min(plate_.value_or(plate), plate);
      ++pitches_;
    }
    return "{\"kind\": \"eave\", \"pitch\": " + importing::quoted(pitch) +
           ", \"overhang\": " + overhang + "}";
  }

  const Drawing& drawing_;
  const Options& options_;
  Unit unit_;
  std::string drawn_to_;
  Position low_{0.0, 0.0};
  std::size_t parts_ = 0;
  double most_overhang_;         ///< in the drawing's unit
  std::optional<double> plate_;  ///< of the part, in the drawing's unit, by lines in space
  bool is_edge_drawn_ = false;   ///< of the part: an outline of the roof gives an overhang
  std::size_t gables_ = 0;
  std::size_t overhangs_ = 0;
  std::size_t by_edges_ = 0;
  std::size_t pitches_ = 0;
};

/// Makes outlines of lines that join, but of those that mark gables.
void join_lines(Drawing& drawing, const Host& host) {
  const auto marks =
      std::stable_partition(drawing.strokes.begin(), drawing.strokes.end(),
                            [](const Stroke& stroke) { return !is_for_gables(stroke.layer); });
  const std::vector<Stroke> gables(marks, drawing.strokes.end());
  drawing.strokes.erase(marks, drawing.strokes.end());
  if (drawing.strokes.size() > most_lines) {
    host.note("there are more than 4000 lines: only closed polylines are taken as outlines");
  } else {
    close_strokes(drawing);
  }
  drawing.strokes.insert(drawing.strokes.end(), gables.begin(), gables.end());
}

/// A length as it was given, with the unit that it is read in.
std::string with_unit(const std::string& length, const Unit& unit) {
  const bool is_bare = units::parse_length(length, units::LengthUnit::ft) !=
                       units::parse_length(length, units::LengthUnit::m);
  return is_bare ? length + " " + unit.name : length;
}

/// Refused where no roof has such a plate or overhang, or the eaves would lie under the ground.
void check_lengths(const Options& options, const Unit& unit) {
  const auto metres = [&](const char* key, const char* otherwise) {
    return units::parse_length(option(options, key, otherwise), *units::unit_named(unit.name))
        .value_or(0.0);
  };
  const auto said = [&](const char* key) {
    return fmt::format("the option {}={} is {:.4g} m", key, option(options, key, ""),
                       metres(key, "0 m"));
  };
  const std::string cure = "give it with its unit: 450 mm, 2.5 m, 9 ft";
  const double plate_m = metres("plate", "2.5 m");
  if (plate_m < 0.0 || (plate_m > 0.0 && plate_m < least_plate_m) || plate_m > most_plate_m) {
    throw Refused("", said("plate") + ", no height of a plate", cure);
  }
  const double overhang_m = metres("overhang", "0 m");
  if (overhang_m < 0.0 || overhang_m > most_given_overhang_m) {
    throw Refused("", said("overhang") + ", no overhang of a roof", cure);
  }
  const std::optional<units::Pitch> pitch = units::parse_pitch(option(options, "pitch", "30 deg"));
  if (overhang_m > 0.0 && pitch && overhang_m * pitch->tangent() > plate_m - units::grid_m) {
    throw Refused("",
                  said("overhang") + fmt::format(", which brings the eaves under the ground: the "
                                                 "plates lie {:.4g} m high",
                                                 plate_m),
                  "give a smaller overhang or higher plates, with their units");
  }
}

void give_outlines(Drawing& drawing, const Unit& unit, const Options& options, const Host& host) {
  check_lengths(options, unit);
  const std::string drawn_to = pick(drawing, unit, options, host);
  if (drawing.joins > 0) {
    host.note(fmt::format("ends of lines that lay up to {:.4f} m apart were joined, at {}",
                          drawing.widest_join * metres_in(unit),
                          importing::counted(drawing.joins, "corner")));
  }
  double sagitta = 0.0;
  for (const Outline& one : drawing.outlines) {
    sagitta = std::max(sagitta, one.sagitta);
  }
  if (sagitta > 0.0) {
    host.note(
        fmt::format("arcs in outlines are taken as chords of 15 degrees or less, {:.3f} m off "
                    "at most",
                    sagitta * metres_in(unit)));
  }
  const auto tilted = std::count_if(drawing.outlines.begin(), drawing.outlines.end(),
                                    [](const Outline& one) { return one.is_in_space(); });
  if (tilted > 0) {
    host.note("the heights of " +
              importing::counted(static_cast<std::size_t>(tilted), "closed polyline") +
              " in space are passed over: only the plan is taken");
  }
  Writer writer(drawing, options, unit, drawn_to);
  const std::string model = writer.model();
  host.note("gables: " + importing::counted(writer.gables(), "edge") +
            ", by lines on layers named after gables or rakes; all others are taken as eaves");
  if (writer.overhangs() + writer.pitches() > 0) {
    host.note("lines of a roof (layers EAVE, RAKE, HIP, VALLEY) give the overhangs of " +
              importing::counted(writer.overhangs(), "edge") + " and the pitches of " +
              importing::counted(writer.pitches(), "eave") + ", and with them the plates");
  }
  if (writer.by_edges() > 0) {
    host.note("the outline of the roof gives the overhangs of " +
              importing::counted(writer.by_edges(), "edge"));
  }
  host.note("what no line gives: all eaves have the pitch " + option(options, "pitch", "30 deg") +
            ", plates the height " + with_unit(option(options, "plate", "2.5 m"), unit) +
            ", overhangs " + with_unit(option(options, "overhang", "0 m"), unit));
  host.emit(model);
}

/// Options that go into the model as they stand.
void check_values(const Options& options) {
  const std::string pitch = option(options, "pitch", "30 deg");
  if (!units::parse_pitch(pitch)) {
    throw Refused("", "the option pitch=" + pitch + " is no pitch",
                  "give a text such as 8/12, 33.7 deg or 66.7 %");
  }
  for (const char* key : {"plate", "overhang"}) {
    const std::string length = option(options, key, "0 m");
    if (!units::parse_length(length, units::LengthUnit::m)) {
      throw Refused("", std::string("the option ") + key + "=" + length + " is no length",
                    "give a text such as 9 ft, 2.5 m or 450 mm");
    }
  }
}

/// What the drawing holds but the importer does not read, by name.
std::string passed_over_in(const Drawing& drawing) {
  std::string text = named(drawing.unread);
  if (!drawing.missing.empty()) {
    text += (text.empty() ? "" : ", ") + ("references to blocks that are not in the file: " +
                                          named(drawing.missing) + "; bind or explode them");
  }
  return text;
}

void import_bytes(std::string_view bytes, const Options& options, const Host& host) {
  check_values(options);
  Drawing drawing = read_drawing(bytes);
  join_lines(drawing, host);
  if (!drawing.doubles.empty()) {
    host.note("lines drawn twice count once: " + named(drawing.doubles));
  }
  if (!drawing.placed.empty()) {
    host.note("block references taken as what their blocks hold: " + named(drawing.placed));
  }
  const std::string passed_over = passed_over_in(drawing);
  if (!passed_over.empty()) {
    host.note("passed over: " + passed_over);
  }
  std::string left;
  for (const auto& [why, layers] : drawing.left) {
    left += "; left out, " + why + ": " + named(layers);
    host.note("left out, " + why + ": " + named(layers) +
              (why.starts_with("on sheets") ? "" : "; switch them on in the drawing to take them"));
  }
  const bool is_empty = drawing.outlines.empty() && drawing.roof.empty() && drawing.faces.empty();
  if (!drawing.text.is_whole && is_empty) {
    const std::string& section = drawing.text.section;
    throw Refused("line " + std::to_string(drawing.text.lines),
                  "the drawing is cut short: it ends here" +
                      (section.empty() ? "" : ", in its section " + section) +
                      ", without the mark EOF, and nothing of a roof or a plan is whole before it",
                  "save or fetch it again, to its end");
  }
  if (!drawing.text.is_whole) {
    host.note(
        "the drawing ends early, without its EOF mark: only the lines and faces before the break "
        "are read, and more may be missing");
  }
  if (is_empty) {
    const auto all = [](const std::string&) { return true; };
    const std::string nearly = nearly_closed(drawing, all);
    const std::string loose = nearly.empty() ? loose_ends(drawing, all) : "";
    throw Refused("",
                  "there is no closed outline, and no roof drawn in space" +
                      (nearly.empty() ? "" : "; " + nearly) + (loose.empty() ? "" : "; " + loose) +
                      (passed_over.empty() ? "" : "; passed over: " + passed_over) + left,
                  nearly.empty() ? "draw walls or roofs as closed polylines, or as lines that join"
                                 : "close the polyline, or draw the line that is missing");
  }
  const Unit unit = unit_of(drawing, options, host);
  if (!give_roof(drawing, unit, options, host)) {
    give_outlines(drawing, unit, options, host);
  }
}

int sniff(const char* head, std::size_t size, const char* file_name) {
  const std::string_view text(head, size);
  const std::string name = importing::small(file_name == nullptr ? "" : file_name);
  const bool is_drawing = text.find("SECTION") != std::string_view::npos &&
                          (text.find("HEADER") != std::string_view::npos ||
                           text.find("ENTITIES") != std::string_view::npos);
  if (is_drawing) {
    return name.ends_with(".dxf") ? 95 : 70;
  }
  if (name.ends_with(".dwg")) {
    return 40;  // to say how to make a DXF of it
  }
  // Another importer may know the bytes; where none does, this one says what is wrong with them.
  return name.ends_with(".dxf") ? 40 : 0;
}

constexpr ridgeward_importer_table table{
    RIDGEWARD_IMPORTER_ABI,
    sizeof(ridgeward_importer_table),
    "dxf",
    "DXF: roofs drawn in space, as faces or lines by layer; plans with outlines of walls or roofs",
    ".dxf",
    sniff,
    importing::read_with<import_bytes>};

}  // namespace
}  // namespace ridgeward::dxf

extern "C" __attribute__((visibility("default"))) const ridgeward_importer_table*
ridgeward_importer(std::uint32_t host_abi) {
  return host_abi == RIDGEWARD_IMPORTER_ABI ? &ridgeward::dxf::table : nullptr;
}
