#pragma once
/// The best box, or boxes, with blocks in both directions at one floor height. Internal to packing.

#include <optional>

#include "attempt.hpp"

namespace cellstow::packing {

struct MixedTask {
  std::size_t stack = 0;
  Um floor = 0;
  const region::FreePlan& plan;     ///< where contents, widened by the shell, may stand
  const region::FreePlan& outside;  ///< where the outline may run
  const Solved* rows = nullptr;     ///< the best rows at this height, when known: never beaten downwards
  int wanted = 0;                   ///< no more cells than this can or need be in
  long long budget = 0;             ///< strip evaluations to spend
};

/// One look, without improving: what mixed strips hold in every tier.
int first_mixed_count(const Setup& setup, const MixedTask& task, long long& steps);

/// None when no outline of the kind asked for goes round what was found.
std::optional<Solved> solve_mixed(const Setup& setup, const MixedTask& task, long long& steps);

}  // namespace cellstow::packing
