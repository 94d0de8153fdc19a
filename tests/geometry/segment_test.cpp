/// Distances between segments and places in loops against CGAL's exact kernel.

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "cellstow/geometry/segment.hpp"
#include "reference.hpp"

using namespace cellstow;
using namespace cellstow::geometry;

namespace {

PointUm random_point(std::mt19937_64& random, Um size) {
  std::uniform_int_distribution<Um> at(-size, size);
  return {at(random), at(random)};
}

}  // namespace

TEST_CASE("segment: kept distance at contact, 3-4-5 and 5-12-13") {
  const PointUm a{0, 0}, b{300, 400};
  // The normal is (4, -3) / 5: a point 50 out from the middle.
  const PointUm out{150 + 40, 200 - 30};
  CHECK(segments_keep(a, b, out, {out.s + 300, out.t}, 50));
  CHECK_FALSE(segments_keep(a, b, out, {out.s + 300, out.t}, 51));
  CHECK(nearest(a, b, out, {out.s + 300, out.t}).distance_um == doctest::Approx(50));
  CHECK(nearest(a, b, out, {out.s + 300, out.t}).at == PointUm{150, 200});
  // Past the end (300, 400): 5 along and 12 up makes 13.
  CHECK(segments_keep(a, b, {305, 412}, {900, 412}, 13));
  CHECK_FALSE(segments_keep(a, b, {305, 412}, {900, 412}, 14));
  CHECK_FALSE(segments_keep(a, b, {0, 400}, {300, 0}, 0));  // crossing
  CHECK(segments_keep(a, b, {150, 200}, {600, 200}, 0));    // touching
}

TEST_CASE("segment: kept distance and nearest distance of random segments, exact kernel") {
  std::mt19937_64 random(21);
  for (int i = 0; i < 4'000; ++i) {
    const Um size = i % 2 == 0 ? 9 : 2'000'000;
    const PointUm a = random_point(random, size), b = random_point(random, size);
    const PointUm c = random_point(random, size), d = random_point(random, size);
    CAPTURE(i);
    const double true_um = test::distance_um(a, b, c, d);
    CHECK(nearest(a, b, c, d).distance_um == doctest::Approx(true_um).epsilon(1e-9));
    const auto whole = static_cast<Um>(std::floor(true_um));
    for (const Um reach : {whole - 1, whole, whole + 1}) {
      if (reach < 1) continue;
      CHECK(segments_keep(a, b, c, d, reach) == !test::nearer_than(a, b, c, d, reach));
    }
  }
}

TEST_CASE("segment: turns and areas, exact kernel") {
  std::mt19937_64 random(22);
  for (int i = 0; i < 2'000; ++i) {
    const Um size = i % 2 == 0 ? 4 : 10'000'000;
    const PointUm a = random_point(random, size), b = random_point(random, size), c = random_point(random, size);
    CHECK(turn_sign(a, b, c) == test::turn_sign(a, b, c));
    const Um twice = doubled_area({a, b, c});
    CHECK((twice > 0) - (twice < 0) == test::turn_sign(a, b, c));
    CHECK(static_cast<double>(twice) == doctest::Approx(test::doubled_area({a, b, c})));
  }
}

TEST_CASE("segment: points inside loops, exact kernel") {
  std::mt19937_64 random(23);
  const Loop comb{{0, 0}, {70, 0}, {70, 60}, {60, 60}, {60, 20}, {45, 20}, {40, 60}, {30, 60}, {25, 10}, {10, 60}, {0, 60}};
  for (int i = 0; i < 4'000; ++i) {
    const PointUm p = random_point(random, 80);
    if (test::on_loop(comb, p)) continue;
    CAPTURE(p.s);
    CAPTURE(p.t);
    CHECK(is_inside(comb, p) == test::in_loop(comb, p));
  }
}
