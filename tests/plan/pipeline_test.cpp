/// The pipeline as a whole: sharing the string, totals, stages left out, the same answer every time.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cellstow/plan/plan.hpp"
#include "cellstow/report/write.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

survey::Cavity bay(const std::string& name, Um x, Um length, Um breadth) {
  survey::Cavity cavity = shaft({{x, -breadth / 2}, {x + length, -breadth / 2}, {x + length, breadth / 2}, {x, breadth / 2}}, 300'000);
  cavity.name = name;
  return cavity;
}

/// A bay over each axle of a plain car; the front one is the larger.
survey::Job two_bays() {
  survey::Job job;
  job.cell = cell(72'000, 174'000, 207'000);
  job.cell.mass = core::Kg::of(5.4);
  job.cell.voltage = survey::VoltageWindow{core::Volt::of(2.5), core::Volt::of(3.2), core::Volt::of(3.65)};
  job.cell.capacity = core::AmpereHour::of(280);
  job.rules.arrangement = survey::Arrangement::rows;
  job.rules.box_outline = survey::BoxOutline::rectangle;
  job.rules.materials.wall = {"sheet", 2700, core::Mpa::of(70000), core::Mpa::of(130), core::Mpa::of(220), {}, {}, {}, false, {}, "test", "test"};
  job.cavities = {bay("front bay", -300'000, 800'000, 700'000), bay("rear bay", 2'300'000, 700'000, 600'000)};
  survey::Car car;
  car.wheelbase = mm(2400);
  car.track_front = car.track_rear = mm(1300);
  car.weighed = survey::AxleLoads{core::Kg::of(450), core::Kg::of(450)};
  car.cg_height = mm(500);
  job.car = car;
  survey::StringSpec string;
  string.series = 24;
  job.string = string;
  return job;
}

const balance::LoadState& as_driven(const plan::Plan& plan) { return plan.balance->states.at(3); }

}  // namespace

TEST_CASE("plan: the split meets the front-share target with the fewest boxes") {
  survey::Job job = two_bays();
  const survey::Catalogue none;
  job.car->front_share_target = survey::ShareTarget{0.40, 0.60};
  const plan::Plan wide = plan::make_plan(job, none);
  CHECK(wide.totals.cells == 24);
  CHECK(wide.totals.series == 24);
  REQUIRE_FALSE(wide.splits.empty());
  CHECK(wide.splits[0].chosen);
  CHECK(wide.splits[0].meets_target);
  for (const plan::Split& split : wide.splits) {
    if (split.meets_target) CHECK(wide.splits[0].boxes <= split.boxes);
  }
  job.car->front_share_target = survey::ShareTarget{0.495, 0.505};
  const plan::Plan even = plan::make_plan(job, none);
  CHECK(as_driven(even).front_share >= 0.495);
  CHECK(as_driven(even).front_share <= 0.505);
}

TEST_CASE("plan: a cavity that the string leaves empty has no box, and its fittings are told") {
  survey::Job job = two_bays();
  job.string->series = 6;
  for (survey::Cavity& cavity : job.cavities) {
    survey::Fitting fuse;
    fuse.name = "fuse of the " + cavity.name;
    fuse.size = {mm(120), mm(70), mm(80)};
    fuse.count = 1;
    cavity.fittings = {fuse};
  }
  const plan::Plan plan = plan::make_plan(job, {});
  CHECK(plan.totals.cells == 6);
  REQUIRE(plan.totals.boxes == 1);
  for (const plan::CavityPlan& cavity : plan.cavities) {
    const auto told = std::find_if(cavity.checks.begin(), cavity.checks.end(), [](const core::Check& check) { return check.name == "fittings placed"; });
    REQUIRE(told != cavity.checks.end());
    CHECK(told->ok == !cavity.boxes.empty());
    if (cavity.boxes.empty()) CHECK(told->cure == "the string is full without a box here: give another cavity: fuse of the " + cavity.name);
  }
}

TEST_CASE("plan: moments of the finished car agree with its boxes, by hand") {
  const survey::Job job = two_bays();
  const plan::Plan plan = plan::make_plan(job, {});
  double rear_kg = 450, total_kg = 900;
  for (const auto& cavity : plan.cavities) {
    for (const auto& box : cavity.boxes) {
      total_kg += box.box.mass_full.value();
      rear_kg += box.box.mass_full.value() * box.box.centre_of_gravity.x.mm() / 2400;
    }
  }
  const balance::LoadState& empty = plan.balance->states.at(2);
  CHECK(empty.total.value() == doctest::Approx(total_kg));
  CHECK(empty.rear.value() == doctest::Approx(rear_kg));
}

TEST_CASE("plan: a string longer than the places is a failing check, not an error") {
  survey::Job job = two_bays();
  job.string->series = 500;
  const plan::Plan plan = plan::make_plan(job, {});
  REQUIRE_FALSE(plan.checks.empty());
  bool told = false;
  for (const core::Check& check : plan.checks) told |= check.name == "cells for the string" && !check.ok && !check.cure.empty();
  CHECK(told);
  CHECK(plan.totals.cells > 24);
}

TEST_CASE("plan: what is missing is left out and named") {
  survey::Job job = two_bays();
  job.car.reset();
  job.string.reset();
  const plan::Plan plan = plan::make_plan(job, {});
  CHECK_FALSE(plan.balance);
  CHECK_FALSE(plan.string);
  bool balance = false, string = false;
  for (const core::LeftOut& left : plan.left_out) {
    balance |= left.stage == "balance";
    string |= left.stage == "string";
  }
  CHECK(balance);
  CHECK(string);
}

TEST_CASE("plan: the same job gives the same bytes") {
  const survey::Job job = two_bays();
  const std::string once = report::plan_to_json(job, plan::make_plan(job, {})).dump(2);
  const std::string again = report::plan_to_json(job, plan::make_plan(job, {})).dump(2);
  CHECK(once == again);
}

TEST_CASE("plan: as many as fit stops at the highest count the drive allows") {
  survey::Job job = two_bays();
  job.string->series.reset();
  job.string->controller = survey::Controller{{core::Volt::of(40), core::Volt::of(73)}, {}};
  const plan::Plan plan = plan::make_plan(job, {});
  CHECK(plan.totals.series == 20);  // 73 V / 3.65 V
}

TEST_CASE("plan: gaps told are never below what the rules ask") {
  const survey::Job job = two_bays();
  const plan::Plan plan = plan::make_plan(job, {});
  int told = 0;
  for (const auto& cavity : plan.cavities) {
    for (const plan::Gap& gap : cavity.tightest) {
      ++told;
      CAPTURE(gap.what);
      CAPTURE(gap.where);
      CHECK(gap.gap_mm >= gap.needed_mm - 0.02);
    }
  }
  CHECK(told >= 4);
}

TEST_CASE("plan: every cable has its hole in a wall, where the wiring says it leaves") {
  survey::Job job = two_bays();
  job.cell.terminal_offset = mm(60);
  job.cell.terminal_top = job.cell.height + mm(22);
  job.rules.headroom = mm(20);
  for (survey::Cavity& cavity : job.cavities) cavity.sections.at.back().station = mm(400);
  job.string->continuous = core::Ampere::of(100);
  for (const Um flange : {0, 20'000}) {
    job.rules.flange = um(flange);
    const plan::Plan plan = plan::make_plan(job, survey::Catalogue{});
    REQUIRE(plan.exits);
    int ways = 0, cut = 0;
    for (const wiring::BoxExit& exit : plan.exits->exits) ways += exit.way.has_value();
    int index = 0;
    for (const plan::CavityPlan& cavity : plan.cavities) {
      for (const plan::BoxPlan& box : cavity.boxes) {
        for (const fabrication::SheetPart& part : box.sheet.parts) {
          for (const fabrication::PlateSolid& plate : part.folded.at(0).plates) {
            for (const fabrication::FlatHole& hole : plate.holes) {
              if (!hole.what.starts_with("gland")) continue;
              for (const double deep : {0.0, -plate.thickness}) {  // the drawn face may be the inner one
                const fabrication::Space at = fabrication::in_space(plate.at, hole.centre, deep);
                for (const wiring::BoxExit& exit : plan.exits->exits) {
                  if (exit.box != index || !exit.way || std::abs(std::hypot(at[0] - exit.way->gland.u, at[1] - exit.way->gland.v) - 6) > 0.3) continue;
                  cut += std::abs(at[2] - exit.z_mm) < 0.3;  // welded ends stand off by the weld gap
                }
              }
            }
          }
        }
        ++index;
      }
    }
    CHECK(ways >= 2);
    CHECK(cut == ways);
  }
}
