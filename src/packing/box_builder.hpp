#pragma once
/// From the best rows to a box with its outline. Internal to packing.

#include <optional>
#include <vector>

#include "attempt.hpp"
#include "outline.hpp"
#include "rows.hpp"
#include "setup.hpp"

namespace cellstow::packing {

/// Everything one search over strips needs, kept together while it runs.
struct Workbench {
  StripView view;
  std::vector<StripKind> kinds;
  std::vector<FillTable> tables;

  Workbench(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
            Um more_along, Um more_across, const RunFilter* filter)
      : view(plan, attempt.strips, (setup.any_outline ? 0 : setup.shell) + more_along,
             (setup.any_outline ? 0 : setup.shell) + more_across, setup.gap, setup.items, filter),
        kinds(strip_kinds(setup, setup.heights[attempt.height], attempt.across, attempt.strips,
                          view.extent().length())),
        tables(fill_tables(kinds, setup.gap, view.longest_possible_run())) {}
};

/// Contents of an answer, trimmed to the cells wanted.
BoxInPlan make_box(const Setup& setup, const Workbench& bench, const RowsAnswer& answer);

/// Draws the outline; false when there is none or it does not keep its corner reliefs.
bool finish_outline(const Setup& setup, const region::FreePlan& plan, Um more_x, Um more_y,
                    BoxInPlan& box, OutlineAnswer& answer);

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
                                   const RunFilter* filter, Um more_along, Um more_across,
                                   OutlineAnswer& fault);

  const Setup& setup_;
  const Attempt& attempt_;
  long long& steps_;
  RowsAnswer rows_;
  Filling rows_bound_;
  bool searched_ = false, apart_ = false;
};

/// The best rectangular box of one attempt.
Outcome solve_rectangle(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                        long long& steps);

}  // namespace cellstow::packing
