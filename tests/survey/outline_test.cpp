#include "outline.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

namespace survey = cellstow::survey;
using cellstow::core::Length;
using cellstow::core::Point2;
using survey::Ring;

namespace {

Ring ring(std::initializer_list<std::pair<std::int64_t, std::int64_t>> um) {
  Ring out;
  for (const auto& [a, b] : um) out.push_back({Length::from_um(a), Length::from_um(b)});
  return out;
}

const Ring square = ring({{0, 0}, {100, 0}, {100, 100}, {0, 100}});

bool simple(const Ring& tested) { return survey::self_meetings(tested).empty(); }

}  // namespace

TEST_CASE("area is signed by the direction of the run") {
  CHECK(survey::twice_area_um2(square) == 20'000);
  Ring other_way = square;
  survey::reverse_keeping_first(other_way);
  CHECK(survey::twice_area_um2(other_way) == -20'000);
  CHECK(other_way.front() == square.front());
  CHECK(other_way[1] == square[3]);
}

TEST_CASE("area of the largest outline allowed fits") {
  constexpr std::int64_t far = 10'000'000;
  const Ring whole = ring({{-far, -far}, {far, -far}, {far, far}, {-far, far}});
  CHECK(survey::twice_area_um2(whole) == 2 * (2 * far) * (2 * far));
}

TEST_CASE("simple and not simple, decided to the micrometre") {
  CHECK(simple(square));
  CHECK(simple(
      ring({{0, 0}, {50, 0}, {100, 0}, {100, 100}, {0, 100}})));        // vertex on a straight wall
  CHECK_FALSE(simple(ring({{0, 0}, {100, 100}, {100, 0}, {0, 100}})));  // bow
  CHECK_FALSE(simple(ring({{0, 0}, {100, 0}, {50, 0}, {50, 100}})));    // doubles back
  CHECK_FALSE(
      simple(ring({{0, 0}, {100, 0}, {100, 100}, {50, 0}, {0, 100}})));    // vertex on an edge
  CHECK(simple(ring({{0, 0}, {100, 0}, {100, 100}, {50, 1}, {0, 100}})));  // 1 um above it
  CHECK_FALSE(simple(ring({{0, 0}, {100, 0}, {100, 100}, {50, -1}, {0, 100}})));
  CHECK_FALSE(
      simple(ring({{0, 0}, {100, 0}, {0, 100}, {0, 50}, {0, -50}})));  // closing edge doubles back
}

TEST_CASE("a point inside, outside, level with vertices") {
  const Ring notched = ring({{0, 0}, {100, 0}, {100, 100}, {50, 50}, {0, 100}});
  const auto at = [](std::int64_t a, std::int64_t b) {
    return Point2{Length::from_um(a), Length::from_um(b)};
  };
  CHECK(survey::encloses(notched, at(10, 50)));
  CHECK(survey::encloses(notched, at(90, 50)));
  CHECK_FALSE(survey::encloses(notched, at(50, 60)));
  CHECK_FALSE(survey::encloses(notched, at(-10, 50)));
  CHECK_FALSE(survey::encloses(notched, at(-10, 0)));
  CHECK_FALSE(survey::encloses(notched, at(110, 100)));
}

TEST_CASE("property: turning, mirroring and starting elsewhere change no verdict") {
  std::mt19937 random(20240);
  std::uniform_int_distribution<std::int64_t> coordinate(-8, 8);
  int simple_count = 0;
  for (int round = 0; round < 2000; ++round) {
    Ring tested;
    while (tested.size() < 5) {
      const Point2 next{Length::from_um(coordinate(random)), Length::from_um(coordinate(random))};
      if (std::find(tested.begin(), tested.end(), next) == tested.end()) tested.push_back(next);
    }
    const bool verdict = simple(tested);
    simple_count += verdict;
    Ring turned, mirrored, shifted = tested;
    for (const Point2& p : tested) {
      turned.push_back({-p.b, p.a});
      mirrored.push_back({-p.a, p.b});
    }
    std::rotate(shifted.begin(), shifted.begin() + 2, shifted.end());
    REQUIRE(simple(turned) == verdict);
    REQUIRE(simple(mirrored) == verdict);
    REQUIRE(simple(shifted) == verdict);
    REQUIRE(survey::twice_area_um2(turned) == survey::twice_area_um2(tested));
    REQUIRE(survey::twice_area_um2(mirrored) == -survey::twice_area_um2(tested));
  }
  CHECK(simple_count > 100);
  CHECK(simple_count < 1900);
}
