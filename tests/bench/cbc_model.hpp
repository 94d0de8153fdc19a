#pragma once
/// Packing of equal rectangles in a right-angled cavity as 0-1 programmes for CBC, a general-purpose solver.

#include <utility>
#include <vector>

namespace cellstow::bench {

/// Whole mm. Loops are outline and holes, right-angled, even-odd.
struct Bay {
  std::vector<std::vector<std::pair<int, int>>> loops;
};

struct CbcAnswer {
  int count = 0;          ///< best found
  int bound = 0;          ///< no packing of this kind holds more
  bool finished = false;  ///< proved within the time allowed
  bool crashed = false;   ///< CBC fell over
  double seconds = 0;
};

/// Any axis-parallel packing, both ways round at once.
CbcAnswer most_mixed(const Bay& bay, int a, int b, int seconds_allowed);

/// Rows: all rectangles one way round, in straight strips that do not overlap. Best of the four ways.
CbcAnswer most_in_rows(const Bay& bay, int a, int b, int seconds_allowed);

}  // namespace cellstow::bench
