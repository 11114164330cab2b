#include "papers/cairo.hpp"

#include "base/polygon.hpp"

#include <algorithm>
#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>
#include <cmath>
#include <memory>
#include <string_view>
#include <utility>

namespace ridgeward::papers {

namespace {

constexpr double points_per_mm = 72.0 / 25.4;

struct Free {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* pen) const { cairo_destroy(pen); }
};
using Surface = std::unique_ptr<cairo_surface_t, Free>;
using Pen = std::unique_ptr<cairo_t, Free>;

cairo_status_t keep(void* to, const unsigned char* bytes, unsigned int count) {
  static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

void set_letters(cairo_t* pen, double size_mm, bool is_bold) {
  cairo_select_font_face(pen, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         is_bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(pen, size_mm);
}

/// A pen that writes nowhere, for measuring; letters are not fitted to pixels.
cairo_t* measuring_pen() {
  thread_local const Surface surface{cairo_recording_surface_create(CAIRO_CONTENT_ALPHA, nullptr)};
  thread_local const Pen pen{cairo_create(surface.get())};
  thread_local const bool is_set = [] {
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_set_font_options(pen.get(), options);
    cairo_font_options_destroy(options);
    return true;
  }();
  static_cast<void>(is_set);
  return pen.get();
}

void trace(cairo_t* pen, const Path& path) {
  for (const std::vector<glm::dvec2>& loop : path.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      if (i == 0) {
        cairo_move_to(pen, loop[i].x, loop[i].y);
      } else {
        cairo_line_to(pen, loop[i].x, loop[i].y);
      }
    }
    if (path.is_closed) {
      cairo_close_path(pen);
    }
  }
}

void set_shade(cairo_t* pen, double shade) { cairo_set_source_rgb(pen, shade, shade, shade); }

/// Lines over the path's box, cut off by the path.
void draw_hatch(cairo_t* pen, const Path& path) {
  polygon::Box box;
  for (const std::vector<glm::dvec2>& loop : path.loops) {
    for (const glm::dvec2 p : loop) {
      box.add(p);
    }
  }
  const glm::dvec2 middle = (box.low + box.high) / 2.0;
  const double reach = std::hypot(box.high.x - box.low.x, box.high.y - box.low.y) / 2;
  const glm::dvec2 d{std::cos(path.hatch.turned_rad), std::sin(path.hatch.turned_rad)};
  const glm::dvec2 n{-d.y, d.x};
  cairo_save(pen);
  trace(pen, path);
  cairo_clip(pen);
  set_shade(pen, path.hatch.shade);
  cairo_set_line_width(pen, 0.12);
  const auto count = static_cast<int>(std::ceil(reach / path.hatch.distance_mm));
  for (int k = -count; k <= count; ++k) {
    const glm::dvec2 at = middle + k * path.hatch.distance_mm * n;
    cairo_move_to(pen, at.x - reach * d.x, at.y - reach * d.y);
    cairo_line_to(pen, at.x + reach * d.x, at.y + reach * d.y);
  }
  cairo_stroke(pen);
  cairo_restore(pen);
}

void draw(cairo_t* pen, const Path& path) {
  cairo_set_fill_rule(pen, CAIRO_FILL_RULE_EVEN_ODD);
  if (path.is_filled) {
    trace(pen, path);
    set_shade(pen, path.fill_shade);
    cairo_fill(pen);
  }
  if (path.hatch.distance_mm > 0.0) {
    draw_hatch(pen, path);
  }
  if (path.stroke.width_mm > 0.0) {
    trace(pen, path);
    set_shade(pen, path.stroke.shade);
    cairo_set_line_width(pen, path.stroke.width_mm);
    cairo_set_dash(pen, path.stroke.dash_mm.data(), static_cast<int>(path.stroke.dash_mm.size()),
                   0.0);
    cairo_set_line_cap(pen, CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(pen, CAIRO_LINE_JOIN_MITER);
    cairo_stroke(pen);
  }
}

void draw(cairo_t* pen, const Text& text) {
  const double width = text_width_mm(text.text, text.size_mm, text.is_bold);
  double left = 0.0;
  if (text.align != Align::left) {
    left = text.align == Align::middle ? -width / 2 : -width;
  }
  cairo_save(pen);
  cairo_translate(pen, text.at.x, text.at.y);
  cairo_rotate(pen, text.turned_rad);
  set_letters(pen, text.size_mm, text.is_bold);
  if (text.has_halo) {
    cairo_rectangle(pen, left - 0.3, -0.80 * text.size_mm, width + 0.6, 1.02 * text.size_mm);
    set_shade(pen, 1.0);
    cairo_fill(pen);
  }
  set_shade(pen, text.shade);
  cairo_move_to(pen, left, 0.0);
  cairo_show_text(pen, text.text.c_str());
  cairo_restore(pen);
}

/// Hands a PNG's bytes over piece by piece.
struct Bytes {
  const std::string* all = nullptr;
  std::size_t done = 0;
};
cairo_status_t next_bytes(void* from, unsigned char* to, unsigned int count) {
  Bytes& bytes = *static_cast<Bytes*>(from);
  if (bytes.all->size() - bytes.done < count) {
    return CAIRO_STATUS_READ_ERROR;
  }
  std::copy_n(bytes.all->data() + bytes.done, count, to);
  bytes.done += count;
  return CAIRO_STATUS_SUCCESS;
}

void draw(cairo_t* pen, const Picture& picture) {
  Bytes bytes{&picture.png};
  const Surface image{cairo_image_surface_create_from_png_stream(next_bytes, &bytes)};
  ensure(cairo_surface_status(image.get()) == CAIRO_STATUS_SUCCESS, "a picture on a page is a PNG");
  cairo_save(pen);
  cairo_translate(pen, picture.low.x, picture.low.y);
  cairo_scale(pen, picture.size.x / cairo_image_surface_get_width(image.get()),
              picture.size.y / cairo_image_surface_get_height(image.get()));
  cairo_set_source_surface(pen, image.get(), 0.0, 0.0);
  cairo_paint(pen);
  cairo_restore(pen);
}

void draw(cairo_t* pen, const Page& page) {
  for (const Picture& picture : page.pictures) {
    draw(pen, picture);
  }
  for (const Path& path : page.paths) {
    draw(pen, path);
  }
  for (const Text& text : page.texts) {
    draw(pen, text);
  }
}

Fault failed(cairo_status_t status) {
  return {"paper.failed", "",
          std::string("the page could not be drawn: ") + cairo_status_to_string(status),
          "try again with less in the model; if it stays, tell the makers"};
}

/// Ends the surface, after which its bytes are whole.
Result<std::string> finished(Surface& surface, Pen& pen, std::string& bytes) {
  cairo_status_t status = cairo_status(pen.get());
  pen.reset();
  cairo_surface_finish(surface.get());
  status = status == CAIRO_STATUS_SUCCESS ? cairo_surface_status(surface.get()) : status;
  if (status != CAIRO_STATUS_SUCCESS) {
    return failed(status);
  }
  return std::move(bytes);
}

}  // namespace

double text_width_mm(const std::string& text, double size_mm, bool is_bold) {
  cairo_t* pen = measuring_pen();
  // Measured large: the toy letters of cairo round small sizes.
  constexpr double large = 100.0;
  set_letters(pen, large, is_bold);
  cairo_text_extents_t extents;
  cairo_text_extents(pen, text.c_str(), &extents);
  return extents.x_advance * size_mm / large;
}

Result<std::string> to_pdf(const Drawing& drawing, const Tell& tell) {
  std::string bytes;
  std::size_t done = 0;
  Surface surface{cairo_pdf_surface_create_for_stream(
      keep, &bytes, drawing.size_mm.x * points_per_mm, drawing.size_mm.y * points_per_mm)};
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, drawing.title.c_str());
  // A fixed date: equal drawings give equal bytes.
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE,
                                 "2000-01-01T00:00:00Z");
  Pen pen{cairo_create(surface.get())};
  for (const Page& page : drawing.pages) {
    cairo_save(pen.get());
    cairo_scale(pen.get(), points_per_mm, points_per_mm);
    draw(pen.get(), page);
    cairo_restore(pen.get());
    cairo_show_page(pen.get());
    if (tell) {
      tell(++done, drawing.pages.size());
    }
  }
  return finished(surface, pen, bytes);
}

Result<std::string> to_svg(const Drawing& drawing, std::size_t page) {
  std::string bytes;
  Surface surface{
      cairo_svg_surface_create_for_stream(keep, &bytes, drawing.size_mm.x, drawing.size_mm.y)};
  cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_MM);
  Pen pen{cairo_create(surface.get())};
  draw(pen.get(), drawing.pages.at(page));
  Result<std::string> finished_svg = finished(surface, pen, bytes);
  if (!finished_svg) {
    return finished_svg;
  }
  // Cairo numbers its surfaces through the life of the process: equal drawings would differ.
  static constexpr std::string_view id = "id=\"surface";
  std::string svg = std::move(finished_svg).value();
  if (const auto at = svg.find(id); at != std::string::npos) {
    const auto number = at + id.size();
    svg.erase(number, svg.find('"', number) - number);
  }
  return svg;
}

}  // namespace ridgeward::papers
