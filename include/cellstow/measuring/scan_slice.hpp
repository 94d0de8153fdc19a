#pragma once
/// Where planes across an axis of the car cut a scan.

#include <span>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "cellstow/geometry/wall.hpp"
#include "cellstow/measuring/scan.hpp"

namespace cellstow::measuring::scan {

using geometry::Loop;
using geometry::PointUm;
using geometry::Um;

/// A straight piece of scanned wall in a section plane; s and t are the other two axes in the order x, y, z.
struct WallPiece {
  PointUm from, to;
  auto operator<=>(const WallPiece&) const = default;
};

struct Slice {
  Um station_um = 0;
  std::vector<WallPiece> pieces;               ///< in the order of the triangles; none of no length
  bool meets_level_face = false;               ///< a face of the scan lies in the plane itself
};

/// The pieces in which planes at the stations cut the triangles, ends to the nearest micrometre.
///
///   point = below + (above - below) * (station - c_below) / (c_above - c_below)
///
/// A corner that lies in a plane counts as beyond it, so the section is that of the side with lower coordinates. Both
/// triangles at an edge give the same point bit for bit: a closed scan gives closed lines, without any tolerance.
///
/// @param stations_um  rising, none twice
/// Cost: O(n log k + pieces) for n triangles and k stations
std::vector<Slice> slice(const PlacedScan& scan, core::Axis across, std::span<const Um> stations_um);

}  // namespace cellstow::measuring::scan
