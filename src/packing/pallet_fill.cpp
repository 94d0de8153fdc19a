#include "pallet_fill.hpp"

#include <algorithm>

#include "bay_bound.hpp"
#include "bay_cuts.hpp"

namespace cellstow::packing {
namespace {

bool one_by_one(const BlockRule& rule, Um gap) {
  return rule.min_cells == 1 && (rule.max_cells == 1 || rule.ends + gap <= rule.between_cells);
}

/// A single cell with its ends: long and short side.
std::pair<Um, Um> footprint(const BlockRule& rule) {
  return {std::max(rule.length(1), rule.breadth), std::min(rule.length(1), rule.breadth)};
}

/// Long and short side of all there is to place, when that is single cells of one footprint.
std::optional<std::pair<Um, Um>> equal_cells(const Setup& setup, const Tier& tier) {
  if (tier.holds_fittings && !setup.items.empty()) return std::nullopt;
  std::optional<std::pair<Um, Um>> cell;
  for (const Stance stance : tier.stances) {
    const BlockRule rule = block_rule(setup.cell, stance, setup.rules);
    if (!one_by_one(rule, setup.gap) || (cell && *cell != footprint(rule))) return std::nullopt;
    cell = footprint(rule);
  }
  return cell;
}

/// Cuts to look at for one count at first, and how many of them a strip evaluation is worth.
constexpr long long first_cuts = 100'000;
constexpr long long cuts_a_step = 8;

/// The most that cutting the region up finds, no more than `wanted`: a little work for every count from above, then more for those
/// not reached.
void fill_region(BayCuts& bay, const BayRegion& region, int wanted, long long cuts, long long& spent) {
  int reached = 0;
  const long long until = spent + cuts;
  for (int cells = wanted; cells > 0 && reached == 0; --cells) {
    if (bay.reach(region, cells, first_cuts, spent)) reached = cells;
  }
  for (int cells = wanted; cells > bay.reached(region) && spent < until; --cells) {
    if (cells <= bay.possible(region)) bay.reach(region, cells, (until - spent) / 2 + 1, spent);
  }
}

}  // namespace

const PalletAnswer& PalletMemory::answer(const Pallet& pallet, long long& steps) {
  const auto key = std::tuple(pallet.length, pallet.width, pallet.long_side, pallet.short_side);
  const auto [found, added] = known_.try_emplace(key);
  if (added) {
    found->second = most_on_pallet(pallet);
    steps += found->second.steps;
  }
  return found->second;
}

std::optional<PalletPlace> pallet_place(const Setup& setup, const region::FreePlan& plan, Um shell_x, Um shell_y,
                                        const Tier& tier) {
  const auto cell = equal_cells(setup, tier);
  const SpanUm x = plan.extent(Strips::along_y), y = plan.extent(Strips::along_x);
  if (!cell || x.high <= x.low || y.high <= y.low || !plan.covers(x.low, x.high, y.low, y.high)) return std::nullopt;
  PalletPlace place;
  place.room = {x.low + shell_x, x.high - shell_x, y.low + shell_y, y.high - shell_y};
  place.pallet = {place.room.x_high - place.room.x_low + setup.gap, place.room.y_high - place.room.y_low + setup.gap,
                  cell->first + setup.gap, cell->second + setup.gap};
  if (place.room.x_high <= place.room.x_low || place.room.y_high <= place.room.y_low) return std::nullopt;
  return place;
}

std::optional<int> bay_bound(const Setup& setup, const region::FreePlan& plan, Um shell_x, Um shell_y, const Tier& tier) {
  const auto cell = equal_cells(setup, tier);
  if (!cell || setup.gap > 0) return std::nullopt;
  const auto& walls = plan.walls(Strips::along_x);
  if (std::any_of(walls.begin(), walls.end(), [](const geometry::Wall& wall) { return wall.reach() > 0; })) return std::nullopt;
  const std::vector<PlacedRegion> regions = regions_of(plan, shell_x, shell_y);
  if (regions.empty()) return std::nullopt;
  return bay_bound(regions, cell->first, cell->second);
}

Contents bay_contents(const Setup& setup, const region::FreePlan& plan, Um shell_x, Um shell_y, const Tier& tier,
                      std::size_t tier_index, int wanted, long long budget, long long& steps) {
  Contents contents;
  const auto cell = equal_cells(setup, tier);
  if (!cell || setup.gap > 0) return contents;
  const std::vector<PlacedRegion> regions = regions_of(plan, shell_x, shell_y);
  for (const auto& [region, x, y] : regions) {
    const Um longest = std::max(region.x.back(), region.y.back());
    if (longest < cell->second || BayCuts::too_fine(longest, cell->first, cell->second)) continue;
    BayCuts bay(longest, cell->first, cell->second);
    long long spent = 0;
    fill_region(bay, region, std::min(wanted, bay.possible(region)), budget * cuts_a_step / static_cast<long long>(regions.size()), spent);
    steps += spent / cuts_a_step;
    const PalletPlace place{{}, {x, x + region.x.back(), y, y + region.y.back()}};
    for (const BlockInPlan& block : pallet_contents(setup, place, {bay.cells(region), 0, 0}, tier, tier_index).blocks) {
      if (!plan.covers(block.plan.x_low - shell_x, block.plan.x_high + shell_x, block.plan.y_low - shell_y, block.plan.y_high + shell_y)) continue;
      contents.blocks.push_back(block);
    }
  }
  return contents;
}

Contents pallet_contents(const Setup& setup, const PalletPlace& place, const PalletAnswer& answer, const Tier& tier,
                         std::size_t tier_index) {
  const Stance stance = tier.stances.front();
  const BlockRule rule = block_rule(setup.cell, stance, setup.rules);
  const bool runs_on_long_side = rule.length(1) > rule.breadth;
  Contents contents;
  for (const PalletCell& cell : answer.cells) {
    const bool runs_x = cell.along_length == runs_on_long_side;
    const Um x = place.room.x_low + cell.x, y = place.room.y_low + cell.y;
    const Um along = rule.length(1), across = rule.breadth;
    contents.blocks.push_back({{x, x + (runs_x ? along : across), y, y + (runs_x ? across : along)}, 1,
                               runs_x ? Run::u : Run::v, stance, tier_index});
  }
  std::sort(contents.blocks.begin(), contents.blocks.end(),
            [](const BlockInPlan& a, const BlockInPlan& b) { return a.plan < b.plan; });
  return contents;
}

}  // namespace cellstow::packing
