/// Distance between two walls against closed forms and against a plain sampling of both walls.

#include "cellstow/differences/wall_difference.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "sample.hpp"

using namespace cellstow;
using differences::greatest_difference;
using sample::section;

TEST_CASE("walls: one wall shifted by 7 mm gives 7.0 mm, the area follows") {
  const auto first = section(0, {{0, 0}, {600, 0}, {600, 400}, {0, 400}});
  const auto second = section(0, {{0, 0}, {600, 0}, {600, 407}, {0, 407}});
  const auto got = greatest_difference(first, second);
  CHECK(got.mm == 7.0);
  CHECK_FALSE(got.first_wider);
  CHECK(greatest_difference(second, first).mm == 7.0);
  CHECK(greatest_difference(second, first).first_wider);
  CHECK(differences::area_mm2(second) - differences::area_mm2(first) == doctest::Approx(7.0 * 600));
}

TEST_CASE("walls: the same walls, from whatever corner and in whatever direction, differ by nothing") {
  const auto first = section(0, {{0, 0}, {600, 0}, {600, 400}, {0, 400}});
  const auto turned = section(0, {{600, 400}, {600, 0}, {0, 0}, {0, 400}});
  const auto split = section(0, {{0, 0}, {300, 0}, {600, 0}, {600, 400}, {0, 400}});
  CHECK(greatest_difference(first, first).mm == 0);
  CHECK(greatest_difference(first, turned).mm == 0);
  CHECK(greatest_difference(first, split).mm == 0);
}

TEST_CASE("walls: a notch is as deep as it is, and told where it is") {
  // a notch 40 deep and 200 wide in the right wall: its bottom lies 40 from the straight wall
  const auto straight = section(0, {{0, 0}, {600, 0}, {600, 400}, {0, 400}});
  const auto notched = section(0, {{0, 0}, {600, 0}, {600, 400}, {400, 400}, {400, 360}, {200, 360}, {200, 400}, {0, 400}});
  const auto got = greatest_difference(straight, notched);
  CHECK(got.mm == 40.0);
  CHECK(got.at.a.mm() > 200);
  CHECK(got.at.a.mm() < 400);
  CHECK(got.first_wider);
}

TEST_CASE("walls: a corner cut off is told at the corner: a side over root 2") {
  const auto full = section(0, {{0, 0}, {600, 0}, {600, 400}, {0, 400}});
  const auto cut = section(0, {{0, 0}, {600, 0}, {600, 300}, {500, 400}, {0, 400}});
  const auto got = greatest_difference(full, cut);
  CHECK(got.mm == doctest::Approx(100 / std::sqrt(2.0)).epsilon(1e-6));
  CHECK(got.at == core::Point2{sample::mm(600), sample::mm(400)});
}

TEST_CASE("walls: a hole that one section has not lies as far off as its farthest point") {
  auto first = section(0, {{0, 0}, {600, 0}, {600, 400}, {0, 400}});
  const auto second = first;
  first.holes.push_back({{sample::mm(100), sample::mm(100)}, {sample::mm(100), sample::mm(120)}, {sample::mm(120), sample::mm(120)}, {sample::mm(120), sample::mm(100)}});
  CHECK(greatest_difference(first, second).mm == 120.0);
  CHECK(differences::area_mm2(first) == doctest::Approx(600 * 400 - 400));
}

namespace {

double from_wall(double a, double b, const survey::Section& wall) {
  double least = 1e300;
  for (std::size_t i = 0; i < wall.outline.size(); ++i) {
    const auto p = wall.outline[i], q = wall.outline[(i + 1) % wall.outline.size()];
    for (int k = 0; k <= 400; ++k) {
      const double t = k / 400.0;
      least = std::min(least, std::hypot(p.a.mm() + t * (q.a - p.a).mm() - a, p.b.mm() + t * (q.b - p.b).mm() - b));
    }
  }
  return least;
}

/// Largest of many distances: never more than the true one, and within half a step of it.
double sampled(const survey::Section& from, const survey::Section& to) {
  double most = 0;
  for (std::size_t i = 0; i < from.outline.size(); ++i) {
    const auto p = from.outline[i], q = from.outline[(i + 1) % from.outline.size()];
    for (int k = 0; k < 200; ++k)
      most = std::max(most, from_wall(p.a.mm() + k / 200.0 * (q.a - p.a).mm(), p.b.mm() + k / 200.0 * (q.b - p.b).mm(), to));
  }
  return most;
}

survey::Section random_star(std::mt19937& random) {
  survey::Section out;
  for (int i = 0; i < 9; ++i) {
    const double radius = 100 + random() % 150, angle = i * 2 * 3.141592653589793 / 9;
    out.outline.push_back({sample::mm(radius * std::cos(angle)), sample::mm(radius * std::sin(angle))});
  }
  return out;
}

}  // namespace

TEST_CASE("walls: random outlines against brute force") {
  std::mt19937 random(7);
  for (int i = 0; i < 40; ++i) {
    const auto first = random_star(random), second = random_star(random);
    const double got = greatest_difference(first, second).mm;
    const double brute = std::max(sampled(first, second), sampled(second, first));
    CHECK(got >= brute - 0.5);  // sampling `to` finds distances a little too long: steps of up to 0.9 mm, 0.45 mm off
    CHECK(got <= brute + 1.0);  // sampling `from` misses the farthest place by up to a step of 1.8 mm, half of it either way
  }
}

TEST_CASE("walls: a mirrored section mirrored again is the section") {
  const auto first = section(0, {{0, -10}, {600, 0}, {600, 400}, {0, 400}});
  const auto twice = differences::mirrored(differences::mirrored(first, core::Axis::z), core::Axis::z);
  CHECK(greatest_difference(first, twice).mm == 0);
  CHECK(differences::mirrored(first, core::Axis::x).outline[3].a == sample::mm(0));
}
