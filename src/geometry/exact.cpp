#include "cellstow/geometry/exact.hpp"

#include <cassert>
#include <cmath>

namespace cellstow::geometry {

std::int64_t floor_div(Int128 n, Int128 d) {
  assert(d > 0);
  // Nearly all fit into 64 bits, where dividing is many times faster.
  const auto small_n = static_cast<std::int64_t>(n), small_d = static_cast<std::int64_t>(d);
  if (small_n == n && small_d == d) {
    const std::int64_t quotient = small_n / small_d;
    return small_n % small_d < 0 ? quotient - 1 : quotient;
  }
  Int128 quotient = n / d;
  if (n % d < 0) --quotient;
  return static_cast<std::int64_t>(quotient);
}

std::int64_t ceil_div(Int128 n, Int128 d) { return -floor_div(-n, d); }

std::int64_t floor_sqrt(Int128 n) {
  assert(n >= 0);
  // A guess in floating point is off by a few units at most; the integer steps make it exact. Nearly all roots
  // asked for are of small numbers, where 64 bits do: several times faster.
  if (n < Int128(1) << 60) {
    const auto small = static_cast<std::int64_t>(n);
    auto root = static_cast<std::int64_t>(std::sqrt(static_cast<double>(small)));
    while (root * root > small) --root;
    while ((root + 1) * (root + 1) <= small) ++root;
    return root;
  }
  constexpr long double two_to_64 = 18446744073709551616.0L;
  const auto high = static_cast<long double>(static_cast<std::int64_t>(n >> 64));
  const auto low = static_cast<long double>(static_cast<std::uint64_t>(n));
  auto root = static_cast<std::int64_t>(std::sqrt(high * two_to_64 + low));
  while (Int128(root) * root > n) --root;
  while (Int128(root + 1) * (root + 1) <= n) ++root;
  return root;
}

std::int64_t ceil_sqrt(Int128 n) {
  const Int128 root = floor_sqrt(n);
  return static_cast<std::int64_t>(root * root == n ? root : root + 1);
}

}  // namespace cellstow::geometry
