#include "cellstow/geometry/segment.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/geometry/exact.hpp"

namespace cellstow::geometry {
namespace {

/// Is the point at least `reach` from the segment a-b?
bool point_keeps(PointUm p, PointUm a, PointUm b, Um reach) {
  const Int128 dx = b.s - a.s, dy = b.t - a.t, px = p.s - a.s, py = p.t - a.t;
  const Int128 length2 = dx * dx + dy * dy, along = px * dx + py * dy;
  const Int128 reach2 = Int128(reach) * reach;
  if (along <= 0) return px * px + py * py >= reach2;
  if (along >= length2) {
    const Int128 qx = p.s - b.s, qy = p.t - b.t;
    return qx * qx + qy * qy >= reach2;
  }
  const Int128 cross = dx * py - dy * px;
  return cross * cross >= reach2 * length2;
}

bool cross_properly(PointUm a, PointUm b, PointUm c, PointUm d) {
  return turn_sign(a, b, c) * turn_sign(a, b, d) < 0 && turn_sign(c, d, a) * turn_sign(c, d, b) < 0;
}

struct Foot { double distance_um, s, t; };

Foot foot_on(PointUm p, PointUm a, PointUm b) {
  const double dx = static_cast<double>(b.s - a.s), dy = static_cast<double>(b.t - a.t);
  const double px = static_cast<double>(p.s - a.s), py = static_cast<double>(p.t - a.t);
  const double length2 = dx * dx + dy * dy;
  const double share = length2 == 0 ? 0 : std::clamp((px * dx + py * dy) / length2, 0.0, 1.0);
  return {std::hypot(px - share * dx, py - share * dy), static_cast<double>(a.s) + share * dx,
          static_cast<double>(a.t) + share * dy};
}

}  // namespace

int turn_sign(PointUm a, PointUm b, PointUm c) {
  const Int128 cross = Int128(b.s - a.s) * (c.t - a.t) - Int128(b.t - a.t) * (c.s - a.s);
  return cross > 0 ? 1 : (cross < 0 ? -1 : 0);
}

bool segments_keep(PointUm a, PointUm b, PointUm c, PointUm d, Um reach) {
  return !cross_properly(a, b, c, d) && point_keeps(a, c, d, reach) &&
         point_keeps(b, c, d, reach) && point_keeps(c, a, b, reach) && point_keeps(d, a, b, reach);
}

bool is_inside(const Loop& loop, PointUm point) {
  bool inside = false;
  for (std::size_t k = 0; k < loop.size(); ++k) {
    const PointUm a = loop[k], b = loop[(k + 1) % loop.size()];
    if ((a.t <= point.t) == (b.t <= point.t)) continue;
    if ((turn_sign(a, b, point) > 0) == (b.t > a.t)) inside = !inside;
  }
  return inside;
}

Nearest nearest(PointUm a, PointUm b, PointUm c, PointUm d) {
  if (cross_properly(a, b, c, d)) return {0, a};
  Nearest best{foot_on(a, c, d).distance_um, a};
  if (const double at_b = foot_on(b, c, d).distance_um; at_b < best.distance_um) best = {at_b, b};
  for (const PointUm& end : {c, d}) {
    const Foot foot = foot_on(end, a, b);
    if (foot.distance_um < best.distance_um) {
      best = {foot.distance_um, {std::llround(foot.s), std::llround(foot.t)}};
    }
  }
  return best;
}

Um doubled_area(const Loop& loop) {
  Um twice = 0;
  for (std::size_t k = 0; k < loop.size(); ++k) {
    const PointUm a = loop[k], b = loop[(k + 1) % loop.size()];
    twice += a.s * b.t - a.t * b.s;
  }
  return twice;
}

Loop convex_hull(std::vector<PointUm> points) {
  std::sort(points.begin(), points.end());
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) return points;
  Loop hull;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t base = hull.size();
    for (const PointUm& point : points) {
      while (hull.size() >= base + 2 && turn_sign(hull[hull.size() - 2], hull.back(), point) <= 0) {
        hull.pop_back();
      }
      hull.push_back(point);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

}  // namespace cellstow::geometry
