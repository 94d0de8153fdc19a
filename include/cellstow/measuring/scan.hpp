#pragma once
/// Triangles of a scan, before and after they are placed in the car.

#include <array>
#include <cstdint>
#include <vector>

namespace cellstow::measuring::scan {

/// Corners of a triangle, as numbers of points counted from 0.
using Triangle = std::array<std::uint32_t, 3>;

/// A scan in its own axes and unit.
///
/// Invariant: every number of a triangle is below points.size(); every coordinate is finite. Points may stand more than once.
struct Scan {
  std::vector<std::array<double, 3>> points;
  std::vector<Triangle> triangles;
};

/// A scan in the vehicle frame, whole micrometres. Points that were equal still are, so triangles that met still meet.
struct PlacedScan {
  std::vector<std::array<std::int32_t, 3>> points_um;
  std::vector<Triangle> triangles;
};

}  // namespace cellstow::measuring::scan
