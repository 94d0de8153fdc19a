#pragma once
/// Coordinates taken by level and plumb line on a car that did not stand level, turned back into the car's frame.

#include <array>

namespace cellstow::measuring {

/// How the car stood, read with a level along and across its sills.
struct Slope {
  double nose_up_deg = 0;      ///< the car's rearward axis points down by so much
  double right_down_deg = 0;   ///< the car's right points down by so much
};

/// [x, y, z] against gravity: x rearward and level, y to the right and level, z up against gravity, through the
/// car's origin. Given back along the car's own axes.
///
///   ex = (cos n, 0, -sin n)
///   ey = (-tan n sin r, sqrt(1 - sin^2 r / cos^2 n), -sin r)
///   ez = ex x ey
///
/// so that a level along x shows n and one along y shows r, whichever is set first.
std::array<double, 3> to_car(Slope slope, const std::array<double, 3>& against_gravity);

}  // namespace cellstow::measuring
