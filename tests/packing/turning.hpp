#pragma once
/// Random cavities, and cavities turned instead of the box.

#include <cmath>
#include <numbers>
#include <random>

#include "cavities.hpp"

namespace cellstow::test {

/// Corners turned about the vertical by `degrees`, to the nearest um.
inline Corners turned(const Corners& corners, double degrees) {
  const double angle = degrees * std::numbers::pi / 180, c = std::cos(angle), s = std::sin(angle);
  Corners out;
  for (const auto& [x, y] : corners) {
    const double a = static_cast<double>(x), b = static_cast<double>(y);
    out.emplace_back(std::llround(a * c - b * s), std::llround(a * s + b * c));
  }
  return out;
}

/// So many corners at rising angles, from `nearest` to `farthest` um out.
inline Corners random_star(std::mt19937_64& random, int least_corners, int most_corners, int nearest, int farthest) {
  const auto pick = [&](int low, int high) { return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1)); };
  const int count = pick(least_corners, most_corners);
  Corners corners;
  for (int k = 0; k < count; ++k) {
    const double angle = (k + 0.15 + 0.7 * pick(0, 1000) / 1000.0) * 2 * std::numbers::pi / count;
    const double reach = pick(nearest, farthest);
    corners.emplace_back(std::llround(reach * std::cos(angle)), std::llround(reach * std::sin(angle)));
  }
  return corners;
}

}  // namespace cellstow::test
