#include "cavity_search.hpp"

#include <algorithm>
#include <bit>
#include <map>
#include <tuple>

#include "area_bound.hpp"
#include "box_builder.hpp"
#include "line_bound.hpp"
#include "mixed_box.hpp"
#include "pallet_fill.hpp"

namespace cellstow::packing {
namespace {

/// Ranges of floor heights are halved this often for the bound on mixed arrangements.
constexpr int most_halvings = 5;

/// More plans than this are not looked at together.
constexpr std::size_t most_plans = 60;
/// Building a free plan costs about as much as reading it this often.
constexpr long long steps_a_plan = 200;

constexpr Way ways_of_laying[] = {
    {Strips::along_x, false}, {Strips::along_x, true}, {Strips::along_y, false}, {Strips::along_y, true}};

/// Tiers that take the same stances and the same fittings hold the same rows.
bool alike(const Tier& a, const Tier& b) {
  return a.level == b.level && a.holds_fittings == b.holds_fittings;
}

}  // namespace

bool better(const Found& a, const Found& b) {
  const int placed_a = std::popcount(a.solved.fittings), placed_b = std::popcount(b.solved.fittings);
  if (placed_a != placed_b) return placed_a > placed_b;
  if (a.solved.filling != b.solved.filling) return a.solved.filling.better_than(b.solved.filling);
  return std::tuple(a.solved.corners, a.attempt.floor, a.solved.doubled_area, a.attempt.ways) <
         std::tuple(b.solved.corners, b.attempt.floor, b.solved.doubled_area, b.attempt.ways);
}

void CavitySearch::run() {
  std::vector<Ranked> ranked;
  for (std::size_t stack = 0; stack < setup_.stacks.size(); ++stack) {
    for (const Um floor : floors(stack)) {
      if (spent()) {
        give_up(area_bound(setup_));
        continue;
      }
      for (Ranked& next : bounded_all(plan(stack, floor, floor), all_ways(stack, floor), coarse_um)) {
        if (next.bound.cells > 0) ranked.push_back(std::move(next));
      }
      if (!best_ && more_than_ == 0 && !ranked.empty()) first_answer(ranked);
    }
  }
  settle(std::move(ranked));
  if (!region::plan_varies_between(setup_.cavity, setup_.reading) || will_do()) return;
  for (std::size_t stack = 0; stack < setup_.stacks.size(); ++stack) {
    const std::vector<Um> at = floors(stack);
    for (std::size_t i = 0; i + 1 < at.size(); ++i) between(stack, at[i], at[i + 1], all_ways(stack, at[i]));
  }
}

/// Ranges that together cover every floor height worth a look. A range is half a box high at most: the column
/// common to all its heights must not vanish, or nothing read from it would hold for any of them.
std::vector<CavitySearch::FloorRange> CavitySearch::floor_ranges(std::size_t stack) const {
  const std::vector<Um> at = floors(stack);
  std::vector<FloorRange> ranges;
  if (at.size() < 2 || !region::plan_varies_between(setup_.cavity, setup_.reading)) {
    for (const Um floor : at) ranges.push_back({floor, floor});
    return ranges;
  }
  const Um longest = longest_range(stack);
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    const Um parts = (at[i + 1] - at[i] + longest - 1) / longest;
    for (Um k = 0; k < parts; ++k) {
      ranges.push_back({at[i] + (at[i + 1] - at[i]) * k / parts, at[i] + (at[i + 1] - at[i]) * (k + 1) / parts});
    }
  }
  return ranges;
}

Um CavitySearch::longest_range(std::size_t stack) const {
  return std::max<Um>(1, setup_.stacks[stack].box_height / 2);
}

/// An answer to show at once, from the first floor height at which anything may stand.
void CavitySearch::first_answer(const std::vector<Ranked>& ranked) {
  const Ranked& best = *std::min_element(ranked.begin(), ranked.end(),
                                         [](const Ranked& a, const Ranked& b) { return a.key() < b.key(); });
  if (hopeless(best)) return;
  take(best.attempt, work_out(best.attempt, plan(best.attempt.stack, best.attempt.floor, best.attempt.floor)));
}

int CavitySearch::bound_of_many() {
  int most = 0;
  for (std::size_t stack = 0; stack < setup_.stacks.size(); ++stack) {
    for (const FloorRange& range : floor_ranges(stack)) {
      const region::FreePlan shared = plan(stack, range.low, range.high);
      for (const Attempt& attempt : all_ways(stack, range.low)) {
        most = std::max(most, bound_by_parts(setup_, shared, attempt, fine_um, steps_).cells);
      }
    }
  }
  return std::min(most, setup_.enough);
}

int CavitySearch::line_bound_of(std::size_t stack, const region::FreePlan& plan) {
  const int whole = lines_of(stack, plan);
  if (setup_.rules.box_outline != survey::BoxOutline::rectangle || whole <= cells_to_beat()) return whole;
  const auto outers = rectangles(setup_, plan, setup_.stacks[stack], fine_um, steps_);
  if (!outers) return whole;
  // Largest first: by area alone most of them cannot hold more than the largest do by their lines.
  std::vector<std::pair<int, RectUm>> by_area;
  for (const RectUm& outer : *outers) by_area.emplace_back(-area_bound(setup_, setup_.stacks[stack], outer), outer);
  std::sort(by_area.begin(), by_area.end());
  int most = 0;
  for (const auto& [area, outer] : by_area) {
    if (-area <= most || most >= whole) break;
    most = std::max(most, lines_of(stack, rectangle_plan(setup_, outer)));
  }
  return std::min(most, whole);
}

/// A plain rectangle or right-angled walls with nothing but equal cells between them are bounded more closely.
int CavitySearch::lines_of(const region::FreePlan& plan, const Tier& tier) {
  const Um shell = setup_.content_shell();
  const auto pallet = pallet_place(setup_, plan, shell, shell, tier);
  if (pallet) return setup_.pallets->answer(pallet->pallet, steps_).bound;
  const int lines = line_bound(setup_, plan, tier, steps_);
  if (setup_.is_range()) return lines;
  return std::min(lines, bay_bound(setup_, plan, shell, shell, tier, steps_).value_or(lines));
}

/// What lines across the plan can carry, tier by tier.
int CavitySearch::lines_of(std::size_t stack, const region::FreePlan& plan) {
  int cells = 0;
  const std::vector<Tier>& tiers = setup_.stacks[stack].tiers;
  for (std::size_t i = 0, last = 0; i < tiers.size(); ++i) {
    const bool again = i > 0 && tiers[i].level == tiers[i - 1].level;
    if (!again) last = static_cast<std::size_t>(lines_of(plan, tiers[i]));
    cells += static_cast<int>(last);
  }
  return std::min(cells, setup_.enough);
}

/// Floor heights at which more than the best found is not ruled out; fullest at first look first.
std::vector<CavitySearch::MixedCandidate> CavitySearch::mixed_candidates() {
  std::vector<MixedCandidate> candidates;
  for (std::size_t stack = 0; stack < setup_.stacks.size(); ++stack) {
    std::vector<Um> at = floors(stack);
    if (best_ && best_->attempt.stack == stack) at.push_back(best_->attempt.floor);
    std::sort(at.begin(), at.end());
    at.erase(std::unique(at.begin(), at.end()), at.end());
    for (const Um floor : at) {
      if (spent()) continue;
      const region::FreePlan here = plan(stack, floor, floor);
      const int bound = line_bound_of(stack, here);
      if (bound <= cells_to_beat()) continue;
      const MixedTask task{stack, floor, here, here, nullptr, bound, 0};
      candidates.push_back({stack, floor, bound, first_mixed_count(setup_, task, steps_)});
    }
  }
  std::stable_sort(candidates.begin(), candidates.end(), [](const MixedCandidate& a, const MixedCandidate& b) {
    return std::tuple(-a.first, -a.bound, a.floor) < std::tuple(-b.first, -b.bound, b.floor);
  });
  return candidates;
}

int CavitySearch::cells_to_beat() const { return std::max(more_than_, best_ ? best_->solved.filling.cells : 0); }

/// Half of the work goes to the most promising height, half of the rest to the next, and so on.
void CavitySearch::run_mixed(long long budget) {
  const int bound = std::max(bound_of_mixed(), cells_found());
  if (watch_) watch_({cells_found(), bound});
  long long left = budget;
  const std::vector<MixedCandidate> candidates = mixed_candidates();
  for (const MixedCandidate& candidate : candidates) {
    if (candidate.bound <= cells_to_beat() || stopped()) continue;
    const bool last = &candidate == &candidates.back();
    const long long share = last ? left : std::max(left / 2, budget / 16);
    if (share > left) break;
    left -= share;
    try_mixed(candidate, share);
  }
}

void CavitySearch::try_mixed(const MixedCandidate& candidate, long long budget) {
  const region::FreePlan here = plan(candidate.stack, candidate.floor, candidate.floor);
  const bool same_height = best_ && best_->attempt.stack == candidate.stack && best_->attempt.floor == candidate.floor;
  const region::FreePlan around = setup_.any_outline ? outside(candidate.stack, candidate.floor, candidate.floor) : here;
  const MixedTask task{candidate.stack, candidate.floor, here, around, same_height ? &best_->solved : nullptr,
                       candidate.bound, budget};
  auto solved = solve_mixed(setup_, task, steps_);
  if (!solved || solved->filling.cells <= more_than_) return;
  keep({{candidate.stack, candidate.floor, {setup_.stacks[candidate.stack].tiers.size(), Way{}}}, std::move(*solved)});
}

int CavitySearch::bound_of_mixed() {
  const bool varies = region::plan_varies_between(setup_.cavity, setup_.reading);
  // Ranges of heights are halved only as far as the count then known asks for.
  if (mixed_bound_ && (!varies || cells_found() == found_when_bounded_)) return *mixed_bound_;
  found_when_bounded_ = cells_found();
  int most = 0;
  for (std::size_t stack = 0; stack < setup_.stacks.size(); ++stack) {
    for (const FloorRange& range : floor_ranges(stack)) {
      if (spent()) return give_up(area_bound(setup_)), area_bound(setup_);
      most = std::max(most, mixed_bound_between(stack, range.low, range.high, 0));
    }
  }
  mixed_bound_ = std::min(most, setup_.enough);
  return *mixed_bound_;
}

/// Boxes may stand over each other only where the cavity is high enough for that: over any spot of the plan there are
/// no more than its height holds, and what is free for a box at any height is free in one of the plans.
int CavitySearch::bound_of_several() {
  std::vector<region::FreePlan> plans;
  Um lowest = geometry::far_um;
  for (std::size_t stack = 0; stack < setup_.stacks.size(); ++stack) {
    lowest = std::min(lowest, setup_.stacks[stack].box_height);
    for (const FloorRange& range : floor_ranges(stack)) plans.push_back(plan(stack, range.low, range.high));
    if (plans.size() > most_plans || spent()) return area_bound(setup_);
  }
  const region::HeightSpan limits = region::height_limits(setup_.cavity, setup_.clearances);
  const auto over_each_other = static_cast<int>(std::max<Um>(1, (limits.top - limits.bottom) / lowest));
  // Blocks of two boxes have both shells between them; where walls run askew, at least one along x or y.
  const Um gap = std::min(setup_.gap, setup_.any_outline ? setup_.shell : 2 * setup_.shell);
  int cells = 0;
  for (const Tier& tier : setup_.stacks.back().tiers) {
    cells = std::max(cells, line_bound(setup_, plans, gap, tier, steps_));
  }
  const int levels = std::min(over_each_other, setup_.rules.boxes_per_cavity) * setup_.rules.tiers;
  return std::min(cells * levels, setup_.enough);
}

/// Bound over a range of floor heights; halved as long as that may bring it down to what was found.
int CavitySearch::mixed_bound_between(std::size_t stack, Um low, Um high, int depth) {
  const int bound = line_bound_of(stack, plan(stack, low, high));
  const bool halving_helps = setup_.rules.boxes_per_cavity == 1 && bound > cells_found();
  if (!halving_helps || depth == most_halvings || high - low < 2 || steps_ > budget_) return bound;
  const Um middle = low + (high - low) / 2;
  // What even one height of the range leaves open, no halving closes.
  if (line_bound_of(stack, plan(stack, middle, middle)) > cells_found()) return bound;
  return std::min(bound, std::max(mixed_bound_between(stack, low, middle, depth + 1),
                                  mixed_bound_between(stack, middle, high, depth + 1)));
}

/// Well past the work allowed: only what costs next to nothing is done from here on.
bool CavitySearch::spent() const { return steps_ > 2 * budget_ || stopped(); }

/// Is there an answer already, where any will do?
bool CavitySearch::will_do() const {
  return first_will_do_ && best_ && static_cast<std::size_t>(std::popcount(best_->solved.fittings)) == setup_.items.size();
}

/// Every way of laying for every kind of tier; tiers of one kind are laid alike.
std::vector<Attempt> CavitySearch::all_ways(std::size_t stack, Um floor) const {
  const std::vector<Tier>& tiers = setup_.stacks[stack].tiers;
  std::vector<Attempt> attempts{{stack, floor, {}}};
  for (std::size_t i = 0; i < tiers.size(); ++i) {
    std::vector<Attempt> next;
    for (const Attempt& below : attempts) {
      for (const Way& way : ways_of_laying) {
        if (i > 0 && alike(tiers[i], tiers[i - 1]) && way != below.ways.back()) continue;
        next.push_back(below);
        next.back().ways.push_back(way);
      }
    }
    attempts = std::move(next);
  }
  return attempts;
}

std::vector<Um> CavitySearch::floors(std::size_t stack) const {
  if (only_floor_) return {only_floor_->um()};
  return region::critical_floors(setup_.cavity, clearances(), setup_.stacks[stack].box_height);
}

/// "any" outlines may stand askew to walls, so contents keep wall and liner from walls in every direction.
region::Clearances CavitySearch::clearances() const {
  region::Clearances clearances = setup_.clearances;
  if (setup_.any_outline) clearances.extra = setup_.shell;
  return clearances;
}

/// Free plan of boxes whose floor lies anywhere from low to high: what is free for one of them is free here.
region::FreePlan CavitySearch::plan(std::size_t stack, Um low, Um high) {
  region::FreePlan plan = region::free_plan(setup_.cavity, clearances(), setup_.reading,
                                            {high, low + setup_.stacks[stack].box_height});
  steps_ += steps_a_plan * plan.weight();
  return setup_.is_range() ? plan.turned_loosely(setup_.heading, setup_.loosened) : plan.turned(setup_.heading);
}

/// Where the outline itself may run.
region::FreePlan CavitySearch::outside(std::size_t stack, Um low, Um high) {
  return region::free_plan(setup_.cavity, setup_.clearances, setup_.reading,
                           {high, low + setup_.stacks[stack].box_height}).turned(setup_.heading);
}

Outcome CavitySearch::work_out(const Attempt& attempt, const region::FreePlan& here) {
  if (!setup_.any_outline) return solve(setup_, here, here, attempt, steps_);
  return solve(setup_, here, outside(attempt.stack, attempt.floor, attempt.floor), attempt, steps_);
}

Filling CavitySearch::capped(Filling filling) const {
  filling.cells = std::min(filling.cells, setup_.enough);
  return filling;
}

CavitySearch::Ranked CavitySearch::bounded(const region::FreePlan& plan, const Attempt& attempt,
                                           Um resolution) {
  return bounded_all(plan, {attempt}, resolution).front();
}

/// Bounds of many attempts in one plan; what tiers have in common is worked out once.
std::vector<CavitySearch::Ranked> CavitySearch::bounded_all(const region::FreePlan& plan,
                                                            const std::vector<Attempt>& attempts,
                                                            Um resolution) {
  std::map<std::tuple<std::size_t, bool, Way>, RowsBound> known;
  std::vector<Ranked> ranked;
  for (const Attempt& attempt : attempts) {
    const std::vector<Tier>& tiers = setup_.stacks[attempt.stack].tiers;
    Ranked next{{}, 0, attempt};
    unsigned fittings = 0;
    for (std::size_t i = 0; i < tiers.size(); ++i) {
      const auto key = std::tuple(tiers[i].level, tiers[i].holds_fittings, attempt.ways[i]);
      auto found = known.find(key);
      if (found == known.end()) {
        found = known.emplace(key, bound_of_tier(setup_, plan, tiers[i], attempt.ways[i], resolution, steps_)).first;
      }
      next.bound = next.bound + found->second.filling;
      fittings |= found->second.fittings;
    }
    next.bound = capped(next.bound);
    next.fittings = std::popcount(fittings);
    ranked.push_back(std::move(next));
  }
  return ranked;
}

bool CavitySearch::hopeless(const Ranked& ranked) const {
  if (ranked.bound.cells <= more_than_) return true;
  if (!best_) return false;
  const int placed = std::popcount(best_->solved.fittings);
  if (ranked.fittings != placed) return ranked.fittings < placed;
  return best_->solved.filling.better_than(ranked.bound);
}

/// Solves attempts, most promising first, until no bound beats the best found.
void CavitySearch::settle(std::vector<Ranked> ranked) {
  std::sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) { return a.key() < b.key(); });
  for (const Ranked& next : ranked) {
    if (hopeless(next) || will_do()) continue;
    // Where only more than a known count is of interest, there is an answer to fall back on from the start.
    if (stopped() || ((best_ || more_than_ > 0) && steps_ > budget_)) {
      give_up(next.bound.cells);
      continue;
    }
    const Attempt& attempt = next.attempt;
    const region::FreePlan here = plan(attempt.stack, attempt.floor, attempt.floor);
    if (!hopeless(bounded(here, attempt, fine_um))) take(attempt, work_out(attempt, here));
  }
}

/// The work allowed is used up: what is left stays a bound.
void CavitySearch::give_up(int cells) {
  out_of_budget_ = true;
  unresolved_ = std::max(unresolved_, cells);
}

void CavitySearch::keep(Found found) {
  if (best_ && !better(found, *best_)) return;
  const int before = cells_found();
  best_ = std::move(found);
  if (watch_ && cells_found() > before) watch_({cells_found(), mixed_bound_});
}

void CavitySearch::take(const Attempt& attempt, Outcome outcome) {
  if (outcome.solved && outcome.solved->filling.cells > more_than_) {
    keep({attempt, std::move(*outcome.solved)});
  }
  // What the rows alone would hold but no outline could be drawn around stays a bound, not a count.
  const int cells = capped(outcome.rows_bound).cells;
  if (cells > (best_ ? best_->solved.filling.cells : more_than_)) {
    unresolved_ = std::max(unresolved_, cells);
    outline_cost_ = true;
  }
}

/// Floor heights strictly between two critical ones: halve the range until no height in it can beat
/// the best found. A way of laying that cannot win in a range cannot win in a part of it.
void CavitySearch::between(std::size_t stack, Um low, Um high, const std::vector<Attempt>& attempts) {
  if (high - low < 2 || will_do()) return;
  // A range too long for a common column has no bound of its own: it is halved as it is.
  std::vector<Attempt> left = attempts;
  int most = area_bound(setup_);
  if (high - low <= longest_range(stack)) {
    const region::FreePlan shared = plan(stack, low + 1, high - 1);
    std::vector<Attempt> hopeful;
    for (Ranked& range : bounded_all(shared, attempts, coarse_um)) {
      if (beats_best(range)) hopeful.push_back(std::move(range.attempt));
    }
    left.clear();
    most = 0;
    for (Ranked& range : bounded_all(shared, hopeful, fine_um)) {
      if (beats_best(range)) range.bound = one_part(range.bound, shared, range.attempt);
      if (!beats_best(range) || !could_be_built(range.attempt, shared)) continue;
      most = std::max(most, range.bound.cells);
      left.push_back(std::move(range.attempt));
    }
  }
  if (left.empty()) return;
  if (steps_ > budget_ || stopped()) return give_up(most);
  const Um middle = low + (high - low) / 2;
  const region::FreePlan here = plan(stack, middle, middle);
  for (Attempt& attempt : left) {
    attempt.floor = middle;
    if (beats_best(bounded(here, attempt, fine_um))) take(attempt, work_out(attempt, here));
  }
  between(stack, low, middle, left);
  between(stack, middle, high, left);
}

/// The bound when a box cannot reach from one part of the free plan to the next.
Filling CavitySearch::one_part(const Filling& bound, const region::FreePlan& shared, const Attempt& attempt) {
  if (setup_.loose) return bound;
  const Filling parts = capped(bound_by_parts(setup_, shared, attempt, fine_um, steps_));
  return bound.better_than(parts) ? parts : bound;
}

/// For rectangles the rows' bound is loose: the best rectangle of the shared plan is a bound as well.
bool CavitySearch::could_be_built(const Attempt& attempt, const region::FreePlan& shared) {
  if (setup_.rules.box_outline != survey::BoxOutline::rectangle) return true;
  const Outcome outcome = solve(setup_, shared, shared, attempt, steps_);
  if (!outcome.solved) return false;
  return beats_best({capped(outcome.rows_bound), std::popcount(outcome.solved->fittings), attempt});
}

/// More cells or more fittings than the best found and than what already had to be left open; fewer
/// blocks alone do not count between critical heights.
bool CavitySearch::beats_best(const Ranked& ranked) const {
  if (ranked.bound.cells <= more_than_) return false;
  if (!best_) return ranked.bound.cells > unresolved_;
  const int placed = std::popcount(best_->solved.fittings);
  if (ranked.fittings != placed) return ranked.fittings > placed;
  return ranked.bound.cells > std::max(best_->solved.filling.cells, unresolved_);
}

}  // namespace cellstow::packing
