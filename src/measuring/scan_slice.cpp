#include "cellstow/measuring/scan_slice.hpp"

#include <algorithm>

namespace cellstow::measuring::scan {
namespace {

using Corner = std::array<std::int32_t, 3>;

/// The axes of a plane across `across`: its normal, then the other two in the order x, y, z.
struct PlaneAxes {
  std::size_t normal, s, t;
};

PlaneAxes axes_of(core::Axis across) {
  switch (across) {
    case core::Axis::x: return {0, 1, 2};
    case core::Axis::y: return {1, 0, 2};
    case core::Axis::z: break;
  }
  return {2, 0, 1};
}

/// Nearest whole number to n / d, halves up. @pre d > 0
Um nearest_quotient(Um n, Um d) {
  const Um doubled = 2 * n + d;
  const Um quotient = doubled / (2 * d);
  return quotient - (doubled % (2 * d) < 0 ? 1 : 0);
}

/// Coordinates stay within 2^27 um, so the products stay below 2^57.
PointUm cut_edge(const Corner& below, const Corner& above, const PlaneAxes& axes, Um station) {
  const Um from = below[axes.normal], rise = above[axes.normal] - from;
  const auto along = [&](std::size_t axis) {
    const Um start = below[axis];
    return start + nearest_quotient((Um{above[axis]} - start) * (station - from), rise);
  };
  return {along(axes.s), along(axes.t)};
}

WallPiece cut_triangle(const std::array<const Corner*, 3>& corners, const PlaneAxes& axes, Um station) {
  PointUm ends[2];
  std::size_t found = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    const Corner &p = *corners[i], &q = *corners[(i + 1) % 3];
    const bool p_below = p[axes.normal] < station, q_below = q[axes.normal] < station;
    if (p_below == q_below) continue;
    ends[found++] = p_below ? cut_edge(p, q, axes, station) : cut_edge(q, p, axes, station);
  }
  return {ends[0], ends[1]};
}

}  // namespace

std::vector<Slice> slice(const PlacedScan& scan, core::Axis across, std::span<const Um> stations_um) {
  const PlaneAxes axes = axes_of(across);
  std::vector<Slice> slices;
  for (const Um station : stations_um) slices.push_back({station, {}, false});
  for (const Triangle& triangle : scan.triangles) {
    const std::array<const Corner*, 3> corners = {&scan.points_um[triangle[0]], &scan.points_um[triangle[1]],
                                                  &scan.points_um[triangle[2]]};
    const Um a = (*corners[0])[axes.normal], b = (*corners[1])[axes.normal], c = (*corners[2])[axes.normal];
    const Um low = std::min({a, b, c}), high = std::max({a, b, c});
    auto at = std::lower_bound(stations_um.begin(), stations_um.end(), low) - stations_um.begin();
    for (; at < std::ssize(stations_um) && stations_um[static_cast<std::size_t>(at)] <= high; ++at) {
      Slice& slice = slices[static_cast<std::size_t>(at)];
      if (low == high) {
        slice.meets_level_face = true;
      } else if (slice.station_um > low) {
        const WallPiece piece = cut_triangle(corners, axes, slice.station_um);
        if (piece.from != piece.to) slice.pieces.push_back(piece);
      }
    }
  }
  return slices;
}

}  // namespace cellstow::measuring::scan
