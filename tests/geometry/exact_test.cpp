/// Whole-number division and square roots against their definitions.

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "cellstow/geometry/exact.hpp"

using namespace cellstow::geometry;

TEST_CASE("exact: floor and ceiling division of small numbers, by counting up") {
  for (int d = 1; d <= 12; ++d) {
    for (int n = -60; n <= 60; ++n) {
      int floor = -100;
      while ((floor + 1) * d <= n) ++floor;
      int ceiling = 100;
      while ((ceiling - 1) * d >= n) --ceiling;
      CAPTURE(n);
      CAPTURE(d);
      CHECK(floor_div(n, d) == floor);
      CHECK(ceil_div(n, d) == ceiling);
    }
  }
}

// q d <= n < (q + 1) d defines the floor; exact multiples and their neighbours are where it breaks.
TEST_CASE("exact: division of numbers beyond 64 bits at and beside exact multiples") {
  std::mt19937_64 random(71);
  std::uniform_int_distribution<std::int64_t> quotients(-1'000'000'000'000'000, 1'000'000'000'000'000);
  std::uniform_int_distribution<std::int64_t> divisors(2, 4'000'000'000'000'000);
  for (int i = 0; i < 2'000; ++i) {
    const std::int64_t q = quotients(random), d = divisors(random);
    const Int128 n = Int128(q) * d;
    CHECK(floor_div(n, d) == q);
    CHECK(ceil_div(n, d) == q);
    CHECK(floor_div(n + 1, d) == q);
    CHECK(ceil_div(n + 1, d) == q + 1);
    CHECK(floor_div(n - 1, d) == q - 1);
    CHECK(ceil_div(n - 1, d) == q);
  }
}

TEST_CASE("exact: square roots of 0 to 5000, by counting up") {
  std::int64_t root = 0;
  for (int n = 0; n <= 5'000; ++n) {
    while ((root + 1) * (root + 1) <= n) ++root;
    CAPTURE(n);
    CHECK(floor_sqrt(n) == root);
    CHECK(ceil_sqrt(n) == (root * root == n ? root : root + 1));
  }
}

// Squares and their neighbours up to 2^124: a guess in floating point alone would miss these.
TEST_CASE("exact: square roots at and beside squares up to 2^124") {
  std::mt19937_64 random(72);
  std::uniform_int_distribution<int> bits(2, 62);
  for (int i = 0; i < 5'000; ++i) {
    const int n_bits = bits(random);
    const auto top = std::int64_t{1} << (n_bits - 1);
    const std::int64_t r = std::uniform_int_distribution<std::int64_t>(top, 2 * (top - 1) + 1)(random);
    const Int128 square = Int128(r) * r;
    CAPTURE(r);
    CHECK(floor_sqrt(square) == r);
    CHECK(ceil_sqrt(square) == r);
    CHECK(floor_sqrt(square - 1) == r - 1);
    CHECK(ceil_sqrt(square - 1) == r);
    CHECK(floor_sqrt(square + 1) == r);
    CHECK(ceil_sqrt(square + 1) == r + 1);
  }
}
