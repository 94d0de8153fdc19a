/// DrawingPlacing a drawing by points known in both, against turns and shifts that are known.

#include "cellstow/measuring/known_points.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace cellstow::measuring;

TEST_CASE("known points: a turn and a shift are found again") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> place(-1000, 1000), angle(-3.1, 3.1);
  for (int round = 0; round < 100; ++round) {
    const double turn = angle(random);
    const DrawingPlacing truth{std::cos(turn), std::sin(turn), place(random), place(random)};
    std::vector<KnownPair> pairs;
    for (int i = 0; i < 2 + round % 4; ++i) {
      const DrawnPoint drawn{place(random), place(random)};
      pairs.push_back({drawn, placed(truth, drawn)});
    }
    const DrawingPlacing found = place_drawing(pairs);
    for (const double off : off_by_mm(found, pairs)) CHECK(off < 1e-9);
    const DrawnPoint elsewhere{321, -123};
    CHECK(placed(found, elsewhere).a_mm == doctest::Approx(placed(truth, elsewhere).a_mm));
    CHECK(placed(found, elsewhere).b_mm == doctest::Approx(placed(truth, elsewhere).b_mm));
  }
}

TEST_CASE("known points: two that are drawn too far apart are each off by half of it") {
  // 500 apart in the drawing, 498 in the car: closed form, 1 mm at each end
  const std::vector<KnownPair> pairs = {{{0, 0}, {100, 50}}, {{500, 0}, {100, 548}}};
  const DrawingPlacing placing = place_drawing(pairs);
  for (const double off : off_by_mm(placing, pairs)) CHECK(off == doctest::Approx(1));
  CHECK(placing.sine == doctest::Approx(1));  // a quarter turn
}

TEST_CASE("known points: no small turn or shift does better than the one found") {
  std::mt19937 random(12);
  std::normal_distribution<double> noise(0, 2);
  std::vector<KnownPair> pairs;
  for (const auto& [a, b] : {std::pair{0.0, 0.0}, {600.0, 0.0}, {600.0, 400.0}, {0.0, 400.0}})
    pairs.push_back({{a, b}, {b + noise(random), -a + noise(random)}});
  const auto sum = [&](const DrawingPlacing& placing) {
    double squares = 0;
    for (const double off : off_by_mm(placing, pairs)) squares += off * off;
    return squares;
  };
  const DrawingPlacing best = place_drawing(pairs);
  const double turn = std::atan2(best.sine, best.cosine);
  for (const double by : {-1e-4, 1e-4}) {
    CHECK(sum({std::cos(turn + by), std::sin(turn + by), best.shift_a_mm, best.shift_b_mm}) > sum(best));
    CHECK(sum({best.cosine, best.sine, best.shift_a_mm + 100 * by, best.shift_b_mm}) > sum(best));
    CHECK(sum({best.cosine, best.sine, best.shift_a_mm, best.shift_b_mm + 100 * by}) > sum(best));
  }
}
