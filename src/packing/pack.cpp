#include "cellstow/packing/pack.hpp"

#include <algorithm>
#include <bit>
#include <tuple>

#include "area_bound.hpp"
#include "attempt.hpp"
#include "layout_from_plan.hpp"
#include "shortfall.hpp"

namespace cellstow::packing {
namespace {

/// Bounds are taken with strip positions this coarse first, then this fine: most attempts need no more.
constexpr Um coarse_um = 16'000;
constexpr Um fine_um = 1'000;

struct Found {
  Attempt attempt;
  Solved solved;
};

bool better(const Found& a, const Found& b) {
  const int placed_a = std::popcount(a.solved.fittings), placed_b = std::popcount(b.solved.fittings);
  if (placed_a != placed_b) return placed_a > placed_b;
  if (a.solved.filling != b.solved.filling) return a.solved.filling.better_than(b.solved.filling);
  return std::tuple(a.solved.corners, a.attempt.floor, a.solved.doubled_area, a.attempt.strips,
                    a.attempt.across) <
         std::tuple(b.solved.corners, b.attempt.floor, b.solved.doubled_area, b.attempt.strips,
                    b.attempt.across);
}

/// Branch and bound over floor heights and ways of laying.
class CavitySearch {
 public:
  CavitySearch(const Setup& setup, const PackOptions& options)
      : setup_(setup), budget_(options.step_budget), more_than_(options.more_than.value_or(0)) {}

  void run() {
    std::vector<Ranked> ranked;
    for (std::size_t h = 0; h < setup_.heights.size(); ++h) {
      for (const Um floor : floors(h)) rank_all(h, floor, ranked);
    }
    settle(std::move(ranked));
    if (!region::plan_varies_between(setup_.cavity, setup_.reading)) return;
    for (std::size_t h = 0; h < setup_.heights.size(); ++h) {
      const std::vector<Um> at = floors(h);
      for (std::size_t i = 0; i + 1 < at.size(); ++i) between(h, at[i], at[i + 1], all_ways());
    }
  }

  const std::optional<Found>& best() const { return best_; }
  int bound() const { return std::max(unresolved_, best_ ? best_->solved.filling.cells : 0); }
  /// For several boxes, each in rows of its own: no box holds more than the best single part of the plan
  /// common to any range of floor heights.
  int bound_of_many() {
    int most = 0;
    for (std::size_t h = 0; h < setup_.heights.size(); ++h) {
      const std::vector<Um> at = floors(h);
      for (std::size_t i = 0; i < at.size(); ++i) {
        const region::FreePlan shared = plan(h, at[i], at[std::min(i + 1, at.size() - 1)]);
        for (const Way& way : all_ways()) {
          const Attempt attempt{h, at[i], way.strips, way.across};
          most = std::max(most, bound_by_parts(setup_, shared, attempt, fine_um, steps_).cells);
        }
      }
    }
    return std::min(most, setup_.enough);
  }
  long long steps() const { return steps_; }
  bool out_of_budget() const { return out_of_budget_; }
  bool outline_cost() const { return outline_cost_; }

 private:
  struct Way {
    Strips strips;
    bool across;
  };

  struct Ranked {
    Filling bound;
    int fittings;
    Attempt attempt;
    auto key() const {
      return std::tuple(-fittings, -bound.cells, bound.blocks, attempt.floor, attempt.strips,
                        attempt.across);
    }
  };

  static std::vector<Way> all_ways() {
    return {{Strips::along_x, false}, {Strips::along_x, true}, {Strips::along_y, false}, {Strips::along_y, true}};
  }

  std::vector<Um> floors(std::size_t h) const {
    return region::critical_floors(setup_.cavity, clearances(), setup_.heights[h].box_height);
  }

  /// "any" outlines may stand askew to walls, so contents keep wall and liner from walls in every direction.
  region::Clearances clearances() const {
    region::Clearances clearances = setup_.clearances;
    if (setup_.any_outline) clearances.extra = setup_.shell;
    return clearances;
  }

  /// Free plan of boxes whose floor lies anywhere from low to high: what is free for one of them is free here.
  region::FreePlan plan(std::size_t h, Um low, Um high) const {
    return region::free_plan(setup_.cavity, clearances(), setup_.reading,
                             {high, low + setup_.heights[h].box_height});
  }

  /// Where the outline itself may run.
  region::FreePlan outside(std::size_t h, Um low, Um high) const {
    return region::free_plan(setup_.cavity, setup_.clearances, setup_.reading,
                             {high, low + setup_.heights[h].box_height});
  }

  Outcome work_out(const Attempt& attempt, const region::FreePlan& here) {
    if (!setup_.any_outline) return solve(setup_, here, here, attempt, steps_);
    return solve(setup_, here, outside(attempt.height, attempt.floor, attempt.floor), attempt, steps_);
  }

  Filling capped(Filling filling) const {
    filling.cells = std::min(filling.cells, setup_.enough);
    return filling;
  }

  Ranked bounded(const region::FreePlan& plan, const Attempt& attempt, Um resolution) {
    const RowsAnswer rows = bound_of(setup_, plan, attempt, resolution, steps_);
    return {capped(rows.filling), std::popcount(rows.fittings), attempt};
  }

  void rank_all(std::size_t h, Um floor, std::vector<Ranked>& ranked) {
    const region::FreePlan here = plan(h, floor, floor);
    for (const Way& way : all_ways()) {
      Ranked next = bounded(here, {h, floor, way.strips, way.across}, coarse_um);
      if (next.bound.cells > 0) ranked.push_back(next);
    }
  }

  bool hopeless(const Ranked& ranked) const {
    if (ranked.bound.cells <= more_than_) return true;
    if (!best_) return false;
    const int placed = std::popcount(best_->solved.fittings);
    if (ranked.fittings != placed) return ranked.fittings < placed;
    return best_->solved.filling.better_than(ranked.bound);
  }

  /// Solves attempts, most promising first, until no bound beats the best found.
  void settle(std::vector<Ranked> ranked) {
    std::sort(ranked.begin(), ranked.end(),
              [](const Ranked& a, const Ranked& b) { return a.key() < b.key(); });
    for (const Ranked& next : ranked) {
      if (hopeless(next)) continue;
      if (best_ && steps_ > budget_) {
        give_up(next.bound.cells);
        continue;
      }
      const Attempt& attempt = next.attempt;
      const region::FreePlan here = plan(attempt.height, attempt.floor, attempt.floor);
      if (!hopeless(bounded(here, attempt, fine_um))) take(attempt, work_out(attempt, here));
    }
  }

  /// The work allowed is used up: what is left stays a bound.
  void give_up(int cells) {
    out_of_budget_ = true;
    unresolved_ = std::max(unresolved_, cells);
  }

  void take(const Attempt& attempt, Outcome outcome) {
    if (outcome.solved && outcome.solved->filling.cells > more_than_) {
      Found found{attempt, std::move(*outcome.solved)};
      if (!best_ || better(found, *best_)) best_ = std::move(found);
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
  void between(std::size_t h, Um low, Um high, const std::vector<Way>& ways) {
    if (high - low < 2) return;
    const region::FreePlan shared = plan(h, low + 1, high - 1);
    std::vector<Way> left;
    int most = 0;
    for (const Way& way : ways) {
      const Attempt attempt{h, low, way.strips, way.across};
      Ranked range = bounded(shared, attempt, coarse_um);
      if (beats_best(range)) range = bounded(shared, attempt, fine_um);
      if (beats_best(range)) range.bound = one_part(range.bound, shared, attempt);
      if (!beats_best(range) || !could_be_built(attempt, shared)) continue;
      left.push_back(way);
      most = std::max(most, range.bound.cells);
    }
    if (left.empty()) return;
    if (steps_ > budget_) return give_up(most);
    const Um middle = low + (high - low) / 2;
    const region::FreePlan here = plan(h, middle, middle);
    for (const Way& way : left) {
      const Attempt attempt{h, middle, way.strips, way.across};
      if (beats_best(bounded(here, attempt, fine_um))) take(attempt, work_out(attempt, here));
    }
    between(h, low, middle, left);
    between(h, middle, high, left);
  }

  /// The bound when a box cannot reach from one part of the free plan to the next.
  Filling one_part(const Filling& bound, const region::FreePlan& shared, const Attempt& attempt) {
    if (setup_.loose) return bound;
    const Filling parts = capped(bound_by_parts(setup_, shared, attempt, fine_um, steps_));
    return bound.better_than(parts) ? parts : bound;
  }

  /// For rectangles the rows' bound is loose: the best rectangle of the shared plan is a bound as well.
  bool could_be_built(const Attempt& attempt, const region::FreePlan& shared) {
    if (setup_.rules.box_outline != survey::BoxOutline::rectangle) return true;
    const Outcome outcome = solve(setup_, shared, shared, attempt, steps_);
    if (!outcome.solved) return false;
    return beats_best({outcome.solved->filling, std::popcount(outcome.solved->fittings), attempt});
  }

  /// More cells or more fittings than the best found and than what already had to be left open; fewer
  /// blocks alone do not count between critical heights.
  bool beats_best(const Ranked& ranked) const {
    if (ranked.bound.cells <= more_than_) return false;
    if (!best_) return ranked.bound.cells > unresolved_;
    const int placed = std::popcount(best_->solved.fittings);
    if (ranked.fittings != placed) return ranked.fittings > placed;
    return ranked.bound.cells > std::max(best_->solved.filling.cells, unresolved_);
  }

  const Setup& setup_;
  long long budget_;
  int more_than_;
  std::optional<Found> best_;
  int unresolved_ = 0;
  long long steps_ = 0;
  bool out_of_budget_ = false, outline_cost_ = false;
};

/// What the rules allow beyond rows in one tier, square with the car.
std::vector<std::string> untried(const survey::Rules& rules) {
  std::vector<std::string> notes;
  if (rules.arrangement == survey::Arrangement::mixed) {
    notes.push_back("blocks in both directions at once were not tried: this is the best in rows");
  }
  if (rules.heading == survey::Heading::free) {
    notes.push_back("turning the box was not tried: this is the best square with the car");
  }
  if (rules.tiers > 1) notes.push_back("more than one tier was not tried: this is the best in one tier");
  if (rules.boxes_per_cavity > 1) {
    notes.push_back("more boxes in one cavity were tried only where its free parts do not hang together");
  }
  return notes;
}

}  // namespace

CavityPacking pack_cavity(const survey::Cavity& cavity, const survey::Cell& cell,
                          const survey::Rules& rules, const PackOptions& options) {
  const Setup setup = make_setup(cavity, cell, rules, options);
  CavitySearch search(setup, options);
  search.run();
  CavityPacking packing;
  packing.steps = search.steps();
  packing.notes = untried(rules);
  packing.bound = packing.notes.empty() ? search.bound() : std::max(search.bound(), area_bound(setup));
  const bool only_more_boxes = rules.arrangement == survey::Arrangement::rows && rules.tiers == 1 &&
                               rules.heading == survey::Heading::square && rules.boxes_per_cavity > 1;
  if (only_more_boxes && !setup.loose && packing.bound > packing.cells) {
    packing.bound = std::min(packing.bound, search.bound_of_many());
  }
  if (search.out_of_budget()) packing.notes.push_back("not every floor height was settled within the work allowed");
  if (search.outline_cost()) {
    packing.notes.push_back("rows alone would hold more, but the outline drawn round them, of the kind asked for, did not take them all in");
  }
  unsigned placed = 0;
  if (const auto& best = search.best()) {
    placed = best->solved.fittings;
    packing.boxes = layouts(setup, best->attempt, best->solved);
    packing.cells = best->solved.filling.cells;
    const region::FreePlan plan = region::free_plan(
        cavity, setup.clearances, setup.reading,
        {best->attempt.floor, best->attempt.floor + setup.heights[best->attempt.height].box_height});
    packing.shortfalls = shortfalls(setup, plan, best->attempt, best->solved);
  }
  packing.bound = std::max(packing.bound, packing.cells);
  packing.proven = packing.bound == packing.cells;
  for (std::size_t i = 0; i < setup.items.size(); ++i) {
    if (!(placed >> i & 1U)) {
      packing.fittings_without_place.push_back(cavity.fittings[setup.item_fitting[i]].name);
    }
  }
  if (packing.cells > 0) add_missing_above(setup, packing);
  return packing;
}

}  // namespace cellstow::packing
