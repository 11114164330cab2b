// What can be pointed at in the report's 3D view.
#include "papers/html.hpp"
#include "papers/inspector_sheet.hpp"
#include "papers/json_pieces.hpp"
#include "papers/plan_names.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::papers {

namespace {

using Json = nlohmann::ordered_json;

constexpr double square_m2 = 100 * units::square_foot_m2;  // the trade's square of roofing

class Things {
 public:
  Things(const Assessment& a, units::Style style) : a_(a), style_(style) {}
  Json all();

 private:
  std::string length(double m) const { return units::show(m, style_); }
  std::string area(double m2) const { return units::show_area(m2, style_); }
  std::string opening(double m2) const { return units::show_free_area(m2, style_); }
  Json thing(const char* kind, const std::string& id, const std::string& title,
             const glm::dvec3& at) const;
  void row(Json& of, const char* name, const std::string& value) const {
    of["rows"].push_back(Json::array({name, value}));
  }
  void lengths(Json& of, const takeoff::Lengths& l) const;
  glm::dvec3 middle_of(const surface::Plane& plane) const;
  Json plane(PlaneId id) const;
  Json line(const surface::Line& line) const;
  Json slot(const vents::Slot& slot) const;
  Json exhaust(const vents::Exhaust& vent) const;
  Json finding(std::size_t number, const conflicts::Finding& finding) const;

  const Assessment& a_;
  units::Style style_;
};

Json Things::thing(const char* kind, const std::string& id, const std::string& title,
                   const glm::dvec3& at) const {
  return {{"key", std::string(kind) + ":" + id},
          {"kind", kind},
          {"title", title},
          {"at", point(at)},
          {"rows", Json::array()}};
}

void Things::lengths(Json& of, const takeoff::Lengths& l) const {
  const auto add = [&](const char* name, double m) {
    if (m > 1e-9) {
      row(of, name, length(m));
    }
  };
  add("eave", l.eave_m);
  add("rake", l.rake_m);
  add("ridge", l.ridge_m);
  add("hip", l.hip_m);
  add("valley", l.valley_m);
  add("wall", l.wall_m);
}

/// The centre of its area; of its corners where it has none.
glm::dvec3 Things::middle_of(const surface::Plane& plane) const {
  glm::dvec2 sum{0.0};
  double twice = 0.0;
  for (const surface::Loop& loop : plane.loops) {
    const std::vector<glm::dvec2> uv = surface::corners_uv(a_.surface, plane.frame, loop);
    for (std::size_t i = 0; i < uv.size(); ++i) {
      const glm::dvec2 p = uv[i];
      const glm::dvec2 q = uv[(i + 1) % uv.size()];
      const double cross = p.x * q.y - p.y * q.x;
      twice += cross;
      sum += cross * (p + q);
    }
  }
  return plane.frame.at(twice > 0.0 ? sum / (3.0 * twice) : glm::dvec2{0.0});
}

Json Things::plane(PlaneId id) const {
  const surface::Plane& plane = a_.surface.planes[id];
  Json one = thing("plane", plane.id, "Plane " + plane.id, middle_of(plane));
  one["normal"] = point(plane.frame.normal);
  one["label"] = plane.id + "  " + units::show_pitch(plane.pitch, style_);
  const bool is_in_12 = style_ == units::Style::feet_inches && plane.pitch.tangent() > 0.0;
  row(one, "pitch",
      units::show_pitch(plane.pitch, style_) +
          (is_in_12 ? fmt::format(" ({:.1f}°)", plane.pitch.degrees()) : ""));
  const takeoff::Lengths& l = a_.takeoff.planes[id];
  row(one, "area", area(l.area_m2));
  row(one, "area in plan", area(l.plan_area_m2));
  if (style_ == units::Style::feet_inches) {
    row(one, "squares", fmt::format("{:.2f}", l.area_m2 / square_m2));
  }
  lengths(one, l);
  return one;
}

Json Things::line(const surface::Line& line) const {
  const glm::dvec3 from = a_.surface.nodes[line.from];
  const glm::dvec3 to = a_.surface.nodes[line.to];
  std::string kind = surface::word(line.kind);
  std::replace(kind.begin(), kind.end(), '_', ' ');
  Json one = thing("line", line.id, kind + " " + line.id, (from + to) / 2.0);
  one["word"] = surface::word(line.kind);
  one["from"] = point(from);
  one["to"] = point(to);
  one["label"] = length(line.length_m);
  one["normals"] = Json::array();
  for (const PlaneId beside : {line.left_plane(), line.right_plane()}) {
    if (!beside.is_none()) {
      one["normals"].push_back(point(a_.surface.planes[beside].frame.normal));
    }
  }
  row(one, "true length", length(line.length_m));
  row(one, "length in plan", length(line.plan_length_m));
  return one;
}

Json Things::slot(const vents::Slot& slot) const {
  Json one = thing("slot", slot.id, "Intake " + slot.id, (slot.from + slot.to) / 2.0);
  const surface::Plane& plane = a_.surface.planes[slot.plane];
  one["from"] = point(slot.from);
  one["to"] = point(slot.to);
  one["normals"] = Json::array({point(plane.frame.normal)});
  std::size_t live = 0;
  for (const vents::SlotBay& bay : slot.bays) {
    live += bay.live ? 1 : 0;
  }
  row(one, "product", slot.product);
  row(one, "plane", plane.id);
  row(one, "slot", length(slot.end_m - slot.start_m) + " long");
  row(one, "along the eave", place_words(a_, slot, style_));
  row(one, "lower line", length(slot.lower_line_m) + " up the slope");
  row(one, "width", length(slot.width_m));
  row(one, "live bays", fmt::format("{} of {}", live, slot.bays.size()));
  row(one, "free area", opening(slot.free_area_m2));
  return one;
}

Json Things::exhaust(const vents::Exhaust& vent) const {
  Json one = thing("exhaust", vent.id, "Exhaust " + vent.id, (vent.from + vent.to) / 2.0);
  one["from"] = point(vent.from);
  one["to"] = point(vent.to);
  one["normals"] = Json::array();
  row(one, "product", vent.product);
  if (!vent.line.is_none()) {
    row(one, "along", a_.surface.lines[vent.line].id);
    row(one, "length", length(vent.length_m));
  } else if (!vent.plane.is_none()) {
    row(one, "plane", a_.surface.planes[vent.plane].id);
    one["normals"].push_back(point(a_.surface.planes[vent.plane].frame.normal));
  } else {
    row(one, "wall", vent.wall);
  }
  row(one, "free area", opening(vent.free_area_m2));
  return one;
}

Json Things::finding(std::size_t number, const conflicts::Finding& finding) const {
  const std::string severity = conflicts::word(finding.severity);
  Json one = thing("finding", fmt::format("{}", number),
                   fmt::format("Finding {}: {}", number, severity), finding.at);
  one["severity"] = severity;
  one["label"] = fmt::format("{}", number);
  if (!finding.plane.is_none()) {
    one["normal"] = point(a_.surface.planes[finding.plane].frame.normal);
  }
  row(one, "found", finding.message);
  if (!finding.measured.empty()) {
    row(one, "measured", finding.measured);
  }
  if (!finding.needed.empty()) {
    row(one, "needed", finding.needed);
  }
  row(one, "remedy", finding.remedy);
  return one;
}

Json Things::all() {
  Json all = Json::array();
  for (const PlaneId id : a_.surface.planes.ids()) {
    all.push_back(plane(id));
  }
  for (const surface::Line& one : a_.surface.lines) {
    if (one.kind != surface::LineKind::wall_edge) {
      all.push_back(line(one));
    }
  }
  for (const vents::Slot& one : a_.vents.slots) {
    all.push_back(slot(one));
  }
  for (const vents::Exhaust& one : a_.vents.exhausts) {
    all.push_back(exhaust(one));
  }
  for (std::size_t i = 0; i < a_.findings.size(); ++i) {
    all.push_back(finding(i + 1, a_.findings[i]));
  }
  return all;
}

}  // namespace

std::string things_json(const Assessment& assessment, units::Style style) {
  const Json all{{"north_deg", assessment.model.site.north_deg},
                 {"things", Things(assessment, style).all()}};
  // ASCII only, and no "<": no text in it can end the script element that it stands in.
  const std::string text = all.dump(-1, ' ', true, Json::error_handler_t::replace);
  std::string safe;
  safe.reserve(text.size());
  for (const char c : text) {
    safe += c == '<' ? std::string("\\u003c") : std::string(1, c);
  }
  return safe;
}

}  // namespace ridgeward::papers
