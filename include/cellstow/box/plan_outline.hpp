#pragma once
/// The box seen from above: its outline, the wall plates that stand along it, what is left inside.

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "cellstow/core/frame.hpp"

namespace cellstow::box {

using core::Length;
using core::Point2;

/// The side of the car a wall looks at. A slanting wall takes the side it looks at most;
/// front or rear at exactly 45 degrees. In a turned box: the side it would look at were the box turned back.
enum class Face { front, rear, left, right };

std::string to_text(Face face);

/// One wall plate where it stands on the floor plate.
///
/// Corner rule, so that the cut lengths add up: going round the box counter-clockwise as seen from
/// above, the wall that arrives at a square corner runs through and the next one butts against it.
///   outside corner  the arriving wall ends at the outline's corner, the next starts one thickness
///                   after it;
///   inside corner   the arriving wall runs one thickness past the corner, the next starts at it.
/// At a corner that is not square the two plates, cut square, touch along one edge only (the inner
/// edge at an outside corner, the outer edge at an inside corner) and the open V is filled by the
/// weld.
struct WallRun {
  std::size_t edge = 0;  ///< from outline[edge] to outline[edge + 1]
  Face face = Face::front;
  int number = 1;                   ///< counts the walls of this face along the outline
  Length length;                    ///< cut length, rounded down to 1 um where the edge slants
  std::array<Point2, 4> footprint;  ///< counter-clockwise; outer face from [0] to [1], left to
                                    ///< right as seen from outside the box
};

/// Twice the enclosed area in um2, exact; positive when counter-clockwise.
std::int64_t twice_area_um2(const std::vector<Point2>& outline);

/// Enclosed area in mm2.
double area_mm2(const std::vector<Point2>& outline);

/// Centroid of the enclosed area in mm, as {a, b}.
/// @pre positive area
std::array<double, 2> centroid_mm(const std::vector<Point2>& outline);

/// The outline moved inwards by `depth` on every edge, corner for corner; exact where all corners
/// are square and edges run with the axes, else to the nearest micrometre.
///
/// @pre counter-clockwise, no three corners in line, nowhere narrower than 2 depth
std::vector<Point2> inset(const std::vector<Point2>& outline, Length depth);

/// The wall plates of thickness `wall` along the inside of the outline, in the order of its edges.
///
/// (1) No two footprints share area.
/// (2) All corners square: the footprints fill exactly what lies between the outline and
///     inset(outline, wall).
/// (3) A wall's name depends on the outline alone.
///
/// @pre as inset()
std::vector<WallRun> wall_runs(const std::vector<Point2>& outline, Length wall);

}  // namespace cellstow::box
