#include "scene/air_path.hpp"

#include "airflow/words.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <map>
#include <string_view>

namespace ridgeward::scene {
namespace {

constexpr double least_pace_ms = 0.12;
constexpr double most_pace_ms = 2.4;
constexpr double still_share = 0.01;  // of the usual flow of a bay
constexpr double no_throat_m = 1e-3;
constexpr double end_fade_m = 0.18;

double pace_of(double speed_ms) {
  return std::clamp(air_haste * speed_ms, least_pace_ms, most_pace_ms);
}

AirRole role_of(const Assessment& a, const airflow::Path& path) {
  using Kind = airflow::Path::Kind;
  if (path.kind == Kind::along_bay) {
    return AirRole::bay;
  }
  const airflow::Role role = a.airflow.openings[path.opening].role;
  if (role == airflow::Role::leak) {
    return AirRole::rooms;
  }
  const bool is_in = path.kind == Kind::comes_in;
  if (is_in != (role == airflow::Role::intake)) {
    return AirRole::wrong_way;
  }
  return is_in ? AirRole::intake : AirRole::exhaust;
}

glm::dvec3 normal_of(const Assessment& a, const airflow::Path& path) {
  PlaneId plane;
  if (!path.bay.is_none()) {
    plane = a.framing.bays[path.bay].plane;
  } else if (const ExhaustId id = a.airflow.openings[path.opening].exhaust; !id.is_none()) {
    plane = a.vents.exhausts[id].plane;
  }
  return plane.is_none() ? glm::dvec3{0.0} : a.surface.planes[plane].frame.normal;
}

void measure(AirStream& stream) {
  stream.length_m = 0.0;
  for (std::size_t i = 1; i < stream.points.size(); ++i) {
    stream.length_m += glm::length(stream.points[i] - stream.points[i - 1]);
  }
}

bool has_attic(const Assessment& a, CompartmentId id) {
  return !id.is_none() && !a.attic.compartments[id].is_rafter_space;
}

/// From where air enters an attic to the nearest place at which it leaves it: within, the air is
/// mixed, and no line of its own is known.
void add_drift(const Assessment& a, const std::vector<airflow::Path>& paths, AirScene& scene) {
  using Kind = airflow::Path::Kind;
  for (const airflow::Path& in : paths) {
    const bool is_in = in.kind == Kind::comes_in;
    if (!is_in || !has_attic(a, a.airflow.openings[in.opening].compartment)) {
      continue;
    }
    const glm::dvec3 start = in.points.back();
    const airflow::Path* nearest = nullptr;
    for (const airflow::Path& out : paths) {
      const bool fits =
          out.kind == Kind::goes_out &&
          a.airflow.openings[out.opening].role != airflow::Role::leak &&
          a.airflow.openings[out.opening].compartment == a.airflow.openings[in.opening].compartment;
      if (fits && (nearest == nullptr || glm::length(out.points.front() - start) <
                                             glm::length(nearest->points.front() - start))) {
        nearest = &out;
      }
    }
    if (nearest == nullptr) {
      continue;
    }
    AirStream drift;
    drift.role = AirRole::drift;
    drift.points = {start, nearest->points.front()};
    drift.normal = normal_of(a, in);
    drift.flow_m3s = in.flow_m3s;
    drift.pace_ms = pace_of(0.05);
    drift.temperature_c = nearest->temperature_c;
    measure(drift);
    scene.streams.push_back(std::move(drift));
  }
}

/// Strengths: openings and bays by the greatest flow of their own role.
void weigh(AirScene& scene) {
  std::array<double, air_role_count> most{};
  for (const AirStream& stream : scene.streams) {
    double& own = most[static_cast<std::size_t>(stream.role)];
    own = std::max(own, stream.flow_m3s);
  }
  const double bays = std::max({most[static_cast<std::size_t>(AirRole::intake)],
                                most[static_cast<std::size_t>(AirRole::wrong_way)],
                                most[static_cast<std::size_t>(AirRole::bay)]});
  for (AirStream& stream : scene.streams) {
    const bool is_by_bay = stream.role != AirRole::exhaust && stream.role != AirRole::rooms;
    const double of = is_by_bay ? bays : most[static_cast<std::size_t>(stream.role)];
    stream.strength = of > 0.0 ? std::clamp(stream.flow_m3s / of, 0.0, 1.0) : 0.0;
  }
}

/// Air along each bay that one passes, in the case.
std::map<BayId, double> flow_by_bay(const airflow::CaseAir& one) {
  std::map<BayId, double> flow;
  for (const airflow::BayFlow& bay : one.bays) {
    flow[bay.bay] += std::abs(bay.flow_m3s);
  }
  return flow;
}

double middle(const std::map<BayId, double>& flow) {
  std::vector<double> all;
  all.reserve(flow.size());
  for (const auto& [bay, one] : flow) {
    all.push_back(one);
  }
  std::sort(all.begin(), all.end());
  return all.empty() ? 0.0 : all[all.size() / 2];
}

struct Above {
  bool is_slotted = false;
  bool is_shut = false;  ///< by what a slot over it tells
};

std::vector<Above> slots_above(const Assessment& a) {
  std::vector<Above> above(a.framing.bays.size());
  for (const vents::Slot& slot : a.vents.slots) {
    for (const vents::SlotBay& open : slot.bays) {
      if (open.open_length_m > 0.0) {
        above[open.bay.value].is_slotted = true;
        above[open.bay.value].is_shut =
            above[open.bay.value].is_shut || open.block != vents::Block::none;
      }
    }
  }
  return above;
}

void add_still(const Assessment& a, const airflow::CaseAir& one, AirScene& scene) {
  const std::map<BayId, double> flow = flow_by_bay(one);
  const double usual = middle(flow);
  const std::vector<Above> above = slots_above(a);
  for (const BayId id : a.framing.bays.ids()) {
    const attic::BayPlace& place = a.attic.bays[id];
    const bool is_over_air = place.under == attic::Under::space && !place.space.is_none();
    const bool is_slotted = above[id.value].is_slotted;
    if (!is_over_air && !is_slotted) {
      continue;
    }
    const bool is_shut = place.is_blocked || above[id.value].is_shut ||
                         (place.throat_m && *place.throat_m < no_throat_m);
    const auto known = flow.find(id);
    const double own = known == flow.end() ? 0.0 : known->second;
    StillBay still;
    if (is_shut && own <= still_share * usual) {
      still.why = StillWhy::blocked;
    } else if (a.vents.bays.has(id) && !a.vents.bays[id].live) {
      still.why = StillWhy::dead;
    } else if (is_slotted && own < still_share * usual) {
      still.why = StillWhy::hardly;
    } else {
      continue;
    }
    const framing::Bay& bay = a.framing.bays[id];
    const surface::Frame& frame = a.surface.planes[bay.plane].frame;
    for (const glm::dvec2 corner : bay.outline) {
      still.outline.push_back(frame.at(corner));
    }
    if (still.outline.empty()) {
      continue;
    }
    double low = HUGE_VAL;
    for (const glm::dvec2 corner : bay.outline) {
      low = std::min(low, corner.y);
    }
    still.bay = id;
    still.normal = frame.normal;
    still.mark = frame.at({0.5 * (bay.from_u_m + bay.to_u_m),
                           low + std::min(0.7, 0.5 * std::max(0.0, bay.length_m))});
    scene.still.push_back(std::move(still));
  }
}

}  // namespace

bool AirScene::has(AirRole role) const {
  return std::any_of(streams.begin(), streams.end(),
                     [role](const AirStream& stream) { return stream.role == role; });
}

bool AirScene::has(StillWhy why) const {
  return std::any_of(still.begin(), still.end(),
                     [why](const StillBay& bay) { return bay.why == why; });
}

AirScene air_scene(const Assessment& assessment, const airflow::CaseAir& one) {
  AirScene scene;
  if (one.openings.size() != assessment.airflow.openings.size() || one.spaces.empty()) {
    return scene;
  }
  std::vector<airflow::Path> paths = air_paths(assessment, one);
  add_drift(assessment, paths, scene);
  for (airflow::Path& path : paths) {
    AirStream stream;
    stream.role = role_of(assessment, path);
    stream.normal = normal_of(assessment, path);
    stream.points = std::move(path.points);
    stream.flow_m3s = path.flow_m3s;
    stream.pace_ms = pace_of(path.speed_ms);
    stream.temperature_c = path.temperature_c;
    measure(stream);
    scene.streams.push_back(std::move(stream));
  }
  weigh(scene);
  add_still(assessment, one, scene);
  return scene;
}

std::vector<AirHead> heads_of(const AirStream& stream, double clock_s, double apart_m) {
  std::vector<AirHead> heads;
  if (stream.length_m <= 0.0 || apart_m <= 0.0) {
    return heads;
  }
  // At least one head on a short stream; they wrap round at its end.
  const double count = std::max(1.0, std::floor(stream.length_m / apart_m));
  const double apart = stream.length_m / count;
  const double first = std::fmod(0.5 * apart + clock_s * stream.pace_ms, apart);
  double before = 0.0;
  std::size_t piece = 1;
  for (int k = 0; k < static_cast<int>(count); ++k) {
    const double at = first + k * apart;
    double reach = glm::length(stream.points[piece] - stream.points[piece - 1]);
    while (piece + 1 < stream.points.size() && before + reach < at) {
      before += reach;
      ++piece;
      reach = glm::length(stream.points[piece] - stream.points[piece - 1]);
    }
    if (reach <= 0.0) {
      continue;
    }
    const glm::dvec3 way = (stream.points[piece] - stream.points[piece - 1]) / reach;
    const double to_end = std::min(at, stream.length_m - at);
    heads.push_back({stream.points[piece - 1] + (at - before) * way, way,
                     std::clamp(to_end / end_fade_m, 0.0, 1.0)});
  }
  return heads;
}

std::size_t usual_case(const airflow::Airflow& air) {
  const auto found = std::find_if(
      air.cases.begin(), air.cases.end(),
      [](const airflow::CaseAir& one) { return one.kind == airflow::CaseKind::summer; });
  return found == air.cases.end() ? 0 : static_cast<std::size_t>(found - air.cases.begin());
}

std::size_t case_named(const airflow::Airflow& air, const std::string& words) {
  constexpr std::string_view ranked = ", the worst";  // as tables add it to a name
  const std::string start =
      words.ends_with(ranked) ? words.substr(0, words.size() - ranked.size()) : words;
  const auto lower = [](char c) { return std::tolower(static_cast<unsigned char>(c)); };
  // The whole name goes before its beginning: "from S" opens "from SE" too.
  bool is_whole = true;
  const auto opens = [&](const std::string& name) {
    return name.size() >= start.size() && (!is_whole || name.size() == start.size()) &&
           std::equal(start.begin(), start.end(), name.begin(),
                      [&](char a, char b) { return lower(a) == lower(b); });
  };
  const auto is_named = [&](const airflow::CaseAir& one) {
    return opens(one.conditions.name) ||
           opens(airflow::case_words(one, units::Style::feet_inches)) ||
           opens(airflow::case_words(one, units::Style::metric));
  };
  auto found = std::find_if(air.cases.begin(), air.cases.end(), is_named);
  if (found == air.cases.end()) {
    is_whole = false;
    found = std::find_if(air.cases.begin(), air.cases.end(), is_named);
  }
  return static_cast<std::size_t>(found - air.cases.begin());
}

}  // namespace ridgeward::scene
