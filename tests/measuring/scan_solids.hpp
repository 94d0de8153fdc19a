#pragma once
/// Solids known in closed form, as scans of their inner faces, in millimetres.

#include <cmath>
#include <functional>
#include <numbers>

#include "cellstow/measuring/scan_placing.hpp"

namespace cellstow::measuring::testing {

using Corner = std::array<double, 3>;

inline void add_quad(scan::Scan& solid, const Corner& a, const Corner& b, const Corner& c, const Corner& d) {
  const auto first = static_cast<std::uint32_t>(solid.points.size());
  solid.points.insert(solid.points.end(), {a, b, c, d});
  solid.triangles.push_back({first, first + 1, first + 2});
  solid.triangles.push_back({first, first + 2, first + 3});
}

/// A hexahedron by its corners: bottom 0-3 in order, top 4-7 above them.
inline scan::Scan hexahedron(const std::array<Corner, 8>& c) {
  scan::Scan solid;
  add_quad(solid, c[0], c[3], c[2], c[1]);
  add_quad(solid, c[4], c[5], c[6], c[7]);
  for (std::size_t i = 0; i < 4; ++i) add_quad(solid, c[i], c[(i + 1) % 4], c[4 + (i + 1) % 4], c[4 + i]);
  return solid;
}

inline scan::Scan box(const Corner& low, const Corner& high) {
  return hexahedron({Corner{low[0], low[1], low[2]}, {high[0], low[1], low[2]}, {high[0], high[1], low[2]}, {low[0], high[1], low[2]},
                     {low[0], low[1], high[2]}, {high[0], low[1], high[2]}, {high[0], high[1], high[2]}, {low[0], high[1], high[2]}});
}

/// A ring of sides from z = 0 to `height`, closed at both ends by fans.
inline scan::Scan drum(double radius, double height, int sides) {
  scan::Scan solid;
  const auto at = [&](int i, double z) {
    const double angle = 2 * std::numbers::pi * (i % sides) / sides;
    return Corner{radius * std::cos(angle), radius * std::sin(angle), z};
  };
  for (int i = 0; i < sides; ++i) {
    add_quad(solid, at(i, 0), at(i + 1, 0), at(i + 1, height), at(i, height));
    for (const double z : {0.0, height}) {
      const auto first = static_cast<std::uint32_t>(solid.points.size());
      solid.points.insert(solid.points.end(), {Corner{0, 0, z}, at(i, z), at(i + 1, z)});
      solid.triangles.push_back({first, first + 1, first + 2});
    }
  }
  return solid;
}

/// The solid as it is, to the nearest micrometre.
inline scan::PlacedScan in_car(const scan::Scan& solid) {
  scan::Placing still;
  still.turn = {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  return *scan::placed(solid, still, 1);
}

inline void append(scan::Scan& solid, const scan::Scan& more) {
  const auto first = static_cast<std::uint32_t>(solid.points.size());
  solid.points.insert(solid.points.end(), more.points.begin(), more.points.end());
  for (const scan::Triangle& t : more.triangles) solid.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
}

}  // namespace cellstow::measuring::testing
