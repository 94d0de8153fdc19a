/// The common cavity against both cars, place by place: never free where one of them is not, and nothing lost but slivers.

#include "cellstow/differences/common_cavity.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "cellstow/differences/wall_difference.hpp"
#include "sample.hpp"

using namespace cellstow;
using differences::area_mm2;
using differences::common_cavity;
using differences::common_job;
using sample::mm;
using sample::section;
using sample::well;

namespace {

using Um = std::int64_t;

/// Even-odd rule in whole micrometres: -1 outside, 0 on a wall, 1 inside. Written apart from the code under test.
int where(const std::vector<core::Point2>& ring, Um a, Um b) {
  bool in = false;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Um pa = ring[i].a.um() - a, pb = ring[i].b.um() - b;
    const Um qa = ring[(i + 1) % ring.size()].a.um() - a, qb = ring[(i + 1) % ring.size()].b.um() - b;
    const Um cross = pa * qb - pb * qa;
    if (cross == 0 && pa * qa <= 0 && pb * qb <= 0) return 0;
    if ((pb > 0) != (qb > 0) && ((cross > 0) == (qb > pb))) in = !in;
  }
  return in ? 1 : -1;
}

bool is_free(const survey::Section& s, Um a, Um b) {
  return where(s.outline, a, b) >= 0 && std::none_of(s.holes.begin(), s.holes.end(), [&](const auto& hole) { return where(hole, a, b) > 0; });
}

/// "between": "common": free in both neighbouring sections.
bool is_free(const survey::Cavity& cavity, Um station, Um a, Um b) {
  const auto& at = cavity.sections.at;
  for (std::size_t i = 0; i + 1 < at.size(); ++i)
    if (at[i].station.um() <= station && station <= at[i + 1].station.um() && is_free(at[i], a, b) && is_free(at[i + 1], a, b)) return true;
  return false;
}

/// At one station: the section measured there alone, else as between sections.
bool is_free_at(const survey::Cavity& cavity, Um station, Um a, Um b) {
  for (const auto& s : cavity.sections.at)
    if (s.station.um() == station) return is_free(s, a, b);
  return is_free(cavity, station, a, b);
}

survey::Section star(std::mt19937& random, double station) {
  survey::Section out;
  out.station = mm(station);
  const int corners = 5 + static_cast<int>(random() % 8);
  for (int i = 0; i < corners; ++i) {
    const double radius = 200 + random() % 200 + random() % 1000 / 1000.0, angle = i * 2 * 3.141592653589793 / corners;
    out.outline.push_back({mm(radius * std::cos(angle)), mm(radius * std::sin(angle))});
  }
  if (random() % 3 == 0) {
    const double a = random() % 80, b = random() % 80;
    out.holes.push_back({{mm(a), mm(b)}, {mm(a + 7.5), mm(b + 21)}, {mm(a + 19), mm(b + 3)}});
  }
  return out;
}

survey::Cavity random_cavity(std::mt19937& random) {
  survey::Cavity out;
  out.name = "well";
  double station = static_cast<double>(random() % 50);
  for (int i = 0; i < 3; ++i) {
    out.sections.at.push_back(star(random, station));
    station += 50 + static_cast<double>(random() % 50);
  }
  return out;
}

}  // namespace

TEST_CASE("common cavity: of a car with itself it is the car's own") {
  const auto got = common_cavity(well(), well());
  REQUIRE(got.cavity);
  CHECK(got.remarks.empty());
  REQUIRE(got.cavity->sections.at.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(got.cavity->sections.at[i].station == well().sections.at[i].station);
    CHECK(differences::greatest_difference(got.cavity->sections.at[i], well().sections.at[i]).mm == 0);
  }
  CHECK(got.cavity->fixings.size() == 4);
  CHECK(got.fixings_off == core::Length{});
}

TEST_CASE("common cavity: two rectangles laid into each other, to the micrometre") {
  survey::Cavity other = well();
  for (auto& s : other.sections.at)
    for (auto& p : s.outline) p.a = p.a + mm(7.001), p.b = p.b - mm(3.5);
  const auto got = common_cavity(well(), other);
  REQUIRE(got.cavity);
  const std::vector<core::Point2> expected = {{mm(2007.001), mm(-400)}, {mm(2600), mm(-400)}, {mm(2600), mm(396.5)}, {mm(2007.001), mm(396.5)}};
  for (const auto& s : got.cavity->sections.at) CHECK(s.outline == expected);
}

TEST_CASE("common cavity: stations of both, from where both begin to where both end") {
  survey::Cavity other = well();
  other.sections.at[0].station = mm(280);
  other.sections.at[1].station = mm(500);
  other.sections.at[2].station = mm(580);
  const auto got = common_cavity(well(), other);
  REQUIRE(got.cavity);
  std::vector<double> stations;
  for (const auto& s : got.cavity->sections.at) stations.push_back(s.station.mm());
  CHECK(stations == std::vector<double>{300, 450, 500, 580});
}

TEST_CASE("common cavity: random cavities, 200 places each: free exactly where both are") {
  std::mt19937 random(45);
  int free_in_both = 0, told = 0, lost = 0;
  for (int i = 0; i < 60; ++i) {
    const survey::Cavity first = random_cavity(random), second = random_cavity(random);
    const auto got = common_cavity(first, second);
    if (!got.cavity) continue;
    ++told;
    const Um low = got.cavity->sections.at.front().station.um(), high = got.cavity->sections.at.back().station.um();
    for (int k = 0; k < 200; ++k) {
      const Um station = low + static_cast<Um>(random()) % (high - low + 1);
      const Um a = static_cast<Um>(random() % 800'001) - 400'000, b = static_cast<Um>(random() % 800'001) - 400'000;
      const bool in_both = is_free(first, station, a, b) && is_free(second, station, a, b);
      const bool in_common = is_free(*got.cavity, station, a, b);
      CHECK_FALSE((in_common && !in_both));
      free_in_both += in_both;
      lost += in_both && !in_common;
    }
    // corners of the common sections are the places most likely to stick out
    for (const auto& s : got.cavity->sections.at)
      for (const auto& p : s.outline) {
        CHECK(is_free_at(first, s.station.um(), p.a.um(), p.b.um()));
        CHECK(is_free_at(second, s.station.um(), p.a.um(), p.b.um()));
      }
  }
  CHECK(told >= 55);
  CHECK(free_in_both > 1000);
  // only pieces cut off from the largest are lost: stars fall apart now and then
  CHECK(lost <= free_in_both / 50);
}

TEST_CASE("common cavity: whichever car is named first") {
  std::mt19937 random(9);
  for (int i = 0; i < 20; ++i) {
    const survey::Cavity first = random_cavity(random), second = random_cavity(random);
    const auto one = common_cavity(first, second), other = common_cavity(second, first);
    REQUIRE(one.cavity.has_value() == other.cavity.has_value());
    if (!one.cavity) continue;
    for (std::size_t k = 0; k < one.cavity->sections.at.size(); ++k) {
      CHECK(one.cavity->sections.at[k].outline == other.cavity->sections.at[k].outline);
      CHECK(one.cavity->sections.at[k].holes == other.cavity->sections.at[k].holes);
    }
  }
}

TEST_CASE("common cavity: keep-outs of both stay, an opening is what both leave open, fixings stand half way") {
  survey::Cavity first = well(), second = well();
  survey::KeepOut neck;
  neck.name = "neck";
  neck.shape = survey::BoxShape{{mm(0), mm(0), mm(0)}, {mm(1), mm(1), mm(1)}};
  first.keep_outs = second.keep_outs = {neck};
  neck.name = "reel";
  first.keep_outs.push_back(neck);
  neck.shape = survey::BoxShape{{mm(0), mm(0), mm(0)}, {mm(1), mm(1), mm(2)}};
  second.keep_outs.push_back(neck);
  survey::WayIn way;
  way.name = "lid";
  way.outline = section(0, {{0, 0}, {500, 0}, {500, 400}, {0, 400}}).outline;
  first.way_in = {way};
  way.outline = section(0, {{20, -10}, {520, -10}, {520, 390}, {20, 390}}).outline;
  second.way_in = {way};
  second.fixings[0].at.x = mm(2033);
  second.fixings[0].at.y = mm(-376);
  second.fixings[1].thread = "M10";
  second.fixings[2].use = survey::FixingUse::locate;
  const auto got = common_cavity(first, second);
  REQUIRE(got.cavity);
  REQUIRE(got.cavity->keep_outs.size() == 3);
  CHECK(got.cavity->keep_outs[2].name == "reel (second car)");
  CHECK(got.cavity->way_in[0].outline == section(0, {{20, 0}, {500, 0}, {500, 390}, {20, 390}}).outline);
  REQUIRE(got.cavity->fixings.size() == 3);
  CHECK(got.cavity->fixings[0].at.x == mm(2031.5));
  CHECK(got.cavity->fixings[0].at.y == mm(-378));
  CHECK(got.fixings_off == mm(2.5));  // 3 and 4: 5 apart, half of it
  CHECK(got.cavity->fixings[1].use == survey::FixingUse::locate);
  CHECK(got.remarks == std::vector<std::string>{"well: T2 is not in both cars alike and is left out."});
}

TEST_CASE("common cavity: what cannot be made common is said in words") {
  survey::Cavity straight = well(), turned = well(), above = well(), beside = well();
  straight.sections.between = survey::Between::straight;
  turned.sections.across = core::Axis::x;
  for (auto& s : above.sections.at) s.station = s.station + mm(400);
  for (auto& s : beside.sections.at)
    for (auto& p : s.outline) p.a = p.a + mm(600);
  CHECK(common_cavity(well(), straight).why_not == "its walls are read straight between sections");
  CHECK(common_cavity(well(), turned).why_not == "the sections of the two were measured across different axes");
  CHECK(common_cavity(well(), above).why_not == "the two were measured at stations that have no stretch in common");
  CHECK(common_cavity(well(), beside).why_not == "at station 300 mm nothing is free in both");
}

TEST_CASE("common job: slots of the common box reach the fixings of both cars") {
  survey::Job first, second;
  first.cavities = {well()};
  second.cavities = {well()};
  second.cavities[0].fixings[0].at.z = mm(306);
  const auto got = common_job(first, second);
  CHECK(got.why_not.empty());
  CHECK(got.job.rules.car_scatter == mm(5));  // 2, and half of 6
  second.cavities[0].name = "boot";
  CHECK(common_job(first, second).why_not == std::vector<std::string>{"the two have no cavity of one name"});
}
