/// The audit's verdict against published counts: what it accepts and refuses, summed up, is a known number.
#include <doctest/doctest.h>

#include <cmath>

#include "plan_builder.hpp"

using namespace cellstow::audit::testing;

namespace {

/// Cells of the given footprint in mm, in a cavity without a box, every gap zero.
Json bare_plan(double thickness_mm, double width_mm, const std::vector<Corner>& outline) {
  Json plan = loose_plan();
  plan["job"]["cell"].update({{"thickness_mm", thickness_mm}, {"width_mm", width_mm}});
  set_sections(plan, "z", "common", {section(0, outline), section(4'000, outline)});
  return plan;
}

/// A circle as a polygon round it: wider than the circle of `radius_um` by at most 1.6e-4 of it.
std::vector<Corner> circle(double radius_um) {
  constexpr int flats = 180;
  const double outer = radius_um / std::cos(std::acos(-1.0) / flats) + 1.0;
  std::vector<Corner> out;
  for (int i = 0; i < flats; ++i) {
    const double angle = 2 * std::acos(-1.0) * i / flats;
    out.push_back({std::llround(outer * std::cos(angle)), std::llround(outer * std::sin(angle))});
  }
  return out;
}

bool row_accepted(const std::vector<Corner>& disc, Um low, int squares) {
  Json plan = bare_plan(10, 10, disc);
  add_block(plan, the_box(plan), "u", "upright", {-squares * 5'000, low, 0}, squares);
  count_up(plan);
  return broken(plan).empty();
}

/// Most unit squares (10 mm) in one row with its lower edge at `low`, by the audit's verdict alone; the search
/// starts at what the chord suggests.
int most_in_row(const std::vector<Corner>& disc, Um low, int diameter) {
  const double far = std::max(std::abs(low), std::abs(low + 10'000)) / 10'000.0;
  int squares = static_cast<int>(std::sqrt(std::max(0.0, 1.0 * diameter * diameter - 4 * far * far)));
  while (squares > 0 && !row_accepted(disc, low, squares)) --squares;
  while (row_accepted(disc, low, squares + 1)) ++squares;
  return squares;
}

/// Rows a unit apart, the lowest at `low`: squares accepted in all.
int most_in_rows(const std::vector<Corner>& disc, Um low, int diameter) {
  int total = 0;
  for (Um row = low; row + 10'000 <= diameter * 5'000; row += 10'000) total += most_in_row(disc, row, diameter);
  return total;
}

}  // namespace

TEST_CASE("published: unit squares in rows in a circle, OEIS A374505") {
  // Squares in a circle of diameter n, rows a unit apart at the best height. Unit taken as 10 mm. Tried heights: a row
  // or a gap on the diameter, and every one at which the outermost row's corners lie on the circle.
  const int printed[] = {0, 0, 1, 4, 8, 14};
  for (int n = 2; n <= 5; ++n) {
    const std::vector<Corner> disc = circle(n * 5'000.0);
    int most = 0;
    for (const Um low : {-n * Um{5'000}, -((n + 1) / 2) * Um{10'000}, -((n + 1) / 2) * Um{10'000} + 5'000}) {
      most = std::max(most, most_in_rows(disc, low, n));
    }
    // The outermost row of k squares touches the circle: its far edge is at sqrt(r^2 - (k/2)^2).
    for (int k = 1; k <= n; ++k) {
      const double edge = std::sqrt(0.25 * n * n - 0.25 * k * k);
      const Um low = std::llround(edge * 10'000) - 10'000 * (static_cast<Um>(2 * edge));
      most = std::max(most, most_in_rows(disc, low, n));
    }
    CAPTURE(n);
    CHECK(most == printed[n]);
  }
}

TEST_CASE("published: 14 squares in a circle of diameter 5 reach it exactly at corners of 3-4-5 triangles") {
  // A374505(5) = 14: rows of 3, 4, 4, 3 have corners at (1.5, 2) and (2, 1.5) from the centre, both 2.5 away. The polygon
  // holds those points as corners, so the contact is exact, and a square moved by a micrometre leaves it.
  const std::vector<Corner> disc{{25'000, 0},  {24'000, 7'000},  {20'000, 15'000},  {15'000, 20'000},  {7'000, 24'000},
                                 {0, 25'000},  {-7'000, 24'000}, {-15'000, 20'000}, {-20'000, 15'000}, {-24'000, 7'000},
                                 {-25'000, 0}, {-24'000, -7'000}, {-20'000, -15'000}, {-15'000, -20'000}, {-7'000, -24'000},
                                 {0, -25'000}, {7'000, -24'000}, {15'000, -20'000}, {20'000, -15'000}, {24'000, -7'000}};
  Json plan = bare_plan(10, 10, disc);
  const int rows[] = {3, 4, 4, 3};
  for (int row = 0; row < 4; ++row) {
    add_block(plan, the_box(plan), "u", "upright", {-rows[row] * 5'000, -20'000 + row * 10'000, 0}, rows[row]);
  }
  count_up(plan);
  CHECK(plan["totals"]["cells"] == 14);
  CHECK_MESSAGE(broken(plan) == Rules{}, told(plan));
  for (const std::array<Um, 3> by : {std::array<Um, 3>{1, 0, 0}, {-1, 0, 0}}) {
    Json moved = plan;
    shift_block(the_box(moved), 1, by);
    CHECK_MESSAGE(broken(moved) == Rules{"R2"}, told(moved));
  }
}

TEST_CASE("published: pallet (22, 16, 5, 3), optimum 23") {
  // The class of (22, 16, 5, 3) has optimum 23 (class after Dowsland 1984; 22 x 16 / 15 = 23.5 is the area bound). This
  // layout was found by exhaustive search. Boxes turned both ways: no layout in rows.
  const int boxes[23][3] = {{0, 0, 0},  {5, 0, 0},  {10, 0, 1}, {13, 0, 1}, {16, 0, 1}, {19, 0, 1}, {0, 3, 0},  {5, 3, 0},
                            {10, 5, 1}, {13, 5, 1}, {16, 5, 1}, {19, 5, 1}, {0, 6, 1},  {3, 6, 1},  {6, 6, 1},  {9, 10, 0},
                            {14, 10, 0}, {19, 10, 1}, {0, 11, 1}, {3, 11, 1}, {6, 11, 1}, {9, 13, 0}, {14, 13, 0}};
  const auto pallet = [&](Um length) {
    Json plan = bare_plan(3, 5, rectangle(0, 0, length, 16'000));
    for (const auto& box : boxes) {
      // A block of one cell running along v is 5 along u and 3 along v.
      add_block(plan, the_box(plan), box[2] == 0 ? "v" : "u", "upright", {box[0] * 1'000, box[1] * 1'000, 0}, 1);
    }
    count_up(plan);
    return plan;
  };
  Json plan = pallet(22'000);
  CHECK(plan["totals"]["cells"] == 23);
  CHECK_MESSAGE(broken(plan) == Rules{}, told(plan));
  CHECK_MESSAGE(broken(pallet(21'999)) == Rules{"R2"}, told(pallet(21'999)));
  rule(plan, "arrangement") = "rows";
  CHECK_MESSAGE(broken(plan) == Rules{"R22"}, told(plan));
}

TEST_CASE("published: five unit squares want a side of 2.7071 even at best, so five in 2.7 must overlap") {
  // Friedman, Packing unit squares in squares, Electronic J. Combinatorics DS7: s(5) = 2 + 1/sqrt 2. Axis-parallel squares in a side
  // under 3 are at most four: wherever a fifth goes on a 0.1 grid, the audit refuses it.
  for (int a = 0; a <= 17; ++a) {
    for (int b = 0; b <= 17; b += 3) {
      Json plan = bare_plan(10, 10, rectangle(0, 0, 27'000, 27'000));
      for (const std::array<Um, 3> low : {std::array<Um, 3>{0, 0, 0}, {17'000, 0, 0}, {0, 17'000, 0}, {17'000, 17'000, 0}}) {
        add_block(plan, the_box(plan), "u", "upright", low, 1);
      }
      count_up(plan);
      if (a == 0 && b == 0) CHECK(broken(plan) == Rules{});
      add_block(plan, the_box(plan), "u", "upright", {a * 1'000, b * 1'000, 0}, 1);
      count_up(plan);
      CHECK(broken(plan).count("R23") == 1);
    }
  }
}
