#include "panels/fields.hpp"

#include "draw/palette.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <charconv>
#include <cmath>

namespace ridgeward::panels {
namespace {

void label(const Form& form, const char* words) {
  ImGui::AlignTextToFramePadding();
  ImGui::PushStyleColor(ImGuiCol_Text, ImGui::GetStyleColorVec4(ImGuiCol_TextDisabled));
  ImGui::TextUnformatted(words);
  ImGui::PopStyleColor();
  ImGui::SameLine(form.label_width * ui_scale());
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - form.right_room);
}

void say_trouble(const Form& form, const std::string& id, const std::string& words) {
  ImGui::PushStyleColor(ImGuiCol_Text, packed(draw::bad));
  ImGui::TextWrapped("%s", words.c_str());
  ImGui::PopStyleColor();
  note(form.recorder, id + "/trouble", "text", words);
}

/// What was entered and could not be read stays in the field and is said below it.
template <class Value, class Read>
std::optional<Value> read_field(const Form& form, const std::string& id, const char* words,
                                const std::string& shown, Read read, const char* cure) {
  const auto entered = text_field(form, id, words, shown);
  if (!entered || *entered == shown) {
    return std::nullopt;
  }
  const std::optional<Value> value = read(*entered);
  if (!value) {
    form.intents.emplace_back(EditIntent(TypeField{"!" + id, cure}));
  }
  return value;
}

}  // namespace

std::string typed_on(std::string text) {
  for (const ImWchar letter : ImGui::GetIO().InputQueueCharacters) {
    if (letter >= ' ' && letter < 0x7F) {
      text += static_cast<char>(letter);
    }
  }
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Backspace)) && !text.empty()) {
    text.pop_back();
  }
  return text;
}

std::string length_text(double length_m, units::Style style) {
  if (style == units::Style::metric) {
    return fmt::format("{:.6g} m", length_m);
  }
  // As coarse a fraction as says it, so that what was typed comes back.
  for (const int denominator : {8, 16, 32, 64}) {
    std::string text = units::feet_inches(length_m, denominator);
    const auto back = units::parse_length(text, units::LengthUnit::ft);
    if (back && std::abs(*back - length_m) < 1e-6) {
      return text;
    }
  }
  return units::feet_inches(length_m, 64);
}

std::optional<double> typed_length(const std::string& text, units::Style style) {
  return units::parse_length(
      text, style == units::Style::metric ? units::LengthUnit::m : units::LengthUnit::ft);
}

std::string pitch_text(units::Pitch pitch, units::Style style) {
  return style == units::Style::metric ? fmt::format("{:.6g} deg", pitch.degrees())
                                       : units::show_pitch(pitch);
}

std::optional<units::Pitch> typed_pitch(const std::string& text, units::Style style) {
  if (const auto pitch = units::parse_pitch(text)) {
    return pitch;
  }
  return units::parse_pitch(text + (style == units::Style::metric ? " deg" : "/12"));
}

std::optional<double> typed_number(const std::string& text) {
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc() && end == text.data() + text.size() ? std::optional(value)
                                                                  : std::nullopt;
}

std::optional<std::string> text_field(const Form& form, const std::string& id, const char* words,
                                      const std::string& shown) {
  const EditState& edit = form.look.state.edit;
  label(form, words);
  const bool is_typed = edit.field == id;
  std::string text = is_typed ? edit.field_text : shown;
  const std::string before = text;
  const bool is_entered =
      ImGui::InputText(("##" + id).c_str(), &text,
                       ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll);
  // Where keys went to another control at once, nothing tells of it but that.
  const bool is_left = ImGui::IsItemDeactivated() || (is_typed && !ImGui::IsItemActive());
  note(form.recorder, id, "field", text);
  if (text != before) {
    form.intents.emplace_back(EditIntent(TypeField{id, text}));
  }
  if (edit.field == "!" + id) {
    say_trouble(form, id, edit.field_text);
  } else if (!edit.trouble.empty() && edit.trouble_field == id) {
    say_trouble(form, id, edit.trouble);
  }
  if ((is_entered || is_left) && (is_typed || text != shown)) {
    form.intents.emplace_back(EditIntent(TypeField{}));
    return ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape)) ? std::nullopt
                                                                    : std::optional(text);
  }
  return std::nullopt;
}

std::optional<double> length_field(const Form& form, const std::string& id, const char* words,
                                   double length_m) {
  const units::Style style = form.look.state.style;
  return read_field<double>(
      form, id, words, length_text(length_m, style),
      [&](const std::string& text) { return typed_length(text, style); },
      no_length(style == units::Style::metric ? units::LengthUnit::m : units::LengthUnit::ft));
}

std::optional<units::Pitch> pitch_field(const Form& form, const std::string& id, const char* words,
                                        units::Pitch pitch) {
  const units::Style style = form.look.state.style;
  return read_field<units::Pitch>(
      form, id, words, pitch_text(pitch, style),
      [&](const std::string& text) { return typed_pitch(text, style); },
      "No pitch: give 8/12, 33.7 deg or 66.7 %.");
}

std::optional<double> number_field(const Form& form, const std::string& id, const char* words,
                                   double number) {
  return read_field<double>(form, id, words, fmt::format("{:g}", number), typed_number,
                            "No number.");
}

double shown_temperature(double celsius, units::Style style) {
  const double shown = style == units::Style::metric ? celsius : 1.8 * celsius + 32.0;
  return std::round(10.0 * shown) / 10.0;
}

double celsius_of(double shown, units::Style style) {
  return style == units::Style::metric ? shown : (shown - 32.0) / 1.8;
}

const char* temperature_sign(units::Style style) {
  return style == units::Style::metric ? "\u00b0C" : "\u00b0F";
}

std::optional<double> temperature_field(const Form& form, const std::string& id,
                                        const std::string& words, double celsius) {
  const units::Style style = form.look.state.style;
  const std::string named = words + " (" + temperature_sign(style) + ")";
  const auto shown = number_field(form, id, named.c_str(), shown_temperature(celsius, style));
  return shown ? std::optional(celsius_of(*shown, style)) : std::nullopt;
}

std::optional<double> speed_field(const Form& form, const std::string& id, const std::string& words,
                                  double speed_ms) {
  constexpr double mile_per_hour_ms = 5280.0 * units::foot_m / 3600.0;
  const bool is_metric = form.look.state.style == units::Style::metric;
  const double unit = is_metric ? 1.0 : mile_per_hour_ms;
  const std::string named = words + (is_metric ? " (m/s)" : " (mph)");
  const auto shown =
      number_field(form, id, named.c_str(), std::round(10.0 * speed_ms / unit) / 10.0);
  return shown ? std::optional(*shown * unit) : std::nullopt;
}

std::optional<std::size_t> choice_field(const Form& form, const std::string& id, const char* words,
                                        const std::vector<std::string>& all, std::size_t chosen) {
  std::optional<std::size_t> picked;
  label(form, words);
  const std::string shown = chosen < all.size() ? all[chosen] : "";
  const bool is_open = ImGui::BeginCombo(("##" + id).c_str(), shown.c_str());
  note(form.recorder, id, "choice", shown);
  if (is_open) {
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (ImGui::Selectable(all[i].c_str(), i == chosen) && i != chosen) {
        picked = i;
      }
      note(form.recorder, id + "/" + all[i], "button", i == chosen ? "on" : "off");
    }
    ImGui::EndCombo();
  }
  const EditState& edit = form.look.state.edit;
  if (!edit.trouble.empty() && edit.trouble_field == id) {
    say_trouble(form, id, edit.trouble);
  }
  return picked;
}

std::optional<bool> check_field(const Form& form, const std::string& id, const char* words,
                                bool on) {
  label(form, words);
  const bool is_pressed = ImGui::Checkbox(("##" + id).c_str(), &on);
  note(form.recorder, id, "checkbox", on ? "on" : "off");
  return is_pressed ? std::optional(on) : std::nullopt;
}

bool button(const Form& form, const std::string& id, const std::string& words, float width,
            bool is_enabled) {
  ImGui::BeginDisabled(!is_enabled);
  const bool is_pressed = ImGui::Button((words + "##" + id).c_str(), {width, 0.0F});
  ImGui::EndDisabled();
  note(form.recorder, id, "button", is_enabled ? words : "disabled");
  return is_pressed && is_enabled;
}

}  // namespace ridgeward::panels
