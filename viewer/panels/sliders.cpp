#include "panels/sliders.hpp"

#include "draw/palette.hpp"
#include "panels/fields.hpp"
#include "panels/pieces.hpp"
#include "panels/pointer.hpp"
#include "panels/theme.hpp"

#include <imgui.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace ridgeward::panels {
namespace {

constexpr int steps_with_shift = 10;

bool pressed(ImGuiKey_ key, bool goes_on = false) {
  return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key), goes_on);
}

std::optional<double> plain_number(const std::string& text) {
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc() && end == text.data() + text.size() ? std::optional(value)
                                                                  : std::nullopt;
}

/// What the keys make of the slider that has them.
std::optional<double> keyed(const SliderView& view, const SliderAbout& about, double value,
                            std::vector<SliderIntent>& asked) {
  const int steps = ImGui::GetIO().KeyShift ? steps_with_shift : 1;
  if (view.typed.empty() && pressed(ImGuiKey_LeftArrow, true)) {
    return stepped(value, about.step, -steps, about.reach);
  }
  if (view.typed.empty() && pressed(ImGuiKey_RightArrow, true)) {
    return stepped(value, about.step, steps, about.reach);
  }
  if (pressed(ImGuiKey_Enter) && !view.typed.empty()) {
    asked.emplace_back(TypeOnSlider{});
    const auto typed = about.read ? about.read(view.typed) : plain_number(view.typed);
    return typed ? std::optional(std::clamp(*typed, about.reach[0], about.reach[1])) : std::nullopt;
  }
  std::string text = typed_on(view.typed);
  // A letter that begins no value is a command of the view's.
  const bool begins = !text.empty() && (std::isdigit(static_cast<unsigned char>(text[0])) != 0 ||
                                        text[0] == '-' || text[0] == '.');
  if (text != view.typed && (begins || text.empty())) {
    asked.emplace_back(TypeOnSlider{std::move(text)});
  }
  return std::nullopt;
}

}  // namespace

void apply(SliderView& view, const SliderIntent& intent) {
  if (const auto* focus = std::get_if<FocusSlider>(&intent)) {
    view = {focus->id, {}};
  } else {
    view.typed = std::get<TypeOnSlider>(intent).text;
  }
}

double stepped(double value, double step, int steps, std::array<double, 2> reach) {
  // Onto the steps first, so that what a mouse left in between becomes a round value.
  const double from = steps > 0 ? std::floor(value / step + 1e-6) : std::ceil(value / step - 1e-6);
  return std::clamp((from + steps) * step, reach[0], reach[1]);
}

std::string next_of(const std::vector<std::string>& ids, const std::string& now, bool is_back) {
  if (ids.empty()) {
    return {};
  }
  const auto found = std::find(ids.begin(), ids.end(), now);
  if (found == ids.end()) {
    return is_back ? ids.back() : ids.front();
  }
  if (is_back) {
    return found == ids.begin() ? std::string() : *(found - 1);
  }
  return found + 1 == ids.end() ? std::string() : *(found + 1);
}

std::optional<double> slider(const Look& look, const SliderAbout& about, double value,
                             Recorder& recorder, Intents& intents) {
  const SliderView& view = look.state.slider;
  const bool has_keys = view.id == about.id;
  std::optional<double> changed;
  if (has_keys && !ImGui::GetIO().WantTextInput) {
    std::vector<SliderIntent> asked;
    changed = keyed(view, about, value, asked);
    intents.insert(intents.end(), asked.begin(), asked.end());
  }
  const bool is_typed = has_keys && !view.typed.empty();
  const std::string words = is_typed ? view.typed + "_" : about.words;
  auto held = static_cast<float>(changed.value_or(value));
  ImGui::SetNextItemWidth(about.width);
  if (ImGui::SliderFloat(("##" + about.id).c_str(), &held, static_cast<float>(about.reach[0]),
                         static_cast<float>(about.reach[1]), "", ImGuiSliderFlags_NoInput)) {
    changed = static_cast<double>(held);
  }
  note(recorder, about.id, "slider", words);
  const float s = ui_scale();
  const ImVec2 low = ImGui::GetItemRectMin();
  const ImVec2 high = ImGui::GetItemRectMax();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (is_typed) {
    list.AddRectFilled(low, high, packed(draw::card), 4 * s);  // over the grab
  }
  if (about.has_words || is_typed) {
    const ImVec2 size = ImGui::CalcTextSize(words.c_str());
    list.AddText({(low.x + high.x - size.x) / 2, (low.y + high.y - size.y) / 2}, packed(draw::ink),
                 words.c_str());
  }
  if (has_keys) {
    list.AddRect({low.x - 2 * s, low.y - 2 * s}, {high.x + 2 * s, high.y + 2 * s},
                 packed(draw::intake), 5 * s, 0, 2 * s);
  }
  if (ImGui::IsItemHovered()) {
    ImGui::SetTooltip("Drag; or Tab to it, then arrow keys, or type a value and Enter");
  }
  return changed;
}

std::vector<SliderIntent> follow_sliders(const Recorder& recorder, const SliderView& view,
                                         Input& input) {
  std::vector<SliderIntent> asked;
  std::vector<std::string> ids;
  for (const UiItem& item : recorder.items()) {
    if (item.kind == "slider") {
      ids.push_back(item.id);
    }
  }
  const bool is_there = std::find(ids.begin(), ids.end(), view.id) != ids.end();
  if (!view.id.empty() && !is_there) {
    asked.emplace_back(FocusSlider{});  // it is hidden: the keys are the view's again
  }
  if (!input.typing && pressed(ImGuiKey_Tab)) {
    asked.emplace_back(FocusSlider{next_of(ids, view.id, ImGui::GetIO().KeyShift)});
  }
  if (!is_there || input.typing) {
    return asked;
  }
  if (pressed(ImGuiKey_Escape)) {
    asked.emplace_back(view.typed.empty() ? SliderIntent(FocusSlider{})
                                          : SliderIntent(TypeOnSlider{}));
  }
  std::erase_if(input.pressed, [](Key key) {
    const bool is_turn = key >= Key::turn_left && key <= Key::turn_down;
    return is_turn || (key >= Key::pad_1 && key <= Key::pad_9) || key == Key::clear;
  });
  input.typing = !view.typed.empty();
  return asked;
}

}  // namespace ridgeward::panels
