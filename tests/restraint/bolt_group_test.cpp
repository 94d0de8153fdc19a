#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "cellstow/restraint/mounting.hpp"

using cellstow::restraint::bolt_group;
using cellstow::restraint::BoltForce;

namespace {

using Vec = std::array<double, 3>;

Vec cross(const Vec& a, const Vec& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

std::vector<Vec> same_axis(std::size_t count, const Vec& axis) { return {count, axis}; }

/// Rectangle in the x-z plane, bolts along y, as the two published examples.
std::vector<Vec> rectangle(double half_wide, double half_high) {
  return {{half_wide, 0, half_high},
          {half_wide, 0, -half_high},
          {-half_wide, 0, -half_high},
          {-half_wide, 0, half_high}};
}

}  // namespace

TEST_CASE("bolt group: Shigley, Mechanical Engineering Design, 9th ed., Example 8-7") {
  // four M16 at (+-75, +-60) mm, 16 kN down, 425 mm to the right of the centroid
  const auto forces =
      bolt_group(rectangle(75, 60), same_axis(4, {0, 1, 0}), {0, 0, -16000}, {425, 0, 0});
  REQUIRE(forces.size() == 4);
  // printed: 21.0 kN on the right-hand bolts, 14.8 kN on the left-hand ones
  CHECK(forces[0].shear_n == doctest::Approx(21000).epsilon(0.003));
  CHECK(forces[1].shear_n == doctest::Approx(21000).epsilon(0.003));
  CHECK(forces[2].shear_n == doctest::Approx(14800).epsilon(0.003));
  CHECK(forces[3].shear_n == doctest::Approx(14800).epsilon(0.003));
  for (const BoltForce& force : forces) CHECK(force.tension_n == doctest::Approx(0));
}

TEST_CASE("bolt group: Shigley, 9th ed., Example 3-1, a couple on four bolts") {
  // 4 in x 5 in, 720 lbf in: 56.22 lbf on each bolt. The couple as two opposite forces of 72 lbf,
  // 10 in apart.
  const auto bolts = rectangle(2, 2.5);
  const auto one = bolt_group(bolts, same_axis(4, {0, 1, 0}), {0, 0, -72}, {5, 0, 0});
  const auto other = bolt_group(bolts, same_axis(4, {0, 1, 0}), {0, 0, 72}, {-5, 0, 0});
  REQUIRE(one.size() == 4);
  REQUIRE(other.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    const double x = one[i].force_n[0] + other[i].force_n[0];
    const double z = one[i].force_n[2] + other[i].force_n[2];
    CHECK(std::hypot(x, z) == doctest::Approx(56.22).epsilon(0.0002));
  }
}

TEST_CASE("bolt group: load above four floor bolts, by hand") {
  // Bolts at (+-200, +-150) on the floor, load 1000 N rearward 300 mm above them.
  // Moment about y 300 000 N mm over four bolts 200 mm off: 300 000 / (4 x 200) = 375 N each,
  // up in front, down behind; shear 250 N each.
  const std::vector<Vec> bolts = {{-200, -150, 0}, {-200, 150, 0}, {200, -150, 0}, {200, 150, 0}};
  const auto forces = bolt_group(bolts, same_axis(4, {0, 0, 1}), {1000, 0, 0}, {0, 0, 300});
  REQUIRE(forces.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(forces[i].shear_n == doctest::Approx(250));
    CHECK(forces[i].tension_n == doctest::Approx(i < 2 ? 375 : -375));
  }
}

TEST_CASE("bolt group: bolts on three walls, by hand") {
  // (+-a, 0, 0), (0, +-a, 0), (0, 0, +-a), a = 100: stiffness 4 a^2 about every axis. A load of 600
  // N along z at (50, 0, 0) turns the box about -y by 30 000 / 40 000 = 0.75 N/mm: each bolt 100 N
  // direct, bolts on x +-75 N along z, bolts on z -+75 N along x.
  const double a = 100;
  const std::vector<Vec> bolts = {{a, 0, 0},  {-a, 0, 0}, {0, a, 0},
                                  {0, -a, 0}, {0, 0, a},  {0, 0, -a}};
  const auto forces = bolt_group(bolts, same_axis(6, {0, 0, 1}), {0, 0, 600}, {50, 0, 0});
  REQUIRE(forces.size() == 6);
  CHECK(forces[0].force_n[2] == doctest::Approx(175));
  CHECK(forces[1].force_n[2] == doctest::Approx(25));
  CHECK(forces[2].force_n[2] == doctest::Approx(100));
  CHECK(forces[4].force_n[2] == doctest::Approx(100));
  CHECK(forces[4].shear_n == doctest::Approx(75));
  CHECK(forces[4].force_n[0] == doctest::Approx(-forces[5].force_n[0]));
}

TEST_CASE("bolt group: forces and moments balance for any group") {
  std::mt19937 random(20240607);
  const auto draw = [&](double half) {
    return (static_cast<double>(random() % 2000001) / 1e6 - 1) * half;
  };
  const auto draw_vec = [&](double half) { return Vec{draw(half), draw(half), draw(half)}; };
  for (int round = 0; round < 200; ++round) {
    std::vector<Vec> bolts;
    const std::size_t count = 3 + random() % 8;
    for (std::size_t i = 0; i < count; ++i) bolts.push_back(draw_vec(800));
    const Vec force = draw_vec(30000), at = draw_vec(900);
    const auto forces = bolt_group(bolts, same_axis(count, {0, 0, 1}), force, at);
    REQUIRE(forces.size() == count);
    Vec sum{}, moment{};
    for (std::size_t i = 0; i < count; ++i) {
      const Vec turn = cross(bolts[i], forces[i].force_n);
      for (std::size_t k = 0; k < 3; ++k) sum[k] += forces[i].force_n[k], moment[k] += turn[k];
      CHECK(std::hypot(forces[i].shear_n, forces[i].tension_n) ==
            doctest::Approx(
                std::hypot(forces[i].force_n[0], forces[i].force_n[1], forces[i].force_n[2])));
    }
    const Vec wanted = cross(at, force);
    for (std::size_t k = 0; k < 3; ++k) {
      CHECK(std::abs(sum[k] - force[k]) < 1e-6 * 30000);
      CHECK(std::abs(moment[k] - wanted[k]) < 1e-6 * 30000 * 900);
    }
  }
}

TEST_CASE("bolt group: one, two, or any number in line cannot hold a box") {
  const Vec load{0, 0, 100}, at{10, 20, 30}, up{0, 0, 1};
  CHECK(bolt_group({}, {}, load, at).empty());
  CHECK(bolt_group({{1, 2, 3}}, same_axis(1, up), load, at).empty());
  CHECK(bolt_group({{0, 0, 0}, {100, 50, 25}}, same_axis(2, up), load, at).empty());
  CHECK(bolt_group({{0, 0, 0}, {100, 50, 25}, {300, 150, 75}}, same_axis(3, up), load, at).empty());
  CHECK(bolt_group({{5, 5, 5}, {5, 5, 5}, {5, 5, 5}}, same_axis(3, up), load, at).empty());
  CHECK(bolt_group({{0, 0, 0}, {100, 50, 25}, {300, 150, 95}}, same_axis(3, up), load, at).size() ==
        3);
}
