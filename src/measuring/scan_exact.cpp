#include "scan_exact.hpp"

#include <cmath>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/measuring/scan_free_space.hpp"

namespace cellstow::measuring::scan {
namespace {

bool within_box(PointUm a, PointUm b, PointUm point) {
  return std::min(a.s, b.s) <= point.s && point.s <= std::max(a.s, b.s) && std::min(a.t, b.t) <= point.t &&
         point.t <= std::max(a.t, b.t);
}

bool lies_on(PointUm point, PointUm a, PointUm b) { return cross(a, b, point) == 0 && within_box(a, b, point); }

/// Separating lines of a segment and a triangle: those along the triangle's sides and along the segment
/// (Minkowski difference of two convex sets). `gap` 0: touching separates; 1: it does not.
bool separated(const WallPiece& piece, PointUm a, PointUm b, PointUm c, Um gap) {
  const PointUm corners[] = {a, b, c};
  for (int i = 0; i < 3; ++i) {
    const PointUm p = corners[i], q = corners[(i + 1) % 3];
    if (cross(p, q, piece.from) <= -gap && cross(p, q, piece.to) <= -gap) return true;
  }
  const Um sides[] = {cross(piece.from, piece.to, a), cross(piece.from, piece.to, b), cross(piece.from, piece.to, c)};
  return std::min({sides[0], sides[1], sides[2]}) >= gap || std::max({sides[0], sides[1], sides[2]}) <= -gap;
}

bool box_misses(const WallPiece& piece, PointUm a, PointUm b, PointUm c) {
  const auto [low_s, high_s] = std::minmax({a.s, b.s, c.s});
  const auto [low_t, high_t] = std::minmax({a.t, b.t, c.t});
  return std::max(piece.from.s, piece.to.s) < low_s || std::min(piece.from.s, piece.to.s) > high_s ||
         std::max(piece.from.t, piece.to.t) < low_t || std::min(piece.from.t, piece.to.t) > high_t;
}

/// Where a point lies to a loop: 1 inside, 0 on it, -1 outside.
int side_of(const Loop& loop, PointUm point) {
  for (std::size_t i = 0; i < loop.size(); ++i)
    if (lies_on(point, loop[i], loop[(i + 1) % loop.size()])) return 0;
  return geometry::is_inside(loop, point) ? 1 : -1;
}

PointUm doubled(PointUm point) { return {2 * point.s, 2 * point.t}; }

Loop doubled(const Loop& loop) {
  Loop twice;
  for (const PointUm corner : loop) twice.push_back(doubled(corner));
  return twice;
}

bool crosses_properly(PointUm a, PointUm b, PointUm c, PointUm d) {
  return sign(cross(a, b, c)) * sign(cross(a, b, d)) < 0 && sign(cross(c, d, a)) * sign(cross(c, d, b)) < 0;
}

}  // namespace

bool share_a_point(PointUm a, PointUm b, PointUm c, PointUm d) {
  if (!boxes_meet(a, b, c, d)) return false;
  return crosses_properly(a, b, c, d) || lies_on(a, c, d) || lies_on(b, c, d) || lies_on(c, a, b) || lies_on(d, a, b);
}

bool is_simple(const Loop& loop) {
  const std::size_t n = loop.size();
  if (n < 3) return false;
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 1; j < n; ++j) {
      const PointUm a = loop[i], b = loop[(i + 1) % n], c = loop[j], d = loop[(j + 1) % n];
      const bool next = j == i + 1, last = i == 0 && j + 1 == n;
      if (a == b || c == d) return false;
      if (next && doubles_back(a, b, d)) return false;
      if (last && doubles_back(c, a, b)) return false;
      if (!next && !last && share_a_point(a, b, c, d)) return false;
    }
  return true;
}

bool enters_triangle(const WallPiece& piece, PointUm a, PointUm b, PointUm c) {
  if (box_misses(piece, a, b, c)) return false;
  const Um run = cross(a, b, c);
  if (run == 0) return false;
  return run > 0 ? !separated(piece, a, b, c, 0) : !separated(piece, a, c, b, 0);
}

bool meets_triangle(const WallPiece& piece, PointUm a, PointUm b, PointUm c) {
  if (box_misses(piece, a, b, c)) return false;
  const Um run = cross(a, b, c);
  if (run == 0)
    return share_a_point(piece.from, piece.to, a, b) || share_a_point(piece.from, piece.to, b, c) ||
           share_a_point(piece.from, piece.to, a, c);
  return run > 0 ? !separated(piece, a, b, c, 1) : !separated(piece, a, c, b, 1);
}

double signed_area2(const Loop& loop) {
  double twice = 0;
  for (std::size_t i = 1; i + 1 < loop.size(); ++i) twice += static_cast<double>(cross(loop[0], loop[i], loop[i + 1]));
  return twice;
}

std::vector<WallPiece> edges_of(const Loop& loop) {
  std::vector<WallPiece> edges;
  for (std::size_t i = 0; i < loop.size(); ++i) edges.push_back({loop[i], loop[(i + 1) % loop.size()]});
  return edges;
}

double distance_to(PointUm point, PointUm a, PointUm b) {
  const double ds = static_cast<double>(b.s - a.s), dt = static_cast<double>(b.t - a.t);
  const double ps = static_cast<double>(point.s - a.s), pt = static_cast<double>(point.t - a.t);
  const double length2 = ds * ds + dt * dt;
  const double along = length2 == 0 ? 0 : std::clamp((ps * ds + pt * dt) / length2, 0.0, 1.0);
  return std::hypot(ps - along * ds, pt - along * dt);
}

bool is_clear(const Loop& outline, std::span<const Loop> holes, std::span<const WallPiece> pieces) {
  std::vector<WallPiece> edges = edges_of(outline);
  std::vector<Loop> doubled_holes;
  for (const Loop& hole : holes) {
    const auto more = edges_of(hole);
    edges.insert(edges.end(), more.begin(), more.end());
    doubled_holes.push_back(doubled(hole));
  }
  const Loop doubled_outline = doubled(outline);
  for (const WallPiece& piece : pieces) {
    // cut at the corners that lie on it, each part is wholly inside, outside or on an edge: its middle tells
    std::vector<PointUm> cuts = {piece.from, piece.to};
    for (const auto& [a, b] : edges) {
      if (!boxes_meet(piece.from, piece.to, a, b)) continue;
      if (crosses_properly(piece.from, piece.to, a, b)) return false;
      if (lies_on(a, piece.from, piece.to)) cuts.push_back(a);
    }
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
      const PointUm middle{cuts[i].s + cuts[i + 1].s, cuts[i].t + cuts[i + 1].t};
      if (side_of(doubled_outline, middle) != 1) continue;
      const bool in_hole = std::any_of(doubled_holes.begin(), doubled_holes.end(),
                                       [&](const Loop& hole) { return side_of(hole, middle) >= 0; });
      if (!in_hole) return false;
    }
  }
  return true;
}

}  // namespace cellstow::measuring::scan
