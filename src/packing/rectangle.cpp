#include <algorithm>
#include <bit>
#include <deque>
#include <set>

#include "box_builder.hpp"

namespace cellstow::packing {
namespace {

using geometry::Loop;
using geometry::Side;
using geometry::Wall;

/// Sums beyond this many are not listed.
constexpr std::size_t most_sums = 4'000;

/// Breadths that sums of strips can have, gaps included, up to the widest.
std::vector<Um> strip_sums(const std::vector<StripKind>& kinds, Um gap, Um widest) {
  std::set<Um> sums, frontier{-gap};
  while (!frontier.empty() && sums.size() < most_sums) {
    std::set<Um> next;
    for (const Um sum : frontier) {
      for (const StripKind& kind : kinds) {
        const Um wider = sum + gap + kind.breadth;
        if (wider <= widest && sums.insert(wider).second) next.insert(wider);
      }
    }
    frontier = std::move(next);
  }
  return {sums.begin(), sums.end()};
}

/// Run lengths at which a row of a rectangular box can hold something more: blocks, fittings beside them, and the
/// reliefs at both ends.
void add_length_thresholds(const Setup& setup, const Workbench& bench, std::set<Um>& lengths) {
  std::set<Um> beside{0};
  for (const FittingItem& item : bench.view.fittings()) {
    std::set<Um> more = beside;
    for (const Um so_far : beside) {
      for (const auto& turned : StripView::turns(item, bench.view.strips())) {
        more.insert(so_far + turned.first + setup.gap);
      }
    }
    beside = std::move(more);
  }
  for (const Um fittings : beside) {
    for (const Um reliefs : {Um{0}, setup.relief_excess, 2 * setup.relief_excess}) {
      if (fittings > 0) lengths.insert(fittings - setup.gap + reliefs);
      for (const FillTable& table : bench.tables) {
        for (const FillTable::Entry& entry : table.entries()) lengths.insert(entry.needed + fittings + reliefs);
      }
    }
  }
}

Um ceil_area_cells(const Setup& setup, const Stack& stack, Um length, Um breadth) {
  Um cells = 0;
  for (const Tier& tier : stack.tiers) {
    Um most = 0;
    for (const Stance stance : tier.stances) {
      const BlockRule rule = block_rule(setup.cell, stance, setup.rules);
      most = std::max(most, (length / rule.cell_along + 1) * (breadth / rule.breadth + 1));
    }
    cells += most;
  }
  return cells;
}

/// Are all tiers laid alike, so that the best for one is the best for all?
bool tiers_alike(const Setup& setup, const Attempt& attempt) {
  const std::vector<Tier>& tiers = setup.stacks[attempt.stack].tiers;
  for (std::size_t i = 1; i < tiers.size(); ++i) {
    if (tiers[i].level != tiers[0].level || attempt.ways[i] != attempt.ways[0]) return false;
    if (!setup.items.empty()) return false;
  }
  return true;
}

RectUm outer_of(const Setup& setup, Strips strips, const StripView::Longest& longest, Um breadth) {
  const Um shell = setup.content_shell();
  const Um s_low = longest.s - shell, s_high = longest.s + longest.length + shell;
  const Um t_low = longest.t - shell, t_high = longest.t + breadth + shell;
  return strips == Strips::along_x ? RectUm{s_low, s_high, t_low, t_high} : RectUm{t_low, t_high, s_low, s_high};
}

/// How long a rectangle of some breadth must be to hold so many cells: an unbounded knapsack of strips, without reliefs
/// and fittings, over all breadths at once for one length at a time. Asked with falling breadths and rising counts only.
class LeastLength {
 public:
  LeastLength(const std::deque<Workbench>& benches, Um gap, const std::vector<Um>& lengths)
      : benches_(benches), gap_(gap), lengths_(lengths) {
    for (const Workbench& bench : benches) {
      sums_.push_back(strip_sums(bench.kinds, gap, bench.view.broadest_possible()));
      complete_ = complete_ && sums_.back().size() < most_sums;
    }
  }

  /// The longest of the lengths that is too short for it; nothing when all are.
  std::optional<Um> too_short(Um breadth, int cells) {
    if (!complete_) return 0;
    for (; at_ < lengths_.size(); ++at_, most_.clear()) {
      if (most_.empty()) fill();
      if (most_cells(breadth) >= cells) return at_ == 0 ? 0 : lengths_[at_ - 1];
    }
    return std::nullopt;
  }

 private:
  void fill() {
    for (std::size_t i = 0; i < benches_.size(); ++i) most_.push_back(most_of_tier(benches_[i], sums_[i]));
  }

  /// Most cells in strips that add up to no more than each of the sums.
  std::vector<int> most_of_tier(const Workbench& bench, const std::vector<Um>& sums) const {
    std::vector<int> most(sums.size(), 0);
    for (std::size_t k = 0; k < bench.kinds.size(); ++k) {
      const int cells = bench.tables[k].best(lengths_[at_]).cells;
      const Um breadth = bench.kinds[k].breadth;
      if (cells == 0) continue;
      std::size_t rest = 0;   // first sum that leaves too little room for one more strip
      for (std::size_t i = 0; i < sums.size(); ++i) {
        if (i > 0) most[i] = std::max(most[i], most[i - 1]);
        if (sums[i] < breadth) continue;
        while (rest < i && sums[rest] <= sums[i] - breadth - gap_) ++rest;
        most[i] = std::max(most[i], cells + (rest > 0 ? most[rest - 1] : 0));
      }
    }
    return most;
  }

  int most_cells(Um breadth) const {
    int cells = 0;
    for (std::size_t i = 0; i < most_.size(); ++i) {
      const auto beyond = std::upper_bound(sums_[i].begin(), sums_[i].end(), breadth) - sums_[i].begin();
      if (beyond > 0) cells += most_[i][static_cast<std::size_t>(beyond) - 1];
    }
    return cells;
  }

  const std::deque<Workbench>& benches_;
  Um gap_;
  const std::vector<Um>& lengths_;
  std::vector<std::vector<Um>> sums_;
  std::vector<std::vector<int>> most_;   ///< at the length looked at: by tier, by sum
  std::size_t at_ = 0;
  bool complete_ = true;
};

/// Fewer cells than this are of no interest: a known count must be beaten, a rectangle with all fittings be matched.
int cells_of_interest(const Setup& setup, const std::optional<BoxInPlan>& best) {
  const bool all_placed = best && static_cast<std::size_t>(std::popcount(best->fittings)) == setup.items.size();
  return std::min(setup.enough, std::max({1, setup.more_than + 1, all_placed ? best->filling.cells : 0}));
}

}  // namespace

region::FreePlan rectangle_plan(const Setup& setup, const RectUm& r) {
  const Loop frame{{r.x_low, r.y_low}, {r.x_high, r.y_low}, {r.x_high, r.y_high}, {r.x_low, r.y_high}};
  std::vector<Wall> walls{Wall({frame}, Side::outside, 0, 0)};
  if (const Um e = setup.relief_excess; e > 0) {
    std::vector<Loop> squares;
    for (const auto& [x, y] : {std::pair{r.x_low, r.y_low}, std::pair{r.x_high - e, r.y_low},
                               std::pair{r.x_high - e, r.y_high - e}, std::pair{r.x_low, r.y_high - e}}) {
      squares.push_back({{x, y}, {x + e, y}, {x + e, y + e}, {x, y + e}});
    }
    walls.emplace_back(std::move(squares), Side::inside, 0, 0);
  }
  return region::FreePlan(std::move(walls), {"box wall"});
}

std::optional<std::vector<RectUm>> rectangles(const Setup& setup, const region::FreePlan& plan,
                                              const Stack& stack, Um resolution, long long& steps) {
  std::set<Um> breadths, lengths;
  for (const Tier& tier : stack.tiers) {
    std::vector<StripKind> kinds = strip_kinds(setup, tier, {Strips::along_x, false}, geometry::far_um);
    const Workbench across(setup, plan, tier, {Strips::along_x, true}, {});
    kinds.insert(kinds.end(), across.kinds.begin(), across.kinds.end());
    for (const Um sum : strip_sums(kinds, setup.gap, across.view.broadest_possible())) breadths.insert(sum);
    for (const Um sum : strip_sums(kinds, setup.gap, across.view.longest_possible_run())) lengths.insert(sum);
  }
  if (breadths.size() >= most_sums || lengths.size() >= most_sums) return std::nullopt;
  const Workbench bench(setup, plan, stack.tiers[0], {Strips::along_x, false}, {});
  const std::vector<Um> thresholds(lengths.begin(), lengths.end());
  std::vector<RectUm> found;
  Um already = 0;   // a narrower rectangle is worth a look only when it is longer than every broader one
  for (auto breadth = breadths.rbegin(); breadth != breadths.rend(); ++breadth) {
    const StripView::Longest longest = bench.view.longest_run(*breadth, thresholds, already, resolution);
    if (longest.length == 0) continue;
    already = longest.length;
    found.push_back(outer_of(setup, Strips::along_x, longest, *breadth));
  }
  steps += bench.view.steps();
  return found;
}

void finish_rectangle(const Setup& setup, const region::FreePlan& inner, const RectUm& outer, BoxInPlan& box) {
  OutlineAnswer fault;
  const bool tight = finish_outline(setup, inner, 0, 0, box, fault) && box.outline.size() == 4;
  if (tight) return;
  box.outline = {{outer.x_low, outer.y_low}, {outer.x_high, outer.y_low},
                 {outer.x_high, outer.y_high}, {outer.x_low, outer.y_high}};
}

/// Best rectangular box: for every breadth that strips can add up to, the longest rectangle of that
/// breadth the plan admits, filled exactly.
Outcome solve_rectangle(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                        Um resolution, long long& steps) {
  const Stack& stack = setup.stacks[attempt.stack];
  const Way first = attempt.ways[0];
  std::set<Um> breadths, lengths;
  std::deque<Workbench> benches;
  for (std::size_t i = 0; i < stack.tiers.size(); ++i) {
    const Workbench& bench = benches.emplace_back(setup, plan, stack.tiers[i], Way{first.strips, attempt.ways[i].across}, Narrowing{});
    for (const Um sum : strip_sums(bench.kinds, setup.gap, bench.view.broadest_possible())) {
      for (int ends = 0; ends <= (setup.relief_excess > 0 ? 2 : 0); ++ends) {
        breadths.insert(sum + ends * setup.relief_excess);
      }
    }
    add_length_thresholds(setup, bench, lengths);
  }
  const StripView& view = benches.front().view;
  const std::vector<Um> thresholds(lengths.begin(), lengths.end());
  LeastLength least_length(benches, setup.gap, thresholds);
  std::optional<BoxInPlan> best;
  RowsAnswer rows;
  Um already = 0;
  for (auto breadth = breadths.rbegin(); breadth != breadths.rend(); ++breadth) {
    const std::optional<Um> too_short = least_length.too_short(*breadth, cells_of_interest(setup, best));
    if (!too_short) break;
    // Narrower ones that are no longer hold no more, but may hold as many in a smaller box.
    const StripView::Longest longest =
        view.longest_run(*breadth, thresholds, std::max(*too_short, resolution > 1 ? already : 0), resolution);
    if (longest.length == 0) continue;
    already = longest.length;
    if (best && ceil_area_cells(setup, stack, longest.length, *breadth) < best->filling.cells) continue;
    const RectUm outer = outer_of(setup, first.strips, longest, *breadth);
    const region::FreePlan inner = rectangle_plan(setup, outer);
    TieredRows tiers = best_tiers(setup, inner, attempt, {}, steps);
    if (tiers.filling.cells == 0) continue;
    RowsAnswer lowest = tiers.lowest;
    BoxInPlan box = make_box(setup, std::move(tiers));
    finish_rectangle(setup, inner, outer, box);
    if (!best || better_box(box, *best)) {
      best = std::move(box);
      rows = std::move(lowest);
    }
  }
  steps += view.steps();
  if (!best) return {};
  // Unlike tiers in one rectangle: only the sum of what each could hold by itself is sure.
  const Filling bound = tiers_alike(setup, attempt) ? best->filling
                                                    : bound_of(setup, plan, attempt, resolution, steps).filling;
  return {gather({std::move(*best)}, rows), bound};
}

}  // namespace cellstow::packing
