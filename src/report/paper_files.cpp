#include "report/paper_files.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>

#include <cmath>
#include <memory>
#include <numbers>

#include "report/paper_lettering.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr double points_per_mm = 72 / 25.4;

cairo_status_t take(void* out, const unsigned char* bytes, unsigned int count) {
  static_cast<std::string*>(out)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

struct Pens {
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
using Surface = std::unique_ptr<cairo_surface_t, Pens>;
using Hand = std::unique_ptr<cairo_t, Pens>;

void paint(cairo_t* cairo, Area area, double width, LineKind kind) {
  if (area != Area::none) {
    const double shade = area == Area::white ? 1 : 0;
    cairo_set_source_rgb(cairo, shade, shade, shade);
    cairo_fill_preserve(cairo);
  }
  cairo_set_source_rgb(cairo, 0, 0, 0);
  if (width > 0) {
    // Dash lengths in line widths as in ISO 128-2 would be long for narrow lines; these are in mm.
    const double dashes[] = {3, 1.2}, chain[] = {7, 1.2, 0.8, 1.2};
    cairo_set_line_width(cairo, width);
    if (kind == LineKind::full) cairo_set_dash(cairo, nullptr, 0, 0);
    if (kind == LineKind::dashed) cairo_set_dash(cairo, dashes, 2, 0);
    if (kind == LineKind::chain) cairo_set_dash(cairo, chain, 4, 0);
    cairo_stroke(cairo);
  }
  cairo_new_path(cairo);
}

/// From the corner to the next, `bulge` counter-clockwise on paper: y points down there, so angles fall.
void step(cairo_t* cairo, Spot from, Spot to, double bulge) {
  if (std::abs(bulge) < 1e-9) return cairo_line_to(cairo, to.x, to.y);
  const double dx = to.x - from.x, dy = to.y - from.y;
  // Centre: half a chord along, and (1 - b2) / (4 b) chords to the left of the way, y up.
  const double side = (1 - bulge * bulge) / (4 * bulge);
  const Spot centre{from.x + dx / 2 + side * dy, from.y + dy / 2 - side * dx};
  const double radius = std::hypot(from.x - centre.x, from.y - centre.y);
  const double first = std::atan2(from.y - centre.y, from.x - centre.x), last = std::atan2(to.y - centre.y, to.x - centre.x);
  if (bulge > 0) cairo_arc_negative(cairo, centre.x, centre.y, radius, first, last);
  else cairo_arc(cairo, centre.x, centre.y, radius, first, last);
}

void draw(cairo_t* cairo, const Trace& trace) {
  if (trace.points.empty()) return;
  cairo_move_to(cairo, trace.points.front().at.x, trace.points.front().at.y);
  for (std::size_t i = 0; i + 1 < trace.points.size(); ++i) step(cairo, trace.points[i].at, trace.points[i + 1].at, trace.points[i].bulge);
  if (trace.closed) {
    if (std::abs(trace.points.back().bulge) > 1e-9) step(cairo, trace.points.back().at, trace.points.front().at, trace.points.back().bulge);
    cairo_close_path(cairo);
  }
  for (const std::vector<Spot>& opening : trace.openings) {
    cairo_new_sub_path(cairo);
    for (const Spot& spot : opening) cairo_line_to(cairo, spot.x, spot.y);
    cairo_close_path(cairo);
  }
  paint(cairo, trace.area, trace.width, trace.kind);
}

void draw(cairo_t* cairo, const Circle& circle) {
  cairo_new_sub_path(cairo);
  cairo_arc(cairo, circle.centre.x, circle.centre.y, circle.radius, 0, 2 * std::numbers::pi);
  cairo_close_path(cairo);
  paint(cairo, circle.area, circle.width, LineKind::full);
}

void draw(cairo_t* cairo, const Lettering& lettering) {
  if (lettering.boxed) {
    const Patch room = room_of(lettering);
    cairo_rectangle(cairo, room.left, room.top, room.width(), room.height());
    paint(cairo, Area::white, narrow_line, LineKind::full);
  }
  draw_lettering(cairo, lettering);
  cairo_new_path(cairo);
}

void draw(cairo_t* cairo, const Window& window) {
  cairo_reset_clip(cairo);
  if (window.patch.width() <= 0) return;
  cairo_rectangle(cairo, window.patch.left, window.patch.top, window.patch.width(), window.patch.height());
  cairo_clip(cairo);
}

void draw_all(cairo_t* cairo, const Paper& sheet, double units_per_mm) {
  cairo_save(cairo);
  cairo_scale(cairo, units_per_mm, units_per_mm);
  // Arcs as curves that stay within 2 um of them; left alone, a tenth of a millimetre.
  cairo_set_tolerance(cairo, 0.002 * units_per_mm);
  cairo_set_fill_rule(cairo, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(cairo, CAIRO_LINE_CAP_ROUND);
  for (const Mark& mark : sheet.marks) std::visit([&](const auto& thing) { draw(cairo, thing); }, mark);
  cairo_restore(cairo);
}

}  // namespace

std::string to_pdf(const std::vector<Paper>& sheets, const std::string& title) {
  std::string out;
  if (sheets.empty()) return out;
  const Surface surface(cairo_pdf_surface_create_for_stream(take, &out, sheets.front().width * points_per_mm, sheets.front().height * points_per_mm));
  // Left alone, the library writes the time of the run.
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, one_line(title).c_str());
  const Hand hand(cairo_create(surface.get()));
  for (const Paper& sheet : sheets) {
    cairo_pdf_surface_set_size(surface.get(), sheet.width * points_per_mm, sheet.height * points_per_mm);
    draw_all(hand.get(), sheet, points_per_mm);
    cairo_show_page(hand.get());
  }
  cairo_surface_finish(surface.get());
  return out;
}

std::string to_svg(const Paper& sheet) {
  std::string out;
  {
    const Surface surface(cairo_svg_surface_create_for_stream(take, &out, sheet.width, sheet.height));
    cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_MM);
    const Hand hand(cairo_create(surface.get()));
    cairo_set_source_rgb(hand.get(), 1, 1, 1);
    cairo_paint(hand.get());
    draw_all(hand.get(), sheet, 1);
    cairo_surface_finish(surface.get());
  }
  // The library counts its surfaces over the whole run; the count means nothing to a reader.
  return with_numbers_replaced(out, "id=\"surface", [](int) { return "id=\"sheet"; });
}

}  // namespace cellstow::report
