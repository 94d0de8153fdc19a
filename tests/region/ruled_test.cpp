/// Ruled walls against closed forms: the free width is never more than it, and never more than 0.1 mm less.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;
using region::Reading;
using region::Strips;

namespace {

/// 0.1 mm as promised, and rounding to the grid.
constexpr double promised_um = 102;

Um at_most(const region::FreePlan& plan, Strips strips, Um t_low, Um t_high) {
  std::vector<geometry::SpanUm> free;
  plan.free_spans(strips, t_low, t_high, free);
  REQUIRE(free.size() == 1);
  return free[0].high;
}

/// A right wall between two sections across x, from (y, z) low to (y, z) high in each; the left wall at y = 0.
struct RightWall { std::pair<Um, Um> low, high; };

survey::Cavity between_walls(Um depth, const RightWall& first, const RightWall& last, survey::Axis across) {
  const auto section = [](const RightWall& w) {
    return points({{0, w.low.second}, w.low, w.high, {0, w.high.second}});
  };
  survey::Cavity cavity = prism(across, 0, depth, {{0, 0}, {1, 0}, {0, 1}});
  cavity.sections.at[0].outline = section(first);
  cavity.sections.at[1].outline = section(last);
  return cavity;
}

/// Holds the free width of random strips and heights against `width(share, z)`, the wall's y, whose least value over a
/// box lies at a corner of (share, z).
template <class Width>
void hold_against(Um depth, const RightWall& first, const RightWall& last, Um highest, unsigned seed, const Width& width) {
  Random random(seed);
  for (const survey::Axis across : {survey::Axis::x, survey::Axis::y}) {
    const survey::Cavity cavity = between_walls(depth, first, last, across);
    for (int i = 0; i < 300; ++i) {
      const Um low = between(random, 1, highest - 2), high = between(random, low + 1, highest - 1);
      const Um from = between(random, 0, depth - 1), to = between(random, from + 1, depth);
      const auto plan = region::free_plan(cavity, {}, Reading::straight, {low, high});
      double least = 1e12;
      for (const Um station : {from, to}) {
        for (const Um z : {low, high}) {
          least = std::min(least, width(static_cast<double>(station) / static_cast<double>(depth), static_cast<double>(z)));
        }
      }
      CAPTURE(low);
      CAPTURE(high);
      CAPTURE(from);
      CAPTURE(to);
      const auto found = static_cast<double>(at_most(plan, across == survey::Axis::x ? Strips::along_y : Strips::along_x, from, to));
      CHECK(found <= least + 1e-6);
      CHECK(found >= least - promised_um);
    }
  }
}

}  // namespace

// Wedge: an upright wall that comes in from 600 to 470 mm. y = 600 - 130 s.
TEST_CASE("ruled walls: upright wall of a wedge") {
  hold_against(730'000, {{600'000, 0}, {600'000, 300'000}}, {{470'000, 0}, {470'000, 300'000}}, 300'000, 81,
               [](double share, double) { return 600'000 - 130'000 * share; });
}

// Hyperbolic paraboloid: a wall that leans in at one station and out at the other. y is linear in s and in z.
TEST_CASE("ruled walls: a wall that twists between two stations") {
  hold_against(730'000, {{600'000, 0}, {480'000, 300'000}}, {{450'000, 0}, {620'000, 300'000}}, 300'000, 82,
               [](double share, double z) {
                 const double foot = 600'000 - 150'000 * share, head = 480'000 + 140'000 * share;
                 return foot + (head - foot) * z / 300'000;
               });
}

// Roof that comes down from 300 to 120 mm over a wall that leans: at one height the wall is a hyperbola in plan,
// y = foot + (head - foot) z / (300 - 180 s). Leaning in, it bends into the material; leaning out, into the free space.
TEST_CASE("ruled walls: a leaning wall under a falling roof") {
  for (const Um head : {350'000, 850'000}) {
    hold_against(730'000, {{600'000, 0}, {head, 300'000}}, {{600'000, 0}, {head, 120'000}}, 120'000, 83,
                 [&](double share, double z) {
                   return 600'000 + static_cast<double>(head - 600'000) * z / (300'000 - 180'000 * share);
                 });
  }
}

namespace {

/// Sections across z: a wall cuts off the corner at the origin, from (0, side (1 - s)) to (side s, 0), s rising from 0.1
/// to 0.9 over the height.
constexpr double side_um = 400'000;

survey::Cavity cut_corner(Um height) {
  const auto at = [](Um tenths) {
    return points({{40'000 * tenths, 0}, {1'000'000, 0}, {1'000'000, 800'000}, {0, 800'000}, {0, 40'000 * (10 - tenths)}});
  };
  survey::Cavity cavity = prism(survey::Axis::z, 0, height, {{0, 0}, {1, 0}, {0, 1}});
  cavity.sections.at[0].outline = at(1);
  cavity.sections.at[1].outline = at(9);
  return cavity;
}

/// Lowest y on or beyond every position of the wall for s of `from` to `to`: y = side (1 - s) (1 - x / (side s)) is
/// highest where s = sqrt(x / side). The envelope is the parabola sqrt(x / side) + sqrt(y / side) = 1.
/// (Envelope of a line whose intercepts add up to a constant; textbook, from memory.)
double beyond_wall_um(double x, double from, double to) {
  const double s = std::clamp(std::sqrt(x / side_um), from, to);
  return std::max(0.0, side_um * (1 - s) * (1 - x / (side_um * s)));
}

}  // namespace

TEST_CASE("ruled walls: plan outlines whose wall turns, against the envelope of its positions") {
  const Um height = 500'000;
  const survey::Cavity cavity = cut_corner(height);
  Random random(84);
  int on_parabola = 0;
  for (int i = 0; i < 400; ++i) {
    const Um low = between(random, 0, height - 2), high = between(random, low + 1, height);
    const double from = 0.1 + 0.8 * static_cast<double>(low) / static_cast<double>(height);
    const double to = 0.1 + 0.8 * static_cast<double>(high) / static_cast<double>(height);
    const Um x = between(random, 0, 395'000), x_high = between(random, x + 1, 900'000);
    const auto plan = region::free_plan(cavity, {}, Reading::straight, {low, high});
    std::vector<geometry::SpanUm> free;
    plan.free_spans(Strips::along_y, x, x_high, free);
    REQUIRE(free.size() == 1);
    const double exact = beyond_wall_um(static_cast<double>(x), from, to);
    // 0.1 mm is measured square to the wall, the span along y.
    const double slope = (beyond_wall_um(static_cast<double>(x) + 1, from, to) - exact);
    CAPTURE(low);
    CAPTURE(high);
    CAPTURE(x);
    CHECK(static_cast<double>(free[0].low) >= exact - 1e-6);
    CHECK(static_cast<double>(free[0].low) <= exact + promised_um * std::hypot(1.0, slope) + 1);
    const double s = std::sqrt(static_cast<double>(x) / side_um);
    on_parabola += s > from && s < to;
  }
  CHECK(on_parabola > 80);
}

// Two walls that close to a tip in the middle and open again: nothing thin is free where they meet.
TEST_CASE("ruled walls: where two walls cross, nothing is free") {
  survey::Cavity cavity = prism(survey::Axis::x, 0, 600'000, {{0, 0}, {1, 0}, {0, 1}});
  cavity.sections.at[0].outline = points({{-100'000, 0}, {100'000, 0}, {100'000, 300'000}, {-100'000, 300'000}});
  cavity.sections.at[1].outline = points({{50'000, 0}, {-50'000, 0}, {-50'000, 300'000}, {50'000, 300'000}});
  const auto plan = region::free_plan(cavity, {}, Reading::straight, {50'000, 250'000});
  const auto half_width = [](Um x) { return std::max<Um>(0, 100'000 - x / 4); };   // they meet at x = 400 mm
  Random random(85);
  for (int i = 0; i < 2'000; ++i) {
    const Um x = between(random, 0, 599'000), x_high = between(random, x + 1, std::min<Um>(600'000, x + 50'000));
    std::vector<geometry::SpanUm> free;
    plan.free_spans(Strips::along_y, x, x_high, free);
    if (x_high > 400'000 && x < 400'000) CHECK(free.empty());
    if (x_high > 400'000) continue;
    for (const auto& span : free) {
      CHECK(span.low >= -half_width(x_high) - 1);
      CHECK(span.high <= half_width(x_high) + 1);
    }
    if (half_width(x_high) > 1'000) CHECK(free.size() == 1);
  }
}
