/// Free space out of pieces of wall: what bounds it, what is joined, what is told, what is refused.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/measuring/scan_free_space.hpp"

using namespace cellstow::measuring::scan;
using cellstow::geometry::is_inside;

namespace {

using Pieces = std::vector<WallPiece>;

void add_line(Pieces& pieces, std::initializer_list<PointUm> points) {
  const std::vector<PointUm> p(points);
  for (std::size_t i = 0; i + 1 < p.size(); ++i) pieces.push_back({p[i], p[i + 1]});
}

Pieces rectangle(PointUm low, PointUm high) {
  Pieces pieces;
  add_line(pieces, {low, {high.s, low.t}, high, {low.s, high.t}, low});
  return pieces;
}

Pieces operator+(Pieces a, const Pieces& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

FreeSpace found(const Pieces& pieces, PointUm inside, FreeRules rules = {}) {
  const auto space = free_space(pieces, inside, rules);
  REQUIRE(space);
  return *space;
}

FreeFault fault_of(const Pieces& pieces, PointUm inside, FreeRules rules = {}) {
  const auto space = free_space(pieces, inside, rules);
  REQUIRE_FALSE(space);
  return space.error();
}

bool is_free(const FreeSpace& space, PointUm p) {
  return is_inside(space.outline, p) &&
         std::none_of(space.holes.begin(), space.holes.end(), [&](const Loop& hole) { return is_inside(hole, p); });
}

/// Within 3 um of the outline or a hole: a sample of a piece that bounds the space is rounded to the grid.
bool is_on_edge(const FreeSpace& space, PointUm p) {
  std::vector<Loop> loops = space.holes;
  loops.push_back(space.outline);
  for (const Loop& loop : loops)
    for (std::size_t i = 0; i < loop.size(); ++i)
      if (cellstow::geometry::nearest(p, p, loop[i], loop[(i + 1) % loop.size()]).distance_um < 3) return true;
  return false;
}

const Pieces room = rectangle({0, 0}, {600'000, 400'000});

}  // namespace

TEST_CASE("free space: the outline round the inside point, loops in it as holes") {
  const Pieces post = rectangle({100'000, 100'000}, {150'000, 160'000}), beside = rectangle({700'000, 0}, {900'000, 400'000});
  const FreeSpace space = found(room + post + beside, {300'000, 200'000});
  CHECK(space.outline == Loop{{0, 0}, {600'000, 0}, {600'000, 400'000}, {0, 400'000}});
  REQUIRE(space.holes.size() == 1);
  CHECK(space.holes[0] == Loop{{100'000, 100'000}, {100'000, 160'000}, {150'000, 160'000}, {150'000, 100'000}});
  CHECK(found(room + post + beside, {800'000, 10}).outline[0] == PointUm{700'000, 0});
  // inside the post it is free as well, for whoever says so
  CHECK(found(room + post, {120'000, 120'000}).outline[0] == PointUm{100'000, 100'000});
}

TEST_CASE("free space: of walls that cross, the tight reading") {
  const FreeSpace space = found(room + rectangle({400'000, 200'000}, {900'000, 700'000}), {500'000, 300'000});
  CHECK(space.outline == Loop{{400'000, 200'000}, {600'000, 200'000}, {600'000, 400'000}, {400'000, 400'000}});
  // the rest of the room, a corner of it taken
  CHECK(found(room + rectangle({400'000, 200'000}, {900'000, 700'000}), {1, 1}).outline.size() == 6);
}

TEST_CASE("free space: a gap is joined up to what may be closed, and told; wider it is refused, with place and width") {
  Pieces open;
  add_line(open, {{0, 400'000}, {0, 0}, {600'000, 0}, {600'000, 400'000}, {310'000, 400'000}});
  add_line(open, {{302'000, 400'000}, {0, 400'000}});
  const FreeSpace space = found(open, {10, 10}, {8'000, 0});
  CHECK(space.bridges == std::vector<Bridge>{{{302'000, 400'000}, {310'000, 400'000}}});
  CHECK(is_free(space, {306'000, 399'999}));
  const FreeFault fault = fault_of(open, {10, 10}, {7'999, 0});
  CHECK(fault.trouble == FreeTrouble::open);
  CHECK(fault.gap == Bridge{{302'000, 400'000}, {310'000, 400'000}});
}

TEST_CASE("free space: the open top of a well is one straight line, its corners are not cut off") {
  // Walls in steps of 30 mm, as a scan has them, 390 mm deep; leaning in by up to 10 degrees or out.
  for (int lean_um = -70'000; lean_um <= 70'000; lean_um += 10'000) {
    CAPTURE(lean_um);
    Pieces well;
    Loop wall;
    for (int k = 13; k >= 0; --k) wall.push_back({-lean_um * k / 13, 30'000 * k});
    for (int k = 1; k < 20; ++k) wall.push_back({30'000 * k, 0});
    for (int k = 0; k <= 13; ++k) wall.push_back({600'000 + lean_um * k / 13, 30'000 * k});
    for (std::size_t i = 0; i + 1 < wall.size(); ++i) well.push_back({wall[i], wall[i + 1]});
    const FreeSpace space = found(well, {300'000, 200'000}, {.close_um = 800'000});
    CHECK(space.bridges == std::vector<Bridge>{{{-lean_um, 390'000}, {600'000 + lean_um, 390'000}}});
    for (const PointUm corner : {PointUm{3'000, 3'000}, PointUm{597'000, 3'000}}) CHECK(is_free(space, corner));
  }
}

TEST_CASE("free space: of several gaps the widest that has to be closed is named") {
  Pieces open;
  add_line(open, {{0, 0}, {600'000, 0}});
  add_line(open, {{600'000, 12'000}, {600'000, 400'000}, {0, 400'000}});
  add_line(open, {{0, 370'000}, {0, 0}});
  const FreeFault fault = fault_of(open, {300'000, 200'000}, {5'000, 0});
  CHECK(fault.trouble == FreeTrouble::open);
  CHECK(fault.gap == Bridge{{0, 370'000}, {0, 400'000}});
  const FreeSpace space = found(open, {300'000, 200'000}, {30'000, 0});
  CHECK(space.bridges.size() == 2);
  CHECK(space.bridges[0] == Bridge{{0, 370'000}, {0, 400'000}});
}

TEST_CASE("free space: an end that stops short of the middle of a wall is joined to it without a slit") {
  Pieces open;
  add_line(open, {{0, 0}, {600'000, 70'001}});
  add_line(open, {{600'000, -200'000}, {600'000, 400'000}, {0, 400'000}, {0, 3'000}});
  const FreeSpace space = found(open, {300'000, 200'000}, {4'000, 0});
  CHECK(is_free(space, {1'000, 10'000}));
  CHECK_FALSE(is_free(space, {300'000, 20'000}));
  CHECK_FALSE(is_free(space, {599'000, -100'000}));
}

TEST_CASE("free space: loose small pieces stay unless they are declared dirt") {
  const Pieces speck = rectangle({300'000, 100'000}, {304'000, 103'000});
  CHECK(found(room + speck, {10, 10}).holes.size() == 1);
  const FreeSpace clean = found(room + speck, {10, 10}, {0, 5'000});
  CHECK(clean.holes.empty());
  CHECK(clean.dirt == std::vector<Extent>{{{300'000, 100'000}, {304'000, 103'000}}});
  CHECK(found(room + speck, {10, 10}, {0, 4'000}).holes.size() == 1);
  // outside the outline nobody needs to be told
  CHECK(found(room + rectangle({700'000, 0}, {701'000, 1'000}), {10, 10}, {0, 5'000}).dirt.empty());
}

TEST_CASE("free space: what hangs loose in it is kept out of, with all between its ends") {
  Pieces flange;
  add_line(flange, {{600'000, 200'000}, {500'000, 200'000}, {500'000, 240'000}});   // from the wall, bent up
  const FreeSpace space = found(room + flange, {10, 10});
  CHECK(space.loose == std::vector<Extent>{{{500'000, 200'000}, {600'000, 240'000}}});
  CHECK_FALSE(is_free(space, {510'000, 210'000}));
  CHECK(is_free(space, {499'000, 220'000}));
  CHECK(is_free(space, {590'000, 260'000}));
  CHECK(space.holes.empty());
  Pieces wire;
  add_line(wire, {{200'000, 100'000}, {250'000, 100'000}, {250'000, 150'000}});     // not attached to anything
  const FreeSpace with_wire = found(room + wire, {10, 10});
  REQUIRE(with_wire.holes.size() == 1);
  for (const PointUm p : {PointUm{200'000, 100'000}, {225'000, 100'000}, {250'000, 150'000}}) CHECK_FALSE(is_free(with_wire, p));
}

TEST_CASE("free space: an inside point on wall, without wall round it, or with nothing at all") {
  CHECK(fault_of(room, {0, 100}).trouble == FreeTrouble::on_the_wall);
  CHECK(fault_of(room, {600'000, 400'000}).trouble == FreeTrouble::on_the_wall);
  CHECK(fault_of(room, {700'000, 100}).trouble == FreeTrouble::outside);
  CHECK(fault_of({}, {1, 1}).trouble == FreeTrouble::no_wall);
}

TEST_CASE("free space: the same in whatever order and direction the pieces come") {
  std::mt19937 random(9);
  Pieces pieces = room + rectangle({100'000, 100'000}, {150'000, 160'000}) + rectangle({500'000, 300'000}, {900'000, 900'000});
  add_line(pieces, {{200'000, 0}, {210'000, 77'777}, {250'000, 99'999}});
  const FreeSpace first = found(pieces, {10, 10}, {20'000, 0});
  for (int round = 0; round < 20; ++round) {
    std::shuffle(pieces.begin(), pieces.end(), random);
    for (WallPiece& piece : pieces)
      if (random() % 2) std::swap(piece.from, piece.to);
    const FreeSpace again = found(pieces, {10, 10}, {20'000, 0});
    CHECK(again.outline == first.outline);
    CHECK(again.holes == first.holes);
    CHECK(again.bridges == first.bridges);
    CHECK(again.loose == first.loose);
  }
}

TEST_CASE("free space: random walls across one another, no wall in what is called free") {
  std::mt19937 random(21);
  const auto any = [&](int range) { return static_cast<Um>(random() % static_cast<unsigned>(range)); };
  int free_found = 0;
  for (int round = 0; round < 150; ++round) {
    Pieces pieces = room;
    for (int i = 0; i < 12; ++i) {
      const PointUm from{any(600'001), any(400'001)};
      pieces.push_back({from, {from.s + any(200'001) - 100'000, from.t + any(200'001) - 100'000}});
    }
    const PointUm inside{any(600'001), any(400'001)};
    const auto space = free_space(pieces, inside, {15'000, 0});
    if (!space) {
      // in the room round something loose
      CHECK(space.error().trouble == FreeTrouble::on_the_wall);
      continue;
    }
    ++free_found;
    CHECK(is_free(*space, inside));
    CHECK(is_clear(space->outline, space->holes, pieces));
    // sampled as well, without our exact test
    int inside_free = 0;
    for (const WallPiece& piece : pieces)
      for (Um k = 0; k <= 40; ++k) {
        const PointUm sample{piece.from.s + (piece.to.s - piece.from.s) * k / 40, piece.from.t + (piece.to.t - piece.from.t) * k / 40};
        inside_free += is_free(*space, sample) && !is_on_edge(*space, sample);
      }
    CHECK(inside_free == 0);
  }
  CHECK(free_found > 140);
}

TEST_CASE("clear: a piece on the edge is clear, a micrometre inside is not") {
  const Loop square = {{0, 0}, {100, 0}, {100, 100}, {0, 100}};
  const std::vector<Loop> hole = {{{40, 40}, {40, 60}, {60, 60}, {60, 40}}};
  const auto clear = [&](PointUm from, PointUm to) { return is_clear(square, hole, std::vector<WallPiece>{{from, to}}); };
  CHECK(clear({0, 0}, {100, 0}));
  CHECK(clear({-5, 0}, {105, 0}));
  CHECK_FALSE(clear({-5, 1}, {105, 1}));
  CHECK(clear({-50, 50}, {50, -50}));
  CHECK_FALSE(clear({-50, 51}, {51, -50}));
  CHECK_FALSE(clear({0, 0}, {100, 100}));      // through corners only
  CHECK(clear({45, 40}, {55, 60}));            // within the hole
  CHECK_FALSE(clear({45, 39}, {55, 60}));
  CHECK(clear({40, 40}, {60, 40}));
  CHECK_FALSE(clear({10, 10}, {10, 11}));
}
