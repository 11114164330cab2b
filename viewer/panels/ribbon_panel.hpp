#pragma once
// The ribbon's panel: ribbon_panel.cpp has its head and what the mouse does, ribbon_drawing.cpp
// what is drawn. Private to the folder.

#include "units/length.hpp"

#include "panels/pieces.hpp"
#include "panels/theme.hpp"
#include "scene/ribbon.hpp"

#include <string>
#include <utility>
#include <vector>

namespace ridgeward::panels {

/// Where things of the ribbon lie on the screen.
struct Strip {
  static constexpr float head_row = 28.0F;
  static constexpr float name_row = 18.0F;
  static constexpr float mark_row = 17.0F;
  static constexpr float cell_row = 32.0F;
  static constexpr float slot_row = 15.0F;
  static constexpr float piece_row = 19.0F;

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

/// "live, fed", ...
const char* word(scene::CellState state);

/// Places moved on as little as keeps each at least `least` from the one before, in their order.
std::vector<double> spread(std::vector<double> places, double least);

/// One frame of it.
class RibbonPanel {
 public:
  RibbonPanel(const Look& look, bool is_picture, Recorder& recorder, Intents& intents)
      : look_(look),
        is_picture_(is_picture),
        view_(look.state.ribbon),
        a_(look.assessment),
        pointed_(pointed_now(look.state, look.assessment)),
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
  void draw_cell(const scene::RibbonCell& cell, bool is_lit);
  void place_marks();
  void draw_marks();
  void draw_slots();
  void draw_pieces();
  void cut_end(float x, takeoff::CutKind kind, bool is_left);
  void mouse();
  void wheel();
  void press(const scene::RibbonHit& under, double at);
  void click(const scene::RibbonHit& under, double at);
  void drag();
  /// From and to of the run that is pulled, by where the mouse is. REQUIRES that one is.
  std::pair<double, double> pulled_now() const;
  void tell(const scene::RibbonHit& under);
  /// Index into the ribbon's slots.
  std::optional<std::pair<std::size_t, scene::Grip>> grip_at(const scene::RibbonHit& under,
                                                             double at) const;
  void note_box(const std::string& id, const char* kind, const std::string& words, ImVec2 low,
                ImVec2 high);
  scene::Picked picked(std::size_t eave, double at) const;
  float mouse_y() const { return ImGui::GetIO().MousePos.y; }
  double step() const;

  const Look& look_;
  bool is_picture_;  ///< nothing to press
  const RibbonView& view_;
  const Assessment& a_;
  Pointed pointed_;
  scene::Ribbon ribbon_;
  Recorder& recorder_;
  Intents& intents_;
  Strip strip_;
  /// The mark of a finding, beside its place where another one stands there.
  struct Finding {
    std::size_t mark = 0;  ///< index into the ribbon's marks
    float x = 0.0F;
  };
  std::vector<Finding> findings_;
};

}  // namespace ridgeward::panels
