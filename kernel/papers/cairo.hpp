#pragma once
// Draws pages with cairo: one code for PDF, SVG and PNG. The letters are those of DejaVu Sans
// (Debian fonts-dejavu-core).

#include "base/fault.hpp"
#include "base/tell.hpp"
#include "papers/drawing.hpp"

#include <string>

namespace ridgeward::papers {

/// All pages as one PDF; a page's millimetres are those of the paper. Equal drawings give equal
/// bytes. `tell` counts pages. Faults: paper.failed.
Result<std::string> to_pdf(const Drawing& drawing, const Tell& tell = {});
/// One page as SVG in millimetres. REQUIRES the page. Faults: paper.failed.
Result<std::string> to_svg(const Drawing& drawing, std::size_t page);

/// Width of a line of text.
double text_width_mm(const std::string& text, double size_mm, bool is_bold);

}  // namespace ridgeward::papers
