#include "cellstow/restraint/link.hpp"

namespace cellstow::restraint {

int weakest_link(const std::vector<Link>& links) {
  int weakest = -1;
  for (int i = 0; i < static_cast<int>(links.size()); ++i) {
    const auto at = [&](int k) -> const core::Check& { return links[static_cast<std::size_t>(k)].check; };
    if (weakest < 0 || at(i).use > at(weakest).use) weakest = i;
  }
  return weakest;
}

}  // namespace cellstow::restraint
