#include "exports/exporter.hpp"
#include "papers/cairo.hpp"
#include "papers/plan_drawing.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <utility>

namespace ridgeward::exports {

namespace {

/// For text between tags; what no XML 1.0 file may hold is left out.
std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else if (c == '>') {
      out += "&gt;";
    } else if (static_cast<unsigned char>(c) >= 0x20U) {
      out += c;
    }
  }
  return out;
}

/// The letters of a drawing are outlines. The same words over them, unseen and as wide, can be
/// searched, copied and read aloud.
std::string words_of(const papers::Page& page) {
  std::string out =
      "<g fill=\"#000\" fill-opacity=\"0\" font-family=\"DejaVu Sans, sans-serif\">\n";
  for (const papers::Text& text : page.texts) {
    const double width = papers::text_width_mm(text.text, text.size_mm, text.is_bold);
    if (!(width > 0.0)) {
      continue;
    }
    const double left = text.align == papers::Align::left     ? 0.0
                        : text.align == papers::Align::middle ? -width / 2
                                                              : -width;
    const std::string turned = std::abs(text.turned_rad) < 1e-9
                                   ? std::string()
                                   : fmt::format(" rotate({:.3f})", text.turned_rad * 180.0 / M_PI);
    out += fmt::format(
        "<text transform=\"translate({:.3f} {:.3f}){}\" x=\"{:.3f}\" font-size=\"{:.2f}\"{} "
        "textLength=\"{:.3f}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>\n",
        text.at.x, text.at.y, turned, left, text.size_mm,
        text.is_bold ? " font-weight=\"bold\"" : "", width, escaped(text.text));
  }
  return out + "</g>\n";
}

/// With the house's name, what it shows, and its words as text.
std::string told(std::string svg, const papers::Drawing& drawing) {
  const std::string name = drawing.title.empty() ? "Unnamed roof" : drawing.title;
  if (const std::size_t end = svg.rfind("</svg>"); end != std::string::npos) {
    svg.insert(end, words_of(drawing.pages[0]));
  }
  if (const std::size_t open = svg.find("<svg"); open != std::string::npos) {
    svg.insert(svg.find('>', open) + 1,
               "\n<title>" + escaped(name) + ": the roof in plan</title>\n" +
                   "<desc>The roof in plan, true to scale, with its planes, lines and vents; "
                   "one unit is a millimetre of paper.</desc>");
  }
  return svg;
}

/// The plan at the largest usual scale that fits an A4 sheet laid flat, the key below it.
Result<std::string> write_svg(const Assessment& assessment, const Content& content,
                              const Tell& /*tell*/) {
  static_cast<void>(content);
  const bool in_feet = assessment.model.unit == units::LengthUnit::ft ||
                       assessment.model.unit == units::LengthUnit::in;
  const units::Style style = in_feet ? units::Style::feet_inches : units::Style::metric;
  papers::Drawing drawing;
  drawing.title = assessment.model.name;
  drawing.pages.emplace_back();
  const papers::Frame whole{{5.0, 5.0}, {297.0, 210.0}};
  drawing.size_mm = whole.size + glm::dvec2{10.0, 20.0};
  const double key =
      papers::draw_plan_key(assessment, {8.0, drawing.size_mm.y - 10.0}, 290.0, drawing.pages[0]);
  drawing.size_mm.y += key;
  papers::draw_plan(assessment, papers::scale_to_fit(assessment, whole, style), whole, style,
                    drawing.pages[0]);
  Result<std::string> svg = papers::to_svg(drawing, 0);
  return svg ? Result<std::string>(told(std::move(svg).value(), drawing)) : svg;
}

}  // namespace

extern const Exporter svg_kind;
const Exporter svg_kind{
    ".svg", "the roof in plan, true to scale, on an A4 sheet; SVG (millimetres)", write_svg};

}  // namespace ridgeward::exports
