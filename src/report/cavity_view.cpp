#include "report/cavity_view.hpp"

#include <algorithm>
#include <cmath>

#include "report/cavity_canvas.hpp"
#include "report/contents.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

/// Room for the dimension lines along the sides of a turned box; their distance from it in car mm.
constexpr double beside_turned_mm = 30;

/// The box's own extent along u and v.
Extent own_extent(const packing::BoxLayout& layout) {
  Extent own;
  for (const core::Point2& corner : layout.outline) own.take({corner.a.mm(), corner.b.mm()});
  return own;
}

Flat in_car(const packing::BoxLayout& layout, double u_mm, double v_mm) {
  const core::InPlan at = core::to_car(layout.heading, core::InPlan{u_mm, v_mm});
  return {at.a, at.b};
}

void take_side_dimensions(const packing::BoxLayout& layout, Extent& extent) {
  if (layout.heading.is_square() || layout.outline.empty()) return;
  const Extent own = own_extent(layout).grown(beside_turned_mm);
  extent.take(in_car(layout, own.a_low, own.b_high));
  extent.take(in_car(layout, own.a_low, own.b_low));
  extent.take(in_car(layout, own.a_high, own.b_low));
}

Extent extent_of(const survey::Cavity& cavity, const plan::CavityPlan& plan, Look look) {
  Extent extent;
  for (const survey::Section& section : cavity.sections.at) {
    for (const Flat& p : seen(look, cavity.sections.across, section).measured) extent.take(p);
  }
  for (const plan::BoxPlan& box : plan.boxes) {
    for (const Flat& p : seen_box(box.box.layout, look)) extent.take(p);
    for (const packing::PlacedCell& cell : box.box.layout.cells) {
      for (const Flat& p : seen(look, cell.body, box.box.layout.heading)) extent.take(p);
    }
    if (look == Look::from_above) take_side_dimensions(box.box.layout, extent);
  }
  for (const survey::Fixing& fixing : cavity.fixings) extent.take(seen(look, fixing.at));
  return extent.grown(15);
}

}  // namespace

Pen section_pen(std::size_t index) {
  const Pen pens[] = {Pen::section_1, Pen::section_2, Pen::section_3, Pen::section_4,
                      Pen::section_5};
  return pens[index % 5];
}

std::vector<Flat> seen_box(const packing::BoxLayout& layout, Look look) {
  std::vector<Flat> out;
  Extent extent;
  for (const core::Point2& corner : layout.outline) {
    const auto [x, y] = in_car(layout, corner.a.mm(), corner.b.mm());
    out.push_back({x, y});
    extent.take(seen(look, x, y, layout.z_bottom.mm()));
    extent.take(seen(look, x, y, layout.lid_top.mm()));
  }
  if (look == Look::from_above || out.empty()) return out;
  return {{extent.a_low, extent.b_low}, {extent.a_high, extent.b_low},
          {extent.a_high, extent.b_high}, {extent.a_low, extent.b_high}};
}

void CavityView::outline(const Sheet& sheet, const std::vector<Flat>& points, bool closed, Pen pen,
                         Fill fill) {
  drawing_.items.emplace_back(Stroke{sheet.to_paper(points), closed, pen, fill});
}

/// Sections seen edge-on go under the box, those seen square on over it.
void CavityView::draw_sections(const Sheet& sheet, bool square_on) {
  for (std::size_t i = 0; i < sections_.size(); ++i) {
    const SeenSection& section = sections_[i];
    if (section.square_on != square_on) continue;
    outline(sheet, section.outline, section.square_on, section_pen(i), Fill::none);
    for (const auto& hole : section.holes) outline(sheet, hole, true, section_pen(i), Fill::none);
    for (const Flat& p : section.measured) {
      drawing_.items.emplace_back(Ring{sheet.to_paper(p), 0.6, Pen::none, Fill::ink});
    }
  }
}

packing::Cuboid around(const packing::BoxLayout& layout) {
  const std::vector<core::Point2> outline = core::to_car(layout.heading, layout.outline);
  packing::Cuboid out{{outline[0].a, outline[0].b, layout.z_bottom}, {outline[0].a, outline[0].b, layout.lid_top}};
  for (const core::Point2& p : outline) {
    out.low.x = std::min(out.low.x, p.a);
    out.low.y = std::min(out.low.y, p.b);
    out.high.x = std::max(out.high.x, p.a);
    out.high.y = std::max(out.high.y, p.b);
  }
  return out;
}

/// Between the eye and every box: such a thing would hide what the view is for.
bool CavityView::is_in_front(const survey::KeepOut& keep_out) const {
  packing::Cuboid body = around(keep_out);
  std::swap(body.low, body.high);   // the far side of the keep-out against the near side of the boxes
  return std::all_of(plan_.boxes.begin(), plan_.boxes.end(), [&](const plan::BoxPlan& box) {
    return box.box.layout.outline.empty() || nearness(look_, body) >= nearness(look_, around(box.box.layout));
  });
}

void CavityView::draw_keep_out(const Sheet& sheet, const survey::KeepOut& keep_out) {
  const std::vector<Flat> shape = seen_keep_out(sheet, keep_out);
  if (shape.size() < 3) return;
  const bool moving = keep_out.kind == survey::KeepOutKind::moving;
  const bool open = is_in_front(keep_out) && !plan_.boxes.empty();
  outline(sheet, shape, true, open ? Pen::keep_out_in_front : Pen::keep_out,
          open ? Fill::none : moving ? Fill::moving : Fill::keep_out);
}

/// Boxes and keep-outs from far to near: what is nearer covers what lies behind it.
void CavityView::draw_bodies(const Sheet& sheet) {
  struct Turn { double nearness; const plan::BoxPlan* box; const survey::KeepOut* keep_out; };
  std::vector<Turn> turns;
  for (const plan::BoxPlan& box : plan_.boxes) {
    const bool walls = !box.box.layout.outline.empty();
    turns.push_back({walls ? nearness(look_, around(box.box.layout)) : -1e9, &box, nullptr});
  }
  for (const survey::KeepOut& keep_out : cavity_.keep_outs) {
    turns.push_back({nearness(look_, around(keep_out)), nullptr, &keep_out});
  }
  std::stable_sort(turns.begin(), turns.end(), [](const Turn& p, const Turn& q) { return p.nearness < q.nearness; });
  for (const Turn& turn : turns) {
    if (turn.box) {
      draw_box(sheet, *turn.box);
      draw_contents(sheet, *turn.box);
    } else {
      draw_keep_out(sheet, *turn.keep_out);
    }
  }
}

void CavityView::draw_box(const Sheet& sheet, const plan::BoxPlan& box) {
  const std::vector<Flat> outer = seen_box(box.box.layout, look_);
  if (outer.empty()) return;
  outline(sheet, outer, true, Pen::wall, Fill::box);
  if (look_ == Look::from_above) {
    outline(sheet, inset(outer, (job_.rules.flange + job_.rules.wall).mm()), true, Pen::inner, Fill::none);
    return;
  }
  const Flat low = outer[0], high = outer[2];
  const double wall = (job_.rules.flange + job_.rules.wall).mm();
  const double floor = low.b + job_.rules.floor.mm(), lid = high.b - job_.rules.lid.mm();
  outline(sheet, {{low.a, lid}, {high.a, lid}}, false, Pen::inner, Fill::none);
  if (!box.box.layout.heading.is_square()) {   // its walls stand slantwise to this view
    outline(sheet, {{low.a, floor}, {high.a, floor}}, false, Pen::inner, Fill::none);
    return;
  }
  outline(sheet, {{low.a + wall, lid}, {low.a + wall, floor}, {high.a - wall, floor}, {high.a - wall, lid}},
          false, Pen::inner, Fill::none);
}

void CavityView::draw_contents(const Sheet& sheet, const plan::BoxPlan& box) {
  const core::Heading heading = box.box.layout.heading;
  for (const Body& body : contents(box.box.layout, job_.rules, look_)) {
    const std::vector<Flat> shape = seen(look_, body.cuboid, heading);
    outline(sheet, shape, true, Pen::cell, body.fill);
    if (body.number == 0 || body.hidden) continue;
    const Patch patch = rectangle(sheet.to_paper(shape[0]), sheet.to_paper(shape[2]));
    const std::string text = std::to_string(body.number);
    double size = std::min({3.2, patch.height() * 0.8, patch.width() / text_width(text, 1, true)});
    if (!heading.is_square() && look_ == Look::from_above) {
      const double breadth = std::min((body.cuboid.high.x - body.cuboid.low.x).mm(), (body.cuboid.high.y - body.cuboid.low.y).mm());
      size = std::min(3.2, breadth / sheet.scale() / std::hypot(text_width(text, 1, true), 1));
    }
    if (size < 1.9) continue;
    numbers_.push_back({{(patch.left + patch.right) / 2, (patch.top + patch.bottom) / 2}, text, size,
                        Anchor::middle, true, false});
  }
  for (const restraint::Strap& strap : box.straps.straps) {
    for (const packing::Block& block : box.box.layout.blocks) {
      if (block.id != strap.block) continue;
      for (const packing::Cuboid& band : restraint::strap_bands(block, strap)) {
        const std::vector<Flat> shape = seen(look_, band, heading);
        if (look_ == Look::from_above) outline(sheet, shape, true, Pen::strap, Fill::none);
        if (look_ != Look::from_above) {
          outline(sheet, {shape[3], shape[2]}, false, Pen::strap, Fill::none);
        }
      }
    }
  }
}

/// Fixings that fall on one spot share a mark and have their names in one line.
void CavityView::draw_fixings(const Sheet& sheet, NearLabels& labels) {
  struct Mark { Spot at; bool carries, never; std::string names; };
  std::vector<Mark> marks;
  for (const survey::Fixing& fixing : cavity_.fixings) {
    const Spot at = sheet.to_paper(seen(look_, fixing.at));
    const restraint::FixingUseResult* use = use_of(fixing);
    const bool named = look_ != Look::from_above && fixing.name.size() <= short_fixing_name;
    auto same = std::find_if(marks.begin(), marks.end(), [&](const Mark& m) {
      return std::hypot(m.at.x - at.x, m.at.y - at.y) < 0.8;
    });
    if (same == marks.end()) same = marks.insert(marks.end(), {at, false, false, ""});
    same->carries = same->carries || (use && use->carries);
    same->never = same->never || fixing.use == survey::FixingUse::never;
    if (named) same->names += (same->names.empty() ? "" : ", ") + fixing.name;
  }
  for (const Mark& m : marks) {
    draw_fixing_mark(drawing_, m.at, m.carries, m.never);
    labels.block({m.at.x - 1.2, m.at.y - 1.2, m.at.x + 1.2, m.at.y + 1.2});
  }
  for (const Mark& m : marks) {
    if (!m.names.empty()) labels.place(drawing_, m.at, 1.8, {{}, m.names, 2.8, Anchor::start, false, false});
  }
}

void CavityView::draw_dimensions(const Sheet& sheet, NearLabels& labels) {
  int row = 0;
  for (const plan::BoxPlan& box : plan_.boxes) {
    Extent extent;
    for (const Flat& p : seen_box(box.box.layout, look_)) extent.take(p);
    if (extent.empty) continue;
    const bool turned = !box.box.layout.heading.is_square();
    if (turned && look_ == Look::from_above) {
      draw_side_dimensions(sheet, box, labels);
      continue;
    }
    const Spot low = sheet.to_paper({extent.a_low, extent.b_low});
    const Spot high = sheet.to_paper({extent.a_high, extent.b_high});
    draw_width(drawing_, low.x, high.x, low.y, sheet.dimension_y(row),
               shortened(box.box.mark, 8) + (turned ? " over corners " : " outside ") + number(extent.a_high - extent.a_low), labels);
    draw_height(drawing_, low.y, high.y, high.x, sheet.dimension_x(row),
                "outside " + number(extent.b_high - extent.b_low), labels);
    ++row;
  }
}

/// Along the sides of a turned box: length beside its left side, breadth before its front.
void CavityView::draw_side_dimensions(const Sheet& sheet, const plan::BoxPlan& box, NearLabels& labels) {
  const packing::BoxLayout& layout = box.box.layout;
  const Extent own = own_extent(layout), far = own.grown(beside_turned_mm * 0.7);
  const auto at = [&](double u, double v) { return sheet.to_paper(in_car(layout, u, v)); };
  const std::string length = shortened(box.box.mark, 8) + " outside " + number(own.a_high - own.a_low);
  draw_aligned(drawing_, {at(own.a_low, own.b_low), at(own.a_high, own.b_low)}, {at(own.a_low, far.b_low), at(own.a_high, far.b_low)}, length, labels);
  draw_aligned(drawing_, {at(own.a_low, own.b_low), at(own.a_low, own.b_high)}, {at(far.a_low, own.b_low), at(far.a_low, own.b_high)},
               "outside " + number(own.b_high - own.b_low), labels);
}

Drawing CavityView::draw() {
  const Extent extent = extent_of(cavity_, plan_, look_);
  const int rows = static_cast<int>(plan_.boxes.size());
  gaps_ = seen_gaps(cavity_, plan_, look_);
  const Sheet draft(extent, scale_, 0, rows);
  name_things(draft);
  const double middle = (draft.area().left + draft.area().right) / 2;
  const double needed = CalloutColumns(callouts_, column_width, middle).height();
  const Sheet sheet(extent, scale_, needed, rows);
  name_things(sheet);

  drawing_.name = file_part(plan_.mark) + "-" + short_name(look_);
  drawing_.title = plan_.name + ", seen " + spoken(look_);
  draw_frame(drawing_, sheet, look_, drawing_.title);
  const Columns columns = sheet.columns();
  NearLabels labels({columns.left.right, sheet.body_top() - 6, columns.right.left, sheet.body_bottom()});
  draw_sections(sheet, false);
  draw_bodies(sheet);
  draw_sections(sheet, true);
  CalloutColumns(callouts_, column_width, middle).draw(drawing_, columns);
  for (const SeenGap& gap : gaps_) draw_gap(drawing_, sheet, gap);
  for (const Label& label : numbers_) drawing_.items.emplace_back(label);
  labels.block_all(drawing_);
  draw_dimensions(sheet, labels);
  draw_rulers(drawing_, sheet, look_, labels);
  draw_fixings(sheet, labels);
  draw_legend(drawing_, sheet.height() - 2.6);
  return drawing_;
}

std::vector<Drawing> cavity_views(const survey::Job& job, const survey::Cavity& cavity,
                                  const plan::CavityPlan& plan) {
  const Look looks[] = {Look::from_above, Look::from_left, Look::from_behind};
  double scale = 1;
  for (const Look look : looks) {
    const Extent e = extent_of(cavity, plan, look);
    scale = std::max(scale, scale_for(e.a_high - e.a_low, e.b_high - e.b_low, view_width, view_height));
  }
  std::vector<Drawing> out;
  for (const Look look : looks) out.push_back(CavityView(job, cavity, plan, look, scale).draw());
  return out;
}

}  // namespace cellstow::report
