#include "draw/palette.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace ridgeward::panels {
namespace {

using scene::FaceRole;
using scene::Layer;
using scene::StrokeRole;

struct Swatch {
  ImVec2 low;
  ImVec2 high;
  float middle() const { return (low.y + high.y) / 2; }
};

constexpr float usual_width = 34.0F;
constexpr float narrow_width = 22.0F;  // where two columns have little room
constexpr float usual_gap = 10.0F;     // from a swatch to its words
constexpr float narrow_gap = 6.0F;
constexpr float narrow_panel = 240.0F;  // at scale 1

Swatch swatch(float wide = usual_width) {
  const float s = ui_scale();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float line = ImGui::GetTextLineHeight();
  return {{at.x, at.y + 1.5F * s}, {at.x + wide * s, at.y + line - 1.5F * s}};
}

void words_beside(const char* words, float wide = usual_width) {
  const float gap = wide < usual_width ? narrow_gap : usual_gap;
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() + (wide + gap) * ui_scale());
  ImGui::TextUnformatted(words);
}

void stroke_entry(StrokeRole role, float wide, Recorder& recorder) {
  const draw::StrokeLook look = draw::look_of(role);
  const float s = ui_scale();
  const Swatch box = swatch(wide);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImU32 colour = packed(look.colour);
  const float period = (look.dash_px.x + look.dash_px.y) * s;
  if (look.dash_px.y <= 0.0F) {
    list.AddLine({box.low.x, box.middle()}, {box.high.x, box.middle()}, colour, look.width_px * s);
  } else {
    const int dashes = static_cast<int>(std::ceil((box.high.x - box.low.x) / period));
    for (int i = 0; i < dashes; ++i) {
      const float x = box.low.x + static_cast<float>(i) * period;
      list.AddLine({x, box.middle()}, {std::min(box.high.x, x + look.dash_px.x * s), box.middle()},
                   colour, look.width_px * s);
    }
  }
  words_beside(look.words, wide);
  note(recorder, std::string("legend/") + look.words, "text", look.words);
}

/// What a translucent colour looks like on the roof.
glm::vec3 over_roof(glm::vec3 colour, float alpha) {
  return glm::vec3(draw::look_of(FaceRole::roof).colour) * 1.16F * (1.0F - alpha) +
         colour * 1.12F * alpha;
}

void face_entry(FaceRole role, const char* words, Recorder& recorder) {
  const draw::FaceLook look = draw::look_of(role);
  const Swatch box = swatch();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const glm::vec3 colour =
      role == FaceRole::slot ? look.colour : over_roof(look.colour, look.alpha);
  list.AddRectFilled(box.low, box.high, packed(glm::min(colour, glm::vec3(1.0F))), 2.0F);
  if (look.hatch != draw::Hatch::none) {
    hatch_box(list, box.low, box.high, packed(look.hatch_colour), look.hatch == draw::Hatch::cross);
  }
  list.AddRect(box.low, box.high, packed({0.6F, 0.62F, 0.64F}), 2.0F);
  words_beside(words);
  note(recorder, std::string("legend/") + words, "text", words);
}

bool has_stroke(const scene::Scene& scene, StrokeRole role) {
  return std::any_of(scene.strokes.begin(), scene.strokes.end(),
                     [role](const scene::Stroke& stroke) { return stroke.role == role; });
}

bool has_face(const scene::Scene& scene, FaceRole role) {
  return std::any_of(scene.faces.begin(), scene.faces.end(), [role](const scene::Face& face) {
    return face.role == role && !face.triangles.empty();
  });
}

void mark_entry(Verdict verdict, const char* words, Recorder& recorder) {
  const Swatch box = swatch();
  draw_mark(*ImGui::GetWindowDrawList(), {(box.low.x + box.high.x) / 2, box.middle()},
            6.5F * ui_scale(), verdict);
  words_beside(words);
  note(recorder, std::string("legend/") + words, "text", words);
}

/// A compartment's air by its colour and hatch, or the face of a cut.
void cap_entry(FaceRole role, std::size_t compartment, const std::string& words,
               Recorder& recorder) {
  const draw::CapLook look = draw::cap_look(role, compartment);
  const float s = ui_scale();
  const Swatch box = swatch();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(box.low, box.high, packed(look.colour), 2.0F);
  list.PushClipRect(box.low, box.high, true);
  const ImU32 ink = packed(look.hatch_colour);
  const float height = box.high.y - box.low.y;
  const float step = (look.hatch == draw::Hatch::dense ? 3.5F : 6.5F) * s;
  const int strokes = static_cast<int>((box.high.x - box.low.x + height) / step);
  for (int i = 0; i <= strokes; ++i) {
    const float x = box.low.x - height + static_cast<float>(i) * step;
    const float y = box.low.y + (x - box.low.x + height) * 0.6F;
    const bool rises = look.hatch == draw::Hatch::rising || look.hatch == draw::Hatch::dense;
    if (rises || look.hatch == draw::Hatch::cross) {
      list.AddLine({x, box.high.y}, {x + height, box.low.y}, ink, 1.3F * s);
    }
    if (look.hatch == draw::Hatch::diagonal || look.hatch == draw::Hatch::cross) {
      list.AddLine({x, box.low.y}, {x + height, box.high.y}, ink, 1.3F * s);
    }
    if (look.hatch == draw::Hatch::upright) {
      list.AddLine({x + height, box.low.y}, {x + height, box.high.y}, ink, 1.3F * s);
    }
    if (look.hatch == draw::Hatch::level) {
      list.AddLine({box.low.x, y}, {box.high.x, y}, ink, 1.3F * s);
    }
    if (look.hatch == draw::Hatch::dots) {
      list.AddCircleFilled({x + height, box.middle()}, 1.6F * s, ink, 8);
    }
    if (look.hatch == draw::Hatch::wool) {
      const float up = box.low.y + 2 * s;
      const float down = box.high.y - 2 * s;
      list.AddLine({x, down}, {x + step / 2, up}, ink, 1.3F * s);
      list.AddLine({x + step / 2, up}, {x + step, down}, ink, 1.3F * s);
    }
  }
  list.PopClipRect();
  list.AddRect(box.low, box.high, packed({0.6F, 0.62F, 0.64F}), 2.0F);
  words_beside(words.c_str());
  note(recorder, "legend/" + words, "text", words);
}

struct FaceWords {
  FaceRole role;
  Layer layer;
  const char* words;
};

constexpr std::array<FaceWords, 7> face_words{{
    {FaceRole::slot, Layer::slots, "slot cut in the deck"},
    {FaceRole::intake_vent, Layer::slots, "intake vent over it"},
    {FaceRole::exhaust_vent, Layer::exhaust, "exhaust vent"},
    {FaceRole::bay_fed, Layer::bays, "bay with intake, live"},
    {FaceRole::bay_idle, Layer::bays, "live bay, no slot"},
    {FaceRole::bay_dead, Layer::bays, "dead bay: leads nowhere"},
    {FaceRole::bay_wasted, Layer::bays, "dead bay under a slot"},
}};

/// What of the drawing needs words.
struct Shown {
  std::vector<StrokeRole> strokes;
  std::vector<FaceWords> faces;
  std::vector<int> severities;  ///< the worst first
  struct Cap {
    FaceRole role;
    std::size_t compartment;
    std::string words;
  };
  std::vector<Cap> caps;  ///< bodies that are drawn or cut
};

/// As many compartments as are told apart.
constexpr std::size_t most_compartments = 5;

void add_caps(const Look& look, Shown& all) {
  const scene::Layers& layers = look.state.layers;
  const bool is_cut = look.state.sight.cut.way != scene::CutWay::none;
  if (layers.has(Layer::insulation) && has_face(look.scene, FaceRole::insulation)) {
    all.caps.push_back({FaceRole::insulation, 0, "insulation"});
  }
  if (is_cut && layers.has(Layer::walls)) {
    all.caps.push_back({FaceRole::wall_core, 0, "wall, cut"});
  }
  if (is_cut && layers.has(Layer::members)) {
    all.caps.push_back({FaceRole::timber, 0, "timber, cut"});
  }
  if (layers.has(Layer::air)) {
    const auto& compartments = look.assessment.attic.compartments;
    for (std::size_t i = 0; i < std::min(most_compartments, compartments.size()); ++i) {
      all.caps.push_back({FaceRole::air, i, "air of " + compartments[CompartmentId(i)].id});
    }
  }
}

Shown shown(const Look& look) {
  const scene::Layers& layers = look.state.layers;
  Shown all;
  for (const StrokeRole role :
       {StrokeRole::eave, StrokeRole::rake, StrokeRole::ridge, StrokeRole::hip, StrokeRole::valley,
        StrokeRole::pitch_break, StrokeRole::shed_top, StrokeRole::wall_line, StrokeRole::member}) {
    const Layer layer = role == StrokeRole::member ? Layer::members : Layer::lines;
    if (layers.has(layer) && has_stroke(look.scene, role)) {
      all.strokes.push_back(role);
    }
  }
  for (const FaceWords& entry : face_words) {
    if (layers.has(entry.layer) && has_face(look.scene, entry.role)) {
      all.faces.push_back(entry);
    }
  }
  for (int severity = 2; severity >= 0 && layers.has(Layer::findings); --severity) {
    if (std::any_of(look.scene.markers.begin(), look.scene.markers.end(),
                    [severity](const scene::Marker& m) { return m.severity == severity; })) {
      all.severities.push_back(severity);
    }
  }
  add_caps(look, all);
  return all;
}

constexpr float row_gap = 3.0F;

/// How the lines' entries stand: their words are short, so in two columns where those have room.
struct LineColumns {
  bool is_narrow = false;
  std::size_t count = 1;
  float second = 0.0F;  ///< where the second column starts
};

LineColumns line_columns(const Shown& all, float room) {
  LineColumns columns;
  columns.is_narrow = room < narrow_panel * ui_scale();
  const float swatch = columns.is_narrow ? narrow_width + narrow_gap : usual_width + usual_gap;
  std::array<float, 2> wide{0.0F, 0.0F};
  for (std::size_t i = 0; i < all.strokes.size(); ++i) {
    wide[i % 2] =
        std::max(wide[i % 2],
                 swatch * ui_scale() + ImGui::CalcTextSize(draw::look_of(all.strokes[i]).words).x);
  }
  columns.second =
      std::max(room * (columns.is_narrow ? 0.47F : 0.5F), wide[0] + narrow_gap * ui_scale());
  columns.count = columns.second + wide[1] <= room ? 2 : 1;
  return columns;
}

}  // namespace

void hatch_box(ImDrawList& list, ImVec2 low, ImVec2 high, ImU32 colour, bool both) {
  const float s = ui_scale();
  const float height = high.y - low.y;
  list.PushClipRect(low, high, true);
  const int stripes = static_cast<int>((high.x - low.x + 2 * height) / (7 * s));
  for (int i = 0; i <= stripes; ++i) {
    const float x = low.x - height + static_cast<float>(i) * 7 * s;
    list.AddLine({x, high.y}, {x + height, low.y}, colour, 1.4F * s);
    if (both) {
      list.AddLine({x, low.y}, {x + height, high.y}, colour, 1.4F * s);
    }
  }
  list.PopClipRect();
}

float legend_height(const Look& look) {
  const Shown all = shown(look);
  const float room = panel_width() - 2 * ImGui::GetStyle().WindowPadding.x;
  const std::size_t count = line_columns(all, room).count;
  const std::size_t rows = (all.strokes.size() + count - 1) / count + all.faces.size() +
                           all.severities.size() + all.caps.size();
  return static_cast<float>(rows) * (font(Font::text)->FontSize + row_gap * ui_scale()) +
         2 * ImGui::GetStyle().WindowPadding.y;
}

void legend_body(const Look& look, Recorder& recorder) {
  const Shown all = shown(look);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {8 * ui_scale(), row_gap * ui_scale()});
  const LineColumns columns = line_columns(all, ImGui::GetContentRegionAvail().x);
  const float second = ImGui::GetCursorPosX() + columns.second;
  for (std::size_t i = 0; i < all.strokes.size(); ++i) {
    if (i % columns.count == 1) {
      ImGui::SameLine(second);
    }
    stroke_entry(all.strokes[i], columns.is_narrow ? narrow_width : usual_width, recorder);
  }
  for (const FaceWords& entry : all.faces) {
    face_entry(entry.role, entry.words, recorder);
  }
  for (const Shown::Cap& cap : all.caps) {
    cap_entry(cap.role, cap.compartment, cap.words, recorder);
  }
  constexpr std::array<const char*, 3> severities{"note", "warning: look into it",
                                                  "fault: put it right"};
  for (const int severity : all.severities) {
    mark_entry(verdict_of_severity(severity), severities[static_cast<std::size_t>(severity)],
               recorder);
  }
  ImGui::PopStyleVar();
}

}  // namespace ridgeward::panels
