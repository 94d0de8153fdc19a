/// Left against right, on cars made crooked by known amounts.

#include "cellstow/differences/left_right.hpp"

#include <doctest/doctest.h>

#include "sample.hpp"

using namespace cellstow;
using differences::left_right;
using sample::fixing;
using sample::mm;
using sample::section;
using sample::well;

TEST_CASE("left and right: a straight car differs in nothing") {
  const auto got = left_right({well()});
  REQUIRE(got.holes.size() == 2);
  CHECK(got.holes[0].left == "T1");
  CHECK(got.holes[0].right == "T2");
  for (const auto& pair : got.holes) CHECK(pair.distance_mm == 0);
  REQUIRE(got.walls.size() == 3);
  for (const auto& wall : got.walls) CHECK(wall.mm == 0);
}

TEST_CASE("left and right: a hole 6 mm farther out, 2 rearward and 3 lower on the right") {
  survey::Cavity cavity = well();
  cavity.fixings[1].at = {mm(2032), mm(386), mm(297)};
  const auto got = left_right({cavity});
  CHECK(got.holes[0].dx_mm == 2.0);
  CHECK(got.holes[0].dy_mm == 6.0);
  CHECK(got.holes[0].dz_mm == -3.0);
  CHECK(got.holes[0].distance_mm == 7.0);
  CHECK_FALSE(got.holes[0].by_name);
}

TEST_CASE("left and right: names pair holes that lie far from facing each other, distance alone does not") {
  survey::Cavity cavity;
  cavity.fixings = {fixing("L1", 100, -300, 0), fixing("R1", 180, 300, 0), fixing("belt reel left", 500, -400, 0), fixing("belt reel right", 503, 404, 0),
                    fixing("A", 900, -200, 0), fixing("B", 900, 231, 0)};
  const auto got = left_right({cavity});
  REQUIRE(got.holes.size() == 2);
  CHECK(got.holes[0].by_name);
  CHECK(got.holes[0].dx_mm == 80.0);
  CHECK(got.holes[1].right == "belt reel right");
  CHECK(got.holes[1].distance_mm == 5.0);
}

TEST_CASE("left and right: a name does not pair holes on one side, and each hole has one partner, the nearest") {
  survey::Cavity cavity;
  cavity.fixings = {fixing("L1", 100, 300, 0), fixing("R1", 110, 300, 0), fixing("A", 105, -300, 0), fixing("B", 122, -300, 0)};
  const auto got = left_right({cavity});
  REQUIRE(got.holes.size() == 2);
  CHECK(got.holes[0].left == "A");
  CHECK(got.holes[0].distance_mm == 5.0);
  CHECK(got.holes[0].right == "L1");
  CHECK(got.holes[1].left == "B");
  CHECK(got.holes[1].right == "R1");
}

TEST_CASE("left and right: the right wall 4 mm nearer, in plan and in cross-section") {
  survey::Cavity plan;
  plan.sections.at = {section(300, {{0, -400}, {600, -400}, {600, 396}, {0, 396}})};
  auto got = left_right({plan});
  REQUIRE(got.walls.size() == 1);
  CHECK(got.walls[0].mm == 4.0);
  CHECK_FALSE(got.walls[0].right_wider);
  CHECK(got.walls[0].at.b > core::Length{});
  survey::Cavity cross;
  cross.sections.across = core::Axis::x;
  cross.sections.at = {section(300, {{-400, 0}, {405, 0}, {405, 250}, {-400, 250}})};
  got = left_right({cross});
  REQUIRE(got.walls.size() == 1);
  CHECK(got.walls[0].mm == 5.0);
  CHECK(got.walls[0].right_wider);
}

TEST_CASE("left and right: a section wholly on one side has no other side") {
  survey::Cavity cavity;
  cavity.sections.at = {section(300, {{0, 100}, {600, 100}, {600, 396}, {0, 396}})};
  CHECK(left_right({cavity}).walls.empty());
}

TEST_CASE("left and right: side sections are set against the nearest one on the other side") {
  survey::Cavity cavity;
  cavity.sections.across = core::Axis::y;
  cavity.sections.at = {section(-428, {{0, 0}, {600, 0}, {600, 250}, {0, 250}}), section(7, {{0, 0}, {600, 0}, {600, 250}, {0, 250}}),
                        section(433, {{0, 0}, {600, 0}, {600, 256}, {0, 256}}), section(500, {{0, 0}, {600, 0}, {600, 250}, {0, 250}})};
  const auto got = left_right({cavity});
  REQUIRE(got.walls.size() == 1);
  CHECK(got.walls[0].station == mm(-428));
  CHECK(got.walls[0].other_station == mm(433));
  CHECK(got.walls[0].mm == 6.0);
  CHECK(got.walls[0].right_wider);
}
