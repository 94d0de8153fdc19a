#pragma once
/// Integer arithmetic that decides contacts: nothing here rounds unless its name says which way.

#include <cstdint>

namespace cellstow::geometry {

__extension__ typedef __int128 Int128;

/// Largest whole number not above n / d. @pre d > 0
std::int64_t floor_div(Int128 n, Int128 d);
/// Smallest whole number not below n / d. @pre d > 0
std::int64_t ceil_div(Int128 n, Int128 d);
/// Largest whole r with r * r <= n. @pre 0 <= n < 2^124
std::int64_t floor_sqrt(Int128 n);
/// Smallest whole r with r * r >= n. @pre 0 <= n < 2^124
std::int64_t ceil_sqrt(Int128 n);

}  // namespace cellstow::geometry
