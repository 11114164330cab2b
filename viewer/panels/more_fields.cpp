// Fields that few houses need, each kind in a group that is folded until it is asked for.
#include "panels/more_fields.hpp"

#include "base/polygon.hpp"

#include "edit/stage.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>

namespace ridgeward::panels {
namespace {

std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  const std::size_t last = text.find_last_not_of(' ');
  return first == std::string::npos ? "" : text.substr(first, last - first + 1);
}

units::LengthUnit unit_of(units::Style style) {
  return style == units::Style::metric ? units::LengthUnit::m : units::LengthUnit::ft;
}

std::string counted(const char* words, std::size_t count) {
  return count == 0 ? fmt::format("{} (none)", words) : fmt::format("{} ({})", words, count);
}

/// What could not be read is said below its field, as for single lengths.
void say(const Form& form, const std::string& id, const char* cure) {
  form.intents.emplace_back(EditIntent(TypeField{"!" + id, cure}));
}

/// A corner with buttons for one more after it and for none there.
void corner_row(const Form& form, const std::string& id, std::size_t i,
                std::vector<glm::dvec2>& outline, bool& is_changed) {
  const std::string name = fmt::format("{}/{}", id, i);
  const float small = ImGui::GetFrameHeight();
  const float gap = 4.0F * ui_scale();
  Form narrow = form;
  narrow.right_room = 2 * (small + gap);
  const units::Style style = form.look.state.style;
  const std::string label = fmt::format("Corner {}", i + 1);
  const std::string shown = corner_text(outline[i], style);
  const auto entered = text_field(narrow, name, label.c_str(), shown);
  ImGui::SameLine(0.0F, gap);
  const bool adds = button(form, name + "/add", "+", small);
  ImGui::SameLine(0.0F, gap);
  const bool removes = button(form, name + "/remove", "-", small, outline.size() > 3);
  const auto at = static_cast<std::ptrdiff_t>(i);
  if (entered && *entered != shown) {
    if (const auto corner = typed_corner(*entered, style)) {
      outline[i] = *corner;
      is_changed = true;
    } else {
      say(form, name, "No place: give x and y, 12' 6\", 8'.");
    }
  } else if (adds) {
    const glm::dvec2 middle = (outline[i] + outline[(i + 1) % outline.size()]) / 2.0;
    outline.insert(outline.begin() + at + 1, {units::on_grid(middle.x), units::on_grid(middle.y)});
    is_changed = true;
  } else if (removes) {
    outline.erase(outline.begin() + at);
    is_changed = true;
  }
}

std::optional<std::vector<glm::dvec2>> outline_rows(const Form& form, const std::string& id,
                                                    const std::vector<glm::dvec2>& outline) {
  std::vector<glm::dvec2> value = outline;
  bool is_changed = false;
  for (std::size_t i = 0; i < value.size() && !is_changed; ++i) {
    corner_row(form, id, i, value, is_changed);
  }
  return is_changed ? std::optional(value) : std::nullopt;
}

/// The edge whose members were measured; none: its layout.
std::vector<double> measured_at(const model::Framing& framing, std::size_t edge) {
  for (const model::MeasuredEdge& one : framing.measured) {
    if (one.edge == static_cast<int>(edge)) {
      return one.at_m;
    }
  }
  return {};
}

void courtyard(const Form& form, const model::Part& part, std::size_t hole, std::size_t first) {
  const std::string id = fmt::format("hole/{}", hole);
  const Change change{form, part.id};
  ImGui::TextDisabled("Courtyard %d", static_cast<int>(hole) + 1);
  if (const auto outline = outline_rows(form, id, part.holes[hole].outline)) {
    change(edit::PutHole{part.id, hole, *outline}, "Courtyard", id);
  }
  for (std::size_t i = 0; i < part.holes[hole].edges.size(); ++i) {
    const std::string name = fmt::format("{}/{}", part.id, first + i);
    if (button(form, id + "/edge/" + std::to_string(i), name)) {
      form.intents.emplace_back(EditIntent(SetTarget{{Target::What::edge, part.id, first + i}}));
    }
    if (i + 1 < part.holes[hole].edges.size() &&
        ImGui::GetItemRectMax().x - ImGui::GetWindowPos().x < 190.0F * ui_scale()) {
      ImGui::SameLine();
    }
  }
  if (button(form, id + "/remove", "Remove courtyard")) {
    change(edit::RemoveHole{part.id, hole}, "Courtyard", id);
  }
}

void add_of(const Form& form, const std::string& id, const char* words, model::Way now,
            const std::function<void(model::Way)>& then) {
  choose<model::Way>(form, id, words, {"Tight", "Dropped", "Drilled"}, now, then);
}

/// The temperature of the attic as it is typed; empty: worked out. Nothing where that stays.
std::optional<std::optional<double>> attic_field(const Form& form, const std::string& id,
                                                 std::optional<double> now_c) {
  const units::Style style = form.look.state.style;
  const std::string attic = now_c ? fmt::format("{:g}", shown_temperature(*now_c, style)) : "";
  const std::string label = fmt::format("Attic ({})", temperature_sign(style));
  const auto text = text_field(form, id, label.c_str(), attic);
  if (!text || *text == attic) {
    return std::nullopt;
  }
  const auto value = typed_number(*text);
  if (!value && !trimmed(*text).empty()) {
    say(form, id, "No number; empty: worked out.");
    return std::nullopt;
  }
  std::optional<double> celsius;
  if (value) {
    celsius = celsius_of(*value, style);
  }
  return celsius;
}

/// One of the user's own weathers.
void air_case(const Form& form, const model::Air& air, std::size_t index,
              const std::function<void(const model::Air&, const std::string&)>& then) {
  const model::AirCase& now = air.cases[index];
  const std::string id = fmt::format("air/case/{}", index);
  if (!group(form, id, now.name)) {
    return;
  }
  const auto set = [&](const std::string& field, auto with) {
    model::Air value = air;
    with(value.cases[index]);
    then(value, id + "/" + field);
  };
  const auto number = [&](const char* field, const char* label, double model::AirCase::*which) {
    if (const auto value = number_field(form, id + "/" + field, label, now.*which)) {
      set(field, [&](model::AirCase& c) { c.*which = *value; });
    }
  };
  const auto check = [&](const char* field, const char* label, bool model::AirCase::*which) {
    if (const auto on = check_field(form, id + "/" + field, label, now.*which)) {
      set(field, [&](model::AirCase& c) { c.*which = *on; });
    }
  };
  if (const auto name = text_field(form, id + "/name", "Name", now.name);
      name && *name != now.name) {
    set("name", [&](model::AirCase& c) { c.name = *name; });
  }
  const auto temperature = [&](const char* field, const char* label,
                               double model::AirCase::*which) {
    if (const auto value = temperature_field(form, id + "/" + field, label, now.*which)) {
      set(field, [&](model::AirCase& c) { c.*which = *value; });
    }
  };
  temperature("outside", "Outside", &model::AirCase::outside_c);
  temperature("inside", "Rooms", &model::AirCase::inside_c);
  if (const auto attic_c = attic_field(form, id + "/attic", now.attic_c)) {
    set("attic", [&](model::AirCase& c) { c.attic_c = *attic_c; });
  }
  if (const auto speed = speed_field(form, id + "/wind", "Wind", now.wind_ms)) {
    set("wind", [&](model::AirCase& c) { c.wind_ms = *speed; });
  }
  number("from", "Wind from (deg)", &model::AirCase::wind_from_deg);
  number("sun", "Sun (0 to 1)", &model::AirCase::sun);
  check("clear", "Clear night", &model::AirCase::clear_sky);
  if (const auto m = length_field(form, id + "/snow", "Snow deep", now.snow_m)) {
    set("snow", [&](model::AirCase& c) { c.snow_m = *m; });
  }
  check("fans", "Fans run", &model::AirCase::fans);
  if (button(form, id + "/remove", "Remove this weather")) {
    model::Air value = air;
    value.cases.erase(value.cases.begin() + static_cast<std::ptrdiff_t>(index));
    then(value, id);
  }
}

}  // namespace

bool group(const Form& form, const std::string& id, const std::string& words) {
  const bool was_open = form.look.state.edit.open_groups.contains(id);
  ImGui::SetNextItemOpen(was_open);
  const bool is_open = ImGui::CollapsingHeader((words + "##" + id).c_str());
  note(form.recorder, "group/" + id, "group", was_open ? "open" : "folded");
  if (is_open != was_open) {
    form.intents.emplace_back(EditIntent(Fold{id, is_open}));
  }
  return was_open;
}

std::string corner_text(glm::dvec2 corner, units::Style style) {
  return length_text(corner.x, style) + ", " + length_text(corner.y, style);
}

std::optional<glm::dvec2> typed_corner(const std::string& text, units::Style style) {
  const auto both = typed_lengths(text, style);
  return both && both->size() == 2 ? std::optional(glm::dvec2((*both)[0], (*both)[1]))
                                   : std::nullopt;
}

std::optional<std::vector<double>> typed_lengths(const std::string& text, units::Style style) {
  std::vector<double> lengths;
  if (trimmed(text).empty()) {
    return lengths;
  }
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t to = std::min(text.find_first_of(",;", from), text.size());
    const auto length = units::parse_length(trimmed(text.substr(from, to - from)), unit_of(style));
    if (!length) {
      return std::nullopt;
    }
    lengths.push_back(*length);
    from = to + 1;
  }
  return lengths;
}

void outline_group(const Form& form, const std::string& id, const std::vector<glm::dvec2>& outline,
                   const std::function<void(const std::vector<glm::dvec2>&)>& then) {
  if (group(form, id, fmt::format("Outline ({} corners)", outline.size()))) {
    if (const auto value = outline_rows(form, id, outline)) {
      then(*value);
    }
  }
}

void break_fields(const Form& form, const model::Part& part, std::size_t index) {
  const model::Edge& now = part.edge(index);
  if (!group(form, "edge/breaks", counted("Pitch breaks", now.breaks.size()))) {
    return;
  }
  const auto set = [&](const std::string& field, auto with) {
    model::Edge value = now;
    with(value.breaks);
    Change{form, fmt::format("{}/{}", part.id, index)}(edit::SetEdge{part.id, index, value},
                                                       "Pitch break", field);
  };
  using Breaks = std::vector<model::Break>;
  for (std::size_t i = 0; i < now.breaks.size(); ++i) {
    const std::string id = fmt::format("edge/break/{}", i);
    if (const auto m =
            length_field(form, id + "/height", "Over the eave", now.breaks[i].height_m)) {
      set(id + "/height", [&](Breaks& breaks) { breaks[i].height_m = *m; });
    }
    if (const auto pitch = pitch_field(form, id + "/pitch", "Then at", now.breaks[i].pitch)) {
      set(id + "/pitch", [&](Breaks& breaks) { breaks[i].pitch = *pitch; });
    }
    if (button(form, id + "/remove", "Remove this break")) {
      set(id,
          [&](Breaks& breaks) { breaks.erase(breaks.begin() + static_cast<std::ptrdiff_t>(i)); });
    }
  }
  if (button(form, "edge/breaks/add", "Add a break")) {
    // Above the last one, at half its pitch: as a gambrel or a mansard goes on.
    const double last_m = now.breaks.empty() ? 0.0 : now.breaks.back().height_m;
    const units::Pitch last = now.breaks.empty() ? now.pitch : now.breaks.back().pitch;
    const auto half = units::Pitch::from_rise_run(std::max(0.5, 6.0 * last.tangent()), 12.0);
    set("edge/breaks", [&](Breaks& breaks) {
      breaks.push_back({last_m + 4 * units::foot_m, half});
    });
  }
}

void measured_fields(const Form& form, const model::Part& part, std::size_t index) {
  const std::vector<double> now = measured_at(part.framing, index);
  if (!group(form, "edge/measured", counted("Members as measured", now.size()))) {
    return;
  }
  const units::Style style = form.look.state.style;
  ImGui::TextWrapped(
      "Centres along the wall from its left end seen from outside, with commas between them. "
      "Empty: by the layout.");
  std::string shown;
  for (const double at_m : now) {
    shown += (shown.empty() ? "" : ", ") + length_text(at_m, style);
  }
  const auto entered = text_field(form, "edge/measured/at", "Centres", shown);
  if (!entered || *entered == shown) {
    return;
  }
  const auto at_m = typed_lengths(*entered, style);
  if (!at_m) {
    say(form, "edge/measured/at", "No lengths: give 1' 3\", 2' 6 1/2\", 4'.");
    return;
  }
  model::Part value = part;
  std::erase_if(value.framing.measured,
                [&](const auto& one) { return one.edge == static_cast<int>(index); });
  if (!at_m->empty()) {
    value.framing.measured.push_back({static_cast<int>(index), *at_m});
  }
  Change{form, fmt::format("{}/{}", part.id, index)}(edit::SetPart{value}, "Measured members",
                                                     "edge/measured/at");
}

void courtyard_fields(const Form& form, const model::Part& part) {
  if (!group(form, "part/holes", counted("Courtyards", part.holes.size()))) {
    return;
  }
  std::size_t first = part.edges.size();
  for (std::size_t hole = 0; hole < part.holes.size(); ++hole) {
    courtyard(form, part, hole, first);
    first += part.holes[hole].edges.size();
  }
  if (button(form, "hole/add", "Add a courtyard")) {
    Change{form, part.id}(edit::PutHole{part.id, part.holes.size(),
                                        edit::free_square(part, form.look.assessment.model.unit)},
                          "Courtyard", "part/holes");
  }
}

void deck_opening_fields(const Form& form, const model::Part& part) {
  if (part.valleys != model::Valleys::overlaid && part.deck_openings.empty()) {
    return;
  }
  if (!group(form, "part/openings", counted("Deck openings", part.deck_openings.size()))) {
    return;
  }
  const auto set = [&](const std::string& field, auto with) {
    model::Part value = part;
    with(value.deck_openings);
    Change{form, part.id}(edit::SetPart{value}, "Deck opening", field);
  };
  using Loops = std::vector<std::vector<glm::dvec2>>;
  for (std::size_t i = 0; i < part.deck_openings.size(); ++i) {
    const std::string id = fmt::format("opening/{}", i);
    ImGui::TextDisabled("Opening %d in the deck beneath", static_cast<int>(i) + 1);
    if (const auto outline = outline_rows(form, id, part.deck_openings[i])) {
      set(id, [&](Loops& loops) { loops[i] = *outline; });
    }
    if (button(form, id + "/remove", "Remove opening")) {
      set(id, [&](Loops& loops) { loops.erase(loops.begin() + static_cast<std::ptrdiff_t>(i)); });
    }
  }
  if (button(form, "opening/add", "Add an opening")) {
    set("part/openings", [&](Loops& loops) {
      loops.push_back(edit::free_square(part, form.look.assessment.model.unit));
    });
  }
}

void collar_tie_fields(const Form& form, const model::Part& part) {
  const auto& now = part.framing.collar_ties;
  if (!group(form, "framing/ties", now ? "Collar ties" : "Collar ties (none)")) {
    return;
  }
  const auto set = [&](const std::string& field, const auto& with) {
    model::Part value = part;
    with(value.framing.collar_ties);
    Change{form, part.id}(edit::SetPart{value}, "Collar ties", field);
  };
  using Ties = std::optional<model::CollarTies>;
  if (const auto on = check_field(form, "ties/on", "Has ties", now.has_value())) {
    set("ties/on", [&](Ties& ties) {
      ties = *on ? Ties(model::CollarTies{4 * units::foot_m, 1, "2x4"}) : std::nullopt;
    });
  }
  if (!now) {
    return;
  }
  if (const auto m = length_field(form, "ties/height", "Over the plate", now->height_m)) {
    set("ties/height", [&](Ties& ties) { ties->height_m = *m; });
  }
  if (const auto every = number_field(form, "ties/every", "Every ... pair", now->every)) {
    set("ties/every",
        [&](Ties& ties) { ties->every = static_cast<int>(std::clamp(*every, 0.0, 1000.0)); });
  }
  if (const auto stock = text_field(form, "ties/stock", "Stock", now->stock);
      stock && *stock != now->stock) {
    set("ties/stock", [&](Ties& ties) { ties->stock = *stock; });
  }
}

void air_past_fields(const Form& form, const model::Part& part) {
  const model::AirPast& now = part.framing.air_past;
  const auto passes = [](model::Way way) { return way != model::Way::tight; };
  const bool any = passes(now.hips) || passes(now.valleys) || passes(now.headers);
  if (!group(form, "framing/air-past", any ? "Air gets past" : "Air gets past (nothing)")) {
    return;
  }
  const auto set = [&](const std::string& field, model::Way model::AirPast::*which) {
    return [&form, &part, field, which](model::Way way) {
      model::Part value = part;  // NOLINT(misc-const-correctness): set through a member pointer
      value.framing.air_past.*which = way;
      Change{form, part.id}(edit::SetPart{value}, "Air past", field);
    };
  };
  add_of(form, "air-past/hips", "Hips", now.hips, set("air-past/hips", &model::AirPast::hips));
  add_of(form, "air-past/valleys", "Valleys", now.valleys,
         set("air-past/valleys", &model::AirPast::valleys));
  add_of(form, "air-past/headers", "Headers", now.headers,
         set("air-past/headers", &model::AirPast::headers));
}

void air_fields(const Form& form, const model::RoofModel& model) {
  if (!group(form, "house/air", "Air: wind, rooms, leaks")) {
    return;
  }
  const model::Air& now = model.air;
  const auto put = [&](const model::Air& value, const std::string& field) {
    Change{form, "the house"}(edit::SetAir{value}, "Air", field);
  };
  const auto take = [&](const char* field, const std::optional<double>& given,
                        double model::Air::*which) {
    if (given) {
      model::Air value = now;  // NOLINT(misc-const-correctness): set through a member pointer
      value.*which = *given;
      put(value, std::string("air/") + field);
    }
  };
  const auto number = [&](const char* field, const char* label, double model::Air::*which) {
    take(field, number_field(form, std::string("air/") + field, label, now.*which), which);
  };
  take("wind", speed_field(form, "air/wind", "Wind", now.wind_ms), &model::Air::wind_ms);
  const std::size_t shelter = now.shelter ? 1 + static_cast<std::size_t>(*now.shelter) : 0;
  if (const auto chosen =
          choice_field(form, "air/shelter", "Shelter",
                       {"By exposure", "None", "Scattered", "Rows", "Close"}, shelter)) {
    model::Air value = now;
    value.shelter =
        *chosen == 0 ? std::nullopt : std::optional(static_cast<model::Shelter>(*chosen - 1));
    put(value, "air/shelter");
  }
  take("winter", temperature_field(form, "air/winter", "Rooms, winter", now.inside_winter_c),
       &model::Air::inside_winter_c);
  take("summer", temperature_field(form, "air/summer", "Rooms, summer", now.inside_summer_c),
       &model::Air::inside_summer_c);
  number("humidity", "Humidity", &model::Air::inside_humidity);
  number("ceiling", "Ceiling leaks", &model::Air::ceiling_leakage_cm2_m2);
  number("house", "Walls leak", &model::Air::house_leakage_cm2_m2);
  number("absorptance", "Absorbs sun", &model::Air::absorptance);
  ImGui::TextDisabled("Leaks in cm\u00b2 a m\u00b2 of ceiling.");
  for (std::size_t i = 0; i < now.cases.size(); ++i) {
    air_case(form, now, i, put);
  }
  if (button(form, "air/add", "Add a weather of its own")) {
    model::Air value = now;
    model::AirCase one;
    const auto is_taken = [&](const std::string& name) {
      return std::any_of(now.cases.begin(), now.cases.end(),
                         [&](const auto& other) { return other.name == name; });
    };
    for (std::size_t k = now.cases.size() + 1; one.name.empty() || is_taken(one.name); ++k) {
      one.name = fmt::format("weather {}", k);
    }
    value.cases.push_back(one);
    put(value, "house/air");
    form.intents.emplace_back(EditIntent(Fold{fmt::format("air/case/{}", now.cases.size()), true}));
  }
}

}  // namespace ridgeward::panels
