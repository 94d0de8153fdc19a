#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "cellstow/geometry/segment.hpp"
#include "walls.hpp"

namespace cellstow::region {
namespace {

using geometry::convex_hull;
using geometry::far_um;
using geometry::Loop;
using geometry::Side;
using geometry::SpanUm;
using survey::Between;
using survey::Section;

/// Free space may be given away by this much between ruled walls (docs/legal-layout.md).
constexpr double ruled_loss_um = 100.0;
/// Interpolated corners are rounded to the grid: they may lie this far off.
constexpr Um rounding_um = 1;

Loop to_loop(const std::vector<survey::Point2>& points) {
  Loop loop;
  for (const survey::Point2& point : points) loop.push_back({point.a.um(), point.b.um()});
  return loop;
}

std::vector<Loop> to_loops(const Section& section) {
  std::vector<Loop> loops{to_loop(section.outline)};
  for (const auto& hole : section.holes) loops.push_back(to_loop(hole));
  return loops;
}

Um between_um(Um from, Um to, double share) {
  return from + static_cast<Um>(std::llround(static_cast<double>(to - from) * share));
}

PointUm between_um(PointUm from, PointUm to, double share) {
  return {between_um(from.s, to.s, share), between_um(from.t, to.t, share)};
}

/// Matched corners, a share of the way from one section to the next.
std::vector<Loop> interpolate(const std::vector<Loop>& from, const std::vector<Loop>& to,
                              double share) {
  std::vector<Loop> loops = from;
  for (std::size_t i = 0; i < loops.size(); ++i) {
    for (std::size_t k = 0; k < loops[i].size(); ++k) {
      loops[i][k] = between_um(from[i][k], to[i][k], share);
    }
  }
  return loops;
}

double distance_um(PointUm a, PointUm b) {
  return std::hypot(static_cast<double>(a.s - b.s), static_cast<double>(a.t - b.t));
}

/// Breadth of four points square to the line through two of them; infinite when these coincide.
double thickness_um(const std::array<PointUm, 4>& points, std::size_t a, std::size_t b) {
  const double ds = static_cast<double>(points[b].s - points[a].s);
  const double dt = static_cast<double>(points[b].t - points[a].t);
  const double length = std::hypot(ds, dt);
  if (length == 0) return std::numeric_limits<double>::infinity();
  double low = 0, high = 0;
  for (const PointUm& p : points) {
    const double off = (ds * static_cast<double>(p.t - points[a].t) -
                        dt * static_cast<double>(p.s - points[a].s)) / length;
    low = std::min(low, off);
    high = std::max(high, off);
  }
  return high - low;
}

Wall everything(Um reach) {
  const Loop frame{{-far_um, -far_um}, {far_um, -far_um}, {far_um, far_um}, {-far_um, far_um}};
  return Wall({frame}, Side::inside, reach, 0);
}

// ---- sections across z: the plan outlines themselves ------------------------

/// What one straight edge sweeps in plan on its way from a to b.
struct SweptEdge { PointUm a_start, a_end, b_start, b_end; };

/// How far the hull of a swept edge may stray from what it sweeps. Nothing when its corners go round a convex
/// figure in order, as between parallel edges. Else it strays no more than twist / 4, twist the change of the edge on
/// the way (any weighting of four corners differs from their bilinear patch by twist * covariance, which is at most 1/4);
/// nor by more than the hull is thick, since what is swept hangs together.
double hull_stray_um(const SweptEdge& swept) {
  const std::array<PointUm, 4> corners{swept.a_start, swept.a_end, swept.b_end, swept.b_start};
  int left = 0, right = 0;
  for (std::size_t k = 0; k < 4; ++k) {
    const int sign = geometry::turn_sign(corners[k], corners[(k + 1) % 4], corners[(k + 2) % 4]);
    left += sign > 0;
    right += sign < 0;
  }
  if (left == 0 || right == 0) return 0;
  const PointUm before{swept.a_end.s - swept.a_start.s, swept.a_end.t - swept.a_start.t};
  const PointUm after{swept.b_end.s - swept.b_start.s, swept.b_end.t - swept.b_start.t};
  double stray_um = distance_um(before, after) / 4;
  for (std::size_t k = 0; k < 4; ++k) {
    for (std::size_t n = k + 1; n < 4; ++n) stray_um = std::min(stray_um, thickness_um(corners, k, n));
  }
  return stray_um;
}

/// Hulls of what an edge sweeps between two shares of the way, in as many slices as the loss allowed asks for.
void add_swept_edge(const SweptEdge& whole, double share_low, double share_high, Um reach,
                    std::vector<Wall>& walls) {
  const auto part = [&](double from, double to) {
    return SweptEdge{between_um(whole.a_start, whole.b_start, from), between_um(whole.a_end, whole.b_end, from),
                     between_um(whole.a_start, whole.b_start, to), between_um(whole.a_end, whole.b_end, to)};
  };
  const double stray_um = hull_stray_um(part(share_low, share_high));
  const int slices = std::max(1, static_cast<int>(std::ceil(stray_um / (ruled_loss_um - 20))));
  const double step = (share_high - share_low) / slices;
  for (int slice = 0; slice < slices; ++slice) {
    const SweptEdge swept = part(share_low + slice * step, share_low + (slice + 1) * step);
    Loop hull = convex_hull({swept.a_start, swept.a_end, swept.b_start, swept.b_end});
    walls.emplace_back(std::vector<Loop>{std::move(hull)}, Side::inside, reach + rounding_um, 0);
  }
}

/// Wall faces between two plan outlines, of which a box takes up the part from share_low to share_high: the outline
/// at the low end, and around each edge that moves the space it sweeps from there.
void add_ruled_faces(const std::vector<Loop>& low, const std::vector<Loop>& high, double share_low,
                     double share_high, Um reach, std::vector<Wall>& walls) {
  walls.emplace_back(interpolate(low, high, share_low), Side::outside, reach + rounding_um, 0);
  for (std::size_t i = 0; i < low.size(); ++i) {
    for (std::size_t k = 0; k < low[i].size(); ++k) {
      const std::size_t n = (k + 1) % low[i].size();
      if (low[i][k] == high[i][k] && low[i][n] == high[i][n]) continue;
      add_swept_edge({low[i][k], low[i][n], high[i][k], high[i][n]}, share_low, share_high, reach, walls);
    }
  }
}

/// Sections that are alike, as those of an upright shaft, make one wall.
void add_outline(const std::vector<Loop>& loops, Um reach, std::vector<Wall>& walls) {
  const bool known = std::any_of(walls.begin(), walls.end(), [&](const Wall& wall) {
    return wall.material() == Side::outside && wall.reach() == reach && wall.loops() == loops;
  });
  if (!known) walls.emplace_back(loops, Side::outside, reach, 0);
}

std::vector<Wall> plan_section_walls(const survey::Sections& sections, Between reading,
                                     Column column, Um reach) {
  const std::vector<Section>& at = sections.at;
  if (column.low < at.front().station.um() || column.high > at.back().station.um()) {
    return {everything(reach)};
  }
  std::vector<Wall> walls;
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    const Um low = at[i].station.um(), high = at[i + 1].station.um();
    if (low >= column.high || high <= column.low) continue;
    const std::vector<Loop> loops_low = to_loops(at[i]), loops_high = to_loops(at[i + 1]);
    if (reading == Between::common) {
      add_outline(loops_low, reach, walls);
      add_outline(loops_high, reach, walls);
    } else if (loops_low == loops_high) {
      add_outline(loops_low, reach, walls);
    } else {
      const double height = static_cast<double>(high - low);
      add_ruled_faces(loops_low, loops_high,
                      static_cast<double>(std::max(low, column.low) - low) / height,
                      static_cast<double>(std::min(high, column.high) - low) / height, reach,
                      walls);
    }
  }
  return walls;
}

// ---- sections across x or y: upright planes, each slab a strip of the plan --

/// A slice of the plan between two upright planes with what is blocked in it.
struct Slice {
  Um low, high;                      ///< between these stations
  std::vector<SpanUm> blocked;       ///< along the section plane
};

std::vector<SpanUm> blocked_columns(const std::vector<Wall>& walls, Column column) {
  std::vector<SpanUm> blocked, free, merged;
  for (const Wall& wall : walls) wall.add_blocked(column.low, column.high, blocked);
  geometry::complement(blocked, free);
  geometry::complement(free, merged);
  return merged;
}

/// Farthest way of any matched corner from one section to the next.
double farthest_way_um(const std::vector<Loop>& from, const std::vector<Loop>& to) {
  double way_um = 0;
  for (std::size_t i = 0; i < from.size(); ++i) {
    for (std::size_t k = 0; k < from[i].size(); ++k) {
      way_um = std::max(way_um, distance_um(from[i][k], to[i][k]));
    }
  }
  return way_um;
}

/// Ruled walls between two upright sections, cut into slices with whole-um ends, thin enough that no corner moves
/// farther within one than may be given away (or 1 um thin, where walls are that steep). A slice is blocked
/// wherever its walls pass.
void add_ruled_slices(const Section& from, const Section& to, Column column,
                      std::vector<Slice>& slices) {
  const std::vector<Loop> loops_from = to_loops(from), loops_to = to_loops(to);
  const Um low = from.station.um(), high = to.station.um(), depth = high - low;
  const double way_um = farthest_way_um(loops_from, loops_to);
  if (way_um == 0) {
    slices.push_back({low, high, blocked_columns({Wall(loops_from, Side::outside, 0, 0)}, column)});
    return;
  }
  const Um count = std::min(depth, static_cast<Um>(std::ceil(way_um / (ruled_loss_um - 6))));
  for (Um i = 0; i < count; ++i) {
    const Um start = depth * i / count, end = depth * (i + 1) / count;
    std::vector<Wall> walls;
    add_ruled_faces(loops_from, loops_to, static_cast<double>(start) / static_cast<double>(depth),
                    static_cast<double>(end) / static_cast<double>(depth), 0, walls);
    slices.push_back({low + start, low + end, blocked_columns(walls, column)});
  }
}

std::vector<Slice> slices_of(const survey::Sections& sections, Between reading, Column column) {
  std::vector<Slice> slices;
  for (std::size_t i = 0; i + 1 < sections.at.size(); ++i) {
    const Section &from = sections.at[i], &to = sections.at[i + 1];
    if (reading == Between::straight) {
      add_ruled_slices(from, to, column, slices);
      continue;
    }
    const std::vector<Wall> both{Wall(to_loops(from), Side::outside, 0, 0),
                                 Wall(to_loops(to), Side::outside, 0, 0)};
    slices.push_back({from.station.um(), to.station.um(), blocked_columns(both, column)});
  }
  return slices;
}

/// Do the blocked spans of two neighbouring slices pair off, each touching its own partner?
bool pair_off(const Slice& a, const Slice& b) {
  return std::equal(a.blocked.begin(), a.blocked.end(), b.blocked.begin(), b.blocked.end(),
                    [](const SpanUm& p, const SpanUm& q) { return p.low <= q.high && q.low <= p.high; });
}

/// One staircase-shaped loop along the k-th blocked span of slices [first, last), which pair off.
Loop staircase(const std::vector<Slice>& slices, std::size_t first, std::size_t last,
               std::size_t k) {
  Loop loop;
  for (std::size_t i = first; i < last; ++i) {
    loop.push_back({slices[i].low, slices[i].blocked[k].low});
    loop.push_back({slices[i].high, slices[i].blocked[k].low});
  }
  for (std::size_t i = last; i-- > first;) {
    loop.push_back({slices[i].high, slices[i].blocked[k].high});
    loop.push_back({slices[i].low, slices[i].blocked[k].high});
  }
  return loop;
}

std::vector<Wall> upright_section_walls(const survey::Sections& sections, Between reading,
                                        Column column, Um reach) {
  const std::vector<Slice> slices = slices_of(sections, reading, column);
  const Um first = slices.front().low, last = slices.back().high;
  std::vector<Loop> loops{{{-far_um, -far_um}, {first, -far_um}, {first, far_um}, {-far_um, far_um}},
                          {{last, -far_um}, {far_um, -far_um}, {far_um, far_um}, {last, far_um}}};
  for (std::size_t begin = 0, end; begin < slices.size(); begin = end) {
    end = begin + 1;
    const std::size_t spans = slices[begin].blocked.size();
    while (end < slices.size() && pair_off(slices[end - 1], slices[end])) ++end;
    for (std::size_t k = 0; k < spans; ++k) loops.push_back(staircase(slices, begin, end, k));
  }
  // The loops hold (station, along the plane): x, y for sections across x, y, x for those across y.
  const Wall wall(std::move(loops), Side::inside, reach, 0);
  return {sections.across == survey::Axis::x ? wall : wall.transposed()};
}

}  // namespace

std::vector<Wall> section_walls(const survey::Sections& sections, Between reading, Column column,
                                Um reach) {
  return sections.across == survey::Axis::z
             ? plan_section_walls(sections, reading, column, reach)
             : upright_section_walls(sections, reading, column, reach);
}

}  // namespace cellstow::region
