/// Slots against a brute force over both cars: every place where a bolt may stand lies in the hole, and in no shorter one.

#include "cellstow/differences/slots.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "sample.hpp"

using namespace cellstow;
using differences::SharedHole;
using differences::shared_holes;
using sample::mm;
using sample::well;

namespace {

differences::SharedHoles holes_of(const survey::Cavity& first, const survey::Cavity& second, double longest = 20) {
  return shared_holes(first, second, survey::Rules{}, sample::threads(), mm(longest));
}

std::array<double, 3> at(const survey::Fixing& fixing) { return {fixing.at.x.mm(), fixing.at.y.mm(), fixing.at.z.mm()}; }

/// Whether a bolt of 8 mm at (x, y) goes through a slot 9 wide: its middle within half the play of the slot's middle line.
bool goes_through(const SharedHole& hole, double length_mm, double x, double y) {
  const double dx = x - hole.centre.x.mm(), dy = y - hole.centre.y.mm();
  const double along = dx * hole.along[0] + dy * hole.along[1];
  const double across = std::hypot(dx - along * hole.along[0], dy - along * hole.along[1]);
  const double past = std::max(std::abs(along) - (length_mm - hole.width_mm) / 2, 0.0);
  return std::hypot(past, across) <= (hole.width_mm - 8) / 2 + 1e-3;
}

/// Bolts of both cars, each off by what it may be along the slot.
bool serves(const SharedHole& hole, double length_mm, const std::array<double, 3>& first, const std::array<double, 3>& second, double within_mm) {
  for (const auto& bolt : {first, second})
    for (int k = -50; k <= 50; ++k) {
      const double off = k / 50.0 * within_mm;
      if (!goes_through(hole, length_mm, bolt[0] + off * hole.along[0], bolt[1] + off * hole.along[1])) return false;
    }
  return true;
}

}  // namespace

TEST_CASE("slots: cars alike get the brackets' own slots: one round hole, the others 2 x (3 + 2) longer") {
  const auto got = holes_of(well(), well());
  REQUIRE(got.holes.size() == 4);
  int round = 0;
  for (const SharedHole& hole : got.holes) {
    round += hole.round;
    CHECK(hole.why_not.empty());
    CHECK(hole.width_mm == 9.0);
    CHECK(hole.length_mm == doctest::Approx(hole.round ? 9.0 : 19.0));
  }
  CHECK(round == 1);
}

TEST_CASE("slots: a hole 4 mm farther right takes a slot 4 mm longer along y, half way between") {
  survey::Cavity other = well();
  other.fixings[3].at.y = mm(384);
  const auto got = holes_of(well(), other, 25);
  const SharedHole& hole = got.holes[3];
  CHECK_FALSE(hole.round);
  CHECK(hole.length_mm == doctest::Approx(23));
  CHECK(std::abs(hole.along[1]) == 1);
  CHECK(hole.centre.y == mm(382));
  CHECK(hole.why_not.empty());
  const auto strict = holes_of(well(), other, 22.9);
  CHECK(strict.holes[3].why_not == "it would take a slot of 23.0 mm, and 22.9 is the longest allowed");
}

TEST_CASE("slots: a cavity that lies 6 mm farther back as a whole needs no longer slots") {
  survey::Cavity other = well();
  for (auto& fixing : other.fixings) fixing.at.x = fixing.at.x + mm(6);
  const auto got = holes_of(well(), other);
  CHECK(got.moved_mm[0] == 6.0);
  for (const SharedHole& hole : got.holes) CHECK(hole.length_mm <= 19.0 + 1e-9);
}

TEST_CASE("slots: another round hole is taken when more holes then serve") {
  // two fixings stay, one lies 4 mm off and one 8: a limit of 25 mm takes the round hole at the one half way
  survey::Cavity other = well();
  other.fixings[3].at.y = mm(388);
  other.fixings[2].at.y = mm(-376);
  const auto got = holes_of(well(), other, 25);
  for (const SharedHole& hole : got.holes) CHECK(hole.why_not.empty());
  CHECK(got.holes[2].round);
  const auto wide = holes_of(well(), other, 40);
  CHECK(wide.holes[0].round);
}

TEST_CASE("slots: a lower fixing is told as a shim, another thread takes the larger hole, a turned one does not serve") {
  survey::Cavity other = well();
  other.fixings[1].at.z = mm(297.5);
  other.fixings[2].thread = "M10";
  other.fixings[3].axis = {1, 0, 0};
  const auto got = holes_of(well(), other);
  CHECK(got.holes[1].shim_mm - got.holes[0].shim_mm == doctest::Approx(-2.5));
  CHECK(got.holes[2].width_mm == 11.0);
  CHECK(got.holes[2].remarks.size() == 1);
  CHECK(got.holes[3].why_not == "the two cars' fixings do not point the same way");
}

TEST_CASE("slots: what is marked never in either car, or stands in one alone, is not there") {
  survey::Cavity other = well();
  other.fixings[0].use = survey::FixingUse::never;
  other.fixings[1].name = "T8";
  const auto got = holes_of(well(), other);
  REQUIRE(got.holes.size() == 2);
  CHECK(got.holes[0].fixing == "T3");
}

TEST_CASE("slots: random cars: both bolts go through wherever they may be, and not through a slot 0.2 mm shorter") {
  std::mt19937 random(32);
  const auto off = [&] { return (static_cast<int>(random() % 9001) - 4500) / 1000.0; };
  for (int i = 0; i < 200; ++i) {
    survey::Cavity other = well();
    for (auto& fixing : other.fixings) fixing.at = {fixing.at.x + mm(off()), fixing.at.y + mm(off()), fixing.at.z};
    const auto got = holes_of(well(), other, 60);
    double in_all = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      const SharedHole& hole = got.holes[k];
      const auto first = at(well().fixings[k]);
      auto second = at(other.fixings[k]);
      for (std::size_t axis = 0; axis < 3; ++axis) second[axis] -= got.moved_mm[axis];
      CAPTURE(i);
      CAPTURE(k);
      if (hole.round) {
        CHECK(std::hypot(first[0] - second[0], first[1] - second[1]) < 1e-9);
        continue;
      }
      CHECK(serves(hole, hole.length_mm, first, second, 5));
      // a slot along an axis may use the hole's play across; one along the two fixings may not
      const bool square = std::abs(hole.along[0]) == 1 || std::abs(hole.along[1]) == 1;
      if (!square) CHECK_FALSE(serves(hole, hole.length_mm - 1.2, first, second, 5));
      in_all += hole.length_mm - 9;
    }
    // no other choice of the round hole gives less of slots in all
    for (std::size_t round = 0; round < 4; ++round) {
      double other_in_all = 0;
      for (std::size_t k = 0; k < 4; ++k) {
        const double x = (other.fixings[k].at.x - well().fixings[k].at.x - other.fixings[round].at.x + well().fixings[round].at.x).mm();
        const double y = (other.fixings[k].at.y - well().fixings[k].at.y - other.fixings[round].at.y + well().fixings[round].at.y).mm();
        if (k != round) other_in_all += 10 + std::hypot(x, y);
      }
      CHECK(in_all <= other_in_all + 1e-6);
    }
  }
}
