#include "cellstow/box/plan_outline.hpp"

#include <doctest/doctest.h>

// The library reaches old headers of its own.
#define BOOST_ALLOW_DEPRECATED_HEADERS
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>
#include <random>

using namespace cellstow::box;

namespace {

namespace bg = boost::geometry;
// A general-purpose geometry library judges overlap and cover, in whole micrometres: with square
// corners its answer is exact. Rings are counter-clockwise and open.
using Polygon = bg::model::polygon<bg::model::d2::point_xy<std::int64_t>, false, false>;

Point2 mm(double a, double b) { return {Length::from_mm(a), Length::from_mm(b)}; }

template <class Points>
Polygon polygon(const Points& points) {
  Polygon result;
  for (const Point2& p : points)
    bg::append(result.outer(), Polygon::point_type(p.a.um(), p.b.um()));
  return result;
}

double shared_area_um2(const Polygon& p, const Polygon& q) {
  std::vector<Polygon> pieces;
  bg::intersection(p, q, pieces);
  double sum = 0;
  for (const Polygon& piece : pieces) sum += static_cast<double>(bg::area(piece));
  return sum;
}

std::int64_t twice_footprints_um2(const std::vector<WallRun>& runs) {
  std::int64_t sum = 0;
  for (const WallRun& run : runs) {
    sum += twice_area_um2({run.footprint.begin(), run.footprint.end()});
  }
  return sum;
}

/// Largest area any two plates share, and the area of any plate outside the outline, in mm2.
double worst_overlap_mm2(const std::vector<WallRun>& runs, const std::vector<Point2>& outline) {
  double worst = 0;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const Polygon plate = polygon(runs[i].footprint);
    worst = std::max(
        worst, static_cast<double>(bg::area(plate)) - shared_area_um2(plate, polygon(outline)));
    for (std::size_t j = i + 1; j < runs.size(); ++j) {
      worst = std::max(worst, shared_area_um2(plate, polygon(runs[j].footprint)));
    }
  }
  return worst / 1e6;
}

const std::vector<Point2> rectangle = {mm(0, 0), mm(382, 0), mm(382, 635), mm(0, 635)};
const std::vector<Point2> l_shape = {mm(0, 0),     mm(600, 0),   mm(600, 200),
                                     mm(250, 200), mm(250, 500), mm(0, 500)};
const std::vector<Point2> u_shape = {mm(0, 0),     mm(600, 0),   mm(600, 400), mm(400, 400),
                                     mm(400, 150), mm(180, 150), mm(180, 400), mm(0, 400)};

/// A row of columns of different depths, all wider and deeper than 20 mm.
std::vector<Point2> random_steps(std::mt19937& random) {
  std::uniform_int_distribution<int> columns(1, 6), width(20'000, 300'000), depth(20'000, 600'000);
  const int n = columns(random);
  std::vector<Point2> outline = {mm(0, 0)};
  std::vector<std::pair<int, int>> steps;
  int x = 0, last = 0;
  for (int i = 0; i < n; ++i) {
    int d = depth(random);
    if (d == last) ++d;
    steps.push_back({width(random), d});
    last = d;
  }
  for (const auto& step : steps) x += step.first;
  outline.push_back({Length::from_um(x), Length()});
  for (auto step = steps.rbegin(); step != steps.rend(); ++step) {
    outline.push_back({Length::from_um(x), Length::from_um(step->second)});
    x -= step->first;
    outline.push_back({Length::from_um(x), Length::from_um(step->second)});
  }
  return outline;
}

}  // namespace

TEST_CASE("wall runs: a rectangle, by hand") {
  const std::vector<WallRun> runs = wall_runs(rectangle, Length::from_mm(3));
  REQUIRE(runs.size() == 4);
  const Face faces[] = {Face::left, Face::rear, Face::right, Face::front};
  const double lengths_mm[] = {379, 632, 379, 632};  // each starts one 3 mm plate after its corner
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(runs[i].face == faces[i]);
    CHECK(runs[i].number == 1);
    CHECK(runs[i].length == Length::from_mm(lengths_mm[i]));
  }
  // 382 x 635 - 376 x 629 = 6066 mm2
  CHECK(twice_footprints_um2(runs) == 2 * 6066LL * 1'000'000);
}

TEST_CASE("wall runs: an inside corner is filled by the arriving wall") {
  // L-shape: the inside corner (250, 200) lies between the plates of edges 2 and 3.
  const std::vector<WallRun> runs = wall_runs(l_shape, Length::from_mm(3));
  REQUIRE(runs.size() == 6);
  CHECK(runs[2].length ==
        Length::from_mm(350));  // -3 at its outside corner, +3 past the inside one
  CHECK(runs[3].length ==
        Length::from_mm(300));  // starts at the inside corner, runs to the outside one
  CHECK(runs[2].face == Face::right);
  CHECK(runs[3].face == Face::rear);
  CHECK(runs[3].number == 2);
  CHECK(runs[4].number == 2);
}

TEST_CASE("wall runs: square corners fill exactly what lies between outline and inset") {
  for (const auto& outline : {rectangle, l_shape, u_shape}) {
    for (const double wall_mm : {0.8, 3.0, 12.5}) {
      CAPTURE(outline.size());
      CAPTURE(wall_mm);
      const Length wall = Length::from_mm(wall_mm);
      const std::vector<WallRun> runs = wall_runs(outline, wall);
      CHECK(runs.size() == outline.size());
      CHECK(twice_footprints_um2(runs) ==
            twice_area_um2(outline) - twice_area_um2(inset(outline, wall)));
      CHECK(worst_overlap_mm2(runs, outline) == 0);
    }
  }
}

TEST_CASE("wall runs, property: random stepped outlines, turned a quarter as well") {
  std::mt19937 random(20240501);
  for (int round = 0; round < 60; ++round) {
    CAPTURE(round);
    std::vector<Point2> outline = random_steps(random);
    for (int turn = 0; turn < 4; ++turn) {
      const Length wall = Length::from_um(1'000 + 97 * round);
      const std::vector<WallRun> runs = wall_runs(outline, wall);
      REQUIRE(twice_footprints_um2(runs) ==
              twice_area_um2(outline) - twice_area_um2(inset(outline, wall)));
      REQUIRE(worst_overlap_mm2(runs, outline) == 0);
      for (Point2& p : outline) p = {-p.b, p.a};
    }
  }
}

TEST_CASE("wall runs: slanting corners leave an open V and never overlap") {
  const std::vector<Point2> slanted[] = {
      {mm(0, 0), mm(400, 0), mm(520, 150), mm(520, 300), mm(0, 300)},
      {mm(0, 0), mm(400, 50), mm(250, 200), mm(300, 400), mm(-40, 380)},  // one inside corner
      {mm(0, 0), mm(500, -100), mm(560, 200), mm(60, 300)},               // turned rectangle
  };
  for (const auto& outline : slanted) {
    const std::vector<WallRun> runs = wall_runs(outline, Length::from_mm(3));
    REQUIRE(runs.size() == outline.size());
    // Footprints are rounded to 1 um, and so along 500 mm to 0.5 mm2; a mitre cut wrongly would
    // share 4 mm2 and more here.
    CHECK(worst_overlap_mm2(runs, outline) < 0.5);
    const double band_mm2 = area_mm2(outline) - area_mm2(inset(outline, Length::from_mm(3)));
    CHECK(static_cast<double>(twice_footprints_um2(runs)) / 2e6 < band_mm2 + 0.5);
  }
}

TEST_CASE("wall runs: a corner of 60 degrees, by hand") {
  // Equilateral triangle, side 300: both plates are cut back by 3 tan(60 deg) = 5.196 mm at each
  // corner.
  const double height_mm = 300 * std::sqrt(3.0) / 2;
  const std::vector<WallRun> runs =
      wall_runs({mm(0, 0), mm(300, 0), mm(150, height_mm)}, Length::from_mm(3));
  for (const WallRun& run : runs) {
    CHECK(run.length.mm() == doctest::Approx(300 - 2 * 3 * std::sqrt(3.0)).epsilon(1e-5));
  }
}

TEST_CASE("area and centroid: an L-shape by hand") {
  // 600 x 200 at (300, 100) and 250 x 300 at (125, 350)
  CHECK(area_mm2(l_shape) == doctest::Approx(195000));
  const auto [x, y] = centroid_mm(l_shape);
  CHECK(x == doctest::Approx((120000 * 300.0 + 75000 * 125.0) / 195000));
  CHECK(y == doctest::Approx((120000 * 100.0 + 75000 * 350.0) / 195000));
}
