#pragma once
/// Parts and boxes for the tests of workshop drawings; invented sizes.

#include "cellstow/fabrication/sheet_work.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"

namespace workshop {

using namespace cellstow;
using core::Length;
using core::Point2;

inline Length mm(double value) { return Length::from_mm(value); }

inline survey::Job job() {
  survey::Job job;
  job.title = "demo";
  job.revision = "B";
  survey::Material sheet;
  sheet.name = "EN AW-5754 O/H111";
  sheet.density_kg_per_m3 = 2700;
  sheet.min_bend_radius_over_thickness = 1;
  sheet.k_factor = 0.4;
  job.rules.materials.wall = sheet;
  return job;
}

/// A box of this outline with one block in it.
inline plan::BoxPlan box(const survey::Job& job, const std::string& mark, std::vector<Point2> outline, double high, Point2 block_low, Point2 block_high) {
  plan::BoxPlan out;
  out.box.mark = mark;
  out.box.name = "tank well";
  out.box.layout.outline = std::move(outline);
  out.box.layout.z_bottom = mm(300);
  out.box.layout.lid_top = mm(300 + high);
  packing::Block block;
  block.id = 1;
  block.body = {{block_low.a, block_low.b, mm(306)}, {block_high.a, block_high.b, mm(300 + high - 30)}};
  out.box.layout.blocks = {block};
  out.sheet = fabrication::make_sheet_work(out.box, job.rules, job.revision);
  Point2 low = out.box.layout.outline.front(), top = low;
  for (const Point2& p : out.box.layout.outline) {
    low = {std::min(low.a, p.a), std::min(low.b, p.b)};
    top = {std::max(top.a, p.a), std::max(top.b, p.b)};
  }
  const Length off = (job.rules.wall + job.rules.flange) * 2;
  out.box.inside = {top.a - low.a - off, top.b - low.b - off, mm(high) - job.rules.floor - job.rules.lid};
  return out;
}

inline plan::BoxPlan rectangle(const survey::Job& job, const std::string& mark, double u, double v, double high) {
  return box(job, mark, {{mm(2000), mm(-300)}, {mm(2000 + u), mm(-300)}, {mm(2000 + u), mm(-300 + v)}, {mm(2000), mm(-300 + v)}}, high,
             {mm(2040), mm(-260)}, {mm(2000 + u - 40), mm(-300 + v - 40)});
}

inline plan::BoxPlan stepped(const survey::Job& job, const std::string& mark, double u, double v, double cut_u, double cut_v, double high) {
  return box(job, mark, {{mm(0), mm(0)}, {mm(u), mm(0)}, {mm(u), mm(v - cut_v)}, {mm(u - cut_u), mm(v - cut_v)}, {mm(u - cut_u), mm(v)}, {mm(0), mm(v)}},
             high, {mm(40), mm(40)}, {mm(u - cut_u - 40), mm(v - 40)});
}

inline plan::Plan plan_of(std::vector<plan::BoxPlan> boxes) {
  plan::Plan plan;
  plan.cavities.emplace_back();
  plan.cavities.back().boxes = std::move(boxes);
  return plan;
}

/// A folded pan, a wrap with ends, welded panels with a flange, a box too large for A4.
inline plan::Plan boxes(const survey::Job& plain) {
  survey::Job flanged = plain;
  flanged.rules.flange = mm(20);
  return plan_of({rectangle(plain, "AP", 500, 300, 130), rectangle(plain, "BW", 620, 420, 240), stepped(flanged, "CF", 800, 500, 200, 150, 300),
                  stepped(plain, "DS", 1300, 800, 300, 150, 350)});
}

/// A plate with more holes than are dimensioned in place, slots and an opening among them.
inline fabrication::SheetPart plate() {
  using namespace fabrication;
  SheetPart part;
  part.mark = "TW-PLATE";
  part.revision = "B";
  part.name = "plate";
  part.material = "EN AW-5754 H22";
  part.thickness = 3;
  part.flat.outline = {{0, 0, 0}, {390, 0, 0.41421356237309503}, {400, 10, 0}, {400, 250, 0}, {120, 250, 0}, {120, 180, 0}, {0, 180, 0}};
  for (int i = 0; i < 9; ++i) part.flat.holes.push_back(round_hole({20.0 + 45 * i, 15.5 + i}, 5.5, "lid screw M5"));
  part.flat.holes.push_back({HoleKind::slot, {200, 120}, 9, 20, 90, {}, "bracket M8"});
  part.flat.holes.push_back({HoleKind::contour, {300, 120}, 0, 0, 0, {{280, 100, 0}, {280, 140, 0}, {320, 140, 0}, {320, 100, 0}}, "cable slot"});
  part.mass = core::Kg::of(0.7);
  return part;
}

}  // namespace workshop
