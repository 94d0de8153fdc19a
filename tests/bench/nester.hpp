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

struct NestedPart {
  std::vector<std::pair<std::int64_t, std::int64_t>> outline;
  int copies = 1;
};
struct SheetsAnswer { int sheets = 0, left_out = 0; double seconds = 0; };

/// Parts by their own outlines, turned by quarters, at least `gap` apart, on as few sheets length x width as the nester finds.
SheetsAnswer nest_on_sheets(const std::vector<NestedPart>& parts, std::int64_t length, std::int64_t width, std::int64_t gap);

}  // namespace bench
