#pragma once
/// A polygon cut into convex parts.

#include <vector>

#include "cellstow/geometry/wall.hpp"

namespace cellstow::way_in {

/// Convex parts that together fill the polygon and share no area, each counter-clockwise and made of
/// the polygon's own corners. A convex polygon is its own only part. Decided in whole numbers.
///
/// Triangles are cut off at ears, then joined again wherever the join stays convex: at most four times as many
/// parts as any such cut needs.
///
/// @pre a simple loop, counter-clockwise
/// Source: Hertel and Mehlhorn, Fast triangulation of the plane with respect to simple polygons,
/// Information and Control 64 (1985) 52-76 (from memory)
std::vector<geometry::Loop> convex_parts(const geometry::Loop& loop);

}  // namespace cellstow::way_in
