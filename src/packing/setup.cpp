#include "setup.hpp"

#include <algorithm>
#include <set>

#include "pallet_fill.hpp"

namespace cellstow::packing {
namespace {

/// More fittings than this are not weighed against each other; the rest get no place and the report says so.
constexpr std::size_t most_items = 5;

void add_fittings(Setup& setup) {
  for (std::size_t i = 0; i < setup.cavity.fittings.size(); ++i) {
    const survey::Fitting& fitting = setup.cavity.fittings[i];
    if (fitting.place == survey::FittingPlace::above) {
      setup.above = std::max(setup.above, fitting.size[2].um());
      continue;
    }
    for (int k = 0; k < fitting.count && setup.items.size() < most_items; ++k) {
      setup.items.push_back({fitting.size[0].um(), fitting.size[1].um()});
      setup.item_fitting.push_back(i);
    }
  }
}

/// Levels of live metal, rising: each takes all stances that are no higher.
std::vector<Tier> tier_levels(const survey::Cell& cell) {
  std::vector<Stance> stances = cell.stances;
  std::sort(stances.begin(), stances.end(), [&](Stance a, Stance b) {
    return std::pair(live_height(cell, a), a) < std::pair(live_height(cell, b), b);
  });
  std::vector<Tier> levels;
  Tier level;
  for (std::size_t i = 0; i < stances.size(); ++i) {
    level.stances.push_back(stances[i]);
    level.live_top = live_height(cell, stances[i]);
    if (i + 1 < stances.size() && live_height(cell, stances[i + 1]) == level.live_top) continue;
    level.level = levels.size();
    levels.push_back(level);
  }
  return levels;
}

/// Tiers on top of each other, the highest level lowest; fittings stand in the top one.
Stack stack_of(const Setup& setup, std::vector<Tier> tiers) {
  Um fitting_height = 0;
  for (const std::size_t i : setup.item_fitting) {
    fitting_height = std::max(fitting_height, setup.cavity.fittings[i].size[2].um());
  }
  Um rise = 0;
  for (Tier& tier : tiers) {
    tier.rise = rise;
    rise += tier.live_top + setup.rules.between_tiers.um();
  }
  Tier& top = tiers.back();
  top.holds_fittings = true;
  const Um inside = top.rise + std::max(top.live_top + setup.headroom + setup.above, fitting_height);
  return {setup.floor + setup.liner + inside + setup.lid, std::move(tiers)};
}

/// Every choice of levels for 1 ... tiers tiers.
void add_stacks(Setup& setup) {
  const std::vector<Tier> levels = tier_levels(setup.cell);
  std::vector<std::vector<std::size_t>> choices{{}};
  for (int count = 1; count <= setup.rules.tiers; ++count) {
    std::vector<std::vector<std::size_t>> taller;
    for (const auto& below : choices) {
      const std::size_t highest = below.empty() ? levels.size() : below.back() + 1;
      for (std::size_t level = 0; level < highest; ++level) {
        taller.push_back(below);
        taller.back().push_back(level);
      }
    }
    choices = std::move(taller);
    std::vector<Stack> stacks;
    for (const auto& choice : choices) {
      std::vector<Tier> tiers;
      for (const std::size_t level : choice) tiers.push_back(levels[level]);
      stacks.push_back(stack_of(setup, std::move(tiers)));
    }
    std::stable_sort(stacks.begin(), stacks.end(), [](const Stack& a, const Stack& b) {
      return a.box_height < b.box_height;
    });
    setup.stacks.insert(setup.stacks.end(), stacks.begin(), stacks.end());
  }
}

}  // namespace

Um case_height(const survey::Cell& cell, Stance stance) {
  switch (stance) {
    case Stance::upright: return cell.height.um();
    case Stance::on_edge: return cell.width.um();
    case Stance::flat: return cell.thickness.um();
  }
  return 0;
}

Um live_height(const survey::Cell& cell, Stance stance) {
  return stance == Stance::upright ? std::max(cell.terminal_top, cell.height).um()
                                   : case_height(cell, stance);
}

Setup make_setup(const survey::Cavity& cavity, const survey::Cell& cell,
                 const survey::Rules& rules, const PackOptions& options) {
  Setup setup{cavity, cell, rules};
  setup.reading = options.reading;
  setup.stop = options.stop;
  setup.enough = options.enough.value_or(1'000'000);
  setup.more_than = options.more_than.value_or(0);
  setup.loose = rules.box_outline == survey::BoxOutline::loose;
  setup.any_outline = rules.box_outline == survey::BoxOutline::any;
  if (setup.any_outline) setup.most_corners = 8;
  setup.clearances = {rules.body_clearance.um(), rules.lid_clearance.um(), 0};
  setup.gap = rules.between_blocks.um();
  setup.headroom = rules.headroom.um();
  if (!setup.loose) {
    setup.shell = rules.flange.um() + rules.wall.um() + rules.liner.um();
    setup.floor = rules.floor.um();
    setup.liner = rules.liner.um();
    setup.lid = rules.lid.um();
    setup.relief_excess = std::max<Um>(0, rules.corner_relief.um() - rules.liner.um());
  }
  add_fittings(setup);
  add_stacks(setup);
  setup.pallets = std::make_shared<PalletMemory>();
  return setup;
}

std::vector<FittingItem> items_in(const Setup& setup, const Tier& tier) {
  return tier.holds_fittings ? setup.items : std::vector<FittingItem>{};
}

std::vector<StripKind> strip_kinds(const Setup& setup, const Tier& tier, const Way& way, Um broadest) {
  std::vector<StripKind> kinds;
  for (const Stance stance : tier.stances) {
    const BlockRule rule = block_rule(setup.cell, stance, setup.rules);
    if (!way.across) {
      kinds.push_back({Laying::along, stance, rule, 0, rule.breadth});
      continue;
    }
    // Where splitting a block costs no length, single cells across make up every longer block.
    const bool single_suffices =
        rule.min_cells == 1 && rule.ends + setup.gap <= rule.between_cells;
    for (int cells = rule.min_cells; cells <= (single_suffices ? 1 : rule.max_cells); ++cells) {
      if (rule.length(cells) > broadest) break;
      kinds.push_back({Laying::across, stance, rule, cells, rule.length(cells)});
    }
  }
  std::set<Um> breadths;
  for (const FittingItem& item : items_in(setup, tier)) {
    for (const auto& turned : StripView::turns(item, way.strips)) breadths.insert(turned.second);
  }
  for (const Um breadth : breadths) kinds.push_back({Laying::fittings_only, {}, {}, 0, breadth});
  return kinds;
}

std::vector<FillTable> fill_tables(const std::vector<StripKind>& kinds, Um gap, Um longest) {
  std::vector<FillTable> tables;
  for (const StripKind& kind : kinds) tables.emplace_back(kind, gap, longest);
  return tables;
}

}  // namespace cellstow::packing
