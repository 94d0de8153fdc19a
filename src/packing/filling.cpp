#include "filling.hpp"

#include <algorithm>
#include <cassert>

namespace cellstow::packing {
namespace {

using Entry = FillTable::Entry;

/// Blocks that line up along the run: m cells in q blocks take
///   m (along + between) - q between + q ends + (q - 1) gap
/// which is linear in q: fewest blocks are shortest unless a block costs less than nothing.
void add_along(const BlockRule& rule, Um gap, Um longest, std::vector<Entry>& entries) {
  const Um per_block = rule.ends - rule.between_cells + gap;
  for (int cells = rule.min_cells;; ++cells) {
    const int fewest = (cells + rule.max_cells - 1) / rule.max_cells;
    const int most = cells / rule.min_cells;
    const Um bare = cells * (rule.cell_along + rule.between_cells) - gap;
    const Um shortest = bare + per_block * (per_block >= 0 ? fewest : most);
    if (shortest > longest) break;
    for (int blocks = fewest; blocks <= (per_block >= 0 ? std::min(fewest, most) : most);
         ++blocks) {
      entries.push_back({bare + per_block * blocks, {cells, blocks}});
    }
  }
}

/// Blocks side by side along the run, each standing across it.
void add_across(const StripKind& kind, Um gap, Um longest, std::vector<Entry>& entries) {
  for (int blocks = 1; blocks * (kind.rule.breadth + gap) - gap <= longest; ++blocks) {
    entries.push_back(
        {blocks * (kind.rule.breadth + gap) - gap, {blocks * kind.cells_across, blocks}});
  }
}

}  // namespace

BlockRule block_rule(const survey::Cell& cell, Stance stance, const survey::Rules& rules) {
  BlockRule rule;
  rule.cell_along = (stance == Stance::flat ? cell.width : cell.thickness).um();
  rule.breadth = (stance == Stance::upright ? cell.width : cell.height).um();
  rule.between_cells = rules.between_cells.um();
  rule.ends = 2 * rules.end_plate.um() + 2 * rules.strap_space.um();
  rule.min_cells = rules.block_cells.min;
  rule.max_cells = rules.block_cells.max;
  return rule;
}

FillTable::FillTable(const StripKind& kind, Um gap, Um longest) : kind_(kind), gap_(gap) {
  std::vector<Entry> all;
  if (kind.laying == Laying::along) add_along(kind.rule, gap, longest, all);
  if (kind.laying == Laying::across) add_across(kind, gap, longest, all);
  std::sort(all.begin(), all.end(), [](const Entry& a, const Entry& b) {
    return a.needed != b.needed ? a.needed < b.needed : a.filling.better_than(b.filling);
  });
  Filling best;
  for (const Entry& entry : all) {
    if (!entry.filling.better_than(best)) continue;
    best = entry.filling;
    entries_.push_back(entry);
  }
}

Filling FillTable::best(Um length) const {
  const auto after = std::upper_bound(entries_.begin(), entries_.end(), length,
                                      [](Um value, const Entry& entry) { return value < entry.needed; });
  return after == entries_.begin() ? Filling{} : std::prev(after)->filling;
}

Um FillTable::needed(const Filling& filling) const {
  if (filling.cells == 0) return 0;
  if (kind_.laying == Laying::across) {
    return filling.blocks * (kind_.rule.breadth + gap_) - gap_;
  }
  Um total = -gap_;
  for (const int cells : split(filling)) total += kind_.rule.length(cells) + gap_;
  return total;
}

Um FillTable::needed_for_more(int cells) const {
  for (const Entry& entry : entries_) {
    if (entry.filling.cells > cells) return entry.needed;
  }
  return -1;
}

std::vector<int> FillTable::split(const Filling& filling) const {
  std::vector<int> counts;
  for (int block = 0; block < filling.blocks; ++block) {
    counts.push_back(filling.cells / filling.blocks +
                     (block < filling.cells % filling.blocks ? 1 : 0));
  }
  return counts;
}

}  // namespace cellstow::packing
