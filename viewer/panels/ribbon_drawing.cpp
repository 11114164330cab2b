#include "draw/palette.hpp"
#include "panels/ribbon_panel.hpp"

#include <fmt/format.h>
#include <glm/common.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace ridgeward::panels {

using scene::CellState;
using scene::RibbonCell;
using scene::RibbonEave;
using scene::RibbonMark;
using scene::RibbonPiece;
using scene::RibbonSlot;

namespace {

constexpr float mark_room = 15.0F;      // from mark to mark
constexpr float least_bordered = 4.5F;  // narrower cells would be all border

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

}  // namespace

const char* word(CellState state) {
  constexpr std::array<const char*, 5> words{"live, fed", "live, no slot", "dead",
                                             "dead under a slot", "no bay"};
  return words[static_cast<std::size_t>(state)];
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
    const float clear = 4 * s;  // off the border lines
    const float room = high.x - low.x - 2 * clear;
    words = width(words) <= room ? words : width(name) <= room ? name : "";
    list().AddText(letters, letters->FontSize,
                   {std::clamp(low.x + clear, strip_.low.x + clear,
                               std::max(strip_.low.x + clear, high.x - clear - width(words))),
                    low.y + 1 * s},
                   packed(draw::ink), words.c_str());
    list().AddLine({low.x, low.y}, {low.x, strip_.high.y}, packed(draw::faint_ink), 1.0F * s);
    list().AddLine({high.x, low.y}, {high.x, strip_.high.y}, packed(draw::faint_ink), 1.0F * s);
    note_box("ribbon/eave/" + a_.surface.lines[eave.line].id, "mark", length(eave.length_m), low,
             high);
  }
}

void RibbonPanel::draw_cell(const RibbonCell& cell, bool is_lit) {
  const float s = ui_scale();
  const ImVec2 low{strip_.x(cell.clear_from_m), strip_.cells() + 1 * s};
  const ImVec2 high{std::max(low.x + 1.0F, strip_.x(cell.clear_to_m)), strip_.slots() - 1 * s};
  if (cell.bay.is_none()) {
    list().AddRectFilled({low.x, high.y - 4 * s}, high,
                         packed(glm::mix(draw::card, draw::faint_ink, 0.6F)));
    return;
  }
  const draw::FaceLook look = look_of(cell.state);
  list().AddRectFilled(low, high, packed(glm::mix(draw::card, draw::faint_ink, 0.10F)));
  list().AddRectFilled(low, high,
                       packed(look.colour, cell.state == CellState::fed ? 0.55F : 0.30F));
  if (look.hatch != draw::Hatch::none) {
    hatch_box(list(), low, high, packed(look.hatch_colour), look.hatch == draw::Hatch::cross);
  }
  const ImU32 border = packed(draw::faint_ink, 0.8F);
  if (high.x - low.x >= least_bordered * s) {
    list().AddRect(low, high, border, 0.0F, 0, 1.0F);
  } else {
    list().AddLine({low.x, low.y}, {high.x, low.y}, border, 1.0F);
    list().AddLine({low.x, high.y}, {high.x, high.y}, border, 1.0F);
  }
  if (is_lit) {
    list().AddRectFilled(low, high, packed(draw::selected, 0.45F));
  }
  if (cell.bay == pointed_.bay) {
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

std::vector<double> spread(std::vector<double> places, double least) {
  std::vector<std::size_t> order(places.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return places[a] < places[b]; });
  for (std::size_t i = 1; i < order.size(); ++i) {
    places[order[i]] = std::max(places[order[i]], places[order[i - 1]] + least);
  }
  return places;
}

void RibbonPanel::place_marks() {
  std::vector<double> places;
  for (std::size_t i = 0; i < ribbon_.marks.size(); ++i) {
    if (ribbon_.marks[i].severity >= 0) {
      places.push_back(strip_.x(ribbon_.marks[i].from_m));
      findings_.push_back({i, 0.0F});
    }
  }
  places = spread(std::move(places), mark_room * ui_scale());
  for (std::size_t i = 0; i < findings_.size(); ++i) {
    findings_[i].x = static_cast<float>(places[i]);
  }
}

void RibbonPanel::draw_marks() {
  const float s = ui_scale();
  for (const Finding& finding : findings_) {
    const RibbonMark& mark = ribbon_.marks[finding.mark];
    const float y = strip_.marks() + Strip::mark_row * s / 2;
    draw_mark(list(), {finding.x, y}, 6.5F * s, verdict_of_severity(mark.severity));
    note_box(fmt::format("ribbon/finding/{}", mark.number), "mark", mark.words,
             {finding.x - 7 * s, y - 7 * s}, {finding.x + 7 * s, y + 7 * s});
  }
  for (const RibbonMark& mark : ribbon_.marks) {
    if (mark.severity >= 0 || !strip_.shows(mark.from_m, mark.to_m)) {
      continue;
    }
    const float y = strip_.marks() + Strip::mark_row * s / 2;
    const ImVec2 low{strip_.x(mark.from_m), y - 5 * s};
    const ImVec2 high{std::max(low.x + 3 * s, strip_.x(mark.to_m)), y + 5 * s};
    list().AddRectFilled(low, high, packed(glm::mix(draw::card, draw::faint_ink, 0.3F)), 1.5F * s);
    hatch_box(list(), low, high, packed(draw::faint_ink), true);
    list().AddRect(low, high, packed(draw::ink), 1.5F * s, 0, 1.0F * s);
    note_box("ribbon/obstacle/" + mark.words, "mark", mark.words, low, high);
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
    if (slot.slot == pointed_.slot) {
      list().AddRect({from - 4 * s, strip_.slots() - 1 * s}, {to + 4 * s, strip_.pieces() + 1 * s},
                     packed(draw::selected), 3 * s, 0, 2.5F * s);
    }
    note_box("ribbon/slot/" + a_.vents.slots[slot.slot].id, "mark",
             slot.slot == pointed_.slot ? "selected" : "", {from, strip_.slots()},
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
  const float high = strip_.pieces() + (Strip::piece_row - 3) * s;
  const float way = is_left ? 1.0F : -1.0F;
  const ImU32 ink = packed(draw::ink);
  if (kind == takeoff::CutKind::mitre) {
    list().AddLine({x, high}, {x + way * 6 * s, low}, ink, 1.6F * s);
  } else if (kind == takeoff::CutKind::square) {
    const int dashes = static_cast<int>(std::ceil((high - low) / (5 * s)));
    for (int i = 0; i < dashes; ++i) {
      const float y = low + static_cast<float>(i) * 5 * s;
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
    const ImVec2 high{strip_.x(piece.to_m), strip_.pieces() + (Strip::piece_row - 3) * s};
    list().AddRectFilled(low, high, packed(glm::mix(draw::card, draw::intake, 0.16F)));
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

}  // namespace ridgeward::panels
