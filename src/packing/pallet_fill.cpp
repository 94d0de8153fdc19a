#include "pallet_fill.hpp"

#include <algorithm>

#include "bay_bound.hpp"

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

const BayAnswer& PalletMemory::answer(const BayRegion& bay, Um long_side, Um short_side, long long& steps) {
  const auto [found, added] = known_bays_.try_emplace(std::tuple(bay.key(), long_side, short_side));
  if (added) {
    found->second = most_in_bay(bay, long_side, short_side);
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

std::optional<int> bay_bound(const Setup& setup, const region::FreePlan& plan, Um shell_x, Um shell_y, const Tier& tier,
                             long long& steps) {
  const auto cell = equal_cells(setup, tier);
  if (!cell || setup.gap > 0) return std::nullopt;
  const auto& walls = plan.walls(Strips::along_x);
  if (std::any_of(walls.begin(), walls.end(), [](const geometry::Wall& wall) { return wall.reach() > 0; })) return std::nullopt;
  const std::vector<PlacedRegion> regions = regions_of(plan, shell_x, shell_y);
  if (regions.empty()) return std::nullopt;
  int parts = 0;
  for (const PlacedRegion& part : regions) parts += setup.pallets->answer(part.region, cell->first, cell->second, steps).bound;
  return std::min(parts, bay_bound(regions, cell->first, cell->second));
}

Contents bay_contents(const Setup& setup, const region::FreePlan& plan, Um shell_x, Um shell_y, const Tier& tier,
                      std::size_t tier_index, long long& steps) {
  Contents contents;
  const auto cell = equal_cells(setup, tier);
  if (!cell || setup.gap > 0) return contents;
  for (const auto& [region, x, y] : regions_of(plan, shell_x, shell_y)) {
    const PalletPlace place{{}, {x, x + region.x.back(), y, y + region.y.back()}};
    const BayAnswer& answer = setup.pallets->answer(region, cell->first, cell->second, steps);
    for (const BlockInPlan& block : pallet_contents(setup, place, {answer.cells, 0, 0}, tier, tier_index).blocks) {
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
