// The JSON Schema of the assessment; tests hold every demo house against it.
#include "papers/air.hpp"
#include "papers/json.hpp"
#include "papers/json_work.hpp"
#include "papers/schema_pieces.hpp"

#include <nlohmann/json.hpp>

namespace ridgeward::papers {

namespace {

using json_schema::flag;
using json_schema::flag_or_none;
using json_schema::Json;
using json_schema::list;
using json_schema::number;
using json_schema::number_or_none;
using json_schema::object;
using json_schema::or_none;
using json_schema::word;
using json_schema::word_or_none;

Json count(const char* text) { return {{"type", "integer"}, {"description", text}}; }
Json point() {
  return {{"type", "array"},
          {"items", {{"type", "number"}}},
          {"minItems", 3},
          {"maxItems", 3},
          {"description", "x, y, z in metres, z up from the model's datum"}};
}

Json lengths() {
  return {{"plan_area_m2", number("area in plan, overhangs included")},
          {"area_m2", number("true area")},
          {"eave_m", number("true length")},
          {"rake_m", number("true length")},
          {"ridge_m", number("true length")},
          {"hip_m", number("true length")},
          {"valley_m", number("true length")},
          {"wall_m", number("headwall, sidewall and step wall")}};
}

Json plane() {
  Json fields{{"id", word("part/edge, with :b and on where one edge bears more than one plane")},
              {"part", word("id of the part")},
              {"edge", count("of the part, the outline's first, then each hole's")},
              {"pitch_in_12", number("rise in 12 of run")},
              {"slope_deg", number("angle to the level")},
              {"azimuth_deg", number("compass direction it faces, clockwise from north")}};
  fields.update(lengths());
  fields["outline"] = list(point());
  fields["more_outlines"] = list(list(point()));
  fields["openings"] = list(object({{"id", word("id of the obstacle")},
                                    {"kind", {{"enum", {"chimney", "skylight", "pipe", "solar"}}}},
                                    {"cuts_deck", flag("false for what lies on the deck")},
                                    {"outline", list(point())},
                                    {"clear_outline", list(point())}}));
  return object(fields, {"more_outlines", "openings"});
}

Json blind_deck() {
  return object({{"plane", word_or_none("plane that goes on beneath; null where it is all hidden")},
                 {"under", word("id of the overlaid part, or of the chimney with a cricket")},
                 {"area_m2", number("true area, openings not taken off")},
                 {"outlines", list(list(point()))},
                 {"openings", list(list(point()))}});
}

Json line() {
  return object({{"id", word("\"a|b\" by its planes, \"#2\" and on where they share more")},
                 {"kind",
                  {{"enum",
                    {"eave", "rake", "ridge", "hip", "valley", "pitch_break", "shed_top",
                     "headwall", "sidewall", "step_wall"}}}},
                 {"length_m", number("true length")},
                 {"plan_length_m", number("length in plan")},
                 {"planes", list(word("plane beside it"))},
                 {"from", point()},
                 {"to", point()}});
}

const char* const kinds =
    "common, hip_jack, valley_jack, cripple_jack, hip, valley, ridge_board, header (across the "
    "slope at an opening), trimmer (second ply beside one), barge_rafter, lookout, blocking, "
    "vented_blocking, collar_tie, valley_sleeper, common_truss, girder_truss, step_down_truss, "
    "jack_truss, valley_truss";

/// What a piece is cut to.
Json cuts() {
  return {
      {"length_m", number("along its centre line, after shortening; of collar ties along the top")},
      {"long_point_m", number("from tip to tip of its slanting ends")},
      {"short_point_m", number("between the inner corners of its ends")},
      {"tail_m", number("from its foot to the wall's outer face, along it")},
      {"overhang_m", number("the same, level")},
      {"plumb_cut_deg", number("between its length and a plumb cut")},
      {"level_cut_deg", number("between its length and a level cut")},
      {"side_cut_deg", number("of its head on the top face, off square")},
      {"foot_side_cut_deg", number("likewise of its foot")},
      {"backing_deg", number("bevel of the top edge of hips and valleys, greater of both")},
      {"backing_left_deg", number("towards the plane on the left of its line")},
      {"backing_right_deg", number("towards the plane on the right")},
      {"drop_m", number("how far an unbacked hip is lowered, plumb")},
      {"heel_cut_m", number("birdsmouth: plumb cut at the wall's outer face")},
      {"seat_cut_m", number("birdsmouth: level cut on the plate")},
      {"plies", count("2 for a doubled header")}};
}

Json member() {
  Json fields{{"id", word("member")},
              {"kind", word(kinds)},
              {"part", word("id of the part")},
              {"plane", word_or_none("plane that it lies under")},
              {"line", word_or_none("line over a hip, valley or ridge board")},
              {"line_length_m", number("theoretical, line to line")},
              {"from", point()},
              {"to", point()},
              {"at_m", number("centre along the eave from the plane's left end")},
              {"layout_m", number("centre along the plate from the wall's left end")},
              {"stock", word("nominal size")},
              {"thickness_m", number("of all plies")},
              {"depth_m", number("")},
              {"lie", {{"enum", {"under_deck", "flat", "free"}}}}};
  fields.update(cuts());
  fields.update({{"head_shortening_m", number("level, from the theoretical end")},
                 {"foot_shortening_m", number("likewise")},
                 {"over_plate_m", number("raised heel: its lower edge over the plate; negative "
                                         "where it lies below the plate")},
                 {"foot_header", word_or_none("header that a cut rafter starts from")},
                 {"head_header", word_or_none("header that a cut rafter ends at")},
                 {"opening", word_or_none("obstacle or dormer of a header or trimmer")},
                 {"truss", word_or_none("truss whose top chord it is")},
                 {"part_of", word_or_none("member that has its whole length")}});
  return object(fields);
}

Json truss() {
  return object({{"id", word("part/tN")},
                 {"kind", word("of truss, as of its chords")},
                 {"part", word("id of the part")},
                 {"station_m", number("along the layout, from its first wall end")},
                 {"span_m", number("level, tails included")},
                 {"height_m", number("from its lowest foot to its highest point")},
                 {"flat_m", number("level top; 0 where it comes to a point")},
                 {"chords", list(word("member"))}});
}

Json cut_line() {
  Json fields{{"part", word("id of the part")},
              {"plane", word_or_none("plane; none for what lies between planes, and trusses")},
              {"kind", word(kinds)},
              {"count", count("equal pieces")},
              {"marks", list(word("ids of the members or trusses"))},
              {"span_m", number("trusses")},
              {"height_m", number("trusses")},
              {"flat_m", number("trusses")},
              {"stock", word("nominal size")}};
  fields.update(cuts());
  Json line = object(fields);
  line["required"] = {"part", "plane", "kind", "count", "marks"};
  return line;
}

Json bay() {
  return object({{"id", word("plane/bN, counted along the eave")},
                 {"plane", word_or_none("its plane")},
                 {"kind", word("as the rafter that would stand there")},
                 {"from_m", number("clear, along the eave")},
                 {"to_m", number("clear, along the eave")},
                 {"clear_width_m", number("between the faces of its rafters")},
                 {"length_m", number("up the slope at its middle")},
                 {"foot", word_or_none("line at its foot")},
                 {"head", word_or_none("line at its head")},
                 {"foot_header", word_or_none("header at its foot, beside an opening")},
                 {"head_header", word_or_none("header at its head")},
                 {"foot_width_m", number("clear along its foot line")},
                 {"head_width_m", number("clear along its head line")},
                 {"at_plate", {{"enum", {"none", "open", "vented", "blocked"}}}},
                 {"across", list(object({{"bay", word_or_none("bay of another plane")},
                                         {"line", word_or_none("line between the two")},
                                         {"length_m", number("shared, along the line")}}))},
                 {"beyond_opening", list(word("bay past an opening that cuts this one short"))},
                 {"compartment", word_or_none("air space that it opens to")},
                 {"spaces", list(object({{"space", word_or_none("id, of compartments[].spaces")},
                                         {"from_m", number("up the slope")},
                                         {"to_m", number("likewise")}}))},
                 {"throat_m", number_or_none("clear height between insulation and deck at the "
                                             "plate, square to the deck; bays from an eave")},
                 {"path", list(word_or_none("space after space from its foot, then the exhaust"))},
                 {"live", flag("air can go from it to an exhaust of the same compartment")},
                 {"why", word("the path to an exhaust, or why there is none")}});
}

/// The object or null.
Json mitre() {
  return or_none(object({{"line", word_or_none("hip or valley")},
                         {"at", {{"enum", {"valley", "hip"}}}},
                         {"plan_angle_deg", number("between eave and line in plan")},
                         {"strip_angle_deg", number("the same in the roof plane")},
                         {"offset_m", number("along the eave, lower to upper edge")}}));
}

/// What shuts the way in.
Json block() { return {{"enum", {"none", "blocking", "insulation", "plate", "closed_soffit"}}}; }

Json slot() {
  return object(
      {{"id", word("run/N")},
       {"run", word("id of the run in the model")},
       {"product", word("id in the catalogue")},
       {"plane", word_or_none("its plane")},
       {"kind", word("kind of vent")},
       {"position", {{"enum", {"eave", "upslope"}}}},
       {"lower_line_m", number("up the slope from the drip edge")},
       {"width_m", number("of the slot")},
       {"start_m", number("along the eave from the plane's left end seen from outside")},
       {"end_m", number("likewise")},
       {"from", point()},
       {"to", point()},
       {"compartment", word_or_none("that it serves")},
       {"free_area_m2", number("over live bays")},
       {"vent_length_m", number("of vent laid over it")},
       {"vent_from_m", number("along the eave, of the vent's longer edge")},
       {"vent_to_m", number("likewise")},
       {"vent_low_m", number("the vent's lower edge, up the slope from the drip edge")},
       {"wall_line_m", number("outer face of the wall, up the slope from the drip edge")},
       {"inner_face_m", number("inner face of the plate, likewise")},
       {"ice_barrier_m", number("reach of the ice barrier, likewise; 0 where none is asked for")},
       {"space_over_insulation_m", number_or_none("least of its bays that lead to an exhaust")},
       {"over_plate_m", number_or_none("likewise")},
       {"blocked_by", block()},
       {"courses", or_none(object({{"exposure_m", number("of one course")},
                                   {"wall_row", count("row over the outer wall line, from 1")},
                                   {"wall_row_butt_m", number("up the slope from the drip edge")},
                                   {"whole_row", count("laid and nailed whole")},
                                   {"whole_row_butt_m", number("likewise")},
                                   {"faced_row", count("face-nailed; the vent stands on it")},
                                   {"faced_row_butt_m", number("likewise")},
                                   {"face_nails_m", number("line of its face nails")},
                                   {"top_nails_below_m", number("more nails below its top")}}))},
       {"left_mitre", mitre()},
       {"right_mitre", mitre()},
       {"bays", list(object({{"bay", word_or_none("id")},
                             {"open_length_m", number("clear of rafters")},
                             {"share_m", number("of vent that serves it, centre to centre")},
                             {"free_area_m2", number("smaller of vent and slot")},
                             {"live", flag("")},
                             {"space_over_insulation_m",
                              number_or_none("clear between insulation and deck, square to the "
                                             "deck, where its air comes in")},
                             {"over_plate_m",
                              number_or_none("between the plate's outer edge and the deck, "
                                             "likewise; of slots over the overhang where the "
                                             "heel of its wall is given")},
                             {"blocked_by", block()}}))},
       {"crossings",
        list(object({{"member", word_or_none("id")},
                     {"at_m", number("centre of the rafter from the slot's start")}}))},
       {"marks", slot_marks_schema()}});
}

Json exhaust() {
  return object({{"id", word("vent, /N where it is in pieces")},
                 {"product", word("id in the catalogue")},
                 {"kind", word("kind of vent")},
                 {"line", word_or_none("line that it runs along")},
                 {"plane", word_or_none("plane that it stands on")},
                 {"wall", word_or_none("gable wall that it stands in")},
                 {"compartment", word_or_none("that it serves; null where it serves several")},
                 {"length_m", number("0 for pieces")},
                 {"from_m", number("along its line, from its start; 0 for pieces")},
                 {"to_m", number("likewise")},
                 {"at_u_m", number("pieces on a plane: along the eave")},
                 {"at_v_m", number("pieces on a plane: up the slope")},
                 {"from_left_m", number("likewise, from the plane's leftmost corner, level")},
                 {"down_m", number("likewise, down the slope from its highest corner")},
                 {"hole_m", number("pieces on a plane: side of the hole in the deck")},
                 {"free_area_m2", number("")},
                 {"from", point()},
                 {"to", point()},
                 {"marks", ridge_marks_schema()},
                 {"tape", tape_schema()},
                 {"shares", list(object({{"bay", word_or_none("null for an attic")},
                                         {"compartment", word_or_none("id")},
                                         {"open_length_m", number("along its line")},
                                         {"free_area_m2", number("")}}))}});
}

Json space() {
  return object({{"id", word("stable")},
                 {"kind", {{"enum", {"attic", "rafter_space", "gap"}}}},
                 {"ceiling", word_or_none("under it")},
                 {"bay", word_or_none("of a rafter space")},
                 {"line", word_or_none("hip or valley along which a gap runs")},
                 {"floor_area_m2", number("in plan; rafter spaces to the middle of the rafters")},
                 {"volume_m3", number("attic: ceiling to deck; rafter space: insulation to deck")},
                 {"top_m", number("highest point of the roof over it")},
                 {"bottom_m", number("ceiling; rafter spaces: roof at the foot")},
                 {"clear_m", number("rafter spaces: between insulation and deck")}});
}

Json join() {
  return object({{"kind",
                  {{"enum",
                    {"bay_end", "goes_on", "side_by_side", "pitch_break", "line_gap", "header",
                     "deck_opening"}}}},
                 {"one", word("a space")},
                 {"other", word("the other space")},
                 {"bay", word_or_none("through which it leads")},
                 {"line", word_or_none("hip, valley or pitch break")},
                 {"area_m2", number("clear; 0 where no size is known")},
                 {"at", point()},
                 {"open", flag("false: no height is left for air")}});
}

Json compartment() {
  return object({{"id", word("the ceiling's id, several with +; rafter spaces: ceiling and bay")},
                 {"kind", {{"enum", {"attic", "rafter_space"}}}},
                 {"floor_area_m2", number("")},
                 {"volume_m3", number("between ceiling and roof surface")},
                 {"top_m", number("height of its highest point")},
                 {"bottom_m", number("height of its ceiling")},
                 {"ratio", number("floor area over required free area, as it applies")},
                 {"required_m2", number("net free area, intake and exhaust together")},
                 {"intake_m2", number("")},
                 {"exhaust_m2", number("")},
                 {"intake_share", number("intake over both, 0 to 1")},
                 {"spaces", list(space())},
                 {"joins", list(join())},
                 {"tests", list(object({{"test", word("id of the rule")},
                                        {"section", word("of the code")},
                                        {"words", word("plain words")},
                                        {"holds", flag_or_none("null: not tested, for the model "
                                                               "does not say what it takes")},
                                        {"measured", number("m, m2 or a share")},
                                        {"needed", word("with its unit")},
                                        {"is_condition", flag("of the reduced area")},
                                        {"is_advice", flag("common practice, no code")},
                                        {"from_memory", flag("figure not read in the code")}}))}});
}

Json conflict() {
  return object({{"kind", word("stable word")},
                 {"severity", {{"enum", {"error", "warning", "note"}}}},
                 {"at", point()},
                 {"plane", word_or_none("")},
                 {"slot", word_or_none("")},
                 {"member", word_or_none("")},
                 {"exhaust", word_or_none("")},
                 {"compartment", word_or_none("the first of several alike")},
                 {"measured", word("")},
                 {"needed", word("")},
                 {"message", word("what is in the way")},
                 {"remedy", word("what to do")}});
}

Json section_run() {
  const Json cut{{"enum", {"factory", "square", "mitre"}}};
  const Json at{{"enum", {"joint", "rake", "valley", "hip", "wall", "run_end"}}};
  const Json piece = object(
      {{"length_m", number("of its longer edge: what it takes of its section")},
       {"cut_left", cut},
       {"cut_right", cut},
       {"left_at", at},
       {"right_at", at},
       {"left_angle_deg", number("between edge and cut in the roof plane, the acute angle")},
       {"right_angle_deg", number("likewise")},
       {"left_offset_m", number("along the edge, from the lower to the upper end of the cut")},
       {"right_offset_m", number("likewise")},
       {"lower_edge_m", number("")},
       {"upper_edge_m", number("")},
       {"from_m", number("along eave or line, of its longer edge")},
       {"to_m", number("likewise")},
       {"section", count("bought section it is cut from, from 1 within its product")},
       {"section_from_m", number("where it lies in that section, from its left end")}});
  return object(
      {{"run", word("id of the run or vent in the model")},
       {"over", word("slot that it covers; exhaust: the vent")},
       {"product", word("id in the catalogue")},
       {"plane", word_or_none("intake")},
       {"line", word_or_none("exhaust")},
       {"length_m", number("of its longer edge")},
       {"cover_length_m", number("of underlayment over an intake vent; 0: none but ice barrier")},
       {"cover_width_m", number("as it is laid")},
       {"cover_strip_m", number("width of the strip that it is cut from")},
       {"pieces", list(piece)}});
}

Json purchase() {
  return object({{"product", word("id in the catalogue")},
                 {"section_m", number("length of one section")},
                 {"bought", count("sections")},
                 {"lower_bound", count("no plan buys fewer")},
                 {"is_least", flag("proven: no plan buys fewer")},
                 {"laid_m", number("sum of the strips")},
                 {"waste_m", number("bought, less what is laid")}});
}

Json shingled_plane() {
  return object({{"plane", word_or_none("crickets are left out")},
                 {"courses", count("rows of shingles")},
                 {"whole", count("shingles laid uncut")},
                 {"cut", count("pieces")},
                 {"from_left_over", count("of those, cut from a left-over")},
                 {"bought", count("shingles opened for this plane")},
                 {"laid_m2", number("covered, openings taken off")},
                 {"waste_share", number("bought exposures over what is covered, less 1")}});
}

Json totals() {
  Json fields = lengths();
  fields["volume_m3"] = number("of all compartments");
  fields["required_m2"] = number("");
  fields["intake_m2"] = number("");
  fields["exhaust_m2"] = number("");
  return object(fields);
}

}  // namespace

std::string assessment_schema() {
  Json all = object(
      {{"ridgeward", {{"const", 1}}},
       {"model", {{"type", "object"}, {"description", "the model as read, lengths in metres"}}},
       {"code", word("id of the code set")},
       {"planes", list(plane())},
       {"lines", list(line())},
       {"blind_decks", list(blind_deck())},
       {"members", list(member())},
       {"trusses", list(truss())},
       {"bays", list(bay())},
       {"slots", list(slot())},
       {"exhausts", list(exhaust())},
       {"compartments", list(compartment())},
       {"conflicts", list(conflict())},
       {"airflow", air_schema()},
       {"takeoff", object({{"totals", object(lengths())},
                           {"order", list(object({{"item", word("")},
                                                  {"unit", word("")},
                                                  {"quantity", number("")},
                                                  {"for", word("run, vent, plane, line, product")},
                                                  {"unit_price", number_or_none("for one unit")},
                                                  {"price", number_or_none("of the line")}}))},
                           {"price", object({{"sum", number("of the lines with a price")},
                                             {"without_price", count("lines without one")}})},
                           {"sections", list(section_run())},
                           {"purchases", list(purchase())},
                           {"shingles", list(shingled_plane())},
                           {"cut_list", list(cut_line())}})},
       {"totals", totals()},
       {"products", products_schema()},
       {"practice", practice_schema()},
       {"framing_square", framing_square_schema()},
       {"assumptions", list(word(""))},
       {"cautions", list(word(""))}});
  all["$schema"] = "https://json-schema.org/draft/2020-12/schema";
  all["title"] = "Ridgeward assessment, version 1";
  return all.dump(2) + "\n";
}

}  // namespace ridgeward::papers
