#include "papers/json.hpp"

#include "model/read.hpp"
#include "papers/air.hpp"
#include "papers/json_framing.hpp"
#include "papers/json_pieces.hpp"
#include "papers/json_surface.hpp"
#include "papers/json_work.hpp"
#include "papers/marks.hpp"
#include "papers/summary.hpp"

#include <nlohmann/json.hpp>

#include <cmath>
namespace ridgeward::papers {

namespace {

using Json = nlohmann::ordered_json;

Json spaces_under(const Assessment& a, BayId bay) {
  Json all = Json::array();
  for (const attic::Stretch& stretch : a.attic.bays[bay].stretches) {
    all.push_back({{"space", id_of(a.attic.spaces, stretch.space)},
                   {"from_m", stretch.low_v_m},
                   {"to_m", stretch.high_v_m}});
  }
  return all;
}

/// From the space at the bay's foot to the exhaust.
Json path(const Assessment& a, BayId bay) {
  Json all = Json::array();
  const vents::BayState& state = a.vents.bays[bay];
  if (!state.live) {
    return all;
  }
  all.push_back(id_of(a.attic.spaces, a.attic.bays[bay].space));
  for (const vents::Step& step : state.path) {
    all.push_back(id_of(a.attic.spaces, step.into));
  }
  all.push_back(id_of(a.vents.exhausts, state.exhaust));
  return all;
}

Json bays(const Assessment& a) {
  Json all = Json::array();
  for (const BayId id : a.framing.bays.ids()) {
    const framing::Bay& b = a.framing.bays[id];
    all.push_back({{"id", b.id},
                   {"plane", id_of(a.surface.planes, b.plane)},
                   {"kind", framing::word(b.kind)},
                   {"from_m", b.from_u_m},
                   {"to_m", b.to_u_m},
                   {"clear_width_m", b.clear_width_m},
                   {"length_m", b.length_m},
                   {"foot", id_of(a.surface.lines, b.foot)},
                   {"head", id_of(a.surface.lines, b.head)},
                   {"foot_header", id_of(a.framing.members, b.foot_header)},
                   {"head_header", id_of(a.framing.members, b.head_header)},
                   {"foot_width_m", b.foot_width_m},
                   {"head_width_m", b.head_width_m},
                   {"at_plate", framing::word(b.at_plate)},
                   {"across", across_json(a, b)},
                   {"beyond_opening", beyond_opening_json(a, b)},
                   {"compartment", id_of(a.attic.compartments, a.attic.bays[id].compartment)},
                   {"spaces", spaces_under(a, id)},
                   {"throat_m", or_none(a.attic.bays[id].throat_m)},
                   {"path", path(a, id)},
                   {"live", a.vents.bays[id].live},
                   {"why", a.vents.bays[id].why}});
  }
  return all;
}

/// The courses that the upslope position is counted from; null in the eave position.
Json courses(const vents::Slot& slot) {
  if (!slot.courses) {
    return {};
  }
  const vents::Courses& c = *slot.courses;
  return {{"exposure_m", c.exposure_m},
          {"wall_row", c.wall_row},
          {"wall_row_butt_m", c.wall_row_butt_m},
          {"whole_row", c.whole_row()},
          {"whole_row_butt_m", c.whole_row_butt_m},
          {"faced_row", c.faced_row()},
          {"faced_row_butt_m", c.faced_row_butt_m},
          {"face_nails_m", c.face_nails_m},
          {"top_nails_below_m", c.top_nails_below_m}};
}

Json mitre(const Assessment& a, const std::optional<vents::Mitre>& m) {
  if (!m) {
    return {};
  }
  return {{"line", id_of(a.surface.lines, m->line)},
          {"at", m->is_valley ? "valley" : "hip"},
          {"plan_angle_deg", degrees(m->plan_angle_rad)},
          {"strip_angle_deg", degrees(m->strip_angle_rad)},
          {"offset_m", m->offset_m}};
}

const char* word(vents::Block block) {
  switch (block) {
    case vents::Block::none:
      return "none";
    case vents::Block::blocking:
      return "blocking";
    case vents::Block::insulation:
      return "insulation";
    case vents::Block::plate:
      return "plate";
    case vents::Block::closed_soffit:
      return "closed_soffit";
  }
  return "none";
}

Json slots(const Assessment& a) {
  Json all = Json::array();
  for (const vents::Slot& s : a.vents.slots) {
    Json over = Json::array();
    for (const vents::SlotBay& b : s.bays) {
      over.push_back({{"bay", id_of(a.framing.bays, b.bay)},
                      {"open_length_m", b.open_length_m},
                      {"share_m", b.share_m},
                      {"free_area_m2", b.free_area_m2},
                      {"live", b.live},
                      {"space_over_insulation_m", or_none(b.space_over_insulation_m)},
                      {"over_plate_m", or_none(b.over_plate_m)},
                      {"blocked_by", word(b.block)}});
    }
    Json crossings = Json::array();
    for (const vents::Crossing& c : s.crossings) {
      crossings.push_back({{"member", id_of(a.framing.members, c.member)}, {"at_m", c.at_m}});
    }
    all.push_back({{"id", s.id},
                   {"run", s.run},
                   {"product", s.product},
                   {"plane", id_of(a.surface.planes, s.plane)},
                   {"kind", model::word(s.kind)},
                   {"position", s.position == model::Position::eave ? "eave" : "upslope"},
                   {"lower_line_m", s.lower_line_m},
                   {"width_m", s.width_m},
                   {"start_m", s.start_m},
                   {"end_m", s.end_m},
                   {"from", point(s.from)},
                   {"to", point(s.to)},
                   {"compartment", id_of(a.attic.compartments, s.compartment)},
                   {"free_area_m2", s.free_area_m2},
                   {"vent_length_m", s.vent_length_m},
                   {"vent_from_m", s.vent_from_m},
                   {"vent_to_m", s.vent_to_m},
                   {"vent_low_m", s.vent_low_m},
                   {"wall_line_m", s.wall_line_m},
                   {"inner_face_m", s.inner_face_m},
                   {"ice_barrier_m", s.ice_barrier_m},
                   {"space_over_insulation_m", or_none(s.space_over_insulation_m)},
                   {"over_plate_m", or_none(s.over_plate_m)},
                   {"blocked_by", word(s.block)},
                   {"courses", courses(s)},
                   {"left_mitre", mitre(a, s.left_mitre)},
                   {"right_mitre", mitre(a, s.right_mitre)},
                   {"bays", over},
                   {"crossings", crossings},
                   {"marks", marks_json(a, s)}});
  }
  return all;
}

Json shares(const Assessment& a, const vents::Exhaust& exhaust) {
  Json all = Json::array();
  for (const vents::ExhaustShare& share : exhaust.shares) {
    all.push_back({{"bay", id_of(a.framing.bays, share.bay)},
                   {"compartment", id_of(a.attic.compartments, share.compartment)},
                   {"open_length_m", share.open_length_m},
                   {"free_area_m2", share.free_area_m2}});
  }
  return all;
}

Json exhausts(const Assessment& a) {
  Json all = Json::array();
  for (const vents::Exhaust& e : a.vents.exhausts) {
    const PlaceMarks place = e.plane.is_none() ? PlaceMarks{} : place_of(a, e);
    all.push_back({{"id", e.id},
                   {"product", e.product},
                   {"kind", model::word(e.kind)},
                   {"line", id_of(a.surface.lines, e.line)},
                   {"plane", id_of(a.surface.planes, e.plane)},
                   {"wall", e.wall.empty() ? Json() : Json(e.wall)},
                   {"compartment", id_of(a.attic.compartments, e.compartment)},
                   {"length_m", e.length_m},
                   {"from_m", e.from_m},
                   {"to_m", e.to_m},
                   {"at_u_m", e.at_uv.x},
                   {"at_v_m", e.at_uv.y},
                   {"from_left_m", place.from_left_m},
                   {"down_m", place.down_m},
                   {"hole_m", e.hole_m},
                   {"free_area_m2", e.free_area_m2},
                   {"from", point(e.from)},
                   {"to", point(e.to)},
                   {"marks", marks_json(a, e)},
                   {"tape", tape_json(a, e)},
                   {"shares", shares(a, e)}});
  }
  return all;
}

Json spaces(const Assessment& a, const attic::Compartment& compartment) {
  Json all = Json::array();
  for (const SpaceId id : compartment.spaces) {
    const attic::Space& s = a.attic.spaces[id];
    all.push_back({{"id", s.id},
                   {"kind", attic::word(s.kind)},
                   {"ceiling", s.ceiling.empty() ? Json() : Json(s.ceiling)},
                   {"bay", id_of(a.framing.bays, s.bay)},
                   {"line", id_of(a.surface.lines, s.line)},
                   {"floor_area_m2", s.floor_area_m2},
                   {"volume_m3", s.volume_m3},
                   {"top_m", s.top_m},
                   {"bottom_m", s.bottom_m},
                   {"clear_m", s.clear_m}});
  }
  return all;
}

/// By compartment; the ways over the plates stand with their bays.
IndexedVector<CompartmentId, Json> joins(const Assessment& a) {
  IndexedVector<CompartmentId, Json> all(a.attic.compartments.size(), Json::array());
  for (const attic::Join& join : a.attic.joins) {
    const CompartmentId id = a.attic.spaces[join.one].compartment;
    if (join.kind == attic::JoinKind::over_plate || id.is_none()) {
      continue;
    }
    all[id].push_back({{"kind", attic::word(join.kind)},
                       {"one", a.attic.spaces[join.one].id},
                       {"other", a.attic.spaces[join.other].id},
                       {"bay", id_of(a.framing.bays, join.bay)},
                       {"line", id_of(a.surface.lines, join.line)},
                       {"area_m2", join.area_m2},
                       {"at", point(join.at)},
                       {"open", join.is_open}});
  }
  return all;
}

Json compartments(const Assessment& a) {
  Json all = Json::array();
  IndexedVector<CompartmentId, Json> ways = joins(a);
  for (const CompartmentId id : a.attic.compartments.ids()) {
    const attic::Compartment& c = a.attic.compartments[id];
    const vents::CompartmentTotals& totals = a.vents.totals[id];
    Json tests = Json::array();
    for (const codes::Test& t : a.tests.tests) {
      if (t.compartment == id) {
        tests.push_back({{"test", t.test},
                         {"section", t.section},
                         {"words", t.words},
                         {"holds", t.is_tested ? Json(t.holds) : Json()},
                         {"measured", t.measured},
                         {"needed", t.needed},
                         {"is_condition", t.is_condition},
                         {"is_advice", t.is_advice},
                         {"from_memory", t.from_memory}});
      }
    }
    all.push_back({{"id", c.id},
                   {"kind", c.is_rafter_space ? "rafter_space" : "attic"},
                   {"floor_area_m2", c.floor_area_m2},
                   {"volume_m3", c.volume_m3},
                   {"top_m", c.top_m},
                   {"bottom_m", c.bottom_m},
                   {"ratio", a.tests.required[id].ratio},
                   {"required_m2", a.tests.required[id].required_m2},
                   {"intake_m2", totals.intake_m2},
                   {"exhaust_m2", totals.exhaust_m2},
                   {"intake_share", totals.intake_share()},
                   {"spaces", spaces(a, c)},
                   {"joins", std::move(ways[id])},
                   {"tests", tests}});
  }
  return all;
}

Json conflicts(const Assessment& a) {
  Json all = Json::array();
  for (const conflicts::Finding& f : a.findings) {
    all.push_back({{"kind", f.kind},
                   {"severity", conflicts::word(f.severity)},
                   {"at", point(f.at)},
                   {"plane", id_of(a.surface.planes, f.plane)},
                   {"slot", id_of(a.vents.slots, f.slot)},
                   {"member", id_of(a.framing.members, f.member)},
                   {"exhaust", id_of(a.vents.exhausts, f.exhaust)},
                   {"compartment", id_of(a.attic.compartments, f.compartment)},
                   {"measured", f.measured},
                   {"needed", f.needed},
                   {"message", f.message},
                   {"remedy", f.remedy}});
  }
  return all;
}

Json lengths(const takeoff::Lengths& l) {
  return {{"plan_area_m2", l.plan_area_m2},
          {"area_m2", l.area_m2},
          {"eave_m", l.eave_m},
          {"rake_m", l.rake_m},
          {"ridge_m", l.ridge_m},
          {"hip_m", l.hip_m},
          {"valley_m", l.valley_m},
          {"wall_m", l.wall_m}};
}

Json pieces(const takeoff::SectionRun& run) {
  Json all = Json::array();
  for (const takeoff::Piece& p : run.pieces) {
    all.push_back({{"length_m", p.length_m},
                   {"cut_left", takeoff::word(p.left.kind)},
                   {"cut_right", takeoff::word(p.right.kind)},
                   {"left_at", takeoff::word(p.left.at)},
                   {"right_at", takeoff::word(p.right.at)},
                   {"left_angle_deg", degrees(p.left.angle_rad)},
                   {"right_angle_deg", degrees(p.right.angle_rad)},
                   {"left_offset_m", p.left.offset_m},
                   {"right_offset_m", p.right.offset_m},
                   {"lower_edge_m", p.lower_edge_m},
                   {"upper_edge_m", p.upper_edge_m},
                   {"from_m", p.from_m},
                   {"to_m", p.to_m},
                   {"section", p.section},
                   {"section_from_m", p.section_from_m}});
  }
  return all;
}

Json sections(const Assessment& a) {
  Json all = Json::array();
  for (const takeoff::SectionRun& run : a.takeoff.sections) {
    all.push_back({{"run", run.run},
                   {"over", run.over},
                   {"product", run.product},
                   {"plane", id_of(a.surface.planes, run.plane)},
                   {"line", id_of(a.surface.lines, run.line)},
                   {"length_m", run.length_m},
                   {"cover_length_m", run.cover_length_m},
                   {"cover_width_m", run.cover_width_m},
                   {"cover_strip_m", run.cover_strip_m},
                   {"pieces", pieces(run)}});
  }
  return all;
}

Json purchases(const Assessment& a) {
  Json all = Json::array();
  for (const takeoff::Purchase& p : a.takeoff.purchases) {
    all.push_back({{"product", p.product},
                   {"section_m", p.section_m},
                   {"bought", p.bought},
                   {"lower_bound", p.lower_bound},
                   {"is_least", p.is_least},
                   {"laid_m", p.laid_m},
                   {"waste_m", p.waste_m}});
  }
  return all;
}

Json shingles(const Assessment& a) {
  Json all = Json::array();
  for (const takeoff::ShingledPlane& p : a.takeoff.shingles) {
    all.push_back({{"plane", id_of(a.surface.planes, p.plane)},
                   {"courses", p.courses},
                   {"whole", p.whole},
                   {"cut", p.cut},
                   {"from_left_over", p.from_left_over},
                   {"bought", p.bought},
                   {"laid_m2", p.laid_m2},
                   {"waste_share", p.waste_share}});
  }
  return all;
}

Json takeoff_of(const Assessment& a) {
  Json order = Json::array();
  for (const takeoff::OrderLine& line : a.takeoff.order) {
    order.push_back({{"item", line.item},
                     {"unit", line.unit},
                     {"quantity", line.quantity},
                     {"for", line.for_what},
                     {"unit_price", line.unit_price ? Json(*line.unit_price) : Json()},
                     {"price", line.total_price ? Json(*line.total_price) : Json()}});
  }
  return {
      {"totals", lengths(a.takeoff.totals)},
      {"order", order},
      {"price", {{"sum", a.takeoff.price.sum}, {"without_price", a.takeoff.price.without_price}}},
      {"sections", sections(a)},
      {"purchases", purchases(a)},
      {"shingles", shingles(a)},
      {"cut_list", cut_list_json(a)}};
}

Json totals(const Assessment& a) {
  Json all = lengths(a.takeoff.totals);
  double volume = 0.0;
  double required = 0.0;
  double intake = 0.0;
  double exhaust = 0.0;
  for (const CompartmentId id : a.attic.compartments.ids()) {
    volume += a.attic.compartments[id].volume_m3;
    required += a.tests.required[id].required_m2;
    intake += a.vents.totals[id].intake_m2;
    exhaust += a.vents.totals[id].exhaust_m2;
  }
  all["volume_m3"] = volume;
  all["required_m2"] = required;
  all["intake_m2"] = intake;
  all["exhaust_m2"] = exhaust;
  return all;
}

}  // namespace

std::string to_json(const Assessment& a, int indent) {
  const Json all{{"ridgeward", 1},
                 {"model", Json::parse(model::write(a.model))},
                 {"code", a.code.id},
                 {"planes", planes_json(a)},
                 {"lines", lines_json(a)},
                 {"blind_decks", blind_decks_json(a)},
                 {"members", members_json(a)},
                 {"trusses", trusses_json(a)},
                 {"bays", bays(a)},
                 {"slots", slots(a)},
                 {"exhausts", exhausts(a)},
                 {"compartments", compartments(a)},
                 {"conflicts", conflicts(a)},
                 {"airflow", air_json(a)},
                 {"takeoff", takeoff_of(a)},
                 {"totals", totals(a)},
                 {"products", products_json(a)},
                 {"practice", practice_json()},
                 {"framing_square", framing_square_json(a)},
                 {"assumptions", a.assumptions},
                 {"cautions", all_cautions(a)}};
  return all.dump(indent, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string faults_to_json(const Faults& faults, int indent) {
  Json all = Json::array();
  for (const Fault& fault : faults) {
    all.push_back(
        {{"code", fault.code}, {"where", fault.where}, {"what", fault.what}, {"cure", fault.cure}});
  }
  return Json{{"ridgeward", 1}, {"faults", all}}.dump(indent, ' ', false,
                                                      Json::error_handler_t::replace) +
         "\n";
}

}  // namespace ridgeward::papers
