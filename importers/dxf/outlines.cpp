#include "dxf/outlines.hpp"

#include "dxf/chains.hpp"
#include "support/importing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <set>

namespace ridgeward::dxf {

namespace {

using importing::Host;
using importing::Refused;

constexpr double least_wall_m = 0.05;
constexpr double most_wall_m = 0.6;
constexpr double same_m = 0.001;
constexpr std::size_t most_named = 8;

double distance_to(const std::vector<Position>& loop, const Position& p) {
  double least = HUGE_VAL;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Position& a = loop[i];
    const Position& b = loop[(i + 1) % loop.size()];
    const Position way{b[0] - a[0], b[1] - a[1]};
    const double square = way[0] * way[0] + way[1] * way[1];
    const double along = (p[0] - a[0]) * way[0] + (p[1] - a[1]) * way[1];
    const double share = square > 0.0 ? std::clamp(along / square, 0.0, 1.0) : 0.0;
    least = std::min(least, std::hypot(p[0] - a[0] - share * way[0], p[1] - a[1] - share * way[1]));
  }
  return least;
}

/// Least and largest distance of something from an outline.
struct Span {
  double least = HUGE_VAL;
  double most = 0.0;

  void add(double distance) {
    least = std::min(least, distance);
    most = std::max(most, distance);
  }
};

/// Of three places on the side that starts at corner i of `loop`.
Span side_from(const std::vector<Position>& loop, std::size_t i,
               const std::vector<Position>& other) {
  const Position& a = loop[i];
  const Position& b = loop[(i + 1) % loop.size()];
  Span span;
  for (const double share : {0.25, 0.5, 0.75}) {
    span.add(distance_to(other, {a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])}));
  }
  return span;
}

Span from(const std::vector<Position>& loop, const std::vector<Position>& other) {
  Span all;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Span side = side_from(loop, i, other);
    all.add(side.least);
    all.add(side.most);
  }
  return all;
}

/// The rectangle around an outline.
struct Box {
  Position low{HUGE_VAL, HUGE_VAL};
  Position high{-HUGE_VAL, -HUGE_VAL};

  explicit Box(const std::vector<Position>& loop) {
    for (const Position& p : loop) {
      low = {std::min(low[0], p[0]), std::min(low[1], p[1])};
      high = {std::max(high[0], p[0]), std::max(high[1], p[1])};
    }
  }
  /// The largest difference between the sides of two.
  double apart(const Box& other) const {
    return std::max({std::abs(low[0] - other.low[0]), std::abs(low[1] - other.low[1]),
                     std::abs(high[0] - other.high[0]), std::abs(high[1] - other.high[1])});
  }
};

/// Tells the outlines that bear roofs and courtyards from those that are neither.
class Nest {
 public:
  Nest(std::vector<Outline>& outlines, double metres, bool takes_rooms)
      : all_(outlines), metres_(metres), takes_rooms_(takes_rooms), why_(outlines.size()) {
    order_.resize(all_.size());
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    for (const Outline& one : all_) {
      boxes_.emplace_back(one.corners);
    }
    std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
      return std::abs(twice_area(all_[a].corners)) > std::abs(twice_area(all_[b].corners));
    });
    for (const std::size_t i : order_) {
      judge(i);
    }
    leave_rooms();
  }

  void tell(const Host& host) const {
    tell_left(Why::twice, host, "drawn twice", "");
    tell_left(
        Why::face, host, "the other face of the same walls",
        fmt::format(
            "; the walls are {:.2f} m thick{}", faces_.least,
            faces_.most - faces_.least < 0.005 ? "" : fmt::format(" to {:.2f} m", faces_.most)));
    tell_left(Why::room, host, "taken as rooms",
              "; name their layer with the option layer to make courtyards of them");
    tell_courtyards(host);
  }
  void keep_picked() {
    std::size_t i = 0;
    std::erase_if(all_, [&](const Outline&) { return why_[i++] != Why::kept; });
  }

 private:
  enum class Why { unseen, kept, twice, face, room };

  const std::vector<Position>& corners(std::size_t i) const { return all_[i].corners; }
  bool is_inside(std::size_t one, std::size_t other) const {
    return std::all_of(corners(one).begin(), corners(one).end(),
                       [&](const Position& p) { return contains(corners(other), p); });
  }
  /// The kept outlines around one, the largest first.
  std::vector<std::size_t> around(std::size_t one) const {
    std::vector<std::size_t> found;
    for (const std::size_t i : order_) {
      if (i == one) {
        break;
      }
      if (why_[i] == Why::kept && is_inside(one, i)) {
        found.push_back(i);
      }
    }
    return found;
  }
  bool is_drawn_before(std::size_t one) const {
    return std::any_of(order_.begin(), order_.end(), [&](std::size_t i) {
      return why_[i] == Why::kept && boxes_[one].apart(boxes_[i]) * metres_ < same_m &&
             from(corners(one), corners(i)).most * metres_ < same_m &&
             from(corners(i), corners(one)).most * metres_ < same_m;
    });
  }
  /// How far inside `outer` the outline runs, where it does so all round as the other face of a
  /// wall.
  std::optional<Span> wall_between(std::size_t inner, std::size_t outer) const {
    if (boxes_[inner].apart(boxes_[outer]) * metres_ > 2.0 * most_wall_m) {
      return std::nullopt;
    }
    const Span in = from(corners(inner), corners(outer));
    const Span out = from(corners(outer), corners(inner));
    const bool is_wall = std::min(in.least, out.least) * metres_ >= least_wall_m &&
                         in.most * metres_ <= most_wall_m &&
                         out.most * metres_ <= most_wall_m * std::sqrt(2.0);  // at corners
    return is_wall ? std::optional(Span{in.least * metres_, in.most * metres_}) : std::nullopt;
  }
  bool runs_along(std::size_t inner, std::size_t outer) const {
    for (std::size_t i = 0; i < corners(inner).size(); ++i) {
      if (side_from(corners(inner), i, corners(outer)).most * metres_ <= most_wall_m) {
        return true;
      }
    }
    return false;
  }

  void judge(std::size_t one) {
    if (is_drawn_before(one)) {
      why_[one] = Why::twice;
      return;
    }
    const std::vector<std::size_t> outer = around(one);
    why_[one] = Why::kept;
    if (outer.empty()) {
      return;
    }
    const std::size_t next = outer.back();
    const bool is_in_roof = outer.size() % 2 == 1;
    const Outline& outermost = all_[outer.front()];
    if (!takes_rooms_ && (importing::small(all_[one].layer) != importing::small(outermost.layer) ||
                          all_[one].instance != outermost.instance)) {
      why_[one] = Why::room;
    } else if (const std::optional<Span> wall = wall_between(one, next)) {
      why_[is_in_roof ? one : next] = Why::face;  // the face of a courtyard is the inner one
      faces_.add(wall->least);
      faces_.add(wall->most);
    } else if (!takes_rooms_ && is_in_roof && runs_along(one, next)) {
      why_[one] = Why::room;
      with_rooms_.push_back(next);
    }
  }
  /// Where one outline is a room, the others beside it are rooms too.
  void leave_rooms() {
    for (std::size_t i = 0; i < all_.size(); ++i) {
      if (why_[i] == Why::kept &&
          std::any_of(with_rooms_.begin(), with_rooms_.end(),
                      [&](std::size_t outer) { return outer != i && is_inside(i, outer); })) {
        why_[i] = Why::room;
      }
    }
  }

  void tell_left(Why why, const Host& host, const char* what, const std::string& more) const {
    std::map<std::string, std::size_t> layers;
    for (std::size_t i = 0; i < all_.size(); ++i) {
      if (why_[i] == why) {
        ++layers[all_[i].layer];
      }
    }
    if (!layers.empty()) {
      host.note(fmt::format("left out, {}: closed outlines on {}{}", what, named(layers), more));
    }
  }
  void tell_courtyards(const Host& host) const {
    std::size_t count = 0;
    std::string text;
    for (const std::size_t i : order_) {
      if (why_[i] != Why::kept || around(i).size() % 2 == 0) {
        continue;
      }
      if (++count > most_named) {
        continue;
      }
      text += fmt::format("{}{:.2f} m2 from {} to {} on layer {}", text.empty() ? "" : "; ",
                          0.5 * std::abs(twice_area(corners(i))) * metres_ * metres_,
                          place_words(boxes_[i].low), place_words(boxes_[i].high), all_[i].layer);
    }
    if (count > 0) {
      host.note(fmt::format("outlines inside others make {}, open to the sky: {}{}",
                            importing::counted(count, "courtyard"), text,
                            count > most_named ? "; and more" : ""));
    }
  }

  std::vector<Outline>& all_;
  double metres_;  ///< of the drawing's unit
  bool takes_rooms_;
  std::vector<Why> why_;
  std::vector<Box> boxes_;
  std::vector<std::size_t> order_;       ///< the largest first
  std::vector<std::size_t> with_rooms_;  ///< the outlines around rooms
  Span faces_;
};

/// The layers that count: those with one of the words in their name; all where there are none.
struct Chosen {
  std::set<std::string> words;
  bool are_roofs = false;

  bool takes(const std::string& layer) const {
    return words.empty() || std::any_of(words.begin(), words.end(),
                                        [&](const std::string& word) { return has(layer, word); });
  }
  /// "on layers with "wall" or "mauer" in their name"; empty for all.
  std::string where() const {
    std::string text;
    for (const std::string& word : words) {
      text += (text.empty() ? " on layers with \"" : " or \"") + word + "\"";
    }
    return text.empty() ? "" : text + " in their name";
  }
};

Chosen layers_that_count(const Drawing& drawing, const Options& options) {
  Chosen walls;
  Chosen roofs{{}, true};
  for (const Outline& one : drawing.outlines) {
    if (is_for_gables(one.layer)) {
      continue;
    }
    for (const std::string& word : words_of_walls(one.layer)) {
      walls.words.insert(word);
    }
    for (const std::string& word : words_of_roofs(one.layer)) {
      roofs.words.insert(word);
    }
  }
  if (const std::string asked = importing::small(option(options, "layer", "")); !asked.empty()) {
    return {{asked}, !words_of_roofs(asked).empty() || has(asked, "drip")};
  }
  return walls.words.empty() && !roofs.words.empty() ? roofs : walls;
}

/// Where no layer is chosen, blocks beside outlines of the drawing itself are no houses.
void leave_furniture(Drawing& drawing, const Chosen& layers, const Host& host) {
  const bool has_own = std::any_of(drawing.outlines.begin(), drawing.outlines.end(),
                                   [](const Outline& one) { return one.instance == 0; });
  std::map<std::string, std::size_t> blocks;
  std::erase_if(drawing.outlines, [&](const Outline& one) {
    const bool is_left = layers.words.empty() && has_own && one.instance != 0;
    if (is_left) {
      ++blocks[drawing.instances.at(one.instance)];
    }
    return is_left;
  });
  if (!blocks.empty()) {
    host.note("passed over, closed outlines in blocks: " + named(blocks) +
              "; name their layer with the option layer to take them");
  }
}

/// Nothing is closed on the layers that were asked for: says what there is.
[[noreturn]] void refuse_layer(const Drawing& drawing, const Chosen& layers,
                               const std::map<std::string, std::size_t>& others) {
  const auto takes = [&](const std::string& layer) { return layers.takes(layer); };
  const std::string nearly = nearly_closed(drawing, takes);
  const std::string loose = nearly.empty() ? loose_ends(drawing, takes) : "";
  std::map<std::string, std::size_t> lines;
  for (const Stroke& stroke : drawing.strokes) {
    ++lines[stroke.layer];
  }
  std::string there = others.empty() ? "" : "; layers with closed outlines: " + named(others);
  there += lines.empty() ? "" : "; with lines: " + named(lines);
  throw Refused("",
                "there is no closed outline" + layers.where() +
                    (nearly.empty() ? "" : "; " + nearly) + (loose.empty() ? "" : "; " + loose),
                "draw walls or roofs as closed polylines, or as lines that join" + there);
}

/// Where the edge of a roof may run round walls, from them, and how far it may lie inside for what
/// was drawn by hand.
constexpr double most_overhang_m = 2.0;
constexpr double drawn_off_m = 0.005;

/// Whether the outline of a roof runs round the walls at an overhang's distance.
bool runs_round(const Outline& roof, const Outline& walls, double metres) {
  if (Box(roof.corners).apart(Box(walls.corners)) * metres > most_overhang_m) {
    return false;
  }
  return std::all_of(walls.corners.begin(), walls.corners.end(),
                     [&](const Position& p) {
                       return contains(roof.corners, p) ||
                              distance_to(roof.corners, p) * metres <= drawn_off_m;
                     }) &&
         from(roof.corners, walls.corners).most * metres <= most_overhang_m * std::sqrt(2.0);
}

/// Files the sides of outlines of roofs that run round walls as edges, which give overhangs.
void take_roof_edges(Drawing& drawing, const std::vector<Outline>& roofs, const Unit& unit,
                     const Host& host) {
  std::map<std::string, std::size_t> taken;
  std::map<std::string, std::size_t> other;
  for (const Outline& roof : roofs) {
    const bool is_round =
        roofs.size() <= most_outlines &&
        std::any_of(drawing.outlines.begin(), drawing.outlines.end(),
                    [&](const Outline& walls) { return runs_round(roof, walls, metres_in(unit)); });
    ++(is_round ? taken : other)[roof.layer];
    for (std::size_t i = 0; i < roof.corners.size() && is_round; ++i) {
      const Position& a = roof.corners[i];
      const Position& b = roof.corners[(i + 1) % roof.corners.size()];
      drawing.roof.push_back({RoofLine::Kind::edge, {a[0], a[1], 0.0}, {b[0], b[1], 0.0}});
    }
  }
  if (!taken.empty()) {
    host.note("outlines of roofs that run round the walls: " + named(taken));
  }
  if (!other.empty()) {
    host.note(
        "passed over, outlines of roofs that don't run round walls within 2 m, with their "
        "overhangs: " +
        named(other) + "; name their layer with the option layer to take them");
  }
}

/// Leaves the outlines on layers that count, and says which others there are; returns those of
/// roofs, where walls count.
std::vector<Outline> pick_layers(Drawing& drawing, const Chosen& layers, const Host& host) {
  std::erase_if(drawing.outlines, [](const Outline& one) { return is_for_gables(one.layer); });
  std::map<std::string, std::size_t> others;
  std::vector<Outline> roofs;
  std::erase_if(drawing.outlines, [&](const Outline& one) {
    const bool is_other = !layers.takes(one.layer);
    if (is_other && !layers.are_roofs && !one.is_in_space() && !roof_kind(one.layer) &&
        !words_of_roofs(one.layer).empty()) {
      roofs.push_back(one);
    } else {
      others[one.layer] += is_other ? 1U : 0U;
    }
    return is_other;
  });
  std::erase_if(others, [](const auto& one) { return one.second == 0; });
  if (drawing.outlines.empty()) {
    for (const Outline& roof : roofs) {
      ++others[roof.layer];
    }
    refuse_layer(drawing, layers, others);
  }
  const std::string nearly =
      nearly_closed(drawing, [&](const std::string& layer) { return layers.takes(layer); });
  if (!nearly.empty()) {
    host.note("left out, nearly closed: " + nearly);
  }
  if (!others.empty()) {
    host.note("passed over, closed outlines on other layers: " + named(others));
  }
  leave_furniture(drawing, layers, host);
  if (drawing.outlines.size() > most_outlines) {
    throw Refused("", "there are more than 500 outlines", "name their layer with the option layer");
  }
  return roofs;
}

}  // namespace

std::string pick(Drawing& drawing, const Unit& unit, const Options& options, const Host& host) {
  const Chosen layers = layers_that_count(drawing, options);
  const std::vector<Outline> roofs = pick_layers(drawing, layers, host);
  std::string drawn_to = option(options, "drawn_to", layers.are_roofs ? "drip" : "wall");
  if (drawn_to != "wall" && drawn_to != "drip") {
    throw Refused("", "drawn_to=" + drawn_to + " is not known", "give drawn_to=wall or drip");
  }
  double width = 0.0;
  for (const Outline& one : drawing.outlines) {
    const Box box(one.corners);
    width = std::max({width, box.high[0] - box.low[0], box.high[1] - box.low[1]});
  }
  check_size(width, unit, options, false, host);
  Nest nest(drawing.outlines, metres_in(unit), options.contains("layer"));
  nest.tell(host);
  nest.keep_picked();
  for (const Outline& one : drawing.outlines) {
    check_outline(one);
  }
  judge_sizes(drawing, unit, options, host);
  take_roof_edges(drawing, roofs, unit, host);
  host.note(importing::counted(drawing.outlines.size(), "closed outline") + layers.where() +
            ", taken as " + (drawn_to == "wall" ? "the outer faces of walls" : "drip lines"));
  return drawn_to;
}

}  // namespace ridgeward::dxf
