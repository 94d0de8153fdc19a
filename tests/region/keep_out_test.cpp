/// Keep-outs against their true shapes: never optimistic, and no wider than promised.

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;
using region::Clearances;
using region::Reading;
using region::Strips;

namespace {

const Clearances clearances{10'000, 10'000, 0};

/// A bay of 2 x 2 x 1 m about one keep-out.
survey::Cavity bay_with(const survey::KeepOut& keep_out) {
  auto cavity = prism(survey::Axis::z, -500'000, 500'000,
                      {{-1'000'000, -1'000'000}, {1'000'000, -1'000'000}, {1'000'000, 1'000'000}, {-1'000'000, 1'000'000}});
  cavity.keep_outs.push_back(keep_out);
  return cavity;
}

survey::Point3 at(Um x, Um y, Um z) { return {um(x), um(y), um(z)}; }

survey::KeepOut pipe(survey::Point3 from, survey::Point3 to, Um diameter) {
  return {"pipe", survey::KeepOutKind::fixed, {}, survey::CylinderShape{from, to, um(diameter)}};
}

region::FreePlan plan_of(const survey::KeepOut& keep_out, Um bottom, Um top) {
  return region::free_plan(bay_with(keep_out), clearances, Reading::common, {bottom, top});
}

}  // namespace

TEST_CASE("keep-out: a box stands off by its clearance at sides and corners, above and below") {
  const survey::KeepOut box{"box", survey::KeepOutKind::fixed, {}, survey::BoxShape{at(0, 0, 0), at(100'000, 200'000, 50'000)}};
  const auto beside = plan_of(box, 0, 50'000);
  CHECK(beside.covers(110'000, 300'000, 0, 200'000));
  CHECK_FALSE(beside.covers(109'999, 300'000, 0, 200'000));
  // 6-8-10 from the corner (100, 200).
  CHECK(beside.covers(106'000, 300'000, 208'000, 300'000));
  CHECK_FALSE(beside.covers(105'999, 300'000, 208'000, 300'000));
  CHECK(plan_of(box, 60'000, 100'000).covers(0, 100'000, 0, 200'000));
  CHECK_FALSE(plan_of(box, 59'999, 100'000).covers(0, 100'000, 0, 200'000));
  CHECK(plan_of(box, -90'000, -10'000).covers(0, 100'000, 0, 200'000));
  CHECK_FALSE(plan_of(box, -90'000, -9'999).covers(0, 100'000, 0, 200'000));
}

TEST_CASE("keep-out: its own clearance goes before the shop's, extra comes on top in plan only") {
  survey::KeepOut box{"box", survey::KeepOutKind::soft, um(25'000), survey::BoxShape{at(0, 0, 0), at(100'000, 200'000, 50'000)}};
  const auto cavity = bay_with(box);
  const auto plan = region::free_plan(cavity, {10'000, 10'000, 6'000}, Reading::common, {0, 50'000});
  CHECK(plan.covers(131'000, 300'000, 0, 200'000));
  CHECK_FALSE(plan.covers(130'999, 300'000, 0, 200'000));
  CHECK(region::free_plan(cavity, {10'000, 10'000, 6'000}, Reading::common, {75'000, 90'000}).covers(0, 100'000, 0, 200'000));
  CHECK_FALSE(region::free_plan(cavity, {10'000, 10'000, 6'000}, Reading::common, {74'999, 90'000}).covers(0, 100'000, 0, 200'000));
}

TEST_CASE("keep-out: an upright pipe is a true circle") {
  const auto plan = plan_of(pipe(at(0, 0, 0), at(0, 0, 300'000), 80'000), 10'000, 100'000);
  // Radius and clearance make 50: corner at 30, 40.
  CHECK(plan.covers(30'000, 200'000, 40'000, 200'000));
  CHECK_FALSE(plan.covers(29'999, 200'000, 40'000, 200'000));
  CHECK(plan.covers(50'000, 200'000, -100'000, 100'000));
  CHECK_FALSE(plan.covers(49'999, 200'000, -100'000, 100'000));
}

// An odd diameter has its radius between two micrometres: rounded away from the box.
TEST_CASE("keep-out: half micrometres go to the pipe") {
  const auto plan = plan_of(pipe(at(0, 0, 0), at(0, 0, 300'000), 80'001), 10'000, 100'000);
  CHECK_FALSE(plan.covers(50'000, 200'000, -100'000, 100'000));
  CHECK(plan.covers(50'001, 200'000, -100'000, 100'000));
}

TEST_CASE("keep-out: a level pipe keeps its true width, height and ends to 0.01 mm") {
  for (const Um diameter : {8'000, 60'000, 300'000}) {
    CAPTURE(diameter);
    const Um r = diameter / 2, reach = r + 10'000;
    const auto along_x = pipe(at(-200'000, 0, 0), at(200'000, 0, 0), diameter);
    const auto plan = plan_of(along_x, -20'000, 20'000);
    CHECK(plan.covers(-100'000, 100'000, reach + 10, reach + 50'000));
    CHECK_FALSE(plan.covers(-100'000, 100'000, reach - 1, reach + 50'000));
    CHECK(plan.covers(210'010, 300'000, -10'000, 10'000));
    CHECK_FALSE(plan.covers(209'999, 300'000, -10'000, 10'000));
    CHECK(plan_of(along_x, reach + 10, reach + 100'000).covers(-100'000, 100'000, -50'000, 50'000));
    CHECK_FALSE(plan_of(along_x, reach - 1, reach + 100'000).covers(-100'000, 100'000, -50'000, 50'000));
    CHECK(plan_of(along_x, -reach - 100'000, -reach - 10).covers(-100'000, 100'000, -50'000, 50'000));
    CHECK_FALSE(plan_of(along_x, -reach - 100'000, -reach + 1).covers(-100'000, 100'000, -50'000, 50'000));
  }
}

// 3-4-5 in plan: a level pipe across both axes stands off square to its side.
TEST_CASE("keep-out: a level pipe at a slant in plan") {
  const auto plan = plan_of(pipe(at(-400'000, -300'000, 0), at(400'000, 300'000, 0), 80'000), -20'000, 20'000);
  // Reach 50 square to (4, 3) / 5: the block's corner (x, y) keeps |4 y - 3 x| / 5 >= 50.
  CHECK(plan.covers(-100'000, 40'000, 92'510, 200'000));      // 4 * 92.5 - 3 * 40 = 250 = 5 * 50
  CHECK_FALSE(plan.covers(-100'000, 40'000, 92'499, 200'000));
}

// Above a level pipe's axis a low box meets only the top of it: half width sqrt(r^2 - h^2).
TEST_CASE("keep-out: the part of a level pipe within the box's heights counts") {
  const Um r = 50'000;
  const auto keep_out = pipe(at(-200'000, 0, 0), at(200'000, 0, 0), 2 * r);
  for (const Um h : {20'000, 40'000, 49'000}) {
    CAPTURE(h);
    const auto half = static_cast<Um>(std::sqrt(static_cast<double>(r * r - h * h)));
    const auto plan = plan_of(keep_out, h + 10'000, h + 100'000);
    CHECK_FALSE(plan.covers(-100'000, 100'000, half + 10'000 - 2, half + 90'000));
    // The 48-sided prism is farther out by at most r (1 / cos(pi / 48) - 1), square to its side.
    const double fat = static_cast<double>(r) / std::cos(std::numbers::pi / 48);
    const auto wide = static_cast<Um>(std::sqrt(fat * fat - static_cast<double>(h * h))) + 12;
    CHECK(plan.covers(-100'000, 100'000, wide + 10'000, wide + 90'000));
  }
}

namespace {

survey::KeepOut random_pipe(Random& random, bool level) {
  const auto across = [&] { return between(random, -300'000, 300'000); };
  const survey::Point3 from = at(across(), across(), level ? 10'000 : between(random, -300'000, 0));
  return pipe(from, at(across(), across(), level ? 10'000 : between(random, 10'000, 300'000)),
              between(random, 5'000, 200'000));
}

/// How far the 48-sided prism drawn about a pipe can stand out from it, corners rounded.
double stand_out_mm(const survey::KeepOut& keep_out) {
  const double radius_mm = std::get<survey::CylinderShape>(keep_out.shape).diameter.mm() / 2;
  return radius_mm * (1 / std::cos(std::numbers::pi / 48) - 1) + 0.003;
}

}  // namespace

// Every free run is followed to the pipe and 1 um into it: the run keeps the clearance from points on the true
// surface; one micrometre further it does not keep it from a pipe as thick as the prism about the true one.
TEST_CASE("keep-out: random pipes against points on their true surface") {
  Random random(51);
  int met = 0;
  for (int i = 0; i < 60; ++i) {
    const auto keep_out = random_pipe(random, i % 4 == 0);
    const Um bottom = between(random, -300'000, 200'000), top = bottom + between(random, 10'000, 150'000);
    const auto plan = plan_of(keep_out, bottom, top);
    for (int k = 0; k < 6; ++k) {
      const Um y = between(random, -400'000, 300'000), y_high = y + between(random, 1, 100'000);
      std::vector<geometry::SpanUm> runs;
      plan.free_spans(Strips::along_x, y, y_high, runs);
      for (const auto& run : runs) {
        CAPTURE(i);
        CAPTURE(run.low);
        CAPTURE(run.high);
        CHECK(spare_to_keep_out_mm(keep_out, clearances, {run.low, run.high, y, y_high, bottom, top}, 0) >= -1e-6);
        for (const Um end : {run.low - 1, run.high}) {
          if (end < -990'000 || end >= 990'000) continue;  // the bay's own wall
          ++met;
          CHECK(spare_to_keep_out_mm(keep_out, clearances, {end, end + 1, y, y_high, bottom - 2, top + 2},
                                     stand_out_mm(keep_out)) <= 0.01);
        }
      }
    }
  }
  CHECK(met > 100);
}

// The side of a level pipe is its true side: a rounded corner of the wall drawn for it must not fall inside.
TEST_CASE("keep-out: rounding never cuts into the side of a level pipe") {
  Random random(53);
  int met = 0;
  for (int i = 0; i < 100; ++i) {
    const auto keep_out = random_pipe(random, true);
    const auto plan = plan_of(keep_out, -20'000, 40'000);
    const Um y = between(random, -200'000, 200'000);
    std::vector<geometry::SpanUm> runs;
    plan.free_spans(Strips::along_x, y, y + 1'000, runs);
    if (runs.size() < 2) continue;
    CAPTURE(i);
    for (const auto& run : runs) {
      ++met;
      CHECK(spare_to_keep_out_mm(keep_out, clearances, {run.low, run.high, y, y + 1'000, -20'000, 40'000}, 0) >= -1e-6);
    }
  }
  CHECK(met > 50);
}

TEST_CASE("keep-out: prisms of any outline, against overlays") {
  Random random(52);
  int free = 0, refused = 0;
  for (int i = 0; i < 40; ++i) {
    const Star star = random_star(random, 0, 0, static_cast<int>(between(random, 3, 8)), 50'000, 200'000);
    const survey::KeepOut prism_shape{"prism", survey::KeepOutKind::fixed, um(between(random, 0, 30'000)),
                                      survey::PrismShape{loop_of(star), um(-40'000), um(40'000)}};
    const auto plan = plan_of(prism_shape, -60'000, 20'000);
    for (int k = 0; k < 10; ++k) {
      const Um x = between(random, -250'000, 200'000), y = between(random, -250'000, 200'000);
      const Body body{x, x + between(random, 1, 60'000), y, y + between(random, 1, 60'000), -60'000, 20'000};
      const double spare = spare_to_keep_out_mm(prism_shape, clearances, body, 0);
      if (plan.covers(body.x_low, body.x_high, body.y_low, body.y_high)) {
        ++free;
        CHECK(spare >= -1e-6);
      } else {
        ++refused;
        CHECK(spare <= 1e-6);
      }
    }
  }
  CHECK(free > 50);
  CHECK(refused > 50);
}
