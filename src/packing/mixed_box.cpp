#include "mixed_box.hpp"

#include <algorithm>
#include <bit>
#include <future>

#include "box_builder.hpp"
#include "line_bound.hpp"
#include "mixed.hpp"
#include "pallet_fill.hpp"
#include "parts.hpp"
#include "tangent_outline.hpp"

namespace cellstow::packing {
namespace {

/// Searches run side by side from different draws; always this many, so that one core gives the same answer as two.
constexpr std::uint64_t lanes = 2;
/// Rectangles tried for one box.
constexpr std::size_t most_rectangles = 6;

struct Margin { Um x = 0, y = 0; };

MixedPlace place_of(const Setup& setup, const MixedTask& task, const Margin& margin, const RunFilter* filter) {
  return {task.plan, setup.content_shell() + margin.x, setup.content_shell() + margin.y, filter};
}

/// Blocks and fittings of one tier of the best rows' box that lies in this part of the plan.
Contents tier_of(const Contents& all, std::size_t tier) {
  Contents contents;
  for (const BlockInPlan& block : all.blocks) {
    if (block.tier == tier) contents.blocks.push_back(block);
  }
  for (const FittingInPlan& fitting : all.fittings) {
    if (fitting.tier == tier) contents.fittings.push_back(fitting);
  }
  return contents;
}

Contents best_of_lanes(const Setup& setup, const MixedPlace& place, const Tier& tier, std::size_t index,
                       const Contents& start, int wanted, long long budget, long long& steps) {
  struct Lane { Contents contents; long long steps = 0; };
  std::vector<std::future<Lane>> running;
  for (std::uint64_t lane = 0; lane < lanes; ++lane) {
    running.push_back(std::async(std::launch::async, [&, lane] {
      Lane result;
      MixedSearch search(setup, place, tier, index, lane + 1);
      result.contents = search.improve(start, wanted, budget / static_cast<long long>(lanes), result.steps);
      return result;
    }));
  }
  Contents best = start;
  for (auto& future : running) {
    Lane lane = future.get();
    steps += lane.steps;
    if (better_contents(lane.contents, best)) best = std::move(lane.contents);
  }
  return best;
}

/// Nothing but equal cells in a plain rectangle or within right-angled walls: the most that search by cuts and fronts finds. Else empty.
Contents cut_up(const Setup& setup, const MixedPlace& place, const Tier& tier, std::size_t index, long long& steps) {
  Contents contents;
  if (place.filter != nullptr) return contents;
  if (const auto pallet = pallet_place(setup, place.plan, place.shell_x, place.shell_y, tier)) {
    contents = pallet_contents(setup, *pallet, setup.pallets->answer(pallet->pallet, steps), tier, index);
  } else {
    contents = bay_contents(setup, place.plan, place.shell_x, place.shell_y, tier, index, steps);
  }
  MixedSearch(setup, place, tier, index, 0).join_blocks(contents);
  return contents;
}

/// All tiers of one box; tiers that are alike are filled alike.
TieredRows all_tiers(const Setup& setup, const MixedTask& task, const MixedPlace& place, const Contents* rows,
                   long long& steps) {
  const std::vector<Tier>& tiers = setup.stacks[task.stack].tiers;
  Contents all;
  for (std::size_t i = 0; i < tiers.size(); ++i) {
    Contents contents;
    if (i > 0 && tiers[i].level == tiers[i - 1].level && (!tiers[i].holds_fittings || setup.items.empty())) {
      contents = tier_of(all, i - 1);
      for (BlockInPlan& block : contents.blocks) block.tier = i;
    } else {
      contents = MixedSearch(setup, place, tiers[i], i, 0).begin(steps);
      if (rows != nullptr) {
        const Contents known = tier_of(*rows, i);
        if (better_contents(known, contents)) contents = known;
      }
      const int wanted = (task.wanted + static_cast<int>(tiers.size()) - 1) / static_cast<int>(tiers.size());
      const long long budget = task.budget / static_cast<long long>(tiers.size());
      if (Contents filled = cut_up(setup, place, tiers[i], i, steps); better_contents(filled, contents)) {
        contents = std::move(filled);
      }
      if (filling_of(contents).cells > 0) {
        contents = best_of_lanes(setup, place, tiers[i], i, contents,
                                 tiers.size() == 1 ? wanted : 1'000'000,
                                 budget, steps);
      }
    }
    all.blocks.insert(all.blocks.end(), contents.blocks.begin(), contents.blocks.end());
    all.fittings.insert(all.fittings.end(), contents.fittings.begin(), contents.fittings.end());
  }
  TieredRows tiered;
  tiered.filling = filling_of(all);
  for (const FittingInPlan& fitting : all.fittings) tiered.fittings |= 1U << fitting.index;
  tiered.contents = std::move(all);
  return tiered;
}

std::optional<BoxInPlan> build(const Setup& setup, const MixedTask& task, const RunFilter* filter,
                               const Contents* rows, long long& steps) {
  std::vector<Margin> margins{{}};
  if (setup.any_outline) margins.push_back({tangent_slack_um, tangent_slack_um});
  if (const Um excess = setup.relief_excess; excess > 0 && !setup.loose) {
    margins.push_back({excess, 0});
    margins.push_back({0, excess});
  }
  for (const Margin& margin : margins) {
    const bool plain = margin.x == 0 && margin.y == 0;
    MixedTask share = task;
    if (margins.size() > 1) share.budget = plain ? task.budget / 2 : task.budget / 4;
    TieredRows tiers = all_tiers(setup, share, place_of(setup, task, margin, filter), plain ? rows : nullptr, steps);
    if (tiers.filling.cells == 0) continue;
    BoxInPlan box = make_box(setup, std::move(tiers));
    OutlineAnswer answer;
    if (setup.loose || finish_outline(setup, task.outside, margin.x, margin.y, box, answer)) return box;
  }
  return std::nullopt;
}

/// The box of the best rows that has a block in this part.
const Contents* rows_in(const MixedTask& task, const RunFilter* filter, Strips strips) {
  if (task.rows == nullptr) return nullptr;
  for (const BoxInPlan& box : task.rows->boxes) {
    if (filter == nullptr) return &box.contents;
    if (box.contents.blocks.empty()) continue;
    const RectUm& body = box.contents.blocks.front().plan;
    const bool on_x = strips == Strips::along_x;
    const SpanUm run = on_x ? SpanUm{body.x_low, body.x_high} : SpanUm{body.y_low, body.y_high};
    if (filter->keeps(run, on_x ? body.y_low : body.x_low, on_x ? body.y_high : body.x_high)) return &box.contents;
  }
  return nullptr;
}

/// Rectangles that could hold more than `cells`, most promising first.
std::vector<RectUm> promising_rectangles(const Setup& setup, const MixedTask& task, int cells, long long& steps) {
  std::vector<std::pair<int, RectUm>> ranked;
  const Stack& stack = setup.stacks[task.stack];
  const auto outers = rectangles(setup, task.plan, stack, 1, steps);
  if (!outers) return {};
  for (const RectUm& outer : *outers) {
    const region::FreePlan inner = rectangle_plan(setup, outer);
    int bound = 0;
    for (const Tier& tier : stack.tiers) bound += line_bound(setup, inner, tier, steps);
    if (bound > cells) ranked.emplace_back(-bound, outer);
  }
  std::sort(ranked.begin(), ranked.end());
  if (ranked.size() > most_rectangles) ranked.resize(most_rectangles);
  std::vector<RectUm> best;
  for (const auto& [bound, outer] : ranked) best.push_back(outer);
  return best;
}

/// One rectangular box: the most promising rectangles, each filled by itself.
std::optional<Solved> solve_mixed_rectangle(const Setup& setup, const MixedTask& task, long long& steps) {
  const int known = task.rows != nullptr ? task.rows->filling.cells : 0;
  const std::vector<RectUm> outers = promising_rectangles(setup, task, known, steps);
  std::optional<BoxInPlan> best;
  for (const RectUm& outer : outers) {
    const region::FreePlan inner = rectangle_plan(setup, outer);
    MixedTask within{task.stack, task.floor, inner, inner, nullptr, task.wanted,
                     task.budget / static_cast<long long>(outers.size())};
    TieredRows tiers = all_tiers(setup, within, place_of(setup, within, {}, nullptr), nullptr, steps);
    if (tiers.filling.cells == 0) continue;
    BoxInPlan box = make_box(setup, std::move(tiers));
    finish_rectangle(setup, inner, outer, box);
    if (!best || better_box(box, *best)) best = std::move(box);
  }
  if (!best) return std::nullopt;
  return gather({std::move(*best)}, {});
}

}  // namespace

int first_mixed_count(const Setup& setup, const MixedTask& task, long long& steps) {
  int cells = 0;
  const std::vector<Tier>& tiers = setup.stacks[task.stack].tiers;
  for (std::size_t i = 0; i < tiers.size(); ++i) {
    const MixedPlace place = place_of(setup, task, {}, nullptr);
    cells += filling_of(MixedSearch(setup, place, tiers[i], i, 0).begin(steps)).cells;
  }
  return cells;
}

std::optional<Solved> solve_mixed(const Setup& setup, const MixedTask& task, long long& steps) {
  if (setup.rules.box_outline == survey::BoxOutline::rectangle) return solve_mixed_rectangle(setup, task, steps);
  std::vector<BoxInPlan> boxes;
  const Parts parts(task.plan, Strips::along_x, setup.neck());
  if (setup.loose || parts.count() == 1) {
    if (auto box = build(setup, task, nullptr, rows_in(task, nullptr, Strips::along_x), steps)) boxes.push_back(std::move(*box));
  } else {
    MixedTask share = task;
    share.budget = task.budget / parts.count();
    for (int part = 0; part < parts.count(); ++part) {
      const Parts::Only only(parts, part);
      if (auto box = build(setup, share, &only, rows_in(task, &only, Strips::along_x), steps)) boxes.push_back(std::move(*box));
    }
  }
  if (boxes.empty()) return std::nullopt;
  std::stable_sort(boxes.begin(), boxes.end(), better_box);
  const auto most = static_cast<std::size_t>(setup.rules.boxes_per_cavity);
  if (boxes.size() > most) boxes.resize(most);
  return gather(std::move(boxes), {});
}

}  // namespace cellstow::packing
