#include "dxf/chains.hpp"

#include "dxf/in_space.hpp"
#include "dxf/outlines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <utility>

namespace ridgeward::dxf {

namespace {

/// Of the longest line: what counts as one point, and what is joined but told.
constexpr double same_share = 1e-4;
constexpr double joined_share = 5e-4;

double distance(const Position& a, const Position& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1]);
}

/// A stroke as it is walked along.
struct Step {
  std::size_t stroke = 0;
  bool is_forward = true;
};

/// Strokes of one layer and block, and the nodes that their ends make.
class Web {
 public:
  Web(const std::vector<Stroke>& strokes, double reach) : strokes_(strokes), reach_(reach) {
    used_.assign(strokes.size(), false);
    for (std::size_t i = 0; i < strokes.size(); ++i) {
      ends_.push_back({node_of(strokes[i].from), node_of(strokes[i].to)});
      for (const std::size_t node : ends_[i]) {
        at_[node].push_back(i);
      }
      used_[i] = ends_[i][0] == ends_[i][1];
    }
    is_aside_ = used_;
  }

  /// Sets aside what leads nowhere: strokes with an end that no other has.
  void prune() {
    std::vector<std::size_t> loose;
    for (std::size_t node = 0; node < at_.size(); ++node) {
      loose.push_back(node);
    }
    while (!loose.empty()) {
      const std::size_t node = loose.back();
      loose.pop_back();
      std::size_t last = 0;
      const auto count = std::count_if(at_[node].begin(), at_[node].end(), [&](std::size_t i) {
        last = used_[i] ? last : i;
        return !used_[i];
      });
      if (count == 1) {
        used_[last] = true;
        is_aside_[last] = true;
        loose.push_back(ends_[last][ends_[last][0] == node ? 1 : 0]);
      }
    }
  }
  /// Walks on from a stroke until its start comes round, or nothing goes on.
  std::vector<Step> walk(Step first) {
    std::vector<Step> path{first};
    used_[first.stroke] = true;
    const std::size_t start = node_at(first, false);
    std::size_t node = node_at(first, true);
    while (node != start || path.size() < 3) {
      const auto next = std::find_if(at_[node].begin(), at_[node].end(),
                                     [&](std::size_t i) { return !used_[i]; });
      if (next == at_[node].end()) {
        break;
      }
      path.push_back({*next, ends_[*next][0] == node});
      used_[*next] = true;
      node = node_at(path.back(), true);
    }
    return path;
  }
  bool closes(const std::vector<Step>& path) const {
    return path.size() > 2 && node_at(path.front(), false) == node_at(path.back(), true);
  }
  void give_back(const std::vector<Step>& path) {
    for (const Step& step : path) {
      used_[step.stroke] = false;
    }
  }
  bool is_used(std::size_t i) const { return used_[i]; }
  /// Whether it is part of an outline that was walked round.
  bool is_taken(std::size_t i) const { return used_[i] && !is_aside_[i]; }
  const Position& start_of(const Step& step) const {
    return step.is_forward ? strokes_[step.stroke].from : strokes_[step.stroke].to;
  }
  const Position& end_of(const Step& step) const {
    return step.is_forward ? strokes_[step.stroke].to : strokes_[step.stroke].from;
  }

 private:
  std::size_t node_at(const Step& step, bool is_end) const {
    return ends_[step.stroke].at(step.is_forward == is_end ? 1 : 0);
  }
  /// The nearest node within reach, or a new one.
  std::size_t node_of(const Position& p) {
    const Position cell{std::floor(p[0] / reach_), std::floor(p[1] / reach_)};
    std::size_t best = nodes_.size();
    double least = reach_;
    constexpr std::array<Position, 9> around{
        {{-1, -1}, {-1, 0}, {-1, 1}, {0, -1}, {0, 0}, {0, 1}, {1, -1}, {1, 0}, {1, 1}}};
    for (const Position& by : around) {
      for (const std::size_t node : cells_[{cell[0] + by[0], cell[1] + by[1]}]) {
        if (distance(nodes_[node], p) <= least) {
          least = distance(nodes_[node], p);
          best = node;
        }
      }
    }
    if (best == nodes_.size()) {
      nodes_.push_back(p);
      at_.emplace_back();
      cells_[cell].push_back(best);
    }
    return best;
  }

  const std::vector<Stroke>& strokes_;
  double reach_;
  std::vector<bool> used_;
  std::vector<bool> is_aside_;  ///< used, but in no outline: points, and what was pruned
  std::vector<Position> nodes_;
  std::map<Position, std::vector<std::size_t>> cells_;
  std::vector<std::vector<std::size_t>> at_;      ///< strokes at each node
  std::vector<std::array<std::size_t, 2>> ends_;  ///< nodes of each stroke
};

/// Closes what joins within `reach` and leaves the rest. Joints wider than `told` are counted.
void close_within(std::vector<Stroke>& strokes, double reach, double told, Drawing& drawing) {
  if (strokes.empty() || !(reach > 0.0)) {
    return;
  }
  Web web(strokes, reach);
  web.prune();
  for (std::size_t i = strokes.size(); i-- > 0;) {
    if (web.is_used(i)) {
      continue;
    }
    const std::vector<Step> path = web.walk({i, true});
    if (!web.closes(path)) {
      web.give_back(path);
      continue;
    }
    Outline outline{strokes[i].layer, {}, {}, 0.0, strokes[i].instance};
    const Position* end = &web.end_of(path.back());
    for (const Step& step : path) {
      const double gap = distance(*end, web.start_of(step));
      drawing.joins += gap > told ? 1U : 0U;
      drawing.widest_join = std::max(drawing.widest_join, gap > told ? gap : 0.0);
      end = &web.end_of(step);
      outline.corners.push_back(web.start_of(step));
      outline.sagitta = std::max(outline.sagitta, strokes[step.stroke].sagitta);
    }
    drawing.outlines.push_back(std::move(outline));
  }
  std::size_t i = 0;
  std::erase_if(strokes, [&](const Stroke&) { return web.is_taken(i++); });
}

/// Files the chains that are left.
void file_open(const std::vector<Stroke>& strokes, double reach, Drawing& drawing) {
  if (strokes.empty() || !(reach > 0.0)) {
    return;
  }
  Web web(strokes, reach);
  for (std::size_t i = 0; i < strokes.size(); ++i) {
    if (web.is_used(i)) {
      continue;
    }
    const std::vector<Step> ahead = web.walk({i, true});
    const std::vector<Step> back = web.walk({i, false});
    OpenChain chain{strokes[i].layer, web.end_of(back.back()), web.end_of(ahead.back()),
                    ahead.size() + back.size() - 1, 0.0};
    for (const std::vector<Step>* path : {&ahead, &back}) {
      for (const Step& step : *path) {
        const bool is_twice = path == &back && step.stroke == i;
        chain.length += is_twice ? 0.0 : distance(web.start_of(step), web.end_of(step));
      }
    }
    drawing.open.push_back(std::move(chain));
  }
}

/// Takes out strokes that run where one did before, either way round.
void drop_doubles(std::vector<Stroke>& strokes, double reach, Drawing& drawing) {
  std::vector<Stroke> kept;
  for (Stroke& stroke : strokes) {
    const bool is_there = std::any_of(kept.begin(), kept.end(), [&](const Stroke& one) {
      const auto same = [&](const Position& from, const Position& to) {
        return std::abs(from[0] - one.from[0]) <= reach &&
               std::abs(from[1] - one.from[1]) <= reach && std::abs(to[0] - one.to[0]) <= reach &&
               std::abs(to[1] - one.to[1]) <= reach;
      };
      return same(stroke.from, stroke.to) || same(stroke.to, stroke.from);
    });
    if (is_there && distance(stroke.from, stroke.to) > reach) {
      ++drawing.doubles[stroke.layer];
    } else {
      kept.push_back(std::move(stroke));
    }
  }
  strokes = std::move(kept);
}

/// The two ends, of different strokes, that lie nearest to each other of those where no other
/// stroke ends; none where there are not two.
struct Opening {
  Position from{0.0, 0.0};
  Position to{0.0, 0.0};
  double width = HUGE_VAL;
};
Opening nearest_opening(const std::vector<const Stroke*>& strokes, double reach) {
  struct End {
    Position at;
    std::size_t stroke;
  };
  std::vector<End> ends;
  for (std::size_t i = 0; i < strokes.size(); ++i) {
    ends.push_back({strokes[i]->from, i});
    ends.push_back({strokes[i]->to, i});
  }
  std::vector<End> loose;
  std::copy_if(ends.begin(), ends.end(), std::back_inserter(loose), [&](const End& end) {
    return std::none_of(ends.begin(), ends.end(), [&](const End& other) {
      return other.stroke != end.stroke && distance(other.at, end.at) <= reach;
    });
  });
  Opening best;
  for (std::size_t i = 0; i < loose.size(); ++i) {
    for (std::size_t k = i + 1; k < loose.size(); ++k) {
      const double width = distance(loose[i].at, loose[k].at);
      if (loose[i].stroke != loose[k].stroke && width < best.width) {
        best = {loose[i].at, loose[k].at, width};
      }
    }
  }
  return best;
}

}  // namespace

void close_strokes(Drawing& drawing) {
  std::map<std::pair<std::string, std::size_t>, std::vector<Stroke>> groups;
  for (Stroke& stroke : drawing.strokes) {
    groups[{stroke.layer, stroke.instance}].push_back(std::move(stroke));
  }
  drawing.strokes.clear();
  for (auto& [key, strokes] : groups) {
    double longest = 0.0;
    for (const Stroke& stroke : strokes) {
      longest = std::max(longest, distance(stroke.from, stroke.to));
    }
    drop_doubles(strokes, same_share * longest, drawing);
    const auto arcs = std::stable_partition(strokes.begin(), strokes.end(),
                                            [](const Stroke& one) { return !(one.sagitta > 0.0); });
    const std::vector<Stroke> curved(arcs, strokes.end());
    strokes.erase(arcs, strokes.end());
    close_within(strokes, same_share * longest, longest, drawing);
    strokes.insert(strokes.end(), curved.begin(), curved.end());
    close_within(strokes, same_share * longest, longest, drawing);
    close_within(strokes, joined_share * longest, same_share * longest, drawing);
    file_open(strokes, joined_share * longest, drawing);
    drawing.strokes.insert(drawing.strokes.end(), strokes.begin(), strokes.end());
  }
}

std::string nearly_closed(const Drawing& drawing, const Takes& takes) {
  const OpenChain* best = nullptr;
  for (const OpenChain& chain : drawing.open) {
    const bool is_near = chain.lines > 2 && distance(chain.from, chain.to) < 0.5 * chain.length &&
                         takes(chain.layer) && !is_for_gables(chain.layer);
    if (is_near && (best == nullptr || chain.length > best->length)) {
      best = &chain;
    }
  }
  if (best == nullptr) {
    return "";
  }
  return fmt::format(
      "on layer {} {} lines run end to end from {} to {}, which lie {:.4g} units of the drawing "
      "apart",
      best->layer, best->lines, place_words(best->from), place_words(best->to),
      distance(best->from, best->to));
}

std::string loose_ends(const Drawing& drawing, const Takes& takes) {
  constexpr std::size_t most = 4000;
  std::map<std::pair<std::string, std::size_t>, std::vector<const Stroke*>> groups;
  for (const Stroke& stroke : drawing.strokes) {
    if (takes(stroke.layer) && !is_for_gables(stroke.layer)) {
      groups[{stroke.layer, stroke.instance}].push_back(&stroke);
    }
  }
  const auto fullest = std::max_element(
      groups.begin(), groups.end(),
      [](const auto& one, const auto& other) { return one.second.size() < other.second.size(); });
  if (fullest == groups.end() || fullest->second.size() < 3 || fullest->second.size() > most) {
    return "";
  }
  double longest = 0.0;
  for (const Stroke* stroke : fullest->second) {
    longest = std::max(longest, distance(stroke->from, stroke->to));
  }
  const Opening opening = nearest_opening(fullest->second, joined_share * longest);
  if (!(opening.width < 0.5 * longest)) {
    return "";
  }
  return fmt::format(
      "the {} lines on layer {} don't join: of their open ends those at {} and {} lie nearest, "
      "{:.4g} units of the drawing apart",
      fullest->second.size(), fullest->first.first, place_words(opening.from),
      place_words(opening.to), opening.width);
}

}  // namespace ridgeward::dxf
