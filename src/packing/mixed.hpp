#pragma once
/// Blocks in both directions at once: better and better arrangements of one tier. Internal to packing.

#include <cstdint>

#include "contents.hpp"
#include "setup.hpp"
#include "strip_view.hpp"

namespace cellstow::packing {

/// What an arrangement is worth.
Filling filling_of(const Contents& contents);

/// More fittings, more cells, fewer blocks.
bool better_contents(const Contents& a, const Contents& b);

/// Where a mixed arrangement may stand.
struct MixedPlace {
  const region::FreePlan& plan;
  Um shell_x = 0, shell_y = 0;           ///< contents keep this from what is not free, along x and along y
  const RunFilter* filter = nullptr;     ///< one part of the plan only
};

/// Takes blocks out and fills the room anew, over and over, keeping what is no worse.
///
/// A few neighbouring blocks are lifted out. The best rows of either direction, with blocks along and across, fill the
/// room that leaves. Between whiles everything is pushed to one side, which gathers small gaps into useful ones. Work is counted in strip
/// evaluations and the draws come from `seed`: the same answer on every run. What comes back is never worse than `start`, keeps every gap and stays in the plan.
class MixedSearch {
 public:
  /// @param plan  where contents, widened by the shell, may stand; must outlive the search
  /// @param tier_index  written into every block
  MixedSearch(const Setup& setup, const MixedPlace& place, const Tier& tier, std::size_t tier_index,
              std::uint64_t seed);

  /// The best rows of either direction with blocks along and across in one tier: where the search begins.
  Contents begin(long long& steps);

  /// @param wanted  stops as soon as that many cells are in
  Contents improve(const Contents& start, int wanted, long long budget, long long& steps);

  /// Blocks in line with room between them for what two ends more would take become one block.
  void join_blocks(Contents& contents) const;

 private:
  Contents refill(Contents contents, const RectUm& window, const std::vector<std::size_t>& lifted,
                  long long& steps);
  Contents fill(Strips strips, const Overlay* overlay, const std::vector<FittingItem>& items, long long& steps);
  Contents fill_either(const RectUm* window, const std::vector<RectUm>& taken,
                       const std::vector<std::size_t>& fittings, long long& steps);
  void free_spans(Strips strips, SpanUm across, std::vector<SpanUm>& runs) const;
  void push(Contents& contents, int direction, long long& steps) const;
  std::vector<std::size_t> choose(const Contents& contents, RectUm& window);
  void split_blocks(Contents& contents) const;
  std::uint64_t draw(std::uint64_t below);

  const Setup& setup_;
  MixedPlace place_;
  const Tier& tier_;
  std::size_t tier_index_;
  std::uint64_t state_;
  bool splitting_is_free_ = false;
};

}  // namespace cellstow::packing
