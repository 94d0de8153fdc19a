/// A scan placed on known points: exact where the points are, least squares where they are not, refused where it would
/// have to be stretched or mirrored.

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "cellstow/measuring/scan_placing.hpp"

using namespace cellstow::measuring::scan;

namespace {

using Point = std::array<double, 3>;

/// Turn by `angle` about a unit axis. Source: Rodrigues' formula.
std::array<std::array<double, 3>, 3> turn_about(Point axis, double angle) {
  const double c = std::cos(angle), s = std::sin(angle), x = axis[0], y = axis[1], z = axis[2];
  return {{{c + x * x * (1 - c), x * y * (1 - c) - z * s, x * z * (1 - c) + y * s},
           {y * x * (1 - c) + z * s, c + y * y * (1 - c), y * z * (1 - c) - x * s},
           {z * x * (1 - c) - y * s, z * y * (1 - c) + x * s, c + z * z * (1 - c)}}};
}

Point apply(const std::array<std::array<double, 3>, 3>& turn, const Point& shift, const Point& p) {
  Point q = shift;
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j) q[i] += turn[i][j] * p[j];
  return q;
}

const auto turn = turn_about({2.0 / 3, -1.0 / 3, 2.0 / 3}, 2.2);
const Point shift = {1800, -250, 410};

std::vector<KnownPoint> known(const std::vector<Point>& in_scan) {
  std::vector<KnownPoint> points;
  for (const Point& p : in_scan) points.push_back({"K" + std::to_string(points.size() + 1), p, apply(turn, shift, p)});
  return points;
}

const std::vector<Point> corners = {{0, 0, 0}, {600, 0, 0}, {0, 400, 0}, {0, 0, 300}, {600, 400, 300}};

double sum_of_squares(const std::vector<KnownPoint>& points, const std::array<std::array<double, 3>, 3>& t, const Point& s) {
  double sum = 0;
  for (const KnownPoint& k : points) {
    const Point q = apply(t, s, k.in_scan_mm);
    for (std::size_t i = 0; i < 3; ++i) sum += (q[i] - k.in_car_mm[i]) * (q[i] - k.in_car_mm[i]);
  }
  return sum;
}

PlacingTrouble trouble_of(const std::vector<KnownPoint>& points) {
  const auto placing = place(points, 5);
  REQUIRE_FALSE(placing);
  return placing.error().trouble;
}

}  // namespace

TEST_CASE("placing: a turn and a shift are found again") {
  for (const std::size_t count : {std::size_t{3}, std::size_t{4}, std::size_t{5}}) {
    const auto placing = place(known({corners.begin(), corners.begin() + static_cast<std::ptrdiff_t>(count)}), 5);
    REQUIRE(placing);
    for (std::size_t i = 0; i < 3; ++i) {
      CHECK(placing->shift_mm[i] == doctest::Approx(shift[i]).epsilon(1e-9));
      for (std::size_t j = 0; j < 3; ++j) CHECK(placing->turn[i][j] == doctest::Approx(turn[i][j]).epsilon(1e-9));
    }
    CHECK(placing->scale == doctest::Approx(1).epsilon(1e-12));
    for (const double off : placing->off_mm) CHECK(off < 1e-9);
    CHECK(placing->in_one_plane == (count == 3));
  }
}

TEST_CASE("placing: two planar points against each other, by hand") {
  // a square 100 mm wide in the car, 102 mm along x in the scan: least squares keeps the middle and leaves 1 mm at each corner
  std::vector<KnownPoint> square;
  for (const Point& p : {Point{0, 0, 0}, Point{100, 0, 0}, Point{100, 100, 0}, Point{0, 100, 0}})
    square.push_back({"", {p[0] * 1.02, p[1], p[2]}, p});
  const auto placing = place(square, 5);
  REQUIRE(placing);
  for (const double off : placing->off_mm) CHECK(off == doctest::Approx(1));
  CHECK(placing->shift_mm[0] == doctest::Approx(-1));
  // Horn's scale: sqrt of the sums of squares about the middle, 4 * (50^2 + 50^2) over 4 * (51^2 + 50^2)
  CHECK(placing->scale == doctest::Approx(std::sqrt(5000.0 / 5101.0)));
}

TEST_CASE("placing: with noise no small turn or shift fits better") {
  std::mt19937 random(11);
  std::normal_distribution<double> noise(0, 0.8);
  for (int round = 0; round < 200; ++round) {
    auto points = known(corners);
    for (KnownPoint& k : points)
      for (double& c : k.in_car_mm) c += noise(random);
    const auto placing = place(points, 5);
    REQUIRE(placing);
    const double best = sum_of_squares(points, placing->turn, placing->shift_mm);
    for (int axis = 0; axis < 3; ++axis)
      for (const double step : {-1e-3, 1e-3}) {
        Point along{};
        along[static_cast<std::size_t>(axis)] = 1;
        const auto small = turn_about(along, step);
        auto turned = placing->turn;
        for (std::size_t i = 0; i < 3; ++i)
          for (std::size_t j = 0; j < 3; ++j) {
            turned[i][j] = 0;
            for (std::size_t k = 0; k < 3; ++k) turned[i][j] += small[i][k] * placing->turn[k][j];
          }
        // turned about the middle of the points in the car
        Point middle{}, shifted{};
        for (const KnownPoint& k : points)
          for (std::size_t i = 0; i < 3; ++i) middle[i] += k.in_car_mm[i] / 5;
        for (std::size_t i = 0; i < 3; ++i) {
          shifted[i] = middle[i];
          for (std::size_t j = 0; j < 3; ++j) shifted[i] += small[i][j] * (placing->shift_mm[j] - middle[j]);
        }
        CHECK(sum_of_squares(points, turned, shifted) > best);
        shifted = placing->shift_mm;
        shifted[static_cast<std::size_t>(axis)] += step;
        CHECK(sum_of_squares(points, placing->turn, shifted) > best);
      }
  }
}

TEST_CASE("placing: what would need stretching, mirroring or guessing is refused") {
  auto scaled = known(corners);
  for (KnownPoint& k : scaled)
    for (double& c : k.in_scan_mm) c *= 1.018;
  CHECK(trouble_of(scaled) == PlacingTrouble::stretched);
  for (const double unit : {1000.0, 25.4, 0.001}) {
    auto other = known(corners);
    for (KnownPoint& k : other)
      for (double& c : k.in_scan_mm) c *= unit;
    CHECK(trouble_of(other) == PlacingTrouble::wrong_unit);
    CHECK(place(other, 5).error().scale == doctest::Approx(1 / unit));
  }
  auto mirrored = known(corners);
  for (KnownPoint& k : mirrored) k.in_scan_mm[1] *= -1;
  CHECK(trouble_of(mirrored) == PlacingTrouble::mirrored);
  CHECK(trouble_of(known({{0, 0, 0}, {300, 2, 0}, {600, 0, 1}})) == PlacingTrouble::on_a_line);
  CHECK(trouble_of(known({{0, 0, 0}, {0, 0, 0}, {0, 0, 0}})) == PlacingTrouble::on_a_line);
}

TEST_CASE("placing: the slipped point is named") {
  for (std::size_t slipped = 0; slipped < corners.size(); ++slipped) {
    auto points = known(corners);
    points[slipped].in_car_mm[1] += 30;
    const auto placing = place(points, 5);
    REQUIRE_FALSE(placing);
    CHECK(placing.error().trouble == PlacingTrouble::does_not_fit);
    REQUIRE(placing.error().slipped);
    CHECK(*placing.error().slipped == slipped);
  }
  auto three = known({corners.begin(), corners.begin() + 3});
  three[1].in_car_mm[0] += 30;
  const auto placing = place(three, 5);
  REQUIRE_FALSE(placing);
  CHECK_FALSE(placing.error().slipped);
}

TEST_CASE("placing: a mirrored scan never fits, whatever the points, where they do not lie in a plane") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> any(-500, 500);
  for (int round = 0; round < 300; ++round) {
    std::vector<Point> points;
    for (int i = 0; i < 5; ++i) points.push_back({any(random), any(random), any(random)});
    const auto plain = place(known(points), 1);
    if (!plain || plain->in_one_plane) continue;
    auto mirrored = known(points);
    for (KnownPoint& k : mirrored) k.in_scan_mm[2] *= -1;
    const auto placing = place(mirrored, 1);
    REQUIRE_FALSE(placing);
    CHECK(placing.error().trouble == PlacingTrouble::mirrored);
  }
}
