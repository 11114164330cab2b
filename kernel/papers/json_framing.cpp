#include "papers/json_framing.hpp"

#include "framing/cut_list.hpp"
#include "papers/json_pieces.hpp"

#include <nlohmann/json.hpp>

#include <cmath>

namespace ridgeward::papers {

namespace {

using Json = nlohmann::ordered_json;

Json word_or_none(const std::string& word) { return word.empty() ? Json() : Json(word); }

const char* word(framing::Lie lie) {
  switch (lie) {
    case framing::Lie::under_deck:
      return "under_deck";
    case framing::Lie::flat:
      return "flat";
    case framing::Lie::free:
      return "free";
  }
  return "under_deck";
}

/// What a piece is cut to; the same in the list of members and in the cut list.
void add_cuts(const framing::Member& m, Json& item) {
  item.update({{"length_m", m.length_m},
               {"long_point_m", m.long_point_m},
               {"short_point_m", m.short_point_m},
               {"tail_m", m.tail_m},
               {"overhang_m", m.overhang_m},
               {"plumb_cut_deg", degrees(m.plumb_cut_rad)},
               {"level_cut_deg", 90.0 - degrees(m.plumb_cut_rad)},
               {"side_cut_deg", degrees(m.side_cut_rad)},
               {"foot_side_cut_deg", degrees(m.foot_side_cut_rad)},
               {"backing_deg", degrees(m.backing_rad)},
               {"backing_left_deg", degrees(m.backing_left_rad)},
               {"backing_right_deg", degrees(m.backing_right_rad)},
               {"drop_m", m.drop_m},
               {"heel_cut_m", m.heel_cut_m},
               {"seat_cut_m", m.seat_cut_m},
               {"plies", m.plies}});
}

}  // namespace

Json members_json(const Assessment& a) {
  Json all = Json::array();
  for (const framing::Member& m : a.framing.members) {
    Json item{{"id", m.id},
              {"kind", framing::word(m.kind)},
              {"part", a.model.parts[m.part].id},
              {"plane", id_of(a.surface.planes, m.plane)},
              {"line", id_of(a.surface.lines, m.line)},
              {"line_length_m", m.line_length_m},
              {"from", point(m.from)},
              {"to", point(m.to)},
              {"at_m", m.at_m},
              {"layout_m", m.layout_m},
              {"stock", m.stock},
              {"thickness_m", m.thickness_m},
              {"depth_m", m.depth_m},
              {"lie", word(m.lie)}};
    add_cuts(m, item);
    item.update({{"head_shortening_m", m.head_shortening_m},
                 {"foot_shortening_m", m.foot_shortening_m},
                 {"over_plate_m", m.over_plate_m},
                 {"foot_header", id_of(a.framing.members, m.foot_header)},
                 {"head_header", id_of(a.framing.members, m.head_header)},
                 {"opening", word_or_none(m.opening)},
                 {"truss", word_or_none(m.truss)},
                 {"part_of", id_of(a.framing.members, m.part_of)}});
    all.push_back(std::move(item));
  }
  return all;
}

Json trusses_json(const Assessment& a) {
  Json all = Json::array();
  for (const framing::Truss& t : a.framing.trusses) {
    Json chords = Json::array();
    for (const MemberId chord : t.chords) {
      chords.push_back(a.framing.members[chord].id);
    }
    all.push_back({{"id", t.id},
                   {"kind", framing::word(t.kind)},
                   {"part", a.model.parts[t.part].id},
                   {"station_m", t.station_m},
                   {"span_m", t.span_m},
                   {"height_m", t.height_m},
                   {"flat_m", t.flat_m},
                   {"chords", chords}});
  }
  return all;
}

Json cut_list_json(const Assessment& a) {
  Json all = Json::array();
  for (const framing::CutLine& line : framing::cut_list(a.framing)) {
    Json item{{"part", a.model.parts[line.part].id},
              {"plane", id_of(a.surface.planes, line.plane)},
              {"kind", framing::word(line.kind)},
              {"count", line.count},
              {"marks", line.marks}};
    if (framing::is_truss(line.kind)) {
      item.update({{"span_m", line.truss.span_m},
                   {"height_m", line.truss.height_m},
                   {"flat_m", line.truss.flat_m}});
    } else {
      item["stock"] = line.stock;
      add_cuts(line.like, item);
    }
    all.push_back(std::move(item));
  }
  return all;
}

Json across_json(const Assessment& a, const framing::Bay& bay) {
  Json all = Json::array();
  for (const framing::Across& across : bay.across) {
    all.push_back({{"bay", id_of(a.framing.bays, across.bay)},
                   {"line", id_of(a.surface.lines, across.line)},
                   {"length_m", across.length_m}});
  }
  return all;
}

Json beyond_opening_json(const Assessment& a, const framing::Bay& bay) {
  Json all = Json::array();
  for (const BayId other : bay.beyond_opening) {
    all.push_back(a.framing.bays[other].id);
  }
  return all;
}

}  // namespace ridgeward::papers
