#include "report/sheet.hpp"

#include <algorithm>
#include <cmath>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr double margin = 1;
constexpr double header = 12;

/// A whole step of car mm that leaves at least `apart` mm on paper between figures.
double ruler_step(double scale, double apart) {
  for (const double step : {10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0}) {
    if (step / scale >= apart) return step;
  }
  return 2000;
}

void arrow(Drawing& drawing, Spot from, Spot to) {
  drawing.items.emplace_back(Stroke{{from, to}, false, Pen::inner, Fill::none});
  drawing.items.emplace_back(arrow_head(to, to.x - from.x, to.y - from.y, 2.6, Pen::inner));
}

struct Directions { const char *left, *right, *up, *down; };

Directions directions(Look look) {
  if (look == Look::from_above) return {"FRONT", "", "RIGHT", "LEFT"};
  if (look == Look::from_left) return {"FRONT", "", "UP", ""};
  return {"LEFT", "RIGHT", "UP", ""};
}

/// A cross of arrows at the sheet's upper right.
void draw_arrows(Drawing& drawing, Look look, Spot at) {
  const Directions d = directions(look);
  const auto word = [&](const char* text, Spot spot, Anchor anchor) {
    drawing.items.emplace_back(Label{spot, text, 3, anchor, true, false});
  };
  if (*d.left) {
    arrow(drawing, at, {at.x - 8, at.y});
    word(d.left, {at.x - 9, at.y}, Anchor::end);
  }
  if (*d.right) {
    arrow(drawing, at, {at.x + 8, at.y});
    word(d.right, {at.x + 9, at.y}, Anchor::start);
  }
  arrow(drawing, at, {at.x, at.y - 5.2});
  word(d.up, {at.x + 1.6, at.y - 3.6}, Anchor::start);
  if (*d.down) {
    arrow(drawing, at, {at.x, at.y + 5.2});
    word(d.down, {at.x + 1.6, at.y + 3.6}, Anchor::start);
  }
}

void draw_scale_bar(Drawing& drawing, double scale, Spot at) {
  const double step = ruler_step(scale, 8);
  for (int i = 0; i < 4; ++i) {
    const Patch patch{at.x + i * step / scale, at.y, at.x + (i + 1) * step / scale, at.y + 1.5};
    drawing.items.emplace_back(
        Stroke{corners(patch), true, Pen::inner, i % 2 == 0 ? Fill::ink : Fill::paper});
  }
  for (int i = 0; i <= 4; i += 2) {
    drawing.items.emplace_back(Label{{at.x + i * step / scale, at.y + 3.7},
                                     number(i * step) + (i == 4 ? " mm" : ""), 2.6, Anchor::middle,
                                     false, false});
  }
}

}  // namespace

double scale_for(double width_mm, double height_mm, double room_width, double room_height) {
  const double scales[] = {1, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 100};
  for (const double scale : scales) {
    if (width_mm / scale <= room_width && height_mm / scale <= room_height) return scale;
  }
  return std::ceil(std::max(width_mm / room_width, height_mm / room_height) / 100) * 100;
}

Sheet::Sheet(const Extent& extent, double scale, double columns_height, int dimension_rows)
    : extent_(extent), scale_(scale) {
  const double width = (extent.a_high - extent.a_low) / scale;
  const double height = (extent.b_high - extent.b_low) / scale;
  const double middle = sheet_width / 2 + 2;
  const double foot = 7.5 + 6 * dimension_rows;
  const double body = std::max(height + foot, columns_height);
  body_top_ = header + margin;
  body_bottom_ = body_top_ + body;
  const double top = body_top_ + (body - height - foot) / 2;
  area_ = {middle - width / 2, top, middle + width / 2, top + height};
  height_ = body_bottom_ + 5.5;
}

Spot Sheet::to_paper(const Flat& p) const {
  return {area_.left + (p.a - extent_.a_low) / scale_, area_.bottom - (p.b - extent_.b_low) / scale_};
}

std::vector<Spot> Sheet::to_paper(const std::vector<Flat>& points) const {
  std::vector<Spot> out;
  for (const Flat& p : points) out.push_back(to_paper(p));
  return out;
}

Columns Sheet::columns() const {
  return {{margin, body_top_, margin + column_width, body_bottom_},
          {sheet_width - margin - column_width, body_top_, sheet_width - margin, body_bottom_}};
}

void draw_frame(Drawing& drawing, const Sheet& sheet, Look look, const std::string& title) {
  drawing.width = sheet.width();
  drawing.height = sheet.height();
  drawing.scale = "1:" + number(sheet.scale());
  const std::string shown = shortened(title + ", " + drawing.scale, 70);
  const double size = std::min(4.4, 146 / text_width(shown, 1, true));
  drawing.items.emplace_back(Label{{margin, 4}, shown, size, Anchor::start, true, false});
  draw_arrows(drawing, look, {sheet_width - 28, 6.7});
  draw_scale_bar(drawing, sheet.scale(), {152, 2.5});
  drawing.items.emplace_back(
      Label{{margin, 10},
            drawing.scale + " when printed at 100 %. Figures in mm: x behind the front axle, y right of " +
                "centre, z above ground.",
            2.7, Anchor::start, false, false});
}

void draw_rulers(Drawing& drawing, const Sheet& sheet, Look look, NearLabels& labels) {
  const double step = ruler_step(sheet.scale(), 14);
  const Extent& e = sheet.extent();
  const Patch& area = sheet.area();
  const auto put = [&](Label label) {
    if (!labels.is_free(text_patch(label))) return;
    labels.block(text_patch(label));
    drawing.items.emplace_back(std::move(label));
  };
  const auto line = [&](Spot from, Spot to) {
    drawing.items.emplace_back(Stroke{{from, to}, false, Pen::dimension, Fill::none});
  };
  line({area.left, area.bottom + 2}, {area.right, area.bottom + 2});
  line({area.left - 2, area.top}, {area.left - 2, area.bottom});
  put({{area.left - 4, area.bottom + 4.6}, across_name(look), 2.8, Anchor::end, true, false});
  put({{area.left - 4, area.top + 0.8}, up_name(look), 2.8, Anchor::end, true, false});
  for (double v = std::ceil(e.a_low / step) * step; v <= e.a_high; v += step) {
    const double x = sheet.to_paper({v, e.b_low}).x;
    line({x, area.bottom + 1.2}, {x, area.bottom + 2.8});
    put({{x, area.bottom + 4.6}, number(v), 2.6, Anchor::middle, false, false});
  }
  for (double v = std::ceil(e.b_low / step) * step; v <= e.b_high; v += step) {
    const double y = sheet.to_paper({e.a_low, v}).y;
    line({area.left - 2.8, y}, {area.left - 1.2, y});
    put({{area.left - 3.4, y}, number(v), 2.6, Anchor::end, false, false});
  }
}

void draw_width(Drawing& drawing, double from_x, double to_x, double object_y, double y,
                const std::string& text, NearLabels& labels) {
  const auto line = [&](Spot from, Spot to) {
    drawing.items.emplace_back(Stroke{{from, to}, false, Pen::dimension, Fill::none});
  };
  line({from_x, object_y}, {from_x, y + 1});
  line({to_x, object_y}, {to_x, y + 1});
  drawing.items.emplace_back(arrow_head({from_x, y}, -1, 0, 2, Pen::dimension));
  drawing.items.emplace_back(arrow_head({to_x, y}, 1, 0, 2, Pen::dimension));
  Label label{{(from_x + to_x) / 2, y}, text, 3, Anchor::middle, false, false};
  if (text_width(text, 3, false) > to_x - from_x - 6) label = {{to_x + 2, y}, text, 3, Anchor::start, false, false};
  const Patch room = text_patch(label);
  if (room.left > to_x) {
    line({from_x, y}, {to_x, y});
  } else {
    line({from_x, y}, {room.left, y});
    line({room.right, y}, {to_x, y});
  }
  labels.block(text_patch(label));
  drawing.items.emplace_back(label);
}

void draw_height(Drawing& drawing, double from_y, double to_y, double object_x, double x,
                 const std::string& text, NearLabels& labels) {
  const auto line = [&](Spot from, Spot to) {
    drawing.items.emplace_back(Stroke{{from, to}, false, Pen::dimension, Fill::none});
  };
  line({object_x, from_y}, {x + 1, from_y});
  line({object_x, to_y}, {x + 1, to_y});
  drawing.items.emplace_back(arrow_head({x, from_y}, 0, from_y - to_y, 2, Pen::dimension));
  drawing.items.emplace_back(arrow_head({x, to_y}, 0, to_y - from_y, 2, Pen::dimension));
  const Label label{{x, (from_y + to_y) / 2}, text, 3, Anchor::middle, false, true};
  const Patch room = text_patch(label);
  line({x, from_y}, {x, std::min(from_y, room.bottom)});
  line({x, std::max(to_y, room.top)}, {x, to_y});
  labels.block(text_patch(label));
  drawing.items.emplace_back(label);
}

void draw_aligned(Drawing& drawing, const Line& object, const Line& at, const std::string& text, NearLabels& labels) {
  const auto line = [&](Spot from, Spot to) {
    drawing.items.emplace_back(Stroke{{from, to}, false, Pen::dimension, Fill::none});
  };
  line(object.from, at.from);
  line(object.to, at.to);
  line(at.from, at.to);
  const double dx = at.to.x - at.from.x, dy = at.to.y - at.from.y;
  drawing.items.emplace_back(arrow_head(at.from, -dx, -dy, 2, Pen::dimension));
  drawing.items.emplace_back(arrow_head(at.to, dx, dy, 2, Pen::dimension));
  // Beside the line, on the side away from the object and running away from it, so that neither is written over.
  const double ox = at.from.x - object.from.x, oy = at.from.y - object.from.y;
  const double away = std::max(std::hypot(ox, oy), 1e-9);
  const Anchor anchor = std::abs(ox) < 0.02 * away ? Anchor::middle : ox < 0 ? Anchor::end : Anchor::start;
  for (const double share : {0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8}) {
    const Label label{{at.from.x + share * dx + ox / away * 1.2, at.from.y + share * dy + oy / away * 2.2}, text, 3, anchor, false, false};
    if (!labels.is_free(text_patch(label))) continue;
    labels.block(text_patch(label));
    drawing.items.emplace_back(label);
    return;
  }
  labels.place(drawing, {(at.from.x + at.to.x) / 2, (at.from.y + at.to.y) / 2}, 1.5, {{}, text, 3, Anchor::start, false, false});
}

void draw_fixing_mark(Drawing& drawing, Spot at, bool carries, bool never) {
  drawing.items.emplace_back(Ring{at, 1.2, Pen::fixing, carries ? Fill::ink : Fill::paper});
  if (!never) return;
  for (const double turn : {1.0, -1.0}) {
    drawing.items.emplace_back(Stroke{{{at.x - 1.1, at.y - 1.1 * turn}, {at.x + 1.1, at.y + 1.1 * turn}},
                                      false, Pen::fixing, Fill::none});
  }
}

void draw_legend(Drawing& drawing, double y) {
  double x = margin + 3;
  const auto say = [&](const char* text) {
    drawing.items.emplace_back(Label{{x + 3.4, y}, text, 2.7, Anchor::start, false, false});
    x += 3.4 + text_width(text, 2.7, false) + 3;
  };
  drawing.items.emplace_back(Ring{{x + 1, y}, 0.6, Pen::none, Fill::ink});
  say("measured point");
  draw_fixing_mark(drawing, {x + 1, y}, true, false);
  say("fixing that carries");
  draw_fixing_mark(drawing, {x + 1, y}, false, false);
  say("carries nothing");
  draw_fixing_mark(drawing, {x + 1, y}, false, true);
  say("never to be used");
  const auto patch = [&](Pen pen, Fill fill) {
    drawing.items.emplace_back(Stroke{corners({x - 1, y - 1.4, x + 2.6, y + 1.4}), true, pen, fill});
  };
  patch(Pen::keep_out, Fill::keep_out);
  say("keep-out");
  patch(Pen::cell, Fill::end_plate);
  say("end plate");
  patch(Pen::keep_out, Fill::moving);
  say("moves");
  patch(Pen::cell, Fill::fitting);
  say("fitting");
  drawing.items.emplace_back(Stroke{{{x - 1, y}, {x + 2.6, y}}, false, Pen::strap, Fill::none});
  say("strap");
  drawing.items.emplace_back(Stroke{{{x - 1, y}, {x + 2.6, y}}, false, Pen::gap, Fill::none});
  say("tightest gap");
}

}  // namespace cellstow::report
