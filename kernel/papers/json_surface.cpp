#include "papers/json_surface.hpp"

#include "papers/json_pieces.hpp"

#include <nlohmann/json.hpp>

#include <cmath>

namespace ridgeward::papers {

namespace {

using Json = nlohmann::ordered_json;

Json outline_of(const surface::Frame& frame, const std::vector<glm::dvec2>& loop) {
  Json outline = Json::array();
  for (const glm::dvec2 uv : loop) {
    outline.push_back(point(frame.at(uv)));
  }
  return outline;
}

/// What stands on a plane.
Json openings(const Assessment& a, PlaneId plane) {
  const surface::Frame& frame = a.surface.planes[plane].frame;
  Json all = Json::array();
  for (const surface::Region& region : a.surface.regions) {
    if (region.plane == plane) {
      all.push_back({{"id", region.id},
                     {"kind", model::word(region.kind)},
                     {"cuts_deck", region.is_opening},
                     {"outline", outline_of(frame, region.outline_uv)},
                     {"clear_outline", outline_of(frame, region.clear_uv)}});
    }
  }
  return all;
}

}  // namespace

Json planes_json(const Assessment& a) {
  Json all = Json::array();
  for (const PlaneId id : a.surface.planes.ids()) {
    const surface::Plane& p = a.surface.planes[id];
    const takeoff::Lengths& l = a.takeoff.planes[id];
    Json outline = Json::array();
    Json holes = Json::array();
    for (std::size_t k = 0; k < p.loops.size(); ++k) {
      Json loop = Json::array();
      for (const glm::dvec3& c : surface::corners(a.surface, p.loops[k])) {
        loop.push_back(point(c));
      }
      (k == 0 ? outline : holes.emplace_back()) = loop;
    }
    Json plane{{"id", p.id},
               {"part", a.model.parts[p.part].id},
               {"edge", p.edge},
               {"pitch_in_12", p.pitch.in_12()},
               {"slope_deg", p.pitch.degrees()},
               {"azimuth_deg", degrees(p.azimuth_rad)},
               {"area_m2", p.area_m2},
               {"plan_area_m2", p.plan_area_m2},
               {"eave_m", l.eave_m},
               {"rake_m", l.rake_m},
               {"ridge_m", l.ridge_m},
               {"hip_m", l.hip_m},
               {"valley_m", l.valley_m},
               {"wall_m", l.wall_m},
               {"outline", outline}};
    if (!holes.empty()) {
      plane["more_outlines"] = holes;
    }
    if (Json inside = openings(a, id); !inside.empty()) {
      plane["openings"] = std::move(inside);
    }
    all.push_back(plane);
  }
  return all;
}

Json blind_decks_json(const Assessment& a) {
  Json all = Json::array();
  for (const surface::BlindDeck& deck : a.surface.blind_decks) {
    const auto outlines = [&](const std::vector<std::vector<glm::dvec2>>& loops) {
      Json list = Json::array();
      for (const std::vector<glm::dvec2>& loop : loops) {
        list.push_back(outline_of(deck.frame, loop));
      }
      return list;
    };
    all.push_back({{"plane", id_of(a.surface.planes, deck.plane)},
                   {"under", deck.cricket.empty() ? a.model.parts[deck.part].id : deck.cricket},
                   {"area_m2", deck.area_m2},
                   {"outlines", outlines(deck.outline_uv)},
                   {"openings", outlines(deck.openings_uv)}});
  }
  return all;
}

Json lines_json(const Assessment& a) {
  Json all = Json::array();
  for (const surface::Line& line : a.surface.lines) {
    if (line.kind == surface::LineKind::wall_edge) {
      continue;
    }
    Json beside = Json::array();
    for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
      if (!plane.is_none()) {
        beside.push_back(a.surface.planes[plane].id);
      }
    }
    all.push_back({{"id", line.id},
                   {"kind", surface::word(line.kind)},
                   {"length_m", line.length_m},
                   {"plan_length_m", line.plan_length_m},
                   {"planes", beside},
                   {"from", point(a.surface.nodes[line.from])},
                   {"to", point(a.surface.nodes[line.to])}});
  }
  return all;
}

}  // namespace ridgeward::papers
