#include "papers/json_work.hpp"

#include "papers/framing_square.hpp"
#include "papers/marks.hpp"
#include "papers/schema_pieces.hpp"
#include "vents/practice.hpp"

#include <nlohmann/json.hpp>

namespace ridgeward::papers {

namespace {

using json_schema::flag;
using json_schema::Json;
using json_schema::list;
using json_schema::number;
using json_schema::object;
using json_schema::or_none;
using json_schema::word;
using json_schema::word_or_none;

Json over_json(const std::optional<Overhang>& over) {
  return over ? Json{{"part", over->part},
                     {"to_wall_m", over->to_wall_m},
                     {"goes_on", over->goes_on}}
              : Json();
}

Json over_schema() {
  return or_none(
      object({{"part", word("whose roof hangs over that end")},
              {"to_wall_m", number("level, from the end as drawn to the wall of that part")},
              {"goes_on", flag("whether the deck goes on to the wall: then the tape hooks there, "
                               "else distances are from the drip line above")}}));
}

}  // namespace

Json marks_json(const Assessment& a, const vents::Slot& slot) {
  const SlotMarks marks = marks_of(a, slot);
  Json rafters = Json::array();
  for (const RafterMark& mark : marks.rafters) {
    rafters.push_back({{"member", a.framing.members[mark.member].id},
                       {"from_left_m", mark.from_left_m},
                       {"from_right_m", mark.from_right_m}});
  }
  return {{"left_hook", marks.left_hook},
          {"right_hook", marks.right_hook},
          {"left_over", over_json(marks.left_over)},
          {"right_over", over_json(marks.right_over)},
          {"eave_m", marks.eave_m},
          {"length_m", marks.length_m},
          {"deck_m", marks.deck_m},
          {"start_from_left_m", marks.start_from_left_m},
          {"end_from_left_m", marks.end_from_left_m},
          {"start_from_right_m", marks.start_from_right_m},
          {"end_from_right_m", marks.end_from_right_m},
          {"upper_line_m", slot.upper_line_m()},
          {"vent_high_m", marks.vent_high_m},
          {"vent_from_left_m", marks.vent_from_left_m},
          {"vent_end_from_left_m", marks.vent_end_from_left_m},
          {"rafters", rafters},
          {"soffit", marks.soffit ? Json{{"from_edge_m", marks.soffit->from_edge_m},
                                         {"to_edge_m", marks.soffit->to_edge_m},
                                         {"from_wall_m", marks.soffit->from_wall_m},
                                         {"wide_m", marks.soffit->wide_m}}
                                  : Json()}};
}

Json marks_json(const Assessment& a, const vents::Exhaust& exhaust) {
  if (exhaust.line.is_none()) {
    return {};
  }
  const RidgeMarks marks = marks_of(a, exhaust);
  Json sides = Json::array();
  for (const ChalkedSide& side : marks.sides) {
    sides.push_back({{"plane", a.surface.planes[side.plane].id},
                     {"near_m", side.near_m},
                     {"far_m", side.far_m}});
  }
  return {{"first_hook", marks.first_hook},
          {"last_hook", marks.last_hook},
          {"first_over", over_json(marks.first_over)},
          {"last_over", over_json(marks.last_over)},
          {"first_end", marks.first_end},
          {"last_end", marks.last_end},
          {"line_m", marks.line_m},
          {"deck_m", marks.deck_m},
          {"start_from_first_m", marks.start_from_first_m},
          {"end_from_first_m", marks.end_from_first_m},
          {"end_from_last_m", marks.end_from_last_m},
          {"sides", sides}};
}

Json tape_json(const Assessment& a, const vents::Exhaust& exhaust) {
  if (exhaust.plane.is_none()) {
    return {};
  }
  const PlaceMarks place = place_of(a, exhaust);
  return {{"hook", place.hook},
          {"line", place.line.is_none() ? Json() : Json(a.surface.lines[place.line].id)},
          {"along_m", place.along_m},
          {"slope_m", place.slope_m},
          {"is_up", place.is_up},
          {"is_to_left", place.is_to_left},
          {"deck_m", a.model.parts[a.surface.planes[exhaust.plane].part].deck_m}};
}

Json products_json(const Assessment& a) {
  Json all = Json::array();
  for (const model::Product& p : a.products) {
    all.push_back({{"id", p.id},
                   {"what", p.what},
                   {"kind", model::word(p.kind)},
                   {"free_area_per_length_m", p.free_area_per_length_m},
                   {"free_area_each_m2", p.free_area_each_m2},
                   {"length_m", p.length_m},
                   {"depth_m", p.depth_m},
                   {"slot_lower_line_m", p.slot.lower_line_m},
                   {"slot_width_m", p.slot.width_m},
                   {"hold_back_m", p.slot.hold_back_m},
                   {"hold_back_hip_m", p.slot.hold_back_hip_m},
                   {"least_piece_m", p.least_piece_m},
                   {"nails_each", p.nails_each},
                   {"nail_length_m", p.nail_length_m}});
  }
  return all;
}

Json practice_json() {
  namespace practice = vents::practice;
  return {{"over_edge_m", practice::over_edge_m},
          {"underlayment_strip_m", practice::underlayment_strip_m},
          {"underlayment_roll_m", practice::underlayment_roll_m},
          {"cover_beyond_m", practice::cover_beyond_m},
          {"cover_past_end_m", practice::cover_past_end_m},
          {"nail_into_deck_m", practice::nail_into_deck_m},
          {"rake_metal_leg_m", practice::rake_metal_leg_m},
          {"rake_metal_beyond_m", practice::rake_metal_beyond_m},
          {"face_nails_m", practice::face_nails_m},
          {"top_nails_below_m", practice::top_nails_below_m},
          {"nail_length_m", practice::nail_length_m},
          {"over_insulation_m", practice::over_insulation_m},
          {"ice_barrier_inside_m", practice::ice_barrier_inside_m}};
}

Json framing_square_json(const Assessment& a) {
  Json all = Json::array();
  for (const SquareFigures& figures : square_figures_of(a)) {
    all.push_back({{"pitch_in_12", figures.pitch.in_12()},
                   {"spacing_m", figures.spacing_m},
                   {"common_per_12", figures.common_per_12},
                   {"hip_run_per_12", figures.hip_run_per_12},
                   {"hip_per_12", figures.hip_per_12},
                   {"jack_difference_m", figures.jack_difference_m}});
  }
  return all;
}

Json slot_marks_schema() {
  return object(
      {{"left_hook",
        word("what the eave ends at on the left: rake edge, hip corner, valley corner, wall")},
       {"right_hook", word("likewise on the right")},
       {"left_over", over_schema()},
       {"right_over", over_schema()},
       {"eave_m", number("from hook to hook, at the drip edge")},
       {"length_m", number("of the slot")},
       {"deck_m", number("thickness of the deck: how deep the saw is set")},
       {"start_from_left_m",
        number("left end of the slot from the left hook; below 0: beyond it, as all of these")},
       {"end_from_left_m", number("right end of the slot, likewise")},
       {"start_from_right_m", number("left end of the slot from the eave's right end")},
       {"end_from_right_m", number("right end of the slot, likewise")},
       {"upper_line_m", number("of the slot, up the slope from the drip edge")},
       {"vent_high_m", number("upper edge of the vent, likewise")},
       {"vent_from_left_m", number("the vent's longer edge, from the eave's left end")},
       {"vent_end_from_left_m", number("likewise")},
       {"rafters", list(object({{"member", word("rafter that the slot crosses")},
                                {"from_left_m", number("its centre, from the eave's left end")},
                                {"from_right_m", number("likewise from the right end")}}))},
       {"soffit",
        or_none(object({{"from_edge_m", number("its outer edge, level from the eave's outer edge")},
                        {"to_edge_m", number("its inner edge, likewise")},
                        {"from_wall_m", number("its inner edge, level from the wall")},
                        {"wide_m", number("level: the depth of the vent")}}))}});
}

Json ridge_marks_schema() {
  Json marks = object(
      {{"first_hook", word("what the line starts at: rake edge, hip, valley, wall")},
       {"last_hook", word("what it ends at")},
       {"first_over", over_schema()},
       {"last_over", over_schema()},
       {"first_end", word("which end that is: foot or top, or by the compass, west end")},
       {"last_end", word("likewise")},
       {"line_m", number("true length of the line")},
       {"deck_m", number("thickness of the deck, the thinner one of both sides")},
       {"start_from_first_m", number("start of the slot along the line")},
       {"end_from_first_m", number("end of the slot, likewise")},
       {"end_from_last_m", number("end of the slot from the line's end")},
       {"sides",
        list(object({{"plane", word("plane on this side")},
                     {"near_m", number("face of the board beneath, along the plane from the line")},
                     {"far_m", number("where the deck is cut, likewise")}}))}});
  marks["type"] = {"object", "null"};
  return marks;
}

Json tape_schema() {
  return or_none(object(
      {{"hook", word("where the tape's zero is: LEFT (west) end of the ridge, highest corner")},
       {"line", word_or_none("line that it is the end of; null at a corner")},
       {"along_m", number("along that line, or level, to the vent's middle")},
       {"slope_m", number("from there to the middle, down or up the slope")},
       {"is_up", flag("up the slope, from an eave or pitch break")},
       {"is_to_left", flag("the vent lies left of the hook")},
       {"deck_m", number("thickness of the deck: how deep the saw is set")}}));
}

Json products_schema() {
  return list(object({{"id", word("in the catalogue")},
                      {"what", word("plain words")},
                      {"kind", word("kind of vent")},
                      {"free_area_per_length_m", number("m2 per m; 0 for single pieces")},
                      {"free_area_each_m2", number("0 for what runs along")},
                      {"length_m", number("of one piece")},
                      {"depth_m", number("up the slope, or across a ridge")},
                      {"slot_lower_line_m", number("eave position, up from the drip edge")},
                      {"slot_width_m", number("on each side for ridges; of a hole")},
                      {"hold_back_m", number("from gable walls")},
                      {"hold_back_hip_m", number("from hips, valleys and walls")},
                      {"least_piece_m", number("shortest piece that can be worked")},
                      {"nails_each", number("a whole piece")},
                      {"nail_length_m", number("0 where the catalogue does not say")}}));
}

Json practice_schema() {
  Json fields = object({{"over_edge_m", number("sections over the eave edge")},
                        {"underlayment_strip_m", number("along the eave under the vent, at least")},
                        {"underlayment_roll_m", number("a whole roll, for strips that are wider")},
                        {"cover_beyond_m", number("underlayment above a vent, at least")},
                        {"cover_past_end_m", number("and past an end of it on the open deck")},
                        {"nail_into_deck_m", number("nails of the roofing, or through the deck")},
                        {"rake_metal_leg_m", number("vertical leg, at least")},
                        {"rake_metal_beyond_m", number("beyond the second underlayment course")},
                        {"face_nails_m", number("above the butt of the face-nailed row")},
                        {"top_nails_below_m", number("more nails below the shingles' top")},
                        {"nail_length_m", number("through vent and deck")},
                        {"over_insulation_m", number("least clear space over insulation")},
                        {"ice_barrier_inside_m", number("least reach inside the wall, level")}});
  fields["description"] = "figures of the work: common practice, no source, unless docs say so";
  return fields;
}

Json framing_square_schema() {
  return list(object({{"pitch_in_12", number("rise in 12 of run")},
                      {"spacing_m", number("of the rafters, on centre")},
                      {"common_per_12", number("length of a common rafter for 12 of run")},
                      {"hip_run_per_12", number("run of a hip for 12 of common run: 16.97")},
                      {"hip_per_12", number("length of a hip for 12 of common run")},
                      {"jack_difference_m", number("from one jack to the next")}}));
}

}  // namespace ridgeward::papers
