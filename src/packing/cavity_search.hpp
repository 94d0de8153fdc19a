#pragma once
/// Branch and bound over floor heights, tiers and ways of laying rows. Internal to packing.

#include <optional>
#include <tuple>

#include "attempt.hpp"

namespace cellstow::packing {

/// Bounds are taken with strip positions this coarse first, then this fine: most attempts need no more.
inline constexpr Um coarse_um = 16'000;
inline constexpr Um fine_um = 1'000;

/// A box (or boxes) at one height, worked out in full.
struct Found {
  Attempt attempt;
  Solved solved;
};

/// More fittings, more cells, fewer blocks, fewer corners, lower floor, less area; then the first way of laying.
bool better(const Found& a, const Found& b);

/// Fittings that found a place, then cells.
struct Worth {
  int fittings = 0, cells = 0;
  auto operator<=>(const Worth&) const = default;
};

class CavitySearch {
 public:
  CavitySearch(const Setup& setup, const PackOptions& options)
      : setup_(setup), budget_(options.step_budget), more_than_(options.more_than.value_or(0)), only_floor_(options.only_floor),
        first_will_do_(options.first_will_do), watch_(options.watch) {}

  void run();
  /// Looks for more with blocks in both directions at once, at the most promising floor heights.
  void run_mixed(long long budget);

  const std::optional<Found>& best() const { return best_; }
  /// No rows, in one box at any floor height, hold more.
  int bound() const { return std::max(unresolved_, best_ ? best_->solved.filling.cells : 0); }
  int cells_found() const { return best_ ? best_->solved.filling.cells : 0; }
  /// For several boxes, each in rows of its own: no box holds more than the best single part of the plan
  /// common to any range of floor heights.
  int bound_of_many();
  /// No arrangement in both directions at once, in one box at any floor height, holds more.
  int bound_of_mixed();
  /// No arrangement in several boxes, each at its own floor height, holds more.
  int bound_of_several();

  /// Attempts at any floor height from that of the attempt to `highest`.
  struct Hope {
    Attempt attempt;
    Um highest = 0;
  };
  /// Everything there is to try, floor heights between critical ones included where that matters.
  std::vector<Hope> hopes() const;
  /// Those that could be worth more than `known` in this arrangement, for the heading of the setup or all headings of
  /// its range, and the most that any of them could be worth.
  struct Beyond {
    std::vector<Hope> hopes;
    Worth most;
  };
  /// @param finest  strip positions are taken no closer than this: a first look need not be fine
  Beyond beyond(const std::vector<Hope>& hopes, survey::Arrangement arrangement, const Worth& known, Um finest = 0);

  /// What the best found is worth.
  Worth worth() const;
  long long steps() const { return steps_; }
  bool out_of_budget() const { return out_of_budget_; }
  bool outline_cost() const { return outline_cost_; }
  bool stopped() const { return setup_.stop != nullptr && *setup_.stop; }

 private:
  struct Ranked {
    Filling bound;
    int fittings;
    Attempt attempt;
    auto key() const {
      return std::tuple(-fittings, -bound.cells, bound.blocks, attempt.floor, attempt.stack, attempt.ways);
    }
  };

  Um fine() const;
  Worth possible(const Ranked& ranked, const region::FreePlan& shared, Um resolution);
  std::vector<std::pair<Attempt, Worth>> rows_beyond(const region::FreePlan& shared, const std::vector<Attempt>& attempts,
                                                     const Worth& known, Um resolution);
  std::vector<Um> floors(std::size_t stack) const;
  /// Floor heights from low to high, both included.
  struct FloorRange { Um low = 0, high = 0; };
  std::vector<FloorRange> floor_ranges(std::size_t stack) const;
  Um longest_range(std::size_t stack) const;
  region::Clearances clearances() const;
  region::FreePlan plan(std::size_t stack, Um low, Um high);
  region::FreePlan outside(std::size_t stack, Um low, Um high);
  Outcome work_out(const Attempt& attempt, const region::FreePlan& here);
  Filling capped(Filling filling) const;
  Ranked bounded(const region::FreePlan& plan, const Attempt& attempt, Um resolution);
  std::vector<Ranked> bounded_all(const region::FreePlan& plan, const std::vector<Attempt>& attempts,
                                  Um resolution);
  std::vector<Attempt> all_ways(std::size_t stack, Um floor) const;
  void first_answer(const std::vector<Ranked>& ranked);
  bool hopeless(const Ranked& ranked) const;
  void settle(std::vector<Ranked> ranked);
  void give_up(int cells);
  void take(const Attempt& attempt, Outcome outcome);
  void between(std::size_t stack, Um low, Um high, const std::vector<Attempt>& attempts);
  struct MixedCandidate {
    std::size_t stack;
    Um floor;
    int bound, first;
  };
  std::vector<MixedCandidate> mixed_candidates();
  int line_bound_of(std::size_t stack, const region::FreePlan& plan);
  int lines_of(std::size_t stack, const region::FreePlan& plan);
  int lines_of(const region::FreePlan& plan, const Tier& tier);
  int cells_to_beat() const;
  int mixed_bound_between(std::size_t stack, Um low, Um high, int depth);
  bool spent() const;
  bool will_do() const;
  void keep(Found found);
  void try_mixed(const MixedCandidate& candidate, long long budget);
  Filling one_part(const Filling& bound, const region::FreePlan& shared, const Attempt& attempt);
  bool could_be_built(const Attempt& attempt, const region::FreePlan& shared);
  bool beats_best(const Ranked& ranked) const;

  const Setup& setup_;
  long long budget_;
  int more_than_;
  std::optional<Length> only_floor_;
  bool first_will_do_;
  std::function<void(const PackProgress&)> watch_;
  std::optional<int> mixed_bound_;
  int found_when_bounded_ = 0;
  std::optional<Found> best_;
  int unresolved_ = 0;
  long long steps_ = 0;
  bool out_of_budget_ = false, outline_cost_ = false;
};

}  // namespace cellstow::packing
