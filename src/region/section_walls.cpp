#include <algorithm>
#include <cmath>

#include "ruled_slab.hpp"
#include "swept_edge.hpp"
#include "upright_walls.hpp"

namespace cellstow::region {
namespace {

using geometry::far_um;
using geometry::Side;
using survey::Between;
using survey::Section;

/// What chords may give away of free space; the rest is for rounding.
constexpr double bow_um = 0.8 * ruled_loss_um;
/// Interpolated corners are rounded to the grid: they may lie this far off.
constexpr Um rounding_um = 1;

Loop to_loop(const std::vector<survey::Point2>& points) {
  Loop loop;
  for (const survey::Point2& point : points) loop.push_back({point.a.um(), point.b.um()});
  return loop;
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

Wall everything(Um reach) {
  const Loop frame{{-far_um, -far_um}, {far_um, -far_um}, {far_um, far_um}, {-far_um, far_um}};
  return Wall({frame}, Side::inside, reach, 0);
}

// ---- sections across z: the plan outlines themselves ------------------------

/// Wall faces between two plan outlines, of which a box takes up the part from share_low to share_high: the outline
/// at the low end, and around each edge that moves the space it sweeps from there.
void add_ruled_faces(const std::vector<Loop>& low, const std::vector<Loop>& high, double share_low,
                     double share_high, Um reach, std::vector<Wall>& walls) {
  walls.emplace_back(interpolate(low, high, share_low), Side::outside, reach + rounding_um, 0);
  for (std::size_t i = 0; i < low.size(); ++i) {
    for (std::size_t k = 0; k < low[i].size(); ++k) {
      const std::size_t n = (k + 1) % low[i].size();
      if (low[i][k] == high[i][k] && low[i][n] == high[i][n]) continue;
      const SweptEdge edge{between_um(low[i][k], high[i][k], share_low), between_um(low[i][n], high[i][n], share_low),
                           between_um(low[i][k], high[i][k], share_high), between_um(low[i][n], high[i][n], share_high)};
      for (Loop& loop : swept_loops(edge, bow_um)) {
        walls.emplace_back(std::vector<Loop>{std::move(loop)}, Side::inside, reach + rounding_um, 0);
      }
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

}  // namespace

std::vector<Loop> to_loops(const Section& section) {
  std::vector<Loop> loops{to_loop(section.outline)};
  for (const auto& hole : section.holes) loops.push_back(to_loop(hole));
  return loops;
}

std::vector<Wall> section_walls(const survey::Sections& sections, Between reading, Column column,
                                Um reach) {
  return sections.across == survey::Axis::z
             ? plan_section_walls(sections, reading, column, reach)
             : upright_section_walls(sections, reading, column, reach);
}

}  // namespace cellstow::region
