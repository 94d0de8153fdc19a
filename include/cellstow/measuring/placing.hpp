#pragma once
/// First places of the points, by crossing two lengths at a time; or why a point has none.

#include <tl/expected.hpp>
#include <vector>

#include "cellstow/measuring/network.hpp"

namespace cellstow::measuring {

enum class FaultKind {
  too_few_readings,   ///< fewer than two lengths to places that are known
  hang_on_each_other, ///< points with lengths only to points that wait for them
  do_not_meet,        ///< no two lengths of the point cross
  side_open,          ///< two places fit, and nothing tells which
  side_does_not_tell, ///< the side given does not tell the two places apart
  side_contradicted,  ///< further lengths put the point on the other side
  too_flat,           ///< all crossings so flat that the place is not fixed
};

/// Why a point cannot be placed.
struct Fault {
  FaultKind kind;
  std::size_t point = 0;             ///< its number among the points
  std::vector<std::size_t> readings; ///< the two that were tried, where there are two
  std::vector<Place> candidates;     ///< the two places that fit, where there are two
  double short_by_mm = 0;            ///< do_not_meet: how much is missing
};

/// The two places at the given lengths from two places, left of the line from `p` to `q` first.
///
///   x = (d^2 + r^2 - s^2) / (2 d)   along the line from p,   h = +-sqrt(r^2 - x^2) square to it
///
/// @return none when the lengths do not meet or p and q coincide
/// Source: intersection of two circles
std::vector<Place> cross(Place p, double r_mm, Place q, double s_mm);

/// Angle between the two lengths at the point where they cross, 0 to 180 degrees.
double crossing_angle_deg(Place point, Place p, Place q);

/// Every point from the two lengths to known places that cross best. Which of the two places it is: the side
/// given, else what further lengths to known places say clearly. Points placed serve for others.
///
/// @return places of all points, in their order; or every fault that is not the consequence of another
tl::expected<std::vector<Place>, std::vector<Fault>> place_points(const Network& network);

}  // namespace cellstow::measuring
