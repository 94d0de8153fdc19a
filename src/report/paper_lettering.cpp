#include "report/paper_lettering.hpp"

#include <pango/pangocairo.h>

#include <map>
#include <memory>
#include <numbers>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

/// Set large and scaled down, so that widths do not hang on the size: no rounding to dots.
constexpr double set_size = 200;
constexpr const char* faces = "Liberation Sans,Nimbus Sans,DejaVu Sans";

struct Release {
  void operator()(void* thing) const { g_object_unref(thing); }
};
using Layout = std::unique_ptr<PangoLayout, Release>;

PangoContext* make_context() {
  PangoFontMap* fonts = pango_cairo_font_map_new();
  pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(fonts), 72);
  PangoContext* context = pango_font_map_create_context(fonts);
  pango_context_set_round_glyph_positions(context, FALSE);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  return context;
}

/// Finding the face takes longer than all else; it is done once for the run.
PangoContext* context() {
  static PangoContext* const made = make_context();
  return made;
}

Layout set(const std::string& text, bool bold) {
  Layout layout(pango_layout_new(context()));
  PangoFontDescription* face = pango_font_description_from_string(faces);
  pango_font_description_set_absolute_size(face, set_size * PANGO_SCALE);
  pango_font_description_set_weight(face, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description(layout.get(), face);
  pango_font_description_free(face);
  const std::string line = one_line(text);
  pango_layout_set_text(layout.get(), line.c_str(), static_cast<int>(line.size()));
  return layout;
}

/// Height of a capital at set_size.
double capital() {
  static const double height = [] {
    PangoRectangle ink;
    pango_layout_get_extents(set("H", false).get(), &ink, nullptr);
    return ink.height / static_cast<double>(PANGO_SCALE);
  }();
  return height;
}

double set_width(PangoLayout* layout) {
  PangoRectangle logical;
  pango_layout_get_extents(layout, nullptr, &logical);
  return logical.width / static_cast<double>(PANGO_SCALE);
}

}  // namespace

double lettering_width(const std::string& text, double height, bool bold) {
  static std::map<std::pair<std::string, bool>, double> known;
  const auto [found, is_new] = known.try_emplace({text, bold}, 0);
  if (is_new) found->second = set_width(set(text, bold).get()) / capital();
  return found->second * height;
}

void draw_lettering(cairo_t* cairo, const Lettering& l) {
  const Layout layout = set(l.text, l.bold);
  const double scale = l.height / capital(), width = set_width(layout.get());
  double start = 0;
  if (l.anchor == Anchor::middle) start = -width / 2;
  if (l.anchor == Anchor::end) start = -width;
  cairo_save(cairo);
  cairo_translate(cairo, l.at.x, l.at.y);
  if (l.upward) cairo_rotate(cairo, -std::numbers::pi / 2);
  cairo_scale(cairo, scale, scale);
  cairo_move_to(cairo, start, capital() / 2);
  pango_cairo_show_layout_line(cairo, pango_layout_get_line_readonly(layout.get(), 0));
  cairo_restore(cairo);
}

}  // namespace cellstow::report
