#pragma once
/// Free plans that are plain rectangles, where cells may be laid one by one. Internal to packing.

#include <map>
#include <optional>
#include <tuple>

#include "bay.hpp"
#include "contents.hpp"
#include "pallet.hpp"
#include "setup.hpp"

namespace cellstow::packing {

/// Pallets and bays worked out already: the same one comes up at many floor heights and in every bound.
class PalletMemory {
 public:
  const PalletAnswer& answer(const Pallet& pallet, long long& steps);
  const BayAnswer& answer(const BayRegion& bay, Um long_side, Um short_side, long long& steps);

 private:
  std::map<std::tuple<Um, Um, Um, Um>, PalletAnswer> known_;
  std::map<std::tuple<std::string, Um, Um>, BayAnswer> known_bays_;
};

/// Exactly what contents of this tier make of a rectangle: equal cells with equal room between, either way round.
///
/// So it is when the plan is one free rectangle, no fitting stands in the tier, all stances have one footprint, and
/// a longer block never takes less than its cells one by one. With room d between blocks and ends e, cells (t + e + d) x (w + d) go
/// without gaps into a rectangle larger by d each way.
struct PalletPlace {
  Pallet pallet;
  RectUm room;              ///< for contents; the pallet's length is along x
};

/// @param shell_x, shell_y  contents keep this from what is not free
std::optional<PalletPlace> pallet_place(const Setup& setup, const region::FreePlan& plan, Um shell_x, Um shell_y,
                                        const Tier& tier);

/// No arrangement of this tier holds more, part by part of right-angled walls (bay.hpp). None where the walls are not right-angled or round off their
/// corners by a clearance, where blocks need room between them, or where cells are not all alike.
std::optional<int> bay_bound(const Setup& setup, const region::FreePlan& plan, Um shell_x, Um shell_y, const Tier& tier, long long& steps);

/// Right-angled walls filled cell by cell (bay.hpp), not yet joined into blocks. Empty where that is not to be had: other walls, room between blocks,
/// cells that are not all alike.
Contents bay_contents(const Setup& setup, const region::FreePlan& plan, Um shell_x, Um shell_y, const Tier& tier,
                      std::size_t tier_index, long long& steps);

/// The tier filled, cell by cell, not yet joined into blocks.
Contents pallet_contents(const Setup& setup, const PalletPlace& place, const PalletAnswer& answer, const Tier& tier,
                         std::size_t tier_index);

}  // namespace cellstow::packing
