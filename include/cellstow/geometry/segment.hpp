#pragma once
/// Distances between segments and polygons, decided in whole numbers.

#include <vector>

#include "cellstow/geometry/wall.hpp"

namespace cellstow::geometry {

/// Sign of the turn a -> b -> c: 1 left, -1 right, 0 straight on.
int turn_sign(PointUm a, PointUm b, PointUm c);

/// Is every point of one segment at least `reach` from every point of the other? With reach 0: do they not cross?
bool segments_keep(PointUm a, PointUm b, PointUm c, PointUm d, Um reach);

/// Is the point inside the loop (even-odd, half-open)?
bool is_inside(const Loop& loop, PointUm point);

/// Least distance between two segments, um, and the point of the first where it is attained.
struct Nearest { double distance_um = 0; PointUm at; };
Nearest nearest(PointUm a, PointUm b, PointUm c, PointUm d);

/// Twice the signed area: positive when the loop runs counter-clockwise.
Um doubled_area(const Loop& loop);

/// Smallest convex loop around the points, counter-clockwise, no three corners in line.
Loop convex_hull(std::vector<PointUm> points);

}  // namespace cellstow::geometry
