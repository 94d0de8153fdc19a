#include "box_builder.hpp"

#include <algorithm>
#include <bit>

#include "cellstow/geometry/segment.hpp"
#include "tangent_outline.hpp"

namespace cellstow::packing {
namespace {

using geometry::doubled_area;
using geometry::Loop;
using geometry::Side;
using geometry::Wall;

/// Ways of opening a ring are tried this deep.
constexpr int most_cuts = 2;

/// Takes surplus cells away: whole blocks first, the largest that fit the surplus, then ends of blocks.
void trim(Contents& contents, int surplus, const Setup& setup) {
  while (surplus > 0) {
    auto whole = contents.blocks.end();
    for (auto block = contents.blocks.begin(); block != contents.blocks.end(); ++block) {
      if (block->cells > surplus) continue;
      if (whole == contents.blocks.end() || block->cells >= whole->cells) whole = block;
    }
    if (whole != contents.blocks.end()) {
      surplus -= whole->cells;
      contents.blocks.erase(whole);
      continue;
    }
    // Else blocks are made shorter, the last ones first: one by all the surplus, or several down to the least a block may have.
    const auto longer_than = [&](int spare) {
      return std::find_if(contents.blocks.rbegin(), contents.blocks.rend(),
                          [&](const BlockInPlan& block) { return block.cells - spare >= setup.rules.block_cells.min; });
    };
    const auto by_all = longer_than(surplus), shorter = by_all != contents.blocks.rend() ? by_all : longer_than(1);
    if (shorter == contents.blocks.rend()) return;  // all are as short as they may be: keep the surplus
    const int fewer = std::min(surplus, shorter->cells - setup.rules.block_cells.min);
    const BlockRule rule = block_rule(setup.cell, shorter->stance, setup.rules);
    shorter->cells -= fewer;
    const Um length = rule.length(shorter->cells);
    if (shorter->runs == Run::u) {
      shorter->plan.x_high = shorter->plan.x_low + length;
    } else {
      shorter->plan.y_high = shorter->plan.y_low + length;
    }
    surplus -= fewer;
  }
}

/// The same plan with a slit from `at` to the edge of the plan in one of four directions, to open a ring.
region::FreePlan with_slit(const region::FreePlan& plan, PointUm at, int direction) {
  const geometry::SpanUm x = plan.extent(Strips::along_y), y = plan.extent(Strips::along_x);
  const PointUm ends[] = {{x.low, at.t}, {x.high, at.t}, {at.s, y.low}, {at.s, y.high}};
  std::vector<Wall> walls = plan.walls(Strips::along_x);
  walls.emplace_back(std::vector<Loop>{{at, ends[direction]}}, Side::inside, 1, 0);
  return region::FreePlan(std::move(walls), plan.names());
}

void keep_better(std::optional<BoxInPlan>& best, std::optional<BoxInPlan> box) {
  if (box && (!best || better_box(*box, *best))) best = std::move(box);
}

}  // namespace

bool better_box(const BoxInPlan& a, const BoxInPlan& b) {
  if (std::popcount(a.fittings) != std::popcount(b.fittings)) {
    return std::popcount(a.fittings) > std::popcount(b.fittings);
  }
  if (a.filling != b.filling) return a.filling.better_than(b.filling);
  if (a.outline.size() != b.outline.size()) return a.outline.size() < b.outline.size();
  return doubled_area(a.outline) < doubled_area(b.outline);
}

TieredRows best_tiers(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                      const Narrowing& narrowing, long long& steps) {
  const std::vector<Tier>& tiers = setup.stacks[attempt.stack].tiers;
  TieredRows all;
  for (std::size_t i = 0; i < tiers.size(); ++i) {
    const Workbench bench(setup, plan, tiers[i], attempt.ways[i], narrowing);
    RowsAnswer rows = best_rows(bench.view, bench.kinds, bench.tables, setup.enough, 1);
    Contents contents = place_contents(bench.view, bench.kinds, bench.tables, rows, i);
    steps += bench.view.steps();
    all.filling = all.filling + rows.filling;
    all.fittings |= rows.fittings;
    auto append = [](auto& to, const auto& from) { to.insert(to.end(), from.begin(), from.end()); };
    append(all.contents.blocks, contents.blocks);
    append(all.contents.fittings, contents.fittings);
    if (i == 0) all.lowest = std::move(rows);
  }
  return all;
}

bool same_strips(const Attempt& attempt) {
  return std::all_of(attempt.ways.begin(), attempt.ways.end(),
                     [&](const Way& way) { return way.strips == attempt.ways[0].strips; });
}

BoxInPlan make_box(const Setup& setup, TieredRows rows) {
  BoxInPlan box{std::move(rows.contents), {}, {}, rows.fittings};
  if (rows.filling.cells > setup.enough) trim(box.contents, rows.filling.cells - setup.enough, setup);
  for (const BlockInPlan& block : box.contents.blocks) {
    box.filling = box.filling + Filling{block.cells, 1};
  }
  return box;
}

bool finish_outline(const Setup& setup, const region::FreePlan& plan, Um more_x, Um more_y,
                    BoxInPlan& box, OutlineAnswer& answer) {
  const std::vector<RectUm> all = box.contents.all();
  const auto keeps_reliefs = [&] { return relief_kept(box.outline, all, (setup.rules.flange + setup.rules.wall).um(), setup.rules.corner_relief.um()); };
  if (setup.any_outline) {
    if (auto hull = convex_outline(plan, all, setup.shell, setup.most_corners)) {
      box.outline = *hull;
      if (keeps_reliefs()) return true;
    }
    if (auto tangents = tangent_outline(plan, all, setup.shell, setup.most_corners)) {
      box.outline = *tangents;
      if (keeps_reliefs()) return true;
    }
  }
  answer = right_angled_outline(plan, all, setup.shell + more_x, setup.shell + more_y);
  if (answer.fault != OutlineFault::none) return false;
  if (answer.outline.size() > setup.most_corners) return false;
  box.outline = answer.outline;
  return keeps_reliefs();
}

std::optional<BoxInPlan> BoxBuilder::build(const region::FreePlan& plan, const region::FreePlan& outside,
                               const RunFilter* filter, int cuts) {
  std::optional<BoxInPlan> best;
  OutlineAnswer fault;
  keep_better(best, variant(plan, outside, {0, 0, filter}, fault));
  if (!best && setup_.any_outline) {
    OutlineAnswer ignored;
    keep_better(best, variant(plan, outside, {tangent_slack_um, tangent_slack_um, filter}, ignored));
  }
  const bool fell_short = !best;
  if (fell_short && fault.fault == OutlineFault::none && setup_.relief_excess > 0) {
    OutlineAnswer ignored;
    const Um excess = setup_.relief_excess;
    if (same_strips(attempt_)) {
      keep_better(best, variant(plan, outside, {excess, 0, filter}, ignored));
      keep_better(best, variant(plan, outside, {0, excess, filter}, ignored));
    } else {
      keep_better(best, variant(plan, outside, {excess, excess, filter}, ignored));
    }
  }
  if (fault.fault == OutlineFault::ring && cuts < most_cuts) {
    for (int direction = 0; direction < 4; ++direction) {
      keep_better(best, build(with_slit(plan, fault.fault_at, direction),
                              with_slit(outside, fault.fault_at, direction), filter, cuts + 1));
    }
  }
  apart_ |= fault.fault == OutlineFault::apart;
  return best;
}

std::optional<BoxInPlan> BoxBuilder::variant(const region::FreePlan& plan, const region::FreePlan& outside,
                                 const Narrowing& narrowing, OutlineAnswer& fault) {
  TieredRows tiers = best_tiers(setup_, plan, attempt_, narrowing, steps_);
  if (!searched_) rows_bound_ = tiers.filling;
  searched_ = true;
  if (tiers.filling.cells == 0) return std::nullopt;
  rows_ = tiers.lowest;
  BoxInPlan box = make_box(setup_, std::move(tiers));
  if (setup_.loose) return box;
  const bool on_x = attempt_.ways[0].strips == Strips::along_x;
  if (!finish_outline(setup_, outside, on_x ? narrowing.more_along : narrowing.more_across,
                      on_x ? narrowing.more_across : narrowing.more_along, box, fault)) {
    return std::nullopt;
  }
  return box;
}

Solved gather(std::vector<BoxInPlan> boxes, const RowsAnswer& rows) {
  Solved solved{std::move(boxes), rows, {}, 0, 0, 0};
  for (const BoxInPlan& box : solved.boxes) {
    solved.filling = solved.filling + box.filling;
    solved.fittings |= box.fittings;
    solved.corners += box.outline.size();
    solved.doubled_area += doubled_area(box.outline);
  }
  return solved;
}

}  // namespace cellstow::packing
