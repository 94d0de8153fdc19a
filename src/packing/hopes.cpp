#include <algorithm>
#include <bit>

#include "box_builder.hpp"
#include "cavity_search.hpp"

namespace cellstow::packing {
namespace {

/// Over a range of headings strip positions need be no finer than a part of what contents lose.
constexpr Um losses_a_step = 4;

bool same_plan(const CavitySearch::Hope& a, const CavitySearch::Hope& b) {
  return a.attempt.stack == b.attempt.stack && a.attempt.floor == b.attempt.floor && a.highest == b.highest;
}

}  // namespace

Worth CavitySearch::worth() const {
  return best_ ? Worth{std::popcount(best_->solved.fittings), best_->solved.filling.cells} : Worth{};
}

std::vector<CavitySearch::Hope> CavitySearch::hopes() const {
  std::vector<Hope> hopes;
  for (std::size_t stack = 0; stack < setup_.stacks.size(); ++stack) {
    for (const FloorRange& range : floor_ranges(stack)) {
      for (Attempt& attempt : all_ways(stack, range.low)) hopes.push_back({std::move(attempt), range.high});
    }
  }
  return hopes;
}

Um CavitySearch::fine() const {
  return std::clamp((setup_.loosened + setup_.eroded) / losses_a_step, fine_um, coarse_um / 2);
}

/// What an attempt could be worth at best, where its rows alone do not rule it out.
Worth CavitySearch::possible(const Ranked& ranked, const region::FreePlan& shared, Um resolution) {
  Worth most{ranked.fittings, ranked.bound.cells};
  if (!setup_.keeps_shell() || setup_.loose) return most;
  const bool rectangle = setup_.rules.box_outline == survey::BoxOutline::rectangle;
  if (rectangle && resolution < coarse_um) {
    const Outcome outcome = solve_rectangle(setup_, shared, ranked.attempt, resolution, steps_);
    if (!outcome.solved) return {};
    return std::min(most, Worth{std::popcount(outcome.solved->fittings), capped(outcome.rows_bound).cells});
  }
  const Filling parts = bound_by_parts(setup_, shared, ranked.attempt, resolution, steps_);
  most.cells = std::min({most.cells, parts.cells, setup_.enough});
  return most;
}

/// Attempts that could be worth more than `known` at one resolution, and what they could be worth.
std::vector<std::pair<Attempt, Worth>> CavitySearch::rows_beyond(const region::FreePlan& shared,
                                                                 const std::vector<Attempt>& attempts,
                                                                 const Worth& known, Um resolution) {
  std::vector<std::pair<Attempt, Worth>> left;
  for (Ranked& ranked : bounded_all(shared, attempts, resolution)) {
    if (Worth{ranked.fittings, ranked.bound.cells} <= known) continue;
    const Worth most = possible(ranked, shared, resolution);
    if (most > known) left.emplace_back(std::move(ranked.attempt), most);
  }
  return left;
}

CavitySearch::Beyond CavitySearch::beyond(const std::vector<Hope>& hopes, survey::Arrangement arrangement,
                                          const Worth& known, Um finest) {
  const bool mixed = arrangement == survey::Arrangement::mixed;
  Beyond beyond;
  const auto keep = [&](const Hope& hope, const Worth& worth) {
    beyond.hopes.push_back(hope);
    beyond.most = std::max(beyond.most, worth);
  };
  for (auto begin = hopes.begin(), end = begin; begin != hopes.end(); begin = end) {
    end = std::find_if(begin, hopes.end(), [&](const Hope& hope) { return !same_plan(hope, *begin); });
    const region::FreePlan shared = plan(begin->attempt.stack, begin->attempt.floor, begin->highest);
    if (mixed) {
      const Worth most{known.fittings, line_bound_of(begin->attempt.stack, shared)};
      if (most > known) std::for_each(begin, end, [&](const Hope& hope) { keep(hope, most); });
      continue;
    }
    std::vector<Attempt> attempts;
    for (auto hope = begin; hope != end; ++hope) attempts.push_back(hope->attempt);
    std::vector<Attempt> left;
    for (auto& [attempt, most] : rows_beyond(shared, attempts, known, coarse_um)) left.push_back(std::move(attempt));
    for (auto& [attempt, most] : rows_beyond(shared, left, known, std::max(fine(), finest))) keep({std::move(attempt), begin->highest}, most);
  }
  return beyond;
}

}  // namespace cellstow::packing
