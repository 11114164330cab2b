#pragma once
// Whether two models are the same to the bit, their assumptions aside: the first difference in
// words, empty where there is none. Compares field by field, not by what write() writes.

#include "model/roof_model.hpp"

#include <string>

namespace ridgeward::tests {

class Difference {
 public:
  template <class T>
  void see(const char* field, const T& a, const T& b) {
    if (!(a == b) && words.empty()) {
      words = field;
    }
  }
  template <class List, class Each>
  void each(const char* field, const List& a, const List& b, Each compare) {
    see(field, a.size(), b.size());
    for (std::size_t i = 0; i < a.size() && i < b.size(); ++i) {
      compare(a[i], b[i]);
    }
  }
  void edges(const std::vector<model::Edge>& left, const std::vector<model::Edge>& right) {
    each("edges", left, right, [&](const model::Edge& a, const model::Edge& b) {
      see("edge.kind", a.kind, b.kind);
      see("edge.pitch", a.pitch, b.pitch);
      see("edge.overhang", a.overhang_m, b.overhang_m);
      see("edge.soffit", a.soffit, b.soffit);
      see("edge.from_height", a.from_height_m, b.from_height_m);
      see("edge.wall_height", a.wall_height_m, b.wall_height_m);
      each("edge.breaks", a.breaks, b.breaks, [&](const model::Break& x, const model::Break& y) {
        see("break.height", x.height_m, y.height_m);
        see("break.pitch", x.pitch, y.pitch);
      });
    });
  }
  void framing(const model::Framing& a, const model::Framing& b) {
    see("framing.kind", a.kind, b.kind);
    see("framing.spacing", a.spacing_m, b.spacing_m);
    see("framing.rafter", a.rafter, b.rafter);
    see("framing.ridge", a.ridge, b.ridge);
    see("framing.hip", a.hip, b.hip);
    see("framing.valley", a.valley, b.valley);
    see("framing.origin", a.origin_m, b.origin_m);
    see("framing.blocking", a.blocking, b.blocking);
    see("framing.lookouts", a.lookouts, b.lookouts);
    see("air_past.hips", a.air_past.hips, b.air_past.hips);
    see("air_past.valleys", a.air_past.valleys, b.air_past.valleys);
    see("air_past.headers", a.air_past.headers, b.air_past.headers);
    see("framing.collar_ties", a.collar_ties.has_value(), b.collar_ties.has_value());
    if (a.collar_ties && b.collar_ties) {
      see("collar_ties.height", a.collar_ties->height_m, b.collar_ties->height_m);
      see("collar_ties.every", a.collar_ties->every, b.collar_ties->every);
      see("collar_ties.stock", a.collar_ties->stock, b.collar_ties->stock);
    }
    each("framing.measured", a.measured, b.measured,
         [&](const model::MeasuredEdge& x, const model::MeasuredEdge& y) {
           see("measured.edge", x.edge, y.edge);
           see("measured.at", x.at_m, y.at_m);
           see("measured.stopped", x.stopped_m, y.stopped_m);
         });
  }
  void parts(const std::vector<model::Part>& left, const std::vector<model::Part>& right) {
    each("parts", left, right, [&](const model::Part& a, const model::Part& b) {
      see("part.id", a.id, b.id);
      see("part.outline", a.outline, b.outline);
      edges(a.edges, b.edges);
      each("part.holes", a.holes, b.holes, [&](const model::Hole& x, const model::Hole& y) {
        see("hole.outline", x.outline, y.outline);
        edges(x.edges, y.edges);
      });
      see("part.drawn_to", a.drawn_to, b.drawn_to);
      see("part.wall_thickness", a.wall_thickness_m, b.wall_thickness_m);
      see("part.plate", a.plate_m, b.plate_m);
      see("part.heel", a.heel_m, b.heel_m);
      see("part.deck", a.deck_m, b.deck_m);
      see("part.fascia", a.fascia, b.fascia);
      see("part.valleys", a.valleys, b.valleys);
      see("part.deck_openings", a.deck_openings, b.deck_openings);
      see("part.flat_top", a.flat_top_m, b.flat_top_m);
      framing(a.framing, b.framing);
    });
  }
  void inside(const model::RoofModel& left, const model::RoofModel& right) {
    each("ceilings", left.ceilings, right.ceilings,
         [&](const model::Ceiling& a, const model::Ceiling& b) {
           see("ceiling.id", a.id, b.id);
           see("ceiling.kind", a.kind, b.kind);
           see("ceiling.outline", a.outline, b.outline);
           see("ceiling.height", a.height_m, b.height_m);
           see("ceiling.insulation", a.insulation_m, b.insulation_m);
           see("ceiling.baffles", a.baffles, b.baffles);
         });
    each("dividers", left.dividers, right.dividers,
         [&](const model::Divider& a, const model::Divider& b) {
           see("divider.id", a.id, b.id);
           see("divider.from", a.from, b.from);
           see("divider.to", a.to, b.to);
         });
    each("obstacles", left.obstacles, right.obstacles,
         [&](const model::Obstacle& a, const model::Obstacle& b) {
           see("obstacle.id", a.id, b.id);
           see("obstacle.kind", a.kind, b.kind);
           see("obstacle.outline", a.outline, b.outline);
           see("obstacle.plane", a.plane, b.plane);
           see("obstacle.at", a.at, b.at);
           see("obstacle.size", a.size, b.size);
           see("obstacle.clearance", a.clearance_m, b.clearance_m);
           see("obstacle.cricket", a.cricket, b.cricket);
         });
  }
  void vents(const model::RoofModel& left, const model::RoofModel& right) {
    each("intake", left.intake, right.intake,
         [&](const model::IntakeRun& a, const model::IntakeRun& b) {
           see("intake.id", a.id, b.id);
           see("intake.product", a.product, b.product);
           see("intake.plane", a.plane, b.plane);
           see("intake.position", a.position, b.position);
           see("intake.from", a.from_m, b.from_m);
           see("intake.to", a.to_m, b.to_m);
           see("intake.whole", a.whole, b.whole);
           see("intake.every", a.every_m, b.every_m);
         });
    each("exhaust", left.exhaust, right.exhaust,
         [&](const model::ExhaustVent& a, const model::ExhaustVent& b) {
           see("exhaust.id", a.id, b.id);
           see("exhaust.product", a.product, b.product);
           see("exhaust.line", a.line, b.line);
           see("exhaust.whole", a.whole, b.whole);
           see("exhaust.from", a.from_m, b.from_m);
           see("exhaust.to", a.to_m, b.to_m);
           see("exhaust.plane", a.plane, b.plane);
           see("exhaust.wall", a.wall, b.wall);
           see("exhaust.at", a.at, b.at);
         });
  }
  void air(const model::Air& left, const model::Air& right) {
    see("air.wind", left.wind_ms, right.wind_ms);
    see("air.shelter", left.shelter, right.shelter);
    see("air.inside_winter", left.inside_winter_c, right.inside_winter_c);
    see("air.inside_summer", left.inside_summer_c, right.inside_summer_c);
    see("air.inside_humidity", left.inside_humidity, right.inside_humidity);
    see("air.ceiling_leakage", left.ceiling_leakage_cm2_m2, right.ceiling_leakage_cm2_m2);
    see("air.house_leakage", left.house_leakage_cm2_m2, right.house_leakage_cm2_m2);
    see("air.absorptance", left.absorptance, right.absorptance);
    each("air.cases", left.cases, right.cases,
         [&](const model::AirCase& a, const model::AirCase& b) {
           see("air_case.name", a.name, b.name);
           see("air_case.outside", a.outside_c, b.outside_c);
           see("air_case.inside", a.inside_c, b.inside_c);
           see("air_case.attic", a.attic_c, b.attic_c);
           see("air_case.wind", a.wind_ms, b.wind_ms);
           see("air_case.wind_from", a.wind_from_deg, b.wind_from_deg);
           see("air_case.sun", a.sun, b.sun);
           see("air_case.clear_sky", a.clear_sky, b.clear_sky);
           see("air_case.snow", a.snow_m, b.snow_m);
           see("air_case.fans", a.fans, b.fans);
         });
  }
  std::string words;
};

inline std::string difference(const model::RoofModel& left, const model::RoofModel& right) {
  Difference found;
  found.see("name", left.name, right.name);
  found.see("units", left.unit, right.unit);
  found.see("site.north", left.site.north_deg, right.site.north_deg);
  found.see("site.code", left.site.code, right.site.code);
  found.see("site.climate_zone", left.site.climate_zone, right.site.climate_zone);
  found.see("site.snow", left.site.snow, right.site.snow);
  found.see("site.exposure", left.site.exposure, right.site.exposure);
  found.see("site.winter", left.site.winter_c, right.site.winter_c);
  found.see("site.summer", left.site.summer_c, right.site.summer_c);
  found.see("roofing.exposure", left.roofing.exposure_m, right.roofing.exposure_m);
  found.see("roofing.starter", left.roofing.starter_m, right.roofing.starter_m);
  found.see("roofing.ice_barrier", left.roofing.ice_barrier, right.roofing.ice_barrier);
  found.see("roofing.ice_barrier_from", left.roofing.ice_barrier_from,
            right.roofing.ice_barrier_from);
  found.see("prices", left.prices, right.prices);
  found.parts(left.parts, right.parts);
  found.inside(left, right);
  found.vents(left, right);
  found.air(left.air, right.air);
  return found.words;
}

}  // namespace ridgeward::tests
