#include "removable.hpp"

#include <algorithm>
#include <tuple>

namespace cellstow::wiring {
namespace {

/// Best way to end a piece after some group: joints inside blocks, longest piece, and the joint before.
struct Step {
  bool known = false;
  int inside = 0, longest = 0, before = -1;
};

}  // namespace

std::vector<int> removable_joints(int groups, const std::vector<bool>& at_turn, int most) {
  const int pieces = (groups + most - 1) / most;
  if (pieces < 2) return {};
  // best[k][g]: g groups shared among k pieces.
  std::vector<std::vector<Step>> best(static_cast<std::size_t>(pieces) + 1, std::vector<Step>(static_cast<std::size_t>(groups) + 1));
  best[0][0].known = true;
  for (int piece = 1; piece <= pieces; ++piece) {
    for (int end = 1; end <= groups; ++end) {
      Step& here = best[static_cast<std::size_t>(piece)][static_cast<std::size_t>(end)];
      const int inside = end < groups && !at_turn[static_cast<std::size_t>(end) - 1] ? 1 : 0;
      for (int start = std::max(0, end - most); start < end; ++start) {
        const Step& from = best[static_cast<std::size_t>(piece) - 1][static_cast<std::size_t>(start)];
        if (!from.known) continue;
        const Step step{true, from.inside + inside, std::max(from.longest, end - start), start};
        if (!here.known || std::tie(step.inside, step.longest) < std::tie(here.inside, here.longest)) here = step;
      }
    }
  }
  std::vector<int> joints;
  for (int piece = pieces, end = groups; piece > 1; --piece) {
    end = best[static_cast<std::size_t>(piece)][static_cast<std::size_t>(end)].before;
    joints.push_back(end - 1);
  }
  std::reverse(joints.begin(), joints.end());
  return joints;
}

}  // namespace cellstow::wiring
