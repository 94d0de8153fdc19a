#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "cellstow/fabrication/flat.hpp"
#include "cellstow/fabrication/solid.hpp"

namespace {

using namespace cellstow::fabrication;
constexpr double pi = std::numbers::pi;

double shoelace(const std::vector<FlatPoint>& corners) {
  double twice = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const FlatPoint &p = corners[i], &q = corners[(i + 1) % corners.size()];
    twice += p.a * q.b - q.a * p.b;
  }
  return twice / 2;
}

}  // namespace

TEST_CASE("areas of circle, slot and rounded plate: closed forms") {
  CHECK(signed_area(hole_path(round_hole({3, 4}, 10, ""))) == doctest::Approx(-pi * 25));
  FlatHole slot;
  slot.kind = HoleKind::slot;
  slot.diameter = 6;
  slot.length = 20;
  slot.angle_deg = 30;
  CHECK(signed_area(hole_path(slot)) == doctest::Approx(-(14 * 6 + pi * 9)));
  const double quarter = std::tan(pi / 8);
  const Path rounded{{5, 0, 0}, {95, 0, quarter}, {100, 5, 0}, {100, 45, quarter}, {95, 50, 0}, {5, 50, quarter}, {0, 45, 0}, {0, 5, quarter}};
  CHECK(signed_area(rounded) == doctest::Approx(100 * 50 - (4 - pi) * 25));
  FlatPattern flat;
  flat.outline = rounded;
  flat.holes = {round_hole({50, 25}, 10, "")};
  CHECK(sheet_area(flat) == doctest::Approx(5000 - (4 - pi) * 25 - pi * 25));
  CHECK(cut_length(flat) == doctest::Approx(2 * 90 + 2 * 40 + 2 * pi * 5 + 2 * pi * 5));
}

TEST_CASE("extent takes in the top of an arc between two corners") {
  const FlatExtent extent = extent_of({{0, 0, 1}, {10, 0, 0}});
  CHECK(extent.low.b == doctest::Approx(-5));
  CHECK(extent.high.b == doctest::Approx(0));
  CHECK(extent.width() == doctest::Approx(10));
}

TEST_CASE("straightened arcs: corners on the circle, area from inside as close as the sag says") {
  const std::vector<FlatPoint> corners = straightened(hole_path(round_hole({1, 2}, 40, "")), 0.01);
  for (const FlatPoint& p : corners) CHECK(std::hypot(p.a - 1, p.b - 2) == doctest::Approx(20));
  CHECK(-shoelace(corners) < pi * 400);
  CHECK(-shoelace(corners) > pi * 400 - 2 * pi * 20 * 0.01);
}

TEST_CASE("volume of a bent strip: Pappus' rule, centroid path times section") {
  BendSolid bend;
  bend.length = 100;
  bend.angle_deg = 90;
  bend.inside_radius = 4;
  bend.thickness = 3;
  CHECK(volume_mm3({{}, {bend}}) == doctest::Approx(pi / 2 * 5.5 * 3 * 100));
}
