#pragma once
/// Which links come out before hands go in. Internal to wiring.

#include <vector>

namespace cellstow::wiring {

/// Places of the removable links in a row of groups in series.
///
/// @param groups    groups in series of one box
/// @param at_turn   at_turn[i]: the joint between group i and i + 1 is not inside a block, so it is easy to find and to reach
/// @param most      groups that one piece may have, 1 or more
/// @return indices of joints, rising: the fewest, ceil(groups / most) - 1; of these as many as can be at turns; then the most even pieces
std::vector<int> removable_joints(int groups, const std::vector<bool>& at_turn, int most);

}  // namespace cellstow::wiring
