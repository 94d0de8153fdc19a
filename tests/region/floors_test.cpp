/// Floor heights at which the free plan can change, against free plans taken at random heights.

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

/// Free spans of a fixed set of strips: equal plans give equal prints.
std::vector<Spans> print_of(const survey::Cavity& cavity, const Clearances& clearances, Reading reading, Um floor,
                            Um height) {
  const auto plan = region::free_plan(cavity, clearances, reading, {floor, floor + height});
  std::vector<Spans> print;
  for (const Strips strips : {Strips::along_x, Strips::along_y}) {
    for (Um t = 0; t < 1'000'000; t += 70'000) {
      Spans free;
      plan.free_spans(strips, t, t + 33'333, free);
      print.push_back(free);
    }
  }
  return print;
}

survey::Cavity stepped_cavity(Random& random) {
  auto cavity = random_cavity(random, survey::Axis::z, false, false);
  const Um z = between(random, 150'000, 300'000);
  cavity.keep_outs.push_back({"bracket", survey::KeepOutKind::fixed, um(between(random, 0, 20'000)),
                              survey::BoxShape{{um(300'000), um(400'000), um(z)}, {um(500'000), um(450'000), um(z + 40'000)}}});
  cavity.keep_outs.push_back({"stud", survey::KeepOutKind::fixed, {},
                              survey::CylinderShape{{um(350'000), um(600'000), um(z - 30'000)}, {um(350'000), um(600'000), um(z + 80'000)}, um(20'000)}});
  return cavity;
}

}  // namespace

TEST_CASE("floors: between two critical heights an upright-walled plan stays the same, and it changes at some") {
  Random random(61);
  int changes = 0;
  for (int i = 0; i < 25; ++i) {
    const auto cavity = stepped_cavity(random);
    const Clearances clearances{between(random, 0, 12'000), between(random, 0, 12'000), 0};
    const Um height = between(random, 30'000, 160'000);
    REQUIRE_FALSE(region::plan_varies_between(cavity, Reading::common));
    const std::vector<Um> floors = region::critical_floors(cavity, clearances, height);
    REQUIRE(floors.size() >= 4);
    for (std::size_t k = 0; k + 1 < floors.size(); ++k) {
      if (floors[k + 1] - floors[k] < 3) continue;
      const auto first = print_of(cavity, clearances, Reading::common, floors[k] + 1, height);
      const Um somewhere = between(random, floors[k] + 1, floors[k + 1] - 1);
      CHECK(print_of(cavity, clearances, Reading::common, somewhere, height) == first);
      CHECK(print_of(cavity, clearances, Reading::common, floors[k + 1] - 1, height) == first);
      changes += print_of(cavity, clearances, Reading::common, floors[k], height) != first;
    }
  }
  CHECK(changes > 10);
}

// What is free at heights on both sides of a critical one is free at it: contact is allowed there.
TEST_CASE("floors: at a critical height nothing is lost against the heights just beside it") {
  Random random(62);
  for (int i = 0; i < 10; ++i) {
    const auto cavity = stepped_cavity(random);
    const Clearances clearances{8'000, 5'000, 0};
    const Um height = between(random, 30'000, 160'000);
    const std::vector<Um> floors = region::critical_floors(cavity, clearances, height);
    for (const Um floor : floors) {
      const auto here = region::free_plan(cavity, clearances, Reading::common, {floor, floor + height});
      for (const Um beside : {floor - 1, floor + 1}) {
        const auto there = region::free_plan(cavity, clearances, Reading::common, {beside, beside + height});
        for (Um t = 100'000; t < 800'000; t += 90'000) {
          Spans free;
          there.free_spans(Strips::along_x, t, t + 40'000, free);
          for (const auto& span : free) CHECK(here.covers(span.low, span.high, t, t + 40'000));
        }
      }
    }
  }
}

TEST_CASE("floors: limits are where anything can be free, for sections across x as well") {
  const Clearances clearances{10'000, 4'000, 0};
  const Corners side{{0, 100'000}, {500'000, 100'000}, {500'000, 400'000}, {0, 400'000}};
  const auto cavity = prism(survey::Axis::x, 0, 700'000, side);
  const auto limits = region::height_limits(cavity, clearances);
  CHECK(limits.bottom == 110'000);
  CHECK(limits.top == 396'000);
  CHECK(region::free_plan(cavity, clearances, Reading::common, limits).covers(10'000, 690'000, 10'000, 490'000));
  CHECK_FALSE(region::free_plan(cavity, clearances, Reading::common, {109'999, 396'000}).covers(300'000, 300'001, 250'000, 250'001));
  CHECK_FALSE(region::free_plan(cavity, clearances, Reading::common, {110'000, 396'001}).covers(300'000, 300'001, 250'000, 250'001));
  CHECK(region::critical_floors(cavity, clearances, 286'000) == std::vector<Um>{110'000});
  CHECK(region::critical_floors(cavity, clearances, 286'001).empty());
  CHECK(region::critical_floors(cavity, clearances, 100'000) == std::vector<Um>{110'000, 296'000});
}

TEST_CASE("floors: plans vary between critical heights only where walls lean") {
  const Corners box{{0, 0}, {500'000, 0}, {500'000, 300'000}, {0, 300'000}};
  auto upright = prism(survey::Axis::x, 0, 700'000, box);
  CHECK_FALSE(region::plan_varies_between(upright, Reading::common));
  CHECK_FALSE(region::plan_varies_between(upright, Reading::straight));
  auto leaning = prism(survey::Axis::x, 0, 700'000, {{0, 0}, {500'000, 0}, {400'000, 300'000}, {0, 300'000}});
  CHECK(region::plan_varies_between(leaning, Reading::common));
  auto shaft = prism(survey::Axis::z, 0, 700'000, {{0, 0}, {500'000, 0}, {400'000, 300'000}, {0, 300'000}});
  CHECK_FALSE(region::plan_varies_between(shaft, Reading::straight));
  shaft.sections.at[1].outline[0].a = um(1);
  CHECK_FALSE(region::plan_varies_between(shaft, Reading::common));
  CHECK(region::plan_varies_between(shaft, Reading::straight));
  upright.keep_outs.push_back({"pipe", survey::KeepOutKind::fixed, {}, survey::CylinderShape{{um(1), um(2), um(3)}, {um(1), um(2), um(9)}, um(4)}});
  CHECK_FALSE(region::plan_varies_between(upright, Reading::common));
  upright.keep_outs.push_back({"pipe", survey::KeepOutKind::fixed, {}, survey::CylinderShape{{um(1), um(2), um(3)}, {um(5), um(2), um(3)}, um(4)}});
  CHECK(region::plan_varies_between(upright, Reading::common));
}
