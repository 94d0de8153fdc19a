/// Two jobs and two plans: known changes are told as they are, and nothing else.

#include "cellstow/differences/jobs.hpp"

#include <doctest/doctest.h>

#include "cellstow/differences/made.hpp"
#include "sample.hpp"

using namespace cellstow;
using namespace cellstow::differences;
using sample::mm;
using sample::well;

TEST_CASE("jobs: a cavity compared with itself differs in nothing") {
  CHECK(compare_holes(well(), well()).empty());
  CHECK(compare_sections(well(), well()).empty());
}

TEST_CASE("jobs: a moved hole is told by its three distances and their sum") {
  survey::Cavity other = well();
  other.fixings[1].at = {mm(2032), mm(377), mm(306)};
  const auto got = compare_holes(well(), other);
  REQUIRE(got.size() == 1);
  CHECK(got[0].fixing == "T2");
  CHECK(got[0].change == Change::changed);
  CHECK(got[0].dx_mm == 2.0);
  CHECK(got[0].dy_mm == -3.0);
  CHECK(got[0].dz_mm == 6.0);
  CHECK(got[0].distance_mm == 7.0);  // 2, 3, 6: 4 + 9 + 36 = 49
  CHECK(got[0].remarks.empty());
}

TEST_CASE("jobs: thread, use, kind and sheet are told even when the hole stays") {
  survey::Cavity other = well();
  other.fixings[0].thread = "M10";
  other.fixings[0].use = survey::FixingUse::never;
  other.fixings[0].sheet = mm(1.2);
  other.fixings[0].axis = {0, 1, 0};
  const auto got = compare_holes(well(), other);
  REQUIRE(got.size() == 1);
  CHECK(got[0].distance_mm == 0);
  CHECK(got[0].remarks == std::vector<std::string>{"M8, in the second M10", "to carry, in the second to never",
                                                   "sheet not known, in the second sheet 1.2 mm", "axis turned by 90.0 degrees"});
}

TEST_CASE("jobs: holes of one car only") {
  survey::Cavity other = well();
  other.fixings[3].name = "T9";
  const auto got = compare_holes(well(), other);
  REQUIRE(got.size() == 2);
  CHECK(got[0].fixing == "T4");
  CHECK(got[0].change == Change::only_first);
  CHECK(got[1].fixing == "T9");
  CHECK(got[1].change == Change::only_second);
}

TEST_CASE("jobs: a wall shifted in one section, a section more and a section less") {
  survey::Cavity other = well();
  other.sections.at[1].outline[2].b = other.sections.at[1].outline[3].b = mm(407);
  other.sections.at[2].station = mm(620);
  const auto got = compare_sections(well(), other);
  REQUIRE(got.size() == 3);
  CHECK(got[0].station == mm(450));
  CHECK(got[0].wall.mm == 7.0);
  CHECK_FALSE(got[0].wall.first_wider);
  CHECK(got[0].second_mm2 - got[0].first_mm2 == doctest::Approx(4200));
  CHECK(got[1].station == mm(600));
  CHECK(got[1].change == Change::only_first);
  CHECK(got[2].station == mm(620));
  CHECK(got[2].change == Change::only_second);
}

TEST_CASE("jobs: cavities are matched by name") {
  survey::Job first, second;
  first.cavities = {well(), well()};
  first.cavities[1].name = "nose";
  second.cavities = {well()};
  const auto pairs = matched(first, second);
  REQUIRE(pairs.size() == 2);
  CHECK(pairs[0].second == &second.cavities[0]);
  CHECK(pairs[1].second == nullptr);
  CHECK(matched(second, first)[1].first == nullptr);
}

TEST_CASE("values: changed, gone and new, in the order of the first, then of the second") {
  const std::vector<Value> first = {{"rules", "wall_mm", "3"}, {"rules", "lid_mm", "2"}, {"cell", "name", "a"}};
  const std::vector<Value> second = {{"cell", "mass_kg", "5"}, {"cell", "name", "b"}, {"rules", "wall_mm", "3"}};
  const auto got = compare_values(first, second);
  REQUIRE(got.size() == 3);
  CHECK(got[0].what == "lid_mm");
  CHECK(got[0].change == Change::only_first);
  CHECK(got[1].first == "a");
  CHECK(got[1].second == "b");
  CHECK(got[2].what == "mass_kg");
  CHECK(got[2].change == Change::only_second);
  CHECK(compare_values(first, first).empty());
}

TEST_CASE("made: parts by mark: gone, new, another size, another number off") {
  Made first, second;
  first.totals = second.totals = {{"totals", "cells", "34"}};
  first.boxes = {{"well", "W", 18, {300, 400, 305}, {280, 380, 290}, 98.04}};
  second.boxes = {{"well", "W", 20, {300, 440, 305}, {280, 420, 290}, 107.5}};
  first.parts = {{"W-P1", "floor", "300 x 400 x 3", "", 1}, {"W-S1", "strap", "30 x 5 x 700", "", 2}, {"W-P2", "wall", "x", "", 1}};
  second.parts = {{"W-P1", "floor", "300 x 440 x 3", "", 1}, {"W-S1", "strap", "30 x 5 x 700", "", 4}, {"W-P3", "wall", "x", "", 1}};
  const auto got = compare_made(first, second);
  CHECK(got.totals.empty());
  REQUIRE(got.boxes.size() == 4);
  CHECK(got.boxes[0].second == "20");
  CHECK(got.boxes[3].first == "98.0");
  REQUIRE(got.parts.size() == 4);
  CHECK(got.parts[0].second == "1 off, 300 x 440 x 3");
  CHECK(got.parts[1].first == "2 off, 30 x 5 x 700");
  CHECK(got.parts[2].change == Change::only_first);
  CHECK(got.parts[3].mark == "W-P3");
  CHECK(compare_made(first, first).empty());
}

TEST_CASE("made: a part of the same size with a hole elsewhere is another part") {
  Made first, second;
  first.parts = {{"W-P1", "floor", "300 x 400 x 3", "hole at 20, 20", 1}};
  second.parts = {{"W-P1", "floor", "300 x 400 x 3", "hole at 20, 25", 1}};
  const auto got = compare_made(first, second);
  REQUIRE(got.parts.size() == 1);
  CHECK(got.parts[0].first == "1 off, 300 x 400 x 3");
  CHECK(got.parts[0].second == "1 off, 300 x 400 x 3, but corners, holes or bends elsewhere");
}
