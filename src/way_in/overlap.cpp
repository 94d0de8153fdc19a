#include "overlap.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/geometry/segment.hpp"

namespace cellstow::way_in {
namespace {

using geometry::Loop;
using geometry::PointUm;
using geometry::Wall;

double real(core::Um um) { return static_cast<double>(um); }

double to_boundary_um(PointUm p, const Loop& loop) {
  double least = 1e18;
  for (std::size_t k = 0; k < loop.size(); ++k) {
    least = std::min(least, geometry::nearest(p, p, loop[k], loop[(k + 1) % loop.size()]).distance_um);
  }
  return least;
}

double to_boundary_um(PointUm p, const Wall& wall) {
  double least = 1e18;
  for (const Loop& loop : wall.loops()) least = std::min(least, to_boundary_um(p, loop));
  return least;
}

/// Is the point in the wall's material, reach not counted?
bool in_material(PointUm p, const Wall& wall) {
  bool inside = false;
  for (const Loop& loop : wall.loops()) inside ^= geometry::is_inside(loop, p);
  return inside == (wall.material() == geometry::Side::inside);
}

/// The middle of what of a segment lies in a convex plan.
bool middle_inside(PointUm a, PointUm b, const Loop& plan, PointUm& middle) {
  double from = 0, to = 1;
  const double ds = real(b.s - a.s), dt = real(b.t - a.t);
  for (std::size_t k = 0; k < plan.size(); ++k) {
    const PointUm p = plan[k], q = plan[(k + 1) % plan.size()];
    const double es = real(q.s - p.s), et = real(q.t - p.t);
    const double at = es * real(a.t - p.t) - et * real(a.s - p.s), grows = es * dt - et * ds;
    if (grows == 0) {
      if (at < 0) return false;
      continue;
    }
    if (grows > 0) from = std::max(from, -at / grows);
    if (grows < 0) to = std::min(to, -at / grows);
  }
  if (from >= to) return false;
  middle = {a.s + std::llround(ds * (from + to) / 2), a.t + std::llround(dt * (from + to) / 2)};
  return true;
}

}  // namespace

bool meets(const Loop& plan, const Wall& wall) {
  if (!region::FreePlan({wall}, {}).admits(plan)) return true;
  // They do not cross: one corner's side, or where that lies on the wall the middle's, is the whole plan's.
  PointUm middle;
  for (const PointUm& p : plan) middle = {middle.s + p.s, middle.t + p.t};
  const auto n = static_cast<core::Um>(plan.size());
  return in_material({middle.s / n, middle.t / n}, wall);
}

double gap_um(const Loop& plan, const Wall& wall) {
  double least = 1e18;
  for (const Loop& loop : wall.loops()) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      for (std::size_t k = 0; k < plan.size(); ++k) {
        least = std::min(least, geometry::nearest(plan[k], plan[(k + 1) % plan.size()], loop[i],
                                                  loop[(i + 1) % loop.size()]).distance_um);
      }
    }
  }
  return least - real(wall.reach());
}

double depth_um(const Loop& plan, const Wall& wall) {
  double deepest = 0;
  for (const PointUm& p : plan) {
    if (in_material(p, wall)) deepest = std::max(deepest, to_boundary_um(p, wall));
  }
  for (const Loop& loop : wall.loops()) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      PointUm middle;
      if (geometry::is_inside(plan, loop[i])) deepest = std::max(deepest, to_boundary_um(loop[i], plan));
      if (middle_inside(loop[i], loop[(i + 1) % loop.size()], plan, middle)) {
        deepest = std::max(deepest, to_boundary_um(middle, plan));
      }
    }
  }
  // Not even touching but for the wall's reach: what is missing of it.
  return deepest > 0 ? deepest + real(wall.reach()) : std::max(0.0, -gap_um(plan, wall));
}

}  // namespace cellstow::way_in
