/// Free plans whose answer follows by hand.

#include <doctest/doctest.h>

#include <algorithm>

#include "cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;
using region::Clearances;
using region::Reading;
using region::Strips;

namespace {

using Spans = std::vector<geometry::SpanUm>;

Spans spans(const region::FreePlan& plan, Strips strips, Um low, Um high) {
  Spans free;
  plan.free_spans(strips, low, high, free);
  return free;
}

const Corners plan_rectangle{{100'000, -300'000}, {900'000, -300'000}, {900'000, 300'000}, {100'000, 300'000}};

}  // namespace

TEST_CASE("region: a square shaft keeps clearance at the sides, below and above") {
  const auto cavity = prism(survey::Axis::z, 200'000, 600'000, plan_rectangle);
  const Clearances clearances{10'000, 15'000, 0};
  const auto limits = region::height_limits(cavity, clearances);
  CHECK(limits.bottom == 210'000);
  CHECK(limits.top == 585'000);
  const auto plan = region::free_plan(cavity, clearances, Reading::common, {210'000, 585'000});
  CHECK(plan.covers(110'000, 890'000, -290'000, 290'000));
  CHECK_FALSE(plan.covers(109'999, 890'000, -290'000, 290'000));
  CHECK_FALSE(plan.covers(110'000, 890'000, -290'000, 290'001));
  // A micrometre too low or too high: nothing is free.
  CHECK(spans(region::free_plan(cavity, clearances, Reading::common, {209'999, 580'000}), Strips::along_x, 0, 1).empty());
  CHECK(spans(region::free_plan(cavity, clearances, Reading::common, {215'000, 585'001}), Strips::along_x, 0, 1).empty());
}

TEST_CASE("region: extra clearance counts in plan only") {
  const auto cavity = prism(survey::Axis::z, 200'000, 600'000, plan_rectangle);
  const Clearances clearances{10'000, 15'000, 6'000};
  CHECK(region::height_limits(cavity, clearances).bottom == 210'000);
  const auto plan = region::free_plan(cavity, clearances, Reading::common, {210'000, 585'000});
  CHECK(plan.covers(116'000, 884'000, -284'000, 284'000));
  CHECK_FALSE(plan.covers(115'999, 884'000, -284'000, 284'000));
}

// A box that touches a station with its clearance only does not feel the slab beyond it.
TEST_CASE("region: common reading takes both outlines of each slab touched and no other") {
  auto cavity = prism(survey::Axis::z, 0, 100'000, plan_rectangle);
  auto narrow = cavity.sections.at.back();
  narrow.station = um(200'000);
  for (auto& p : narrow.outline) p.b = um(p.b.um() / 2);
  cavity.sections.at.push_back(narrow);
  const Clearances clearances{5'000, 5'000, 0};
  const auto low = region::free_plan(cavity, clearances, Reading::common, {5'000, 95'000});
  CHECK(low.covers(105'000, 895'000, -295'000, 295'000));
  const auto high = region::free_plan(cavity, clearances, Reading::common, {5'000, 95'001});
  CHECK_FALSE(high.covers(105'000, 895'000, -145'001, 145'000));
  CHECK(high.covers(105'000, 895'000, -145'000, 145'000));
}

// Straight walls from +-300 to +-150 mm over 100 mm of height: at the lid's height the wall has come in by its share.
TEST_CASE("region: straight reading follows a plane leaning wall to within 2 micrometres") {
  auto cavity = prism(survey::Axis::z, 0, 100'000, plan_rectangle);
  for (auto& p : cavity.sections.at.back().outline) p.b = um(p.b.um() / 2);
  const Clearances none{};
  const auto plan = region::free_plan(cavity, none, Reading::straight, {0, 40'000});
  CHECK(plan.covers(100'002, 899'998, -239'998, 239'998));
  CHECK_FALSE(plan.covers(100'002, 899'998, -240'001, 240'000));
}

TEST_CASE("region: sections are matched only with equal numbers of corners, holes included") {
  auto cavity = prism(survey::Axis::z, 0, 100'000, plan_rectangle);
  CHECK(region::can_read_straight(cavity.sections));
  cavity.sections.at[1].holes.push_back(points({{1, 1}, {1, 9}, {9, 9}}));
  CHECK_FALSE(region::can_read_straight(cavity.sections));
  cavity.sections.at[0].holes.push_back(points({{1, 1}, {1, 9}, {9, 9}}));
  CHECK(region::can_read_straight(cavity.sections));
  cavity.sections.at[0].outline.push_back({um(100'000), um(0)});
  CHECK_FALSE(region::can_read_straight(cavity.sections));
}

TEST_CASE("region: levels hold every bend, widened by the clearance, or give up") {
  const auto cavity = prism(survey::Axis::z, 0, 100'000, plan_rectangle);
  const auto plan = region::free_plan(cavity, {10'000, 0, 0}, Reading::common, {20'000, 50'000});
  const std::vector<Um> levels = plan.levels(Strips::along_x, 100);
  for (const Um level : {-300'000, -290'000, 290'000, 300'000}) {
    CHECK(std::count(levels.begin(), levels.end(), level) == 1);
  }
  CHECK(std::is_sorted(levels.begin(), levels.end()));
  CHECK(plan.levels(Strips::along_x, 3).empty());
  CHECK(plan.extent(Strips::along_x).low == -290'000);
  CHECK(plan.extent(Strips::along_y).high == 890'000);
}
