/// Walls at contact: cases whose answer follows by hand from right-angled triangles with whole sides.

#include <doctest/doctest.h>

#include "cellstow/geometry/wall.hpp"

using namespace cellstow;
using namespace cellstow::geometry;

namespace {

std::vector<SpanUm> blocked(const Wall& wall, Um t_low, Um t_high) {
  std::vector<SpanUm> spans;
  wall.add_blocked(t_low, t_high, spans);
  return spans;
}

std::vector<SpanUm> free_of(const Wall& wall, Um t_low, Um t_high) {
  std::vector<SpanUm> spans = blocked(wall, t_low, t_high), free;
  complement(spans, free);
  return free;
}

using Spans = std::vector<SpanUm>;

}  // namespace

// Slope 3 : 4 : 5. At reach 5k the offset line runs through whole points: it stands off by k (4, -3), so at
// the level of the foot shifted by -3k the block touches at 4k to the right of that foot.
TEST_CASE("wall: slanting edge at 3-4-5, contact exact and one micrometre less blocked") {
  for (const Um k : {1, 7, 2'000, 300'000}) {
    CAPTURE(k);
    const PointUm p{0, 0}, q{30 * k, 40 * k};  // rises 4 for 3 along
    // On the right the normal is (4, -3) / 5. The strip's low edge meets the offset line where its foot is (15k, 20k).
    const Um level = 20 * k - 3 * k;
    CHECK(highest_s(p, q, 5 * k, level - 2 * k, level) == 15 * k + 4 * k);
    // 4 um higher the line has moved on by exactly 3 um.
    CHECK(highest_s(p, q, 5 * k, level - 2 * k, level + 4) == 19 * k + 3);
    // 1 um higher by 3/4 um, rounded up.
    CHECK(highest_s(p, q, 5 * k, level - 2 * k, level + 1) == 19 * k + 1);
    CHECK(highest_s(p, q, 5 * k, level - 2 * k, level - 1) == 19 * k);
  }
}

TEST_CASE("wall: the round end of an edge at 3-4-5") {
  const PointUm p{100, 0}, q{100, 50};
  // 40 below the end, reach 50: 30 to the side.
  CHECK(highest_s(p, q, 50, -200, -40) == 130);
  CHECK(highest_s(p, q, 50, -200, -41) == 129);   // sqrt(2500 - 1681) = 28.6
  CHECK(highest_s(p, q, 50, 90, 200) == 130);
  CHECK(highest_s(p, q, 50, 20, 30) == 150);      // beside the edge itself
}

TEST_CASE("wall: disc of a single point, 3-4-5 and 5-12-13") {
  const Wall disc({{{1'000, 2'000}}}, Side::inside, 65, 0);  // 65 = 13 * 5 = 5 * 13
  CHECK(blocked(disc, 2'039, 2'500) == Spans{{948, 1'052}});  // 39-52-65
  CHECK(blocked(disc, 2'025, 2'500) == Spans{{940, 1'060}});  // 25-60-65
  CHECK(blocked(disc, 1'000, 1'937) == Spans{{984, 1'016}});  // 63-16-65
  CHECK(blocked(disc, 2'064, 2'500) == Spans{{988, 1'012}});  // sqrt(129) = 11.4, outward
  CHECK(blocked(disc, 2'065, 2'500).empty());                 // touching
  CHECK(blocked(disc, 1'000, 1'935).empty());
  CHECK(blocked(disc, 1'990, 2'010) == Spans{{935, 1'065}});
}

TEST_CASE("wall: edges along a strip's edge touch without blocking") {
  const Loop square{{0, 0}, {100, 0}, {100, 100}, {0, 100}};
  const Wall solid({square}, Side::inside, 0, 0);
  CHECK(blocked(solid, 100, 150).empty());
  CHECK(blocked(solid, -50, 0).empty());
  CHECK(blocked(solid, 99, 150) == Spans{{0, 100}});
  CHECK(blocked(solid, -50, 1) == Spans{{0, 100}});
  const Wall padded({square}, Side::inside, 20, 0);
  CHECK(blocked(padded, 120, 150).empty());
  CHECK(blocked(padded, 119, 150) == Spans{{-7, 107}});       // sqrt(400 - 361) = 6.2 past each corner, outward
  CHECK(blocked(padded, 112, 150) == Spans{{-16, 116}});      // 12-16-20
  CHECK(blocked(padded, 40, 60) == Spans{{-20, 120}});
}

TEST_CASE("wall: a cavity is free up to its outline and not beyond") {
  const Loop outline{{0, 0}, {300, 0}, {300, 100}, {200, 100}, {200, 200}, {0, 200}};
  const Wall cavity({outline}, Side::outside, 0, 0);
  CHECK(free_of(cavity, 0, 100) == Spans{{0, 300}});
  CHECK(free_of(cavity, 0, 101) == Spans{{0, 200}});
  CHECK(free_of(cavity, 100, 200) == Spans{{0, 200}});
  CHECK(free_of(cavity, -1, 50).empty());
  CHECK(free_of(cavity, 150, 201).empty());
  const Wall tight({outline}, Side::outside, 10, 0);
  CHECK(free_of(tight, 10, 90) == Spans{{10, 290}});
  CHECK(free_of(tight, 9, 90).empty());
  CHECK(free_of(tight, 10, 94) == Spans{{10, 192}});          // 6 below the inner corner: 8 before it
  CHECK(free_of(tight, 10, 100) == Spans{{10, 190}});
}

TEST_CASE("wall: holes and islands by the even-odd rule") {
  const Loop outline{{0, 0}, {100, 0}, {100, 100}, {0, 100}};
  const Loop hole{{20, 20}, {20, 80}, {80, 80}, {80, 20}};
  const Loop island{{40, 40}, {60, 40}, {60, 60}, {40, 60}};
  const Wall cavity({outline, hole, island}, Side::outside, 0, 0);
  CHECK(free_of(cavity, 45, 55) == Spans{{0, 20}, {40, 60}, {80, 100}});
  CHECK(free_of(cavity, 30, 38) == Spans{{0, 20}, {80, 100}});
  CHECK(free_of(cavity, 0, 20) == Spans{{0, 100}});
  const Wall solid({outline, hole, island}, Side::inside, 3, 0);
  CHECK(free_of(solid, 45, 55) == Spans{{-far_um, -3}, {23, 37}, {63, 77}, {103, far_um}});
}

// Loops that share edges, as slices of a cavity do: two blocked steps meet along s = 50 between t = 10 and t = 20.
TEST_CASE("wall: staircases that share an edge leave no gap and no double wall") {
  const Loop first{{0, 0}, {50, 0}, {50, 20}, {0, 20}};
  const Loop second{{50, 10}, {90, 10}, {90, 30}, {50, 30}};
  const Wall steps({first, second}, Side::inside, 0, 0);
  CHECK(blocked(steps, 10, 20) == Spans{{0, 90}});
  CHECK(blocked(steps, 0, 10) == Spans{{0, 50}});
  CHECK(blocked(steps, 20, 30) == Spans{{50, 90}});
  CHECK(blocked(steps, 5, 12) == Spans{{0, 90}});
  const Wall across = steps.transposed();
  CHECK(blocked(across, 0, 50) == Spans{{0, 20}});
  CHECK(blocked(across, 50, 90) == Spans{{10, 30}});
  CHECK(blocked(across, 40, 60) == Spans{{0, 30}});
  // Corner to corner: 20 x 20 squares that meet in one point.
  const Wall checkers({{{0, 0}, {20, 0}, {20, 20}, {0, 20}}, {{20, 20}, {40, 20}, {40, 40}, {20, 40}}},
                      Side::inside, 0, 0);
  CHECK(blocked(checkers, 0, 20) == Spans{{0, 20}});
  CHECK(blocked(checkers, 20, 40) == Spans{{20, 40}});
  CHECK(blocked(checkers, 19, 21) == Spans{{0, 40}});
}

TEST_CASE("wall: nothing blocked leaves the whole line, everything blocked leaves none") {
  Spans none, all{{-far_um, far_um}}, free;
  complement(none, free);
  CHECK(free == Spans{{-far_um, far_um}});
  complement(all, free);
  CHECK(free.empty());
  Spans mixed{{50, 60}, {0, 10}, {5, 20}, {60, 70}};
  complement(mixed, free);
  CHECK(free == Spans{{-far_um, 0}, {20, 50}, {70, far_um}});
}
