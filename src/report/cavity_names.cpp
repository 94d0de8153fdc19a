#include <algorithm>

#include "report/cavity_canvas.hpp"
#include "report/text.hpp"
#include "report/words.hpp"

namespace cellstow::report {

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
    if (!plan_.boxes.empty() && is_in_front(keep_out)) text += ", in front";
    const core::Length clearance = keep_out.clearance.value_or(job_.rules.body_clearance);
    call(sheet, visible_corners(sheet, keep_out), text + ", keep " + mm_text(clearance) + " off");
  }
}

/// Corners to which a line may lead: those that no box hides, or all when it is hidden altogether.
std::vector<Flat> CavityView::visible_corners(const Sheet& sheet, const survey::KeepOut& keep_out) const {
  std::vector<Flat> all = seen_keep_out(sheet, keep_out);
  std::vector<Flat> out;
  for (const Flat& p : all) {
    bool hidden = false;
    for (const plan::BoxPlan& box : plan_.boxes) {
      Extent extent;
      if (box.box.layout.outline.empty() || nearness(look_, around(keep_out)) >= nearness(look_, around(box.box.layout))) continue;
      for (const Flat& q : seen_box(box.box.layout, look_)) extent.take(q);
      hidden = hidden || (p.a > extent.a_low && p.a < extent.a_high && p.b > extent.b_low && p.b < extent.b_high);
    }
    if (!hidden) out.push_back(p);
  }
  return out.empty() ? all : out;
}

/// Half way up a body's shape, at its left and its right end less `inward`.
std::vector<Flat> CavityView::both_ends(const packing::Cuboid& body, core::Heading heading, double inward) const {
  const bool turned = look_ == Look::from_above && !heading.is_square();
  const std::vector<Flat> shape = seen(look_, turned ? body : around(body, heading));
  const double middle = (shape[0].b + shape[2].b) / 2;
  std::vector<Flat> ends{{shape[0].a + inward, middle}, {shape[2].a - inward, middle}};
  for (Flat& end : ends) {
    if (!turned) continue;
    const core::InPlan at = core::to_car(heading, core::InPlan{end.a, end.b});
    end = {at.a, at.b};
  }
  return ends;
}

/// A turned box is named with its heading; one that is square with the car is told by its dimensions.
void CavityView::name_turned(const Sheet& sheet) {
  for (const plan::BoxPlan& box : plan_.boxes) {
    if (box.box.layout.heading.is_square()) continue;
    const std::string text = "box " + box.box.mark + ", " + turned_words(box.box.layout.heading);
    call(sheet, seen_box(box.box.layout, look_), text, true);
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
      if (look_ == Look::from_above) call(sheet, both_ends(block.body, box.box.layout.heading, 0), text);
    }
    for (const packing::PlacedFitting& fitting : box.box.layout.fittings) {
      call(sheet, both_ends(fitting.body, box.box.layout.heading, 2), fitting.name);
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
  // A blank that does not break keeps figure and sign on one line.
  if (use && use->carries) return text + ", " + fixed(use->use * 100, 0) + "\u00a0%\u00a0used";
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
  name_turned(sheet);
  name_sections(sheet);
  name_keep_outs(sheet);
  name_contents(sheet);
  name_fixings(sheet);
}

}  // namespace cellstow::report
