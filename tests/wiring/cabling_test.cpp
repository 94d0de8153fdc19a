/// Fuse, cable and the way out of the box, against hand sums.
#include "cellstow/wiring/cabling.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "cellstow/wiring/exit.hpp"
#include "layouts.hpp"

using namespace cellstow;
using namespace cellstow::wiring;
using namespace cellstow::wiring::testing;
using doctest::Approx;

namespace {

survey::StringSpec driven(double continuous_a, double peak_a) {
  survey::StringSpec string;
  string.continuous = core::Ampere::of(continuous_a);
  string.controller = survey::Controller{{core::Volt::of(80), core::Volt::of(150)}, core::Ampere::of(peak_a)};
  string.cable_route = Length::from_mm(4000);
  return string;
}

Cabling choose(double continuous_a, int series, double peak_a = 500) {
  survey::Cell cell = a_cell();
  cell.resistance = core::Milliohm::of(0.5);
  return choose_cabling(cell, driven(continuous_a, peak_a), judge_string(cell, driven(continuous_a, peak_a), series));
}

bool all_hold(const Cabling& cabling) {
  for (const core::Check& check : cabling.checks) {
    if (!check.ok) return false;
  }
  return true;
}

/// An empty box, 800 long and 400 wide, wall and liner 6 mm together.
BoxLayout empty_box() {
  BoxLayout layout;
  for (const auto& [u, v] : {std::pair{0, 0}, {800, 0}, {800, 400}, {0, 400}}) layout.outline.push_back({Length::from_mm(u), Length::from_mm(v)});
  return layout;
}

ExitTask task_in(const BoxLayout& layout, double u, double v) { return {&layout, layout.outline, Length::from_mm(6), {u, v, 0}, {}, {}, 19, 114, {}}; }

}  // namespace

TEST_CASE("fuse and cable by hand: 1.25 x continuous, rounded up to a usual rating; the cable carries the fuse") {
  // 140 A: 175 -> 200 A; 70 mm2 carries 242 A (industrial table as printed), 50 mm2 only 190
  const Cabling small = choose(140, 36);
  REQUIRE(small.fuse);
  CHECK(small.fuse->rating_a == 200);
  CHECK(small.fuse->class_v == 150);  // 131.4 V
  CHECK(small.cable->area_mm2 == 70);
  CHECK(small.cable->bend_radius_mm == Approx(6 * 19));
  CHECK(all_hold(small));
  CHECK(*small.fuse->short_circuit_a == Approx(3.65 / 0.0005));  // every cell adds its volts and its ohms alike
  // 200 A: exactly 250
  CHECK(choose(200, 36).fuse->rating_a == 250);
  CHECK(choose(200, 36).cable->area_mm2 == 95);
  CHECK(choose(50.4, 36).fuse->rating_a == 63);
  CHECK(choose(50.5, 36).fuse->rating_a == 80);
  CHECK(choose(140, 42).fuse->class_v == 250);  // 153.3 V
}

TEST_CASE("derived, no printed source: 4 m out and back at 200 A in 95 mm2 loses 0.29 V and 58 W") {
  const Cabling cabling = choose(200, 36);
  CHECK(*cabling.cable->drop_v == Approx(0.290).epsilon(2e-3));
  CHECK(*cabling.cable->loss_w == Approx(58).epsilon(5e-3));
}

TEST_CASE("what is beyond the tables fails a check; without a current nothing is said") {
  const Cabling big = choose(400, 36);  // 500 A fuse, no cable here carries it
  CHECK(big.fuse->rating_a == 500);
  CHECK_FALSE(all_hold(big));
  CHECK_FALSE(all_hold(choose(600, 36)));
  CHECK(choose_cabling(a_cell(), a_string(), judge_string(a_cell(), a_string(), 10)).why_not.find("continuous_a") != std::string::npos);
}

TEST_CASE("way out: straight where lug and gland have their 75 mm, to the nearest wall") {
  const BoxLayout box = empty_box();
  const auto exit = find_exit(task_in(box, 400, 100));
  REQUIRE(exit);
  CHECK(exit->turn_deg == 0);
  CHECK(exit->length_mm == Approx(94));  // 100 - 6
  CHECK(exit->gland.v == Approx(6));
  CHECK(exit->along_mm == Approx(400));
}

TEST_CASE("way out: too near one wall, the other way or a bend is taken; a bend keeps its radius") {
  const BoxLayout box = empty_box();
  // 81 mm from the wall is just enough, 80.9 is not
  CHECK(find_exit(task_in(box, 400, 81))->length_mm == Approx(75));
  const auto across = find_exit(task_in(box, 400, 80.9));
  REQUIRE(across);
  CHECK(across->length_mm > 75.01);
  if (across->turn_deg > 0) {
    const double turn = across->turn_deg * std::numbers::pi / 180, tangent = 114 * std::tan(turn / 2);
    const double first = std::hypot(across->corner.u - 400, across->corner.v - 80.9);
    const double second = std::hypot(across->corner.u - across->gland.u, across->corner.v - across->gland.v);
    CHECK(first >= 60 + tangent - 1e-9);
    CHECK(second >= 15 + tangent - 1e-9);
    CHECK(across->length_mm == Approx(first + second - 2 * tangent + 114 * turn));
  }
}

TEST_CASE("way out: posts block, vents are gone round when there is another way") {
  const BoxLayout box = empty_box();
  ExitTask task = task_in(box, 400, 100);
  task.vents = {{400, 60, 0}};
  CHECK(find_exit(task)->over_vents == 0);
  CHECK(find_exit(task)->length_mm > 94);
  task.posts = {{400, 60, 0}};
  CHECK(find_exit(task)->gland.v != Approx(6));
  BoxLayout closet;  // 100 mm square: no 75 mm anywhere
  for (const auto& [u, v] : {std::pair{0, 0}, {100, 0}, {100, 100}, {0, 100}}) closet.outline.push_back({Length::from_mm(u), Length::from_mm(v)});
  CHECK_FALSE(find_exit(task_in(closet, 50, 50)));
}

TEST_CASE("way out: the second gland of a wall stands clear of the first") {
  const BoxLayout box = empty_box();
  ExitTask task = task_in(box, 400, 100);
  const auto first = find_exit(task);
  REQUIRE(first);
  task.taken = {{first->wall, first->along_mm}};
  const auto second = find_exit(task);
  REQUIRE(second);
  CHECK((second->wall != first->wall || std::abs(second->along_mm - first->along_mm) >= gland_pitch_mm));
  CHECK(second->length_mm >= first->length_mm);
}
