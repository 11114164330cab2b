#include "panels/focus.hpp"

#include "draw/palette.hpp"
#include "panels/fields.hpp"
#include "panels/pieces.hpp"
#include "panels/pointer.hpp"
#include "panels/theme.hpp"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string_view>

namespace ridgeward::panels {
namespace {

constexpr int steps_with_shift = 10;

/// Panels in the order in which Tab goes through them; others follow.
constexpr std::array<std::string_view, 11> panel_order{
    "panel/bar",     "panel/messages", "panel/recent", "panel/plan-typed",
    "panel/results", "panel/air",      "panel/tools",  "panel/more-tools",
    "panel/ribbon",  "panel/controls", "panel/lesson"};
/// What lies over all else and has the keys alone.
constexpr std::array<std::string_view, 5> on_top{"panel/recover", "panel/unsaved", "panel/replace",
                                                 "panel/keys", "panel/add-list"};
/// These look after their keys themselves.
constexpr std::array<std::string_view, 2> own_keys{"panel/palette", "panel/browser"};

template <class List>
bool holds(const List& list, std::string_view one) {
  return std::find(list.begin(), list.end(), one) != list.end();
}

std::ptrdiff_t rank(const Control& control) {
  return std::find(panel_order.begin(), panel_order.end(), control.panel) - panel_order.begin();
}

const Control* find(const std::vector<Control>& all, const std::string& id) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Control& one) { return one.id == id; });
  return found == all.end() ? nullptr : &*found;
}

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
std::optional<double> keyed(const FocusView& view, const SliderAbout& about, double value,
                            std::vector<FocusIntent>& asked) {
  const int steps = ImGui::GetIO().KeyShift ? steps_with_shift : 1;
  if (view.typed.empty() && pressed(ImGuiKey_LeftArrow, true)) {
    return stepped(value, about.step, -steps, about.reach);
  }
  if (view.typed.empty() && pressed(ImGuiKey_RightArrow, true)) {
    return stepped(value, about.step, steps, about.reach);
  }
  if (pressed(ImGuiKey_Enter) && !view.typed.empty()) {
    asked.emplace_back(TypeOnFocus{});
    const auto typed = about.read ? about.read(view.typed) : plain_number(view.typed);
    return typed ? std::optional(std::clamp(*typed, about.reach[0], about.reach[1])) : std::nullopt;
  }
  std::string text = typed_on(view.typed);
  // A letter that begins no value is a command of the view's.
  const bool begins = !text.empty() && (std::isdigit(static_cast<unsigned char>(text[0])) != 0 ||
                                        text[0] == '-' || text[0] == '.');
  if (text != view.typed && (begins || text.empty())) {
    asked.emplace_back(TypeOnFocus{std::move(text)});
  }
  return std::nullopt;
}

}  // namespace

void apply(FocusView& view, const FocusIntent& intent) {
  if (const auto* focus = std::get_if<FocusOn>(&intent)) {
    view = {focus->id, {}, focus->back, focus->is_pressed};
  } else if (const auto* typed = std::get_if<TypeOnFocus>(&intent)) {
    view.typed = typed->text;
  } else {
    const auto& move = std::get<MoveFocus>(intent);
    view.move = move;
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
  const FocusView& view = look.state.focus;
  const bool has_keys = view.id == about.id;
  std::optional<double> changed;
  if (has_keys && !ImGui::GetIO().WantTextInput) {
    std::vector<FocusIntent> asked;
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
  if (ImGui::IsItemHovered()) {
    ImGui::SetTooltip("Drag; or Tab to it, then arrow keys, or type a value and Enter");
  }
  return changed;
}

std::vector<Control> stops(const Recorder& recorder) {
  std::vector<Control> all = recorder.controls();
  if (std::any_of(all.begin(), all.end(),
                  [](const Control& one) { return holds(own_keys, one.panel); })) {
    return {};
  }
  const auto keep = [&](auto is_kept) {
    if (std::any_of(all.begin(), all.end(), is_kept)) {
      std::erase_if(all, [&](const Control& one) { return !is_kept(one); });
    }
  };
  keep([](const Control& one) { return holds(on_top, one.panel); });
  keep([](const Control& one) { return one.is_in_list; });
  std::stable_sort(all.begin(), all.end(),
                   [](const Control& a, const Control& b) { return rank(a) < rank(b); });
  return all;
}

namespace {

/// One frame of keys on the controls.
class Keys {
 public:
  Keys(const Recorder& recorder, const FocusView& view, Input& input)
      : all_(stops(recorder)), view_(view), input_(input), now_(find(all_, view.id)) {}

  std::vector<FocusIntent> follow() {
    settle();
    move();
    if (now_ != nullptr && !input_.typing) {
      now_->kind == "slider" ? on_slider() : on_control();
    }
    return std::move(asked_);
  }

 private:
  bool take(const char* key) { return std::erase(input_.pressed, key) > 0; }
  void go(const std::string& id, const std::string& back = {}) {
    const Control* to = find(all_, id);
    // A field takes letters at once; out of sight it can only do so when it was scrolled there.
    const bool is_field = to != nullptr && to->kind == "field";
    asked_.emplace_back(FocusOn{id, back, is_field && !to->is_whole});
    if (is_field && to->is_whole) {
      press(*to);
    }
  }
  static void press(const Control& control) {
    ImGui::ActivateItem(control.of_gui);
    if (control.kind == "field") {
      ImGui::GetCurrentContext()->NavNextActivateFlags = ImGuiActivateFlags_PreferInput;
    }
  }

  /// The keys go where they belong when something opened, closed or came into sight.
  void settle() {
    const bool is_list = !all_.empty() && all_.front().is_in_list;
    const bool is_on_top = !all_.empty() && holds(on_top, all_.front().panel);
    const bool has_mouse = input_.left_down || input_.wheel != 0.0;
    if (view_.id == fields_focus && !has_mouse) {
      const auto first = std::find_if(all_.begin(), all_.end(), [](const Control& one) {
        return one.panel == "panel/results" && one.kind != "button";
      });
      if (first != all_.end()) {
        go(first->id);
      }
    } else if (now_ == nullptr && (is_list || is_on_top)) {
      const auto chosen = std::find_if(all_.begin(), all_.end(), [](const Control& one) {
        return one.is_in_list && one.state == "on";
      });
      go((chosen == all_.end() ? all_.front() : *chosen).id, is_list ? view_.id : std::string());
    } else if (now_ == nullptr && !view_.id.empty()) {
      go(find(all_, view_.back) != nullptr ? view_.back : std::string());
    } else if (now_ != nullptr && has_mouse && !is_on_top && !is_list) {
      go({});  // who takes the mouse wants the keys for the view
    } else if (now_ != nullptr && view_.is_pressed && now_->is_whole) {
      go(now_->id);
    }
  }

  void move() {
    std::optional<MoveFocus> way = view_.move;
    for (const bool is_back : {false, true}) {
      const std::string shift = is_back ? "Shift+" : "";
      if (take((shift + "Tab").c_str())) {
        way = MoveFocus{false, is_back};
      }
      if (take((shift + "F6").c_str())) {
        way = MoveFocus{true, is_back};
      }
    }
    if (!way) {
      return;
    }
    std::vector<std::string> ids;
    std::string last;
    for (const Control& one : all_) {
      const bool is_here = now_ != nullptr && one.panel == now_->panel;
      if (!way->by_panel || one.id == view_.id || (one.panel != last && !is_here)) {
        ids.push_back(one.id);
      }
      last = one.panel;
    }
    go(now_ == nullptr && !way->by_panel ? first_stop(way->is_back)
                                         : next_of(ids, view_.id, way->is_back));
  }

  /// Where Tab begins: on what is set just now, else at the bar.
  std::string first_stop(bool is_back) const {
    const auto slider = [](const Control& one) { return one.kind == "slider"; };
    const auto first = std::find_if(all_.begin(), all_.end(), slider);
    if (first != all_.end() && !is_back) {
      return first->id;
    }
    return all_.empty() ? std::string() : (is_back ? all_.back() : all_.front()).id;
  }

  void on_slider() {
    if (take("Esc")) {
      asked_.emplace_back(view_.typed.empty() ? FocusIntent(FocusOn{})
                                              : FocusIntent(TypeOnFocus{}));
    }
    for (const char* key : {"Left", "Right", "Up", "Down", "Shift+Left", "Shift+Right", "Enter"}) {
      take(key);
    }
    std::erase_if(input_.pressed, [](const std::string& key) {
      return key.size() == 1 && std::isdigit(static_cast<unsigned char>(key[0])) != 0;
    });
    input_.typing = !view_.typed.empty();
  }

  void on_control() {
    std::vector<std::string> ids;
    ids.reserve(all_.size());
    for (const Control& one : all_) {
      ids.push_back(one.id);
    }
    const bool is_on_top = holds(on_top, now_->panel);
    for (const char* key : {"Enter", "Space"}) {
      if (take(key)) {
        press(*now_);
      }
    }
    for (const bool is_back : {false, true}) {
      for (const char* key : is_back ? std::array{"Up", "Left"} : std::array{"Down", "Right"}) {
        if (const std::string next = next_of(ids, view_.id, is_back); take(key) && !next.empty()) {
          go(next, view_.back);
        }
      }
    }
    if (now_->is_in_list && take("Esc")) {
      ImGui::ClosePopupToLevel(0, true);
    } else if (!is_on_top && take("Esc")) {
      go({});
    }
  }

  std::vector<Control> all_;
  const FocusView& view_;
  Input& input_;
  const Control* now_;
  std::vector<FocusIntent> asked_;
};

}  // namespace

std::vector<FocusIntent> follow_focus(const Recorder& recorder, const FocusView& view,
                                      Input& input) {
  return Keys(recorder, view, input).follow();
}

}  // namespace ridgeward::panels
