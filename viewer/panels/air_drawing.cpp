// Streams, arrow heads, still bays and the wind over the house.
#include "airflow/words.hpp"

#include "draw/palette.hpp"
#include "panels/air_look.hpp"
#include "panels/air_pieces.hpp"
#include "panels/theme.hpp"
#include "scene/labels.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace ridgeward::panels {
namespace {

using scene::AirRole;

constexpr double head_apart_px = 30.0;
constexpr double least_apart_m = 0.3;
constexpr double stream_apart_px = 13.0;
constexpr double mark_apart_px = 20.0;
constexpr float far_side = 0.22F;  // what runs under a plane that is turned away
constexpr glm::vec3 halo{1.0F, 1.0F, 1.0F};

ImVec2 at(glm::dvec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

double length_of(const std::vector<ImVec2>& line) {
  double length_px = 0.0;
  for (std::size_t i = 1; i < line.size(); ++i) {
    length_px += std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
  }
  return length_px;
}

class AirPen {
 public:
  AirPen(const Look& look, const scene::Viewport& viewport)
      : look_(look), lens_{look.state.camera, viewport}, viewport_(viewport) {}

  void draw(Recorder& recorder) {
    for (const scene::StillBay& bay : look_.air->scene.still) {
      still(bay);
    }
    for (const scene::AirStream& stream : look_.air->scene.streams) {
      if (has_room(stream)) {
        line(stream);
      }
    }
    recorder.add({"air/streams", "state", std::to_string(drawn_), 0.0, 0.0, 0.0, 0.0});
    recorder.add(
        {"air/still", "state", std::to_string(look_.air->scene.still.size()), 0.0, 0.0, 0.0, 0.0});
    wind(recorder);
  }

 private:
  bool faces_eye(glm::dvec3 normal, glm::dvec3 point) const {
    return glm::dot(normal, look_.state.camera.eye() - point) > 0.0;
  }
  bool has_room(const scene::AirStream& stream);
  void line(const scene::AirStream& stream);
  void still(const scene::StillBay& bay);
  void wind(Recorder& recorder) const;
  [[nodiscard]] std::vector<ImVec2> pixels_of(const std::vector<glm::dvec3>& line) const;

  const Look& look_;
  scene::Lens lens_;
  scene::Viewport viewport_;
  ImDrawList& list_ = *ImGui::GetBackgroundDrawList();
  std::array<std::optional<glm::dvec2>, scene::air_role_count> last_{};
  std::optional<glm::dvec2> last_mark_;
  int drawn_ = 0;
};

/// Where bays lie close on the picture some streams stand for their neighbours.
bool AirPen::has_room(const scene::AirStream& stream) {
  const auto pixel = lens_.pixel(stream.points.back());
  if (!pixel) {
    return false;
  }
  std::optional<glm::dvec2>& last = last_[static_cast<std::size_t>(stream.role)];
  const double apart = (stream.role == AirRole::drift ? 2.2 : 1.0) * stream_apart_px * ui_scale();
  if (last && glm::length(*last - *pixel) < apart) {
    return false;
  }
  last = *pixel;
  return true;
}

/// None where one of them lies behind the eye.
std::vector<ImVec2> AirPen::pixels_of(const std::vector<glm::dvec3>& line) const {
  std::vector<ImVec2> points;
  for (const glm::dvec3& point : line) {
    const auto pixel = lens_.pixel(point);
    if (!pixel) {
      return {};
    }
    points.push_back(at(*pixel));
  }
  return points;
}

void AirPen::line(const scene::AirStream& stream) {
  const std::vector<ImVec2> points = pixels_of(stream.points);
  if (points.empty()) {
    return;
  }
  ++drawn_;
  const bool is_near =
      glm::length(stream.normal) <= 0.0 || faces_eye(stream.normal, stream.points.front());
  const float alpha = is_near ? 1.0F : far_side;
  const float s = ui_scale();
  const AirLook look = air_look_of(stream.role);
  const float width = (look.width_px * (0.6F + 0.9F * static_cast<float>(stream.strength))) * s;
  if (look.is_dotted) {
    dotted_line(list_, points, packed(look.colour, 0.75F * alpha), width);
  } else {
    list_.AddPolyline(points.data(), static_cast<int>(points.size()),
                      packed(look.colour, look.alpha * alpha), ImDrawFlags_None, width);
  }
  const double apart_m = std::max(
      least_apart_m, stream.length_m * head_apart_px * s / std::max(1.0, length_of(points)));
  for (const scene::AirHead& head : scene::heads_of(stream, look_.air->clock_s, apart_m)) {
    const auto tip = lens_.pixel(head.at + 0.05 * head.way);
    const auto tail = lens_.pixel(head.at - 0.05 * head.way);
    if (!tip || !tail || glm::length(*tip - *tail) < 1e-6) {
      continue;
    }
    const float size = (3.2F + 4.3F * static_cast<float>(std::sqrt(stream.strength))) * s;
    const float fade = alpha * static_cast<float>(head.fade);
    draw_air_head(list_, {at(0.5 * (*tip + *tail)), at(glm::normalize(*tip - *tail)), size},
                  stream.role, fade);
  }
}

void AirPen::still(const scene::StillBay& bay) {
  if (!faces_eye(bay.normal, bay.mark)) {
    return;
  }
  const std::vector<ImVec2> points = pixels_of(bay.outline);
  if (points.empty()) {
    return;
  }
  hatch_still(list_, points, bay.why);
  const auto mark = lens_.pixel(bay.mark);
  if (mark && (!last_mark_ || glm::length(*mark - *last_mark_) > mark_apart_px * ui_scale())) {
    draw_still_mark(list_, at(*mark), 6.5F * ui_scale(), bay.why);
    last_mark_ = mark;
  }
}

/// On the ground beside the north arrow: whence it blows and how fast.
void AirPen::wind(Recorder& recorder) const {
  const model::AirCase& weather = look_.air->one.conditions;
  const float s = ui_scale();
  const glm::dvec2 middle(viewport_.x + 122.0 * s, viewport_.y + viewport_.height - 44.0 * s);
  const bool is_calm = weather.wind_ms <= 0.0;
  const std::string words =
      is_calm
          ? "no wind"
          : fmt::format("wind {} from {}", airflow::speed_words(weather.wind_ms, look_.state.style),
                        compass_word(weather.wind_from_deg));
  const glm::vec3 colour = draw::ink;
  if (is_calm) {
    list_.AddCircle(at(middle), 9.0F * s, packed(colour), 24, 1.8F * s);
  } else {
    const double angle = glm::radians(weather.wind_from_deg + look_.scene.north_deg);
    const glm::dvec3 way(-std::sin(angle), -std::cos(angle), 0.0);
    const scene::Axes axes = look_.state.camera.axes();
    const glm::dvec2 flat(glm::dot(axes.right, way), -glm::dot(axes.up, way));
    const glm::dvec2 tip = middle + 25.0 * s * flat;
    const glm::dvec2 tail = middle - 25.0 * s * flat;
    list_.AddLine(at(tail), at(tip), packed(halo, 0.8F), 8.0F * s);
    list_.AddLine(at(tail), at(tip), packed(colour), 4.0F * s);
    if (glm::length(flat) > 1e-3) {
      draw_air_head(list_, {at(tip), at(glm::normalize(flat)), 9.0F * s}, AirRole::drift, 1.0F);
    }
  }
  const auto left = static_cast<float>(middle.x) + 36.0F * s;
  const auto top = static_cast<float>(middle.y) - 8.0F * s;
  const ImVec2 size = ImGui::CalcTextSize(words.c_str());
  list_.AddRectFilled({left - 4 * s, top - 2 * s}, {left + size.x + 4 * s, top + size.y + 2 * s},
                      packed(halo, 0.85F), 3.0F * s);
  list_.AddText({left, top}, packed(colour), words.c_str());
  recorder.add({"air/wind-words", "text", words, left, top, size.x, size.y});
}

}  // namespace

void draw_air(const Look& look, const scene::Viewport& viewport, Recorder& recorder) {
  if (look.air == nullptr || look.scene.is_empty()) {
    return;
  }
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  list.PushClipRect({static_cast<float>(viewport.x), static_cast<float>(viewport.y)},
                    {static_cast<float>(viewport.x + viewport.width),
                     static_cast<float>(viewport.y + viewport.height)});
  AirPen(look, viewport).draw(recorder);
  list.PopClipRect();
}

}  // namespace ridgeward::panels
