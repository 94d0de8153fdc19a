#include "cellstow/way_in/cells_in.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "cellstow/box/plan_outline.hpp"
#include "cellstow/box/stack.hpp"
#include "overlap.hpp"

namespace cellstow::way_in {
namespace {

using core::Axis;
using geometry::Loop;
using geometry::SpanUm;
using geometry::Wall;
using packing::PlacedCell;
using region::FreePlan;
using region::HeightSpan;
using region::Strips;

/// Corners in the car of a body of a box.
std::vector<core::Point2> corners(const packing::Cuboid& body, core::Heading heading) {
  return core::to_car(heading, std::vector<core::Point2>{{body.low.x, body.low.y}, {body.high.x, body.low.y},
                                                         {body.high.x, body.high.y}, {body.low.x, body.high.y}});
}

Loop rectangle(const packing::Cuboid& body, core::Heading heading) {
  Loop loop;
  for (const core::Point2& p : corners(body, heading)) loop.push_back({p.a.um(), p.b.um()});
  return loop;
}

/// The last opening, when the box comes through it from above.
const survey::WayIn* opening_above(const survey::Cavity& cavity) {
  if (cavity.way_in.empty()) return nullptr;
  const survey::WayIn& last = cavity.way_in.back();
  return last.across == Axis::z && last.move[2] < 0 ? &last : nullptr;
}

/// The cavity with its lid open where the last opening is above, else as measured.
OpenCavity seen_from_inside(const survey::Cavity& cavity) {
  if (const survey::WayIn* above = opening_above(cavity)) return opened(cavity, *above);
  OpenCavity out{cavity, cavity.sections.between, true, {}};
  for (survey::KeepOut& keep_out : out.cavity.keep_outs) keep_out.clearance = Length{};
  return out;
}

/// Columns over one height, read once for many cells.
class Columns {
 public:
  Columns(const OpenCavity& cavity, HeightSpan span)
      : cavity_(cavity), free_(region::free_plan(cavity.cavity, {}, cavity.reading, span)) {}

  /// What stands in the column over a plan, fixed things first; empty when nothing does.
  std::vector<InTheWay> over(const Loop& plan) const {
    std::vector<InTheWay> out;
    for (const Wall& wall : free_.walls(Strips::along_x)) {
      if (!meets(plan, wall)) continue;
      const int source = wall.source();
      bool comes_out = false;
      if (source > 0) {
        const auto kind = cavity_.cavity.keep_outs[static_cast<std::size_t>(source - 1)].kind;
        comes_out = kind == survey::KeepOutKind::removable || kind == survey::KeepOutKind::soft;
      }
      out.push_back({free_.names()[static_cast<std::size_t>(source)], comes_out, 0});
    }
    std::stable_sort(out.begin(), out.end(), [](const InTheWay& a, const InTheWay& b) { return !a.comes_out && b.comes_out; });
    return out;
  }

  const FreePlan& plan() const { return free_; }

 private:
  const OpenCavity& cavity_;
  FreePlan free_;
};

bool fixed(const std::vector<InTheWay>& found) { return !found.empty() && !found.front().comes_out; }

void add_names(const std::vector<InTheWay>& found, std::vector<std::string>& names) {
  for (const InTheWay& it : found) {
    if (it.comes_out && std::find(names.begin(), names.end(), it.what) == names.end()) names.push_back(it.what);
  }
}

/// The shortest push inside the box from a place under the open column to a cell's place; slide_mm 0 when there is none.
UnderRoof push_for(const PlacedCell& cell, const FreePlan& columns, const FreePlan& inside) {
  UnderRoof out{cell.block, cell.place, 0, {}, {}};
  for (const Strips strips : {Strips::along_x, Strips::along_y}) {
    const bool x = strips == Strips::along_x;
    const Um s0 = x ? cell.body.low.x.um() : cell.body.low.y.um(), s1 = x ? cell.body.high.x.um() : cell.body.high.y.um();
    const Um t0 = x ? cell.body.low.y.um() : cell.body.low.x.um(), t1 = x ? cell.body.high.y.um() : cell.body.high.x.um();
    std::vector<SpanUm> free;
    columns.free_spans(strips, t0, t1, free);
    for (const SpanUm& span : free) {
      if (span.length() < s1 - s0) continue;
      const Um start = std::clamp(s0, span.low, span.high - (s1 - s0)), low = std::min(s0, start), high = std::max(s1, start + s1 - s0);
      const bool clear = x ? inside.covers(low, high, t0, t1) : inside.covers(t0, t1, low, high);
      const double way_mm = static_cast<double>(std::abs(start - s0)) / 1000;
      if (!clear || way_mm == 0 || (out.slide_mm > 0 && way_mm >= out.slide_mm)) continue;
      out.slide_mm = way_mm;
      out.towards = x ? (start > s0 ? "front" : "rear") : (start > s0 ? "left" : "right");
    }
  }
  return out;
}

FreePlan inside_of(const box::Box& box, const survey::Rules& rules) {
  Loop loop;
  if (!box.layout.outline.empty()) {
    for (const core::Point2& p : box::inset(box.layout.outline, rules.flange + rules.wall)) loop.push_back({p.a.um(), p.b.um()});
  } else {
    loop = {{-geometry::far_um, -geometry::far_um}, {geometry::far_um, -geometry::far_um},
            {geometry::far_um, geometry::far_um}, {-geometry::far_um, geometry::far_um}};
  }
  return FreePlan({Wall({loop}, geometry::Side::outside, 0, 0)}, {"box"});
}

/// One cell in its stance, posts included.
Body cell_body(const PlacedCell& placed, core::Heading heading, const survey::Cell& cell) {
  const Length top = placed.body.high.z + box::live_metal_above_case(cell, placed.stance);
  return Body("cell", {{"cell", corners(placed.body, heading), placed.body.low.z, top}});
}

/// How far up the column over a plan is free of all but what comes out, mm; empty when as far as `end`.
std::optional<double> room_over(const OpenCavity& cavity, const Loop& plan, Um from, Um end) {
  const auto free = [&](Um to) { return !fixed(Columns(cavity, {from, to}).over(plan)); };
  if (end <= from || free(end)) return {};
  Um low = from, high = end;
  while (high - low > 50) {
    const Um middle = (low + high) / 2;
    (free(middle) ? low : high) = middle;
  }
  return static_cast<double>(low - from) / 1000;
}

Length mouth_of(const box::Box& box, const survey::Rules& rules) {
  return box.layout.outline.empty() ? box.layout.lid_top : box.layout.lid_top - rules.lid;
}

}  // namespace

bool CellsIn::all_in() const {
  return looked_at && cannot.empty() &&
         std::none_of(passes.begin(), passes.end(), [](const Pass& p) { return p.manner == Manner::blocked; });
}

CellsIn cells_in(const box::Box& box, const survey::Cavity& cavity, const survey::Cell& cell,
                 const survey::Rules& rules) {
  CellsIn out;
  const survey::WayIn* above = opening_above(cavity);
  if (above == nullptr || box.layout.cells.empty()) return out;
  out.looked_at = true;
  const Body one = cell_body(box.layout.cells.front(), box.layout.heading, cell);
  for (const survey::WayIn& way : cavity.way_in) {
    // A cell in hand goes through anywhere.
    out.passes.push_back(pass_opening(one, way, Handling::may_tilt, Aim::elsewhere));
  }
  const OpenCavity open = opened(cavity, *above);
  const FreePlan inside = inside_of(box, rules);
  std::map<Um, Columns> by_foot;
  for (const PlacedCell& placed : box.layout.cells) {
    const Um foot = placed.body.low.z.um(), end = std::max(above->station.um(), placed.body.high.z.um());
    const Columns& columns = by_foot.try_emplace(foot, open, HeightSpan{foot, end}).first->second;
    const std::vector<InTheWay> found = columns.over(rectangle(placed.body, box.layout.heading));
    add_names(found, out.take_out);
    if (!fixed(found)) {
      ++out.from_above;
      continue;
    }
    UnderRoof under = push_for(placed, columns.plan().turned(box.layout.heading), inside);
    under.what = found.front().what;
    (under.slide_mm > 0 ? out.pushed : out.cannot).push_back(under);
  }
  std::stable_sort(out.pushed.begin(), out.pushed.end(), [](const UnderRoof& a, const UnderRoof& b) { return a.slide_mm > b.slide_mm; });
  return out;
}

LiftOut lid_out(const box::Box& box, const survey::Cavity& cavity, const survey::Cell& cell,
                const survey::Rules& rules) {
  LiftOut out;
  if (box.layout.outline.empty()) return out;
  out.looked_at = true;
  const Length posts = std::max(Length{}, cell.terminal_top - cell.height);
  out.needed_mm = (rules.lid + posts).mm();
  const OpenCavity open = seen_from_inside(cavity);
  const survey::WayIn* above = opening_above(cavity);
  const Um from = box.layout.lid_top.um();
  const Um end = above != nullptr ? std::max(above->station.um(), from) : from + 400'000;
  const Body lid("lid", {{"lid", core::to_car(box.layout.heading, box.layout.outline), box.layout.lid_top - rules.lid, box.layout.lid_top}});
  for (const Body::Part& part : lid.parts()) {
    const auto found = Columns(open, {from, end}).over(part.plan);
    add_names(found, out.take_out);
    const auto room = room_over(open, part.plan, from, end);
    if (!room || (out.room_mm && *room >= *out.room_mm)) continue;
    out.room_mm = room;
    out.limited_by = fixed(found) ? found.front().what : "cavity wall";
  }
  if (!out.room_mm && above == nullptr) out.room_mm = 400;
  return out;
}

CellsOut cells_out(const box::Box& box, const survey::Cavity& cavity, const survey::Cell& cell,
                   const survey::Rules& rules) {
  CellsOut out;
  if (box.layout.cells.empty()) return out;
  out.looked_at = true;
  const OpenCavity open = seen_from_inside(cavity);
  const survey::WayIn* above = opening_above(cavity);
  const Um mouth = mouth_of(box, rules).um();
  std::map<Um, Columns> by_top;
  std::vector<Loop> shut;
  for (const PlacedCell& placed : box.layout.cells) {
    const Length tall = placed.body.high.z + box::live_metal_above_case(cell, placed.stance) - placed.body.low.z;
    out.needed_mm = std::max(out.needed_mm, tall.mm());
    Um top = mouth + tall.um();
    if (above != nullptr) top = std::max(mouth, std::min(top, above->station.um()));
    // The box itself is in place: only what lies over its mouth counts.
    const Columns& columns = by_top.try_emplace(top, open, HeightSpan{mouth, std::max(top, mouth + 1)}).first->second;
    const auto found = columns.over(rectangle(placed.body, box.layout.heading));
    if (!fixed(found)) {
      ++out.can;
      continue;
    }
    out.cannot.push_back({placed.block, placed.place, 0, {}, found.front().what});
    shut.push_back(rectangle(placed.body, box.layout.heading));
  }
  out.least_room_mm = out.needed_mm;
  for (const Loop& plan : shut) {
    const Um end = mouth + std::llround(out.least_room_mm * 1000);
    if (const auto room = room_over(open, plan, mouth, end)) out.least_room_mm = *room;
  }
  return out;
}

}  // namespace cellstow::way_in
