/// Few corners on the tight side: nothing that was not free before, and little lost.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/measuring/scan_inward.hpp"
#include "measuring/scan_reference.hpp"

using namespace cellstow::measuring::scan;
using cellstow::measuring::testing::area_outside;
using cellstow::measuring::testing::is_valid_region;

namespace {

/// Corners in order of their angle about the middle, so that the polygon is simple; deep notches and spikes in it.
Loop random_star(std::mt19937& random, int corners, double radius_um, double rough) {
  Loop loop;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * std::numbers::pi * (i + 0.3 * (random() % 1000) / 1000.0) / corners;
    const double r = radius_um * (1 - rough * (random() % 1000) / 1000.0);
    loop.push_back({std::llround(r * std::cos(angle)), std::llround(r * std::sin(angle))});
  }
  return loop;
}

FreeSpace space_of(Loop outline, std::vector<Loop> holes = {}) {
  FreeSpace space;
  space.outline = std::move(outline);
  space.holes = std::move(holes);
  return space;
}

/// Largest polygon of at most `corners` corners with its corners among those of the loop and the crossings of lines through two of
/// them, and its sides in the loop: an exhaustive search over closed walks, in plain numbers with a slack of 5 um.
class Exhaustive {
 public:
  explicit Exhaustive(const Loop& loop) {
    for (const PointUm p : loop) wall_.push_back({static_cast<double>(p.s), static_cast<double>(p.t)});
    points_ = wall_;
    for (std::size_t a = 0; a < wall_.size(); ++a)
      for (std::size_t b = a + 1; b < wall_.size(); ++b)
        for (std::size_t c = a; c < wall_.size(); ++c)
          for (std::size_t d = c + 1; d < wall_.size(); ++d) add_crossing(wall_[a], wall_[b], wall_[c], wall_[d]);
    const std::size_t n = points_.size();
    sees_.resize(n * n);
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < i; ++j) sees_[i * n + j] = sees_[j * n + i] = sees(points_[i], points_[j]);
  }

  double doubled_area(int corners) const {
    const std::size_t n = points_.size();
    double best = 0;
    for (std::size_t start = 0; start < n; ++start) {
      std::vector<double> area(n, -1e30);
      area[start] = 0;
      for (int step = 0; step < corners; ++step) {
        std::vector<double> next(n, -1e30);
        for (std::size_t i = 0; i < n; ++i)
          for (std::size_t j = 0; area[i] > -1e29 && j < n; ++j)
            if (sees_[i * n + j]) next[j] = std::max(next[j], area[i] + points_[i].x * points_[j].y - points_[i].y * points_[j].x);
        area = std::move(next);
      }
      best = std::max(best, area[start]);
    }
    return best;
  }

 private:
  struct Plain { double x, y; };

  void add_crossing(Plain a, Plain b, Plain c, Plain d) {
    const double slope = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x);
    if (std::abs(slope) < 1) return;
    const double along = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / slope;
    const Plain p{a.x + along * (b.x - a.x), a.y + along * (b.y - a.y)};
    const bool known = std::any_of(points_.begin(), points_.end(), [&](Plain q) { return std::hypot(q.x - p.x, q.y - p.y) < 20; });
    if (!known && holds(p)) points_.push_back(p);
  }

  bool holds(Plain p) const {
    bool inside = false;
    for (std::size_t i = 0; i < wall_.size(); ++i) {
      const Plain a = wall_[i], b = wall_[(i + 1) % wall_.size()];
      const double length2 = (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
      const double along = std::clamp(((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length2, 0.0, 1.0);
      if (std::hypot(p.x - a.x - along * (b.x - a.x), p.y - a.y - along * (b.y - a.y)) < 5) return true;
      if ((a.y <= p.y) == (b.y <= p.y)) continue;
      if (((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0) == (b.y > a.y)) inside = !inside;
    }
    return inside;
  }

  bool sees(Plain p, Plain q) const {
    for (int i = 1; i < 100; ++i)
      if (!holds({p.x + (q.x - p.x) * i / 100, p.y + (q.y - p.y) * i / 100})) return false;
    return true;
  }

  std::vector<Plain> wall_, points_;
  std::vector<char> sees_;
};

/// As a scanner sees a waisted space with rounded corners, 3 mm of noise.
Loop noisy_scan(std::mt19937& random, int corners) {
  Loop loop;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * std::numbers::pi * i / corners, c = std::cos(angle), s = std::sin(angle);
    const double r = 400'000 / std::pow(std::pow(std::abs(c), 8) + std::pow(std::abs(s), 8), 1 / 8.0) *
                         (1 - 0.15 * std::cos(2 * angle) * std::cos(2 * angle)) + 3'000 * ((random() % 1000) / 500.0 - 1);
    loop.push_back({std::llround(r * c), std::llround(0.7 * r * s)});
  }
  return loop;
}

}  // namespace

TEST_CASE("inward: thousands of random polygons, nothing comes in that was not free") {
  std::mt19937 random(1);
  int reached = 0, rounds = 0;
  for (; rounds < 2000; ++rounds) {
    const int corners = 4 + static_cast<int>(random() % 27);
    const std::size_t most = 4 + random() % 9;
    const FreeSpace space = space_of(random_star(random, corners, 300'000, 0.1 + 0.8 * (rounds % 10) / 10.0));
    const Inward inward = simplify_inward(space, {most, 0});
    CAPTURE(rounds);
    REQUIRE(is_valid_region(inward.outline, {}));
    REQUIRE(area_outside(inward.outline, {}, space.outline, {}) == 0);
    reached += inward.outline.size() <= most;
    if (space.outline.size() <= most) CHECK(inward.lost_um2 == 0);
  }
  CHECK(reached == rounds);
}

TEST_CASE("inward: holes grow outward only, and stay apart") {
  std::mt19937 random(2);
  for (int round = 0; round < 200; ++round) {
    std::vector<Loop> holes;
    for (const PointUm middle : {PointUm{-100'000, 0}, {90'000, 20'000}, {0, -110'000}}) {
      Loop hole = random_star(random, 5 + static_cast<int>(random() % 12), 45'000, 0.6);
      std::reverse(hole.begin(), hole.end());
      for (PointUm& p : hole) p = {p.s + middle.s, p.t + middle.t};
      holes.push_back(hole);
    }
    const FreeSpace space = space_of(random_star(random, 30, 400'000, 0.4), holes);
    const Inward inward = simplify_inward(space, {6, 0});
    CAPTURE(round);
    REQUIRE(is_valid_region(inward.outline, inward.holes));
    REQUIRE(area_outside(inward.outline, inward.holes, space.outline, space.holes) == 0);
    // what is told as lost is what an exact library finds
    const double lost = area_outside(space.outline, space.holes, inward.outline, inward.holes);
    CHECK(inward.lost_um2 == doctest::Approx(lost).epsilon(1e-6));
    for (const Loop& hole : inward.holes) CHECK(hole.size() <= 6);
  }
}

TEST_CASE("inward: beside an exhaustive search on small polygons") {
  std::mt19937 random(3);
  for (const int corners : {3, 4, 5}) {
    double sum = 0, worst = 1;
    const int rounds = 20;
    for (int round = 0; round < rounds; ++round) {
      const Loop loop = random_star(random, 7 + round % 2, 300'000, 0.5);
      const Inward inward = simplify_inward(space_of(loop), {static_cast<std::size_t>(corners), 0});
      REQUIRE(inward.outline.size() <= static_cast<std::size_t>(corners));
      const double share = 2 * (inward.free_um2 - inward.lost_um2) / Exhaustive(loop).doubled_area(corners);
      sum += share;
      worst = std::min(worst, share);
    }
    CAPTURE(corners);
    MESSAGE(corners << " corners: " << 100 * sum / rounds << " % of the largest on average, " << 100 * worst << " % at worst");
    CHECK(sum / rounds > 0.985);
    CHECK(worst > 0.88);
  }
}

TEST_CASE("inward: cases with a known answer") {
  // a rectangle with a corner cut off at 30 mm: its four corners at best lose the lesser of two strips
  const Loop cut = {{0, 0}, {600'000, 0}, {600'000, 370'000}, {570'000, 400'000}, {0, 400'000}};
  const Inward four = simplify_inward(space_of(cut), {4, 0});
  CHECK(four.outline.size() == 4);
  // a quadrilateral with its side through the cut corner: by turning that side about either end of the cut, 30 mm by 570 / 2 at most
  CHECK(four.lost_um2 <= 30'000.0 * 400'000 / 2);
  CHECK(simplify_inward(space_of(cut), {5, 0}).lost_um2 == 0);
  // an L keeps its six corners; with four the larger arm or what is better
  const Loop ell = {{0, 0}, {600'000, 0}, {600'000, 100'000}, {100'000, 100'000}, {100'000, 400'000}, {0, 400'000}};
  CHECK(simplify_inward(space_of(ell), {6, 0}).outline == ell);
  CHECK(simplify_inward(space_of(ell), {4, 0}).free_um2 - simplify_inward(space_of(ell), {4, 0}).lost_um2 >= 600'000.0 * 100'000);
  // many corners on straight walls cost nothing
  Loop dense;
  for (Um i = 0; i < 100; ++i) dense.push_back({i * 6'000, 0});
  for (Um i = 0; i < 100; ++i) dense.push_back({600'000, i * 4'000});
  for (Um i = 0; i < 100; ++i) dense.push_back({600'000 - i * 6'000, 400'000});
  for (Um i = 0; i < 100; ++i) dense.push_back({0, 400'000 - i * 4'000});
  const Inward plain = simplify_inward(space_of(dense), {12, 0});
  CHECK(plain.outline == Loop{{0, 0}, {600'000, 0}, {600'000, 400'000}, {0, 400'000}});
  CHECK(plain.lost_um2 == 0);
  CHECK(plain.deepest_um == 0);
}

TEST_CASE("inward: a scan with noise comes down to twelve corners for a few percent") {
  std::mt19937 random(4);
  const FreeSpace space = space_of(noisy_scan(random, 1000));
  const Inward inward = simplify_inward(space, {12, 0});
  CHECK(inward.outline.size() == 12);
  CHECK(area_outside(inward.outline, {}, space.outline, {}) == 0);
  CHECK(inward.lost_um2 < 0.06 * inward.free_um2);
  // the deepest place told, against every corner of the scan
  double deepest = 0;
  for (const PointUm p : space.outline) {
    double nearest = 1e18;
    for (std::size_t i = 0; i < inward.outline.size(); ++i) {
      const PointUm a = inward.outline[i], b = inward.outline[(i + 1) % inward.outline.size()];
      nearest = std::min(nearest, cellstow::geometry::nearest(p, p, a, b).distance_um);
    }
    deepest = std::max(deepest, nearest);
  }
  CHECK(inward.deepest_um >= deepest);
  CHECK(inward.deepest_um <= deepest + 200);
  const Inward again = simplify_inward(space, {12, 0});
  CHECK(again.outline == inward.outline);
}

TEST_CASE("inward: a narrow slit is cut off and told, a wide one counts as space") {
  // 3 mm wide, 80 mm deep, in the wall at t = 400 mm
  const Loop slit = {{0, 0}, {600'000, 0}, {600'000, 400'000}, {303'000, 400'000}, {302'000, 480'000}, {300'000, 400'000}, {0, 400'000}};
  const Inward inward = simplify_inward(space_of(slit), {12, 4'000});
  REQUIRE(inward.spikes.size() == 1);
  CHECK(inward.spikes[0].deep_um == doctest::Approx(80'000));
  CHECK(inward.spikes[0].at == PointUm{301'500, 400'000});
  CHECK(inward.outline.size() == 4);
  CHECK(inward.deepest_um == 0);
  CHECK(simplify_inward(space_of(slit), {12, 2'000}).outline == slit);
}
