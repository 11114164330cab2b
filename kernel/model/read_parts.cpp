// Parts: outlines, holes, edges.
#include "model/outline_check.hpp"
#include "model/read_pieces.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::model {

namespace {

/// Edges of a part about which nothing was said, by number, for the assumptions.
struct Silent {
  std::vector<std::size_t> overhang;
  std::vector<std::size_t> soffit;
};

std::string numbers(const std::vector<std::size_t>& all) {
  std::vector<std::string> words;
  words.reserve(all.size());
  for (const std::size_t number : all) {
    words.push_back(fmt::format("{}", number));
  }
  const std::vector<std::string_view> views(words.begin(), words.end());
  std::string text = listed(views);
  if (const std::size_t at = text.rfind(" or "); at != std::string::npos) {
    text.replace(at, 4, " and ");
  }
  return text;
}

void read_breaks(const Cursor& list, Edge& edge) {
  if (!list.open_list()) {
    return;
  }
  double below_m = 0.0;
  for (std::size_t i = 0; i < list.size(); ++i) {
    Cursor item = list.item(i);
    if (!item.open_object(keys::pitch_break)) {
      continue;
    }
    const std::optional<double> height_m =
        item.key("height").required("give the height over the eave").length(more_than_zero);
    const std::optional<units::Pitch> pitch =
        item.key("pitch").required("give the pitch above the break").pitch();
    if (height_m && *height_m <= below_m) {
      item.key("height").fault("field.range", "breaks do not rise from one to the next",
                               "list breaks from the lowest to the highest");
    }
    if (height_m && pitch) {
      below_m = *height_m;
      edge.breaks.push_back({*height_m, *pitch});
    }
  }
}

/// What only some kinds of edges have: pitch, heights, breaks.
void read_kind(const Cursor& cursor, Edge& edge) {
  const Cursor pitch = cursor.key("pitch");
  const Cursor from_height = cursor.key("from_height");
  const Cursor wall_height = cursor.key("wall_height");
  if (bears_plane(edge.kind)) {
    take(edge.pitch,
         pitch.required(R"(give the pitch of the plane on this edge: "8/12", "33.7 deg")").pitch());
    read_breaks(cursor.key("breaks"), edge);
  } else if (pitch.is_there()) {
    pitch.warn("field.unused", "an edge of this kind bears no plane: its pitch is not used",
               "leave the pitch out");
  }
  if (edge.kind == EdgeKind::half_hip) {
    from_height.required("give the height above the plate at which the clipped end starts");
  }
  if (edge.kind == EdgeKind::gablet) {
    wall_height.required("give the height of the small gable");
  }
  take(edge.from_height_m, from_height.length(no_less_than_zero));
  take(edge.wall_height_m, wall_height.length(no_less_than_zero));
}

/// Likely a slip of the number or its unit; some house may have it.
void doubt(const Cursor& cursor, double given_m, double likely_m) {
  if (given_m > likely_m) {
    const units::Style style = units::style_of(cursor.reading().unit);
    cursor.warn("field.unlikely",
                fmt::format("{} is more than roofs have: {} at most, as a rule",
                            units::show(given_m, style), units::show(likely_m, style)),
                "check the number and its unit");
  }
}

Edge read_edge(Cursor cursor, std::size_t number, Silent& silent) {
  Edge edge;
  if (!cursor.open_object(keys::edge)) {
    return edge;
  }
  take(edge.kind, cursor.key("kind").one_of<EdgeKind>({{"eave", EdgeKind::eave},
                                                       {"gable", EdgeKind::gable},
                                                       {"gablet", EdgeKind::gablet},
                                                       {"half_hip", EdgeKind::half_hip},
                                                       {"shed_top", EdgeKind::shed_top},
                                                       {"wall", EdgeKind::wall}}));
  read_kind(cursor, edge);
  if (!take(edge.overhang_m, cursor.key("overhang").length(no_less_than_zero)) &&
      edge.kind != EdgeKind::wall) {
    silent.overhang.push_back(number);
  }
  doubt(cursor.key("overhang"), edge.overhang_m, 12.0 * units::foot_m);
  const bool has_soffit =
      take(edge.soffit, cursor.key("soffit").one_of<Soffit>({{"none", Soffit::none},
                                                             {"open", Soffit::open},
                                                             {"vented", Soffit::vented},
                                                             {"closed", Soffit::closed}}));
  if (!has_soffit && bears_plane(edge.kind) && edge.overhang_m > 0.0) {
    silent.soffit.push_back(number);
  }
  return edge;
}

/// Edges of the loop with `corners` corners; `first` is the number of its first edge in the part.
std::vector<Edge> read_edges(const Cursor& list, std::size_t corners, std::size_t first,
                             Silent& silent) {
  std::vector<Edge> edges;
  list.required("give one edge for each side of the outline, in its order");
  if (!list.open_list()) {
    return edges;
  }
  if (corners > 0 && list.size() != corners) {
    list.fault("edges.count",
               fmt::format("{} edges for an outline of {} sides", list.size(), corners),
               "give one edge for each side: edges[i] is the side from corner i to corner i + 1");
  }
  for (std::size_t i = 0; i < list.size() && i < most_corners; ++i) {
    edges.push_back(read_edge(list.item(i), first + i, silent));
  }
  return edges;
}

/// Checks the loop by itself and its sense. Whether it is sound.
bool check_loop(const Loop& loop, bool is_hole, Reading& reading) {
  Faults faults = check_simple(loop);
  if (faults.empty() && is_counter_clockwise(loop.corners) == is_hole) {
    faults.push_back(
        is_hole ? Fault{"hole.counter_clockwise", loop.where, "this hole runs counter-clockwise",
                        "list the corners of a hole clockwise seen from above, and its edges with "
                        "them"}
                : Fault{"outline.clockwise", loop.where, "the outline runs clockwise",
                        "list its corners counter-clockwise seen from above, and its edges with "
                        "them"});
  }
  const bool is_sound = faults.empty();
  for (Fault& fault : faults) {
    reading.fault(std::move(fault));
  }
  return is_sound;
}

void read_holes(const Cursor& list, Part& part, const Loop& outline, bool outline_is_sound,
                Silent& silent) {
  if (!list.open_list()) {
    return;
  }
  std::vector<Loop> loops;
  bool all_sound = outline_is_sound;
  std::size_t corners = outline.corners.size();
  for (std::size_t i = 0; i < list.size(); ++i) {
    Cursor item = list.item(i);
    if (!item.open_object(keys::hole)) {
      continue;
    }
    Hole hole;
    const Cursor corner_list =
        item.key("outline").required("give the corners of the hole, clockwise");
    hole.outline = read_corners(corner_list);
    hole.edges = read_edges(item.key("edges"), hole.outline.size(), part.edge_count(), silent);
    corners += hole.outline.size();
    if (corners > most_corners) {
      list.fault("outline.too_many", "outline and holes have too many corners",
                 fmt::format("give at most {} corners in all", most_corners));
      return;
    }
    Loop loop{hole.outline, corner_list.where()};
    all_sound = !loop.corners.empty() && check_loop(loop, true, list.reading()) && all_sound;
    loops.push_back(std::move(loop));
    part.holes.push_back(std::move(hole));
  }
  if (all_sound) {
    for (Fault& fault : check_holes(outline, loops)) {
      list.reading().fault(std::move(fault));
    }
  }
}

void read_words(const Cursor& cursor, Part& part) {
  take(part.drawn_to,
       cursor.key("drawn_to").one_of<DrawnTo>({{"wall", DrawnTo::wall}, {"drip", DrawnTo::drip}}));
  take(part.fascia, cursor.key("fascia").one_of<Fascia>(
                        {{"level", Fascia::level}, {"as_given", Fascia::as_given}}));
  take(part.valleys, cursor.key("valleys").one_of<Valleys>(
                         {{"framed", Valleys::framed}, {"overlaid", Valleys::overlaid}}));
}

/// Where the deck beneath an overlaid part is cut away, and where a flat deck cuts the part off.
void read_decks(const Cursor& cursor, Part& part) {
  const Cursor openings = cursor.key("deck_openings");
  if (openings.open_list()) {
    if (part.valleys != Valleys::overlaid) {
      openings.warn("field.unused", "this part is not overlaid: there is no deck beneath to cut",
                    "give \"valleys\": \"overlaid\", or leave the openings out");
    }
    for (std::size_t i = 0; i < openings.size() && i < most_corners; ++i) {
      std::vector<glm::dvec2> loop = read_loop(openings.item(i));
      if (!loop.empty()) {
        part.deck_openings.push_back(std::move(loop));
      }
    }
  }
  const Cursor flat_top = cursor.key("flat_top");
  if (const std::optional<double> height_m = flat_top.length(more_than_zero)) {
    part.flat_top_m = *height_m;
    if (*height_m <= part.heel_m) {
      flat_top.fault("field.range", "the flat deck lies below the eaves",
                     "give a height over the plate that is more than the heel");
    }
  }
}

/// Common practice, no source: twice what is built, about.
void doubt_lengths(const Cursor& cursor, const Part& part) {
  doubt(cursor.key("wall_thickness"), part.wall_thickness_m, 4.0 * units::foot_m);
  doubt(cursor.key("heel"), part.heel_m, 10.0 * units::foot_m);
  doubt(cursor.key("deck"), part.deck_m, 0.5 * units::foot_m);
}

void read_heights(const Cursor& cursor, Part& part, std::vector<std::string>& assumptions) {
  const auto assume = [&](bool given, std::string_view words) {
    if (!given) {
      assumptions.push_back(fmt::format("Part {}: no {}.", part.id, words));
    }
  };
  assume(take(part.wall_thickness_m, cursor.key("wall_thickness").length(no_less_than_zero)),
         "wall thickness is given, 6 in is taken");
  assume(take(part.plate_m, cursor.key("plate").length(any_length)),
         "height of the plate is given, 8 ft is taken");
  assume(take(part.heel_m, cursor.key("heel").length(no_less_than_zero)),
         "heel is given, 0 is taken: the deck meets the top of the plate at the wall line");
  assume(take(part.deck_m, cursor.key("deck").length(no_less_than_zero)),
         "deck thickness is given, 1/2 in is taken");
  doubt_lengths(cursor, part);
}

void assume_edges(const Part& part, const Silent& silent, std::vector<std::string>& assumptions) {
  if (!silent.overhang.empty()) {
    assumptions.push_back(fmt::format("Part {}: no overhang is given at {} {}, none is taken.",
                                      part.id, silent.overhang.size() == 1 ? "edge" : "edges",
                                      numbers(silent.overhang)));
  }
  if (!silent.soffit.empty()) {
    assumptions.push_back(
        fmt::format("Part {}: no soffit is given at {} {}, a closed one is taken.", part.id,
                    silent.soffit.size() == 1 ? "edge" : "edges", numbers(silent.soffit)));
  }
}

void check_bears_plane(const Cursor& cursor, const Part& part) {
  for (std::size_t i = 0; i < part.edge_count(); ++i) {
    if (bears_plane(part.edge(i).kind)) {
      return;
    }
  }
  if (part.edge_count() > 0) {
    cursor.key("edges").fault("edges.no_eave", "no edge of this part bears a roof plane",
                              "make at least one edge an eave with a pitch");
  }
}

Part read_part(const Cursor& cursor, std::string id, std::vector<std::string>& assumptions) {
  Part part;
  part.id = std::move(id);
  // The defaults are whole inches and feet; the grid has them to the bit.
  part.wall_thickness_m = units::on_grid(part.wall_thickness_m);
  part.plate_m = units::on_grid(part.plate_m);
  part.deck_m = units::on_grid(part.deck_m);
  part.framing.spacing_m = units::on_grid(part.framing.spacing_m);
  const Cursor corner_list =
      cursor.key("outline").required("give the corners of the walls: [[0, 0], [40, 0], ...]");
  part.outline = read_corners(corner_list);
  Silent silent;
  part.edges = read_edges(cursor.key("edges"), part.outline.size(), 0, silent);
  const Loop outline{part.outline, corner_list.where()};
  const bool is_sound = !outline.corners.empty() && check_loop(outline, false, cursor.reading());
  read_holes(cursor.key("holes"), part, outline, is_sound, silent);
  read_words(cursor, part);
  read_heights(cursor, part, assumptions);
  read_decks(cursor, part);
  assume_edges(part, silent, assumptions);
  read_framing(cursor.key("framing"), part, assumptions);
  check_bears_plane(cursor, part);
  return part;
}

}  // namespace

void read_parts(const Cursor& list, RoofModel& model) {
  list.required("give a list with at least one part");
  if (!list.open_list()) {
    return;
  }
  if (list.size() == 0) {
    list.fault("field.missing", "there is no part", "give at least one part");
  }
  if (list.size() > 1000) {
    list.fault("too_large", fmt::format("{} parts are too many", list.size()),
               "give at most 1000 parts");
    return;
  }
  Ids ids;
  for (std::size_t i = 0; i < list.size(); ++i) {
    Cursor item = list.item(i);
    if (!item.open_object(keys::part)) {
      continue;
    }
    const std::string otherwise = list.size() == 1 ? "main" : fmt::format("part-{}", i + 1);
    model.parts.push_back(read_part(item, ids.read(item.key("id"), otherwise), model.assumptions));
  }
}

}  // namespace ridgeward::model
