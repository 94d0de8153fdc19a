/// A shadow of fixed shape in an opening, against a general geometry library and against contact met exactly.

#include <doctest/doctest.h>

#include <cmath>

#include "cellstow/way_in/body.hpp"
#include "cellstow/way_in/fit.hpp"
#include "reference.hpp"

using namespace cellstow;
using namespace cellstow::way_in;
using reference::opening_z;
using reference::p2;
using reference::rectangle;
using reference::uniform;

namespace {

Body box(std::vector<core::Point2> outline, double low = 0, double high = 200) {
  return Body("box", {{"box", std::move(outline), core::Length::from_mm(low), core::Length::from_mm(high)}});
}

Fit fit_of(const Body& body, const survey::WayIn& way) { return best_fit(Opening(way), body.shadow(way, {})); }

std::vector<core::Point2> random_l(std::mt19937_64& random, double most) {
  const double l = std::round(uniform(random, 60, most)), w = std::round(uniform(random, 60, most));
  const double a = std::round(l * uniform(random, 0.3, 0.7)), b = std::round(w * uniform(random, 0.3, 0.7));
  return {p2(0, 0), p2(l, 0), p2(l, b), p2(a, b), p2(a, w), p2(0, w)};
}

}  // namespace

TEST_CASE("fit: a gap met exactly is met, one micrometre less is not") {
  const survey::WayIn way = opening_z(rectangle(0, 0, 500, 400));
  CHECK(fit_of(box(rectangle(100, 100, 600, 500)), way).fits);
  CHECK_FALSE(fit_of(box(rectangle(100, 100, 600.001, 500)), way).fits);
  CHECK_FALSE(fit_of(box(rectangle(100, 100, 600, 500.001)), way).fits);
  // Slanting edges of whole-um corners: a right triangle holds the rectangle that touches its long side.
  const survey::WayIn triangle = opening_z({p2(0, 0), p2(900, 0), p2(0, 600)});
  CHECK(fit_of(box(rectangle(0, 0, 450, 300)), triangle).fits);
  CHECK_FALSE(fit_of(box(rectangle(0, 0, 450, 300.001)), triangle).fits);
}

TEST_CASE("fit: a stepped box fits an opening of its own shape, not one that is shallower by a micrometre") {
  const std::vector<core::Point2> shape{p2(0, 0), p2(500, 0), p2(500, 200), p2(300, 200), p2(300, 400), p2(0, 400)};
  CHECK(fit_of(box(shape), opening_z(shape)).fits);
  std::vector<core::Point2> tighter = shape;
  tighter[2] = p2(500, 199.999);
  tighter[3] = p2(300, 199.999);
  CHECK_FALSE(fit_of(box(shape), opening_z(tighter)).fits);
}

TEST_CASE("fit: the edges in the way and by how much") {
  const survey::WayIn way = opening_z(rectangle(0, 0, 500, 400));
  const Opening opening(way);
  const Fit longer = fit_of(box(rectangle(0, 0, 514, 380)), way);
  CHECK_FALSE(longer.fits);
  const auto one = blocking_edges(opening, longer);
  REQUIRE(one.size() == 1);
  CHECK(one[0].by_um == doctest::Approx(14'000));
  CHECK((one[0].edge == "rear edge" || one[0].edge == "front edge"));
  const auto two = blocking_edges(opening, fit_of(box(rectangle(0, 0, 530, 420)), way));
  REQUIRE(two.size() == 2);
  CHECK(two[0].by_um == doctest::Approx(30'000));
  CHECK(two[1].by_um == doctest::Approx(20'000));
  CHECK((two[1].edge == "left edge" || two[1].edge == "right edge"));
}

TEST_CASE("fit: never called fitting where it covers anything outside; never called too big where a fine grid of shifts finds room") {
  std::mt19937_64 random(20240501);
  int fitting = 0, not_fitting = 0, notched = 0;
  for (int round = 0; round < 150; ++round) {
    const auto outline = reference::star(random, 4 + static_cast<int>(random() % 6), 120, 400);
    const survey::WayIn way = opening_z(outline);
    const Opening opening(way);
    notched += !opening.material().empty();
    const Body body = box(random_l(random, 380));
    const Shadow shadow = body.shadow(way, {});
    const Fit fit = best_fit(opening, shadow);
    CAPTURE(round);
    if (fit.fits) {
      ++fitting;
      CHECK(reference::area_outside_um2(shadow, fit.shift, outline) < 2e3);
      continue;
    }
    ++not_fitting;
    // A grid of 4 mm about the best shift and over the whole opening.
    bool found = false;
    for (double a = -400'000; a <= 400'000 && !found; a += 20'000) {
      for (double b = -400'000; b <= 400'000 && !found; b += 20'000) {
        found = reference::area_outside_um2(shadow, {a - 100'000, b - 100'000}, outline) < 1;
      }
    }
    for (double a = -40'000; a <= 40'000 && !found; a += 4'000) {
      for (double b = -40'000; b <= 40'000 && !found; b += 4'000) {
        found = reference::area_outside_um2(shadow, {fit.shift.a + a, fit.shift.b + b}, outline) < 1;
      }
    }
    CHECK_FALSE(found);
  }
  CHECK(fitting > 20);
  CHECK(not_fitting > 20);
  CHECK(notched > 50);
}

TEST_CASE("fit: a shadow grown to the margin still fits, grown beyond it does not") {
  std::mt19937_64 random(7);
  for (int round = 0; round < 60; ++round) {
    const auto outline = reference::star(random, 5, 200, 400);
    const survey::WayIn way = opening_z(outline);
    const double l = std::round(uniform(random, 40, 200)), w = std::round(uniform(random, 40, 200));
    const Fit fit = fit_of(box(rectangle(0, 0, l, w)), way);
    // Slid square to every edge of the opening by the margin, the shadow stays inside.
    const Shadow shadow = box(rectangle(0, 0, l, w)).shadow(way, {});
    if (!fit.fits) continue;
    for (int k = 0; k < 12; ++k) {
      const double angle = k * 0.5236;
      const Spot at{fit.shift.a + 0.999 * fit.margin_um * std::cos(angle), fit.shift.b + 0.999 * fit.margin_um * std::sin(angle)};
      CHECK(reference::area_outside_um2(shadow, at, outline) < 2e3);
    }
  }
}
