#pragma once
/// One floor height, one way of laying the rows: its bound and its best box. Internal to packing.

#include <optional>
#include <string>

#include "contents.hpp"
#include "outline.hpp"
#include "setup.hpp"

namespace cellstow::packing {

/// A box (or, for "loose", a set of blocks) in plan.
struct BoxInPlan {
  Contents contents;
  std::vector<PointUm> outline;
  Filling filling;
  unsigned fittings = 0;        ///< subset of Setup::items that found a place
};

/// What a cavity holds at one floor height, laid one way.
struct Solved {
  std::vector<BoxInPlan> boxes;
  RowsAnswer rows;              ///< of the lowest tier of the first box; empty for mixed arrangements
  Filling filling;
  unsigned fittings = 0;
  std::size_t corners = 0;
  Um doubled_area = 0;
};

/// Rows laid in every tier in one way, at one height.
struct Attempt {
  std::size_t stack = 0;        ///< index into Setup::stacks
  Um floor = 0;                 ///< underside of the box
  std::vector<Way> ways;        ///< tier by tier
};

/// What rows hold, and which fittings found a place in them.
struct RowsBound {
  Filling filling;
  unsigned fittings = 0;
};

/// Best rows of one tier; with a coarse resolution a bound on them.
RowsBound bound_of_tier(const Setup& setup, const region::FreePlan& plan, const Tier& tier,
                        const Way& way, Um resolution, long long& steps);

/// Nothing laid these ways at this height holds more, whatever the outline.
RowsBound bound_of(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                   Um resolution, long long& steps);

/// As bound_of, for one box: where the free plan falls into parts, the best part counts alone. With
/// more boxes allowed, as many times that.
Filling bound_by_parts(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                       Um resolution, long long& steps);

/// An attempt worked out in full.
struct Outcome {
  std::optional<Solved> solved;  ///< best box(es) that keep the outline rule; none when none could be built
  Filling rows_bound;            ///< exact best of the rows alone, part by part: no outline holds more
};

/// @param plan     where contents may stand once widened by the shell; for "any" outlines with the shell already in
///                 its clearances
/// @param outside  where the box's outline may run
Outcome solve(const Setup& setup, const region::FreePlan& plan, const region::FreePlan& outside,
              const Attempt& attempt, long long& steps);

}  // namespace cellstow::packing
