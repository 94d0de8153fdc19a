#pragma once
/// How many cells a cavity holds, and where they stand.

#include <atomic>
#include <functional>

#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::packing {

/// How far a search has come.
struct PackProgress {
  int cells = 0;             ///< most found so far
  std::optional<int> bound;  ///< no legal arrangement holds more; empty while not known yet
};

struct PackOptions {
  survey::Between reading = survey::Between::common;
  /// Cells wanted: past this count fewer blocks decide, not more cells. Empty: as many as fit.
  std::optional<int> enough;
  /// Only answers with more cells than this are of interest: the rest is not searched, and the answer
  /// is empty when there is none.
  std::optional<int> more_than;
  /// Any answer with all fittings and more cells than `more_than` will do: the search ends with the first, though
  /// fewer blocks or a simpler box might be had.
  bool first_will_do = false;
  /// Look only at boxes whose underside is at this height. Empty: at all heights.
  std::optional<Length> only_floor;
  /// Most strip evaluations, weighted by the plan's corners, before the search stops and says so. Counted, not
  /// timed: runs repeat.
  long long step_budget = 3'000'000;
  /// Strip evaluations to spend on blocks in both directions, where the rules allow that: 0 looks at rows only.
  long long mixed_budget = 150'000;
  /// Strip evaluations to spend on turning the box, where the rules allow that.
  long long heading_budget = 6'000'000;
  /// Told whenever more is found or a bound is known; never changes the answer. From one thread at a time.
  std::function<void(const PackProgress&)> watch;
  /// Set to true from another thread or a signal to stop soon: the best so far is the answer, and a note says so.
  const std::atomic<bool>* stop = nullptr;
};

/// The best arrangement in rows, one tier, box square with the car, by docs/legal-layout.md.
///
/// Exact: over all positions on the 1 um grid, all floor heights, all allowed stances, and the four ways of laying rows.
/// Where the rules ask for more than that (mixed directions, tiers, a turned box), the answer is the
/// best in rows, `bound` holds for everything the rules allow, and a note says what was left untried.
/// Theory and limits: docs/theory/packing.md.
CavityPacking pack_cavity(const survey::Cavity& cavity, const survey::Cell& cell,
                          const survey::Rules& rules, const PackOptions& options = {});

/// Both readings between sections counted, and the station where one more section would decide most.
///
/// @param known_cells  most cells: the packing of this cavity under the reading its sections ask for
ReadingComparison compare_readings(const survey::Cavity& cavity, const survey::Cell& cell,
                                   const survey::Rules& rules, int known_cells);

}  // namespace cellstow::packing
