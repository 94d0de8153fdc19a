/// Walls pushed out: their areas by hand, and what must hold for any outline.

#include <doctest/doctest.h>

#include <random>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/limits/change.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

/// Twice the area of the first section less its holes, um2.
Um doubled_area(const survey::Cavity& cavity) {
  const auto of = [](const std::vector<Point2>& points) {
    geometry::Loop loop;
    for (const Point2& p : points) loop.push_back({p.a.um(), p.b.um()});
    return geometry::doubled_area(loop);
  };
  Um area = of(cavity.sections.at[0].outline);
  for (const auto& hole : cavity.sections.at[0].holes) area += of(hole);  // clockwise: negative
  return area;
}

const limits::Change& wall(const std::vector<limits::Change>& changes, const std::string& what) {
  const auto found = std::find_if(changes.begin(), changes.end(), [&](const limits::Change& c) { return c.what == what; });
  REQUIRE_MESSAGE(found != changes.end(), what);
  return *found;
}

Um grown_by(const survey::Cavity& cavity, const limits::Change& change, Um by) {
  return doubled_area(change.apply({cavity, survey::Rules{}}, um(by)).cavity) - doubled_area(cavity);
}

}  // namespace

TEST_CASE("walls: a rectangle's walls grow it by length times way") {
  const survey::Cavity bay = shaft({{0, 0}, {800'000, 0}, {800'000, 500'000}, {0, 500'000}}, 300'000);
  const auto changes = limits::wall_changes(bay);
  CHECK(changes.size() == 6);
  CHECK(grown_by(bay, wall(changes, "rear wall"), 10'000) == 2 * 10'000LL * 500'000);
  CHECK(grown_by(bay, wall(changes, "left wall"), 10'000) == 2 * 10'000LL * 800'000);
  CHECK(wall(changes, "cavity floor").apply({bay, {}}, um(5'000)).cavity.sections.at[0].station == um(-5'000));
}

TEST_CASE("walls: beside a wall that goes back a pocket with straight sides, what protrudes is taken down") {
  // A trapezium, narrower at the rear: the pocket is as wide as the rear wall.
  const survey::Cavity narrow = shaft({{0, 0}, {800'000, 100'000}, {800'000, 400'000}, {0, 500'000}}, 300'000);
  CHECK(grown_by(narrow, wall(limits::wall_changes(narrow), "rear wall"), 10'000) == 2 * 10'000LL * 300'000);
  // An L: the wall of the notch that faces rearward stands on the notch's other wall, which goes with it.
  const survey::Cavity ell = shaft({{0, 0}, {800'000, 0}, {800'000, 500'000}, {500'000, 500'000}, {500'000, 300'000}, {0, 300'000}}, 300'000);
  const auto changes = limits::wall_changes(ell);
  const auto notch = std::find_if(changes.begin(), changes.end(), [](const limits::Change& c) {
    return c.what == "right wall" && c.where.find("y 300") != std::string::npos;
  });
  REQUIRE(notch != changes.end());
  CHECK(grown_by(ell, *notch, 50'000) == 2 * 50'000LL * 500'000);
  // A steeple beside it, leaning over: cut to the same depth, along its own slope (30 mm across at 50 mm deep).
  const survey::Cavity leaning = shaft({{0, 0}, {800'000, 0}, {800'000, 500'000}, {620'000, 500'000}, {500'000, 300'000}, {0, 300'000}}, 300'000);
  const auto slopes = limits::wall_changes(leaning);
  const auto beside = std::find_if(slopes.begin(), slopes.end(), [](const limits::Change& c) {
    return c.what == "right wall" && c.where.find("x 500 y 300") != std::string::npos && c.where.find("x 0 y 300") != std::string::npos;
  });
  REQUIRE(beside != slopes.end());
  CHECK(grown_by(leaning, *beside, 50'000) == 50'000LL * (500'000 + 530'000));
}

TEST_CASE("walls: no farther than the next wall, and an island no farther than through") {
  const survey::Cavity ring = shaft({{0, 0}, {800'000, 0}, {800'000, 500'000}, {0, 500'000}}, 300'000,
                                    {{{300'000, 200'000}, {300'000, 260'000}, {360'000, 260'000}, {360'000, 200'000}}});
  for (const limits::Change& change : limits::wall_changes(ring)) {
    if (change.how != "cut back") continue;
    CHECK(change.largest.um() >= 59'000);
    CHECK(change.largest.um() < 60'000);
    CHECK(grown_by(ring, change, 20'000) == 2 * 20'000LL * 60'000);
  }
}

TEST_CASE("walls: farther out never makes less room") {
  std::mt19937 random(3);
  for (int trial = 0; trial < 30; ++trial) {
    CAPTURE(trial);
    const auto pick = [&](Um low, Um high) { return low + static_cast<Um>(random() % static_cast<std::uint32_t>(high - low + 1)); };
    const survey::Cavity bay = shaft({{pick(0, 90'000), pick(0, 60'000)}, {pick(300'000, 520'000), pick(0, 140'000)},
                                      {pick(850'000, 950'000), pick(30'000, 90'000)}, {pick(520'000, 900'000), pick(300'000, 460'000)},
                                      {pick(600'000, 700'000), pick(620'000, 720'000)}, {pick(0, 80'000), pick(360'000, 700'000)}}, 300'000);
    for (const limits::Change& change : limits::wall_changes(bay)) {
      if (change.what.starts_with("cavity")) continue;
      CAPTURE(change.where);
      Um before = 0;
      for (Um by = change.largest.um() / 5; by <= change.largest.um(); by += change.largest.um() / 5) {
        const Um grown = grown_by(bay, change, by);
        CHECK(grown > before);
        before = grown;
      }
    }
  }
}
