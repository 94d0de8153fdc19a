#include "report/cavity_view.hpp"

#include <algorithm>
#include <cmath>

#include "report/contents.hpp"
#include "report/gap_view.hpp"
#include "report/sheet.hpp"
#include "report/text.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

/// Longest fixing name, in bytes, that is written beside its mark in the side and end views.
constexpr std::size_t short_fixing_name = 6;

Pen section_pen(std::size_t index) {
  const Pen pens[] = {Pen::section_1, Pen::section_2, Pen::section_3, Pen::section_4,
                      Pen::section_5};
  return pens[index % 5];
}

/// The box's shape in a view: its outline from above, else the rectangle it makes.
std::vector<Flat> seen_box(const packing::BoxLayout& layout, Look look) {
  std::vector<Flat> out;
  Extent extent;
  for (const core::Point2& corner : layout.outline) {
    const double x = corner.a.mm(), y = corner.b.mm();
    out.push_back({x, y});
    extent.take(seen(look, x, y, layout.z_bottom.mm()));
    extent.take(seen(look, x, y, layout.lid_top.mm()));
  }
  if (look == Look::from_above || out.empty()) return out;
  return {{extent.a_low, extent.b_low}, {extent.a_high, extent.b_low},
          {extent.a_high, extent.b_high}, {extent.a_low, extent.b_high}};
}

Extent extent_of(const survey::Cavity& cavity, const plan::CavityPlan& plan, Look look) {
  Extent extent;
  for (const survey::Section& section : cavity.sections.at) {
    for (const Flat& p : seen(look, cavity.sections.across, section).measured) extent.take(p);
  }
  for (const plan::BoxPlan& box : plan.boxes) {
    for (const Flat& p : seen_box(box.box.layout, look)) extent.take(p);
    for (const packing::PlacedCell& cell : box.box.layout.cells) {
      for (const Flat& p : seen(look, cell.body)) extent.take(p);
    }
  }
  for (const survey::Fixing& fixing : cavity.fixings) extent.take(seen(look, fixing.at));
  return extent.grown(15);
}

/// Draws one view; members are filled in the order in which things are laid on the paper.
class CavityView {
 public:
  CavityView(const survey::Job& job, const survey::Cavity& cavity, const plan::CavityPlan& plan,
             Look look, double scale)
      : job_(job), cavity_(cavity), plan_(plan), look_(look), scale_(scale) {
    for (const survey::Section& section : cavity.sections.at) {
      sections_.push_back(seen(look, cavity.sections.across, section));
    }
  }

  Drawing draw();

 private:
  void name_things(const Sheet& sheet);
  void name_sections(const Sheet& sheet);
  void name_keep_outs(const Sheet& sheet);
  void name_contents(const Sheet& sheet);
  void name_fixings(const Sheet& sheet);
  void name_gaps(const Sheet& sheet);
  void draw_sections(const Sheet& sheet, bool square_on);
  void draw_keep_outs(const Sheet& sheet);
  void draw_box(const Sheet& sheet, const plan::BoxPlan& box);
  void draw_contents(const Sheet& sheet, const plan::BoxPlan& box);
  void draw_fixings(const Sheet& sheet, NearLabels& labels);
  void draw_dimensions(const Sheet& sheet, NearLabels& labels);
  void outline(const Sheet& sheet, const std::vector<Flat>& points, bool closed, Pen pen, Fill fill);
  void call(const Sheet& sheet, const std::vector<Flat>& points, std::string text, bool bold = false,
            Pen pen = Pen::leader, Pen sample = Pen::none);
  std::string fixing_text(const survey::Fixing& fixing) const;
  const restraint::FixingUseResult* use_of(const survey::Fixing& fixing) const;
  std::vector<Flat> seen_keep_out(const Sheet& sheet, const survey::KeepOut& keep_out) const;

  const survey::Job& job_;
  const survey::Cavity& cavity_;
  const plan::CavityPlan& plan_;
  Look look_;
  double scale_;
  std::vector<SeenSection> sections_;
  std::vector<SeenGap> gaps_;
  std::vector<Callout> callouts_;
  std::vector<Label> numbers_;
  Drawing drawing_;
};

void CavityView::outline(const Sheet& sheet, const std::vector<Flat>& points, bool closed, Pen pen,
                         Fill fill) {
  drawing_.items.emplace_back(Stroke{sheet.to_paper(points), closed, pen, fill});
}

/// Leads to the outermost point on either side, so that lines cross as little of the view as can be.
void CavityView::call(const Sheet& sheet, const std::vector<Flat>& points, std::string text,
                      bool bold, Pen pen, Pen sample) {
  if (points.empty()) return;
  const auto before = [](const Flat& p, const Flat& q) { return p.a < q.a; };
  const Spot left = sheet.to_paper(*std::min_element(points.begin(), points.end(), before));
  const Spot right = sheet.to_paper(*std::max_element(points.begin(), points.end(), before));
  callouts_.push_back({left, right, std::move(text), bold, pen, sample});
}

void CavityView::name_sections(const Sheet& sheet) {
  for (std::size_t i = 0; i < sections_.size(); ++i) {
    const SeenSection& section = sections_[i];
    std::vector<Flat> ends = section.outline;
    if (!section.square_on) {
      const Flat& far = section.outline[1];
      ends = {section.outline[0].b > far.b ? section.outline[0] : far};
    }
    call(sheet, ends, "section " + section.label, false, Pen::leader, section_pen(i));
  }
}

std::vector<Flat> CavityView::seen_keep_out(const Sheet& sheet,
                                            const survey::KeepOut& keep_out) const {
  return clipped(seen(look_, keep_out), sheet.extent());
}

void CavityView::name_keep_outs(const Sheet& sheet) {
  for (const survey::KeepOut& keep_out : cavity_.keep_outs) {
    std::string text = keep_out.name;
    if (keep_out.kind != survey::KeepOutKind::fixed) text += std::string(" (") + word(keep_out.kind) + ")";
    const core::Length clearance = keep_out.clearance.value_or(job_.rules.body_clearance);
    call(sheet, seen_keep_out(sheet, keep_out), text + ", keep " + mm_text(clearance) + " off");
  }
}

void CavityView::name_contents(const Sheet& sheet) {
  for (const plan::BoxPlan& box : plan_.boxes) {
    int first = 1;
    for (const packing::Block& block : box.box.layout.blocks) {
      std::string text = "block " + std::to_string(block.id) + ": ";
      text += block.cells == 1 ? "cell " + std::to_string(first)
                               : "cells " + std::to_string(first) + " to " +
                                     std::to_string(first + block.cells - 1);
      first += block.cells;
      for (const restraint::Strap& strap : box.straps.straps) {
        if (strap.block == block.id) text += ", strap " + strap.mark;
      }
      const Flat low = seen(look_, block.body.low), high = seen(look_, block.body.high);
      const double middle = (low.b + high.b) / 2;
      if (look_ == Look::from_above) call(sheet, {{low.a, middle}, {high.a, middle}}, text);
    }
    for (const packing::PlacedFitting& fitting : box.box.layout.fittings) {
      const Flat low = seen(look_, fitting.body.low), high = seen(look_, fitting.body.high);
      const double middle = (low.b + high.b) / 2;
      call(sheet, {{low.a + 2, middle}, {high.a - 2, middle}}, fitting.name);
    }
  }
}

const restraint::FixingUseResult* CavityView::use_of(const survey::Fixing& fixing) const {
  const restraint::FixingUseResult* found = nullptr;
  for (const plan::BoxPlan& box : plan_.boxes) {
    for (const restraint::FixingUseResult& use : box.mounting.fixings) {
      if (use.fixing == fixing.name && (!found || use.carries)) found = &use;
    }
  }
  return found;
}

std::string CavityView::fixing_text(const survey::Fixing& fixing) const {
  const restraint::FixingUseResult* use = use_of(fixing);
  std::string text = fixing.name + ", " + fixing.thread;
  if (use && use->carries) return text + ", carries, " + percent(use->use) + " used";
  return fixing.use == survey::FixingUse::never ? text + ", never" : text;
}

void CavityView::name_fixings(const Sheet& sheet) {
  for (const survey::Fixing& fixing : cavity_.fixings) {
    if (look_ != Look::from_above && fixing.name.size() <= short_fixing_name) continue;
    call(sheet, {seen(look_, fixing.at)}, fixing_text(fixing));
  }
}

void CavityView::name_gaps(const Sheet& sheet) {
  for (const SeenGap& gap : gaps_) call(sheet, {gap.from, gap.to}, gap.text, true, Pen::gap_leader);
}

void CavityView::name_things(const Sheet& sheet) {
  callouts_.clear();
  name_gaps(sheet);
  name_sections(sheet);
  name_keep_outs(sheet);
  name_contents(sheet);
  name_fixings(sheet);
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

void CavityView::draw_keep_outs(const Sheet& sheet) {
  for (const survey::KeepOut& keep_out : cavity_.keep_outs) {
    const bool moving = keep_out.kind == survey::KeepOutKind::moving;
    const std::vector<Flat> shape = seen_keep_out(sheet, keep_out);
    if (shape.size() < 3) continue;
    outline(sheet, shape, true, Pen::keep_out, moving ? Fill::moving : Fill::keep_out);
  }
}

void CavityView::draw_box(const Sheet& sheet, const plan::BoxPlan& box) {
  const std::vector<Flat> outer = seen_box(box.box.layout, look_);
  if (outer.empty()) return;
  outline(sheet, outer, true, Pen::wall, Fill::box);
  if (look_ == Look::from_above) {
    outline(sheet, inset(outer, job_.rules.wall.mm()), true, Pen::inner, Fill::none);
    return;
  }
  const Flat low = outer[0], high = outer[2];
  const double wall = job_.rules.wall.mm();
  const double floor = low.b + job_.rules.floor.mm(), lid = high.b - job_.rules.lid.mm();
  outline(sheet, {{low.a, lid}, {high.a, lid}}, false, Pen::inner, Fill::none);
  outline(sheet, {{low.a + wall, lid}, {low.a + wall, floor}, {high.a - wall, floor}, {high.a - wall, lid}},
          false, Pen::inner, Fill::none);
}

void CavityView::draw_contents(const Sheet& sheet, const plan::BoxPlan& box) {
  for (const Body& body : contents(box.box.layout, job_.rules, look_)) {
    const std::vector<Flat> shape = seen(look_, body.cuboid);
    outline(sheet, shape, true, Pen::cell, body.fill);
    if (body.number == 0 || body.hidden) continue;
    const Patch patch = rectangle(sheet.to_paper(shape[0]), sheet.to_paper(shape[2]));
    const std::string text = std::to_string(body.number);
    const double size = std::min({3.2, patch.height() * 0.8, patch.width() / text_width(text, 1, true)});
    if (size < 1.9) continue;
    numbers_.push_back({{(patch.left + patch.right) / 2, (patch.top + patch.bottom) / 2}, text, size,
                        Anchor::middle, true, false});
  }
  for (const restraint::Strap& strap : box.straps.straps) {
    for (const packing::Block& block : box.box.layout.blocks) {
      if (block.id != strap.block) continue;
      for (const packing::Cuboid& band : strap_bands(block, strap)) {
        const std::vector<Flat> shape = seen(look_, band);
        if (look_ == Look::from_above) outline(sheet, shape, true, Pen::strap, Fill::none);
        if (look_ != Look::from_above) {
          outline(sheet, {shape[3], shape[2]}, false, Pen::strap, Fill::none);
        }
      }
    }
  }
}

void CavityView::draw_fixings(const Sheet& sheet, NearLabels& labels) {
  for (const survey::Fixing& fixing : cavity_.fixings) {
    const Spot at = sheet.to_paper(seen(look_, fixing.at));
    const restraint::FixingUseResult* use = use_of(fixing);
    const bool never = fixing.use == survey::FixingUse::never;
    drawing_.items.emplace_back(
        Ring{at, 1.2, Pen::fixing, use && use->carries ? Fill::ink : Fill::paper});
    if (never) {
      for (const double turn : {1.0, -1.0}) {
        drawing_.items.emplace_back(Stroke{{{at.x - 1.1, at.y - 1.1 * turn}, {at.x + 1.1, at.y + 1.1 * turn}},
                                           false, Pen::fixing, Fill::none});
      }
    }
    if (look_ == Look::from_above || fixing.name.size() > short_fixing_name) continue;
    labels.place(drawing_, at, 1.8, {{}, fixing.name, 2.8, Anchor::start, false, false});
  }
}

void CavityView::draw_dimensions(const Sheet& sheet, NearLabels& labels) {
  int row = 0;
  for (const plan::BoxPlan& box : plan_.boxes) {
    Extent extent;
    for (const Flat& p : seen_box(box.box.layout, look_)) extent.take(p);
    if (extent.empty) continue;
    const Spot low = sheet.to_paper({extent.a_low, extent.b_low});
    const Spot high = sheet.to_paper({extent.a_high, extent.b_high});
    draw_width(drawing_, low.x, high.x, low.y, sheet.dimension_y(row),
               shortened(box.box.mark, 8) + " outside " + number(extent.a_high - extent.a_low), labels);
    draw_height(drawing_, low.y, high.y, high.x, sheet.dimension_x(row),
                "outside " + number(extent.b_high - extent.b_low), labels);
    ++row;
  }
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
  for (const plan::BoxPlan& box : plan_.boxes) draw_box(sheet, box);
  draw_keep_outs(sheet);
  for (const plan::BoxPlan& box : plan_.boxes) draw_contents(sheet, box);
  draw_sections(sheet, true);
  CalloutColumns(callouts_, column_width, middle).draw(drawing_, columns);
  for (const SeenGap& gap : gaps_) draw_gap(drawing_, sheet, gap);
  for (const Label& label : numbers_) {
    labels.block(text_patch(label));
    drawing_.items.emplace_back(label);
  }
  draw_dimensions(sheet, labels);
  draw_rulers(drawing_, sheet, look_, labels);
  draw_fixings(sheet, labels);
  draw_legend(drawing_, sheet.height() - 3);
  return drawing_;
}

}  // namespace

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
