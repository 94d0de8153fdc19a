#pragma once
/// Exact questions about whole-micrometre points that simplifying asks; all within farthest_scan_mm.

#include <algorithm>
#include <span>
#include <vector>

#include "cellstow/measuring/scan_slice.hpp"

namespace cellstow::measuring::scan {

/// Twice the signed area of a-b-c. Differences stay below 2^28, so products below 2^57.
inline Um cross(PointUm a, PointUm b, PointUm c) { return (b.s - a.s) * (c.t - a.t) - (b.t - a.t) * (c.s - a.s); }

inline int sign(Um value) { return value > 0 ? 1 : value < 0 ? -1 : 0; }

/// Whether the boxes round the two segments touch.
inline bool boxes_meet(PointUm a, PointUm b, PointUm c, PointUm d) {
  return std::max(a.s, b.s) >= std::min(c.s, d.s) && std::max(c.s, d.s) >= std::min(a.s, b.s) &&
         std::max(a.t, b.t) >= std::min(c.t, d.t) && std::max(c.t, d.t) >= std::min(a.t, b.t);
}

/// Whether closed segments share a point.
bool share_a_point(PointUm a, PointUm b, PointUm c, PointUm d);

/// Whether edges a-b and b-c share more than b.
inline bool doubles_back(PointUm a, PointUm b, PointUm c) {
  return cross(a, b, c) == 0 && (b.s - a.s) * (c.s - b.s) + (b.t - a.t) * (c.t - b.t) < 0;
}

/// Simple: edges meet only at shared corners. O(n^2).
bool is_simple(const Loop& loop);

/// Whether the segment has a point in the open triangle.
bool enters_triangle(const WallPiece& piece, PointUm a, PointUm b, PointUm c);
/// Whether the segment has a point in the closed triangle.
bool meets_triangle(const WallPiece& piece, PointUm a, PointUm b, PointUm c);

/// Twice the signed area, for loops of any length.
double signed_area2(const Loop& loop);

/// The edges of a loop.
std::vector<WallPiece> edges_of(const Loop& loop);

/// Distance from a point to a segment, um.
double distance_to(PointUm point, PointUm a, PointUm b);

}  // namespace cellstow::measuring::scan
