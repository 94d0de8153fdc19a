/// Random walls against CGAL's exact kernel: a block on the whole-micrometre grid must be blocked in
/// exact arithmetic if it meets a span, and free if it does not.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "reference.hpp"

using namespace cellstow;
using namespace cellstow::geometry;
using cellstow::test::Block;
using cellstow::test::meets_material;
using cellstow::test::nearer_than;

namespace {

using Random = std::mt19937_64;

Um between(Random& random, Um low, Um high) {
  return std::uniform_int_distribution<Um>(low, high)(random);
}

/// Corners at rising angles about a centre: simple by construction.
Loop star(Random& random, PointUm centre, int corners, double least, double most) {
  std::uniform_real_distribution<double> share(0, 1);
  Loop loop;
  for (int k = 0; k < corners; ++k) {
    const double angle = (k + 0.1 + 0.8 * share(random)) * 6.283185307179586 / corners;
    const double r = least + (most - least) * share(random);
    loop.push_back({centre.s + std::llround(r * std::cos(angle)),
                    centre.t + std::llround(r * std::sin(angle))});
  }
  loop.erase(std::unique(loop.begin(), loop.end()), loop.end());
  return loop;
}

/// Steps up to the right and back along the axes.
Loop steps(Random& random, Um size, int count) {
  Loop loop{{0, 0}, {size, 0}};
  Um s = size, t = 0;
  for (int k = 0; k < count; ++k) {
    t += between(random, 1, size / count);
    loop.push_back({s, t});
    s -= between(random, 1, size / count - 1);
    loop.push_back({s, t});
  }
  loop.push_back({0, t});
  return loop;
}

/// The spans of one strip, held against the reference at every span end and inside.
void check_strip(const Wall& wall, Um t_low, Um t_high, Random& random) {
  std::vector<SpanUm> spans, free;
  wall.add_blocked(t_low, t_high, spans);
  auto blocked = [&](Um s_low, Um s_high) {
    return meets_material(wall.loops(), wall.material(), wall.reach(), {s_low, s_high, t_low, t_high});
  };
  CAPTURE(t_low);
  CAPTURE(t_high);
  for (std::size_t i = 0; i < spans.size(); ++i) {
    CAPTURE(spans[i].low);
    CAPTURE(spans[i].high);
    REQUIRE(spans[i].low < spans[i].high);
    if (i > 0) REQUIRE(spans[i - 1].high < spans[i].low);
    if (spans[i].low > -far_um) CHECK(blocked(spans[i].low, spans[i].low + 1));
    if (spans[i].high < far_um) CHECK(blocked(spans[i].high - 1, spans[i].high));
    const Um inside = between(random, std::max(spans[i].low, -far_um), std::min(spans[i].high, far_um) - 1);
    CHECK(blocked(inside, inside + 1));
  }
  complement(spans, free);
  for (const SpanUm& span : free) {
    CAPTURE(span.low);
    CAPTURE(span.high);
    CHECK_FALSE(blocked(span.low, span.high));
  }
}

void check_strips(const Wall& wall, int strips, Um thickest, Random& random) {
  const Um margin = wall.reach() + 2;
  for (int i = 0; i < strips; ++i) {
    const Um low = between(random, wall.extent_t().low - margin, wall.extent_t().high + margin);
    check_strip(wall, low, low + between(random, 1, thickest), random);
  }
}

}  // namespace

TEST_CASE("wall: farthest point of a widened segment, random against the exact kernel") {
  Random random(11);
  for (int i = 0; i < 6'000; ++i) {
    const Um size = i % 3 == 0 ? 12 : (i % 3 == 1 ? 900 : 1'500'000);
    const PointUm p{between(random, -size, size), between(random, -size, size)};
    const PointUm q{between(random, -size, size), between(random, -size, size)};
    const Um reach = between(random, 1, size);
    const auto [low, high] = std::minmax(p.t, q.t);
    const Um t_low = between(random, low - reach - 5, high + reach - 1);
    const Um t_high = std::max(low - reach + 1, t_low + 1) + between(random, 0, size);
    const Um found = highest_s(p, q, reach, t_low, t_high);
    CAPTURE(i);
    // Everything to the right is far enough away; one micrometre more is not.
    CHECK_FALSE(nearer_than(p, q, {found, found + 4 * size, t_low, t_high}, reach));
    CHECK(nearer_than(p, q, {found - 1, found + 4 * size, t_low, t_high}, reach));
  }
}

TEST_CASE("wall: random outlines with holes, strips against the exact kernel") {
  Random random(12);
  for (int i = 0; i < 600; ++i) {
    CAPTURE(i);
    const double size = i % 2 == 0 ? 40 : 700'000;
    const int corners = static_cast<int>(between(random, 3, 12));
    std::vector<Loop> loops{star(random, {5, -3}, corners, 0.5 * size, size)};
    // A star of at least 3 corners in 120 degree steps holds a disc of a quarter of its least radius only when it has many.
    if (corners >= 6) loops.push_back(star(random, {5, -3}, 5, 0.1 * size, 0.25 * size));
    if (loops[0].size() < 3 || loops.back().size() < 3) continue;
    const Um reach = i % 3 == 0 ? 0 : between(random, 1, static_cast<Um>(0.4 * size));
    const Side side = i % 4 < 2 ? Side::outside : Side::inside;
    check_strips(Wall(loops, side, reach, 0), 6, static_cast<Um>(0.5 * size), random);
  }
}

TEST_CASE("wall: random staircases, strips against the exact kernel") {
  Random random(13);
  for (int i = 0; i < 200; ++i) {
    CAPTURE(i);
    const Wall wall({steps(random, 60, 5)}, i % 2 == 0 ? Side::outside : Side::inside, i % 3, 0);
    check_strips(wall, 5, 20, random);
    check_strips(wall.transposed(), 5, 20, random);
  }
}

TEST_CASE("wall: outlines of 2000 corners, strips against a plain scan in the exact kernel") {
  Random random(14);
  for (const Um reach : {0, 10'000}) {
    const Wall wall({star(random, {0, 0}, 2'000, 380'000, 400'000)}, Side::outside, reach, 0);
    check_strips(wall, 25, 170'000, random);
    check_strips(wall.transposed(), 25, 170'000, random);
  }
}

TEST_CASE("wall: a block is free of a wall if and only if, turned over, it is free of the wall turned over") {
  Random random(15);
  for (int i = 0; i < 60; ++i) {
    const Wall wall({star(random, {0, 0}, 7, 20, 60)}, Side::outside, between(random, 0, 8), 0);
    const Wall turned = wall.transposed();
    for (int k = 0; k < 40; ++k) {
      const Um s = between(random, -40, 30), t = between(random, -40, 30);
      const Um s_high = s + between(random, 1, 30), t_high = t + between(random, 1, 30);
      auto free = [](const Wall& w, Um from, Um to, Um low, Um high) {
        std::vector<SpanUm> spans;
        w.add_blocked(low, high, spans);
        return std::none_of(spans.begin(), spans.end(),
                            [&](const SpanUm& b) { return from < b.high && to > b.low; });
      };
      CHECK(free(wall, s, s_high, t, t_high) == free(turned, t, t_high, s, s_high));
    }
  }
}
