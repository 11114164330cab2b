// Framing of a part.
#include "model/read_pieces.hpp"
#include "units/length.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

namespace ridgeward::model {

namespace {

/// Closest and widest spacing of members: what any roof has, with room to spare.
constexpr Range spacing_range{3.875 * units::inch_m, 20.0 * units::foot_m};

/// A decimal number in `unit`, spaces after it allowed; no fractions.
std::optional<double> plain_length(std::string_view text, units::LengthUnit unit) {
  const std::size_t end = text.find_last_not_of(' ');
  text = text.substr(0, end == std::string_view::npos ? 0 : end + 1);
  const bool is_plain = std::all_of(text.begin(), text.end(),
                                    [](char c) { return (c >= '0' && c <= '9') || c == '.'; });
  return is_plain ? units::parse_length(text, unit) : std::nullopt;
}

/// Nominal sizes ("2x8"), or actual ones with their unit ("38x184 mm", "1.5x7.25 in").
bool is_stock(std::string_view name) {
  const std::size_t by = name.find('x');
  if (by == std::string_view::npos) {
    return false;
  }
  const std::string_view first = name.substr(0, by);
  const std::string_view second = name.substr(by + 1);
  constexpr std::array<std::string_view, 4> thick{"1", "2", "3", "4"};
  constexpr std::array<std::string_view, 6> deep{"4", "6", "8", "10", "12", "14"};
  if (std::find(thick.begin(), thick.end(), first) != thick.end() &&
      std::find(deep.begin(), deep.end(), second) != deep.end()) {
    return true;
  }
  const bool is_metric = second.ends_with("mm");
  if (!is_metric && !second.ends_with("in")) {
    return false;
  }
  const auto unit = is_metric ? units::LengthUnit::mm : units::LengthUnit::in;
  const std::optional<double> thickness_m = plain_length(first, unit);
  const std::optional<double> depth_m = plain_length(second.substr(0, second.size() - 2), unit);
  return thickness_m && depth_m && *thickness_m >= 0.01 && *thickness_m <= 0.5 &&
         *depth_m >= 0.01 && *depth_m <= 2.0;
}

void read_stock(const Cursor& cursor, std::string& stock) {
  const std::optional<std::string> given = cursor.text(40);
  if (!given) {
    return;
  }
  if (!is_stock(*given)) {
    cursor.fault("field.unknown_word", "\"" + *given + "\" is no stock size",
                 "give a nominal size such as \"2x8\" or an actual one such as \"38x184 mm\" or "
                 "\"1.5x7.25 in\"");
    return;
  }
  stock = *given;
}

std::optional<CollarTies> read_collar_ties(Cursor cursor) {
  if (!cursor.is_there() || !cursor.open_object(keys::collar_ties)) {
    return std::nullopt;
  }
  CollarTies ties;
  const Cursor height = cursor.key("height").required("give the height of the ties over the plate");
  const bool given = take(ties.height_m, height.length(more_than_zero));
  take(ties.every, cursor.key("every").whole(1, 100));
  read_stock(cursor.key("stock"), ties.stock);
  return given ? std::optional(ties) : std::nullopt;
}

std::optional<MeasuredEdge> read_measured(Cursor cursor, const std::string& name,
                                          std::size_t edge_count) {
  std::size_t edge = 0;
  const auto [end, error] = std::from_chars(name.data(), name.data() + name.size(), edge);
  if (error != std::errc{} || end != name.data() + name.size() || edge >= edge_count) {
    cursor.fault("name.unknown", "\"" + name + "\" is no edge of this part",
                 fmt::format("name an edge by its number, 0 to {}", edge_count - 1));
    return std::nullopt;
  }
  if (!cursor.open_object(keys::measured_edge)) {
    return std::nullopt;
  }
  const Cursor stopped = cursor.key("stopped");
  const Cursor list =
      stopped.is_there()
          ? cursor.key("at")
          : cursor.key("at").required("give the centres of the members: [1.25, 2.5]");
  MeasuredEdge measured{static_cast<int>(edge), {}, {}};
  for (std::size_t i = 0; stopped.open_list() && i < stopped.size(); ++i) {
    if (const std::optional<double> at_m = stopped.item(i).length(any_length)) {
      measured.stopped_m.push_back(*at_m);
    }
  }
  if (!list.open_list()) {
    return measured.stopped_m.empty() ? std::nullopt : std::optional(measured);
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    const Cursor item = list.item(i);
    const std::optional<double> at_m = item.length(any_length);
    if (at_m && !measured.at_m.empty() && *at_m <= measured.at_m.back()) {
      item.fault("field.range", "this member does not lie beyond the one before it",
                 "list the members from the left end of the edge, seen from outside");
    } else if (at_m) {
      measured.at_m.push_back(*at_m);
    }
  }
  return measured;
}

void read_way(const Cursor& cursor, Way& way) {
  take(way, cursor.one_of<Way>(
                {{"tight", Way::tight}, {"dropped", Way::dropped}, {"drilled", Way::drilled}}));
}

void read_air_past(Cursor cursor, AirPast& air_past) {
  if (cursor.open_object(keys::air_past)) {
    read_way(cursor.key("hips"), air_past.hips);
    read_way(cursor.key("valleys"), air_past.valleys);
    read_way(cursor.key("headers"), air_past.headers);
  }
}

void read_measured_edges(const Cursor& edges, Part& part) {
  for (const std::string& name : edges.names()) {
    const Cursor edge = edges.named(name);
    if (auto measured = read_measured(edge, name, part.edge_count())) {
      if (!bears_plane(part.edge(static_cast<std::size_t>(measured->edge)).kind)) {
        edge.warn("field.unused", "no plane lies on this edge: what was measured is not used",
                  "give members from the left end of an eave, seen from outside");
      }
      part.framing.measured.push_back(std::move(*measured));
    }
  }
  std::sort(part.framing.measured.begin(), part.framing.measured.end(),
            [](const MeasuredEdge& a, const MeasuredEdge& b) { return a.edge < b.edge; });
}

}  // namespace

void read_framing(Cursor cursor, Part& part, std::vector<std::string>& assumptions) {
  Framing& framing = part.framing;
  const auto assume = [&](std::string_view words) {
    assumptions.push_back(fmt::format("Part {}: no {}.", part.id, words));
  };
  const bool given = cursor.open_object(keys::framing);
  if (!given) {
    assume("framing is given, rafters at 24 in on centre are taken");
    return;
  }
  take(framing.kind, cursor.key("kind").one_of<FramingKind>(
                         {{"rafter", FramingKind::rafter}, {"truss", FramingKind::truss}}));
  if (!take(framing.spacing_m, cursor.key("spacing").length(spacing_range))) {
    assume("spacing of the rafters is given, 24 in on centre is taken");
  }
  const Cursor rafter = cursor.key("rafter");
  if (!rafter.is_there()) {
    assume("size of the rafters is given, 2x8 is taken");
  }
  read_stock(rafter, framing.rafter);
  read_stock(cursor.key("ridge"), framing.ridge);
  read_stock(cursor.key("hip"), framing.hip);
  read_stock(cursor.key("valley"), framing.valley);
  if (!take(framing.origin_m, cursor.key("origin").length(any_length))) {
    assume(
        "origin of the rafters is given: they are laid out from the left end of each wall seen "
        "from outside");
  }
  take(framing.blocking, cursor.key("blocking")
                             .one_of<Blocking>({{"none", Blocking::none},
                                                {"vented", Blocking::vented},
                                                {"solid", Blocking::solid}}));
  take(framing.lookouts, cursor.key("lookouts").boolean());
  read_air_past(cursor.key("air_past"), framing.air_past);
  framing.collar_ties = read_collar_ties(cursor.key("collar_ties"));
  const Cursor edges = cursor.key("edges");
  if (edges.open_mapping() && part.edge_count() > 0) {
    read_measured_edges(edges, part);
  }
}

}  // namespace ridgeward::model
