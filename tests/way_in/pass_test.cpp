/// Getting through: closed forms for turning and tilting, and sampling at fine steps.

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "cellstow/way_in/pass.hpp"
#include "reference.hpp"

using namespace cellstow;
using namespace cellstow::way_in;
using reference::opening_z;
using reference::p2;
using reference::rectangle;
using reference::uniform;

namespace {

constexpr double rad = std::numbers::pi / 180;

Body cuboid(double l, double w, double h) {
  return Body("box", {{"box", rectangle(0, 0, l, w), core::Length(), core::Length::from_mm(h)}});
}

}  // namespace

// A p x q rectangle with p > a fits turned into an a x b rectangle (b >= a) if and only if q <= a and
//   b >= (2 p q a + (p^2 - q^2) sqrt(p^2 + q^2 - a^2)) / (p^2 + q^2)
// W. B. Carver, Amer. Math. Monthly 64 (1957) 114-116; J. E. Wetzel, Math. Magazine 73 (2000) 204-211. Formula from memory; here a is
// the shorter side of the opening, b the longer, so that "p > b" is the case of interest:
//   p > b:  a >= (2 p q b + (p^2 - q^2) sqrt(p^2 + q^2 - b^2)) / (p^2 + q^2)
TEST_CASE("pass: a rectangle turned into a rectangle, against the classical condition") {
  std::mt19937_64 random(11);
  int passing = 0, blocked = 0;
  for (int round = 0; round < 120; ++round) {
    const double a = std::round(uniform(random, 200, 600)), b = std::round(uniform(random, a, 700));
    const double p = std::round(b + uniform(random, 1, 120)), q = std::round(uniform(random, 5, 300));
    const double needed = (2 * p * q * b + (p * p - q * q) * std::sqrt(p * p + q * q - b * b)) / (p * p + q * q);
    if (std::abs(a - needed) < 0.01 || q > a) continue;
    const Pass pass = pass_opening(cuboid(p, q, 100), opening_z(rectangle(0, 0, b, a)), Handling::upright_only);
    CAPTURE(a); CAPTURE(b); CAPTURE(p); CAPTURE(q); CAPTURE(needed);
    CHECK((pass.manner != Manner::blocked) == (a >= needed));
    (a >= needed ? passing : blocked) += 1;
  }
  CHECK(passing > 15);
  CHECK(blocked > 15);
}

// Tilted about a line across it by t, a box of length l and height h casts a shadow l cos t + h sin t long.
TEST_CASE("pass: a long box tilted through a short opening, against the closed form") {
  for (const double l : {600.0, 720.0}) {
    for (const double a : {300.0, 420.0, 560.0}) {
      const double h = 250, r = std::hypot(l, h);
      const Pass pass = pass_opening(cuboid(l, 90, h), opening_z(rectangle(0, 0, a, 100)), Handling::may_tilt);
      REQUIRE(pass.manner == Manner::tilted);
      // Passing from where the shadow has shrunk to a, up to standing on end (where it is h long).
      const double from = (std::atan2(h, l) + std::acos(a / r)) / rad;
      const double low = std::min(std::abs(pass.from_deg), std::abs(pass.to_deg));
      const double high = std::max(std::abs(pass.from_deg), std::abs(pass.to_deg));
      CHECK(low >= from - 1e-6);
      CHECK(low == doctest::Approx(from).epsilon(0.002));
      CHECK(high == doctest::Approx(90));
      CHECK(spoken(pass.attitude).find("tilted") == 0);
    }
  }
  const Pass pass = pass_opening(cuboid(600, 90, 250), opening_z(rectangle(0, 0, 249.5, 100)), Handling::may_tilt);
  CHECK(pass.manner == Manner::blocked);
  CHECK(pass.blocked_mm() == doctest::Approx(0.5).epsilon(1e-6));
  // Standing on end it is exactly as long as the opening.
  CHECK(pass_opening(cuboid(600, 90, 250), opening_z(rectangle(0, 0, 250, 100)), Handling::may_tilt).manner == Manner::tilted);
}

TEST_CASE("pass: blocked upright says by which edge") {
  const Pass pass = pass_opening(cuboid(514, 380, 600), opening_z(rectangle(0, 0, 500, 400)), Handling::upright_only);
  CHECK(pass.manner == Manner::blocked);
  REQUIRE(pass.upright_blocking.size() == 1);
  CHECK(pass.upright_blocking[0].by_um == doctest::Approx(14'000));
}

TEST_CASE("pass: through a door, sideways: the shadow is the box seen from the side") {
  survey::WayIn door;
  door.name = "door";
  door.across = core::Axis::y;
  door.station = core::Length::from_mm(800);
  door.outline = rectangle(0, 300, 400, 700);
  door.move = {0, -1, 0};
  // 600 long in x, 350 broad, 300 high: only turned by a quarter, its 350 side through 400.
  const Pass pass = pass_opening(cuboid(600, 350, 300), door, Handling::upright_only);
  CHECK(pass.manner == Manner::turned);
  CHECK(std::fmod(pass.attitude.turn_deg, 180) == doctest::Approx(90));
  CHECK(pass.gap_mm == doctest::Approx(25));
  CHECK_FALSE(pass.upright_blocking.empty());
}

TEST_CASE("pass: straight over its place, or shifted") {
  const survey::WayIn way = opening_z(rectangle(-10, -10, 610, 110));
  const Pass straight = pass_opening(cuboid(600, 100, 200), way, Handling::upright_only);
  CHECK(straight.manner == Manner::upright);
  CHECK(straight.straight);
  CHECK(straight.gap_mm == doctest::Approx(10));
  const Pass shifted = pass_opening(cuboid(600, 100, 200), opening_z(rectangle(40, -10, 660, 110)), Handling::upright_only);
  CHECK(shifted.manner == Manner::upright);
  CHECK_FALSE(shifted.straight);
  CHECK(shifted.shift.a == doctest::Approx(43'000));
}

TEST_CASE("pass: sampling turns and tilts at fine steps finds no way where it says blocked; and every way it gives passes") {
  std::mt19937_64 random(5);
  int passing = 0, blocked = 0;
  for (int round = 0; round < 40; ++round) {
    const auto outline = reference::star(random, 4 + static_cast<int>(random() % 4), 180, 330);
    const survey::WayIn way = opening_z(outline);
    const Body body = cuboid(std::round(uniform(random, 200, 460)), std::round(uniform(random, 150, 400)), std::round(uniform(random, 150, 400)));
    const Pass pass = pass_opening(body, way, Handling::may_tilt);
    CAPTURE(round);
    if (pass.manner != Manner::blocked) {
      ++passing;
      CHECK(reference::area_outside_um2(body.shadow(way, pass.attitude), pass.shift, outline) < 2e3);
      CHECK(reference::area_outside_um2(pass.shadow, {}, outline) < 2e3);
      continue;
    }
    ++blocked;
    const Opening opening(way);
    bool found = false;
    for (double turn = 0; turn < 360 && !found; turn += 0.5) {
      found = best_fit(opening, body.shadow(way, {turn, 0, 0})).fits;
    }
    for (double tilt = -90; tilt <= 90 && !found; tilt += 0.5) {
      for (const double quarter : {0.0, 90.0, 180.0, 270.0}) {
        for (const double line : {0.0, 90.0}) {
          found = found || best_fit(opening, body.shadow(way, {quarter, tilt, line})).fits;
        }
      }
    }
    CHECK_FALSE(found);
  }
  CHECK(passing > 8);
  CHECK(blocked > 5);
}
