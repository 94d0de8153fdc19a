#include "attempt.hpp"

#include <algorithm>
#include <bit>

#include "box_builder.hpp"
#include "parts.hpp"

namespace cellstow::packing {
namespace {

/// Boxes in parts of the plan that do not hang together: the best of them, as many as the rules allow. One
/// of them keeps the fittings, the one that loses least by it.
std::vector<BoxInPlan> boxes_apart(const Setup& setup, const region::FreePlan& plan,
                                   const region::FreePlan& outside, const Attempt& attempt,
                                   BoxBuilder& builder, long long& steps) {
  const Parts parts(plan, attempt.ways[0].strips, setup.neck());
  Setup bare = setup;
  bare.items.clear();
  bare.item_fitting.clear();
  std::vector<BoxInPlan> boxes;
  std::optional<BoxInPlan> keeper;
  std::size_t keeper_at = 0;
  int least_loss = 0;
  for (int part = 0; part < parts.count(); ++part) {
    const Parts::Only only(parts, part);
    BoxBuilder plain(bare, attempt, steps);
    auto box = plain.build(plan, outside, &only, 0);
    if (!box) continue;
    if (!setup.items.empty()) {
      auto with = builder.build(plan, outside, &only, 0);
      const int loss = with ? box->filling.cells - with->filling.cells : 0;
      if (with && (!keeper || std::popcount(with->fittings) > std::popcount(keeper->fittings) ||
                   (with->fittings == keeper->fittings && loss < least_loss))) {
        keeper = std::move(with);
        keeper_at = boxes.size();
        least_loss = loss;
      }
    }
    boxes.push_back(std::move(*box));
  }
  if (keeper) boxes[keeper_at] = std::move(*keeper);
  std::stable_sort(boxes.begin(), boxes.end(), better_box);
  if (static_cast<int>(boxes.size()) > setup.rules.boxes_per_cavity) {
    boxes.resize(static_cast<std::size_t>(setup.rules.boxes_per_cavity));
  }
  return boxes;
}

}  // namespace

RowsBound bound_of_tier(const Setup& setup, const region::FreePlan& plan, const Tier& tier,
                        const Way& way, Um resolution, long long& steps) {
  const Workbench bench(setup, plan, tier, way, {});
  const RowsAnswer answer = best_rows(bench.view, bench.kinds, bench.tables, setup.enough, resolution);
  steps += bench.view.steps();
  return {answer.filling, answer.fittings};
}

RowsBound bound_of(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                   Um resolution, long long& steps) {
  const std::vector<Tier>& tiers = setup.stacks[attempt.stack].tiers;
  RowsBound bound;
  for (std::size_t i = 0; i < tiers.size(); ++i) {
    const RowsBound tier = bound_of_tier(setup, plan, tiers[i], attempt.ways[i], resolution, steps);
    bound.filling = bound.filling + tier.filling;
    bound.fittings |= tier.fittings;
  }
  return bound;
}

Filling bound_by_parts(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                       Um resolution, long long& steps) {
  const std::vector<Tier>& tiers = setup.stacks[attempt.stack].tiers;
  const Parts parts(plan, attempt.ways[0].strips, setup.neck());
  Filling best;
  for (int part = 0; part < parts.count(); ++part) {
    const Parts::Only only(parts, part);
    Filling here;
    for (std::size_t i = 0; i < tiers.size(); ++i) {
      const Workbench bench(setup, plan, tiers[i], attempt.ways[i], {0, 0, &only});
      const RowsAnswer rows = best_rows(bench.view, bench.kinds, bench.tables, setup.enough, resolution);
      steps += bench.view.steps();
      here = here + rows.filling;
    }
    if (here.better_than(best)) best = here;
  }
  const int boxes = setup.rules.boxes_per_cavity;
  return {best.cells * boxes, boxes > 1 ? 1 : best.blocks};
}

Outcome solve(const Setup& setup, const region::FreePlan& plan, const region::FreePlan& outside,
              const Attempt& attempt, long long& steps) {
  if (setup.rules.box_outline == survey::BoxOutline::rectangle) {
    return solve_rectangle(setup, plan, attempt, 1, steps);
  }
  BoxBuilder builder(setup, attempt, steps);
  std::vector<BoxInPlan> boxes;
  if (auto box = builder.build(plan, outside, nullptr, 0)) {
    boxes.push_back(std::move(*box));
  } else if (builder.was_apart()) {
    boxes = boxes_apart(setup, plan, outside, attempt, builder, steps);
  }
  Filling bound = builder.rows_bound();
  if (builder.was_apart()) {
    const Filling parts = bound_by_parts(setup, plan, attempt, 1, steps);
    if (bound.better_than(parts)) bound = parts;
  }
  if (boxes.empty() && setup.any_outline) {
    // No slanting box goes round them: a right-angled one with few corners, else a rectangle, always may.
    Setup square = setup;
    square.any_outline = false;
    Outcome outcome = solve(square, outside, outside, attempt, steps);
    if (!outcome.solved) outcome = solve_rectangle(square, outside, attempt, 1, steps);
    return {std::move(outcome.solved), bound};
  }
  if (boxes.empty()) return {std::nullopt, bound};
  return {gather(std::move(boxes), builder.rows()), bound};
}

}  // namespace cellstow::packing
