/// Turning the box: against the square answer of a turned cavity, published packings of squares, and sweeps of fixed headings.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <random>

#include "cellstow/packing/pack.hpp"
#include "turning.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

Corners rectangle(Um length, Um breadth) { return {{0, 0}, {length, 0}, {length, breadth}, {0, breadth}}; }

packing::CavityPacking pack(const Corners& outline, Um height, const survey::Cell& which, survey::Rules rules,
                            survey::Heading heading) {
  rules.heading = heading;
  const auto packing = packing::pack_cavity(shaft(outline, height), which, rules);
  std::size_t placed = 0;
  for (const auto& box : packing.boxes) placed += box.cells.size();
  CHECK(static_cast<int>(placed) == packing.cells);
  CHECK(packing.bound >= packing.cells);
  return packing;
}

/// A turn by a quarter is none: the difference of two headings, -45 to 45 degrees.
double apart(double a, double b) { return std::remainder(a - b, 90.0); }

/// Five to seven corners at rising angles, 300 to 520 mm out.
Corners random_bay(std::mt19937_64& random) { return random_star(random, 5, 7, 300'000, 520'000); }

}  // namespace

TEST_CASE("heading: a turned rectangle holds what the square one holds, at the heading it was turned by") {
  constexpr Um unit = 100'000;
  for (const double degrees : {3.0, 17.3, 45.0, -31.7, 71.0}) {
    CAPTURE(degrees);
    // 10 um for the rounding of corners.
    const Corners bay = turned(rectangle(4 * unit + 10, 3 * unit + 10), degrees);
    const auto answer = pack(bay, unit, cell(unit, unit, unit), bare_rules(), survey::Heading::free);
    CHECK(answer.cells == 12);
    CHECK(answer.proven);
    REQUIRE(answer.boxes.size() == 1);
    CHECK(std::abs(apart(answer.boxes[0].heading.degrees(), degrees)) < 0.001);
    CHECK(pack(bay, unit, cell(unit, unit, unit), bare_rules(), survey::Heading::square).cells < 12);
  }
}

TEST_CASE("heading: a turned bay with a box in it, shop rules") {
  survey::Rules rules;
  rules.arrangement = survey::Arrangement::rows;
  rules.corner_relief = mm(3);
  for (const auto outline : {survey::BoxOutline::rectangle, survey::BoxOutline::stepped, survey::BoxOutline::any}) {
    rules.box_outline = outline;
    const Corners bay{{0, 0}, {760'000, 0}, {760'000, 300'000}, {420'000, 300'000}, {420'000, 560'000}, {0, 560'000}};
    const int square = pack(bay, 290'000, cell(72'000, 174'000, 207'000), rules, survey::Heading::square).cells;
    Corners larger;   // by 20 um all round
    for (const auto& [x, y] : bay) larger.emplace_back(x > 0 ? x + 20 : x - 20, y > 0 ? y + 20 : y - 20);
    const auto answer = pack(turned(larger, 22.5), 290'000, cell(72'000, 174'000, 207'000), rules, survey::Heading::free);
    CHECK(answer.cells >= square);
  }
}

// Source: E. Friedman, Packing Unit Squares in Squares, Electronic Journal of Combinatorics, DS7: at any angles, also
// different ones, 5 squares need side 2 + 1/sqrt(2) = 2.7071, 10 need 3 + 1/sqrt(2) = 3.7071. So turned rows hold floor(side)^2 below that.
TEST_CASE("heading: squares in a square, no more than Friedman DS7 allows") {
  constexpr Um unit = 100'000;
  for (const Um side : {Um{199'990}, Um{230'000}, Um{270'700}, Um{300'000}, Um{340'000}, Um{370'700}}) {
    CAPTURE(side);
    const int whole = static_cast<int>(side / unit);
    const auto answer = pack(rectangle(side, side), unit, cell(unit, unit, unit), bare_rules(), survey::Heading::free);
    CHECK(answer.cells == whole * whole);
  }
}

TEST_CASE("heading: never fewer than square, nothing at any fixed heading beats the bound or the answer") {
  std::mt19937_64 random(11);
  int gained = 0;
  for (int round = 0; round < 6; ++round) {
    CAPTURE(round);
    const Corners bay = random_bay(random);
    survey::Rules rules = bare_rules();
    const survey::Cell which = cell(72'000, 174'000, 207'000);
    if (round % 2 == 1) {
      rules = {};
      rules.arrangement = survey::Arrangement::rows;
    }
    const auto answer = pack(bay, 290'000, which, rules, survey::Heading::free);
    int best_of_sweep = 0;
    for (double degrees = -45; degrees < 45; degrees += 1.5) {
      // The cavity turned back instead of the box turned.
      const auto fixed = pack(turned(bay, -degrees), 290'000, which, rules, survey::Heading::square);
      best_of_sweep = std::max(best_of_sweep, fixed.cells);
    }
    CHECK(answer.cells >= pack(bay, 290'000, which, rules, survey::Heading::square).cells);
    CHECK(answer.cells >= best_of_sweep);
    CHECK(answer.bound >= best_of_sweep);
    gained += !answer.boxes.empty() && !answer.boxes[0].heading.is_square();
  }
  CHECK(gained >= 2);   // turning is worth something in some of them, or the test says little
}

TEST_CASE("heading: the same answer every time, and a quarter turn of the cavity changes no count") {
  std::mt19937_64 random(5);
  const Corners bay = random_bay(random);
  const survey::Cell which = cell(72'000, 174'000, 207'000);
  const auto once = pack(bay, 290'000, which, bare_rules(), survey::Heading::free);
  const auto again = pack(bay, 290'000, which, bare_rules(), survey::Heading::free);
  CHECK(once.steps == again.steps);
  REQUIRE(once.boxes.size() == again.boxes.size());
  CHECK(once.boxes[0].heading == again.boxes[0].heading);
  Corners quarter;
  for (const auto& [x, y] : bay) quarter.emplace_back(-y, x);
  CHECK(pack(quarter, 290'000, which, bare_rules(), survey::Heading::free).cells == once.cells);
}
