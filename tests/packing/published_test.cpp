/// Rows of equal rectangles against published counts.

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "cavities.hpp"
#include "cellstow/packing/pack.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

/// Polygon of 2880 corners drawn about a circle: never smaller than the circle.
Corners polygon_about_circle(double diameter_um) {
  constexpr int corners = 2880;
  const double radius = diameter_um / 2 / std::cos(std::numbers::pi / corners);
  Corners outline;
  for (int k = 0; k < corners; ++k) {
    const double angle = 2 * std::numbers::pi * (k + 0.5) / corners;
    outline.emplace_back(std::llround(radius * std::cos(angle)),
                         std::llround(radius * std::sin(angle)));
  }
  return outline;
}

int count(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules) {
  const packing::CavityPacking packing = packing::pack_cavity(cavity, cell, rules);
  CHECK(packing.proven);
  CHECK(packing.bound == packing.cells);
  int placed = 0;
  for (const auto& box : packing.boxes) placed += static_cast<int>(box.cells.size());
  CHECK(placed == packing.cells);
  return packing.cells;
}

}  // namespace

// Unit squares in a circle of diameter n, in rows with the squares free along each row.
// Source: The On-Line Encyclopedia of Integer Sequences, A374505, offset 0.
// The circle is drawn as a circumscribed polygon a millionth larger, since at some n corners lie exactly on it.
TEST_CASE("published: unit squares in a circle by rows, OEIS A374505") {
  const int terms[] = {0,  0,  1,  4,  8,   14,  21,  29,  40,  52,  65,  81,  97,
                       116, 135, 156, 180, 203, 229, 258, 286, 317, 350, 383, 419, 455};
  constexpr Um unit = 100'000;
  for (int n = 2; n <= 25; ++n) {
    CAPTURE(n);
    const auto cavity = shaft(polygon_about_circle(n * 1.000001 * unit), unit);
    CHECK(count(cavity, cell(unit, unit, unit), bare_rules()) == terms[n]);
  }
}

// The same squares with the circle a little too small: where a term rests on corners that lie on the circle the count must drop.
// Diameter 5 holds 14 = 4 + 5 + ... only with corners on the circle (3-4-5 triangle).
TEST_CASE("published: diameter 5 holds 14 squares at contact and fewer a ten-thousandth below") {
  constexpr Um unit = 100'000;
  CHECK(count(shaft(polygon_about_circle(5.0005 * unit), unit), cell(unit, unit, unit),
              bare_rules()) == 14);
  CHECK(count(shaft(polygon_about_circle(4.9995 * unit), unit), cell(unit, unit, unit),
              bare_rules()) < 14);
}

// Centred odd and even numbers of rows at radius n, OEIS A125228 and A372847: never more than A374505 at diameter 2n.
// Closed forms as printed there.
TEST_CASE("published: closed forms of centred rows never exceed the rows found, OEIS A125228, A372847") {
  constexpr Um unit = 100'000;
  for (int n = 1; n <= 12; ++n) {
    CAPTURE(n);
    int odd = 2 * n - 1, even = 0;
    for (int k = 1; k < n; ++k) {
      odd += 2 * static_cast<int>(std::floor(2 * std::sqrt(n * n - (k + 0.5) * (k + 0.5))));
      even += 2 * static_cast<int>(std::floor(2 * std::sqrt(n * n - 1.0 * k * k)));
    }
    const int rows = count(shaft(polygon_about_circle(2 * n * 1.000001 * unit), unit),
                           cell(unit, unit, unit), bare_rules());
    CHECK(rows >= odd);
    CHECK(rows >= even);
  }
}

// Axis-parallel unit squares in a square of side s: floor(s)^2; 5 need side 2 + 1/sqrt(2) at any angle.
// Source: E. Friedman, Packing Unit Squares in Squares, Electronic Journal of Combinatorics, DS7.
TEST_CASE("published: squares in a square, Friedman DS7") {
  constexpr Um unit = 100'000;
  for (const Um side : {Um{199'999}, Um{200'000}, Um{270'709}, Um{299'999}, Um{300'000}, Um{370'709}}) {
    CAPTURE(side);
    const int whole = static_cast<int>(side / unit);
    const auto cavity = shaft({{0, 0}, {side, 0}, {side, side}, {0, side}}, unit);
    CHECK(count(cavity, cell(unit, unit, unit), bare_rules()) == whole * whole);
  }
}

// Pallets (L, W, l, w) where all boxes lie one way in the best answer: rows reach the published optimum, and never exceed it elsewhere.
// Source of the optima: Birgin, Lobato, Morabito, J. Oper. Res. Soc. 61 (2010) 306-320 and the L-algorithm page of Lobato for (49,28,8,3);
// the others are computed values.
TEST_CASE("published: pallets, rows never exceed the optimum") {
  struct Pallet { Um length, width, l, w; int optimum; bool rows_suffice; };
  const Pallet pallets[] = {
      {22, 16, 5, 3, 23, false}, {30, 22, 7, 4, 23, false}, {50, 36, 11, 7, 23, false},
      {49, 28, 8, 3, 57, false}, {42, 39, 9, 4, 45, false}, {40, 25, 7, 3, 47, false},
      {1200, 800, 365, 245, 9, false}, {1200, 800, 271, 201, 15, false},
      // Whole multiples: the area bound is reached by rows (arithmetic).
      {40, 24, 8, 3, 40, true}, {1200, 800, 400, 200, 12, true},
  };
  for (const Pallet& p : pallets) {
    CAPTURE(p.length);
    CAPTURE(p.width);
    constexpr Um k = 1'000;
    const auto cavity = shaft({{0, 0}, {p.length * k, 0}, {p.length * k, p.width * k}, {0, p.width * k}}, k);
    const int rows = count(cavity, cell(p.w * k, p.l * k, k), bare_rules());
    CHECK(rows <= p.optimum);
    if (p.rows_suffice) CHECK(rows == p.optimum);
    const Um by_hand = std::max((p.length / p.l) * (p.width / p.w), (p.length / p.w) * (p.width / p.l));
    CHECK(rows == by_hand);  // in a rectangle all rows are alike
  }
}
