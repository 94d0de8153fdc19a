#include "cellstow/region/free_plan.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "cellstow/geometry/segment.hpp"
#include "walls.hpp"

namespace cellstow::region {

FreePlan::FreePlan(std::vector<Wall> walls, std::vector<std::string> names)
    : walls_x_(std::move(walls)), names_(std::move(names)) {
  constexpr std::size_t plain_points = 128;
  std::size_t points = 0;
  for (const Wall& wall : walls_x_) {
    walls_y_.push_back(wall.transposed());
    for (const geometry::Loop& loop : wall.loops()) points += loop.size();
  }
  weight_ = 1 + static_cast<long long>(points / plain_points);
}

void FreePlan::free_spans(Strips strips, Um t_low, Um t_high, std::vector<SpanUm>& free) const {
  thread_local std::vector<SpanUm> blocked;
  blocked.clear();
  for (const Wall& wall : walls(strips)) wall.add_blocked(t_low, t_high, blocked);
  geometry::complement(blocked, free);
}

bool FreePlan::covers(Um x_low, Um x_high, Um y_low, Um y_high) const {
  std::vector<SpanUm> free;
  free_spans(Strips::along_x, y_low, y_high, free);
  return std::any_of(free.begin(), free.end(), [&](const SpanUm& span) {
    return span.low <= x_low && x_high <= span.high;
  });
}

namespace {

/// A point just inside the outline: beside the middle of its longest edge.
PointUm just_inside(const geometry::Loop& outline) {
  constexpr double in_um = 10;
  std::size_t longest = 0;
  double most = 0;
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const PointUm a = outline[k], b = outline[(k + 1) % outline.size()];
    const double length = std::hypot(static_cast<double>(b.s - a.s), static_cast<double>(b.t - a.t));
    if (length > most) longest = k, most = length;
  }
  const PointUm a = outline[longest], b = outline[(longest + 1) % outline.size()];
  const double in = (geometry::doubled_area(outline) > 0 ? in_um : -in_um) / std::max(1.0, most);
  return {(a.s + b.s) / 2 - std::llround(in * static_cast<double>(b.t - a.t)),
          (a.t + b.t) / 2 + std::llround(in * static_cast<double>(b.s - a.s))};
}

/// Even-odd over all loops: is the point in the wall's material?
bool in_material(const Wall& wall, PointUm point) {
  bool inside = false;
  for (const geometry::Loop& loop : wall.loops()) inside = inside != geometry::is_inside(loop, point);
  return inside == (wall.material() == geometry::Side::inside);
}

}  // namespace

bool FreePlan::admits(const geometry::Loop& outline) const {
  const PointUm inside = just_inside(outline);
  for (const Wall& wall : walls_x_) {
    // Where no wall crosses the outline, all of it is free or all of it lies in the material.
    if (in_material(wall, inside)) return false;
    for (const geometry::Loop& loop : wall.loops()) {
      if (geometry::is_inside(outline, loop.front())) return false;
      for (std::size_t i = 0; i < loop.size(); ++i) {
        for (std::size_t k = 0; k < outline.size(); ++k) {
          if (!geometry::segments_keep(loop[i], loop[(i + 1) % loop.size()], outline[k],
                                       outline[(k + 1) % outline.size()], wall.reach())) {
            return false;
          }
        }
      }
    }
  }
  return true;
}

SpanUm FreePlan::extent(Strips strips) const {
  SpanUm extent{-geometry::far_um, geometry::far_um};
  for (const Wall& wall : walls(strips)) {
    if (wall.material() != geometry::Side::outside) continue;
    extent.low = std::max(extent.low, wall.extent_t().low + wall.reach());
    extent.high = std::min(extent.high, wall.extent_t().high - wall.reach());
  }
  if (extent.low > -geometry::far_um) return extent;
  // Cavities measured across x or y come as material only: their far corners frame the plan.
  SpanUm frame{geometry::far_um, -geometry::far_um};
  for (const Wall& wall : walls(strips)) {
    for (const geometry::Loop& loop : wall.loops()) {
      for (const PointUm& point : loop) {
        if (std::abs(point.t) >= geometry::far_um) continue;
        frame = {std::min(frame.low, point.t), std::max(frame.high, point.t)};
      }
    }
  }
  return frame;
}

std::vector<Um> FreePlan::levels(Strips strips, std::size_t most) const {
  std::vector<Um> levels;
  for (const Wall& wall : walls(strips)) {
    for (const geometry::Loop& loop : wall.loops()) {
      for (const PointUm& point : loop) {
        levels.push_back(point.t);
        if (wall.reach() == 0) continue;
        levels.push_back(point.t - wall.reach());
        levels.push_back(point.t + wall.reach());
      }
      if (levels.size() > 12 * most) return {};
    }
  }
  std::sort(levels.begin(), levels.end());
  levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
  if (levels.size() > most) levels.clear();
  return levels;
}

FreePlan free_plan(const survey::Cavity& cavity, const Clearances& clearances, Reading reading,
                   HeightSpan span) {
  std::vector<std::string> names{"cavity wall"};
  const Column column{span.bottom - clearances.body, span.top + clearances.lid};
  std::vector<Wall> walls =
      section_walls(cavity.sections, reading, column, clearances.body + clearances.extra);
  for (const survey::KeepOut& keep_out : cavity.keep_outs) {
    const Um own = keep_out.clearance ? keep_out.clearance->um() : clearances.body;
    const Column near{span.bottom - own, span.top + own};
    const int source = static_cast<int>(names.size());
    if (auto wall = keep_out_wall(keep_out, near, own + clearances.extra, source)) {
      walls.push_back(std::move(*wall));
    }
    names.push_back(keep_out.name);
  }
  return FreePlan(std::move(walls), std::move(names));
}

}  // namespace cellstow::region
