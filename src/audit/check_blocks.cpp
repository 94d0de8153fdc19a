#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "checks.hpp"

namespace cellstow::audit {

// ---- shared by the checks ------------------------------------------------------

std::string block_name(const BoxContext& context, int id) { return fmt::format("{}, block {}", context.where, id); }

std::string cell_name(const BoxContext& context, const Cell& cell) {
  return fmt::format("{}, block {}, cell {}", context.where, cell.block, cell.place);
}

std::string fitting_name(const BoxContext& context, const Fitting& fitting) {
  return context.where + ", " + fitting.name;
}

Stance stance_of(const Block& block, const BoxContext& context) {
  if (block.stance) return *block.stance;
  for (const Cell& cell : context.box.cells) {
    if (cell.block == block.id) return cell.stance;
  }
  return context.cell.stances.empty() ? Stance::upright : context.cell.stances.front();
}

Sides sides_of(const CellType& cell, Stance stance) {
  if (stance == Stance::upright) return {cell.thickness, cell.width, cell.height};
  if (stance == Stance::on_edge) return {cell.thickness, cell.height, cell.width};
  return {cell.width, cell.height, cell.thickness};
}

Tick live_top(const CellType& cell, Stance stance, Tick base) {
  const Tick case_top = base + sides_of(cell, stance).up;
  return stance == Stance::upright ? std::max(case_top, base + cell.terminal_top) : case_top;
}

Tick gap_along(const Body& left, const Body& right, int axis) {
  return std::max(left.low[axis] - right.high[axis], right.low[axis] - left.high[axis]);
}

bool is_within(const Body& inner, const Body& outer) {
  for (int axis = 0; axis < 3; ++axis) {
    if (inner.low[axis] < outer.low[axis] || inner.high[axis] > outer.high[axis]) return false;
  }
  return true;
}

FittingPlace place_of(const Fitting& fitting, const CavityJob& job) {
  if (fitting.place) return *fitting.place;
  for (const FittingWish& wish : job.fittings) {
    if (is_named(fitting.name, wish.name)) return wish.place;
  }
  return FittingPlace::beside;
}

bool is_named(const std::string& name, const std::string& wish) {
  if (name == wish) return true;
  if (name.size() < wish.size() + 2 || name.compare(0, wish.size(), wish) != 0 || name[wish.size()] != ' ') return false;
  return name.find_first_not_of("0123456789", wish.size() + 1) == std::string::npos;
}

Ring ring_of(const Body& body) {
  return {{body.low[0], body.low[1]}, {body.high[0], body.low[1]}, {body.high[0], body.high[1]}, {body.low[0], body.high[1]}};
}

namespace {

using Tier = std::vector<const Block*>;

/// Blocks by the height of their base, lowest first.
std::vector<Tier> tiers_of(const Box& box) {
  std::map<Tick, Tier> by_base;
  for (const Block& block : box.blocks) by_base[block.body.low[2]].push_back(&block);
  std::vector<Tier> out;
  for (auto& [base, tier] : by_base) out.push_back(std::move(tier));
  return out;
}

void check_gaps(const BoxContext& context, const Tier& tier, Findings& findings) {
  const Tick needed = context.rules.between_blocks;
  for (std::size_t i = 0; i < tier.size(); ++i) {
    for (std::size_t j = i + 1; j < tier.size(); ++j) {
      findings.looked_at(Rule::block_gap);
      const Tick gap = std::max(gap_along(tier[i]->body, tier[j]->body, 0), gap_along(tier[i]->body, tier[j]->body, 1));
      if (gap >= needed - context.box.slack) continue;
      findings.violated(Rule::block_gap, fmt::format("{} and block {}", block_name(context, tier[i]->id), tier[j]->id),
                        gap < 0 ? fmt::format("overlap by {}; {} apart is needed", told(-gap), told(needed))
                                : fmt::format("{} apart, needs {}: {} short", told(gap), told(needed), told(needed - gap)));
    }
  }
}

Tick top_of(const BoxContext& context, const Tier& tier) {
  Tick top = tier.front()->body.low[2];
  for (const Block* block : tier) {
    top = std::max({top, block->body.high[2], live_top(context.cell, stance_of(*block, context), block->body.low[2])});
  }
  return top;
}

void check_tiers(const BoxContext& context, const std::vector<Tier>& tiers, Findings& findings) {
  findings.looked_at(Rule::tiers);
  const int count = static_cast<int>(tiers.size());
  if (count > context.rules.tiers) {
    findings.violated(Rule::tiers, context.where, fmt::format("{} tiers, at most {}", count, context.rules.tiers));
  }
  for (std::size_t i = 1; i < tiers.size(); ++i) {
    const Tick gap = tiers[i].front()->body.low[2] - top_of(context, tiers[i - 1]);
    if (gap >= context.rules.between_tiers) continue;
    findings.violated(Rule::tiers, fmt::format("{}, tiers {} and {}", context.where, i, i + 1),
                      fmt::format("{} from the tops below to the bases above, needs {}: {} short", told(gap),
                                  told(context.rules.between_tiers), told(context.rules.between_tiers - gap)));
  }
}

/// True when the tier splits into strips along `axis`: sorted across, blocks whose breadths overlap belong
/// to one strip, and within a strip they stand one behind the other.
bool splits_into_strips(Tier tier, int axis, Tick gap, Tick slack) {
  const int cross = 1 - axis;
  std::sort(tier.begin(), tier.end(), [cross](const Block* left, const Block* right) {
    return left->body.low[cross] < right->body.low[cross];
  });
  std::size_t first = 0;
  Tick reached = 0;
  for (std::size_t i = 0; i < tier.size(); ++i) {
    if (i == 0 || tier[i]->body.low[cross] >= reached - slack) first = i;
    reached = i == first ? tier[i]->body.high[cross] : std::max(reached, tier[i]->body.high[cross]);
    for (std::size_t j = first; j < i; ++j) {
      if (gap_along(tier[i]->body, tier[j]->body, axis) < gap - slack) return false;
    }
  }
  return true;
}

void check_rows(const BoxContext& context, const Tier& tier, std::size_t number, Findings& findings) {
  if (context.rules.arrangement != Arrangement::rows) return;
  findings.looked_at(Rule::rows);
  const std::string where = fmt::format("{}, tier {}", context.where, number);
  for (const Block* block : tier) {
    if (block->runs == tier.front()->runs) continue;
    findings.violated(Rule::rows, where,
                      fmt::format("blocks {} and {} run in different directions", tier.front()->id, block->id));
    return;
  }
  const Tick gap = context.rules.between_blocks, slack = context.box.slack;
  if (splits_into_strips(tier, 0, gap, slack) || splits_into_strips(tier, 1, gap, slack)) return;
  findings.violated(Rule::rows, where, "does not split into straight rows, neither along u nor along v");
}

}  // namespace

void check_blocks(const BoxContext& context, Findings& findings) {
  const std::vector<Tier> tiers = tiers_of(context.box);
  check_tiers(context, tiers, findings);
  for (std::size_t i = 0; i < tiers.size(); ++i) {
    check_gaps(context, tiers[i], findings);
    check_rows(context, tiers[i], i + 1, findings);
  }
}

void check_cells_apart(const BoxContext& context, Findings& findings) {
  std::vector<const Cell*> cells;
  for (const Cell& cell : context.box.cells) cells.push_back(&cell);
  std::sort(cells.begin(), cells.end(),
            [](const Cell* left, const Cell* right) { return left->body.low[0] < right->body.low[0]; });
  findings.looked_at(Rule::cells_apart, static_cast<int>(cells.size()));
  for (std::size_t i = 0; i < cells.size(); ++i) {
    for (std::size_t j = i + 1; j < cells.size() && cells[j]->body.low[0] < cells[i]->body.high[0]; ++j) {
      Tick gap = gap_along(cells[i]->body, cells[j]->body, 0);
      for (int axis = 1; axis < 3; ++axis) gap = std::max(gap, gap_along(cells[i]->body, cells[j]->body, axis));
      if (gap >= -context.box.slack) continue;
      findings.violated(Rule::cells_apart, cell_name(context, *cells[i]),
                        fmt::format("overlaps cell {} of block {} by {}", cells[j]->place, cells[j]->block, told(-gap)));
    }
  }
}

}  // namespace cellstow::audit
