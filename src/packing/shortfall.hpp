#pragma once
/// Why not one more: said in the trade's way, with place and millimetres. Internal to packing.

#include "attempt.hpp"

namespace cellstow::packing {

/// For every row what one more cell in it would need, then what one more row would need; least lacking first.
std::vector<RowShortfall> shortfalls(const Setup& setup, const region::FreePlan& plan,
                                     const Attempt& attempt, const Solved& solved);

}  // namespace cellstow::packing
