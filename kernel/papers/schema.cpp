// The JSON Schema of the assessment; tests hold every demo house against it.
#include "papers/air.hpp"
#include "papers/json.hpp"

#include <nlohmann/json.hpp>

namespace ridgeward::papers {

namespace {

using Json = nlohmann::ordered_json;

Json number(const char* text) { return {{"type", "number"}, {"description", text}}; }
Json count(const char* text) { return {{"type", "integer"}, {"description", text}}; }
Json word(const char* text) { return {{"type", "string"}, {"description", text}}; }
Json word_or_none(const char* text) {
  return {{"type", Json::array({"string", "null"})}, {"description", text}};
}
Json flag(const char* text) { return {{"type", "boolean"}, {"description", text}}; }
Json list(const Json& item) { return {{"type", "array"}, {"items", item}}; }
Json object(const Json& fields, std::initializer_list<const char*> optional = {}) {
  Json required = Json::array();
  for (const auto& [key, value] : fields.items()) {
    bool is_optional = false;
    for (const char* name : optional) {
      is_optional = is_optional || key == name;
    }
    if (!is_optional) {
      required.push_back(key);
    }
  }
  return {{"type", "object"},
          {"properties", fields},
          {"required", required},
          {"additionalProperties", false}};
}
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

Json member() {
  return object(
      {{"id", word("member")},
       {"kind",
        word("common, hip_jack, valley_jack, cripple_jack, hip, valley, ridge_board, header "
             "(across the slope at an opening), trimmer (second ply beside one)")},
       {"plane", word_or_none("plane of a rafter")},
       {"line", word_or_none("line over a hip, valley or ridge board")},
       {"length_m", number("after shortening")},
       {"line_length_m", number("theoretical, line to line")},
       {"from", point()},
       {"to", point()},
       {"at_m", number("centre along the eave from the plane's left end")},
       {"stock", word("nominal size")},
       {"plumb_cut_deg", number("between its length and a plumb cut")},
       {"side_cut_deg", number("on its top face, off square")},
       {"backing_deg", number("bevel of the top edge of hips and valleys")},
       {"foot_header", word_or_none("header that a cut rafter starts from")},
       {"head_header", word_or_none("header that a cut rafter ends at")},
       {"opening", word_or_none("obstacle that a header or trimmer belongs to")},
       {"plies", count("2 for a doubled header")}});
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
                 {"compartment", word_or_none("air space that it opens to")},
                 {"live", flag("air can go from it to an exhaust of the same compartment")},
                 {"why", word("the path to an exhaust, or why there is none")}});
}

Json slot() {
  return object(
      {{"id", word("run/N")},
       {"run", word("id of the run in the model")},
       {"product", word("id in the catalogue")},
       {"plane", word_or_none("its plane")},
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
       {"bays", list(object({{"bay", word_or_none("id")},
                             {"open_length_m", number("clear of rafters")},
                             {"share_m", number("of vent that serves it, centre to centre")},
                             {"free_area_m2", number("smaller of vent and slot")},
                             {"live", flag("")}}))},
       {"crossings",
        list(object({{"member", word_or_none("id")},
                     {"at_m", number("centre of the rafter from the slot's start")}}))}});
}

Json exhaust() {
  return object({{"id", word("vent, /N where it is in pieces")},
                 {"product", word("id in the catalogue")},
                 {"kind", word("kind of vent")},
                 {"line", word_or_none("line that it runs along")},
                 {"plane", word_or_none("plane that it stands on")},
                 {"compartment", word_or_none("that it serves")},
                 {"length_m", number("0 for pieces")},
                 {"free_area_m2", number("")},
                 {"from", point()},
                 {"to", point()}});
}

Json compartment() {
  return object({{"id", word("the ceiling's id")},
                 {"floor_area_m2", number("")},
                 {"volume_m3", number("between ceiling and roof surface")},
                 {"top_m", number("height of its highest point")},
                 {"bottom_m", number("height of its ceiling")},
                 {"ratio", number("floor area over required free area, as it applies")},
                 {"required_m2", number("net free area, intake and exhaust together")},
                 {"intake_m2", number("")},
                 {"exhaust_m2", number("")},
                 {"intake_share", number("intake over both, 0 to 1")},
                 {"tests", list(object({{"test", word("id of the rule")},
                                        {"section", word("of the code")},
                                        {"words", word("plain words")},
                                        {"holds", flag("")},
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
                 {"measured", word("")},
                 {"needed", word("")},
                 {"message", word("what is in the way")},
                 {"remedy", word("what to do")}});
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
                                                  {"for", word("run or line")}}))},
                           {"sections", list({{"type", "object"}})}})},
       {"totals", totals()},
       {"assumptions", list(word(""))},
       {"cautions", list(word(""))}});
  all["$schema"] = "https://json-schema.org/draft/2020-12/schema";
  all["title"] = "Ridgeward assessment, version 1";
  return all.dump(2) + "\n";
}

}  // namespace ridgeward::papers
