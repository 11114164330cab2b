// The row of tools under the drawing: flat pictures, cut, peel, measure, sun, theme, type.
#include "draw/palette.hpp"
#include "panels/fields.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace ridgeward::panels {
namespace {

constexpr float compass_room = 88.0F;
constexpr float narrow = 460.0F;     // less than a whole row of sliders needs
constexpr float narrowest = 300.0F;  // less than two sliders need

void begin_tools(const char* id, ImVec2 at, ImVec2 pivot, float most_width) {
  ImGui::SetNextWindowPos(at, ImGuiCond_Always, pivot);
  ImGui::SetNextWindowSizeConstraints({0.0F, 0.0F}, {most_width, 1e4F});
  ImGui::Begin(id, nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoCollapse | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoScrollbar |
                   ImGuiWindowFlags_AlwaysAutoResize);
}

struct Tool {
  const char* words;
  const char* id;
  const char* help;
  bool on;
};

/// A button that stays down; what is on has a bar under it besides its colour.
bool toggle(const Tool& tool, Recorder& recorder) {
  const float s = ui_scale();
  if (tool.on) {
    ImGui::PushStyleColor(ImGuiCol_Button, ImGui::GetStyleColorVec4(ImGuiCol_ButtonActive));
  }
  const bool pressed = ImGui::Button((std::string(tool.words) + "##" + tool.id).c_str());
  if (tool.on) {
    ImGui::PopStyleColor();
    const ImVec2 low = ImGui::GetItemRectMin();
    const ImVec2 high = ImGui::GetItemRectMax();
    ImGui::GetWindowDrawList()->AddRectFilled({low.x + 4 * s, high.y - 3 * s},
                                              {high.x - 4 * s, high.y}, packed(draw::intake));
  }
  if (ImGui::IsItemHovered()) {
    ImGui::SetTooltip("%s", tool.help);
  }
  note(recorder, tool.id, "toggle", tool.on ? "on" : "off");
  return pressed;
}

/// Starts a new line where the next button would run out of the panel.
void wrap(const char* words, float right) {
  const float width = ImGui::CalcTextSize(words).x + 2 * ImGui::GetStyle().FramePadding.x;
  ImGui::SameLine();
  if (ImGui::GetCursorScreenPos().x + width > right) {
    ImGui::NewLine();
  }
}

/// A slider with its words beside it.
void slide(const Look& look, SliderAbout about, double& value, Recorder& recorder,
           Intents& intents) {
  about.has_words = false;
  value = slider(look, about, value, recorder, intents).value_or(value);
  ImGui::SameLine(0.0F, 5 * ui_scale());
  ImGui::TextUnformatted(about.words.c_str());
}

void cut_row(const Look& look, float room, Recorder& recorder, Intents& intents) {
  const float s = ui_scale();
  scene::Cut cut = look.state.sight.cut;
  const scene::Cut before = cut;
  constexpr std::array<const char*, 4> ids{"", "cut/across", "cut/along", "cut/level"};
  constexpr std::array<const char*, 4> words{"", "across", "along", "level"};
  for (std::size_t i = 1; i < ids.size(); ++i) {
    const auto way = static_cast<scene::CutWay>(i);
    if (ImGui::RadioButton(words[i], cut.way == way) && cut.way != way) {
      cut = scene::opened_towards({way, 0.5, false}, look.state.camera, look.scene);
    }
    note(recorder, ids[i], "radio", cut.way == way ? "on" : "off");
    if (i + 1 < ids.size()) {
      ImGui::SameLine();
    }
  }
  if (room >= narrow * s) {
    ImGui::SameLine();
  }
  const auto [low, high] = scene::extent(cut, look.scene);
  const double length_m = high - low;
  SliderAbout at{"cut/at", units::show(cut.share * length_m, look.state.style), {0.0, 1.0}, 0.02};
  at.width = (room >= narrowest * s ? 130.0F : 80.0F) * s;
  at.read = [&](const std::string& text) -> std::optional<double> {
    const auto typed_m = typed_length(text, look.state.style);
    return typed_m && length_m > 0.0 ? std::optional(*typed_m / length_m) : std::nullopt;
  };
  slide(look, at, cut.share, recorder, intents);
  ImGui::SameLine();
  if (toggle({"Other half", "cut/flip", "Show the other half (Shift+X)", cut.keeps_high},
             recorder)) {
    cut.keeps_high = !cut.keeps_high;
  }
  if (!(cut == before)) {
    intents.emplace_back(SetCut{cut});
  }
}

std::string clock(double hour) {
  const int minutes = static_cast<int>(std::lround(hour * 60));
  return fmt::format("{}:{:02}", minutes / 60, minutes % 60);
}

/// "14:30" or "14.5".
std::optional<double> typed_hour(const std::string& text) {
  const std::size_t colon = text.find(':');
  const auto number = [](const std::string& part) -> std::optional<double> {
    double value = 0.0;
    const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), value);
    const bool is_read = error == std::errc() && end == part.data() + part.size();
    return is_read ? std::optional(value) : std::nullopt;
  };
  if (colon == text.npos) {
    return number(text);
  }
  const auto hours = number(text.substr(0, colon));
  const auto minutes = number(text.substr(colon + 1));
  return hours && minutes ? std::optional(*hours + *minutes / 60) : std::nullopt;
}

void sun_row(const Look& look, float room, Recorder& recorder, Intents& intents) {
  const float s = ui_scale();
  scene::Sun sun = look.state.sight.sun;
  double day = sun.day;
  const auto row = [&](const char* id, double& value, std::array<double, 2> reach, double step,
                       const std::string& words) {
    SliderAbout about{id, words, reach, step};
    about.width = 66 * s;
    about.read = typed_hour;  // a plain number too
    slide(look, about, value, recorder, intents);
  };
  row("sun/latitude", sun.latitude_deg, {-66.0, 66.0}, 1.0,
      fmt::format("{:.0f}\u00b0 {}", std::abs(sun.latitude_deg),
                  sun.latitude_deg < 0 ? "south" : "north"));
  if (room >= narrowest * s) {
    ImGui::SameLine();
  }
  row("sun/day", day, {1.0, 365.0}, 1.0,
      fmt::format("{} {}", scene::day_of_month(sun.day), scene::month_of(sun.day)));
  if (room >= narrow * s) {
    ImGui::SameLine();
  }
  row("sun/hour", sun.hour, {4.0, 20.0}, 0.25, clock(sun.hour));
  sun.day = static_cast<int>(std::lround(day));
  const scene::SunPlace place = scene::sun_place(sun);
  ImGui::SameLine();
  const std::string words =
      place.altitude_rad <= 0 ? std::string("below the horizon")
                              : fmt::format("{:.0f}\u00b0 high", glm::degrees(place.altitude_rad));
  ImGui::TextUnformatted(words.c_str());
  note(recorder, "sun/place", "text", words);
  if (ImGui::IsItemHovered()) {
    ImGui::SetTooltip("Solar time: 12:00 when the sun stands highest");
  }
  if (!(sun == look.state.sight.sun)) {
    intents.emplace_back(SetSun{sun});
  }
}

void buttons(const Look& look, float right, Recorder& recorder, Intents& intents) {
  const Sight& sight = look.state.sight;
  const bool is_flat = goal(look.state).is_flat;
  scene::Sun sun = sight.sun;
  sun.is_shown = !sun.is_shown;
  const bool is_cut = sight.cut.way != scene::CutWay::none;
  const scene::Cut none;
  const std::array<std::pair<Tool, SightIntent>, 7> tools{{
      {{"Flat", "sight/flat", "Plan and elevations to scale (O); then look from a side", is_flat},
       SetFlat{!is_flat}},
      {{"Cut", "sight/cut", "Cut the house open (X: across, along, level, whole)", is_cut},
       SetCut{is_cut ? none : next_cut(look.state, look.scene)}},
      {{"Peel", "sight/peel", "Take the deck off the selected plane, or off all (P)",
        !sight.peeled.empty()},
       Peel{}},
      {{"Measure", "sight/measure", "Measure from anywhere to anywhere (M)", sight.is_measuring},
       SetMeasuring{!sight.is_measuring}},
      {{"Sun", "sight/sun", "Light from the sun (S)", sight.sun.is_shown}, SetSun{sun}},
      {{"Night", "sight/dark", "Dark colours (N)", sight.is_dark}, SetDark{!sight.is_dark}},
      {{"Large", "sight/large", "Large type for a classroom (T)", sight.is_large},
       SetLarge{!sight.is_large}},
  }};
  // In plan there is nothing to cut, peel or light.
  const std::size_t first = shows_plan(look.state.edit) ? tools.size() - 2 : 0;
  for (std::size_t i = first; i < tools.size(); ++i) {
    if (i > first) {
      wrap(tools[i].first.words, right);
    }
    if (toggle(tools[i].first, recorder)) {
      intents.emplace_back(tools[i].second);
    }
  }
}

}  // namespace

void measured_body(const Look& look, Recorder& recorder, Intents& intents) {
  const scene::Measure& measure = look.state.sight.measure;
  if (measure.spots.empty() && !look.state.sight.is_measuring) {
    return;
  }
  heading("Measured");
  for (const Row& content : measure_rows(measure, look.state.style)) {
    row(content);
    note(recorder, "measured/" + content.first, "text", content.second);
  }
  if (measure.spots.size() < 2) {
    ImGui::TextWrapped("%s", measure.spots.empty() ? "Click where to begin."
                                                   : "Click elsewhere: distance and angle.");
  }
  if (!measure.spots.empty()) {
    if (ImGui::Button("Clear (Esc)##measured")) {
      intents.emplace_back(ClearMeasure{});
    }
    note(recorder, "measured/clear", "button", "");
  }
  ImGui::Spacing();
  ImGui::Separator();
}

void sight_tools(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
                 Intents& intents) {
  const float s = ui_scale();
  const auto left = static_cast<float>(viewport.x) + 6 * s;
  const auto right = static_cast<float>(viewport.x + viewport.width) - 4 * s;
  const auto bottom = static_cast<float>(viewport.y + viewport.height + tools_height()) - 4 * s;
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {5 * s, 5 * s});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {8 * s, 7 * s});
  begin_tools("tools", {left, bottom}, {0.0F, 1.0F}, std::max(120 * s, right - left));
  buttons(look, right - 6 * s, recorder, intents);
  note_panel(recorder, "panel/tools");
  const float above = ImGui::GetWindowPos().y - 4 * s;
  ImGui::End();
  const bool is_plan = shows_plan(look.state.edit);
  const bool has_sun = look.state.sight.sun.is_shown && !is_plan;
  const bool is_cut = look.state.sight.cut.way != scene::CutWay::none && !is_plan;
  if (has_sun || is_cut) {
    const float room = std::max(120 * s, right - left - compass_room * s);
    begin_tools("more-tools", {left + compass_room * s, above}, {0.0F, 1.0F}, room);
    if (has_sun) {
      sun_row(look, room, recorder, intents);
    }
    if (is_cut) {
      cut_row(look, room, recorder, intents);
    }
    note_panel(recorder, "panel/more-tools");
    ImGui::End();
  }
  ImGui::PopStyleVar(2);
}

}  // namespace ridgeward::panels
