#pragma once
/// What limits the count of a cavity: the least change that gives more cells, and what each keep-out, rule and fitting costs.

#include <atomic>
#include <optional>
#include <string>
#include <vector>

#include "cellstow/limits/change.hpp"

namespace cellstow::limits {

/// A change found to be enough, and the cells more that were found with it.
struct Enough {
  Length change;           ///< a whole number of 0.1 mm, rounded up
  int cells = 0;
  bool least = false;      ///< 0.1 mm less cannot do, at any floor height, in rows
};

/// How far the work allowed went.
enum class Looked {
  not_at_all,
  here,                    ///< with the box at the height it has now
  everywhere               ///< at every floor height
};

/// One thing that may stand in the way of more cells.
struct Limit {
  ChangeKind kind = ChangeKind::wall;
  std::string what, where, how, caution;
  Length now, largest;
  bool all_or_nothing = false;
  std::optional<Enough> more;      ///< for at least one cell more
  std::optional<Enough> full_row;  ///< for as many more as a full row holds
  int most = 0;            ///< cells more at the largest change, or without the thing: what it costs. Never below nothing
  Looked looked = Looked::not_at_all;
  bool ruled_out = false;  ///< nothing gives more, and that is proven; else only none was found
};

/// What a fitting would cost in another place.
struct FittingPlaceCost {
  std::string fitting;
  survey::FittingPlace place = survey::FittingPlace::beside;
  int cells = 0;           ///< cells more (or, negative, fewer) than as it is; found, not bounded
  bool finds_place = true;
};

struct CavityLimits {
  int cells = 0;           ///< most cells as things are
  int full_row = 0;        ///< cells in the fullest row
  std::vector<Limit> limits;       ///< most telling first: least change a cell, then those that give nothing
  std::vector<FittingPlaceCost> fittings;
  std::vector<std::string> notes;
  int probes = 0;          ///< packings made
  long long steps = 0;     ///< their work, in strip evaluations
};

struct LimitsOptions {
  /// Work for one cavity, in strip evaluations: this much, or `times_packing` times what its packing took (at
  /// most 1.5 million), whichever is more.
  /// Counted, not timed: runs repeat.
  long long step_budget = 400'000;
  int times_packing = 2;
  /// Work for one packing.
  long long probe_budget = 400'000;
  /// Set to true from another thread or a signal to end soon: what was not looked at is told as such.
  const std::atomic<bool>* stop = nullptr;
};

/// What one cell brings.
struct CellWorth {
  double kg = 0;           ///< the cell alone, without its share of the box
  std::optional<double> kwh, km;  ///< nominal energy; range on the 80 % of it that driving may take
};
CellWorth cell_worth(const survey::Cell& cell, const std::optional<survey::StringSpec>& string);

/// @param packing  the cavity filled as far as it goes, under the reading its sections ask for
///
/// Constructive: every change told was packed with, and held the cells told. Whether less would do at another floor height
/// was tried as far as the work goes (`Enough::least`). Packings look at rows only, so where the rules allow blocks in both
/// directions, less may do. Same answer on one core as on many.
/// Theory: docs/theory/limits.md.
CavityLimits what_limits(const survey::Cavity& cavity, const survey::Cell& cell,
                         const survey::Rules& rules, const packing::CavityPacking& packing,
                         const LimitsOptions& options = {});

/// Cells in the fullest row of a packing: blocks that run the same way, one behind the other.
int fullest_row(const packing::CavityPacking& packing);

}  // namespace cellstow::limits
