#include "gaps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/region/free_plan.hpp"

namespace cellstow::plan {
namespace {

using core::Length;
using core::Um;
using geometry::Loop;
using geometry::PointUm;
using region::HeightSpan;

/// Gaps wider than this tell nobody anything.
constexpr double widest_told_mm = 150;
constexpr Um highest_lift_um = 400'000;

Loop loop_of(const std::vector<core::Point2>& outline) {
  Loop loop;
  for (const core::Point2& p : outline) loop.push_back({p.a.um(), p.b.um()});
  return loop;
}

/// The outline where it stands in the car.
Loop loop_of(const box::Box& box) { return loop_of(core::to_car(box.layout.heading, box.layout.outline)); }

HeightSpan span_of(const box::Box& box) {
  return {box.layout.z_bottom.um(), box.layout.lid_top.um()};
}

/// @param a, b  an edge in the box's own frame
std::string side_of(PointUm a, PointUm b) {
  // Outlines run counter-clockwise in (u rearward, v to the right): outward is (dv, -du).
  const Um out_x = b.t - a.t, out_y = a.s - b.s;
  if (std::abs(out_x) >= std::abs(out_y)) return out_x > 0 ? "rear side" : "front side";
  return out_y > 0 ? "right side" : "left side";
}

Gap gap_between(const geometry::Wall& wall, const std::string& what, PointUm a, PointUm b,
                Length height, const std::string& where) {
  Gap gap{what, where, {}, 1e9, 0};
  for (const Loop& loop : wall.loops()) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const geometry::Nearest near = geometry::nearest(a, b, loop[i], loop[(i + 1) % loop.size()]);
      if (near.distance_um / 1000 >= gap.gap_mm) continue;
      gap.gap_mm = near.distance_um / 1000;
      gap.at = {Length::from_um(near.at.s), Length::from_um(near.at.t), height};
    }
  }
  return gap;
}

/// Sideways gaps: one entry a box side and source, the least of its kind.
void add_side_gaps(const region::FreePlan& bare, const survey::Cavity& cavity,
                   const survey::Rules& rules, const box::Box& box, std::vector<Gap>& gaps) {
  const Loop loop = loop_of(box), unturned = loop_of(box.layout.outline);
  const Length middle = Length::from_um((span_of(box).bottom + span_of(box).top) / 2);
  std::map<std::pair<int, std::string>, Gap> least;
  for (const geometry::Wall& wall : bare.walls(region::Strips::along_x)) {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const PointUm a = loop[k], b = loop[(k + 1) % loop.size()];
      const std::string where = fmt::format("box {}, {}", box.mark, side_of(unturned[k], unturned[(k + 1) % unturned.size()]));
      Gap gap = gap_between(wall, bare.names()[static_cast<std::size_t>(wall.source())], a, b, middle, where);
      // Upright cylinders are discs: a point with the radius as reach.
      gap.gap_mm -= static_cast<double>(wall.reach()) / 1000;
      gap.needed_mm = rules.body_clearance.mm();
      if (wall.source() > 0) {
        const auto& own = cavity.keep_outs[static_cast<std::size_t>(wall.source() - 1)].clearance;
        if (own) gap.needed_mm = own->mm();
      }
      const auto [it, fresh] = least.try_emplace({wall.source(), where}, gap);
      if (!fresh && gap.gap_mm < it->second.gap_mm) it->second = gap;
    }
  }
  for (auto& [key, gap] : least) gaps.push_back(std::move(gap));
}

/// How far the span may grow downward or upward before the outline meets something.
Um free_lift(const survey::Cavity& cavity, survey::Between reading, const Loop& outline,
             HeightSpan span, bool up) {
  const auto clear = [&](Um lift) {
    const HeightSpan grown = up ? HeightSpan{span.bottom, span.top + lift}
                                : HeightSpan{span.bottom - lift, span.top};
    return region::free_plan(cavity, {0, 0, 0}, reading, grown).admits(outline);
  };
  Um low = 0, high = highest_lift_um;
  if (clear(high)) return high;
  while (high - low > 1) {
    const Um middle = (low + high) / 2;
    (clear(middle) ? low : high) = middle;
  }
  return low;
}

/// Which keep-out stands in the way once the span has grown a little further; else the cavity itself.
std::string met_by_lift(const survey::Cavity& cavity, survey::Between reading, const Loop& outline,
                        HeightSpan span, bool up, Um lift) {
  survey::Cavity bare = cavity;
  for (std::size_t k = 0; k < cavity.keep_outs.size(); ++k) {
    bare.keep_outs.assign(1, cavity.keep_outs[k]);
    bare.keep_outs[0].clearance = Length{};
    if (free_lift(bare, reading, outline, span, up) > lift + 20) continue;
    survey::Cavity none = cavity;
    none.keep_outs.clear();
    if (free_lift(none, reading, outline, span, up) > lift + 20) return cavity.keep_outs[k].name;
  }
  return up ? "cavity roof" : "cavity floor";
}

void add_height_gaps(const survey::Cavity& cavity, const survey::Rules& rules,
                     survey::Between reading, const box::Box& box, std::vector<Gap>& gaps) {
  survey::Cavity touching = cavity;
  for (survey::KeepOut& keep_out : touching.keep_outs) keep_out.clearance = Length{};
  const Loop outline = loop_of(box);
  for (const bool up : {false, true}) {
    const Um lift = free_lift(touching, reading, outline, span_of(box), up);
    if (lift >= highest_lift_um) continue;
    Gap gap;
    gap.what = met_by_lift(touching, reading, outline, span_of(box), up, lift);
    gap.where = fmt::format("box {}, {}", box.mark, up ? "lid" : "floor");
    gap.at = {Length::from_um(outline.front().s), Length::from_um(outline.front().t),
              up ? box.layout.lid_top : box.layout.z_bottom};
    gap.gap_mm = static_cast<double>(lift) / 1000;
    gap.needed_mm = (up ? rules.lid_clearance : rules.body_clearance).mm();
    for (const survey::KeepOut& keep_out : cavity.keep_outs) {
      if (keep_out.name == gap.what) gap.needed_mm = keep_out.clearance.value_or(rules.body_clearance).mm();
    }
    gaps.push_back(gap);
  }
}

}  // namespace

std::vector<Gap> tightest_gaps(const survey::Cavity& cavity, const survey::Rules& rules,
                               survey::Between reading, const box::Box& box) {
  std::vector<Gap> gaps;
  if (box.layout.outline.empty()) return gaps;
  survey::Cavity touching = cavity;
  for (survey::KeepOut& keep_out : touching.keep_outs) keep_out.clearance = Length{};
  const HeightSpan span = span_of(box);
  // Walls that the box's own height meets, without sideways clearance but with the clearances above and below.
  const region::FreePlan bare = region::free_plan(touching, {0, 0, 0}, reading, span);
  add_side_gaps(bare, cavity, rules, box, gaps);
  add_height_gaps(cavity, rules, reading, box, gaps);
  std::erase_if(gaps, [](const Gap& gap) { return gap.gap_mm > widest_told_mm; });
  std::stable_sort(gaps.begin(), gaps.end(), [](const Gap& a, const Gap& b) {
    return a.gap_mm - a.needed_mm < b.gap_mm - b.needed_mm;
  });
  return gaps;
}

}  // namespace cellstow::plan
