#include "panels/screen.hpp"

#include "draw/palette.hpp"
#include "panels/air_pieces.hpp"
#include "panels/commands.hpp"
#include "panels/edit_panels.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace ridgeward::panels {
namespace {

using scene::Layer;

constexpr float margin = 10.0F;
constexpr double title_height = 48.0;
constexpr float compartment_height = 265.0F;
constexpr double controls_width = 226.0;
constexpr double least_house = 330.0;     // beside all panels; for less the controls are put away
constexpr float most_panel_share = 0.5F;  // of a picture's width; beyond it the house goes first

std::string where_from(const std::string& word) {
  return word == "above" || word == "below" ? word : "the " + word;
}

/// "Seen from the south", "South elevation, to scale".
std::string seen_as(const scene::Camera& camera, double north_deg) {
  const std::string word = scene::direction_word(camera, north_deg);
  const bool is_upright = std::abs(camera.elevation_rad) < 1e-6;
  if (camera.is_flat && is_upright) {
    return capitalised(scene::side_word(camera, north_deg)) + " elevation, to scale";
  }
  if (camera.is_flat && word == "above" && std::abs(camera.elevation_rad) > 1.5707) {
    return "Plan, to scale";
  }
  return "Seen from " + where_from(word);
}

/// Where north lies on the plan, whose +y is up.
std::string north_words(double north_deg) {
  return std::abs(north_deg) < 0.5 ? "up" : fmt::format("{:.0f}\u00b0 right of up", north_deg);
}

/// Whether a picture has room for its panels.
bool has_panels(int width_px, const scene::Layers& layers) {
  return (layers.has(Layer::totals) || layers.has(Layer::legend)) &&
         panel_width() <= most_panel_share * static_cast<float>(width_px);
}

/// A line that shrinks rather than run out of its room.
void fitted_line(Font which, ImVec2 at, float room, glm::vec3 colour, const std::string& words) {
  ImFont* letters = font(which);
  const float width = letters->CalcTextSizeA(letters->FontSize, 1e6F, 0.0F, words.c_str()).x;
  const float size = letters->FontSize * std::min(1.0F, room / std::max(1.0F, width));
  ImGui::GetBackgroundDrawList()->AddText(letters, size, at, packed(colour), words.c_str());
}

void draw_title(const Look& look, const scene::Viewport& viewport, Recorder& recorder) {
  const float s = ui_scale();
  const bool is_plan = shows_plan(look.state.edit);  // it fills its room to the border
  const ImVec2 at{static_cast<float>(viewport.x) + 16 * s,
                  static_cast<float>(viewport.y) -
                      (static_cast<float>(title_height) - (is_plan ? 7.0F : 12.0F)) * s};
  const std::string own = look.scene.name.empty() ? "Roof without a name" : look.scene.name;
  const auto& import = look.state.edit.import;
  const std::string name = import && import->trouble.empty() ? "Import, not taken yet" : own;
  const std::string line =
      (is_plan ? "Plan of the walls, north " + north_words(look.scene.north_deg)
               : seen_as(look.state.camera, look.scene.north_deg)) +
      (look.assessment.code.name.empty() ? "" : "  \u00b7  " + look.assessment.code.name);
  const float room = static_cast<float>(viewport.width) - 32 * s;
  fitted_line(Font::title, at, room, draw::ink, name);
  fitted_line(Font::small_text, {at.x, at.y + 25 * s}, room, draw::faint_ink, line);
  recorder.add({"title/line", "text", line, at.x, at.y + 25 * s, 200.0 * s, 12.0 * s});
  recorder.add({"title", "text", name, at.x, at.y, 200.0 * s, 22.0 * s});
}

void picture_findings(const Look& look, Recorder& recorder) {
  if (look.state.layers.has(Layer::findings) && !look.assessment.findings.empty()) {
    Intents unused;
    ImGui::Spacing();
    ImGui::Separator();
    ImGui::Spacing();
    findings_body(look, 3, recorder, unused);
  }
}

}  // namespace

scene::Viewport house_viewport(int width_px, int height_px, const scene::Layers& layers,
                               bool has_controls) {
  const double s = ui_scale();
  const double panel = panel_width() + margin * s;
  const bool has_right = has_controls || has_panels(width_px, layers);
  scene::Viewport viewport;
  viewport.x = has_controls ? controls_width * s + margin * s : 0.0;
  viewport.width = std::max(64.0, width_px - viewport.x - (has_right ? panel : 0.0));
  viewport.y = title_height * s + (has_controls ? toolbar_height() : 0.0F);
  viewport.height = std::max(64.0, height_px - viewport.y);
  return viewport;
}

bool shows_controls(int width_px, const State& state) {
  const double s = ui_scale();
  const double taken = controls_width * s + panel_width() + 2 * margin * s + air_panel_width(state);
  return width_px - taken >= least_house * s;
}

double tools_height() { return 48.0 * ui_scale(); }

scene::Viewport window_viewport(int width_px, int height_px, const State& state) {
  scene::Viewport viewport = house_viewport(width_px, height_px, state.layers, true);
  if (state.lesson.is_open) {
    viewport.x = 0.0;
    viewport.y -= toolbar_height();
    viewport.height += toolbar_height();
    viewport.width = std::max(64.0, width_px - lesson_width() - margin * ui_scale());
  } else if (state.has_model) {
    viewport.height =
        std::max(64.0, viewport.height - ribbon_height(state.ribbon) - tools_height());
    viewport.width = std::max(64.0, viewport.width - air_panel_width(state));
  }
  if (!state.lesson.is_open && !shows_controls(width_px, state)) {
    viewport.width += viewport.x;
    viewport.x = 0.0;
  }
  return viewport;
}

void draw_picture(const Look& look, Recorder& recorder) {
  const float s = ui_scale();
  scene::Viewport viewport =
      house_viewport(look.width_px, look.height_px, look.state.layers, false);
  if (look.state.ribbon.is_shown) {
    Intents unused;
    viewport.height = std::max(64.0, viewport.height - ribbon_height(look.state.ribbon));
    draw_ribbon(look, viewport, true, recorder, unused);
  }
  draw_title(look, viewport, recorder);
  draw_air(look, viewport, recorder);
  draw_labels(look, viewport, recorder);
  if (!has_panels(look.width_px, look.state.layers)) {
    return;
  }
  const float x = static_cast<float>(look.width_px) - panel_width() - margin * s;
  float y = margin * s;
  if (look.air != nullptr) {
    begin_panel("air", {x, y}, panel_width(), 0.0F);
    air_body(look, recorder, nullptr);
    note_panel(recorder, "panel/air");
    y += ImGui::GetWindowHeight() + margin * s;
    ImGui::End();
  }
  if (look.state.layers.has(Layer::totals)) {
    begin_panel("totals", {x, y}, panel_width(), 0.0F);
    const auto room = static_cast<int>((static_cast<float>(look.height_px) - y - margin * s) /
                                       (compartment_height * s));
    Intents unused;
    totals_body(look, static_cast<std::size_t>(std::max(1, room)), recorder, unused);
    if (look.air == nullptr) {
      picture_findings(look, recorder);
    }
    note_panel(recorder, "panel/totals");
    y += ImGui::GetWindowHeight() + margin * s;
    ImGui::End();
  }
  const bool has_room = y + legend_height(look) + margin * s <= static_cast<float>(look.height_px);
  if (look.state.layers.has(Layer::legend) && has_room) {
    begin_panel("legend", {x, y}, panel_width(), 0.0F);
    legend_body(look, recorder);
    note_panel(recorder, "panel/legend");
    ImGui::End();
  }
}

void draw_slide(const Look& look, bool has_words, Recorder& recorder) {
  scene::Viewport viewport = window_viewport(look.width_px, look.height_px, look.state);
  Intents unused;
  if (has_words) {
    draw_lesson(look, viewport, true, recorder, unused);
    draw_title(look, viewport, recorder);
  } else {
    viewport = {0.0, 0.0, static_cast<double>(look.width_px), static_cast<double>(look.height_px)};
    mark_lesson(look, viewport);
  }
  draw_labels(look, viewport, recorder);
}

namespace {

/// What to do where there is nothing to see yet.
void draw_welcome(const scene::Viewport& viewport) {
  const float s = ui_scale();
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  const auto centred = [&](Font which, float y, glm::vec3 colour, const char* words) {
    ImFont* letters = font(which);
    const ImVec2 size = letters->CalcTextSizeA(letters->FontSize, 1e6F, 0.0F, words);
    const auto middle_x = static_cast<float>(viewport.x + viewport.width / 2);
    const float x = middle_x - size.x / 2;
    list.AddText(letters, letters->FontSize, {x, y}, packed(colour), words);
  };
  const auto middle = static_cast<float>(viewport.y + viewport.height / 2);
  centred(Font::title, middle - 42 * s, draw::ink, "No roof yet");
  centred(Font::text, middle - 8 * s, draw::faint_ink,
          "Ctrl+N draws a new house, Ctrl+O opens a model file (*.roof.json), Ctrl+P lists all");
  centred(Font::text, middle + 11 * s, draw::faint_ink, "commands. Or drop a file on this window.");
}

/// The drawing with what lies on and under it.
void house(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
           Intents& intents) {
  if (look.state.has_model) {
    draw_title(look, viewport, recorder);
    scene::Viewport above_ribbon = viewport;
    above_ribbon.height += tools_height();
    draw_ribbon(look, above_ribbon, false, recorder, intents);
    draw_air(look, viewport, recorder);
    draw_given(look, viewport);
    draw_labels(look, viewport, recorder);
    if (!shows_plan(look.state.edit)) {
      draw_cut(look, viewport, recorder);
    }
    sight_tools(look, viewport, recorder, intents);
  } else if (!shows_plan(look.state.edit)) {
    draw_welcome(viewport);
    recent_files(look, viewport, recorder, intents);
  }
}

/// Totals, what is selected or changed, findings.
void results_panel(const Look& look, float height, Recorder& recorder, Intents& intents) {
  const float s = ui_scale();
  const float x = static_cast<float>(look.width_px) - panel_width() - margin * s;
  begin_panel("results", {x, margin * s}, panel_width(), height);
  if (look.state.edit.import) {
    import_body(look, recorder, intents);
  } else if (look.state.has_model) {
    totals_body(look, look.assessment.attic.compartments.size(), recorder, intents);
    ImGui::Spacing();
    ImGui::Separator();
    ImGui::BeginChild("details");
    measured_body(look, recorder, intents);
    if (look.state.edit.has_fields) {
      edit_body(look, recorder, intents);
    } else {
      selection_body(look, recorder, intents);
    }
    ImGui::Spacing();
    ImGui::Separator();
    findings_body(look, 50, recorder, intents);
    ImGui::EndChild();
  } else {
    heading("Totals");
    ImGui::TextWrapped("Intake, exhaust, what is required and their balance stand here.");
  }
  note_panel(recorder, "panel/results");
  ImGui::End();
}

}  // namespace

Intents draw_window(const Look& look, Recorder& recorder) {
  Intents intents;
  recorder.focus = look.state.focus.id;
  const float s = ui_scale();
  const scene::Viewport viewport = window_viewport(look.width_px, look.height_px, look.state);
  const float height = static_cast<float>(look.height_px) - 2 * margin * s;
  if (look.state.has_model && look.state.lesson.is_open) {
    draw_lesson(look, viewport, false, recorder, intents);
    draw_title(look, viewport, recorder);
    draw_labels(look, viewport, recorder);
    return intents;
  }
  house(look, viewport, recorder, intents);
  draw_grips(look, viewport, recorder);
  toolbar(look, viewport, recorder, intents);
  if (shows_plan(look.state.edit)) {
    plan_view(look, viewport, recorder, intents);
  }
  messages(look, viewport, recorder, intents);
  if (shows_controls(look.width_px, look.state)) {
    begin_panel("controls", {margin * s, margin * s}, static_cast<float>(controls_width) * s,
                height);
    controls_body(look, recorder, intents);
    note_panel(recorder, "panel/controls");
    ImGui::End();
  }
  results_panel(look, height, recorder, intents);
  if (look.air != nullptr) {
    const auto left = static_cast<float>(viewport.x + viewport.width);
    begin_panel("air", {left, margin * s}, air_panel_width(look.state) - margin * s, 0.0F);
    air_body(look, recorder, &intents);
    note_panel(recorder, "panel/air");
    ImGui::End();
  }
  if (look.state.keys_shown) {
    keys_panel(look, recorder, intents);
  }
  dialogs(look, recorder, intents);
  return intents;
}

void note_state(const State& state, const Assessment& assessment, Recorder& recorder) {
  const auto add = [&](const char* id, std::string words) {
    recorder.add({id, "state", std::move(words), 0.0, 0.0, 0.0, 0.0});
  };
  std::string selected;
  if (!state.selected.plane.is_none()) {
    selected = "plane " + assessment.surface.planes[state.selected.plane].id;
  } else if (!state.selected.line.is_none()) {
    selected = "line " + assessment.surface.lines[state.selected.line].id;
  }
  add("state/import", state.edit.import ? state.edit.import->file : std::string());
  add("state/model", state.path);
  add("state/steps", fmt::format("{}/{}", state.edit.steps_done, state.edit.steps));
  add("state/dirty", state.edit.is_dirty ? "yes" : "no");
  add("state/whole", state.edit.is_whole ? "yes" : "no");
  add("state/tool", std::to_string(static_cast<int>(state.edit.tool)));
  add("state/selected", selected);
  add("state/units", state.style == units::Style::metric ? "metric" : "feet-inches");
  add("state/air", state.air.own ? "own" : "case");
  add("state/air-plays", state.air.plays ? "yes" : "no");
  const Sight& sight = state.sight;
  add("state/flat", state.camera.is_flat ? "on" : "off");
  add("state/cut", sight.cut.way == scene::CutWay::none
                       ? std::string()
                       : fmt::format("{}:{:.3f}{}", scene::word(sight.cut.way), sight.cut.share,
                                     sight.cut.keeps_high ? " other" : ""));
  add("state/peeled", std::to_string(sight.peeled.size()));
  add("state/measured", std::to_string(sight.measure.spots.size()));
  add("state/theme", sight.is_dark ? "dark" : "light");
  add("state/type", sight.is_large ? "large" : "usual");
  add("state/gliding", sight.glide ? "yes" : "no");
  add("state/focus", state.focus.id);
  add("state/azimuth", fmt::format("{:.4f}", state.camera.azimuth_rad));
  add("state/elevation", fmt::format("{:.4f}", state.camera.elevation_rad));
  add("state/distance", fmt::format("{:.4f}", state.camera.distance_m));
  add("state/target", fmt::format("{:.4f} {:.4f} {:.4f}", state.camera.target.x,
                                  state.camera.target.y, state.camera.target.z));
}

}  // namespace ridgeward::panels
