#pragma once
/// From strips to bodies in plan. Internal to packing.

#include <vector>

#include "rows.hpp"

namespace cellstow::packing {

struct RectUm {
  Um x_low = 0, x_high = 0, y_low = 0, y_high = 0;
  auto operator<=>(const RectUm&) const = default;
};

struct BlockInPlan {
  RectUm plan;
  int cells = 0;
  Run runs = Run::u;
  Stance stance = Stance::upright;
  std::size_t tier = 0;
};

struct FittingInPlan {
  RectUm plan;
  std::size_t index = 0;
  std::size_t tier = 0;
};

struct Contents {
  std::vector<BlockInPlan> blocks;
  std::vector<FittingInPlan> fittings;
  std::vector<RectUm> all() const;
};

/// Where blocks and fittings of one tier's answer stand. Rows that may slide are set so that their low ends line up
/// as far as they can (fewer corners in the box), else at the lowest place.
Contents place_contents(const StripView& view, const std::vector<StripKind>& kinds,
                        const std::vector<FillTable>& tables, const RowsAnswer& answer,
                        std::size_t tier);

}  // namespace cellstow::packing
