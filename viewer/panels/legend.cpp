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

Swatch swatch() {
  const float s = ui_scale();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float line = ImGui::GetTextLineHeight();
  return {{at.x, at.y + 1.5F * s}, {at.x + 34 * s, at.y + line - 1.5F * s}};
}

void words_beside(const char* words) {
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 44 * ui_scale());
  ImGui::TextUnformatted(words);
}

void stroke_entry(StrokeRole role, Recorder& recorder) {
  const draw::StrokeLook look = draw::look_of(role);
  const float s = ui_scale();
  const Swatch box = swatch();
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
  words_beside(look.words);
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
};

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
  return all;
}

constexpr float row_gap = 3.0F;

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
  const std::size_t rows = (all.strokes.size() + 1) / 2 + all.faces.size() + all.severities.size();
  return static_cast<float>(rows) * (font(Font::text)->FontSize + row_gap * ui_scale()) +
         2 * ImGui::GetStyle().WindowPadding.y;
}

void legend_body(const Look& look, Recorder& recorder) {
  const Shown all = shown(look);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {8 * ui_scale(), row_gap * ui_scale()});
  // Lines in two columns: their words are short.
  const float second = ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x / 2;
  for (std::size_t i = 0; i < all.strokes.size(); ++i) {
    if (i % 2 == 1) {
      ImGui::SameLine(second);
    }
    stroke_entry(all.strokes[i], recorder);
  }
  for (const FaceWords& entry : all.faces) {
    face_entry(entry.role, entry.words, recorder);
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
