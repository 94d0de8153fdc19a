#include "area_bound.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/geometry/exact.hpp"

namespace cellstow::packing {
namespace {

using geometry::Int128;

/// Twice the area of a section's outline less its holes, um2. Holes run clockwise.
Int128 doubled_area(const survey::Section& section) {
  auto twice = [](const std::vector<survey::Point2>& points) {
    Int128 sum = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const auto& p = points[i];
      const auto& q = points[(i + 1) % points.size()];
      sum += Int128(p.a.um()) * q.b.um() - Int128(q.a.um()) * p.b.um();
    }
    return sum < 0 ? -sum : sum;
  };
  Int128 area = twice(section.outline);
  for (const auto& hole : section.holes) area -= twice(hole);
  return area;
}

/// Widest extent of the section along its first axis, um.
Um breadth(const survey::Section& section) {
  const auto [low, high] =
      std::minmax_element(section.outline.begin(), section.outline.end(),
                          [](const auto& a, const auto& b) { return a.a < b.a; });
  return high->a.um() - low->a.um();
}

/// Twice the largest plan area that any height span can use.
Int128 doubled_plan_area(const survey::Sections& sections) {
  Int128 area = 0;
  if (sections.across == survey::Axis::z) {
    for (const survey::Section& section : sections.at) area = std::max(area, doubled_area(section));
    return area;
  }
  for (std::size_t i = 0; i + 1 < sections.at.size(); ++i) {
    const Um depth = (sections.at[i + 1].station - sections.at[i].station).um();
    const Um wide = std::max(breadth(sections.at[i]), breadth(sections.at[i + 1]));
    area += 2 * Int128(depth) * wide;
  }
  return area;
}

}  // namespace

int area_bound(const Setup& setup) {
  const Int128 twice = doubled_plan_area(setup.cavity.sections);
  const region::HeightSpan limits = region::height_limits(setup.cavity, setup.clearances);
  Um lowest_case = geometry::far_um;
  Int128 cells = 0;
  const int most = std::min(setup.rules.block_cells.max, 10'000);
  for (const Stance stance : setup.cell.stances) {
    lowest_case = std::min(lowest_case, case_height(setup.cell, stance));
    const BlockRule rule = block_rule(setup.cell, stance, setup.rules);
    // Footprint per cell is least in the longest or the shortest block.
    for (const int n : {rule.min_cells, most}) {
      cells = std::max(cells, Int128(geometry::floor_div(
                                  twice * n, 2 * Int128(rule.length(n)) * rule.breadth)));
    }
  }
  const Um room = limits.top - limits.bottom;
  const int fit = static_cast<int>(std::max<Um>(0, room / lowest_case));
  const int tiers = setup.loose ? fit : std::min(setup.rules.tiers, fit);
  return static_cast<int>(std::min<Int128>(cells * tiers, 1'000'000));
}

/// Blocks widened by the gap at their high ends share no space in the inside widened alike.
int area_bound(const Setup& setup, const Stack& stack, const RectUm& outer) {
  const Int128 area = Int128(outer.x_high - outer.x_low - 2 * setup.content_shell() + setup.gap) *
                      (outer.y_high - outer.y_low - 2 * setup.content_shell() + setup.gap);
  Int128 all = 0;
  for (const Tier& tier : stack.tiers) {
    Int128 cells = 0;
    for (const Stance stance : tier.stances) {
      const BlockRule rule = block_rule(setup.cell, stance, setup.rules);
      for (const int n : {rule.min_cells, std::min(rule.max_cells, 10'000)}) {
        cells = std::max(cells, area * n / (Int128(rule.length(n) + setup.gap) * (rule.breadth + setup.gap)));
      }
    }
    all += cells;
  }
  return static_cast<int>(std::min<Int128>(all, 1'000'000));
}

}  // namespace cellstow::packing
