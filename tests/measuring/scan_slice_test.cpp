/// Solids known in closed form cut by planes: box, wedge, drum, and the drum cut obliquely, an ellipse.

#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <numbers>
#include <random>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/measuring/scan_free_space.hpp"
#include "measuring/scan_solids.hpp"

using namespace cellstow::measuring::scan;
using namespace cellstow::measuring::testing;
using cellstow::core::Axis;

namespace {

std::vector<Slice> cut(const PlacedScan& solid, Axis across, std::vector<Um> stations) { return slice(solid, across, stations); }

/// The one outline, corners on straight runs taken out.
Loop outline_at(const PlacedScan& solid, Axis across, Um station, PointUm inside) {
  const auto slices = cut(solid, across, {station});
  const auto space = free_space(slices[0].pieces, inside, {});
  REQUIRE(space);
  CHECK(space->holes.empty());
  Loop plain;
  const Loop& loop = space->outline;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const PointUm before = loop[(i + loop.size() - 1) % loop.size()], after = loop[(i + 1) % loop.size()];
    if (cellstow::geometry::turn_sign(before, loop[i], after) != 0) plain.push_back(loop[i]);
  }
  return plain;
}

}  // namespace

TEST_CASE("slice: a box is a rectangle across every axis") {
  const PlacedScan solid = in_car(box({2000, -400, 330}, {2600, 400, 700}));
  CHECK(outline_at(solid, Axis::x, 2'100'000, {0, 500'000}) ==
        Loop{{-400'000, 330'000}, {400'000, 330'000}, {400'000, 700'000}, {-400'000, 700'000}});
  CHECK(outline_at(solid, Axis::y, 1'234, {2'300'000, 500'000}) ==
        Loop{{2'000'000, 330'000}, {2'600'000, 330'000}, {2'600'000, 700'000}, {2'000'000, 700'000}});
  CHECK(outline_at(solid, Axis::z, 500'000, {2'300'000, 0}) ==
        Loop{{2'000'000, -400'000}, {2'600'000, -400'000}, {2'600'000, 400'000}, {2'000'000, 400'000}});
}

TEST_CASE("slice: a wedge is as high as its slope says") {
  // the roof rises from 300 mm at x = 0 to 500 mm at x = 600: at x it is 300 + x / 3
  const PlacedScan solid = in_car(hexahedron({Corner{0, -100, 0}, {600, -100, 0}, {600, 100, 0}, {0, 100, 0}, {0, -100, 300}, {600, -100, 500},
                                              {600, 100, 500}, {0, 100, 300}}));
  for (const Um x : {3'000, 150'000, 299'997, 450'000}) {
    const Um roof = 300'000 + x / 3;
    CHECK(outline_at(solid, Axis::x, x, {0, 100'000}) ==
          Loop{{-100'000, 0}, {100'000, 0}, {100'000, roof}, {-100'000, roof}});
  }
}

TEST_CASE("slice: a drum cut straight has its own corners, its area that of the regular polygon") {
  const int sides = 48;
  const PlacedScan solid = in_car(drum(300, 500, sides));
  const Loop outline = outline_at(solid, Axis::z, 123'456, {0, 0});
  CHECK(outline.size() >= sides);              // two triangles a side, their common edge may be a micrometre off its line
  for (const PointUm p : outline) {
    CHECK(std::hypot(p.s, p.t) <= 300'002);
    CHECK(std::hypot(p.s, p.t) >= 300'000 * std::cos(std::numbers::pi / sides) - 2);
  }
  // n / 2 r^2 sin(2 pi / n)
  const double area = sides / 2.0 * 9e10 * std::sin(2 * std::numbers::pi / sides);
  CHECK(static_cast<double>(cellstow::geometry::doubled_area(outline)) / 2 == doctest::Approx(area).epsilon(1e-5));
}

TEST_CASE("slice: a drum cut obliquely is an ellipse, longer by one over the cosine of the tilt") {
  const int sides = 240;
  const double tilt = 0.6, radius = 200;
  Placing leaning;                             // turned about y, its middle at z = 0
  leaning.turn = {{{std::cos(tilt), 0, std::sin(tilt)}, {0, 1, 0}, {-std::sin(tilt), 0, std::cos(tilt)}}};
  leaning.shift_mm = {-500 * std::sin(tilt), 0, -500 * std::cos(tilt)};
  const PlacedScan solid = *placed(drum(radius, 1000, sides), leaning, 1);
  const Loop outline = outline_at(solid, Axis::z, 0, {0, 0});
  CHECK(outline.size() >= sides);
  const double a = radius * 1000 / std::cos(tilt), b = radius * 1000, inner = std::cos(std::numbers::pi / sides);
  for (const PointUm p : outline) {
    const double on_ellipse = std::hypot(static_cast<double>(p.s) / a, static_cast<double>(p.t) / b);
    CHECK(on_ellipse <= 1 + 1e-5);             // 2 um of 200 mm
    CHECK(on_ellipse >= inner - 1e-5);
  }
  const double area = static_cast<double>(cellstow::geometry::doubled_area(outline)) / 2;
  CHECK(area == doctest::Approx(sides / 2.0 * a * b * std::sin(2 * std::numbers::pi / sides)).epsilon(1e-5));
}

TEST_CASE("slice: a closed surface of any shape gives closed lines") {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> jitter(-20, 20);
  for (int round = 0; round < 20; ++round) {
    Scan solid = drum(200, 300, 15);
    // one shift a place, so that what met still meets
    std::map<Corner, Corner> moved;
    for (Corner& p : solid.points) {
      const auto [found, is_new] = moved.try_emplace(p, Corner{p[0] + jitter(random), p[1] + jitter(random), p[2] + jitter(random)});
      p = found->second;
    }
    for (const Slice& s : cut(in_car(solid), Axis::z, {50'000, 120'001, 250'000})) {
      std::map<PointUm, int> ends;
      for (const WallPiece& piece : s.pieces) {
        ++ends[piece.from];
        ++ends[piece.to];
      }
      REQUIRE_FALSE(ends.empty());
      for (const auto& [point, count] : ends) CHECK(count % 2 == 0);
    }
  }
}

TEST_CASE("slice: a step at the very station is read from the side with lower coordinates") {
  // 400 mm wide below z = 200, 200 mm wide above
  Scan stepped = box({-200, -200, 0}, {200, 200, 200});
  append(stepped, box({-100, -100, 200}, {100, 100, 400}));
  const auto slices = cut(in_car(stepped), Axis::z, {100'000, 200'000, 300'000});
  CHECK(slices[1].meets_level_face);
  CHECK_FALSE(slices[0].meets_level_face);
  const auto width = [](const Slice& s) { return free_space(s.pieces, {0, 0}, {})->outline[0]; };
  CHECK(width(slices[0]) == PointUm{-200'000, -200'000});
  CHECK(width(slices[1]) == width(slices[0]));
  CHECK(width(slices[2]) == PointUm{-100'000, -100'000});
}

TEST_CASE("slice: stations beyond the scan give nothing") {
  for (const Slice& s : cut(in_car(box({0, 0, 0}, {100, 100, 100})), Axis::z, {-1, 0, 100'001})) CHECK(s.pieces.empty());
  CHECK(cut(in_car(box({0, 0, 0}, {100, 100, 100})), Axis::z, {100'000})[0].pieces.size() == 4);
}
