#include "panels/ribbon_panel.hpp"

#include "units/area.hpp"

#include "draw/palette.hpp"

#include <fmt/format.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

namespace ridgeward::panels {

using scene::CellState;
using scene::RibbonCell;
using scene::RibbonEave;
using scene::RibbonMark;
using scene::RibbonPiece;
using scene::RibbonSlot;

namespace {

constexpr double grip_px = 6.0;
constexpr double snap_px = 7.0;
constexpr double inch_steps_m = 0.25 * units::inch_m;
constexpr double metric_steps_m = 0.005;
constexpr float click_px = 4.0F;
constexpr double most_px_per_m = 900.0;

double whole_scale(const scene::Ribbon& ribbon, float width) {
  return static_cast<double>(width) / std::max(1.0, ribbon.length_m);
}

}  // namespace

double RibbonPanel::step() const {
  return look_.state.style == units::Style::metric ? metric_steps_m : inch_steps_m;
}

void RibbonPanel::note_box(const std::string& id, const char* kind, const std::string& words,
                           ImVec2 low, ImVec2 high) {
  recorder_.add({id, kind, words, low.x, low.y, high.x - low.x, high.y - low.y});
}

std::string RibbonPanel::headline() const {
  if (view_.pull) {
    const std::vector<BayId> over =
        scene::bays_over(a_, view_.pull->plane, view_.pulled_from_m, view_.pulled_to_m);
    const auto live = std::count_if(over.begin(), over.end(), [&](BayId bay) {
      return a_.vents.bays.has(bay) && a_.vents.bays[bay].live;
    });
    return fmt::format("Run {}: {} to {}, {} long, over {} bays, {} live", view_.pull->run,
                       length(view_.pulled_from_m), length(view_.pulled_to_m),
                       length(view_.pulled_to_m - view_.pulled_from_m), over.size(), live);
  }
  if (a_.vents.slots.has(pointed_.slot)) {
    const vents::Slot& slot = a_.vents.slots[pointed_.slot];
    return fmt::format("Slot {}: {} long, {}", slot.id, length(slot.end_m - slot.start_m),
                       units::show_free_area(slot.free_area_m2, look_.state.style));
  }
  if (a_.framing.bays.has(pointed_.bay)) {
    return fmt::format("Bay {}: {}", a_.framing.bays[pointed_.bay].id,
                       a_.vents.bays.has(pointed_.bay) ? a_.vents.bays[pointed_.bay].why : "");
  }
  double eaves = 0.0;
  std::size_t dead = 0;
  for (const RibbonEave& eave : ribbon_.eaves) {
    eaves += eave.length_m;
  }
  for (const RibbonCell& cell : ribbon_.cells) {
    dead += cell.state == CellState::dead || cell.state == CellState::wasted ? 1 : 0;
  }
  return fmt::format("{} of eave, {} bays, {} of them dead", length(eaves),
                     std::count_if(ribbon_.cells.begin(), ribbon_.cells.end(),
                                   [](const RibbonCell& cell) { return !cell.bay.is_none(); }),
                     dead);
}

void RibbonPanel::fields() {
  if (!a_.vents.slots.has(pointed_.slot) || view_.pull) {
    return;
  }
  const auto pull = scene::pull_of(a_, ribbon_, pointed_.slot, scene::Grip::whole);
  if (!pull) {
    return;
  }
  std::string from = view_.from_text.value_or(length(pull->from_m));
  std::string to = view_.to_text.value_or(length(pull->to_m));
  bool entered = false;
  for (const bool is_from : {true, false}) {
    std::string& text = is_from ? from : to;
    ImGui::SameLine();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(is_from ? "from" : "to");
    ImGui::SameLine();
    ImGui::SetNextItemWidth(80 * ui_scale());
    const std::string was = text;
    entered = ImGui::InputText(is_from ? "##run-from" : "##run-to", &text,
                               ImGuiInputTextFlags_EnterReturnsTrue) ||
              entered;
    note(recorder_, is_from ? "ribbon/from" : "ribbon/to", "field", text);
    if (text != was) {
      ask(TypeRun{from, to});
    }
  }
  if (entered) {
    if (const auto run = typed_run(*pull, from, to, look_.state.style)) {
      ask(*run);
    }
    ask(TypeRun{});
  }
}

void RibbonPanel::zoom_buttons() {
  const float s = ui_scale();
  const double least = whole_scale(ribbon_, strip_.high.x - strip_.low.x);
  const double middle = strip_.at((strip_.low.x + strip_.high.x) / 2);
  const auto zoom = [&](double factor) {
    const double scale = std::clamp(strip_.px_per_m * factor, least, most_px_per_m);
    const double half = static_cast<double>(strip_.high.x - strip_.low.x) / 2 / scale;
    ask(ScrollRibbon{middle - half, scale <= least ? 0.0 : scale});
  };
  ImGui::SameLine(ImGui::GetWindowContentRegionMax().x - 150 * s);
  if (ImGui::Button("-##ribbon", {26 * s, 0})) {
    zoom(1 / 1.5);
  }
  note(recorder_, "ribbon/smaller", "button", "");
  ImGui::SameLine(0, 4 * s);
  if (ImGui::Button("+##ribbon", {26 * s, 0})) {
    zoom(1.5);
  }
  note(recorder_, "ribbon/larger", "button", "");
  ImGui::SameLine(0, 4 * s);
  if (ImGui::Button("All##ribbon", {36 * s, 0})) {
    ask(ScrollRibbon{0.0, 0.0});
  }
  note(recorder_, "ribbon/all", "button", "");
  ImGui::SameLine(0, 4 * s);
  if (ImGui::Button("Hide##ribbon", {46 * s, 0})) {
    ask(ShowRibbon{false});
  }
  note(recorder_, "ribbon/hide", "button", "");
}

void RibbonPanel::head() {
  ImGui::AlignTextToFramePadding();
  // With a run to edit, its fields need the room.
  if (!a_.vents.slots.has(pointed_.slot)) {
    heading("Eaves, end to end");
    ImGui::SameLine(0, 14 * ui_scale());
    ImGui::AlignTextToFramePadding();
  }
  const std::string words = headline();
  std::string shown = words;
  const float room = ImGui::GetWindowContentRegionMax().x - ImGui::GetCursorPosX() -
                     (is_picture_ ? 0.0F : 160 * ui_scale());
  while (ImGui::CalcTextSize(shown.c_str()).x > room && !shown.empty()) {
    const std::size_t end = shown.find_last_of(",:");
    shown.resize(end == shown.npos ? 0 : end);
  }
  ImGui::TextUnformatted(shown.c_str());
  note(recorder_, "ribbon/headline", "text", words);
  if (!is_picture_) {
    fields();
    zoom_buttons();
  }
}

/// Scrolls to what was selected on the house since the last look.
void RibbonPanel::follow_house() {
  const scene::Picked& selected = look_.state.selected;
  if (is_followed(look_.state) || view_.px_per_m <= 0.0) {
    return;
  }
  PointRibbon intent{pointed_.bay, pointed_.slot, selected};
  PlaneId plane = selected.plane;
  if (a_.surface.lines.has(selected.line)) {
    const surface::Line& line = a_.surface.lines[selected.line];
    plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
  }
  if (a_.surface.planes.has(plane)) {
    const double u = a_.surface.planes[plane].frame.uv(selected.at).x;
    if (const auto eave = scene::eave_of(ribbon_, plane, u)) {
      const RibbonEave& found = ribbon_.eaves[*eave];
      const double at = std::clamp(found.at(u), found.from_m, found.to_m());
      const double wide = static_cast<double>(strip_.high.x - strip_.low.x) / strip_.px_per_m;
      if (at < strip_.from_m || at > strip_.from_m + wide) {
        intent.from_m = at - wide / 2;
      }
    }
  }
  ask(intent);
}

scene::Picked RibbonPanel::picked(std::size_t eave, double at) const {
  const RibbonEave& of = ribbon_.eaves[eave];
  scene::Picked picked;
  picked.plane = of.plane;
  picked.at = a_.surface.planes[of.plane].frame.at({of.u_at(at), of.v_m});
  return picked;
}

void RibbonPanel::tell(const scene::RibbonHit& under) {
  std::string words;
  const float y = mouse_y();
  if (under.mark && y < strip_.cells()) {
    const RibbonMark& mark = ribbon_.marks[*under.mark];
    words =
        mark.severity >= 0 ? mark.words : mark.words + ", " + length(mark.up_m) + " up the slope";
  } else if (under.piece && y >= strip_.pieces()) {
    const RibbonPiece& piece = ribbon_.pieces[*under.piece];
    const takeoff::Piece& of = a_.takeoff.sections[piece.strip].pieces[piece.piece];
    words = fmt::format("Piece {} of {}: {}, left end {}, right end {}", piece.piece + 1,
                        a_.vents.slots[piece.slot].id, length(of.length_m),
                        takeoff::word(piece.left), takeoff::word(piece.right));
  } else if (under.slot && y >= strip_.slots()) {
    const vents::Slot& slot = a_.vents.slots[ribbon_.slots[*under.slot].slot];
    words = fmt::format("Slot {} of run {}: {} to {}. Drag it, or one of its ends.", slot.id,
                        slot.run, length(slot.start_m), length(slot.end_m));
  } else if (under.cell && y >= strip_.cells()) {
    const RibbonCell& cell = ribbon_.cells[*under.cell];
    words = cell.bay.is_none()
                ? cell.why
                : fmt::format("Bay {}, {} clear: {}. {}", a_.framing.bays[cell.bay].id,
                              length(a_.framing.bays[cell.bay].clear_width_m), word(cell.state),
                              capitalised(cell.why));
  }
  if (!words.empty()) {
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(340 * ui_scale());
    ImGui::TextUnformatted(words.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
    const ImVec2 at = ImGui::GetIO().MousePos;
    note_box("ribbon/hover", "text", words, at, at);
  }
}

std::optional<std::pair<std::size_t, scene::Grip>> RibbonPanel::grip_at(
    const scene::RibbonHit& under, double at) const {
  const float y = ImGui::GetIO().MouseClickedPos[0].y;
  if (!under.slot || y < strip_.slots() || y >= strip_.pieces()) {
    return std::nullopt;
  }
  const RibbonSlot& slot = ribbon_.slots[*under.slot];
  const double reach = grip_px * static_cast<double>(ui_scale()) / strip_.px_per_m;
  const double left = std::abs(at - slot.from_m);
  const double right = std::abs(at - slot.to_m);
  const scene::Grip grip = std::min(left, right) > reach ? scene::Grip::whole
                           : left <= right               ? scene::Grip::left
                                                         : scene::Grip::right;
  return std::pair{*under.slot, grip};
}

void RibbonPanel::press(const scene::RibbonHit& under, double at) {
  if (const auto grip = grip_at(under, at)) {
    const RibbonSlot& slot = ribbon_.slots[grip->first];
    if (const auto pull = scene::pull_of(a_, ribbon_, slot.slot, grip->second)) {
      ask(PointRibbon{BayId(), slot.slot, picked(slot.eave, at)});
      ask(PullRun{pull, pull->from_m, pull->to_m});
    }
  }
}

std::pair<double, double> RibbonPanel::pulled_now() const {
  const ImGuiIO& io = ImGui::GetIO();
  const double by = static_cast<double>(io.MousePos.x - io.MouseClickedPos[0].x) / strip_.px_per_m;
  const bool is_moved = std::abs(io.MousePos.x - io.MouseClickedPos[0].x) > 1.0F;
  const double snap = snap_px * static_cast<double>(ui_scale()) / strip_.px_per_m;
  return scene::pulled(*view_.pull, is_moved ? by : 0.0, snap, step());
}

void RibbonPanel::drag() {
  const ImGuiIO& io = ImGui::GetIO();
  if (view_.pull) {
    const auto [from, to] = pulled_now();
    if (from != view_.pulled_from_m || to != view_.pulled_to_m) {
      ask(PullRun{view_.pull, from, to});
      ask(PutRun{view_.pull->run, from, to, false});
    }
  } else if (io.MouseDelta.x != 0.0F && view_.px_per_m > 0.0) {
    ask(ScrollRibbon{strip_.from_m - static_cast<double>(io.MouseDelta.x) / strip_.px_per_m,
                     view_.px_per_m});
  }
}

void RibbonPanel::click(const scene::RibbonHit& under, double at) {
  const float y = mouse_y();
  if (under.mark && y >= strip_.marks() && y < strip_.cells()) {
    const RibbonMark& mark = ribbon_.marks[*under.mark];
    if (mark.severity >= 0) {
      intents_.emplace_back(GoTo{a_.findings[mark.number - 1].at});
    }
    return;
  }
  if (under.piece && y >= strip_.pieces()) {
    const RibbonPiece& piece = ribbon_.pieces[*under.piece];
    ask(PointRibbon{BayId(), piece.slot, picked(piece.eave, at)});
  } else if (under.slot && y >= strip_.slots() && y < strip_.pieces()) {
    const RibbonSlot& slot = ribbon_.slots[*under.slot];
    ask(PointRibbon{BayId(), slot.slot, picked(slot.eave, at)});
  } else if (under.cell && y >= strip_.cells()) {
    const RibbonCell& cell = ribbon_.cells[*under.cell];
    ask(PointRibbon{cell.bay, SlotId(), picked(cell.eave, at)});
  } else if (under.eave) {
    ask(PointRibbon{BayId(), SlotId(), picked(*under.eave, at)});
  } else {
    ask(PointRibbon{BayId(), SlotId(), {}});
  }
}

void RibbonPanel::wheel() {
  const ImGuiIO& io = ImGui::GetIO();
  const double least = whole_scale(ribbon_, strip_.high.x - strip_.low.x);
  const auto notches = static_cast<double>(io.MouseWheel);
  if (io.KeyShift || io.MouseWheelH != 0.0F) {
    const auto by = static_cast<double>(io.KeyShift ? io.MouseWheel : io.MouseWheelH);
    ask(ScrollRibbon{strip_.from_m - by * 60.0 / strip_.px_per_m, view_.px_per_m});
  } else if (notches != 0.0) {
    const double under = strip_.at(io.MousePos.x);
    const double scale = std::clamp(strip_.px_per_m * std::pow(1.2, notches), least, most_px_per_m);
    const double left = static_cast<double>(io.MousePos.x - strip_.low.x) / scale;
    ask(ScrollRibbon{under - left, scale <= least ? 0.0 : scale});
  }
}

void RibbonPanel::mouse() {
  const ImGuiIO& io = ImGui::GetIO();
  const double at = strip_.at(io.MousePos.x);
  const double reach = grip_px * static_cast<double>(ui_scale()) / strip_.px_per_m;
  scene::RibbonHit under = scene::hit(ribbon_, at, reach);
  for (const Finding& finding : findings_) {
    if (mouse_y() < strip_.cells() && std::abs(io.MousePos.x - finding.x) <= 8 * ui_scale()) {
      under.mark = finding.mark;
    }
  }
  if (ImGui::IsItemHovered()) {
    wheel();
    if (!ImGui::IsItemActive()) {
      tell(under);
    }
  }
  if (ImGui::IsItemActivated()) {
    press(under, at);
  } else if (ImGui::IsItemActive()) {
    drag();
  }
  if (!ImGui::IsItemDeactivated()) {
    return;
  }
  const bool is_click = io.MouseDragMaxDistanceSqr[0] <= click_px * click_px;
  if (view_.pull) {
    // The last move may come in the very frame in which the button is let go.
    const auto [from, to] = pulled_now();
    if (from != view_.pull->from_m || to != view_.pull->to_m ||
        view_.pulled_from_m != view_.pull->from_m || view_.pulled_to_m != view_.pull->to_m) {
      ask(PutRun{view_.pull->run, from, to, true});
    }
    ask(PullRun{});
  } else if (is_click) {
    click(under, at);
  }
}

void RibbonPanel::body() {
  const float s = ui_scale();
  const float width = ImGui::GetContentRegionAvail().x;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  strip_.low = {at.x, at.y + Strip::head_row * s};
  strip_.high = {at.x + width, strip_.pieces() + Strip::piece_row * s};
  const double least = whole_scale(ribbon_, width);
  strip_.px_per_m = std::max(least, view_.px_per_m);
  const double wide = static_cast<double>(width) / strip_.px_per_m;
  strip_.from_m = std::clamp(view_.from_m, 0.0, std::max(0.0, ribbon_.length_m - wide));
  head();
  ImGui::SetCursorScreenPos(strip_.low);
  ImGui::InvisibleButton("eaves", {width, strip_.high.y - strip_.low.y});
  note(recorder_, "ribbon/strip", "panel",
       fmt::format("{:.4f} {:.4f}", strip_.from_m, strip_.px_per_m));
  list().PushClipRect(strip_.low, {strip_.high.x + 1, strip_.high.y + 2}, true);
  place_marks();
  draw_eaves();
  draw_cells();
  draw_marks();
  draw_pieces();
  draw_slots();
  list().PopClipRect();
  mouse();
  follow_house();
}

void draw_ribbon(const Look& look, const scene::Viewport& viewport, bool is_picture,
                 Recorder& recorder, Intents& intents) {
  const RibbonView& view = look.state.ribbon;
  const auto height = static_cast<float>(ribbon_height(view));
  const float s = ui_scale();
  begin_panel("ribbon",
              {static_cast<float>(viewport.x) + 4 * s,
               static_cast<float>(viewport.y + viewport.height) + 2 * s},
              static_cast<float>(viewport.width) - 8 * s, height - 10 * s);
  if (view.is_shown) {
    RibbonPanel(look, is_picture, recorder, intents).body();
  } else {
    if (ImGui::SmallButton("Eave ribbon")) {
      intents.emplace_back(RibbonIntent{ShowRibbon{true}});
    }
    note(recorder, "ribbon/show", "button", "");
  }
  note_panel(recorder, "panel/ribbon");
  ImGui::End();
}

}  // namespace ridgeward::panels
