#include "panels/air_look.hpp"

#include "draw/palette.hpp"
#include "panels/theme.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::panels {
namespace {

using scene::AirRole;
using scene::StillWhy;

constexpr glm::vec3 white{1.0F, 1.0F, 1.0F};
constexpr float hatch_apart_px = 7.0F;

ImVec2 moved(const HeadPlace& place, float ahead, float aside) {
  return {place.middle.x + place.way.x * ahead - place.way.y * aside,
          place.middle.y + place.way.y * ahead + place.way.x * aside};
}

void full_head(ImDrawList& list, const HeadPlace& place, ImU32 colour, ImU32 rim) {
  const float r = place.size;
  const std::array<ImVec2, 4> points{moved(place, 1.15F * r, 0.0F), moved(place, -r, -0.8F * r),
                                     moved(place, -0.5F * r, 0.0F), moved(place, -r, 0.8F * r)};
  list.AddTriangleFilled(points[0], points[1], points[2], colour);
  list.AddTriangleFilled(points[0], points[2], points[3], colour);
  list.AddPolyline(points.data(), 4, rim, ImDrawFlags_Closed, 1.0F * ui_scale());
}

void chevron(ImDrawList& list, const HeadPlace& place, float ahead, ImU32 colour, float width) {
  const float r = place.size;
  const std::array<ImVec2, 3> points{moved(place, ahead - 0.6F * r, -0.85F * r),
                                     moved(place, ahead + 0.5F * r, 0.0F),
                                     moved(place, ahead - 0.6F * r, 0.85F * r)};
  list.AddPolyline(points.data(), 3, colour, ImDrawFlags_None, width);
}

/// Where a line of points with dot(across, p) = offset cuts an outline, sorted.
std::vector<float> cuts(const std::vector<ImVec2>& outline, ImVec2 across, float offset) {
  const ImVec2 along{-across.y, across.x};
  std::vector<float> found;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const ImVec2 a = outline[i];
    const ImVec2 b = outline[(i + 1) % outline.size()];
    const float da = across.x * a.x + across.y * a.y - offset;
    const float db = across.x * b.x + across.y * b.y - offset;
    if ((da <= 0.0F) != (db <= 0.0F)) {
      const float share = da / (da - db);
      const ImVec2 p{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
      found.push_back(along.x * p.x + along.y * p.y);
    }
  }
  std::sort(found.begin(), found.end());
  return found;
}

void hatch(ImDrawList& list, const std::vector<ImVec2>& outline, ImVec2 across, ImU32 colour) {
  float low = 1e9F;
  float high = -1e9F;
  for (const ImVec2& p : outline) {
    low = std::min(low, across.x * p.x + across.y * p.y);
    high = std::max(high, across.x * p.x + across.y * p.y);
  }
  const float apart = hatch_apart_px * ui_scale();
  const ImVec2 along{-across.y, across.x};
  const int first = static_cast<int>(std::ceil(low / apart));
  const int last = static_cast<int>(std::floor(high / apart));
  for (int i = first; i <= last; ++i) {
    const float offset = static_cast<float>(i) * apart;
    const std::vector<float> ends = cuts(outline, across, offset);
    for (std::size_t k = 0; k + 1 < ends.size(); k += 2) {
      list.AddLine(
          {across.x * offset + along.x * ends[k], across.y * offset + along.y * ends[k]},
          {across.x * offset + along.x * ends[k + 1], across.y * offset + along.y * ends[k + 1]},
          colour, 1.5F * ui_scale());
    }
  }
}

glm::vec3 colour_of(StillWhy why) {
  switch (why) {
    case StillWhy::blocked:
      return {0.62F, 0.06F, 0.16F};
    case StillWhy::dead:
      return {0.22F, 0.23F, 0.26F};
    case StillWhy::hardly:
      return {0.60F, 0.40F, 0.02F};
  }
  return draw::ink;
}

}  // namespace

AirLook air_look_of(AirRole role) {
  switch (role) {
    case AirRole::intake:
      return {draw::intake, 1.8F, 0.55F, false, "comes in through intake"};
    case AirRole::exhaust:
      return {draw::exhaust, 1.8F, 0.60F, false, "goes out through exhaust"};
    case AirRole::wrong_way:
      return {{0.66F, 0.04F, 0.26F}, 1.8F, 0.65F, false, "goes the wrong way"};
    case AirRole::rooms:
      return {{0.43F, 0.22F, 0.58F}, 2.2F, 0.80F, true, "comes up from the rooms"};
    case AirRole::bay:
      return {{0.00F, 0.43F, 0.42F}, 1.8F, 0.60F, false, "moves along a bay"};
    case AirRole::drift:
      return {{0.33F, 0.37F, 0.42F}, 1.0F, 0.35F, false, "drifts and mixes in the attic"};
  }
  return {};
}

const char* words_of(StillWhy why) {
  switch (why) {
    case StillWhy::blocked:
      return "bay shut off: blocking, insulation";
    case StillWhy::dead:
      return "bay leads to no exhaust";
    case StillWhy::hardly:
      return "open, but hardly any air";
  }
  return "";
}

void draw_air_head(ImDrawList& list, const HeadPlace& place, AirRole role, float fade) {
  const ImU32 colour = packed(air_look_of(role).colour, fade);
  const ImU32 rim = packed(white, 0.8F * fade);
  const float s = ui_scale();
  const float r = place.size;
  switch (role) {
    case AirRole::wrong_way:
      for (const float ahead : {-0.55F * r, 0.55F * r}) {
        chevron(list, place, ahead, rim, 4.2F * s);
      }
      for (const float ahead : {-0.55F * r, 0.55F * r}) {
        chevron(list, place, ahead, colour, 2.2F * s);
      }
      return;
    case AirRole::rooms: {
      const ImVec2 front = moved(place, 1.2F * r, 0.0F);
      const ImVec2 left = moved(place, 0.0F, 0.75F * r);
      const ImVec2 right = moved(place, 0.0F, -0.75F * r);
      const ImVec2 back = moved(place, -0.8F * r, 0.0F);
      list.AddQuadFilled(front, left, back, right, colour);
      list.AddQuad(front, left, back, right, rim, 1.0F * s);
      return;
    }
    case AirRole::drift:
      chevron(list, place, 0.0F, colour, 1.6F * s);
      return;
    default:
      full_head(list, place, colour, rim);
  }
}

void dotted_line(ImDrawList& list, const std::vector<ImVec2>& points, ImU32 colour, float width) {
  const float apart = 3.0F * width;
  float left = 0.0F;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const ImVec2 a = points[i - 1];
    const ImVec2 b = points[i];
    const float length = std::hypot(b.x - a.x, b.y - a.y);
    const int dots = left < length ? static_cast<int>(std::ceil((length - left) / apart)) : 0;
    for (int dot = 0; dot < dots; ++dot) {
      const float share = (left + static_cast<float>(dot) * apart) / length;
      list.AddCircleFilled({a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)}, 0.6F * width,
                           colour, 8);
    }
    left += static_cast<float>(dots) * apart - length;
  }
}

void hatch_still(ImDrawList& list, const std::vector<ImVec2>& outline, StillWhy why) {
  const ImU32 colour = packed(colour_of(why), 0.75F);
  constexpr float half = 0.70710678F;
  if (why == StillWhy::blocked) {
    hatch(list, outline, {0.0F, 1.0F}, colour);
  } else {
    hatch(list, outline, {half, half}, colour);
    if (why == StillWhy::dead) {
      hatch(list, outline, {half, -half}, colour);
    }
  }
  list.AddPolyline(outline.data(), static_cast<int>(outline.size()), colour, ImDrawFlags_Closed,
                   1.2F * ui_scale());
}

void draw_still_mark(ImDrawList& list, ImVec2 middle, float radius, StillWhy why) {
  const ImU32 colour = packed(colour_of(why));
  const ImU32 paper = packed(white);
  const float r = radius;
  const float pen = 0.34F * r;
  switch (why) {
    case StillWhy::blocked:
      list.AddRectFilled({middle.x - r, middle.y - r}, {middle.x + r, middle.y + r}, colour);
      list.AddRectFilled({middle.x - 0.7F * r, middle.y - pen},
                         {middle.x + 0.7F * r, middle.y + pen}, paper);
      return;
    case StillWhy::dead:
      list.AddCircleFilled(middle, r, colour, 20);
      list.AddLine({middle.x - 0.5F * r, middle.y - 0.5F * r},
                   {middle.x + 0.5F * r, middle.y + 0.5F * r}, paper, pen);
      list.AddLine({middle.x - 0.5F * r, middle.y + 0.5F * r},
                   {middle.x + 0.5F * r, middle.y - 0.5F * r}, paper, pen);
      return;
    case StillWhy::hardly:
      list.AddCircleFilled(middle, r, paper, 20);
      list.AddCircle(middle, r - 0.5F * pen, colour, 20, pen);
      return;
  }
}

}  // namespace ridgeward::panels
