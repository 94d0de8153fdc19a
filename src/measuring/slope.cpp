#include "cellstow/measuring/slope.hpp"

#include <cmath>
#include <numbers>

namespace cellstow::measuring {

std::array<double, 3> to_car(Slope slope, const std::array<double, 3>& p) {
  constexpr double rad = std::numbers::pi / 180;
  const double n = slope.nose_up_deg * rad, r = slope.right_down_deg * rad;
  const std::array<double, 3> ex = {std::cos(n), 0, -std::sin(n)};
  const std::array<double, 3> ey = {-std::tan(n) * std::sin(r), std::sqrt(1 - std::pow(std::sin(r) / std::cos(n), 2)), -std::sin(r)};
  const std::array<double, 3> ez = {ex[1] * ey[2] - ex[2] * ey[1], ex[2] * ey[0] - ex[0] * ey[2], ex[0] * ey[1] - ex[1] * ey[0]};
  const auto along = [&](const std::array<double, 3>& e) { return p[0] * e[0] + p[1] * e[1] + p[2] * e[2]; };
  return {along(ex), along(ey), along(ez)};
}

}  // namespace cellstow::measuring
