#include "panels/ribbon.hpp"

#include "base/polygon.hpp"
#include "units/area.hpp"

#include "draw/palette.hpp"
#include "panels/pieces.hpp"
#include "panels/sketch.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::panels {
namespace {

using scene::CellState;
using scene::Grip;
using scene::Ribbon;
using scene::RibbonCell;
using scene::RibbonEave;
using scene::RibbonMark;
using scene::RibbonPiece;
using scene::RibbonSlot;

constexpr float shown_height = 168.0F;
constexpr float shut_height = 34.0F;
constexpr float head_row = 28.0F;
constexpr float name_row = 18.0F;
constexpr float mark_row = 17.0F;
constexpr float cell_row = 32.0F;
constexpr float slot_row = 15.0F;
constexpr float piece_row = 19.0F;
constexpr double grip_px = 6.0;
constexpr double snap_px = 7.0;
constexpr double inch_steps_m = 0.25 * units::inch_m;
constexpr double metric_steps_m = 0.005;
constexpr float click_px = 4.0F;
constexpr double most_px_per_m = 900.0;

/// Where things of the ribbon lie on the screen.
struct Strip {
  ImVec2 low;
  ImVec2 high;
  double from_m = 0.0;
  double px_per_m = 1.0;
  float x(double at_m) const { return low.x + static_cast<float>((at_m - from_m) * px_per_m); }
  double at(float x_px) const { return from_m + static_cast<double>(x_px - low.x) / px_per_m; }
  bool shows(double from, double to) const { return x(to) >= low.x && x(from) <= high.x; }
  float names() const { return low.y; }
  float marks() const { return low.y + name_row * ui_scale(); }
  float cells() const { return marks() + mark_row * ui_scale(); }
  float slots() const { return cells() + cell_row * ui_scale(); }
  float pieces() const { return slots() + slot_row * ui_scale(); }
};

double whole_scale(const Ribbon& ribbon, float width) {
  return static_cast<double>(width) / std::max(1.0, ribbon.length_m);
}

class RibbonPanel {
 public:
  RibbonPanel(const Look& look, bool is_picture, Recorder& recorder, Intents& intents)
      : look_(look),
        is_picture_(is_picture),
        view_(look.state.ribbon),
        a_(look.assessment),
        ribbon_(scene::ribbon_of(look.assessment)),
        recorder_(recorder),
        intents_(intents) {}

  void body();

 private:
  void ask(RibbonIntent intent) { intents_.emplace_back(std::move(intent)); }
  std::string length(double m) const { return units::show(m, look_.state.style); }
  ImDrawList& list() const { return *ImGui::GetWindowDrawList(); }
  void head();
  void fields();
  void zoom_buttons();
  std::string headline() const;
  void follow_house();
  void draw_eaves();
  void draw_cells();
  void draw_cell(const RibbonCell& cell, bool is_lit);
  void draw_marks();
  void draw_slots();
  void draw_pieces();
  void cut_end(float x, takeoff::CutKind kind, bool is_left);
  void mouse();
  void wheel();
  void press(const scene::RibbonHit& under, double at);
  void click(const scene::RibbonHit& under, double at);
  void drag();
  void tell(const scene::RibbonHit& under);
  std::optional<std::pair<SlotId, Grip>> grip_at(const scene::RibbonHit& under, double at) const;
  void note_box(const std::string& id, const char* kind, const std::string& words, ImVec2 low,
                ImVec2 high);
  scene::Picked picked(std::size_t eave, double at) const;
  float mouse_y() const { return ImGui::GetIO().MousePos.y; }
  double step() const {
    return look_.state.style == units::Style::metric ? metric_steps_m : inch_steps_m;
  }

  const Look& look_;
  bool is_picture_;  ///< nothing to press
  const RibbonView& view_;
  const Assessment& a_;
  Ribbon ribbon_;
  Recorder& recorder_;
  Intents& intents_;
  Strip strip_;
};

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
  if (a_.vents.slots.has(view_.slot)) {
    const vents::Slot& slot = a_.vents.slots[view_.slot];
    return fmt::format("Slot {}: {} long, {}", slot.id, length(slot.end_m - slot.start_m),
                       units::show_free_area(slot.free_area_m2, look_.state.style));
  }
  if (a_.framing.bays.has(view_.bay)) {
    return fmt::format("Bay {}: {}", a_.framing.bays[view_.bay].id,
                       a_.vents.bays.has(view_.bay) ? a_.vents.bays[view_.bay].why : "");
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
  if (!a_.vents.slots.has(view_.slot) || view_.pull) {
    return;
  }
  const auto pull = scene::pull_of(a_, ribbon_, view_.slot, Grip::whole);
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
  if (!a_.vents.slots.has(view_.slot)) {
    heading("Eaves, end to end");
    ImGui::SameLine(0, 14 * ui_scale());
    ImGui::AlignTextToFramePadding();
  }
  const std::string words = headline();
  ImGui::TextUnformatted(words.c_str());
  note(recorder_, "ribbon/headline", "text", words);
  if (!is_picture_) {
    fields();
    zoom_buttons();
  }
}

/// What was selected on the house since the last look is shown here too.
void RibbonPanel::follow_house() {
  const scene::Picked& selected = look_.state.selected;
  if (selected == view_.followed && selected.at == view_.followed.at) {
    return;
  }
  const Pointed pointed = pointed_at(a_, selected);
  PointRibbon intent{pointed.bay, pointed.slot, selected};
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
      if (view_.px_per_m > 0.0 && (at < strip_.from_m || at > strip_.from_m + wide)) {
        intent.from_m = at - wide / 2;
      }
    }
  }
  ask(intent);
}

void RibbonPanel::draw_eaves() {
  const float s = ui_scale();
  for (const RibbonEave& eave : ribbon_.eaves) {
    if (!strip_.shows(eave.from_m, eave.to_m())) {
      continue;
    }
    const ImVec2 low{strip_.x(eave.from_m), strip_.names()};
    const ImVec2 high{strip_.x(eave.to_m()), strip_.cells()};
    const bool is_selected =
        look_.state.selected.plane == eave.plane || look_.state.selected.line == eave.line;
    if (is_selected) {
      list().AddRectFilled(low, high, packed(draw::selected, 0.45F), 3 * s);
    }
    const std::string name = a_.surface.planes[eave.plane].id;
    std::string words = name + "  " + length(eave.length_m);
    ImFont* letters = font(Font::small_text);
    const auto width = [&](const std::string& text) {
      return letters->CalcTextSizeA(letters->FontSize, 1e6F, 0.0F, text.c_str()).x;
    };
    const float room = high.x - low.x;
    words = width(words) <= room ? words : width(name) <= room ? name : "";
    list().AddText(letters, letters->FontSize,
                   {std::clamp(low.x, strip_.low.x, std::max(strip_.low.x, high.x - width(words))),
                    low.y + 1 * s},
                   packed(draw::ink), words.c_str());
    list().AddLine({low.x, low.y}, {low.x, strip_.high.y}, packed(draw::faint_ink), 1.0F * s);
    list().AddLine({high.x, low.y}, {high.x, strip_.high.y}, packed(draw::faint_ink), 1.0F * s);
    note_box("ribbon/eave/" + a_.surface.lines[eave.line].id, "mark", length(eave.length_m), low,
             high);
  }
}

draw::FaceLook look_of(CellState state) {
  switch (state) {
    case CellState::fed:
      return draw::look_of(scene::FaceRole::bay_fed);
    case CellState::idle:
      return draw::look_of(scene::FaceRole::bay_idle);
    case CellState::dead:
      return draw::look_of(scene::FaceRole::bay_dead);
    case CellState::wasted:
      return draw::look_of(scene::FaceRole::bay_wasted);
    case CellState::none:
      break;
  }
  return {};
}

const char* word(CellState state) {
  constexpr std::array<const char*, 5> words{"live, fed", "live, no slot", "dead",
                                             "dead under a slot", "no bay"};
  return words[static_cast<std::size_t>(state)];
}

void RibbonPanel::draw_cell(const RibbonCell& cell, bool is_lit) {
  const float s = ui_scale();
  const ImVec2 low{strip_.x(cell.clear_from_m), strip_.cells() + 1 * s};
  const ImVec2 high{std::max(low.x + 1.0F, strip_.x(cell.clear_to_m)), strip_.slots() - 1 * s};
  if (cell.bay.is_none()) {
    list().AddRectFilled({low.x, high.y - 4 * s}, high, packed({0.62F, 0.60F, 0.57F}));
    return;
  }
  const draw::FaceLook look = look_of(cell.state);
  list().AddRectFilled(low, high, packed({1.0F, 1.0F, 1.0F}));
  list().AddRectFilled(low, high,
                       packed(look.colour, cell.state == CellState::fed ? 0.55F : 0.30F));
  if (look.hatch != draw::Hatch::none) {
    hatch_box(list(), low, high, packed(look.hatch_colour), look.hatch == draw::Hatch::cross);
  }
  list().AddRect(low, high, packed(draw::faint_ink, 0.8F), 0.0F, 0, 1.0F);
  if (is_lit) {
    list().AddRectFilled(low, high, packed(draw::selected, 0.45F));
  }
  if (cell.bay == view_.bay) {
    list().AddRect({low.x - 1, low.y - 1}, {high.x + 1, high.y + 1}, packed(draw::selected), 0.0F,
                   0, 3.0F * s);
    list().AddRect(low, high, packed(draw::ink), 0.0F, 0, 1.2F * s);
  }
  note_box("ribbon/cell/" + a_.framing.bays[cell.bay].id, "mark",
           is_lit ? std::string("lit, ") + word(cell.state) : word(cell.state), low, high);
}

void RibbonPanel::draw_cells() {
  std::vector<BayId> lit;
  if (view_.pull) {
    lit = scene::bays_over(a_, view_.pull->plane, view_.pulled_from_m, view_.pulled_to_m);
  }
  for (const RibbonCell& cell : ribbon_.cells) {
    if (strip_.shows(cell.from_m, cell.to_m)) {
      draw_cell(cell, std::find(lit.begin(), lit.end(), cell.bay) != lit.end());
    }
  }
}

void RibbonPanel::draw_marks() {
  const float s = ui_scale();
  for (const RibbonMark& mark : ribbon_.marks) {
    if (!strip_.shows(mark.from_m, mark.to_m)) {
      continue;
    }
    const float y = strip_.marks() + mark_row * s / 2;
    if (mark.severity >= 0) {
      draw_mark(list(), {strip_.x(mark.from_m), y}, 6.5F * s, verdict_of_severity(mark.severity));
      note_box(fmt::format("ribbon/finding/{}", mark.number), "mark", mark.words,
               {strip_.x(mark.from_m) - 7 * s, y - 7 * s},
               {strip_.x(mark.from_m) + 7 * s, y + 7 * s});
    } else {
      const ImVec2 low{strip_.x(mark.from_m), y - 5 * s};
      const ImVec2 high{std::max(low.x + 3 * s, strip_.x(mark.to_m)), y + 5 * s};
      list().AddRectFilled(low, high, packed({0.80F, 0.78F, 0.74F}), 1.5F * s);
      hatch_box(list(), low, high, packed(draw::faint_ink), true);
      list().AddRect(low, high, packed(draw::ink), 1.5F * s, 0, 1.0F * s);
      note_box("ribbon/obstacle/" + mark.words, "mark", mark.words, low, high);
    }
  }
}

void RibbonPanel::draw_slots() {
  const float s = ui_scale();
  const auto band = [&](float from, float to, glm::vec3 colour, float alpha) {
    const ImVec2 low{from, strip_.slots() + 2 * s};
    const ImVec2 high{to, strip_.pieces() - 2 * s};
    list().AddRectFilled(low, high, packed(colour, alpha), 2 * s);
    for (const float x : {from, to}) {
      list().AddRectFilled({x - 2 * s, low.y - 2 * s}, {x + 2 * s, high.y + 2 * s},
                           packed(draw::ink), 1 * s);
    }
  };
  for (const RibbonSlot& slot : ribbon_.slots) {
    if (!strip_.shows(slot.from_m, slot.to_m)) {
      continue;
    }
    const float from = strip_.x(slot.from_m);
    const float to = strip_.x(slot.to_m);
    band(from, to, a_.vents.slots[slot.slot].is_blocked ? draw::bad : draw::intake, 1.0F);
    if (slot.slot == view_.slot) {
      list().AddRect({from - 4 * s, strip_.slots() - 1 * s}, {to + 4 * s, strip_.pieces() + 1 * s},
                     packed(draw::selected), 3 * s, 0, 2.5F * s);
    }
    note_box("ribbon/slot/" + a_.vents.slots[slot.slot].id, "mark",
             slot.slot == view_.slot ? "selected" : "", {from, strip_.slots()},
             {to, strip_.pieces()});
  }
  if (view_.pull) {
    const double middle = (view_.pulled_from_m + view_.pulled_to_m) / 2;
    if (const auto eave = scene::eave_of(ribbon_, view_.pull->plane, middle)) {
      const RibbonEave& at = ribbon_.eaves[*eave];
      band(strip_.x(at.at(view_.pulled_from_m)), strip_.x(at.at(view_.pulled_to_m)), draw::selected,
           0.8F);
    }
  }
}

/// A factory end is a double line, a square cut a dashed one, a mitre a slanting one.
void RibbonPanel::cut_end(float x, takeoff::CutKind kind, bool is_left) {
  const float s = ui_scale();
  const float low = strip_.pieces() + 2 * s;
  const float high = strip_.pieces() + (piece_row - 3) * s;
  const float way = is_left ? 1.0F : -1.0F;
  const ImU32 ink = packed(draw::ink);
  if (kind == takeoff::CutKind::mitre) {
    list().AddLine({x, high}, {x + way * 6 * s, low}, ink, 1.6F * s);
  } else if (kind == takeoff::CutKind::square) {
    for (float y = low; y < high; y += 5 * s) {
      list().AddLine({x + way * 2 * s, y}, {x + way * 2 * s, std::min(high, y + 3 * s)},
                     packed(draw::exhaust), 2.0F * s);
    }
  } else {
    list().AddLine({x + way * 2 * s, low}, {x + way * 2 * s, high}, ink, 1.2F * s);
  }
}

void RibbonPanel::draw_pieces() {
  const float s = ui_scale();
  for (const RibbonPiece& piece : ribbon_.pieces) {
    if (!strip_.shows(piece.from_m, piece.to_m)) {
      continue;
    }
    const ImVec2 low{strip_.x(piece.from_m), strip_.pieces() + 2 * s};
    const ImVec2 high{strip_.x(piece.to_m), strip_.pieces() + (piece_row - 3) * s};
    list().AddRectFilled(low, high, packed({0.86F, 0.90F, 0.94F}));
    list().AddRect(low, high, packed(draw::faint_ink), 0.0F, 0, 1.0F);
    cut_end(low.x, piece.left, true);
    cut_end(high.x, piece.right, false);
    const takeoff::Piece& of = a_.takeoff.sections[piece.strip].pieces[piece.piece];
    const std::string words = length(of.length_m);
    ImFont* letters = font(Font::small_text);
    const float width = letters->CalcTextSizeA(letters->FontSize, 1e6F, 0.0F, words.c_str()).x;
    if (width + 10 * s < high.x - low.x) {
      list().AddText(letters, letters->FontSize, {(low.x + high.x - width) / 2, low.y},
                     packed(draw::ink), words.c_str());
    }
    note_box(fmt::format("ribbon/piece/{}/{}", a_.vents.slots[piece.slot].id, piece.piece), "mark",
             words, low, high);
  }
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

std::optional<std::pair<SlotId, Grip>> RibbonPanel::grip_at(const scene::RibbonHit& under,
                                                            double at) const {
  const float y = ImGui::GetIO().MouseClickedPos[0].y;
  if (!under.slot || y < strip_.slots() || y >= strip_.pieces()) {
    return std::nullopt;
  }
  const RibbonSlot& slot = ribbon_.slots[*under.slot];
  const double reach = grip_px * static_cast<double>(ui_scale()) / strip_.px_per_m;
  const double left = std::abs(at - slot.from_m);
  const double right = std::abs(at - slot.to_m);
  const Grip grip = std::min(left, right) > reach ? Grip::whole
                    : left <= right               ? Grip::left
                                                  : Grip::right;
  return std::pair{slot.slot, grip};
}

void RibbonPanel::press(const scene::RibbonHit& under, double at) {
  if (const auto grip = grip_at(under, at)) {
    if (const auto pull = scene::pull_of(a_, ribbon_, grip->first, grip->second)) {
      ask(PointRibbon{BayId(), grip->first, picked(ribbon_.slots[*under.slot].eave, at)});
      ask(PullRun{pull, pull->from_m, pull->to_m});
    }
  }
}

void RibbonPanel::drag() {
  const ImGuiIO& io = ImGui::GetIO();
  if (view_.pull) {
    const double by =
        static_cast<double>(io.MousePos.x - io.MouseClickedPos[0].x) / strip_.px_per_m;
    const bool is_moved = std::abs(io.MousePos.x - io.MouseClickedPos[0].x) > 1.0F;
    const double snap = snap_px * static_cast<double>(ui_scale()) / strip_.px_per_m;
    const auto [from, to] = scene::pulled(*view_.pull, is_moved ? by : 0.0, snap, step());
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
  const double notches = static_cast<double>(io.MouseWheel);
  if (io.KeyShift || io.MouseWheelH != 0.0F) {
    const double by = static_cast<double>(io.KeyShift ? io.MouseWheel : io.MouseWheelH);
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
  const scene::RibbonHit under = scene::hit(ribbon_, at, reach);
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
    if (view_.pulled_from_m != view_.pull->from_m || view_.pulled_to_m != view_.pull->to_m) {
      ask(PutRun{view_.pull->run, view_.pulled_from_m, view_.pulled_to_m, true});
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
  strip_.low = {at.x, at.y + head_row * s};
  strip_.high = {at.x + width, strip_.pieces() + piece_row * s};
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
  draw_eaves();
  draw_cells();
  draw_marks();
  draw_pieces();
  draw_slots();
  list().PopClipRect();
  mouse();
  follow_house();
}

/// What is pointed at, and where a pulled run would lie.
void mark_on_house(const Look& look, const scene::Viewport& viewport) {
  const RibbonView& view = look.state.ribbon;
  const Assessment& a = look.assessment;
  const Sketch sketch(look, viewport);
  sketch.bay(view.bay, draw::selected);
  if (!view.pull || !a.vents.slots.has(view.slot)) {
    sketch.slot(view.slot, draw::selected);
    return;
  }
  for (const BayId bay :
       scene::bays_over(a, view.pull->plane, view.pulled_from_m, view.pulled_to_m)) {
    sketch.bay(bay, draw::selected);
  }
  const vents::Slot& slot = a.vents.slots[view.slot];
  sketch.strip(view.pull->plane, {view.pulled_from_m, slot.lower_v_m()},
               {view.pulled_to_m, slot.lower_v_m() + slot.width_m}, draw::intake);
}

}  // namespace

void draw_ribbon(const Look& look, const scene::Viewport& viewport, bool is_picture,
                 Recorder& recorder, Intents& intents) {
  const RibbonView& view = look.state.ribbon;
  const auto height = static_cast<float>(ribbon_height(view));
  const float s = ui_scale();
  mark_on_house(look, viewport);
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

void apply(State& state, const RibbonIntent& intent) {
  RibbonView& view = state.ribbon;
  if (const auto* show = std::get_if<ShowRibbon>(&intent)) {
    view.is_shown = show->on;
  } else if (const auto* scroll = std::get_if<ScrollRibbon>(&intent)) {
    view.from_m = std::max(0.0, scroll->from_m);
    view.px_per_m = scroll->px_per_m;
  } else if (const auto* point = std::get_if<PointRibbon>(&intent)) {
    view.bay = point->bay;
    view.slot = point->slot;
    view.followed = point->selected;
    state.selected = point->selected;
    view.from_text.reset();
    view.to_text.reset();
    view.from_m = point->from_m.value_or(view.from_m);
  } else if (const auto* pull = std::get_if<PullRun>(&intent)) {
    view.pull = pull->pull;
    view.pulled_from_m = pull->from_m;
    view.pulled_to_m = pull->to_m;
  } else if (const auto* put = std::get_if<PutRun>(&intent)) {
    view.wants_run = *put;
  } else if (const auto* typed = std::get_if<TypeRun>(&intent)) {
    view.from_text = typed->from_text;
    view.to_text = typed->to_text;
  }
}

double ribbon_height(const RibbonView& view) {
  return static_cast<double>((view.is_shown ? shown_height : shut_height) * ui_scale());
}

Pointed pointed_at(const Assessment& a, const scene::Picked& picked) {
  Pointed pointed;
  PlaneId plane = picked.plane;
  if (a.surface.lines.has(picked.line)) {
    const surface::Line& line = a.surface.lines[picked.line];
    if (line.kind == surface::LineKind::eave) {
      plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    }
  }
  if (!a.surface.planes.has(plane)) {
    return pointed;
  }
  const glm::dvec2 uv = a.surface.planes[plane].frame.uv(picked.at);
  for (const SlotId id : a.vents.slots.ids()) {
    const vents::Slot& slot = a.vents.slots[id];
    const model::Product* product = a.product(slot.product);
    const double depth = product == nullptr ? 0.0 : product->depth_m;
    const double top =
        std::max(slot.lower_v_m() + slot.width_m, slot.drip_v_m + slot.vent_low_m + depth);
    const double low = std::min(slot.drip_v_m + slot.vent_low_m, slot.lower_v_m());
    if (slot.plane == plane && uv.x >= slot.start_m && uv.x <= slot.end_m && uv.y >= low &&
        uv.y <= top) {
      pointed.slot = id;
      return pointed;
    }
  }
  for (const BayId id : a.framing.bays.ids()) {
    const framing::Bay& bay = a.framing.bays[id];
    if (bay.plane == plane && polygon::contains(bay.outline, uv)) {
      pointed.bay = id;
      return pointed;
    }
  }
  return pointed;
}

std::optional<PutRun> typed_run(const scene::Pull& pull, const std::string& from,
                                const std::string& to, units::Style style) {
  const units::LengthUnit bare =
      style == units::Style::metric ? units::LengthUnit::m : units::LengthUnit::ft;
  const auto from_m = units::parse_length(from, bare);
  const auto to_m = units::parse_length(to, bare);
  if (!from_m || !to_m || *from_m < pull.low_m || *to_m > pull.high_m ||
      *to_m - *from_m < pull.least_m) {
    return std::nullopt;
  }
  return PutRun{pull.run, *from_m, *to_m, true};
}

}  // namespace ridgeward::panels
