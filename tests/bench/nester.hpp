#pragma once
/// libnest2d behind a plain interface: its headers do not compile as C++20.

#include <cstdint>
#include <utility>
#include <vector>

namespace bench {

struct NesterAnswer { int count = 0; double seconds = 0; };

/// Places up to `copies` rectangles a x b, both ways round, no gap, into the outline; counts those inside.
NesterAnswer nest(const std::vector<std::pair<std::int64_t, std::int64_t>>& outline, std::int64_t a, std::int64_t b,
                  int copies);

}  // namespace bench
