#include "cellstow/fabrication/sheet_work.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/box/masses.hpp"
#include "cellstow/box/plan_outline.hpp"
#include "etch.hpp"

namespace cellstow::fabrication {
namespace {

using core::Length;
using core::Point2;

SheetPart flat_part(const box::Panel& panel, const std::string& revision, Placement at) {
  SheetPart part;
  part.mark = panel.mark;
  part.revision = revision;
  part.name = panel.name;
  part.material = panel.material;
  part.thickness = panel.thickness.mm();
  part.quantity = panel.quantity;
  part.mass = panel.mass;
  for (const Point2& p : panel.outline) part.flat.outline.push_back({p.a.mm(), p.b.mm(), 0});
  for (const box::Hole& hole : panel.holes) {
    part.flat.holes.push_back(round_hole({hole.centre.a.mm(), hole.centre.b.mm()}, hole.diameter.mm(), hole.what));
  }
  part.folded.push_back({{PlateSolid{at, part.flat.outline, part.flat.holes, part.thickness}}, {}});
  return part;
}

Placement lying(const std::vector<Point2>& outline, Length top) {
  Point2 low = outline.front();
  for (const Point2& p : outline) low = {std::min(low.a, p.a), std::min(low.b, p.b)};
  return {{low.a.mm(), low.b.mm(), top.mm()}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
}

Placement standing(const box::WallRun& run, Length foot) {
  const double du = (run.footprint[1].a - run.footprint[0].a).mm(), dv = (run.footprint[1].b - run.footprint[0].b).mm();
  const double length = std::hypot(du, dv);
  return {{run.footprint[0].a.mm(), run.footprint[0].b.mm(), foot.mm()}, {du / length, dv / length, 0}, {0, 0, 1},
          {dv / length, -du / length, 0}};
}

}  // namespace

std::string to_text(Construction construction) {
  switch (construction) {
    case Construction::none: return "no box";
    case Construction::welded_panels: return "welded panels";
    case Construction::folded_wrap: return "folded wrap with separate ends";
    case Construction::folded_pan: return "folded pan";
  }
  return {};
}

std::string to_text(LidStyle style) {
  switch (style) {
    case LidStyle::none: return "no lid";
    case LidStyle::plate_on_tabs: return "plate screwed into angle tabs inside the walls";
    case LidStyle::cap: return "cap, its edges folded down over the walls";
    case LidStyle::plate_on_flange: return "plate screwed to a flange round the mouth";
  }
  return {};
}

SheetWork make_sheet_work(const box::Box& box, const survey::Rules& rules, const std::string& revision) {
  SheetWork work;
  if (box.layout.outline.empty() || box.panels.empty()) return work;
  work.construction = Construction::welded_panels;
  const std::vector<box::WallRun> runs = box::wall_runs(box.layout.outline, rules.wall);
  const Length floor_top = box.layout.z_bottom + rules.floor;
  work.parts.push_back(flat_part(box.panels.front(), revision, lying(box.layout.outline, floor_top)));
  work.parts.back().kind = PartKind::floor;
  work.parts.back().arrow = Arrow::front;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    work.parts.push_back(flat_part(box.panels[i + 1], revision, standing(runs[i], floor_top)));
    work.parts.back().kind = PartKind::wall;
    work.parts.back().arrow = Arrow::up;
  }
  work.parts.push_back(flat_part(box.panels.back(), revision, lying(box.layout.outline, box.layout.lid_top)));
  work.parts.back().kind = PartKind::lid;
  work.parts.back().arrow = Arrow::front;
  for (SheetPart& part : work.parts) {
    etch(part);
    work.mass += part.mass * part.quantity;
  }
  return work;
}

}  // namespace cellstow::fabrication
