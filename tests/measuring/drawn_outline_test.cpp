/// Joining and chords against closed forms: circles, rounded corners, lines that miss one another.

#include "cellstow/measuring/drawn_outline.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

using namespace cellstow::measuring;

namespace {

constexpr double pi = std::numbers::pi;

DrawnPiece line(double a0, double b0, double a1, double b1, int at = 0) { return {{a0, b0}, {a1, b1}, 0, at}; }

/// A full circle as two halves.
DrawnLoop circle(double a, double b, double radius) {
  return {{{a + radius, b}, {a - radius, b}, 1, 0}, {{a - radius, b}, {a + radius, b}, 1, 0}};
}

/// 100 x 60 with corners rounded by 10: straight and round pieces in turn, counter-clockwise.
DrawnLoop rounded() {
  const double quarter = std::tan(pi / 8);
  return {line(10, 0, 90, 0),   {{90, 0}, {100, 10}, quarter, 0},  line(100, 10, 100, 50), {{100, 50}, {90, 60}, quarter, 0},
          line(90, 60, 10, 60), {{10, 60}, {0, 50}, quarter, 0},   line(0, 50, 0, 10),     {{0, 10}, {10, 0}, quarter, 0}};
}

double polygon_area(const std::vector<DrawnPoint>& corners) {
  double twice = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const DrawnPoint &p = corners[i], &q = corners[(i + 1) % corners.size()];
    twice += p.a_mm * q.b_mm - q.a_mm * p.b_mm;
  }
  return twice / 2;
}

/// Least and greatest distance of a polygon's edges from a centre, by close steps along them.
std::pair<double, double> distances(const std::vector<DrawnPoint>& corners, double a, double b) {
  double least = 1e9, greatest = 0;
  for (std::size_t i = 0; i < corners.size(); ++i)
    for (int step = 0; step <= 200; ++step) {
      const DrawnPoint &p = corners[i], &q = corners[(i + 1) % corners.size()];
      const double t = step / 200.0;
      const double d = std::hypot(p.a_mm + t * (q.a_mm - p.a_mm) - a, p.b_mm + t * (q.b_mm - p.b_mm) - b);
      least = std::min(least, d);
      greatest = std::max(greatest, d);
    }
  return {least, greatest};
}

}  // namespace

TEST_CASE("drawn outline: areas of circle and rounded rectangle in closed form") {
  CHECK(loop_area_mm2(circle(30, -20, 25)) == doctest::Approx(pi * 625));
  CHECK(loop_area_mm2(rounded()) == doctest::Approx(6000 - (4 - pi) * 100));
}

TEST_CASE("drawn outline: a round wall is laid out inside, a round obstacle outside, both within the stated distance") {
  for (const double radius : {0.05, 2.0, 37.5, 400.0, 5000.0}) {
    CAPTURE(radius);
    const auto wall = distances(tight_corners(circle(7, 9, radius), FreeSide::inside, 0.1), 7, 9);
    CHECK(wall.second <= radius + 1e-9);
    CHECK(wall.first >= radius - 0.1 - 1e-9);
    const auto obstacle = distances(tight_corners(circle(7, 9, radius), FreeSide::outside, 0.1), 7, 9);
    CHECK(obstacle.first >= radius - 1e-9);
    CHECK(obstacle.second <= radius + 0.1 + 1e-9);
  }
}

TEST_CASE("drawn outline: an outline runs counter-clockwise and a hole clockwise, however drawn") {
  DrawnLoop backwards = circle(0, 0, 50);
  std::reverse(backwards.begin(), backwards.end());
  for (DrawnPiece& piece : backwards) {
    std::swap(piece.from, piece.to);
    piece.bulge = -piece.bulge;
  }
  CHECK(loop_area_mm2(backwards) == doctest::Approx(-pi * 2500));
  for (const DrawnLoop& loop : {circle(0, 0, 50), backwards}) {
    CHECK(polygon_area(tight_corners(loop, FreeSide::inside, 0.1)) > 0);
    CHECK(polygon_area(tight_corners(loop, FreeSide::outside, 0.1)) < 0);
  }
}

TEST_CASE("drawn outline: an arc that bulges into the space takes more of it, never less") {
  // a square of 100 with a half circle of radius 20 pushed in at its right side
  const DrawnLoop pushed_in = {line(0, 0, 100, 0), line(100, 0, 100, 30), {{100, 30}, {100, 70}, -1, 0}, line(100, 70, 100, 100),
                               line(100, 100, 0, 100), line(0, 100, 0, 0)};
  const double true_area = 10'000 - pi * 400 / 2;
  CHECK(loop_area_mm2(pushed_in) == doctest::Approx(true_area));
  const double tight = polygon_area(tight_corners(pushed_in, FreeSide::inside, 0.1));
  CHECK(tight < true_area);
  CHECK(tight > true_area - 0.1 * pi * 20.1);  // a strip no wider than the stated distance
}

TEST_CASE("drawn outline: pieces in any order and direction give the same loop") {
  std::mt19937 random(5);
  for (int round = 0; round < 50; ++round) {
    DrawnLoop pieces = rounded();
    std::shuffle(pieces.begin(), pieces.end(), random);
    for (DrawnPiece& piece : pieces)
      if (random() % 2) {
        std::swap(piece.from, piece.to);
        piece.bulge = -piece.bulge;
      }
    const JoinedPieces joined = join_pieces(pieces, 0.5);
    REQUIRE(joined.open.empty());
    REQUIRE(joined.forks.empty());
    REQUIRE(joined.loops.size() == 1);
    CHECK(joined.loops[0].size() == 8);
    CHECK(joined.gaps.empty());
    CHECK(std::abs(loop_area_mm2(joined.loops[0])) == doctest::Approx(6000 - (4 - pi) * 100));
  }
}

TEST_CASE("drawn outline: lines that stop short or run past are taken to where they cross") {
  // a rectangle of 300 x 200; the lower right corner stops short, the upper right one runs past
  const JoinedPieces joined =
      join_pieces({line(0, 0, 299.8, 0), line(300, 0.3, 300, 200.2), line(300.2, 200, 0, 200), line(0, 200, 0, 0)}, 0.5);
  REQUIRE(joined.loops.size() == 1);
  REQUIRE(joined.gaps.size() == 2);
  CHECK(joined.gaps[0].width_mm == doctest::Approx(std::hypot(0.2, 0.3)));
  CHECK(joined.gaps[0].at.a_mm == doctest::Approx(300));
  CHECK(joined.gaps[0].at.b_mm == doctest::Approx(0));
  CHECK(loop_area_mm2(joined.loops[0]) == doctest::Approx(60'000));
}

TEST_CASE("drawn outline: a gap wider than stated is told with both ends and their distance") {
  const JoinedPieces joined =
      join_pieces({line(0, 0, 300, 0, 11), line(300, 0, 300, 200, 12), line(300, 200, 0, 200, 13), line(0, 200, 0, 3, 14)}, 0.5);
  REQUIRE(joined.open.size() == 2);
  CHECK(joined.loops.empty());
  CHECK(joined.open[0].line == 11);
  CHECK(joined.open[0].nearest_line == 14);
  CHECK(joined.open[0].distance_mm == doctest::Approx(3));
  CHECK(join_pieces({line(0, 0, 300, 0), line(300, 0, 300, 200), line(300, 200, 0, 200), line(0, 200, 0, 3)}, 3).loops.size() == 1);
}

TEST_CASE("drawn outline: three lines at one place, and lines drawn twice, are not guessed about") {
  const std::vector<DrawnPiece> square = {line(0, 0, 9, 0, 1), line(9, 0, 9, 9, 2), line(9, 9, 0, 9, 3), line(0, 9, 0, 0, 4)};
  std::vector<DrawnPiece> across = square;
  across.push_back(line(0, 0, 9, 9, 5));
  const JoinedPieces forked = join_pieces(across, 0.5);
  REQUIRE(forked.forks.size() == 2);
  CHECK(forked.forks[0].lines == std::vector<int>{1, 4, 5});
  std::vector<DrawnPiece> doubled = square;
  doubled.push_back(line(9, 9, 9, 0, 6));
  CHECK(join_pieces(doubled, 0.5).twice == std::vector<std::pair<int, int>>{{2, 6}});
}

TEST_CASE("drawn outline: several loops, short pieces below the gap, and pieces of no length") {
  std::vector<DrawnPiece> pieces = {line(0, 0, 50, 0), line(50, 0, 50, 0.2), line(50, 0.2, 50, 40), line(50, 40, 0, 40), line(0, 40, 0, 0),
                                    line(5, 5, 5, 5, 77)};
  for (const DrawnPiece& piece : circle(25, 20, 6)) pieces.push_back(piece);
  const JoinedPieces joined = join_pieces(pieces, 0.5);
  CHECK(joined.without_length == std::vector<int>{77});
  REQUIRE(joined.loops.size() == 2);
  CHECK(joined.loops[0].size() == 5);
  CHECK(std::abs(loop_area_mm2(joined.loops[0])) == doctest::Approx(2000));
  CHECK(joined.loops[1].size() == 2);
}
