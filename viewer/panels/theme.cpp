#include "panels/theme.hpp"

#include "draw/palette.hpp"

#include <glm/common.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <unistd.h>

namespace ridgeward::panels {
namespace {

constexpr const char* regular_path = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";
constexpr const char* bold_path = "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf";

// Latin, general punctuation, arrows, mathematical operators, geometric shapes.
constexpr std::array<ImWchar, 11> glyphs{0x20,   0xFF,   0x2010, 0x2030, 0x2190, 0x21FF,
                                         0x2200, 0x22FF, 0x25A0, 0x25FF, 0};

void add_font(const char* path, float size_px) {
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  if (access(path, R_OK) == 0 &&
      atlas.AddFontFromFileTTF(path, size_px, nullptr, glyphs.data()) != nullptr) {
    return;
  }
  ImFontConfig config;
  config.SizePixels = std::floor(size_px);
  atlas.AddFontDefault(&config);
}

ImVec4 rgba(glm::vec3 c, float alpha) { return {c.r, c.g, c.b, alpha}; }

void set_colours(ImGuiStyle& style) {
  if (draw::is_dark()) {
    ImGui::StyleColorsDark(&style);
  } else {
    ImGui::StyleColorsLight(&style);
  }
  auto set = [&](ImGuiCol which, glm::vec3 colour, float alpha) {
    style.Colors[which] = rgba(colour, alpha);
  };
  set(ImGuiCol_Text, draw::ink, 1.0F);
  set(ImGuiCol_TextDisabled, draw::faint_ink, 1.0F);
  set(ImGuiCol_WindowBg, draw::card, 0.96F);
  set(ImGuiCol_PopupBg, draw::card, 0.98F);
  set(ImGuiCol_Border, draw::inks().frame, 1.0F);
  // From the card towards the blue of intake, the more the more is asked of it.
  const auto tinted = [](float share) {
    const glm::vec3 grey = glm::mix(draw::card, draw::ink, 0.09F);
    return glm::mix(grey, draw::intake, share);
  };
  set(ImGuiCol_FrameBg, tinted(0.0F), 1.0F);
  set(ImGuiCol_FrameBgHovered, tinted(0.12F), 1.0F);
  set(ImGuiCol_FrameBgActive, tinted(0.2F), 1.0F);
  set(ImGuiCol_CheckMark, draw::intake, 1.0F);
  set(ImGuiCol_SliderGrab, draw::intake, 0.8F);
  set(ImGuiCol_SliderGrabActive, draw::intake, 1.0F);
  set(ImGuiCol_Button, tinted(0.04F), 1.0F);
  set(ImGuiCol_ButtonHovered, tinted(0.16F), 1.0F);
  set(ImGuiCol_ButtonActive, tinted(0.28F), 1.0F);
  set(ImGuiCol_Header, tinted(0.04F), 1.0F);
  set(ImGuiCol_HeaderHovered, tinted(0.12F), 1.0F);
  set(ImGuiCol_HeaderActive, tinted(0.2F), 1.0F);
  set(ImGuiCol_Separator, draw::inks().track, 1.0F);
}

float& held_scale() {
  static float scale = 1.0F;
  return scale;
}

}  // namespace

void set_theme(double scale, bool is_dark) {
  const auto s = static_cast<float>(scale);
  draw::set_dark(is_dark);
  held_scale() = s;
  ImGui::GetIO().Fonts->Clear();
  add_font(regular_path, 14.0F * s);
  add_font(bold_path, 14.0F * s);
  add_font(bold_path, 21.0F * s);
  add_font(regular_path, 12.0F * s);
  add_font(regular_path, 17.0F * s);
  ImGuiStyle style;
  set_colours(style);
  style.WindowRounding = 6.0F;
  style.FrameRounding = 4.0F;
  style.WindowPadding = {12.0F, 10.0F};
  style.ItemSpacing = {8.0F, 5.0F};
  style.FramePadding = {7.0F, 3.0F};
  style.WindowBorderSize = 1.0F;
  style.ScrollbarSize = 11.0F;
  style.ScaleAllSizes(s);
  ImGui::GetStyle() = style;
}

ImFont* font(Font which) { return ImGui::GetIO().Fonts->Fonts[static_cast<int>(which)]; }

float ui_scale() { return held_scale(); }

double fitting_scale(double asked, int width_px, int height_px) {
  constexpr double least_width = 900.0;  // at scale 1
  constexpr double least_height = 500.0;
  const double fits = std::min(width_px / least_width, height_px / least_height);
  return std::min(asked, std::max(1.0, std::floor(fits * 20.0) / 20.0));
}

std::string elided(const std::string& text, float room) {
  if (ImGui::CalcTextSize(text.c_str()).x <= room) {
    return text;
  }
  std::string shown = text;
  const auto goes_on = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; };
  while (!shown.empty() && ImGui::CalcTextSize((shown + "\u2026").c_str()).x > room) {
    while (goes_on(shown.back())) {  // no letter is cut in two
      shown.pop_back();
    }
    shown.pop_back();
  }
  return shown + "\u2026";
}

float panel_width() { return 296.0F * ui_scale(); }

ImU32 packed(glm::vec3 colour, float alpha) {
  return ImGui::ColorConvertFloat4ToU32(rgba(colour, alpha));
}

glm::vec3 colour_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::good:
      return draw::good;
    case Verdict::remark:
      return draw::intake;
    case Verdict::caution:
      return draw::caution;
    case Verdict::fault:
      return draw::bad;
  }
  return draw::bad;
}

glm::vec3 words_on(glm::vec3 ground) {
  // By relative luminance, nearly: what is lighter than a middle grey takes the darker of the two.
  const auto light = [](glm::vec3 c) {
    return 0.2126F * c.r * c.r + 0.7152F * c.g * c.g + 0.0722F * c.b * c.b;
  };
  const bool ink_is_darker = light(draw::ink) < light(draw::card);
  return (light(ground) > 0.18F) == ink_is_darker ? draw::ink : draw::card;
}

void draw_mark(ImDrawList& list, ImVec2 middle, float radius, Verdict verdict) {
  const ImU32 fill = packed(colour_of(verdict));
  const ImU32 white = packed(draw::card);
  const float r = radius;
  const float pen = std::max(1.5F, r * 0.26F);
  if (verdict == Verdict::good) {
    list.AddCircleFilled(middle, r, fill, 24);
    const std::array<ImVec2, 3> tick{ImVec2(middle.x - 0.45F * r, middle.y + 0.02F * r),
                                     ImVec2(middle.x - 0.1F * r, middle.y + 0.38F * r),
                                     ImVec2(middle.x + 0.48F * r, middle.y - 0.36F * r)};
    list.AddPolyline(tick.data(), 3, white, ImDrawFlags_None, pen);
    return;
  }
  if (verdict == Verdict::remark) {
    list.AddRectFilled({middle.x - 0.9F * r, middle.y - 0.9F * r},
                       {middle.x + 0.9F * r, middle.y + 0.9F * r}, fill, 0.3F * r);
    list.AddLine({middle.x, middle.y - 0.1F * r}, {middle.x, middle.y + 0.55F * r}, white, pen);
    list.AddCircleFilled({middle.x, middle.y - 0.5F * r}, pen * 0.6F, white, 8);
    return;
  }
  if (verdict == Verdict::caution) {
    list.AddTriangleFilled({middle.x, middle.y - 1.05F * r},
                           {middle.x + 1.1F * r, middle.y + 0.9F * r},
                           {middle.x - 1.1F * r, middle.y + 0.9F * r}, fill);
    list.AddLine({middle.x, middle.y - 0.45F * r}, {middle.x, middle.y + 0.3F * r}, white, pen);
    list.AddCircleFilled({middle.x, middle.y + 0.62F * r}, pen * 0.6F, white, 8);
    return;
  }
  list.AddNgonFilled(middle, r * 1.08F, fill, 8);
  list.AddLine({middle.x - 0.38F * r, middle.y - 0.38F * r},
               {middle.x + 0.38F * r, middle.y + 0.38F * r}, white, pen);
  list.AddLine({middle.x + 0.38F * r, middle.y - 0.38F * r},
               {middle.x - 0.38F * r, middle.y + 0.38F * r}, white, pen);
}

}  // namespace ridgeward::panels
