#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "checks.hpp"

namespace cellstow::audit {
namespace {

int along_axis(const Block& block) { return block.runs == Run::u ? 0 : 1; }

Tick ends_of(const Rules& rules) { return rules.end_plate + rules.strap_space; }

std::string stance_word(Stance stance) {
  return stance == Stance::upright ? "upright" : stance == Stance::on_edge ? "on edge" : "flat";
}

void check_stances(const BoxContext& context, Findings& findings) {
  const std::vector<Stance>& allowed = context.cell.stances;
  for (const Cell& cell : context.box.cells) {
    findings.looked_at(Rule::stance);
    if (std::find(allowed.begin(), allowed.end(), cell.stance) == allowed.end()) {
      findings.violated(Rule::stance, cell_name(context, cell),
                        stance_word(cell.stance) + ", which the job does not allow for this cell");
    }
  }
  for (const Block& block : context.box.blocks) {
    for (const Cell& cell : context.box.cells) {
      if (cell.block != block.id || cell.stance == stance_of(block, context)) continue;
      findings.violated(Rule::stance, cell_name(context, cell),
                        stance_word(cell.stance) + " in a block that stands " + stance_word(stance_of(block, context)));
    }
  }
}

void check_block_size(const BoxContext& context, const Block& block, Findings& findings) {
  findings.looked_at(Rule::block_size);
  const Sides sides = sides_of(context.cell, stance_of(block, context));
  const Rules& rules = context.rules;
  const Tick length = block.cells * sides.along + std::max(0, block.cells - 1) * rules.between_cells + 2 * ends_of(rules);
  const int along = along_axis(block);
  const auto compare = [&](const char* what, int axis, Tick wanted) {
    if (block.body.size(axis) == wanted) return;
    findings.violated(Rule::block_size, block_name(context, block.id),
                      fmt::format("{} {}, should be {}: {} off", what, told(block.body.size(axis)), told(wanted),
                                  told(std::abs(block.body.size(axis) - wanted))));
  };
  compare("length", along, length);
  compare("breadth", 1 - along, sides.across);
  compare("height", 2, sides.up);
}

void check_cell_size(const BoxContext& context, const Cell& cell, const Block& block, Findings& findings) {
  const Sides sides = sides_of(context.cell, cell.stance);
  const int along = along_axis(block);
  const Tick wanted[3] = {along == 0 ? sides.along : sides.across, along == 0 ? sides.across : sides.along, sides.up};
  for (int axis = 0; axis < 3; ++axis) {
    if (cell.body.size(axis) == wanted[axis]) continue;
    findings.violated(Rule::cells_in_line, cell_name(context, cell),
                      fmt::format("{} along {}, should be {}", told(cell.body.size(axis)),
                                  axis == 2 ? "z" : axis == 1 ? "v" : "u", told(wanted[axis])));
  }
}

void check_cell_place(const BoxContext& context, const Cell& cell, const Block& block, Findings& findings) {
  findings.looked_at(Rule::cells_in_line);
  check_cell_size(context, cell, block, findings);
  const int along = along_axis(block);
  const Tick pitch = sides_of(context.cell, cell.stance).along + context.rules.between_cells;
  Spot3 wanted = block.body.low;
  wanted[along] += ends_of(context.rules) + (cell.place - 1) * pitch;
  for (int axis = 0; axis < 3; ++axis) {
    const Tick off = cell.body.low[axis] - wanted[axis];
    if (std::abs(off) <= (axis == 2 ? 0 : context.box.slack)) continue;
    findings.violated(Rule::cells_in_line, cell_name(context, cell),
                      fmt::format("off its place by {} along {}", told(std::abs(off)), axis == 2 ? "z" : axis == 1 ? "v" : "u"));
  }
}

/// Places 1 to n, each once.
void check_members(const BoxContext& context, const Block& block, Findings& findings) {
  std::vector<int> places;
  for (const Cell& cell : context.box.cells) {
    if (cell.block != block.id) continue;
    places.push_back(cell.place);
    check_cell_place(context, cell, block, findings);
  }
  std::sort(places.begin(), places.end());
  bool in_order = static_cast<int>(places.size()) == block.cells;
  for (std::size_t i = 0; i < places.size(); ++i) in_order = in_order && places[i] == static_cast<int>(i) + 1;
  if (in_order) return;
  findings.violated(Rule::cells_in_line, block_name(context, block.id),
                    fmt::format("holds {} cells; places 1 to {} should each be taken once", places.size(), block.cells));
}

void check_block_count(const BoxContext& context, const Block& block, Findings& findings) {
  findings.looked_at(Rule::block_cells);
  const Rules& rules = context.rules;
  if (block.cells < rules.block_min) {
    findings.violated(Rule::block_cells, block_name(context, block.id),
                      fmt::format("{} cells, at least {}", block.cells, rules.block_min));
  }
  if (rules.block_max && block.cells > *rules.block_max) {
    findings.violated(Rule::block_cells, block_name(context, block.id),
                      fmt::format("{} cells, at most {}", block.cells, *rules.block_max));
  }
}

void check_every_cell_has_a_block(const BoxContext& context, Findings& findings) {
  for (const Cell& cell : context.box.cells) {
    const auto owners = std::count_if(context.box.blocks.begin(), context.box.blocks.end(),
                                      [&](const Block& block) { return block.id == cell.block; });
    if (owners == 1) continue;
    findings.violated(Rule::cells_in_line, cell_name(context, cell),
                      fmt::format("{} blocks have the number {}; one should", owners, cell.block));
  }
}

}  // namespace

void check_block_make(const BoxContext& context, Findings& findings) {
  check_stances(context, findings);
  check_every_cell_has_a_block(context, findings);
  for (const Block& block : context.box.blocks) {
    check_block_count(context, block, findings);
    check_block_size(context, block, findings);
    check_members(context, block, findings);
  }
}

}  // namespace cellstow::audit
