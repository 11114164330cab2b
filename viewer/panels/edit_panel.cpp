// The fields of what is selected.
#include "draw/palette.hpp"
#include "panels/edit_panels.hpp"
#include "panels/more_fields.hpp"
#include "panels/named.hpp"
#include "panels/theme.hpp"
#include "panels/thing_fields.hpp"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

namespace ridgeward::panels {
namespace {

/// Gives an edge another kind, with what that kind needs.
void become(model::Edge& edge, model::EdgeKind kind, const model::Part& part) {
  using units::foot_m;
  edge.kind = kind;
  const bool needs_pitch = model::bears_plane(kind) && edge.pitch.tangent() <= 0.0;
  for (std::size_t i = 0; needs_pitch && i < part.edge_count(); ++i) {
    edge.pitch = model::bears_plane(part.edge(i).kind) ? part.edge(i).pitch : edge.pitch;
  }
  edge.from_height_m = kind == model::EdgeKind::half_hip ? 4 * foot_m : 0.0;
  edge.wall_height_m = kind == model::EdgeKind::gablet ? 2 * foot_m : 0.0;
  if (!model::bears_plane(kind)) {
    edge.breaks.clear();
  }
}

void edge_fields(const Form& form, const model::Part& part, std::size_t index) {
  const model::Edge& now = part.edge(index);
  const Change change{form, part.id + "/" + std::to_string(index)};
  const auto set = [&](const std::string& what, const std::string& field, auto with) {
    model::Edge value = now;
    with(value);
    change(edit::SetEdge{part.id, index, value}, what, field);
  };
  choose<model::EdgeKind>(
      form, "edge/kind", "Kind", {"Eave", "Gable", "Gablet", "Half hip", "Shed top", "Wall"},
      now.kind, [&](model::EdgeKind kind) {
        set("Kind", "edge/kind", [&](model::Edge& e) { become(e, kind, part); });
      });
  if (model::bears_plane(now.kind)) {
    if (const auto pitch = pitch_field(form, "edge/pitch", "Pitch", now.pitch)) {
      set("Pitch", "edge/pitch", [&](model::Edge& e) { e.pitch = *pitch; });
    }
  }
  if (now.kind == model::EdgeKind::half_hip) {
    if (const auto m = length_field(form, "edge/from-height", "Clipped from", now.from_height_m)) {
      set("Clip", "edge/from-height", [&](model::Edge& e) { e.from_height_m = *m; });
    }
  }
  if (now.kind == model::EdgeKind::gablet) {
    if (const auto m = length_field(form, "edge/wall-height", "Gablet high", now.wall_height_m)) {
      set("Gablet", "edge/wall-height", [&](model::Edge& e) { e.wall_height_m = *m; });
    }
  }
  if (const auto m = length_field(form, "edge/overhang", "Overhang", now.overhang_m)) {
    set("Overhang", "edge/overhang", [&](model::Edge& e) { e.overhang_m = *m; });
  }
  choose<model::Soffit>(form, "edge/soffit", "Soffit", {"None", "Open", "Vented", "Closed"},
                        now.soffit, [&](model::Soffit soffit) {
                          set("Soffit", "edge/soffit", [&](model::Edge& e) { e.soffit = soffit; });
                        });
}

/// Every edge of the part alike: what people ask for first.
void all_edges(const Form& form, const model::Part& part, std::size_t index) {
  const model::Edge& now = part.edge(index);
  if (!model::bears_plane(now.kind)) {
    return;
  }
  if (button(form, "edge/pitch-all", "This pitch on all eaves of " + part.id)) {
    for (std::size_t i = 0; i < part.edge_count(); ++i) {
      model::Edge value = part.edge(i);
      if (model::bears_plane(value.kind) && !(value.pitch == now.pitch)) {
        value.pitch = now.pitch;
        form.intents.emplace_back(
            EditIntent(Wish(Do{edit::SetEdge{part.id, i, value}, "Pitch of " + part.id, "pitch-all",
                               "edge/pitch-all"})));
      }
    }
    form.intents.emplace_back(EditIntent(Wish(LetGo{})));
  }
}

void framing_fields(const Form& form, const model::Part& part) {
  const auto set = [&](const std::string& what, const std::string& field, auto with) {
    model::Part value = part;
    with(value.framing);
    Change{form, part.id}(edit::SetPart{value}, what, field);
  };
  const model::Framing& now = part.framing;
  choose<model::FramingKind>(form, "framing/kind", "Framing", {"Rafters", "Trusses"}, now.kind,
                             [&](model::FramingKind kind) {
                               set("Framing", "framing/kind",
                                   [&](model::Framing& f) { f.kind = kind; });
                             });
  if (const auto m = length_field(form, "framing/spacing", "Spacing", now.spacing_m)) {
    set("Spacing", "framing/spacing", [&](model::Framing& f) { f.spacing_m = *m; });
  }
  if (const auto m = length_field(form, "framing/origin", "Layout from", now.origin_m)) {
    set("Layout", "framing/origin", [&](model::Framing& f) { f.origin_m = *m; });
  }
  const auto stock = [&](const char* word, const char* label, std::string model::Framing::*which) {
    const std::string id = std::string("framing/") + word;
    if (const auto text = text_field(form, id, label, now.*which); text && *text != now.*which) {
      set(label, id, [&](model::Framing& f) { f.*which = *text; });
    }
  };
  stock("rafter", "Rafters", &model::Framing::rafter);
  stock("ridge", "Ridges", &model::Framing::ridge);
  stock("hip", "Hips", &model::Framing::hip);
  stock("valley", "Valleys", &model::Framing::valley);
  choose<model::Blocking>(form, "framing/blocking", "Blocking", {"None", "Vented", "Solid"},
                          now.blocking, [&](model::Blocking blocking) {
                            set("Blocking", "framing/blocking",
                                [&](model::Framing& f) { f.blocking = blocking; });
                          });
}

void part_fields(const Form& form, const model::Part& part) {
  const Change change{form, part.id};
  const auto length = [&](const char* word, const char* label, double model::Part::*which) {
    const std::string id = std::string("part/") + word;
    if (const auto m = length_field(form, id, label, part.*which)) {
      model::Part value = part;  // NOLINT(misc-const-correctness): set through a member pointer
      value.*which = *m;
      change(edit::SetPart{value}, label, id);
    }
  };
  if (const auto name = text_field(form, "part/name", "Name", part.id); name && *name != part.id) {
    form.intents.emplace_back(EditIntent(
        Wish(Do{edit::RenamePart{part.id, *name}, "Rename " + part.id, {}, "part/name"})));
    form.intents.emplace_back(EditIntent(SetTarget{{Target::What::part, *name, 0}}));
  }
  length("plate", "Plate", &model::Part::plate_m);
  length("heel", "Heel", &model::Part::heel_m);
  length("deck", "Deck", &model::Part::deck_m);
  length("wall", "Walls thick", &model::Part::wall_thickness_m);
  choose<model::Fascia>(form, "part/fascia", "Fascia", {"Level", "As given"}, part.fascia,
                        [&](model::Fascia fascia) {
                          model::Part value = part;
                          value.fascia = fascia;
                          change(edit::SetPart{value}, "Fascia", "part/fascia");
                        });
  choose<model::Valleys>(form, "part/valleys", "Valleys", {"Framed", "Overlaid"}, part.valleys,
                         [&](model::Valleys valleys) {
                           model::Part value = part;
                           value.valleys = valleys;
                           change(edit::SetPart{value}, "Valleys", "part/valleys");
                         });
  ImGui::Spacing();
  framing_fields(form, part);
}

void site_fields(const Form& form, const model::RoofModel& model) {
  const auto set = [&](const std::string& what, const std::string& field, auto with) {
    model::Site value = model.site;
    with(value);
    Change{form, "the site"}(edit::SetSite{value}, what, field);
  };
  if (const auto name = text_field(form, "house/name", "Name", model.name);
      name && *name != model.name) {
    Change{form, "the house"}(edit::SetName{*name}, "Name", "house/name");
  }
  if (const auto code = text_field(form, "site/code", "Code set", model.site.code);
      code && *code != model.site.code) {
    set("Code", "site/code", [&](model::Site& s) { s.code = *code; });
  }
  if (const auto zone = text_field(form, "site/zone", "Climate zone", model.site.climate_zone);
      zone && *zone != model.site.climate_zone) {
    set("Zone", "site/zone", [&](model::Site& s) { s.climate_zone = *zone; });
  }
  if (const auto on = check_field(form, "site/snow", "Snow", model.site.snow)) {
    set("Snow", "site/snow", [&](model::Site& s) { s.snow = *on; });
  }
  const std::vector<std::string> exposures{"flat", "open", "suburb", "city"};
  const auto at = std::find(exposures.begin(), exposures.end(), model.site.exposure);
  if (const auto chosen = choice_field(form, "site/exposure", "Exposure", exposures,
                                       static_cast<std::size_t>(at - exposures.begin()))) {
    set("Exposure", "site/exposure", [&](model::Site& s) { s.exposure = exposures[*chosen]; });
  }
  if (const auto deg = number_field(form, "site/north", "North (deg)", model.site.north_deg)) {
    set("North", "site/north", [&](model::Site& s) { s.north_deg = *deg; });
  }
  if (const auto c = temperature_field(form, "site/winter", "Winter", model.site.winter_c)) {
    set("Winter", "site/winter", [&](model::Site& s) { s.winter_c = *c; });
  }
  if (const auto c = temperature_field(form, "site/summer", "Summer", model.site.summer_c)) {
    set("Summer", "site/summer", [&](model::Site& s) { s.summer_c = *c; });
  }
  if (const auto m =
          length_field(form, "roofing/exposure", "Course shows", model.roofing.exposure_m)) {
    model::Roofing value = model.roofing;
    value.exposure_m = *m;
    Change{form, "the roofing"}(edit::SetRoofing{value}, "Exposure", "roofing/exposure");
  }
  choose<model::IceBarrier>(
      form, "roofing/ice-barrier", "Ice barrier", {"By climate", "Required", "None"},
      model.roofing.ice_barrier, [&](model::IceBarrier barrier) {
        model::Roofing value = model.roofing;
        value.ice_barrier = barrier;
        Change{form, "the roofing"}(edit::SetRoofing{value}, "Ice barrier", "roofing/ice-barrier");
      });
}

/// Names of things of one kind, each a button that shows its fields.
template <class Things>
void list(const Form& form, const char* title, const Things& things, Target::What what) {
  if (things.empty()) {
    return;
  }
  ImGui::PushStyleColor(ImGuiCol_Text, ImGui::GetStyleColorVec4(ImGuiCol_TextDisabled));
  ImGui::TextUnformatted(title);
  ImGui::PopStyleColor();
  for (const auto& thing : things) {
    if (ImGui::Selectable((thing.id + "##" + title).c_str(), false)) {
      form.intents.emplace_back(EditIntent(SetTarget{{what, thing.id, 0}}));
    }
    note(form.recorder, std::string("list/") + title + "/" + thing.id, "button", thing.id);
  }
}

/// A new ceiling over a part or a divider across it.
void adders(const Form& form, const model::RoofModel& model) {
  const model::Part& part = model.parts.front();
  if (button(form, "add/ceiling", "Add ceiling")) {
    model::Ceiling value;
    value.id = edit::free_id(model, "ceiling");
    value.outline = part.outline;
    value.height_m = part.plate_m;
    value.insulation_m = units::foot_m;
    Change{form, value.id}(edit::PutCeiling{value}, "Outline", "add/ceiling");
    form.intents.emplace_back(EditIntent(SetTarget{{Target::What::ceiling, value.id, 0}}));
  }
  ImGui::SameLine();
  if (button(form, "add/divider", "Add divider")) {
    glm::dvec2 low = part.outline.front();
    glm::dvec2 high = low;
    for (const glm::dvec2 corner : part.outline) {
      low = glm::min(low, corner);
      high = glm::max(high, corner);
    }
    const double middle = (low.x + high.x) / 2;
    const model::Divider value{edit::free_id(model, "divider"), {middle, low.y}, {middle, high.y}};
    Change{form, value.id}(edit::PutDivider{value}, "Place", "add/divider");
    form.intents.emplace_back(EditIntent(SetTarget{{Target::What::divider, value.id, 0}}));
  }
}

void house_fields(const Form& form, const model::RoofModel& model) {
  heading("House");
  site_fields(form, model);
  air_fields(form, model);
  ImGui::Spacing();
  list(form, "Parts", model.parts, Target::What::part);
  list(form, "Intake", model.intake, Target::What::intake);
  list(form, "Exhaust", model.exhaust, Target::What::exhaust);
  list(form, "Obstacles", model.obstacles, Target::What::obstacle);
  list(form, "Ceilings", model.ceilings, Target::What::ceiling);
  list(form, "Dividers", model.dividers, Target::What::divider);
  adders(form, model);
}

/// Finds the thing and shows its fields; false when it is no more.
template <class Things, class Fields>
bool shown(const Form& form, const Things& things, const char* title, Fields fields) {
  const auto found = find(things, form.look.state.edit.target.id);
  if (found == things.end()) {
    return false;
  }
  heading(titled(title, found->id));
  fields(form, *found);
  return true;
}

void edge_or_part(const Form& form, const model::Part& part) {
  const Target& target = form.look.state.edit.target;
  const bool is_edge = target.what == Target::What::edge && target.index < part.edge_count();
  if (is_edge) {
    heading(fmt::format("Edge {}/{}", part.id, target.index));
    edge_fields(form, part, target.index);
    if (model::bears_plane(part.edge(target.index).kind)) {
      break_fields(form, part, target.index);
    }
    measured_fields(form, part, target.index);
    all_edges(form, part, target.index);
    ImGui::Spacing();
  }
  heading("Part " + part.id);
  part_fields(form, part);
  collar_tie_fields(form, part);
  air_past_fields(form, part);
  courtyard_fields(form, part);
  deck_opening_fields(form, part);
}

bool target_fields(const Form& form, const model::RoofModel& model) {
  const Target& target = form.look.state.edit.target;
  switch (target.what) {
    case Target::What::house:
      return false;
    case Target::What::edge:
    case Target::What::part: {
      const auto part = find(model.parts, target.id);
      if (part == model.parts.end()) {
        return false;
      }
      edge_or_part(form, *part);
      return true;
    }
    case Target::What::intake:
      return shown(form, model.intake, "Intake", intake_fields);
    case Target::What::exhaust:
      return shown(form, model.exhaust, "Exhaust", exhaust_fields);
    case Target::What::obstacle:
      return shown(form, model.obstacles, "Obstacle", obstacle_fields);
    case Target::What::ceiling:
      return shown(form, model.ceilings, "Ceiling", ceiling_fields);
    case Target::What::divider:
      return shown(form, model.dividers, "Divider", divider_fields);
  }
  return false;
}

/// Facts of a selected line that is no edge of its own, and the edges beside it; false without one.
bool line_body(const Form& form) {
  const surface::Surface& surface = form.look.assessment.surface;
  const scene::Picked& selected = form.look.state.selected;
  if (!selected.plane.is_none() || !surface.lines.has(selected.line) ||
      form.look.state.edit.target.what != Target::What::house) {
    return false;
  }
  const SelectionText text = selection_text(form.look.assessment, selected, form.look.state.style);
  heading(text.title);
  note(form.recorder, "selection/title", "text", text.title);
  for (const Row& one : text.rows) {
    row(one);
  }
  const surface::Line& line = surface.lines[selected.line];
  for (const PlaneId id : {line.left_plane(), line.right_plane()}) {
    if (id.is_none()) {
      continue;
    }
    const surface::Plane& plane = surface.planes[id];
    const Target edge{Target::What::edge, form.look.assessment.model.parts[plane.part].id,
                      plane.edge};
    const std::string name = edge.id + "/" + std::to_string(edge.index);
    if (button(form, "edit/beside/" + name, "Change edge " + name)) {
      form.intents.emplace_back(EditIntent(SetTarget{edge}));
    }
    ImGui::SameLine();
  }
  if (button(form, "edit/house", "All of the house")) {
    form.intents.emplace_back(Select{});
  }
  return true;
}

}  // namespace

void edit_body(const Look& look, Recorder& recorder, Intents& intents) {
  const Form form{look, recorder, intents};
  if (line_body(form)) {
    return;
  }
  if (!target_fields(form, look.assessment.model)) {
    house_fields(form, look.assessment.model);
    return;
  }
  ImGui::Spacing();
  if (look.state.edit.target.what != Target::What::edge &&
      button(form, "edit/remove", "Remove (Del)")) {
    const Intents removal = command(look.state, "edit/remove").ask;
    intents.insert(intents.end(), removal.begin(), removal.end());
  }
  ImGui::SameLine();
  if (button(form, "edit/house", "All of the house")) {
    intents.emplace_back(EditIntent(SetTarget{}));
  }
}

}  // namespace ridgeward::panels
