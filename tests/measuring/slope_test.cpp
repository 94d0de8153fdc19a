#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "cellstow/measuring/slope.hpp"

using cellstow::measuring::Slope;
using cellstow::measuring::to_car;

namespace {

double dot(const std::array<double, 3>& a, const std::array<double, 3>& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

}  // namespace

TEST_CASE("slope: a level car changes nothing") {
  const auto same = to_car({0, 0}, {1, 2, 3});
  CHECK(same[0] == doctest::Approx(1));
  CHECK(same[1] == doctest::Approx(2));
  CHECK(same[2] == doctest::Approx(3));
}

TEST_CASE("slope: nose up, and right side down, by the angle of a 3-4-5 triangle") {
  const double angle = std::asin(0.6) * 180 / std::numbers::pi;
  // 5 rearward on level ground lies 4 along the car and 3 above its floor line: the tail hangs down
  const auto back = to_car({angle, 0}, {5, 0, 0});
  CHECK(back[0] == doctest::Approx(4));
  CHECK(back[1] == doctest::Approx(0));
  CHECK(back[2] == doctest::Approx(3));
  // straight up by 5: forward of the car's own upright by 3
  const auto up = to_car({angle, 0}, {0, 0, 5});
  CHECK(up[0] == doctest::Approx(-3));
  CHECK(up[2] == doctest::Approx(4));
  const auto right = to_car({0, angle}, {0, 5, 0});
  CHECK(right[1] == doctest::Approx(4));
  CHECK(right[2] == doctest::Approx(3));
}

TEST_CASE("slope: lengths and angles stay, and a level on either axis shows what was given") {
  for (const double n : {-4.0, 0.5, 3.0}) {
    for (const double r : {-2.5, 1.0, 6.0}) {
      const auto x = to_car({n, r}, {1, 0, 0}), y = to_car({n, r}, {0, 1, 0}), z = to_car({n, r}, {0, 0, 1});
      for (const auto& axis : {x, y, z}) CHECK(dot(axis, axis) == doctest::Approx(1));
      CHECK(dot(x, y) == doctest::Approx(0).epsilon(1e-12));
      CHECK(dot(y, z) == doctest::Approx(0).epsilon(1e-12));
      // the upward direction against gravity, in the car's axes: its parts are the sines the level shows
      CHECK(-z[0] == doctest::Approx(std::sin(n * std::numbers::pi / 180)));
      CHECK(-z[1] == doctest::Approx(std::sin(r * std::numbers::pi / 180)));
    }
  }
}
