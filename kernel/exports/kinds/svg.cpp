#include "exports/exporter.hpp"
#include "papers/cairo.hpp"
#include "papers/plan_drawing.hpp"

namespace ridgeward::exports {

namespace {

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
  return papers::to_svg(drawing, 0);
}

}  // namespace

extern const Exporter svg_kind;
const Exporter svg_kind{
    ".svg", "the roof in plan, true to scale, on an A4 sheet; SVG (millimetres)", write_svg};

}  // namespace ridgeward::exports
