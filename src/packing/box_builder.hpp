#pragma once
/// From the best rows to a box with its outline. Internal to packing.

#include <optional>
#include <vector>

#include "attempt.hpp"
#include "outline.hpp"
#include "rows.hpp"
#include "setup.hpp"

namespace cellstow::packing {

/// Where contents may stand: more than the shell away from walls, or in one part of the plan only.
struct Narrowing {
  Um more_along = 0, more_across = 0;
  const RunFilter* filter = nullptr;
};

/// Everything one search over strips needs, kept together while it runs.
struct Workbench {
  StripView view;
  std::vector<StripKind> kinds;
  std::vector<FillTable> tables;

  Workbench(const Setup& setup, const region::FreePlan& plan, const Tier& tier, const Way& way,
            const Narrowing& narrowing)
      : view(plan, way.strips, setup.content_shell() + narrowing.more_along,
             setup.content_shell() + narrowing.more_across, setup.gap, items_in(setup, tier),
             narrowing.filter),
        kinds(strip_kinds(setup, tier, way, view.broadest_possible())),
        tables(fill_tables(kinds, setup.gap, view.longest_possible_run())) {}
};

/// The best rows of every tier, as contents of one box.
struct TieredRows {
  Contents contents;
  RowsAnswer lowest;            ///< rows of the lowest tier
  Filling filling;
  unsigned fittings = 0;
};

TieredRows best_tiers(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                      const Narrowing& narrowing, long long& steps);

/// A box without its outline yet: the contents, trimmed to the cells wanted.
BoxInPlan make_box(const Setup& setup, TieredRows rows);

/// Draws the outline; false when there is none or it does not keep its corner reliefs.
bool finish_outline(const Setup& setup, const region::FreePlan& plan, Um more_x, Um more_y,
                    BoxInPlan& box, OutlineAnswer& answer);

/// True when contents and outline widened along the strips keep to the same side in all tiers.
bool same_strips(const Attempt& attempt);

/// More fittings, then more cells, fewer blocks, fewer corners, less area.
bool better_box(const BoxInPlan& a, const BoxInPlan& b);

Solved gather(std::vector<BoxInPlan> boxes, const RowsAnswer& rows);

/// Builds the best box of one attempt, opening rings by slits and making room for corner reliefs.
class BoxBuilder {
 public:
  BoxBuilder(const Setup& setup, const Attempt& attempt, long long& steps)
      : setup_(setup), attempt_(attempt), steps_(steps) {}

  /// Best box in the plan or in one part of it, rings slit open where need be.
  std::optional<BoxInPlan> build(const region::FreePlan& plan, const region::FreePlan& outside,
                                 const RunFilter* filter, int cuts);

  bool was_apart() const { return apart_; }
  const RowsAnswer& rows() const { return rows_; }
  /// Best of the first search, before any outline, slit or part narrowed it.
  const Filling& rows_bound() const { return rows_bound_; }

 private:
  std::optional<BoxInPlan> variant(const region::FreePlan& plan, const region::FreePlan& outside,
                                   const Narrowing& narrowing, OutlineAnswer& fault);

  const Setup& setup_;
  const Attempt& attempt_;
  long long& steps_;
  RowsAnswer rows_;
  Filling rows_bound_;
  bool searched_ = false, apart_ = false;
};

/// The plan inside one rectangular box, with its corner reliefs as obstacles.
region::FreePlan rectangle_plan(const Setup& setup, const RectUm& outer);

/// Outsides of rectangular boxes such that whatever a rectangular box holds, one of them holds as well: for every
/// breadth that blocks can add up to, the longest free rectangle. Empty when there would be too many.
/// @param resolution  1: exact. Coarser: rectangles a little too long, for bounds only
std::optional<std::vector<RectUm>> rectangles(const Setup& setup, const region::FreePlan& plan,
                                              const Stack& stack, Um resolution, long long& steps);

/// The smallest rectangle around the contents; where reliefs need more room, the whole one.
void finish_rectangle(const Setup& setup, const region::FreePlan& inner, const RectUm& outer, BoxInPlan& box);

/// The best rectangular box of one attempt.
/// @param resolution  1: exact. Coarser: only its count means something, a bound
Outcome solve_rectangle(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                        Um resolution, long long& steps);

}  // namespace cellstow::packing
