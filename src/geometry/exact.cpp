#include "cellstow/geometry/exact.hpp"

#include <cassert>
#include <cmath>

namespace cellstow::geometry {

std::int64_t floor_div(Int128 n, Int128 d) {
  assert(d > 0);
  Int128 quotient = n / d;
  if (n % d < 0) --quotient;
  return static_cast<std::int64_t>(quotient);
}

std::int64_t ceil_div(Int128 n, Int128 d) { return -floor_div(-n, d); }

std::int64_t floor_sqrt(Int128 n) {
  assert(n >= 0);
  // The long double guess is off by a few units at most; the integer steps make it exact.
  auto root = static_cast<Int128>(std::sqrt(static_cast<long double>(n)));
  while (root * root > n) --root;
  while ((root + 1) * (root + 1) <= n) ++root;
  return static_cast<std::int64_t>(root);
}

std::int64_t ceil_sqrt(Int128 n) {
  const Int128 root = floor_sqrt(n);
  return static_cast<std::int64_t>(root * root == n ? root : root + 1);
}

}  // namespace cellstow::geometry
