#pragma once
/// One free plan read in strips: what each strip position can hold. Internal to packing.

#include <vector>

#include "cellstow/region/free_plan.hpp"
#include "filling.hpp"

namespace cellstow::packing {

using geometry::SpanUm;
using region::Strips;

/// Strips across those given.
inline Strips other(Strips strips) { return strips == Strips::along_x ? Strips::along_y : Strips::along_x; }

/// Footprint of a fitting that takes part in the packing.
struct FittingItem {
  Um size_x = 0, size_y = 0;   ///< as given; may be turned by a quarter
};

/// What a strip holds for every subset of fittings placed in it: [subset bits] -> cells and blocks.
using StripValue = std::vector<Filling>;

/// Positions t in [from, to] at which a strip of one kind has the same value.
struct Piece {
  Um from = 0, to = 0;
  StripValue value;
};

/// A fitting standing in a run.
struct TurnedFitting { std::size_t index; Um along, across; };

/// What one free run of a strip holds: blocks from `start` on, then the fittings.
struct RunFill {
  SpanUm run;
  Um start = 0;               ///< lowest s of the contents
  Um latest_start = 0;        ///< they may be moved along the run up to here
  Filling filling;
  std::vector<TurnedFitting> fittings;
};

/// Keeps only the runs of one connected part of the plan; see Parts in parts.hpp.
class RunFilter {
 public:
  virtual ~RunFilter() = default;
  virtual bool keeps(const SpanUm& run, Um t_low, Um t_high) const = 0;
};

/// What stands in the plan already, and the window that is being filled. In strip coordinates: s along, t across;
/// contents only, without the shell.
struct Overlay {
  SpanUm window_s, window_t;
  struct Taken { SpanUm s, t; };
  std::vector<Taken> taken;      ///< widened by the gap between blocks
};

/// How a range of positions too short to halve is taken.
enum class Rounding {
  bound,  ///< as its best position: answers are upper bounds
  sure,   ///< as what every position of it holds: answers can be built
};

/// A free plan, the direction of its strips, and the metal that goes round the contents.
class StripView {
 public:
  /// @param shell  wall and liner: contents keep this from the outer outline. Less than nothing in bounds over a range
  ///               of headings: runs then reach into walls, and may overlap one another
  /// @param gap    between blocks
  StripView(const region::FreePlan& plan, Strips strips, Um shell_along, Um shell_across, Um gap,
            std::vector<FittingItem> fittings, const RunFilter* filter = nullptr,
            const Overlay* overlay = nullptr);

  /// Free runs for contents in the strip t ... t + breadth.
  std::vector<SpanUm> runs(Um t, Um breadth) const;

  /// Every position of a strip of this kind, in pieces of equal value; exact on the whole-um grid.
  ///
  /// A range of positions is settled when the strip common to all of them and the strip that covers them all are
  /// worth the same; else it is halved.
  ///
  /// @param resolution  1: exact. Coarser: ranges this short are rounded
  std::vector<Piece> pieces(const StripKind& kind, const FillTable& table, Um resolution,
                            Rounding rounding = Rounding::bound) const;

  /// How the strip t ... t + breadth holds `filling` and the fittings of the subset: run by run.
  std::vector<RunFill> fill(const StripKind& kind, const FillTable& table, Um t,
                            unsigned subset) const;

  /// Longest run over all strips of this breadth, as far as it matters: at least as many of the
  /// rising `thresholds` are reached as by any other run.
  /// @param already     runs that reach no more thresholds than this length are of no interest: length 0 is
  ///                    given back when there are no others
  /// @param resolution  1: exact. Coarser: an upper bound on the length; where it lies means nothing
  struct Longest { Um length = 0, t = 0, s = 0; };
  Longest longest_run(Um breadth, const std::vector<Um>& thresholds, Um already = 0, Um resolution = 1) const;

  const region::FreePlan& plan() const { return plan_; }
  Strips strips() const { return strips_; }
  Um gap() const { return gap_; }
  const std::vector<FittingItem>& fittings() const { return fittings_; }
  SpanUm extent() const { return extent_; }
  Um longest_possible_run() const { return longest_possible_run_; }
  Um broadest_possible() const { return extent_.length() + 2 * std::max<Um>(0, -shell_across_); }
  Um shell_along() const { return shell_along_; }
  Um shell_across() const { return shell_across_; }

  /// Length along the strip and breadth across it of a fitting, turned or not.
  static std::vector<std::pair<Um, Um>> turns(const FittingItem& item, Strips strips);

  /// Strip evaluations so far: the measure of work.
  long long steps() const { return steps_; }

 private:
  void runs_between(Um low, Um high, std::vector<SpanUm>& runs) const;
  StripValue value_between(const StripKind& kind, const FillTable& table, Um low, Um high) const;
  Filling fill_runs(const FillTable& table, const std::vector<SpanUm>& runs,
                    std::vector<RunFill>* fills) const;
  Filling with_fittings(const StripKind& kind, const FillTable& table,
                        const std::vector<SpanUm>& runs, unsigned subset,
                        std::vector<RunFill>* fills) const;
  void subtract_overlay(Um low, Um high, std::vector<SpanUm>& runs) const;
  static void append(Um from, Um to, StripValue value, std::vector<Piece>& pieces);
  bool settled(const StripKind& kind, const FillTable& table, Um from, Um to, std::vector<Piece>& pieces) const;
  void settle(const StripKind& kind, const FillTable& table, Um from, Um to, Um resolution,
              Rounding rounding, std::vector<Piece>& pieces) const;
  struct Range { Um low, high; bool is_between; };
  static std::vector<Range> stops_and_between(const std::vector<Um>& stops);
  std::vector<Um> ends(Um breadth) const;
  std::vector<Um> stops(Um breadth) const;

  const region::FreePlan& plan_;
  Strips strips_;
  Um shell_along_, shell_across_, gap_;
  std::vector<FittingItem> fittings_;
  SpanUm extent_;
  Um longest_possible_run_;
  std::vector<Um> levels_;
  const RunFilter* filter_;
  const Overlay* overlay_;
  mutable long long steps_ = 0;
};

}  // namespace cellstow::packing
