// Writes a model so that read() takes it back unchanged, in the model's own unit.
#include "model/read.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <array>
#include <charconv>
#include <cmath>

namespace ridgeward::model {

namespace {

using Json = nlohmann::ordered_json;

const char* word(units::LengthUnit unit) {
  constexpr std::array<const char*, 4> words{"ft", "in", "m", "mm"};
  return words.at(static_cast<std::size_t>(unit));
}

const char* word(EdgeKind kind) {
  constexpr std::array<const char*, 6> words{"eave",     "gable",    "gablet",
                                             "half_hip", "shed_top", "wall"};
  return words.at(static_cast<std::size_t>(kind));
}

const char* word(Soffit soffit) {
  constexpr std::array<const char*, 4> words{"none", "open", "vented", "closed"};
  return words.at(static_cast<std::size_t>(soffit));
}

const char* word(Blocking blocking) {
  constexpr std::array<const char*, 3> words{"none", "vented", "solid"};
  return words.at(static_cast<std::size_t>(blocking));
}

const char* word(IceBarrier barrier) {
  constexpr std::array<const char*, 3> words{"by_climate", "required", "none"};
  return words.at(static_cast<std::size_t>(barrier));
}

const char* word(Cricket cricket) {
  constexpr std::array<const char*, 3> words{"where_needed", "always", "none"};
  return words.at(static_cast<std::size_t>(cricket));
}

const char* word(CeilingKind kind) {
  constexpr std::array<const char*, 4> words{"flat", "sloped", "open", "unvented"};
  return words.at(static_cast<std::size_t>(kind));
}

/// The shortest decimal number of `unit` that reads back as `length_m`.
double in_unit(double length_m, units::LengthUnit unit) {
  const double metres = units::metres_in(unit);
  const double exact = length_m / metres;
  double scale = 1.0;
  for (int decimals = 0; decimals <= 12; ++decimals, scale *= 10.0) {
    const double rounded = std::round(exact * scale) / scale;
    if (units::on_grid(rounded * metres) == length_m) {
      return rounded;
    }
  }
  return exact;
}

/// "8/12", "35 deg" or "66.7 %" where that reads back the same, a run of 1 with all digits
/// otherwise.
std::string pitch_text(units::Pitch pitch) {
  const std::array<std::string, 3> short_texts{units::show_pitch(pitch),
                                               fmt::format("{:.6g} deg", pitch.degrees()),
                                               fmt::format("{:.6g} %", pitch.tangent() * 100.0)};
  for (const std::string& text : short_texts) {
    if (units::parse_pitch(text) == pitch) {
      return text;
    }
  }
  std::array<char, 400> digits{};
  const auto [end, error] = std::to_chars(digits.data(), digits.data() + digits.size(),
                                          pitch.tangent(), std::chars_format::fixed);
  return std::string(digits.data(), end) + "/1";
}

/// Writes the parts of one model; all lengths in its unit.
class Writer {
 public:
  explicit Writer(units::LengthUnit unit) : unit_(unit) {}

  Json length(double length_m) const { return in_unit(length_m, unit_); }
  Json point(glm::dvec2 p) const { return Json::array({length(p.x), length(p.y)}); }

  Json loop(const std::vector<glm::dvec2>& corners) const {
    Json list = Json::array();
    for (const glm::dvec2 corner : corners) {
      list.push_back(point(corner));
    }
    return list;
  }

  Json edges(const std::vector<Edge>& all) const {
    Json list = Json::array();
    for (const Edge& edge : all) {
      list.push_back(this->edge(edge));
    }
    return list;
  }

  Json edge(const Edge& edge) const {
    Json item{{"kind", word(edge.kind)}};
    if (bears_plane(edge.kind)) {
      item["pitch"] = pitch_text(edge.pitch);
    }
    item["overhang"] = length(edge.overhang_m);
    item["soffit"] = word(edge.soffit);
    if (edge.kind == EdgeKind::half_hip || edge.from_height_m != 0.0) {
      item["from_height"] = length(edge.from_height_m);
    }
    if (edge.kind == EdgeKind::gablet || edge.wall_height_m != 0.0) {
      item["wall_height"] = length(edge.wall_height_m);
    }
    for (const Break& step : edge.breaks) {
      item["breaks"].push_back(
          {{"height", length(step.height_m)}, {"pitch", pitch_text(step.pitch)}});
    }
    return item;
  }

  Json lengths(const std::vector<double>& all_m) const {
    Json list = Json::array();
    for (const double one_m : all_m) {
      list.push_back(length(one_m));
    }
    return list;
  }

  Json framing(const Framing& framing) const {
    Json item{{"kind", framing.kind == FramingKind::rafter ? "rafter" : "truss"},
              {"spacing", length(framing.spacing_m)},
              {"rafter", framing.rafter},
              {"ridge", framing.ridge},
              {"hip", framing.hip},
              {"valley", framing.valley},
              {"origin", length(framing.origin_m)},
              {"blocking", word(framing.blocking)},
              {"lookouts", framing.lookouts},
              {"air_past",
               {{"hips", word(framing.air_past.hips)},
                {"valleys", word(framing.air_past.valleys)},
                {"headers", word(framing.air_past.headers)}}}};
    if (framing.collar_ties) {
      item["collar_ties"] = {{"height", length(framing.collar_ties->height_m)},
                             {"every", framing.collar_ties->every},
                             {"stock", framing.collar_ties->stock}};
    }
    for (const MeasuredEdge& measured : framing.measured) {
      Json& edge = item["edges"][fmt::format("{}", measured.edge)];
      if (!measured.at_m.empty() || measured.stopped_m.empty()) {
        edge["at"] = lengths(measured.at_m);
      }
      if (!measured.stopped_m.empty()) {
        edge["stopped"] = lengths(measured.stopped_m);
      }
    }
    return item;
  }

  Json part(const Part& part) const {
    Json item{{"id", part.id}, {"outline", loop(part.outline)}, {"edges", edges(part.edges)}};
    for (const Hole& hole : part.holes) {
      item["holes"].push_back({{"outline", loop(hole.outline)}, {"edges", edges(hole.edges)}});
    }
    item["drawn_to"] = part.drawn_to == DrawnTo::wall ? "wall" : "drip";
    item["wall_thickness"] = length(part.wall_thickness_m);
    item["plate"] = length(part.plate_m);
    item["heel"] = length(part.heel_m);
    item["deck"] = length(part.deck_m);
    item["fascia"] = part.fascia == Fascia::level ? "level" : "as_given";
    item["valleys"] = part.valleys == Valleys::framed ? "framed" : "overlaid";
    for (const std::vector<glm::dvec2>& opening : part.deck_openings) {
      item["deck_openings"].push_back(loop(opening));
    }
    if (part.flat_top_m) {
      item["flat_top"] = length(*part.flat_top_m);
    }
    item["framing"] = framing(part.framing);
    return item;
  }

  Json roofing(const Roofing& roofing) const {
    return {{"exposure", length(roofing.exposure_m)},
            {"starter", length(roofing.starter_m)},
            {"ice_barrier", word(roofing.ice_barrier)},
            {"ice_barrier_from",
             roofing.ice_barrier_from == WallFace::inner ? "inner_face" : "outer_face"}};
  }

  Json ceiling(const Ceiling& ceiling) const {
    return {{"id", ceiling.id},
            {"kind", word(ceiling.kind)},
            {"outline", loop(ceiling.outline)},
            {"height", length(ceiling.height_m)},
            {"insulation", length(ceiling.insulation_m)},
            {"baffles", ceiling.baffles}};
  }

  Json obstacle(const Obstacle& obstacle) const {
    Json item{{"id", obstacle.id}, {"kind", word(obstacle.kind)}};
    if (obstacle.plane.empty()) {
      item["outline"] = loop(obstacle.outline);
    } else {
      item["plane"] = obstacle.plane;
      item["at"] = point(obstacle.at);
      item["size"] = point(obstacle.size);
    }
    item["clearance"] = length(obstacle.clearance_m);
    if (obstacle.kind == ObstacleKind::chimney) {
      item["cricket"] = word(obstacle.cricket);
    }
    return item;
  }

  Json intake(const IntakeRun& run) const {
    Json item{{"id", run.id},
              {"product", run.product},
              {"plane", run.plane},
              {"position", run.position == Position::eave ? "eave" : "upslope"}};
    stretch(item, run.whole, run.from_m, run.to_m);
    if (run.every_m > 0.0) {
      item["every"] = length(run.every_m);
    }
    return item;
  }

  Json exhaust(const ExhaustVent& vent) const {
    Json item{{"id", vent.id}, {"product", vent.product}};
    if (!vent.wall.empty()) {
      item["wall"] = vent.wall;
      item["at"] = point(vent.at);
    } else if (vent.plane.empty()) {
      item["line"] = vent.line;
      stretch(item, vent.whole, vent.from_m, vent.to_m);
    } else {
      item["plane"] = vent.plane;
      item["at"] = point(vent.at);
    }
    return item;
  }

  Json air(const Air& air) const {
    Json item{{"wind_ms", air.wind_ms},
              {"inside_winter_c", air.inside_winter_c},
              {"inside_summer_c", air.inside_summer_c},
              {"inside_humidity", air.inside_humidity},
              {"ceiling_leakage_cm2_m2", air.ceiling_leakage_cm2_m2},
              {"house_leakage_cm2_m2", air.house_leakage_cm2_m2},
              {"absorptance", air.absorptance}};
    if (air.shelter) {
      item["shelter"] = word(*air.shelter);
    }
    for (const AirCase& one : air.cases) {
      Json written{{"name", one.name},
                   {"outside_c", one.outside_c},
                   {"inside_c", one.inside_c},
                   {"wind_ms", one.wind_ms},
                   {"wind_from_deg", one.wind_from_deg},
                   {"sun", one.sun},
                   {"clear_sky", one.clear_sky},
                   {"snow", length(one.snow_m)},
                   {"fans", one.fans}};
      if (one.attic_c) {
        written["attic_c"] = *one.attic_c;
      }
      item["cases"].push_back(std::move(written));
    }
    return item;
  }

 private:
  void stretch(Json& item, bool whole, double from_m, double to_m) const {
    if (whole) {
      item["whole"] = true;
    } else {
      item["from"] = length(from_m);
      item["to"] = length(to_m);
    }
  }

  units::LengthUnit unit_;
};

Json site(const Site& site) {
  return {{"north_deg", site.north_deg},       {"code", site.code},
          {"climate_zone", site.climate_zone}, {"snow", site.snow},
          {"exposure", site.exposure},         {"winter_c", site.winter_c},
          {"summer_c", site.summer_c}};
}

/// A list of each of `things`, made by `each`.
template <class Things, class Each>
Json list_of(const Things& things, Each each) {
  Json list = Json::array();
  for (const auto& thing : things) {
    list.push_back(each(thing));
  }
  return list;
}

}  // namespace

std::string write(const RoofModel& model, int indent) {
  const Writer writer(model.unit);
  Json root{{"ridgeward", 1},
            {"name", model.name},
            {"units", word(model.unit)},
            {"site", site(model.site)},
            {"roofing", writer.roofing(model.roofing)},
            {"parts", list_of(model.parts, [&](const Part& p) { return writer.part(p); })}};
  if (!model.ceilings.empty()) {
    root["ceilings"] = list_of(model.ceilings, [&](const Ceiling& c) { return writer.ceiling(c); });
  }
  if (!model.dividers.empty()) {
    root["dividers"] = list_of(model.dividers, [&](const Divider& d) {
      return Json{{"id", d.id}, {"from", writer.point(d.from)}, {"to", writer.point(d.to)}};
    });
  }
  if (!model.obstacles.empty()) {
    root["obstacles"] =
        list_of(model.obstacles, [&](const Obstacle& o) { return writer.obstacle(o); });
  }
  root["vents"] = {
      {"intake", list_of(model.intake, [&](const IntakeRun& r) { return writer.intake(r); })},
      {"exhaust", list_of(model.exhaust, [&](const ExhaustVent& v) { return writer.exhaust(v); })}};
  if (!model.prices.empty()) {
    root["prices"] = model.prices;
  }
  root["air"] = writer.air(model.air);
  return root.dump(indent) + "\n";
}

}  // namespace ridgeward::model
