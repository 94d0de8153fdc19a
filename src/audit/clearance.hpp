#pragma once
/// How a figure in the plan stands to what it may not come near, decided exactly.

#include <optional>
#include <string>

#include "plan_file.hpp"

namespace cellstow::audit {

/// Which side of a closed ring is the material; `line`: the ring is one stroke of no width;
/// `everywhere`: there is no free place at all.
enum class Side { inside, outside, line, everywhere };

/// A figure stands nearer to something than it may. Numbers are for the reader: the decision that
/// there is a conflict was exact.
struct Conflict {
  double gap_mm = 0;       ///< free distance that there is
  double depth_mm = 0;     ///< how far they reach into each other, at least; 0 when they do not
  double short_mm = 0;     ///< what is missing: clearance - gap, or clearance + depth
  double at_a_mm = 0, at_b_mm = 0;  ///< where, in the plan
  std::string with;        ///< what it is too near to
};

/// The conflict of the inside of `figure` with material on one side of `ring`; a distance of exactly
/// `clearance`, and with clearance 0 a touch, is none.
std::optional<Conflict> ring_conflict(const Ring& figure, const Ring& ring, Side side, Tick clearance);

/// True when edges meet only at shared corners, no corner stands twice and there are three or more.
bool is_simple_ring(const Ring& ring);

}  // namespace cellstow::audit
