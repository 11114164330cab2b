// The panel beside the drawing: weather by case or by hand, figures, legend.
#include "airflow/words.hpp"

#include "draw/palette.hpp"
#include "panels/air_look.hpp"
#include "panels/air_pieces.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <functional>
#include <string>

namespace ridgeward::panels {
namespace {

constexpr float width_px = 262.0F;
constexpr double mile_per_hour = 0.44704;  // m/s, exact

bool is_metric(const Look& look) { return look.state.style == units::Style::metric; }

class Weather {
 public:
  Weather(const Look& look, Recorder& recorder, Intents& intents)
      : look_(look),
        recorder_(recorder),
        intents_(intents),
        now_(weather(look.state.air, look.assessment.airflow)) {}

  void draw() {
    cases();
    play();
    wind();
    temperature("air/outside", "Outside", now_.outside_c, {-35.0, 45.0});
    temperature("air/inside", "Rooms", now_.inside_c, {5.0, 35.0});
    sky();
    if (is_changed_) {
      now_.name = "your own weather";
      intents_.emplace_back(set_air(now_));
    }
  }

 private:
  void cases();
  void play();
  void slide(SliderAbout about, double shown, const std::function<void(double)>& set);
  void wind();
  void temperature(const char* id, const char* words, double& celsius, std::array<double, 2> reach);
  void sky();
  void box(const char* id, const char* words, bool& on);

  const Look& look_;
  Recorder& recorder_;
  Intents& intents_;
  model::AirCase now_;
  bool is_changed_ = false;
};

void Weather::cases() {
  const airflow::Airflow& air = look_.assessment.airflow;
  const std::string& name = now_.name;  // that of one's own weather, where it is shown
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
  if (ImGui::BeginCombo("##air/case", name.c_str())) {
    const std::size_t shown = shown_case(look_.state.air, air);
    for (std::size_t i = 0; i < air.cases.size(); ++i) {
      const std::string& words = air.cases[i].conditions.name;
      if (ImGui::Selectable((words + "##" + std::to_string(i)).c_str(),
                            !look_.state.air.own && i == shown)) {
        intents_.emplace_back(choose_air(i));
      }
      note(recorder_, "air/case/" + words, "button", words);
    }
    ImGui::EndCombo();
  }
  note(recorder_, "air/case", "list", name);
}

void Weather::play() {
  const bool plays = look_.state.air.plays;
  const char* words = plays ? "Stand still" : "Move";
  const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
  if (ImGui::Button((std::string(words) + "##air/play").c_str(), {half, 0.0F})) {
    intents_.emplace_back(play_air(!plays));
  }
  note(recorder_, "air/play", "button", plays ? "moving" : "still");
  ImGui::SameLine();
  if (ImGui::Button("Hide air##air/hide", {half, 0.0F})) {
    intents_.emplace_back(SetLayer{scene::Layer::airflow, false});
  }
  note(recorder_, "air/hide", "button", "Hide air");
}

/// A slider over the panel's width.
void Weather::slide(SliderAbout about, double shown, const std::function<void(double)>& set) {
  about.width = ImGui::GetContentRegionAvail().x;
  // Over the slider: on it its grab would hide them.
  about.has_words = false;
  ImGui::TextUnformatted(about.words.c_str());
  if (const auto value = slider(look_, about, shown, recorder_, intents_)) {
    set(*value);
    is_changed_ = true;
  }
}

void Weather::wind() {
  slide({"air/wind-from",
         fmt::format("Wind from {} ({:.0f}\u00b0)", compass_word(now_.wind_from_deg),
                     now_.wind_from_deg),
         {0.0, 359.0},
         5.0},
        now_.wind_from_deg, [&](double value) { now_.wind_from_deg = value; });
  const bool metric = is_metric(look_);
  const double unit = metric ? 1.0 : mile_per_hour;
  const double speed = now_.wind_ms / unit;
  slide({"air/wind",
         metric ? fmt::format("Wind speed {:.1f} m/s", speed)
                : fmt::format("Wind speed {:.0f} mph", speed),
         {0.0, metric ? 15.0 : 34.0},
         metric ? 0.5 : 1.0},
        speed, [&](double value) { now_.wind_ms = value * unit; });
}

void Weather::temperature(const char* id, const char* words, double& celsius,
                          std::array<double, 2> reach) {
  const bool metric = is_metric(look_);
  const auto shown = [&](double c) { return metric ? c : 1.8 * c + 32.0; };
  slide({id,
         fmt::format("{} {:.0f} {}", words, shown(celsius), metric ? "\u00b0C" : "\u00b0F"),
         {shown(reach[0]), shown(reach[1])},
         1.0},
        shown(celsius), [&](double value) { celsius = metric ? value : (value - 32.0) / 1.8; });
}

void Weather::box(const char* id, const char* words, bool& on) {
  is_changed_ = ImGui::Checkbox((std::string(words) + "##" + id).c_str(), &on) || is_changed_;
  note(recorder_, id, "checkbox", on ? "on" : "off");
}

void Weather::sky() {
  bool has_sun = now_.sun > 0.0;
  const bool was_sunny = has_sun;
  box("air/sun", "Noon sun", has_sun);
  if (has_sun != was_sunny) {
    now_.sun = has_sun ? 1.0 : 0.0;
  }
  ImGui::SameLine(0.5F * ImGui::GetContentRegionAvail().x + ImGui::GetStyle().WindowPadding.x);
  box("air/clear", "Clear sky", now_.clear_sky);
  const auto& ways = look_.assessment.airflow.openings;
  if (std::any_of(ways.begin(), ways.end(), [](const airflow::Way& w) { return w.is_fan; })) {
    box("air/fans", "Powered vents run", now_.fans);
  }
}

void stream_entry(scene::AirRole role, Recorder& recorder) {
  const float s = ui_scale();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float middle = at.y + ImGui::GetTextLineHeight() / 2;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const AirLook look = air_look_of(role);
  const std::vector<ImVec2> line{{at.x, middle}, {at.x + 34 * s, middle}};
  if (look.is_dotted) {
    dotted_line(list, line, packed(look.colour, 0.75F), look.width_px * s);
  } else {
    list.AddLine(line[0], line[1], packed(look.colour, look.alpha), look.width_px * s);
  }
  draw_air_head(list, {{at.x + 18 * s, middle}, {1.0F, 0.0F}, 6.0F * s}, role, 1.0F);
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 44 * s);
  ImGui::TextUnformatted(look.words);
  note(recorder, std::string("air/legend/") + look.words, "text", look.words);
}

void still_entry(scene::StillWhy why, Recorder& recorder) {
  const float s = ui_scale();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float low = at.y + ImGui::GetTextLineHeight();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  hatch_still(list, {{at.x, at.y}, {at.x + 34 * s, at.y}, {at.x + 34 * s, low}, {at.x, low}}, why);
  draw_still_mark(list, {at.x + 17 * s, 0.5F * (at.y + low)}, 6.0F * s, why);
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 44 * s);
  ImGui::TextUnformatted(words_of(why));
  note(recorder, std::string("air/legend/") + words_of(why), "text", words_of(why));
}

void air_legend(const Look& look, Recorder& recorder) {
  const scene::AirScene& scene = look.air->scene;
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {8 * ui_scale(), 3.5F * ui_scale()});
  for (std::size_t i = 0; i < scene::air_role_count; ++i) {
    if (const auto role = static_cast<scene::AirRole>(i); scene.has(role)) {
      stream_entry(role, recorder);
    }
  }
  for (std::size_t i = 0; i < scene::still_why_count; ++i) {
    if (const auto why = static_cast<scene::StillWhy>(i); scene.has(why)) {
      still_entry(why, recorder);
    }
  }
  ImGui::PopStyleVar();
}

void small_words(const std::string& words) {
  ImGui::PushFont(font(Font::small_text));
  ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::faint_ink));
  ImGui::TextWrapped("%s", words.c_str());
  ImGui::PopStyleColor();
  ImGui::PopFont();
}

}  // namespace

float air_panel_width(const State& state) {
  return state.has_model && state.layers.has(scene::Layer::airflow) ? width_px * ui_scale() : 0.0F;
}

void air_body(const Look& look, Recorder& recorder, Intents* intents) {
  const AirShow& show = *look.air;
  if (intents != nullptr) {
    heading("Moving air");
    Weather(look, recorder, *intents).draw();
    ImGui::Separator();
  } else {
    heading("Air: " + airflow::case_words(show.one, look.state.style));
  }
  const auto rows = air_rows(look.assessment, show.one, look.state.style);
  for (const Row& line : rows) {
    row(line);
    note(recorder, "air/" + line.first, "text", line.second);
  }
  const std::string verdict =
      show.is_pending ? "Working it out ..." : air_verdict(look.assessment, show);
  ImGui::TextWrapped("%s", verdict.c_str());
  note(recorder, "air/verdict", "text", verdict);
  ImGui::Separator();
  air_legend(look, recorder);
  small_words(
      fmt::format("Larger heads: more air. Heads move {:g} times as fast as the air. A model of "
                  "steady weather: half as much or half as much again.",
                  scene::air_haste));
}

}  // namespace ridgeward::panels
