// Live or not, and why: a search from the exhausts backwards through all open joins, once for the
// whole house, and the way from each bay told in words.
#include "vents/pieces.hpp"

#include <algorithm>
#include <deque>
#include <map>

namespace ridgeward::vents {

namespace {

using attic::Join;
using attic::JoinKind;
using attic::Space;
using attic::SpaceKind;

constexpr std::size_t unreached = static_cast<std::size_t>(-1);

/// The way out of one space.
struct Out {
  std::size_t steps = unreached;
  JoinId join;  ///< the first on the way; none where the exhaust stands over this space
  ExhaustId exhaust;
};

std::string spaced(std::string words) {
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

/// "ridge vent top"; "the ridge vent" where its id says no more than its kind.
std::string kind_and_id(const std::string& kind, const std::string& id) {
  const bool says_nothing_new = (" " + kind + " ").find(" " + id + " ") != std::string::npos;
  return says_nothing_new ? "the " + kind : kind + " " + id;
}

class Search {
 public:
  explicit Search(const Site& site) : site_(site), out_(site.attic.spaces.size()) {
    doors_.resize(site.attic.spaces.size());
    for (const JoinId id : site.attic.joins.ids()) {
      const Join& join = site.attic.joins[id];
      if (join.is_open && join.kind != JoinKind::over_plate) {
        doors_[join.one].push_back(id);
        doors_[join.other].push_back(id);
        if (!join.bay.is_none()) {
          through_[join.bay.value].push_back(id);
        }
      }
    }
  }

  void run(const Vents& vents);
  BayState state(BayId bay, const Vents& vents) const;

 private:
  void start(SpaceId space, ExhaustId exhaust, std::deque<SpaceId>& open);
  SpaceId across(JoinId id, SpaceId from) const {
    const Join& join = site_.attic.joins[id];
    return join.one == from ? join.other : join.one;
  }
  JoinId next(BayId bay, SpaceId from) const;
  std::string step_words(const Step& step, SpaceId from, bool is_first) const;
  std::string dead_end(BayId bay) const;
  std::string cut_words(BayId bay) const;
  std::string opening_at(MemberId header) const { return site_.framing.members[header].opening; }

  const Site& site_;
  IndexedVector<SpaceId, std::vector<JoinId>> doors_;
  std::map<std::uint32_t, std::vector<JoinId>> through_;  ///< by bay
  IndexedVector<SpaceId, Out> out_;
};

void Search::start(SpaceId space, ExhaustId exhaust, std::deque<SpaceId>& open) {
  if (!space.is_none() && out_[space].steps == unreached) {
    out_[space] = {0, {}, exhaust};
    open.push_back(space);
  }
}

void Search::run(const Vents& vents) {
  std::deque<SpaceId> open;
  for (const ExhaustId id : vents.exhausts.ids()) {
    const Exhaust& exhaust = vents.exhausts[id];
    for (const ExhaustShare& share : exhaust.shares) {
      if (share.free_area_m2 > 0.0) {
        start(share.space, id, open);
      }
    }
    if (!exhaust.shares.empty() || exhaust.compartment.is_none()) {
      continue;
    }
    const glm::dvec3 middle = 0.5 * (exhaust.from + exhaust.to);
    const SpaceId under = site_.attic.attic_under({middle.x, middle.y});
    const bool is_own =
        !under.is_none() && site_.attic.spaces[under].compartment == exhaust.compartment;
    start(is_own ? under : site_.attic.compartments[exhaust.compartment].spaces.front(), id, open);
  }
  while (!open.empty()) {
    const SpaceId here = open.front();
    open.pop_front();
    for (const JoinId door : doors_[here]) {
      const SpaceId there = across(door, here);
      if (out_[there].steps == unreached) {
        out_[there] = {out_[here].steps + 1, door, out_[here].exhaust};
        open.push_back(there);
      }
    }
  }
}

/// The next join on a shortest way out; the bay's own where there is one.
JoinId Search::next(BayId bay, SpaceId from) const {
  const auto own = through_.find(bay.value);
  if (own != through_.end()) {
    for (const JoinId id : own->second) {
      const Join& join = site_.attic.joins[id];
      const bool is_here = join.one == from || join.other == from;
      if (is_here && out_[across(id, from)].steps + 1 == out_[from].steps) {
        return id;
      }
    }
  }
  return out_[from].join;
}

std::string Search::step_words(const Step& step, SpaceId from, bool is_first) const {
  const Join& join = site_.attic.joins[step.join];
  const Space& into = site_.attic.spaces[step.into];
  const auto bay_id = [&](BayId bay) {
    return bay.is_none() ? std::string() : site_.framing.bays[bay].id;
  };
  const auto line_id = [&] { return site_.surface.lines[join.line].id; };
  switch (join.kind) {
    case JoinKind::bay_end:
      if (into.kind == SpaceKind::attic) {
        return "into " + into.id;
      }
      return "over the knee wall up bay " + bay_id(join.bay);
    case JoinKind::goes_on:
      return "on under " + into.ceiling;
    case JoinKind::side_by_side:
      return "on into " + into.id;
    case JoinKind::pitch_break:
      return "past the pitch break " + line_id() + " into " +
             (into.bay.is_none() ? into.id : "bay " + bay_id(into.bay));
    case JoinKind::line_gap: {
      if (into.kind != SpaceKind::gap) {
        return "into " + (into.bay.is_none() ? into.id : "bay " + bay_id(into.bay));
      }
      const bool is_on = site_.attic.spaces[from].kind == SpaceKind::gap && !is_first;
      const bool is_hip = site_.surface.lines[into.line].kind == surface::LineKind::hip;
      return std::string(is_on ? "on " : "") + "along the " + (is_hip ? "hip " : "valley ") +
             site_.surface.lines[into.line].id;
    }
    case JoinKind::header: {
      const framing::Bay& bay = site_.framing.bays[join.bay];
      const MemberId header = bay.head_header.is_none() ? bay.foot_header : bay.head_header;
      return "through the holes beside the header at " + opening_at(header) + " into " +
             (into.bay.is_none() ? into.id : "bay " + bay_id(into.bay));
    }
    case JoinKind::deck_opening:
      return "through the opening in the blind deck into " + into.id;
    case JoinKind::over_plate:
      break;
  }
  return "over the plate into " + into.id;
}

/// What the upper end of a rafter space without a way out comes to.
std::string Search::dead_end(BayId id) const {
  const framing::Bay& bay = site_.framing.bays[id];
  const std::vector<attic::Stretch>& stretches = site_.attic.bays[id].stretches;
  const double top_v = stretches.back().high_v_m;
  double reach_v = top_v;
  for (const glm::dvec2 corner : bay.outline) {
    reach_v = std::max(reach_v, corner.y);
  }
  constexpr double clearly_m = 0.05;
  if (reach_v - top_v > clearly_m && bay.head_header.is_none()) {
    return "ends where its ceiling ends, and nothing joins it on";
  }
  if (stretches.size() > 1) {
    return "is shut along the way: no height is left over the insulation, or a divider stands "
           "there";
  }
  if (!bay.head_header.is_none()) {
    return "dies at the header below " + opening_at(bay.head_header) + ": nothing joins it on";
  }
  if (bay.head.is_none()) {
    return "ends beneath a roof laid over it, and nothing joins it on";
  }
  const surface::Line& head = site_.surface.lines[bay.head];
  const std::string name = spaced(surface::word(head.kind)) + " " + head.id;
  if (head.kind == surface::LineKind::ridge || head.kind == surface::LineKind::shed_top) {
    return "ends at the " + name + ", where no vent opens it";
  }
  return "dies at the " + name + ": nothing joins it on";
}

/// Where an opening cuts a bay short, the words that say so.
std::string Search::cut_words(BayId id) const {
  const framing::Bay& bay = site_.framing.bays[id];
  std::string words;
  if (!bay.foot_header.is_none()) {
    words += "; starts at the header above " + opening_at(bay.foot_header);
  }
  if (!bay.head_header.is_none()) {
    words += "; ends at the header below " + opening_at(bay.head_header);
  }
  return words;
}

BayState Search::state(BayId bay, const Vents& vents) const {
  const attic::BayPlace& place = site_.attic.bays[bay];
  BayState state;
  if (place.space.is_none()) {
    state.why = place.why + cut_words(bay);
    return state;
  }
  const Space& first = site_.attic.spaces[place.space];
  const bool is_rafter_space = first.kind == SpaceKind::rafter_space;
  state.why = is_rafter_space ? "up the bay" : "into " + first.id;
  if (out_[place.space].steps == unreached) {
    const bool is_alone = site_.attic.compartments[place.compartment].spaces.size() == 1;
    if (is_rafter_space && is_alone) {
      state.why = dead_end(bay);
    } else {
      state.why += ", which has no exhaust" + cut_words(bay);
    }
    return state;
  }
  state.live = true;
  state.exhaust = out_[place.space].exhaust;
  for (SpaceId here = place.space; out_[here].steps > 0;) {
    const JoinId join = next(bay, here);
    const Step step{join, across(join, here)};
    state.why += ", " + step_words(step, here, state.path.empty());
    state.path.push_back(step);
    here = step.into;
    state.exhaust = out_[here].exhaust;
  }
  const Exhaust& exhaust = vents.exhausts[state.exhaust];
  state.why +=
      ", out at " + kind_and_id(spaced(model::word(exhaust.kind)), exhaust.id) + cut_words(bay);
  return state;
}

}  // namespace

void tell_bays(const Site& site, Vents& vents) {
  Search search(site);
  search.run(vents);
  vents.bays.reserve(site.framing.bays.size());
  for (const BayId id : site.framing.bays.ids()) {
    vents.bays.push_back(search.state(id, vents));
  }
}

}  // namespace ridgeward::vents
