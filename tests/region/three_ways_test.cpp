/// One and the same cavity measured across x, across y and across z gives the same free plan.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>

#include "cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;
using region::Clearances;
using region::Reading;
using region::Strips;

namespace {

/// Bay of 800 x 600 x 300 mm with a 200 x 150 mm bite out of one corner, over the whole height. Measured across x or y
/// a step needs two stations; a micrometre apart here, on the side of the bite, which so grows by a micrometre.
std::array<survey::Cavity, 3> bitten_bay() {
  const auto wide = [](Um to) { return Corners{{0, 0}, {to, 0}, {to, 300'000}, {0, 300'000}}; };
  auto across_z = prism(survey::Axis::z, 0, 300'000,
                        {{0, 0}, {800'000, 0}, {800'000, 450'000}, {600'000, 450'000}, {600'000, 600'000}, {0, 600'000}});
  auto across_x = prism(survey::Axis::x, 0, 800'000, wide(600'000));
  auto& x = across_x.sections.at;
  x.back().outline = points(wide(450'000));
  x.insert(x.begin() + 1, {{um(599'999), points(wide(600'000)), {}}, {um(600'000), points(wide(450'000)), {}}});
  auto across_y = prism(survey::Axis::y, 0, 600'000, wide(800'000));
  auto& y = across_y.sections.at;
  y.back().outline = points(wide(600'000));
  y.insert(y.begin() + 1, {{um(449'999), points(wide(800'000)), {}}, {um(450'000), points(wide(600'000)), {}}});
  return {across_x, across_y, across_z};
}

/// Wedge: the floor rises by 90 mm over 600 mm of x, one side wall runs in by 120 mm of y; every wall is plane. Measured
/// across z the floor's foot is a sliver 1 mm long that no box reaches.
std::array<survey::Cavity, 2> wedge() {
  const auto at_x = [](Um x) {
    const Um floor = x * 3 / 20, right = 600'000 - x / 5;
    return points({{0, floor}, {right, floor}, {right, 300'000}, {0, 300'000}});
  };
  auto across_x = prism(survey::Axis::x, 0, 600'000, {{0, 0}, {1, 0}, {0, 1}});
  across_x.sections.at[0].outline = at_x(0);
  across_x.sections.at[1].outline = at_x(600'000);
  auto across_z = prism(survey::Axis::z, 90'000, 300'000, {{0, 0}, {600'000, 0}, {600'000, 480'000}, {0, 600'000}});
  survey::Section foot{um(0), points({{0, 0}, {1'000, 0}, {1'000, 599'800}, {0, 600'000}}), {}};
  across_z.sections.at.insert(across_z.sections.at.begin(), foot);
  return {across_x, across_z};
}

/// The same rising floor between side walls square with the car, measured across y.
std::array<survey::Cavity, 3> ramp() {
  const Corners side{{0, 0}, {600'000, 90'000}, {600'000, 300'000}, {0, 300'000}};
  const auto across_y = prism(survey::Axis::y, 0, 500'000, side);
  auto across_x = prism(survey::Axis::x, 0, 600'000, {{0, 0}, {500'000, 0}, {500'000, 300'000}, {0, 300'000}});
  across_x.sections.at[1].outline = points({{0, 90'000}, {500'000, 90'000}, {500'000, 300'000}, {0, 300'000}});
  auto across_z = prism(survey::Axis::z, 90'000, 300'000, {{0, 0}, {600'000, 0}, {600'000, 500'000}, {0, 500'000}});
  // At height z the floor reaches to x = z 20 / 3: at 300 um that is 2 mm.
  survey::Section foot{um(300), points({{0, 0}, {2'000, 0}, {2'000, 500'000}, {0, 500'000}}), {}};
  across_z.sections.at.insert(across_z.sections.at.begin(), foot);
  return {across_x, across_y, across_z};
}

/// What is free in one is free in all when `slack` smaller on every side.
template <std::size_t count>
void same_free_plan(const std::array<survey::Cavity, count>& cavities, Reading reading, const Clearances& clearances,
                    region::HeightSpan span, Um slack, unsigned seed) {
  std::vector<region::FreePlan> plans;
  for (const auto& cavity : cavities) plans.push_back(region::free_plan(cavity, clearances, reading, span));
  Random random(seed);
  int free = 0, refused = 0;
  for (int i = 0; i < 1'000; ++i) {
    const Um x = between(random, 0, 500'000), y = between(random, 0, 400'000);
    const Um x_high = x + between(random, 2 * slack + 1, 300'000), y_high = y + between(random, 2 * slack + 1, 300'000);
    CAPTURE(x);
    CAPTURE(x_high);
    CAPTURE(y);
    CAPTURE(y_high);
    const auto covers = [&](const auto& plan) { return plan.covers(x, x_high, y, y_high); };
    const bool some = std::any_of(plans.begin(), plans.end(), covers);
    (some ? free : refused) += 1;
    if (!some) continue;
    for (const auto& plan : plans) CHECK(plan.covers(x + slack, x_high - slack, y + slack, y_high - slack));
  }
  CHECK(free > 100);
  CHECK(refused > 100);
}

/// The longest free run of a strip, by each plan, within `slack` of each other: contacts, not only random blocks.
template <std::size_t count>
void same_runs(const std::array<survey::Cavity, count>& cavities, Reading reading, const Clearances& clearances,
               region::HeightSpan span, Um slack) {
  std::vector<region::FreePlan> plans;
  for (const auto& cavity : cavities) plans.push_back(region::free_plan(cavity, clearances, reading, span));
  for (const Strips strips : {Strips::along_x, Strips::along_y}) {
    for (Um t = 20'000; t < 400'000; t += 37'000) {
      std::vector<Um> lengths;
      for (const auto& plan : plans) {
        std::vector<geometry::SpanUm> free;
        plan.free_spans(strips, t, t + 30'000, free);
        Um longest = 0;
        for (const auto& run : free) longest = std::max(longest, run.length());
        lengths.push_back(longest);
      }
      CAPTURE(t);
      const auto [least, most] = std::minmax_element(lengths.begin(), lengths.end());
      CHECK(*most - *least <= slack);
    }
  }
}

}  // namespace

TEST_CASE("three ways: a bay with a bite, common reading, to a micrometre") {
  same_free_plan(bitten_bay(), Reading::common, {10'000, 10'000, 0}, {20'000, 250'000}, 1, 71);
  same_runs(bitten_bay(), Reading::common, {10'000, 10'000, 0}, {20'000, 250'000}, 1);
}

TEST_CASE("three ways: a bay with a bite, straight reading") {
  same_free_plan(bitten_bay(), Reading::straight, {10'000, 10'000, 0}, {20'000, 250'000}, 4, 72);
  same_runs(bitten_bay(), Reading::straight, {10'000, 10'000, 0}, {20'000, 250'000}, 4);
}

// Where the floor meets the box decides the run along the car: 0.1 mm square to the floor is 0.1 / sin(8.53 deg) along it.
TEST_CASE("three ways: a ramp, straight reading, box on the rising floor") {
  const Um along_floor = 700;
  same_free_plan(ramp(), Reading::straight, {5'000, 5'000, 0}, {60'000, 250'000}, along_floor, 73);
  same_runs(ramp(), Reading::straight, {5'000, 5'000, 0}, {60'000, 250'000}, along_floor);
}

TEST_CASE("three ways: a wedge of plane walls, straight reading") {
  same_free_plan(wedge(), Reading::straight, {5'000, 5'000, 0}, {100'000, 250'000}, 102, 74);
  same_free_plan(wedge(), Reading::straight, {5'000, 5'000, 0}, {60'000, 250'000}, 700, 75);
}
